#![no_main]

#[path = "../files.rs"]
mod files;
#[path = "../target.rs"]
mod target;

libfuzzer_sys::fuzz_target!(|data: &[u8]| files::rolls(data));
