#![no_main]

#[path = "../files.rs"]
mod files;
#[path = "../target.rs"]
mod target;

libfuzzer_sys::fuzz_target!(
    init: {
        // The reading library may panic, since the program calls it in a process of its own;
        // libFuzzer would end at once, also where the panic is caught.
        let end = std::panic::take_hook();
        std::panic::set_hook(Box::new(move |panic| {
            let is_theirs = panic
                .location()
                .is_some_and(|place| place.file().contains("calamine"));
            if !is_theirs {
                end(panic);
            }
        }));
    },
    |data: &[u8]| {
        let _ = std::panic::catch_unwind(|| files::workbooks(data));
    }
);
