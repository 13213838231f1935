//! The main job from outside: set, mark, decide, mark again, review.

use crate::program;
use crate::program::Program;
use std::fs;
use std::path::Path;

const ROLL: &str = "pupil id,name,class,year,level,table\n\
    P1,Runa Larkmoor,5 Rowan,5,,red\n\
    P2,Milos Quenby,5 Rowan,5,,blue\n\
    P3,Dilys Tarnholme,5 Rowan,5,3,blue\n";

/// A program in a folder with a bank and a roll.
fn school() -> Program {
    let bank = fs::read(program::root().join("question-banks/gears-7-11.toml")).expect("a bank");
    Program::new()
        .file("bank.toml", bank)
        .file("roll.csv", ROLL)
}

fn set(out: &str) -> Vec<&str> {
    let mut arguments =
        "set --bank bank.toml --roll roll.csv --level 4-5 --questions 6 --seed try \
         --versions each --date 2025-10-07 --out"
            .split(' ')
            .filter(|it| !it.is_empty())
            .collect::<Vec<_>>();
    arguments.push(out);
    arguments
}

/// The answers of two pupils as a form gives them, from the homework's own columns.
fn answers(program: &Program, one: &str, two: &str) -> String {
    let record = program.read("hw/homework.json");
    let homework = toothmark::homework::from_json(&record, "homework.json").expect("a record");
    let mut numbers: Vec<String> = Vec::new();
    for sheet in &homework.sheets {
        for item in &sheet.items {
            if !numbers.contains(&item.number) {
                numbers.push(item.number.clone());
            }
        }
    }
    let row = |id: &str, name: &str, text: &str| {
        let cells = vec![text; numbers.len()].join(",");
        format!("{id},{name},{cells}\n")
    };
    format!(
        "Pupil ID,Pupil,{}\n{}{}",
        numbers.join(","),
        row("P1", "Runa Larkmoor", one),
        row("P2", "Milos Quenby", two)
    )
}

#[test]
fn the_same_command_twice_gives_the_same_bytes() {
    let program = school().arguments(set("one"));
    program.run().succeeded();
    let program = program.anew().arguments(set("two"));
    program.run().succeeded();
    for name in [
        "homework.json",
        "answers.xlsx",
        "sheets.pdf",
        "mark-scheme.pdf",
    ] {
        let one = fs::read(program.path("one").join(name)).expect(name);
        let two = fs::read(program.path("two").join(name)).expect(name);
        assert!(one == two, "{name} differs");
        assert!(!one.is_empty(), "{name} is empty");
    }
}

#[test]
fn a_chosen_seed_is_told_so_that_the_run_can_be_repeated() {
    let arguments = "set --bank bank.toml --roll roll.csv --level 4 --questions 3 --out hw";
    let program = school().arguments(arguments.split(' '));
    let run = program.run().succeeded();
    let seed = run
        .stdout
        .split("--seed ")
        .nth(1)
        .expect("the seed is told");
    let seed: Vec<&str> = seed.split_whitespace().take(3).collect();
    let again = format!(
        "set --bank bank.toml --roll roll.csv --level 4 --questions 3 --out hw2 --seed {}",
        seed.join(" ")
    );
    let program = program.anew().arguments(again.split(' '));
    program.run().succeeded();
    assert_eq!(
        program.read("hw/homework.json"),
        program.read("hw2/homework.json")
    );
}

#[test]
fn a_homework_in_the_folder_is_not_overwritten() {
    let program = school().arguments(set("hw"));
    program.run().succeeded();
    let before = program.read("hw/homework.json");
    program.run().succeeded();
    let mut other = set("hw");
    other.extend(["--title", "Another"]);
    let program = program.anew().arguments(other);
    let run = program.run().ended_with(1);
    assert!(run.stderr.contains("homework.json"), "{}", run.stderr);
    assert_eq!(program.read("hw/homework.json"), before);
}

#[test]
fn every_problem_of_banks_and_roll_is_told_at_once() {
    let program = school()
        .file("broken.toml", "format = 1\n[bank]\nid = 3\n")
        .file("broken.csv", "pupil id,nam,class,year\n1,A,B,5\n1,B,B,5\n")
        .arguments("set --bank broken.toml missing.toml --roll broken.csv --level 3 --questions 2 --out hw".split(' '));
    let run = program.run().ended_with(1);
    for told in ["broken.toml:3:", "missing.toml", "broken.csv"] {
        assert!(
            run.stderr.contains(told),
            "{told} is missing in:\n{}",
            run.stderr
        );
    }
    assert!(!program.path("hw").exists(), "nothing is written");
    assert_eq!(run.stdout, "");
}

#[test]
fn marking_writes_its_three_files_and_nothing_is_silently_nought() {
    let program = school().arguments(set("hw"));
    program.run().succeeded();
    let csv = answers(&program, "perhaps", "");
    let program = program
        .file("hw/form.csv", csv)
        .anew()
        .arguments(["mark", "hw/form.csv"]);
    program.run().succeeded();
    let marks = program.read("hw/marks.csv");
    let heading = marks.lines().next().expect("a heading row");
    assert_eq!(
        heading,
        "homework,pupil_id,pupil,class,year,question,template,skill,level,typed,read_as,expected,\
         marks,out_of,state,misconception,reason,check,keep_until"
    );
    let mut reader = csv::Reader::from_reader(marks.as_bytes());
    let mut rows = 0;
    for row in reader.records() {
        let row = row.expect("a row");
        rows += 1;
        match &row[1] {
            "P1" => assert!(&row[14] == "unreadable" && !row[17].is_empty(), "{row:?}"),
            "P2" => assert!(matches!(&row[14], "blank" | "not reached"), "{row:?}"),
            _ => {}
        }
        assert!(
            !row[16].is_empty(),
            "a reason stands beside every mark: {row:?}"
        );
    }
    assert!(rows > 0);
    let record = program.read("hw/marked.json");
    toothmark::marking::from_json(&record, "marked.json").expect("a record that review reads");
}

#[test]
fn a_decision_is_applied_to_equal_answers_and_kept_for_good() {
    let program = school().arguments(set("hw"));
    program.run().succeeded();
    let csv = answers(&program, "perhaps", "perhaps");
    let program = program.file("hw/form.csv", csv).anew();
    let program = program.arguments(["mark", "hw/form.csv"]);
    program.run().succeeded();
    let marked = |program: &Program| {
        let record = program.read("hw/marked.json");
        toothmark::marking::from_json(&record, "marked.json").expect("a record")
    };
    let before = marked(&program);
    let open = before.pupils[0]
        .marks
        .iter()
        .find(|mark| !mark.check.is_empty());
    let open = open.expect("an answer to look at").clone();
    assert_eq!(open.marks, 0);
    let program = program.file("hw/marked.xlsx", decided(&before.code, &open));
    for _ in 0..2 {
        program.run().succeeded();
        let after = marked(&program);
        let mark = after.pupils[0]
            .marks
            .iter()
            .find(|it| it.question == open.question);
        let mark = mark.expect("the same question");
        assert_eq!((mark.marks, mark.check.as_str()), (1, ""));
        assert!(mark.decided.is_some());
        assert_eq!(after.decisions.len(), 1);
    }
    let copies = fs::read_dir(program.path("hw")).expect("the folder");
    let copies = copies.flatten().filter(|entry| {
        let name = entry.file_name().to_string_lossy().into_owned();
        name.starts_with("marked 20") && Path::new(&name).extension().is_some_and(|it| it == "xlsx")
    });
    assert_eq!(
        copies.count(),
        1,
        "the workbook with the decision in it is kept"
    );
}

/// A results workbook in which a person gave one mark; sorted and cut down.
fn decided(code: &str, mark: &toothmark::marking::Mark) -> Vec<u8> {
    let mut book = rust_xlsxwriter::Workbook::new();
    let sheet = book.add_worksheet().set_name("To check").expect("a name");
    sheet
        .write_string(0, 0, format!("Homework code: {code}"))
        .expect("written");
    let out_of = mark.out_of.to_string();
    let columns = [
        ("Code", mark.code.as_str()),
        ("Your mark", "1"),
        ("Out of", out_of.as_str()),
        ("Proposed", "0"),
        ("Answer", mark.typed.as_str()),
        ("Question", mark.question.as_str()),
    ];
    for (column, (heading, cell)) in (0_u16..).zip(columns) {
        sheet.write_string(3, column, heading).expect("written");
        sheet.write_string(4, column, cell).expect("written");
    }
    book.save_to_buffer().expect("a workbook")
}

#[test]
fn marking_needs_the_record_and_says_where_it_looked() {
    let program = Program::new()
        .file("a.csv", "Pupil ID,Pupil,Q1\nP1,A,3\n")
        .arguments(["mark", "a.csv"]);
    let run = program.run().ended_with(1);
    assert!(run.stderr.contains("homework.json"), "{}", run.stderr);
    assert!(run.stderr.contains("--homework"), "{}", run.stderr);
}

#[test]
fn answers_of_another_homework_are_not_marked_into_its_results() {
    let program = school().arguments(set("hw"));
    program.run().succeeded();
    let csv = answers(&program, "3", "4");
    let program = program.file("hw/form.csv", csv.clone()).anew();
    let program = program.arguments(["mark", "hw/form.csv", "--out", "results"]);
    program.run().succeeded();
    let mut other = set("hw2");
    other.extend(["--title", "Another"]);
    let program = program.anew().arguments(other);
    program.run().succeeded();
    let program = program.file("hw2/form.csv", csv).anew();
    let program = program.arguments(["mark", "hw2/form.csv", "--out", "results"]);
    let run = program.run().ended_with(1);
    assert!(run.stderr.contains("--out"), "{}", run.stderr);
}

#[test]
fn the_tour_goes_all_the_way_and_says_where_to_look() {
    let out = tempfile::tempdir().expect("a folder");
    let tour = out.path().join("tour");
    let run = std::process::Command::new(env!("CARGO_BIN_EXE_toothmark"))
        .current_dir(program::root())
        .args([Path::new("tour"), Path::new("--out"), &tour])
        .output()
        .expect("the program runs");
    let stdout = String::from_utf8_lossy(&run.stdout);
    assert!(
        run.status.success(),
        "{}",
        String::from_utf8_lossy(&run.stderr)
    );
    for file in [
        "set/sheets.pdf",
        "set/mark-scheme.pdf",
        "set/answers.xlsx",
        "marked/2-hazel/marked.xlsx",
        "marked/8-linden/marks.csv",
        "marked/5-rowan/feedback.pdf",
        "review/attainment.html",
        "review/attainment.xlsx",
        "review/attainment.csv",
    ] {
        assert!(tour.join(file).is_file(), "{file} is missing");
    }
    assert!(stdout.contains("Where to look"), "{stdout}");
    // The tour sets the very homework that the class's answers belong to.
    let set = fs::read(tour.join("set/homework.json")).expect("a record");
    let sample = program::root().join("sample-classes/5-rowan/homework.json");
    assert!(set == fs::read(sample).expect("a record"));
}
