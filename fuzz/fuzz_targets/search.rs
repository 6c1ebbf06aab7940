#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| fastness_fuzzed::search(bytes));
