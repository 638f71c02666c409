//! Builds anew when a family is added to the folder that is taken in whole.

fn main() {
    println!("cargo:rerun-if-changed=../../families");
}
