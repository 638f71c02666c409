//! Profiles as a family's file tells them. The house is gothic-24 with another half profile.

use std::f64::consts::FRAC_PI_2;

use frame::{Family, FamilyError, Frame, expand};

use crate::geometry::near;
use crate::house::gothic_order;

const GOTHIC: &str = include_str!("../../../../families/gothic-24.toml");
const HALF: &str = r#"half = [
    { name = "side", straight = "4 ft" },
    { name = "shoulder", arc = "3 ft" },
    { name = "roof", arc = "30 ft" },
]"#;

fn read(profile: &str) -> Result<Family, FamilyError> {
    assert!(GOTHIC.contains(HALF));
    Family::read(&GOTHIC.replace(HALF, profile))
}

fn raised(profile: &str) -> Frame {
    let family = read(profile).unwrap();
    expand(&gothic_order("length = \"24 ft\"", ""), &family).unwrap()
}

const FOOT: f64 = 0.3048;

#[test]
fn a_smooth_peak_and_a_radius_that_follows() {
    let frame = raised(
        r#"peak = "smooth"
        half = [
            { name = "side", straight = "4 ft" },
            { name = "shoulder", arc = "3 ft" },
            { name = "roof", arc = "follows" },
        ]"#,
    );
    let roof = &frame.profile.links()[2];
    near(roof.heading_after(), 0.0, 1e-9);
    // As in profiles.rs: with 9 ft aside and 3 ft 9 in up, (9² + 3.75²) / (2 · 3.75) and the shoulder's 3 ft.
    let radius = (81.0 + 3.75 * 3.75) / 7.5 + 3.0;
    near(roof.radius().unwrap(), radius * FOOT, 1e-9);
}

#[test]
fn turns_and_kinks_are_in_degrees() {
    let frame = raised(
        r#"half = [
            { name = "side", straight = "4 ft" },
            { name = "shoulder", arc = "3 ft", turn = 30, kink = 7.5 },
            { name = "roof", straight = "follows", kink = "follows" },
        ]"#,
    );
    let [side, shoulder, roof] = frame.profile.links() else {
        panic!("three links");
    };
    near(side.heading(), FRAC_PI_2, 1e-12);
    near(shoulder.heading().to_degrees(), 82.5, 1e-9);
    near(shoulder.turn().to_degrees(), 30.0, 1e-9);
    assert_eq!(roof.radius(), None);
}

#[test]
fn faults_in_a_profile_are_told() {
    let cases = [
        (r#"{ name = "roof" }"#, "`roof` needs either"),
        (
            r#"{ name = "roof", arc = "30 ft", straight = "follows" }"#,
            "`roof` needs either",
        ),
        (
            r#"{ name = "roof", straight = "follows", turn = 30 }"#,
            "`roof` is no arc, so it does not turn",
        ),
        (r#"{ name = "roof", arc = "ellipse" }"#, "ellipse"),
        (
            r#"{ name = "roof", arc = "30 ft", kink = "maybe" }"#,
            "kink",
        ),
        (
            r#"{ name = "roof", arc = "30 ft", turn = 181 }"#,
            "`roof` must turn by more than 0 and by at most 180 degrees",
        ),
        (
            r#"{ name = "roof", arc = "30 ft", kink = nan }"#,
            "`roof` must kink by less than 180 degrees",
        ),
        (
            r#"{ name = "roof", arc = "follows" }"#,
            "3 measures open (the turn of `shoulder`, the turn of `roof`, the radius of `roof`)",
        ),
    ];
    for (roof, says) in cases {
        let profile = HALF.replace(r#"{ name = "roof", arc = "30 ft" }"#, roof);
        let told = read(&profile).unwrap_err().to_string();
        assert!(told.contains(says), "{roof}: {told}");
    }
}
