#![no_main]

#[path = "../files.rs"]
mod files;

libfuzzer_sys::fuzz_target!(|data: &[u8]| files::workbooks(data));
