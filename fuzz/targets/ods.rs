#![no_main]
libfuzzer_sys::fuzz_target!(init: list_fuzz::quiet(), |input: &[u8]| list_fuzz::read("ods", input));
