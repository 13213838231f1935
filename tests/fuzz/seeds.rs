//! Writes the seeds of every target into `corpus`, one file each.

use std::fs;
use std::path::Path;

mod bodies;
mod files;
#[allow(dead_code, reason = "the tests of that file are not built here")]
#[path = "../suite/marking.rs"]
mod marking;
mod target;

fn main() -> std::io::Result<()> {
    for target in bodies::TARGETS {
        write(target.name, &(target.seeds)())?;
    }
    for target in files::TARGETS {
        write(target.name, &(target.seeds)())?;
    }
    Ok(())
}

fn write(name: &str, seeds: &[Vec<u8>]) -> std::io::Result<()> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("tests/fuzz/corpus")
        .join(name);
    fs::create_dir_all(&folder)?;
    for (index, seed) in seeds.iter().enumerate() {
        fs::write(folder.join(format!("seed-{index:05}")), seed)?;
    }
    Ok(())
}
