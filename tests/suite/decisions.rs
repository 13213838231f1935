//! What people decide in the results workbook, and in copies of it, from outside.

use crate::person::Book;
use crate::program;
use crate::program::Program;
use std::fs;
use toothmark::marking;

/// A class of four with a homework, marked by version 0.1.0 of the program.
pub(crate) fn earlier_version(name: &str) -> Vec<u8> {
    let folder = program::root().join("tests/cases/earlier-version");
    fs::read(folder.join(name)).expect("the file is there")
}

/// What that class answered, but for one answer that needed a person then and is
/// settled now: there stands one that cannot be read now either.
pub(crate) fn answers() -> String {
    let answers = String::from_utf8(earlier_version("answers.csv")).expect("text");
    answers.replace("the first one i think", "the rusty one i think")
}

/// The class's homework in a folder, with nothing marked yet.
pub(crate) fn class() -> Program {
    Program::new()
        .file("hw/homework.json", earlier_version("homework.json"))
        .file("hw/answers.csv", answers())
}

/// The class as version 0.1.0 of the program left it.
pub(crate) fn class_marked_then() -> Program {
    class()
        .file("hw/answers.csv", earlier_version("answers.csv"))
        .file("hw/marked.json", earlier_version("marked.json"))
        .file("hw/marked.xlsx", earlier_version("marked.xlsx"))
}

/// Runs `toothmark mark` with these arguments; gives back the program and what it said.
pub(crate) fn mark(program: Program, arguments: &[&str]) -> (Program, program::Run) {
    let program = program.anew().argument("mark").arguments(arguments);
    let run = program.run().succeeded();
    (program, run)
}

pub(crate) fn marked(program: &Program) -> marking::Marked {
    let record = program.read("hw/marked.json");
    marking::from_json(&record, "marked.json").expect("a record")
}

/// The mark of a pupil's answer.
pub(crate) fn mark_of<'a>(
    marked: &'a marking::Marked,
    pupil: &str,
    question: &str,
) -> &'a marking::Mark {
    let entry = marked.pupils.iter().find(|entry| entry.pupil.id == pupil);
    let marks = &entry.expect("the pupil").marks;
    let mark = marks.iter().find(|mark| mark.question == question);
    mark.expect("the question")
}

/// The results workbook as it stands.
fn results(program: &Program) -> Book {
    Book::open(&fs::read(program.path("hw/marked.xlsx")).expect("a workbook"))
}

/// The class marked once, and the workbook to decide in.
fn marked_once() -> (Program, Book) {
    let (program, _) = mark(class(), &["hw/answers.csv"]);
    let book = results(&program);
    (program, book)
}

const TWELVE: &[(&str, &str)] = &[("Question", "Q5"), ("Answer", "12 no 8")];
const FIRST: &[(&str, &str)] = &[("Question", "Q1"), ("Answer", "the rusty one i think")];

#[test]
fn who_decided_is_kept_and_shown_again() {
    let (program, book) = marked_once();
    let own: &[(&str, &str)] = &[("Pupil ID", "P2"), ("Question", "Q6")];
    let book = book
        .types("To check", TWELVE, "Your mark", "1")
        .types("To check", TWELVE, "Decided by", "AB")
        .types("Marks", own, "Changed mark", "2")
        .types("Marks", own, "Decided by", "C. D.");
    let mut program = program.file("hw/marked.xlsx", book.save());
    for _ in 0..2 {
        (program, _) = mark(program, &["hw/answers.csv"]);
        let found = marked(&program);
        let people: Vec<&str> = found
            .decisions
            .iter()
            .map(|decision| decision.by.as_str())
            .collect();
        assert_eq!(people, ["AB", "C. D."]);
        for pupil in ["P1", "P4"] {
            let mark = mark_of(&found, pupil, "Q5");
            assert_eq!(mark.marks, 1);
            assert!(mark.reason.contains(" by AB: 1 mark"), "{}", mark.reason);
        }
        assert_eq!(mark_of(&found, "P2", "Q6").marks, 2);
        let book = results(&program);
        assert_eq!(book.text("To check", TWELVE, "Your mark"), "1");
        assert_eq!(book.text("To check", TWELVE, "Decided by"), "AB");
        assert_eq!(book.text("Marks", own, "Decided by"), "C. D.");
    }
}

#[test]
fn two_people_who_decide_differently_are_shown_until_one_who_saw_both_decides() {
    let (program, book) = marked_once();
    let untouched = book.save();
    let ours = Book::open(&untouched)
        .types("To check", TWELVE, "Your mark", "1")
        .types("To check", TWELVE, "Decided by", "AB")
        .types("To check", FIRST, "Your mark", "1");
    let copy = book
        .types("To check", TWELVE, "Your mark", "0")
        .types("To check", TWELVE, "Decided by", "CD")
        .types("To check", FIRST, "Your mark", "1");
    let mut program = program
        .file("hw/marked.xlsx", ours.save())
        .file("from-cd.xlsx", copy.save());
    // The second time the same copy says nothing new.
    for _ in 0..2 {
        let run;
        (program, run) = mark(program, &["hw/answers.csv", "--decided", "from-cd.xlsx"]);
        assert!(
            run.stdout.contains("decisions differ: 1;"),
            "{}",
            run.stdout
        );
        let found = marked(&program);
        assert_eq!(found.decisions.len(), 3, "agreeing decisions are one");
        let open = mark_of(&found, "P4", "Q5");
        assert_eq!(
            (open.marks, &open.decided),
            (2, &None),
            "the proposal stands"
        );
        let today = &found.marked_on;
        for told in [
            format!("1 mark (AB, marked.xlsx, {today})"),
            format!("0 marks (CD, from-cd.xlsx, {today})"),
        ] {
            assert!(open.check.contains(&told), "{}", open.check);
        }
        let agreed = mark_of(&found, "P2", "Q1");
        assert_eq!((agreed.marks, agreed.check.as_str()), (1, ""));
        let book = results(&program);
        assert_eq!(book.text("To check", TWELVE, "Your mark"), "");
        let why = book.text("To check", TWELVE, "Why look");
        assert!(why.starts_with("two decisions differ: "), "{why}");
    }
    let book = results(&program)
        .types("To check", TWELVE, "Your mark", "1")
        .types("To check", TWELVE, "Decided by", "EF");
    let mut program = program.file("hw/marked.xlsx", book.save());
    for arguments in [
        &["hw/answers.csv"][..],
        &["hw/answers.csv", "--decided", "from-cd.xlsx"],
    ] {
        let run;
        (program, run) = mark(program, arguments);
        assert!(!run.stdout.contains("differ"), "{}", run.stdout);
        let found = marked(&program);
        let mark = mark_of(&found, "P1", "Q5");
        assert_eq!((mark.marks, mark.check.as_str()), (1, ""));
        let today = &found.marked_on;
        assert_eq!(
            mark.reason,
            format!(
                "Decided by hand on {today} by EF: 1 mark, before that 1 mark (AB, marked.xlsx, \
                 {today}) and 0 marks (CD, from-cd.xlsx, {today}) (proposed was 2: Right: 8 turns)"
            )
        );
        assert_eq!(found.decisions.len(), 4);
    }
}

#[test]
fn a_decision_in_a_workbook_that_showed_the_earlier_one_takes_its_place() {
    let (program, book) = marked_once();
    let book = book.types("To check", TWELVE, "Your mark", "1");
    let (program, _) = mark(
        program.file("hw/marked.xlsx", book.save()),
        &["hw/answers.csv"],
    );
    // Somebody else gets a copy of the new workbook, and thinks otherwise.
    let copy = results(&program)
        .types("To check", TWELVE, "Your mark", "0")
        .types("To check", TWELVE, "Decided by", "CD");
    let program = program.file("copies/marked.xlsx", copy.save());
    let (program, run) = mark(
        program,
        &["hw/answers.csv", "--decided", "copies/marked.xlsx"],
    );
    assert!(!run.stdout.contains("differ"), "{}", run.stdout);
    let found = marked(&program);
    let mark = mark_of(&found, "P1", "Q5");
    let today = &found.marked_on;
    assert_eq!(mark.marks, 0);
    assert!(
        mark.reason.starts_with(&format!(
            "Decided by hand on {today} by CD: 0 marks, before that 1 mark (marked.xlsx, {today})"
        )),
        "{}",
        mark.reason
    );
    let kept: Vec<(u8, u8, &str)> = found
        .decisions
        .iter()
        .map(|decision| (decision.marks, decision.proposed, decision.file.as_str()))
        .collect();
    assert_eq!(kept, [(1, 2, "marked.xlsx"), (0, 2, "copies/marked.xlsx")]);
}

#[test]
fn a_person_who_marked_their_own_copy_of_everything_is_heard_too() {
    let (program, book) = marked_once();
    let ours = book.types("To check", TWELVE, "Your mark", "1");
    let untouched = results(&program).save();
    let program = program.file("hw/marked.xlsx", ours.save());
    let (program, _) = mark(program, &["hw/answers.csv"]);
    // The other person has a folder of their own, decides and marks there.
    let theirs = Book::open(&untouched)
        .types("To check", TWELVE, "Your mark", "0")
        .types("To check", TWELVE, "Decided by", "CD");
    let other = class().file("hw/marked.xlsx", theirs.save());
    let (other, _) = mark(other, &["hw/answers.csv"]);
    let program = program.file("cd.xlsx", results(&other).save());
    let mut program = program;
    for _ in 0..2 {
        let run;
        (program, run) = mark(program, &["hw/answers.csv", "--decided", "cd.xlsx"]);
        assert!(
            run.stdout.contains("decisions differ: 1;"),
            "{}",
            run.stdout
        );
        assert_eq!(marked(&program).decisions.len(), 2);
    }
}

#[test]
fn sorted_rows_moved_columns_and_marks_as_text_are_read() {
    let (program, book) = marked_once();
    let own: &[(&str, &str)] = &[("Pupil ID", "P2"), ("Question", "Q6")];
    let book = book
        .types("To check", TWELVE, "Your mark", "1.0")
        .types("To check", FIRST, "Your mark", " 1 ")
        .types("Marks", own, "Changed mark", "2")
        .turned_over();
    let program = program.file("hw/marked.xlsx", book.save());
    let (program, _) = mark(program, &["hw/answers.csv"]);
    let found = marked(&program);
    let marks = [("P1", "Q5"), ("P4", "Q5"), ("P2", "Q1"), ("P2", "Q6")]
        .map(|(pupil, question)| mark_of(&found, pupil, question).marks);
    assert_eq!(marks, [1, 1, 1, 2]);
    assert_eq!(found.decisions.len(), 3);
    // The same workbook, sorted and saved again, decides nothing anew.
    let again = results(&program).turned_over().save();
    let (program, _) = mark(program.file("hw/marked.xlsx", again), &["hw/answers.csv"]);
    assert_eq!(marked(&program).decisions, found.decisions);
}

#[test]
fn every_mark_that_cannot_be_given_is_told_with_its_place_and_nothing_is_written() {
    let (program, book) = marked_once();
    let before = program.read("hw/marked.json");
    let ours = book.types("To check", TWELVE, "Your mark", "3");
    let copy = results(&program).types("To check", FIRST, "Your mark", "one");
    let program = program
        .file("hw/marked.xlsx", ours.save())
        .file("copy.xlsx", copy.save())
        .anew()
        .arguments([
            "mark",
            "hw/answers.csv",
            "--decided",
            "copy.xlsx",
            "hw/answers.csv",
        ]);
    let run = program.run().ended_with(1);
    for told in [
        "hw/marked.xlsx: To check!H",
        "your mark: found 3, looked for a whole number from 0 to 2",
        "copy.xlsx: To check!H",
        "your mark: found one",
        "hw/answers.csv: no worksheet has a column Your mark or Changed mark",
    ] {
        assert!(run.stderr.contains(told), "{told}: {}", run.stderr);
    }
    assert_eq!(program.read("hw/marked.json"), before);
}

#[test]
fn what_an_earlier_version_wrote_is_read_with_its_decisions() {
    let program = class_marked_then();
    let before = marked(&program);
    assert_eq!(before.decisions.len(), 3);
    let (program, _) = mark(program, &["hw/answers.csv"]);
    let found = marked(&program);
    // A fourth one had been typed into the workbook and not been read yet.
    assert_eq!(found.decisions[..3], before.decisions[..]);
    assert_eq!(found.decisions.len(), 4);
    let marks = [
        ("P2", "Q1"),
        ("P1", "Q5"),
        ("P4", "Q5"),
        ("P2", "Q6"),
        ("P4", "Q2"),
    ]
    .map(|(pupil, question)| mark_of(&found, pupil, question).marks);
    assert_eq!(marks, [1, 1, 1, 2, 1]);
    assert_eq!(found.notes, Vec::<String>::new());
    // The old workbook shows its decisions by their dates alone.
    let typed =
        Book::open(&earlier_version("marked.xlsx")).types("To check", TWELVE, "Your mark", "0");
    let program = class_marked_then().file("hw/marked.xlsx", typed.save());
    let (program, run) = mark(program, &["hw/answers.csv"]);
    assert!(!run.stdout.contains("differ"), "{}", run.stdout);
    assert_eq!(mark_of(&marked(&program), "P1", "Q5").marks, 0);
}

/// The answers with one pupil's answer to the fifth question typed over.
fn with_fifth_answer(pupil: &str, text: &str) -> String {
    let answers = answers();
    let lines = answers.lines().map(|line| {
        let mut cells: Vec<&str> = line.split(',').collect();
        if cells[0] == pupil {
            cells[7] = text;
            cells[8] = "";
        }
        cells.join(",")
    });
    lines.collect::<Vec<_>>().join("\n")
}

#[test]
fn a_decision_whose_answer_is_gone_is_kept_and_told() {
    let (program, book) = marked_once();
    let book = book.types("To check", FIRST, "Your mark", "1").types(
        "To check",
        FIRST,
        "Decided by",
        "AB",
    );
    let (program, _) = mark(
        program.file("hw/marked.xlsx", book.save()),
        &["hw/answers.csv"],
    );
    let answers = answers();
    let changed = answers.replace("the rusty one i think", "A");
    let (program, run) = mark(program.file("hw/answers.csv", changed), &["hw/answers.csv"]);
    let found = marked(&program);
    let date = &found.decisions[0].date;
    let told = format!(
        "A decision fits no answer now; it is kept: Q1, \"the rusty one i think\", 1 mark (AB, \
         marked.xlsx, {date})."
    );
    assert_eq!(found.notes, std::slice::from_ref(&told));
    assert!(run.stdout.contains(&told), "{}", run.stdout);
    let now = mark_of(&found, "P2", "Q1");
    assert_eq!((now.marks, now.check.as_str()), (1, ""));
    assert_eq!(now.decided, None);
    // The answer comes back, and the decision with it.
    let (program, _) = mark(program.file("hw/answers.csv", answers), &["hw/answers.csv"]);
    let found = marked(&program);
    assert_eq!(found.notes, Vec::<String>::new());
    assert_eq!(mark_of(&found, "P2", "Q1").marks, 1);
    assert!(mark_of(&found, "P2", "Q1").decided.is_some());
}

#[test]
fn a_changed_mark_whose_answer_has_changed_is_shown_until_it_is_decided_anew() {
    let (program, book) = marked_once();
    let own: &[(&str, &str)] = &[("Pupil ID", "P2"), ("Question", "Q5")];
    let book = book.types("Marks", own, "Changed mark", "0");
    let (program, _) = mark(
        program.file("hw/marked.xlsx", book.save()),
        &["hw/answers.csv"],
    );
    assert_eq!(mark_of(&marked(&program), "P2", "Q5").marks, 0);
    let program = program.file("hw/answers.csv", with_fifth_answer("P2", "8"));
    let (program, _) = mark(program, &["hw/answers.csv"]);
    let found = marked(&program);
    let now = mark_of(&found, "P2", "Q5");
    assert_eq!(now.marks, 2);
    assert!(
        now.check
            .starts_with("the answer has changed since 0 marks was decided for \"32\""),
        "{}",
        now.check
    );
    // Decided in the row that asks for a look, it holds.
    let row: &[(&str, &str)] = &[("Question", "Q5"), ("Answer", "8")];
    let book = results(&program).types("To check", row, "Your mark", "2");
    let (program, _) = mark(
        program.file("hw/marked.xlsx", book.save()),
        &["hw/answers.csv"],
    );
    let found = marked(&program);
    let now = mark_of(&found, "P2", "Q5");
    assert_eq!((now.marks, now.check.as_str()), (2, ""));
    assert!(now.decided.is_some());
    // And with the first answer, the first decision.
    let program = program.file("hw/answers.csv", with_fifth_answer("P2", "32"));
    let (program, _) = mark(program, &["hw/answers.csv"]);
    assert_eq!(mark_of(&marked(&program), "P2", "Q5").marks, 0);
}

#[test]
fn questions_and_pupils_added_since_lose_no_decision() {
    let (program, book) = marked_once();
    let own: &[(&str, &str)] = &[("Pupil ID", "P2"), ("Question", "Q6")];
    let book =
        book.types("To check", TWELVE, "Your mark", "1")
            .types("Marks", own, "Changed mark", "2");
    let (program, _) = mark(
        program.file("hw/marked.xlsx", book.save()),
        &["hw/answers.csv"],
    );
    // A question goes in before the fifth, and a pupil before all others.
    let mut homework: serde_json::Value =
        serde_json::from_str(&program.read("hw/homework.json")).expect("a record");
    let items = homework["sheets"][0]["items"]
        .as_array_mut()
        .expect("items");
    let mut added = items[4].clone();
    added["number"] = "Q5".into();
    added["mechanism"] = serde_json::json!(["gear A 10 drives gear B 20", "A turns 8"]);
    added["ask"] = "turns of B".into();
    for (item, number) in items[4..].iter_mut().zip(["Q6", "Q7"]) {
        item["number"] = number.into();
    }
    items.insert(4, added);
    let pupils = homework["pupils"].as_array_mut().expect("pupils");
    let mut pupil = pupils[0].clone();
    pupil["id"] = "P0".into();
    pupil["name"] = "Wren Oxhey".into();
    pupils.insert(0, pupil);
    let answers = answers();
    let answers = answers
        .replace("Q6 working", "Q7 working")
        .replace(",Q6,", ",Q7,")
        .replace("Q5 working", "Q6 working")
        .replace(",Q5,", ",Q6,")
        .replace("Pupil ID,", "Q5,Pupil ID,")
        .replace("\nP", "\n4,P")
        .replace("\n4,P3", "\n,P3");
    let program = program
        .file("hw/homework.json", homework.to_string())
        .file("hw/answers.csv", answers);
    let (program, _) = mark(program, &["hw/answers.csv"]);
    let found = marked(&program);
    let marks = [("P1", "Q6"), ("P4", "Q6"), ("P2", "Q7")]
        .map(|(pupil, question)| mark_of(&found, pupil, question));
    assert_eq!(marks.map(|mark| mark.marks), [1, 1, 2]);
    for mark in marks {
        assert!(mark.decided.is_some(), "{mark:?}");
    }
    assert_eq!(results(&program).row_count("Marks"), 35);
}

#[test]
fn a_workbook_saved_under_another_ending_is_read_as_well() {
    // What a file is, its bytes say; so this stands for any other kind.
    let (program, book) = marked_once();
    let typed = book.types("To check", TWELVE, "Your mark", "1").save();
    let program = program.file("hw/marked.ods", typed);
    let (program, _) = mark(program, &["hw/answers.csv"]);
    let (program, _) = mark(program, &["hw/answers.csv"]);
    let found = marked(&program);
    assert_eq!(found.decisions.len(), 1);
    assert_eq!(mark_of(&found, "P1", "Q5").marks, 1);
    // It stays where it is, and what was decided since is not undone by it.
    let book = results(&program).types("To check", TWELVE, "Your mark", "0");
    let (program, _) = mark(
        program.file("hw/marked.xlsx", book.save()),
        &["hw/answers.csv"],
    );
    let found = marked(&program);
    assert_eq!(mark_of(&found, "P1", "Q5").marks, 0);
    assert!(program.path("hw/marked.ods").is_file());
}

#[test]
fn without_the_record_decisions_come_back_from_the_workbook() {
    let (program, book) = marked_once();
    let book = book.types("To check", TWELVE, "Your mark", "1").types(
        "To check",
        TWELVE,
        "Decided by",
        "AB",
    );
    let (program, _) = mark(
        program.file("hw/marked.xlsx", book.save()),
        &["hw/answers.csv"],
    );
    fs::remove_file(program.path("hw/marked.json")).expect("removed");
    let (program, _) = mark(program, &["hw/answers.csv"]);
    let found = marked(&program);
    let mark = mark_of(&found, "P1", "Q5");
    assert_eq!(mark.marks, 1);
    assert_eq!(mark.decided.as_ref().expect("decided").by, "AB");
    // A record that cannot be read stands in the way, and the hint says what to do.
    let program = program.file("hw/marked.json", "{").anew();
    let program = program.arguments(["mark", "hw/answers.csv"]);
    let run = program.run().ended_with(1);
    assert!(run.stderr.contains("move it away"), "{}", run.stderr);
}
