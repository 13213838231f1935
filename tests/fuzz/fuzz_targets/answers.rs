#![no_main]

#[path = "../bodies.rs"]
mod bodies;
#[allow(dead_code, reason = "the tests of that file are not built here")]
#[path = "../../suite/marking.rs"]
mod marking;
#[path = "../target.rs"]
mod target;

libfuzzer_sys::fuzz_target!(|data: &[u8]| bodies::answers(data));
