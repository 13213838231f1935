//! A disk without room, folders and files that may not be written, and surroundings that
//! must make no difference.
//!
//! What only root can set up is left out elsewhere, and said to be.

use crate::decisions::{class, earlier_version, marked};
use crate::faults::{decided, files, put};
use crate::program::Program;
use std::fs;
use std::io;
use std::io::Write;
use std::process::Command;

#[cfg(unix)]
#[test]
fn a_file_that_may_not_grow_leaves_everything_as_it_was() {
    let program = decided();
    let folder = program.path("hw");
    let before = files(&folder);
    let mut refused = 0;
    for blocks in 0..64 {
        put(&folder, &before);
        let run = Command::new("sh")
            .args(["-c", &format!("ulimit -f {blocks}; exec \"$0\" \"$@\"")])
            .arg(env!("CARGO_BIN_EXE_toothmark"))
            .args(["mark", "hw/answers.csv"])
            .current_dir(program.path(""))
            .output()
            .expect("it can be started");
        let said = String::from_utf8_lossy(&run.stderr).into_owned();
        match run.status.code() {
            Some(0) => assert_eq!(marked(&program).decisions.len(), 2),
            Some(1) => {
                refused += 1;
                assert!(said.contains("could not be written"), "{said}");
                assert!(said.contains("make room there"), "{said}");
                assert!(files(&folder) == before, "{blocks} blocks");
            }
            other => panic!("{other:?}: {said}"),
        }
    }
    assert!(refused > 4, "the limit was met only {refused} times");
}

/// A small disk of its own, put away at the end.
#[cfg(target_os = "linux")]
struct SmallDisk(std::path::PathBuf);

#[cfg(target_os = "linux")]
impl SmallDisk {
    fn mount(path: std::path::PathBuf) -> Option<Self> {
        fs::create_dir_all(&path).expect("made");
        let mounted = Command::new("mount")
            .args(["-t", "tmpfs", "-o", "size=256k", "tmpfs"])
            .arg(&path)
            .output();
        mounted
            .is_ok_and(|output| output.status.success())
            .then_some(Self(path))
    }
}

#[cfg(target_os = "linux")]
impl Drop for SmallDisk {
    fn drop(&mut self) {
        let _ = Command::new("umount").arg("-l").arg(&self.0).status();
    }
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_leaves_everything_as_it_was() {
    let source = files(&decided().path("hw"));
    let program = Program::new();
    let Some(_disk) = SmallDisk::mount(program.path("hw")) else {
        writeln!(
            io::stderr(),
            "only root may mount a small disk: a full one is not tried here"
        )
        .expect("it is told");
        return;
    };
    let program = program.arguments(["mark", "hw/answers.csv"]);
    let folder = program.path("hw");
    let mut refused = 0;
    // From no room at all to room enough, half a dozen kilobytes at a time.
    for taken in (0..=36).rev().map(|step| step * 6 * 1024) {
        put(&folder, &source);
        let filler = vec![0; taken];
        if fs::write(folder.join("filler"), filler).is_err() {
            continue;
        }
        let before = files(&folder);
        let run = program.run();
        if run.code == 0 {
            assert_eq!(marked(&program).decisions.len(), 2);
        } else {
            refused += 1;
            assert_eq!(run.code, 1, "{}", run.stderr);
            assert!(run.stderr.contains("make room there"), "{}", run.stderr);
            assert!(files(&folder) == before, "{taken} bytes taken");
        }
    }
    assert!(refused > 3, "the disk was full only {refused} times");
}

/// Whether tests run as root, whom no permission stops.
#[cfg(unix)]
fn is_root() -> bool {
    let id = Command::new("id").arg("-u").output();
    id.is_ok_and(|output| output.stdout == b"0\n")
}

/// The program as somebody whom permissions stop; none where that cannot be had.
#[cfg(unix)]
fn as_somebody(program: &Program) -> Option<Command> {
    const NOBODY: u32 = 65534;
    if !is_root() {
        return Some(program.command());
    }
    let mut command = Command::new("setpriv");
    command
        .args([
            format!("--reuid={NOBODY}"),
            format!("--regid={NOBODY}"),
            "--clear-groups".to_owned(),
            env!("CARGO_BIN_EXE_toothmark").to_owned(),
        ])
        .current_dir(program.path(""));
    let mut probe = Command::new(command.get_program());
    probe.args(command.get_args()).arg("--version");
    if !probe.output().is_ok_and(|output| output.status.success()) {
        writeln!(
            io::stderr(),
            "no other person can be had to run the program: permissions are not tried"
        )
        .expect("it is told");
        return None;
    }
    for path in [program.path(""), program.path("hw")] {
        std::os::unix::fs::chown(path, Some(NOBODY), Some(NOBODY)).expect("root may");
    }
    for name in files(&program.path("hw")).keys() {
        let path = program.path("hw").join(name);
        std::os::unix::fs::chown(path, Some(NOBODY), Some(NOBODY)).expect("root may");
    }
    command.args(["mark", "hw/answers.csv"]);
    Some(command)
}

#[cfg(unix)]
#[test]
fn what_may_not_be_written_is_told_and_nothing_changes() {
    use std::os::unix::fs::PermissionsExt;
    // The folder or a file in it, what it may be, and what is said.
    let cases = [
        ("hw", 0o555, "the folder cannot be written into", 0o755),
        ("hw/marked.json", 0o000, "may not be read", 0o644),
        (
            "hw/marked.xlsx",
            0o444,
            "the file may not be replaced",
            0o644,
        ),
        ("hw/marks.csv", 0o444, "the file may not be replaced", 0o644),
    ];
    for (name, mode, what, usual) in cases {
        let program = decided();
        let Some(mut command) = as_somebody(&program) else {
            return;
        };
        // Marks that differ, so that every file is to be replaced.
        if name == "hw/marks.csv" {
            fs::write(program.path(name), "old").expect("written");
        }
        let before = files(&program.path("hw"));
        let set = |mode| {
            fs::set_permissions(program.path(name), fs::Permissions::from_mode(mode))
                .expect("the owner or root may");
        };
        set(mode);
        let run = command.output().expect("it can be started");
        set(usual);
        let said = String::from_utf8_lossy(&run.stderr).into_owned();
        assert_eq!(run.status.code(), Some(1), "{name}: {said}");
        assert!(
            said.contains(what) && said.contains("hint: "),
            "{name}: {said}"
        );
        assert!(files(&program.path("hw")) == before, "{name}");
    }
}

#[test]
fn a_clock_behind_the_earlier_marking_is_told_and_no_decision_is_lost() {
    let record = String::from_utf8(earlier_version("marked.json")).expect("text");
    let date = record
        .lines()
        .find_map(|line| line.trim().strip_prefix("\"marked_on\": "))
        .expect("a date");
    let later = record.replacen(
        &format!("\"marked_on\": {date}"),
        "\"marked_on\": \"2099-01-01\",",
        1,
    );
    let program = class()
        .file("hw/answers.csv", earlier_version("answers.csv"))
        .file("hw/marked.xlsx", earlier_version("marked.xlsx"))
        .file("hw/marked.json", &later)
        .arguments(["mark", "hw/answers.csv"]);
    let decisions = count_of_decisions(&later);
    let run = program.run().succeeded();
    assert!(
        run.stderr
            .contains("the homework was marked on 2099-01-01 before"),
        "{}",
        run.stderr
    );
    // One more stands in the workbook, typed there since.
    let found = count_of_decisions(&program.read("hw/marked.json"));
    assert_eq!(found, decisions + 1);
}

/// How many decisions a record holds.
fn count_of_decisions(record: &str) -> usize {
    let marked = toothmark::marking::from_json(record, "marked.json").expect("a record");
    marked.decisions.len()
}

#[test]
fn surroundings_make_no_difference_to_any_byte() {
    let bank = include_str!("../cases/golden/bank.toml");
    let roll = "pupil id,name,class,year\np1,Ida Brookwell,5 Oak,5\np2,Jon Ashgrove,5 Oak,5\n";
    // Names and values; all other variables are taken away.
    let surroundings: [&[(&str, &str)]; 6] = [
        &[("HOME", "/root"), ("LANG", "en_GB.UTF-8"), ("TZ", "UTC")],
        &[],
        &[("TZ", "Pacific/Kiritimati"), ("LC_ALL", "tr_TR.UTF-8")],
        &[
            ("TZ", "America/Adak"),
            ("LC_ALL", "C"),
            ("HOME", "/nowhere"),
        ],
        &[("SOURCE_DATE_EPOCH", "0"), ("LC_NUMERIC", "de_DE.UTF-8")],
        &[
            ("TMPDIR", "/nowhere"),
            ("TZ", "not a zone"),
            ("LANG", "\u{202e}"),
        ],
    ];
    let mut first = None;
    for variables in surroundings {
        let mut program = Program::new()
            .file("bank.toml", bank)
            .file("roll.csv", roll);
        for arguments in [
            "set --bank bank.toml --roll roll.csv --level 2-7 --questions 3 --versions each \
             --seed slate --date 2026-09-01 --out hw",
            "mark hw/answers.xlsx",
            "feedback hw",
        ] {
            program = program.anew().arguments(arguments.split_whitespace());
            let output = program
                .command()
                .env_clear()
                .envs(variables.iter().copied())
                .output()
                .expect("it can be started");
            let said = String::from_utf8_lossy(&output.stderr).into_owned();
            assert!(output.status.success(), "{variables:?}: {said}");
        }
        let found = files(&program.path("hw"));
        let first = first.get_or_insert_with(|| found.clone());
        assert_eq!(found.len(), 8, "{:?}", found.keys());
        for (name, bytes) in &found {
            assert!(
                first.get(name) == Some(bytes),
                "{name} differs: {variables:?}"
            );
        }
    }
}
