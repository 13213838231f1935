//! Workbooks opened, typed into and saved by `LibreOffice`, where it is installed.
//!
//! Where it is not, a test says so and has nothing to check; with
//! `TOOTHMARK_REQUIRE_LIBREOFFICE=1`, which `.ci/run` sets, it fails instead.

use crate::decisions::{class, mark, mark_of, marked};
use crate::program;
use crate::program::Program;
use std::collections::BTreeMap;
use std::env;
use std::fmt::Write as _;
use std::fs;
use std::io::{self, Write as _};
use std::path::Path;
use std::process::{Command, Stdio};
use std::thread;
use std::time::{Duration, Instant};
use toothmark::answer;
use toothmark::gears::solve;
use toothmark::homework;
use toothmark::item;

const WORK: &str = include_str!("libreoffice.bas");

/// How long it may take before it is ended.
const LONGEST: Duration = Duration::from_mins(3);

/// The person's desk: a folder with files, and `LibreOffice`.
struct Desk {
    folder: tempfile::TempDir,
}

impl Desk {
    fn new() -> Self {
        Self {
            folder: tempfile::tempdir().expect("a folder"),
        }
    }

    fn put(&self, name: &str, content: impl AsRef<[u8]>) {
        fs::write(self.folder.path().join(name), content).expect("written");
    }

    fn take(&self, name: &str) -> Vec<u8> {
        let saved = fs::read(self.folder.path().join(name));
        saved.unwrap_or_else(|error| panic!("{name}: {error}"))
    }

    /// Lets a person do what the macro file says; whether `LibreOffice` is there.
    fn work(&self, what: &str) -> bool {
        let profile = self.folder.path().join("profile");
        put_language_into(&profile);
        // The first start makes the profile.
        if !office(&profile, "--terminate_after_init") {
            let must_be_there =
                env::var("TOOTHMARK_REQUIRE_LIBREOFFICE").is_ok_and(|value| value == "1");
            assert!(!must_be_there, "LibreOffice is not installed");
            let remark = "LibreOffice is not installed: nothing was checked here";
            writeln!(io::stderr(), "{remark}").expect("the error stream can be written to");
            return false;
        }
        put_work_into(&profile, self.folder.path());
        assert!(office(
            &profile,
            &format!("macro:///Standard.Person.{what}")
        ));
        if let Ok(fault) = fs::read_to_string(self.folder.path().join("fault.txt")) {
            panic!("{what}: {fault}");
        }
        true
    }
}

/// Runs `LibreOffice` with a profile in a folder of its own; whether it is installed.
fn office(profile: &Path, argument: &str) -> bool {
    let started = Command::new("soffice")
        .arg(format!("-env:UserInstallation={}", url(profile)))
        .args(["--headless", "--norestore", argument])
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
        thread::sleep(Duration::from_millis(50));
    }
    true
}

fn url(path: &Path) -> String {
    format!("file://{}", path.display())
}

/// Gives a profile the language of a British school, whatever that of the computer is.
fn put_language_into(profile: &Path) {
    let settings = profile.join("user/registrymodifications.xcu");
    let text = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
        <oor:items xmlns:oor=\"http://openoffice.org/2001/registry\">\n\
        <item oor:path=\"/org.openoffice.Setup/L10N\"><prop oor:name=\"ooSetupSystemLocale\" \
        oor:op=\"fuse\"><value>en-GB</value></prop></item>\n</oor:items>\n";
    fs::create_dir_all(profile.join("user")).expect("the folder can be made");
    fs::write(settings, text).expect("written");
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
    let desk = Desk::new();
    let (program, _) = mark(class(), &["hw/answers.csv"]);
    let results = fs::read(program.path("hw/marked.xlsx")).expect("a workbook");
    desk.put("marked.xlsx", results);
    if !desk.work("Decide") {
        return;
    }
    let record = program.read("hw/marked.json");
    for ending in ["ods", "xls", "xlsx"] {
        let saved = desk.take(&format!("saved.{ending}"));
        let mut again = class()
            .file("hw/marked.json", &record)
            .file(&format!("hw/marked.{ending}"), &saved);
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

/// Answers as pupils type them that a spreadsheet program changes, or might. (Not `-3:1`:
/// `LibreOffice` takes it for a sum of rows, which means others once rows are moved.)
const ODD: [&str; 54] = [
    "3:1",
    "1:3",
    "12:60",
    "30:10",
    "1:2.5",
    "2:1:3",
    "24:24",
    "3 : 1",
    "0:45",
    "1/3",
    "3/1",
    "13/25",
    "25/10",
    "1/2",
    "1/2/3",
    "2 1/2",
    "7 3/4",
    "2½",
    "50%",
    "33.3%",
    "3-1",
    "1-2",
    "60-20",
    "20",
    "20 rpm",
    "2.50",
    "2,5",
    "1,200",
    "1,200.50",
    "one third",
    "clockwise",
    "60 ÷ 3 = 20",
    "=60/3",
    "=3*2",
    "=1/0",
    "=clockwise",
    "=-clockwise",
    "+3",
    "-3",
    "(3)",
    "1e3",
    "3E+02",
    "1E-3",
    "TRUE",
    "false",
    "Mar 1",
    "3 Jan",
    "3.1.2",
    "£5",
    "€5",
    "5 kr",
    "007",
    "'3:1",
    "'3",
];

/// How many pupils the class has.
const PUPILS: usize = 28;

/// A homework set for the class, in a folder of its own.
fn set() -> Program {
    let bank = fs::read(program::root().join("question-banks/gears-7-11.toml")).expect("a bank");
    let mut roll = "pupil id,name,class,year\n".to_owned();
    for pupil in 1..=PUPILS {
        writeln!(roll, "P{pupil:02},Pupil {pupil},5 Rowan,5").expect("in memory");
    }
    let program = Program::new()
        .file("bank.toml", bank)
        .file("roll.csv", roll)
        .arguments(
            "set --bank bank.toml --roll roll.csv --level 3-6 --questions 12 --seed office \
             --date 2026-03-02 --out hw"
                .split_whitespace(),
        );
    program.run().succeeded();
    program
}

/// What a pupil types for a question: as the mark scheme writes it, in one of its other
/// writings, or something odd.
fn keys(item: &item::Item, pupil: usize, question: usize) -> String {
    let worked = solve::answer(&item.mechanism, &item.ask).expect("it can be worked out");
    let mut right = vec![answer::expected(&worked.fact, &item.form)];
    right.extend(answer::accepted(&worked.fact, &item.form));
    let turn = pupil / 2;
    if pupil.is_multiple_of(2) {
        right[turn % right.len()].clone()
    } else {
        ODD[(turn * 12 + question * 5) % ODD.len()].to_owned()
    }
}

/// What `marks.csv` says of each answer, by pupil and question.
type Told = BTreeMap<(String, String), Answer>;

#[derive(Debug, PartialEq, Eq)]
struct Answer {
    /// Marks, state, misconceptions and whether a person should look.
    mark: [String; 4],
    typed: String,
    right: String,
    reason: String,
}

fn told(homework: &str, name: &str, answers: &[u8]) -> Told {
    let program = Program::new()
        .file("hw/homework.json", homework)
        .file(&format!("hw/{name}"), answers);
    let (program, run) = mark(program, &[&format!("hw/{name}")]);
    // A notice would tell of something that was not read.
    assert_eq!(run.stderr, "", "{name}");
    let marks = program.read("hw/marks.csv");
    let mut reader = csv::Reader::from_reader(marks.as_bytes());
    reader
        .records()
        .map(|row| {
            let row = row.expect("a row");
            let look = if row[17].is_empty() { "" } else { "look" };
            let answer = Answer {
                mark: [&row[12], &row[14], &row[15], look].map(str::to_owned),
                typed: row[9].to_owned(),
                right: row[11].to_owned(),
                reason: row[16].to_owned(),
            };
            ((row[1].to_owned(), row[5].to_owned()), answer)
        })
        .collect()
}

/// Every answer whose mark differs.
fn differences(wanted: &Told, found: &Told, is_same: fn(&Answer, &Answer) -> bool) -> Vec<String> {
    assert!(wanted.keys().eq(found.keys()));
    wanted
        .iter()
        .filter_map(|(place, one)| {
            let other = &found[place];
            (!is_same(one, other)).then(|| format!("{place:?}:\n  {one:?}\n  {other:?}"))
        })
        .collect()
}

#[test]
fn answers_typed_in_libreoffice_earn_the_same_marks_from_every_format() {
    let desk = Desk::new();
    let program = set();
    let record = program.read("hw/homework.json");
    let homework = homework::from_json(&record, "homework.json").expect("a record");
    let items = &homework.sheets.first().expect("one sheet").items;
    let (mut lines, mut csv) = (String::new(), csv::Writer::from_writer(Vec::new()));
    let mut headings = vec!["Pupil ID".to_owned(), "Pupil".to_owned()];
    headings.extend(items.iter().map(|item| item.number.clone()));
    csv.write_record(&headings).expect("written");
    for pupil in 0..PUPILS {
        let mut column = 2;
        let mut cells = vec![format!("P{:02}", pupil + 1), format!("Pupil {}", pupil + 1)];
        for (question, item) in items.iter().enumerate() {
            let keys = keys(item, pupil, question);
            writeln!(lines, "{column}\t{}\t{keys}", pupil + 5).expect("in memory");
            cells.push(keys);
            column += if item.working { 2 } else { 1 };
        }
        csv.write_record(&cells).expect("written");
    }
    let as_typed = told(&record, "typed.csv", &csv.into_inner().expect("in memory"));
    let right = as_typed.values().filter(|one| one.mark[1] == "correct");
    // Every other pupil types what is right; an explanation is for a person.
    let settled = items
        .iter()
        .filter(|item| !matches!(item.form, answer::Form::Explanation(_)));
    assert!(right.count() >= PUPILS * settled.count() / 2);
    desk.put("keys.txt", lines.trim_end());
    desk.put(
        "answers.xlsx",
        fs::read(program.path("hw/answers.xlsx")).expect("a workbook"),
    );
    if !desk.work("Answer") {
        return;
    }
    let all = |name: &str| {
        ["xlsx", "xls", "ods", "csv"].map(|ending| {
            let name = format!("{name}.{ending}");
            let told = told(&record, &name, &desk.take(&name));
            (name, told)
        })
    };
    let mut wrong = Vec::new();
    let mut check = |name: &str, differences: Vec<String>| {
        wrong.extend(differences.iter().map(|one| format!("{name}: {one}")));
    };
    // Cells of the text format keep everything.
    for (name, found) in all("text") {
        check(
            &name,
            differences(&as_typed, &found, |one, other| {
                one.mark == other.mark
                    && one.typed.trim_start_matches('\'') == other.typed.trim_start_matches('\'')
            }),
        );
    }
    // What LibreOffice changed is the same from every format, and nothing is lost.
    let general = all("general");
    let changed = general[0]
        .1
        .iter()
        .filter(|(place, one)| as_typed[*place].typed != one.typed);
    assert!(changed.count() >= 60, "too little was changed");
    for (name, found) in general.iter().chain(&all("moved")) {
        check(
            name,
            differences(&as_typed, found, |one, other| {
                one.mark[0] == other.mark[0] || other.mark[3] == "look"
            }),
        );
        // A csv file holds no formula behind an error, and no number behind the text on
        // the screen.
        let is_same: fn(&Answer, &Answer) -> bool = if name.contains(".csv") {
            |one, other| one.mark[0] == other.mark[0] || other.mark[3] == "look"
        } else {
            |one, other| one.mark == other.mark
        };
        check(name, differences(&general[0].1, found, is_same));
    }
    assert!(
        wrong.is_empty(),
        "{} differ:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}
