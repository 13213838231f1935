//! Runs that are stopped: killed at any moment, interrupted, or stopped between two files.
//! Every file is then the old one or the whole new one, and no decision is lost.
//!
//! `cargo test --test suite faults -- --nocapture` says how many runs were stopped, and
//! where.

use crate::decisions::{class, mark, marked};
use crate::person::Book;
use crate::program::Program;
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::thread;
use std::time::{Duration, Instant};

/// The files of a folder by name.
pub(crate) type Files = BTreeMap<String, Vec<u8>>;

/// How many runs are killed.
const KILLS: u32 = 200;
/// How many runs are interrupted.
const INTERRUPTS: u32 = 60;

/// Returns every file of a folder.
pub(crate) fn files(folder: &Path) -> Files {
    let mut files = Files::new();
    for entry in fs::read_dir(folder).expect("the folder is there") {
        let path = entry.expect("it can be read").path();
        let name = path.file_name().expect("a name").to_string_lossy();
        files.insert(name.into_owned(), fs::read(&path).expect("a file"));
    }
    files
}

/// Puts these files into a folder, and no others.
pub(crate) fn put(folder: &Path, wanted: &Files) {
    for name in files(folder).keys() {
        fs::remove_file(folder.join(name)).expect("it can be taken away");
    }
    for (name, bytes) in wanted {
        fs::write(folder.join(name), bytes).expect("it can be written");
    }
}

/// A homework that was marked, and in whose workbook somebody then decided two marks.
pub(crate) fn decided() -> Program {
    let (program, _) = mark(class(), &["hw/answers.csv"]);
    let book = Book::open(&fs::read(program.path("hw/marked.xlsx")).expect("a workbook"))
        .types(
            "To check",
            &[("Question", "Q5"), ("Answer", "12 no 8")],
            "Your mark",
            "1",
        )
        .types(
            "Marks",
            &[("Pupil ID", "P2"), ("Question", "Q6")],
            "Changed mark",
            "2",
        );
    program
        .file("hw/marked.xlsx", book.save())
        .anew()
        .arguments(["mark", "hw/answers.csv"])
}

/// A marking, what stands before and after it, and how long it takes.
struct Marking {
    program: Program,
    before: Files,
    after: Files,
    takes: Duration,
}

impl Marking {
    fn new() -> Self {
        let program = decided();
        let folder = program.path("hw");
        let before = files(&folder);
        let mut lengths = Vec::new();
        for _ in 0..5 {
            put(&folder, &before);
            let began = Instant::now();
            program.run().succeeded();
            lengths.push(began.elapsed());
        }
        lengths.sort();
        let after = files(&folder);
        assert_eq!(marked(&program).decisions.len(), 2);
        assert_eq!(after.len(), before.len() + 1, "a dated copy is kept");
        program.run().succeeded();
        assert!(files(&folder) == after, "marking again changes nothing");
        Self {
            program,
            before,
            after,
            takes: lengths[2],
        }
    }

    /// Checks that every file is an old or a new one, but for those there in passing;
    /// returns how many are new.
    fn check_whole(&self, found: &Files) -> usize {
        let mut new = 0;
        for (name, bytes) in found {
            if name.starts_with(".toothmark-") {
                continue;
            }
            let is_old = self.before.get(name) == Some(bytes);
            let is_new = self.after.get(name) == Some(bytes);
            assert!(is_old || is_new, "{name} is neither the old nor the new");
            new += usize::from(is_new && !is_old);
        }
        for name in self.before.keys() {
            assert!(found.contains_key(name), "{name} is gone");
        }
        new
    }

    /// Marks again, and checks that all is as if nothing had happened.
    fn check_mended(&self) {
        self.program.run().succeeded();
        let found = files(&self.program.path("hw"));
        for (name, bytes) in &self.after {
            assert!(found.get(name) == Some(bytes), "{name} is not mended");
        }
        let names: Vec<&String> = found.keys().collect();
        assert_eq!(names, self.after.keys().collect::<Vec<_>>());
    }

    /// When the run of this number is stopped: spread over its whole length and a little
    /// more.
    fn moment(&self, run: u32, runs: u32) -> Duration {
        self.takes * 5 * run / (4 * runs)
    }
}

#[test]
#[expect(clippy::print_stdout, reason = "the counts are worth reading")]
fn a_run_that_is_killed_at_any_moment_leaves_old_files_or_whole_new_ones() {
    let marking = Marking::new();
    let folder = marking.program.path("hw");
    let (mut untouched, mut between, mut done, mut left) = (0, 0, 0, 0);
    for run in 0..KILLS {
        put(&folder, &marking.before);
        let mut child = marking.program.command();
        child.stdout(std::process::Stdio::null());
        let mut child = child.spawn().expect("it can be started");
        thread::sleep(marking.moment(run, KILLS));
        child.kill().expect("it is killed, or has ended");
        child.wait().expect("it has ended");
        let found = files(&folder);
        let new = marking.check_whole(&found);
        let passing = found.keys().filter(|name| name.starts_with('.')).count();
        left += usize::from(passing > 0);
        if new == 0 {
            untouched += 1;
        } else if new < 4 {
            between += 1;
        } else {
            done += 1;
        }
        if found != marking.before && found != marking.after {
            marking.check_mended();
        }
    }
    println!(
        "{KILLS} runs of {:?} killed: {untouched} before the first file, {between} between two \
         files, {done} after the last; {left} left passing files, and none did after the next run",
        marking.takes
    );
    assert!(untouched > 0, "none was killed early");
}

#[test]
fn a_run_that_stops_between_two_files_is_mended_by_the_next() {
    let marking = Marking::new();
    let folder = marking.program.path("hw");
    let copy = marking
        .after
        .keys()
        .find(|name| !marking.before.contains_key(*name))
        .expect("the dated copy");
    // The order in which they take their places.
    let order = [copy.as_str(), "marked.json", "marked.xlsx", "marks.csv"];
    for count in 0..=order.len() {
        let mut state = marking.before.clone();
        for name in &order[..count] {
            state.insert((*name).to_owned(), marking.after[*name].clone());
        }
        put(&folder, &state);
        marking.check_whole(&files(&folder));
        marking.check_mended();
    }
}

#[cfg(unix)]
#[test]
#[expect(clippy::print_stdout, reason = "the counts are worth reading")]
fn a_run_that_is_interrupted_leaves_nothing_behind_and_ends_as_interrupted() {
    use std::os::unix::process::ExitStatusExt;
    const SIGINT: i32 = 2;
    const SIGTERM: i32 = 15;
    let marking = Marking::new();
    let folder = marking.program.path("hw");
    let (mut interrupted, mut finished) = (0, 0);
    for run in 0..INTERRUPTS {
        put(&folder, &marking.before);
        let mut child = marking.program.command();
        child.stdout(std::process::Stdio::null());
        let mut child = child.spawn().expect("it can be started");
        thread::sleep(marking.moment(run, INTERRUPTS));
        let signal = if run % 4 == 0 { SIGTERM } else { SIGINT };
        std::process::Command::new("kill")
            .args([format!("-{signal}"), child.id().to_string()])
            .status()
            .expect("signals can be sent");
        let status = child.wait().expect("it has ended");
        if let Some(found) = status.signal() {
            assert_eq!(found, signal);
            interrupted += 1;
        } else {
            assert_eq!(status.code(), Some(0));
            finished += 1;
        }
        // The files that belong together come together.
        let found = files(&folder);
        assert!(
            found == marking.before || (found == marking.after),
            "{:?}",
            found.keys()
        );
    }
    println!("{INTERRUPTS} runs: {interrupted} interrupted, {finished} had finished");
    assert!(interrupted > 0, "none was interrupted");
}

#[cfg(unix)]
#[test]
fn a_folder_made_for_a_run_that_is_interrupted_goes_again() {
    let marking = Marking::new();
    let program =
        marking
            .program
            .anew()
            .arguments(["mark", "hw/answers.csv", "--out", "autumn/new"]);
    for run in 0..12 {
        let mut child = program.command();
        child.stdout(std::process::Stdio::null());
        let mut child = child.spawn().expect("it can be started");
        thread::sleep(marking.takes * run / 12);
        std::process::Command::new("kill")
            .args(["-2".to_owned(), child.id().to_string()])
            .status()
            .expect("signals can be sent");
        child.wait().expect("it has ended");
        if program.path("autumn").exists() {
            let names: Vec<String> = files(&program.path("autumn/new")).into_keys().collect();
            assert_eq!(names, ["marked.json", "marked.xlsx", "marks.csv"]);
            fs::remove_dir_all(program.path("autumn")).expect("taken away");
        }
    }
}
