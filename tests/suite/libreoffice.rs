//! A results workbook opened, typed into and saved by `LibreOffice`, where it
//! is installed. Where it is not, the test says so and has nothing to check.

use crate::decisions::{class, mark, mark_of, marked};
use crate::program;
use std::fs;
use std::io::{self, Write};
use std::path::Path;
use std::process::{Command, Stdio};
use std::thread;
use std::time::{Duration, Instant};

const WORK: &str = include_str!("libreoffice.bas");

/// How long it may take before it is ended.
const LONGEST: Duration = Duration::from_mins(3);

/// Runs `LibreOffice` with a profile in a folder of its own; whether it is installed.
fn office(profile: &Path, arguments: &[&str]) -> bool {
    let started = Command::new("soffice")
        .arg(format!("-env:UserInstallation={}", url(profile)))
        .args(["--headless", "--norestore"])
        .args(arguments)
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn();
    let Ok(mut running) = started else {
        return false;
    };
    let begun = Instant::now();
    while running.try_wait().expect("it can be waited for").is_none() {
        if begun.elapsed() > LONGEST {
            running.kill().expect("it can be ended");
            panic!("LibreOffice did not end within {LONGEST:?}");
        }
        thread::sleep(Duration::from_millis(100));
    }
    true
}

fn url(path: &Path) -> String {
    format!("file://{}", path.display())
}

/// Puts the person's work into the profile, where a macro is looked for.
fn put_work_into(profile: &Path, folder: &Path) {
    let library = profile.join("user/basic/Standard");
    let work = WORK
        .replace("FOLDER", &url(folder))
        .replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;");
    let list = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
        <library:library xmlns:library=\"http://openoffice.org/2000/library\" \
        library:name=\"Standard\" library:readonly=\"false\" library:passwordprotected=\"false\">\n \
        <library:element library:name=\"Person\"/>\n</library:library>\n";
    let module = format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
         <script:module xmlns:script=\"http://openoffice.org/2000/script\" \
         script:name=\"Person\" script:language=\"StarBasic\">\n{work}</script:module>\n"
    );
    fs::create_dir_all(&library).expect("the folder can be made");
    fs::write(library.join("script.xlb"), list).expect("written");
    fs::write(library.join("Person.xba"), module).expect("written");
}

#[test]
fn marks_typed_sorted_filtered_and_saved_in_libreoffice_are_read_from_every_format() {
    let desk = tempfile::tempdir().expect("a folder");
    let profile = desk.path().join("profile");
    // The first start makes the profile.
    if !office(&profile, &["--terminate_after_init"]) {
        let remark = "LibreOffice is not installed: nothing was checked here";
        writeln!(io::stderr(), "{remark}").expect("the error stream can be written to");
        return;
    }
    let (program, _) = mark(class(), &["hw/answers.csv"]);
    fs::copy(
        program.path("hw/marked.xlsx"),
        desk.path().join("marked.xlsx"),
    )
    .expect("copied");
    put_work_into(&profile, desk.path());
    assert!(office(&profile, &["macro:///Standard.Person.Work"]));
    let record = program.read("hw/marked.json");
    for ending in ["ods", "xls", "xlsx"] {
        let saved = fs::read(desk.path().join(format!("saved.{ending}")));
        let saved = saved.unwrap_or_else(|error| panic!("saved.{ending}: {error}"));
        let again = class()
            .file("hw/marked.json", &record)
            .file(&format!("hw/marked.{ending}"), &saved);
        let mut again = again;
        // A second time, what stands in it decides nothing anew.
        for _ in 0..2 {
            let run: program::Run;
            (again, run) = mark(again, &["hw/answers.csv"]);
            assert!(!run.stdout.contains("differ"), "{}", run.stdout);
            let found = marked(&again);
            let mut told: Vec<(u8, &str, &str)> = found
                .decisions
                .iter()
                .map(|one| (one.marks, one.by.as_str(), one.question.as_str()))
                .collect();
            told.sort_unstable();
            assert_eq!(
                told,
                [(1, "", "Q1"), (1, "AB", "Q5"), (2, "CD", "Q6")],
                "{ending}"
            );
            let marks = [("P1", "Q5"), ("P4", "Q5"), ("P2", "Q1"), ("P2", "Q6")]
                .map(|(pupil, question)| mark_of(&found, pupil, question).marks);
            assert_eq!(marks, [1, 1, 1, 2], "{ending}");
        }
        // And it can be another person's copy.
        let copy = class()
            .file("hw/marked.json", &record)
            .file(&format!("copy.{ending}"), &saved);
        let name = format!("copy.{ending}");
        let (copy, _) = mark(copy, &["hw/answers.csv", "--decided", &name]);
        assert_eq!(marked(&copy).decisions.len(), 3, "{ending}");
    }
}
