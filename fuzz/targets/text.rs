#![no_main]
libfuzzer_sys::fuzz_target!(init: list_fuzz::watch(), |input: &[u8]| list_fuzz::read("text", input));
