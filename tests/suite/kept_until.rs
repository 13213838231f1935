//! Until when pupils' work may be kept stands in every output that holds their names, ids,
//! answers or marks.
//!
//! Every file that the commands leave is looked at by its ending, so that a new output is
//! held to this too; an ending that is not known here fails.

use crate::program::{self, Program};
use std::fs;
use std::io::{Cursor, Read};
use toothmark::date;
use toothmark::homework;
use toothmark::marking;

/// Every command that writes files.
const COMMANDS: [&str; 10] = [
    "set --bank bank.toml --roll roll.csv --level 4-5 --questions 4 --versions each --seed try \
     --date 2026-03-09 --out made/hw",
    "mark made/hw/form.csv --second-look 50% --seed look",
    "feedback made/hw",
    "review made/hw --out made/reviewed --parquet",
    "review made/hw --out made/class --for-class Oak",
    "show made/hw --out made/screen.html",
    "cards --level 3-4 --out made/cards",
    "set --bank bank.toml --roll roll.csv --level 4-5 --questions 4 --after made/hw --seed next \
     --date 2026-03-16 --out made/next",
    "solve gear_A_12_drives_gear_B_36 A_turns_9_clockwise turns_of_B --drawing made/pair.pdf",
    "forget S11 made",
];

/// What holds nothing of pupils, by the end of its name.
const OF_NO_PUPIL: [&str; 6] = [
    "screen.html",
    "cards.pdf",
    "cards-for-the-teacher.pdf",
    "pair.pdf",
    ".sql",
    // What the test itself puts there, and no output.
    "form.csv",
];

/// What every pupil is called, and their class, neither of which is a word of ours.
const NAME: &str = "Secretname";

/// A folder in which every command has run, with an option of `set` more.
fn everything(option: &str) -> Program {
    let bank = fs::read(program::root().join("question-banks/gears-7-11.toml")).expect("a bank");
    let pupil = |number: u32| format!("S{number},{NAME}{number} Hidden");
    let roll = (0..12).map(|number| format!("{},Oak,5\n", pupil(number)));
    let form = (0..12).map(|number| format!("{},{number},clockwise,,perhaps\n", pupil(number)));
    let mut program = Program::new()
        .file("bank.toml", bank)
        .file(
            "roll.csv",
            format!("pupil id,name,class,year\n{}", roll.collect::<String>()),
        )
        .file(
            "made/hw/form.csv",
            format!("Pupil ID,Pupil,Q1,Q2,Q3,Q4\n{}", form.collect::<String>()),
        );
    for line in COMMANDS {
        let spaced = |it: &str| it.replace('_', " ");
        let mut arguments: Vec<String> = line.split_whitespace().map(spaced).collect();
        if line.starts_with("set") {
            arguments.extend(option.split_whitespace().map(str::to_owned));
        }
        program = program.anew().arguments(arguments);
        program.run().succeeded();
    }
    program
}

/// All that can be read in a file.
fn text_of(name: &str, bytes: &[u8]) -> String {
    match name.rsplit('.').next().unwrap_or_default() {
        "xlsx" => {
            let mut archive = zip::ZipArchive::new(Cursor::new(bytes)).expect(name);
            let mut text = String::new();
            for index in 0..archive.len() {
                let mut part = archive.by_index(index).expect(name);
                part.read_to_string(&mut text).expect(name);
            }
            text
        }
        "pdf" => {
            let document = lopdf::Document::load_mem(bytes).expect(name);
            let pages: Vec<u32> = document.get_pages().into_keys().collect();
            let text = document.extract_text(&pages).expect(name);
            // Where lines end, the words of a date may stand apart.
            text.split_whitespace().collect()
        }
        // What the file says of itself is not compressed.
        "parquet" => String::from_utf8_lossy(bytes).into_owned(),
        "csv" | "html" | "json" | "sql" => String::from_utf8(bytes.to_vec()).expect(name),
        _ => panic!("{name}: no check for this kind of output"),
    }
}

/// Checks every output for a day.
fn check(program: &Program, until: date::Date, in_records: &str) {
    let (day, in_words) = (until.to_string(), until.in_words());
    let mut checked = 0;
    for name in program.everything() {
        if !name.starts_with("made/") || !program.path(&name).is_file() {
            continue;
        }
        let bytes = fs::read(program.path(&name)).expect("it can be read");
        let text = text_of(&name, &bytes);
        if OF_NO_PUPIL.iter().any(|end| name.ends_with(end)) {
            assert!(name.ends_with("form.csv") || !text.contains(NAME), "{name}");
            continue;
        }
        checked += 1;
        match name.rsplit('.').next().unwrap_or_default() {
            "csv" => {
                let mut reader = csv::Reader::from_reader(text.as_bytes());
                let headings = reader.headers().expect("headings").clone();
                let place = headings.iter().position(|it| it == "keep_until");
                let place = place.unwrap_or_else(|| panic!("{name}: {headings:?}"));
                for row in reader.records() {
                    assert_eq!(row.expect("a row").get(place), Some(day.as_str()), "{name}");
                }
            }
            "json" => {
                assert!(text.contains(in_records), "{name}");
                let kept = if name.ends_with("homework.json") {
                    homework::from_json(&text, &name)
                        .expect("a record")
                        .kept_until()
                } else {
                    marking::from_json(&text, &name)
                        .expect("a record")
                        .kept_until()
                };
                assert_eq!(kept, Some(until), "{name}");
            }
            "parquet" => assert!(text.contains(&day), "{name}"),
            "pdf" => assert!(text.contains(&in_words.replace(' ', "")), "{name}"),
            _ => assert!(text.contains(&in_words), "{name}: {in_words} is not in it"),
        }
    }
    assert!(checked >= 20, "{checked} outputs");
}

#[test]
fn every_output_about_pupils_says_until_when_it_is_kept() {
    let chosen = "2031-07-04".parse().expect("a day");
    let program = everything("--keep-until 2031-07-04");
    check(&program, chosen, "\"keep_until\": \"2031-07-04\"");
}

#[test]
fn where_no_day_is_chosen_it_is_the_end_of_the_academic_year() {
    let end = "2026-08-31".parse().expect("a day");
    let program = everything("");
    // Records stay as they always were: what they say is worked out.
    check(&program, end, "\"format\": 1");
    assert!(!program.read("made/hw/homework.json").contains("keep_until"));
    assert!(!program.read("made/hw/marked.json").contains("keep_until"));
}

/// Runs a command on and returns what it said.
fn said(program: Program, line: &str) -> (Program, String) {
    let program = program.anew().arguments(line.split_whitespace());
    let run = program.run().succeeded();
    (program, run.stdout)
}

#[test]
fn a_record_past_its_day_is_told_and_another_is_not() {
    let bank = fs::read(program::root().join("question-banks/gears-7-11.toml")).expect("a bank");
    let mut program = Program::new()
        .file("bank.toml", bank)
        .file("roll.csv", "pupil id,name,class,year\nP1,Ada,Oak,5\n");
    for (folder, option, is_told) in [
        ("old", "", true),
        ("kept", "--keep-until 2999-12-31", false),
    ] {
        let line = format!(
            "set --bank bank.toml --roll roll.csv --level 4 --questions 2 --seed s --date \
             2020-03-09 {option} --out {folder}"
        );
        program = said(program, &line).0;
        program = program.file(&format!("{folder}/form.csv"), "Pupil ID,Q1,Q2\nP1,1,2\n");
        for line in [
            format!("mark {folder}/form.csv"),
            format!("review {folder} --out {folder}"),
        ] {
            let (same, told) = said(program, &line);
            program = same;
            let wanted = "was to be kept until 31 August 2020";
            assert_eq!(told.contains(wanted), is_told, "{line}:\n{told}");
        }
    }
    let (_, told) = said(program, "review old kept --out both");
    assert!(
        told.contains("1 of 2 records, old/marked.json, was to be kept until"),
        "{told}"
    );
}

#[test]
fn a_day_that_cannot_be_meant_is_refused() {
    let bank = fs::read(program::root().join("question-banks/gears-7-11.toml")).expect("a bank");
    let program = Program::new()
        .file("bank.toml", bank)
        .file("roll.csv", "pupil id,name,class,year\nP1,Ada,Oak,5\n");
    for (day, code, told) in [
        ("2020-03-08", 1, "before the homework is set on 2020-03-09"),
        ("2021-02-29", 2, "month 2 of 2021 has 28 days"),
    ] {
        let line = format!(
            "set --bank bank.toml --roll roll.csv --level 4 --questions 2 --date 2020-03-09 \
             --keep-until {day} --out hw"
        );
        let program = Program::new()
            .file("bank.toml", program.read("bank.toml"))
            .file("roll.csv", program.read("roll.csv"))
            .arguments(line.split_whitespace());
        let run = program.run().ended_with(code);
        assert!(run.stderr.contains(told), "{}", run.stderr);
        assert!(!program.path("hw").exists());
    }
}

#[test]
fn a_day_that_was_changed_by_hand_is_told() {
    let program = everything("--keep-until 2031-07-04");
    let read = |name: &str| program.read(&format!("made/hw/{name}"));
    let (set, marked) = (read("homework.json"), read("marked.json"));
    let line = "  \"keep_until\": \"2031-07-04\",\n";
    for changed in [
        "  \"keep_until\": \"2041-07-04\",\n",
        "  \"keep_until\": \"later\",\n",
        "",
    ] {
        let (set, marked) = (set.replace(line, changed), marked.replace(line, changed));
        let told = homework::from_json(&set, "h.json").expect_err("it is told");
        assert!(told[0].place.starts_with("h.json: "), "{}", told[0]);
        let told = marking::from_json(&marked, "m.json").expect_err("it is told");
        assert!(told[0].place.starts_with("m.json: "), "{}", told[0]);
    }
}
