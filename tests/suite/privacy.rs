//! What leaves the program: nothing over a network, and no pupil's name in what it says or
//! in what files are called.
//!
//! That no network is used is seen by `strace`. A pair of sockets by which a process talks
//! to itself (so a signal wakes a waiting thread) is none. Where it is not installed or not allowed
//! the test says so and checks nothing; with `TOOTHMARK_REQUIRE_STRACE=1`, which `.ci/run`
//! sets, it fails instead.

use crate::program;
use crate::program::Program;
use std::env;
use std::fs;
use std::io;
use std::io::Write;
use std::path::Path;
use std::process::Command;

/// Every command that works on pupils' data, and those beside them.
const COMMANDS: [&str; 10] = [
    "set --bank bank.toml --roll roll.csv --level 4-5 --questions 4 --versions each --seed try \
     --date 2026-03-09 --out hw",
    "mark hw/form.csv",
    "feedback hw",
    "review hw --out reviewed",
    "review hw --out reviewed --for-class Secretclass",
    "show hw --out screen.html",
    "cards --level 3-4 --out cards",
    "set --bank bank.toml --roll roll.csv --level 4-5 --questions 4 --after hw --seed next \
     --date 2026-03-16 --out next",
    "bank check bank.toml",
    "manual --out manual",
];

/// A folder with a bank, a roll and what a form gave.
fn school() -> Program {
    let bank = fs::read(program::root().join("question-banks/gears-7-11.toml")).expect("a bank");
    let pupil = |number: u32| format!("S{number},Secretname{number} Hidden");
    let roll = (0..12).map(|number| format!("{},Secretclass,5\n", pupil(number)));
    let roll = format!("pupil id,name,class,year\n{}", roll.collect::<String>());
    let form = (0..12).map(|number| format!("{},{number},clockwise,,perhaps\n", pupil(number)));
    let form = format!("Pupil ID,Pupil,Q1,Q2,Q3,Q4\n{}", form.collect::<String>());
    Program::new()
        .file("bank.toml", bank)
        .file("roll.csv", roll)
        .file("hw/form.csv", form)
}

fn arguments(line: &str) -> Vec<&str> {
    line.split(' ').filter(|it| !it.is_empty()).collect()
}

/// Whether a line of the watch is about a way out of this computer, or of this process to
/// another.
fn is_of_a_network(line: &str) -> bool {
    let opens = line.contains("socket(") || line.contains("connect(") || line.contains("bind(");
    opens || line.contains("AF_INET") || line.contains("AF_NETLINK")
}

/// The names of all files in a folder and below it.
fn names(folder: &Path) -> Vec<String> {
    let mut names = Vec::new();
    for entry in fs::read_dir(folder).expect("a folder").flatten() {
        names.push(entry.file_name().to_string_lossy().into_owned());
        if entry.path().is_dir() {
            names.extend(self::names(&entry.path()));
        }
    }
    names
}

#[test]
fn no_name_of_a_pupil_is_in_messages_or_file_names() {
    let mut program = school();
    for line in COMMANDS {
        program = program.anew().arguments(arguments(line));
        let run = program.run().succeeded();
        for said in [&run.stdout, &run.stderr] {
            assert!(!said.contains("Secretname"), "{line}:\n{said}");
        }
    }
    let names = names(&program.path(""));
    assert!(names.len() > 20, "{names:?}");
    assert!(
        !names.iter().any(|it| it.contains("Secretname")),
        "{names:?}"
    );
}

#[test]
fn no_network_is_ever_used() {
    let trace = ["strace", "-f", "-qq", "-e", "trace=%network", "-o"];
    let probe = Command::new("strace")
        .args(["-qq", "-o", "/dev/null", "true"])
        .status();
    if !probe.is_ok_and(|status| status.success()) {
        let required = env::var("TOOTHMARK_REQUIRE_STRACE").is_ok_and(|value| value == "1");
        assert!(!required, "strace is missing or not allowed");
        writeln!(
            io::stderr(),
            "strace is missing or not allowed: the network is not watched"
        )
        .expect("it is told");
        return;
    }
    let mut program = school();
    for (number, line) in COMMANDS.iter().enumerate() {
        let log = program.path(&format!("network-{number}.txt"));
        let mut wrapper: Vec<String> = trace.map(str::to_owned).to_vec();
        wrapper.push(log.display().to_string());
        program = program.anew().arguments(arguments(line));
        program.run_under(&wrapper).succeeded();
        let seen = fs::read_to_string(&log).expect("a log");
        let used: Vec<&str> = seen.lines().filter(|it| is_of_a_network(it)).collect();
        assert!(used.is_empty(), "{line}:\n{}", used.join("\n"));
    }
    // The watch sees what there is to see.
    let log = program.path("seen.txt");
    let talker = "exec 3<>/dev/tcp/127.0.0.1/9 || true";
    let mut watched = Command::new("strace");
    watched
        .args(&trace[1..])
        .arg(&log)
        .args(["bash", "-c", talker]);
    watched.output().expect("it runs");
    let seen = fs::read_to_string(&log).expect("a log");
    assert!(seen.lines().any(is_of_a_network), "{seen}");
}
