//! A second look from outside: draw a sample, fill it in, mark again.

use crate::program;
use crate::program::Program;
use std::collections::BTreeMap;
use std::fs;
use std::io::Write;
use toothmark::marking;
use toothmark::marking::second_look;
use toothmark::workbook::cells;
use toothmark::workbook::headings;
use toothmark::workbook::undo;

const ROLL: &str = "pupil id,name,class,year\n\
    ZQ-101,Runa Larkmoor,5 Rowan,5\n\
    ZQ-102,Milos Quenby,5 Rowan,5\n\
    ZQ-103,Dilys Tarnholme,5 Rowan,5\n\
    ZQ-104,Wendel Oxbarrow,5 Rowan,5\n";

const DRAW: &[&str] = &[
    "mark",
    "hw/form.csv",
    "--second-look",
    "50%",
    "--seed",
    "try",
];
const MARK: &[&str] = &["mark", "hw/form.csv"];

/// A program in a folder with a homework that four pupils answered.
fn handed_in() -> Program {
    let bank = fs::read(program::root().join("question-banks/gears-7-11.toml")).expect("a bank");
    let program = Program::new()
        .file("bank.toml", bank)
        .file("roll.csv", ROLL)
        .arguments(
            "set --bank bank.toml --roll roll.csv --level 4-5 --questions 6 --seed second \
             --versions each --date 2026-10-06 --out hw"
                .split_whitespace(),
        );
    program.run().succeeded();
    let csv = answers(&program, "3");
    program.file("hw/form.csv", csv)
}

/// The first pupil types the same everywhere, the others what fits some questions.
fn answers(program: &Program, first: &str) -> String {
    let record = program.read("hw/homework.json");
    let homework = toothmark::homework::from_json(&record, "homework.json").expect("a record");
    let numbers: Vec<&str> = homework.sheets[0]
        .items
        .iter()
        .map(|item| item.number.as_str())
        .collect();
    let ways = [first, "clockwise", "yes", "gear A"];
    let rows: Vec<String> = homework
        .pupils
        .iter()
        .zip(ways)
        .map(|(assignment, typed)| {
            let cells = vec![typed; numbers.len()].join(",");
            format!("{},,{cells}\n", assignment.pupil.id)
        })
        .collect();
    format!("Pupil ID,Pupil,{}\n{}", numbers.join(","), rows.concat())
}

fn marked(program: &Program) -> marking::Marked {
    marking::from_json(&program.read("hw/marked.json"), "marked.json").expect("a record")
}

/// The texts of the first worksheet, row by row.
fn grid(bytes: &[u8]) -> cells::Grid {
    cells::read(bytes).expect("a workbook").grids.remove(0)
}

/// A sample with second marks typed in, by row code.
struct Filled(Vec<BTreeMap<u32, String>>);

impl Filled {
    /// Fills in the sample of a folder: the first mark again, but for the answers
    /// that `other` gives another mark or none.
    fn of(program: &Program, other: impl Fn(usize, &second_look::Row) -> Option<u8>) -> Self {
        let marked = marked(program);
        let look = marked.second_looks.last().expect("a sample");
        let mut marks: BTreeMap<String, Option<u8>> = BTreeMap::new();
        let codes = second_look::row_codes(&marked, &look.seed);
        for (index, row) in look.rows.iter().enumerate() {
            let (code, _) = codes
                .iter()
                .find(|(_, mark)| mark.pupil_id == row.pupil_id && mark.question == row.question)
                .expect("a code for the answer");
            marks.insert(code.clone(), other(index, row));
        }
        let grid = grid(&fs::read(program.path("hw/second-look.xlsx")).expect("the sample"));
        let table = headings::find(&grid, &[&["rowcode"]]).expect("the table");
        let column = |key: &str| table.column(&[key]).expect("the column");
        let mut rows = Vec::new();
        for (row, cells) in &grid.rows {
            let mut texts: BTreeMap<u32, String> = cells
                .iter()
                .map(|(column, cell)| (*column, undo::text(cell)))
                .collect();
            if *row > table.row {
                let code = table.text(*row, column("rowcode"));
                if let Some(mark) = marks[&code] {
                    texts.insert(column("secondmark"), mark.to_string());
                }
            }
            rows.push(texts);
        }
        Self(rows)
    }

    /// The file as a spreadsheet program saves it, the rows of the table turned round.
    fn xlsx(&self) -> Vec<u8> {
        let mut book = rust_xlsxwriter::Workbook::new();
        let sheet = book.add_worksheet();
        let (lines, table) = self.0.split_at(8);
        for (row, cells) in (0_u32..).zip(lines.iter().chain(table.iter().rev())) {
            for (column, text) in cells {
                let column = u16::try_from(*column).expect("few columns");
                match text.parse::<u32>() {
                    Ok(number) => sheet.write_number(row, column, number),
                    Err(_) => sheet.write_string(row, column, text),
                }
                .expect("written");
            }
        }
        book.save_to_buffer().expect("a workbook")
    }

    /// The same as an Open Document spreadsheet.
    fn ods(&self) -> Vec<u8> {
        let cell = |text: &str| {
            let text = text.replace('&', "&amp;").replace('<', "&lt;");
            format!(
                "<table:table-cell office:value-type=\"string\"><text:p>{text}</text:p>\
                 </table:table-cell>"
            )
        };
        let row = |cells: &BTreeMap<u32, String>| {
            let last = cells.keys().max().copied().unwrap_or(0);
            let cells: Vec<String> = (0..=last)
                .map(|column| cell(cells.get(&column).map_or("", String::as_str)))
                .collect();
            format!("<table:table-row>{}</table:table-row>", cells.concat())
        };
        let rows: Vec<String> = self.0.iter().map(row).collect();
        let rows = rows.concat();
        let content = format!(
            "<?xml version=\"1.0\" encoding=\"UTF-8\"?><office:document-content \
             xmlns:office=\"urn:oasis:names:tc:opendocument:xmlns:office:1.0\" \
             xmlns:table=\"urn:oasis:names:tc:opendocument:xmlns:table:1.0\" \
             xmlns:text=\"urn:oasis:names:tc:opendocument:xmlns:text:1.0\"><office:body>\
             <office:spreadsheet><table:table table:name=\"Second look\">{rows}</table:table>\
             </office:spreadsheet></office:body></office:document-content>"
        );
        let mut archive = zip::ZipWriter::new(std::io::Cursor::new(Vec::new()));
        let options = zip::write::SimpleFileOptions::default();
        for (name, text) in [
            ("mimetype", "application/vnd.oasis.opendocument.spreadsheet"),
            ("content.xml", content.as_str()),
        ] {
            archive.start_file(name, options).expect("an entry");
            archive.write_all(text.as_bytes()).expect("written");
        }
        archive.finish().expect("an archive").into_inner()
    }
}

/// The worksheet `Second look` as rows of texts; nothing where it is not there.
fn report(program: &Program) -> Vec<Vec<String>> {
    let bytes = fs::read(program.path("hw/marked.xlsx")).expect("the results");
    let book = cells::read(&bytes).expect("a workbook");
    book.grids
        .iter()
        .filter(|grid| grid.name == "Second look")
        .flat_map(|grid| grid.rows.values())
        .map(|cells| cells.values().map(undo::text).collect())
        .collect()
}

/// The row of a report that begins so.
fn line(report: &[Vec<String>], start: &str) -> Vec<String> {
    report
        .iter()
        .find(|row| row.first().is_some_and(|text| text.starts_with(start)))
        .unwrap_or_else(|| panic!("no row begins with {start}: {report:?}"))
        .clone()
}

/// The rows of a report below the headings of the disagreements.
fn disagreements(report: &[Vec<String>]) -> &[Vec<String>] {
    let is_heading = |row: &Vec<String>| row.get(1).is_some_and(|text| text == "First mark");
    match report.iter().position(is_heading) {
        Some(heading) => &report[heading + 1..],
        None => &[],
    }
}

fn copies(program: &Program) -> usize {
    fs::read_dir(program.path("hw"))
        .expect("the folder")
        .flatten()
        .filter(|entry| {
            let name = entry.file_name().to_string_lossy().into_owned();
            name.starts_with("second-look 20")
        })
        .count()
}

#[test]
fn a_sample_is_blind_and_the_same_for_the_same_seed() {
    let program = handed_in().anew().arguments(DRAW);
    let run = program.run().succeeded();
    assert!(run.stdout.contains("second-look.xlsx"), "{}", run.stdout);
    let sample = fs::read(program.path("hw/second-look.xlsx")).expect("the sample");
    let rows = grid(&sample);
    let table = headings::find(&rows, &[&["rowcode"], &["secondmark"]]).expect("the table");
    let attempted: Vec<marking::Mark> = marked(&program)
        .pupils
        .into_iter()
        .flat_map(|entry| entry.marks)
        .filter(|mark| mark.state != marking::State::Blank)
        .collect();
    assert_eq!(table.rows().len(), attempted.len().div_ceil(2));
    let question = table.column(&["question"]).expect("a column");
    let asked: std::collections::BTreeSet<String> = table
        .rows()
        .into_iter()
        .map(|row| table.text(row, question))
        .collect();
    assert!(attempted.iter().all(|mark| asked.contains(&mark.question)));
    let marks = marked(&program);
    let codes = second_look::row_codes(&marks, "try");
    for row in table.rows() {
        let under = |key: &str| table.text(row, table.column(&[key]).expect("a column"));
        let mark = codes[&under("rowcode")];
        assert_eq!(under("question"), mark.question);
        assert_eq!(under("answer"), mark.typed);
        assert_eq!(under("rightanswer"), mark.expected);
        assert_eq!(under("outof"), mark.out_of.to_string());
        assert_eq!(under("secondmark"), "");
    }
    let texts: Vec<String> = cells::read(&sample)
        .expect("a workbook")
        .grids
        .iter()
        .flat_map(|grid| grid.rows.values().flat_map(BTreeMap::values))
        .map(undo::text)
        .collect();
    for secret in [
        "Larkmoor",
        "Runa",
        "Quenby",
        "Tarnholme",
        "ZQ-10",
        "5 Rowan",
    ] {
        let found = texts.iter().find(|text| text.contains(secret));
        assert_eq!(found, None, "{secret}");
    }
    assert!(attempted.iter().all(|mark| !texts.contains(&mark.reason)));
    program.run().succeeded();
    let again = fs::read(program.path("hw/second-look.xlsx")).expect("the sample");
    assert!(sample == again, "the same seed gives the same bytes");
    assert_eq!(marked(&program).second_looks.len(), 1);
    assert_eq!(copies(&program), 0, "an untouched sample is no loss");
    assert!(report(&program).is_empty(), "nothing has come back");
}

#[test]
fn a_seed_nobody_chose_is_told_and_draws_the_same_again() {
    let program =
        handed_in()
            .anew()
            .arguments(["mark", "hw/form.csv", "--second-look", "0.3", "--quiet"]);
    let run = program.run().succeeded();
    let seed = run.stdout.split("--seed ").nth(1).expect("the seed").trim();
    let sample = fs::read(program.path("hw/second-look.xlsx")).expect("the sample");
    let program = program.anew().arguments([
        "mark",
        "hw/form.csv",
        "--second-look",
        "30%",
        "--seed",
        seed,
    ]);
    program.run().succeeded();
    let again = fs::read(program.path("hw/second-look.xlsx")).expect("the sample");
    assert!(sample == again);
}

#[test]
fn what_comes_back_is_reported_and_kept() {
    let program = handed_in().anew().arguments(DRAW);
    program.run().succeeded();
    let count = marked(&program).second_looks[0].rows.len();
    // The first answer of the sample differs, the second is left open.
    let filled = Filled::of(&program, |index, row| match index {
        0 => Some(1 - row.first.min(1)),
        1 => None,
        _ => Some(row.first),
    });
    let program = program.file("hw/second-look.xlsx", filled.xlsx());
    let program = program.anew().arguments(MARK);
    let run = program.run().succeeded();
    let (twice, same) = (count - 1, count - 2);
    let told = format!("{twice} answers marked twice, {same} the same");
    assert!(run.stdout.contains(&told), "{}", run.stdout);
    let found = report(&program);
    let all = line(&found, "All questions");
    assert_eq!(all[1..3], [twice.to_string(), same.to_string()]);
    let one_left = line(&found, "Answers of the sample without a second mark: 1.");
    assert_eq!(one_left.len(), 1);
    let after = marked(&program);
    let row = &after.second_looks[0].rows[0];
    let [differing] = disagreements(&found) else {
        panic!("one disagreement: {found:?}");
    };
    assert_eq!(
        differing[..3],
        [
            row.question.clone(),
            row.first.to_string(),
            (1 - row.first.min(1)).to_string()
        ]
    );
    assert!(differing.contains(&row.pupil_id), "{differing:?}");
    assert!(differing.contains(&row.reason), "{differing:?}");
    let open = differing.last().expect("cells");
    assert!(open.contains("Changed mark"), "{open}");
    // No mark changed by itself, and marking again changes nothing, with or
    // without the file.
    let marks = |marked: &marking::Marked| -> Vec<u8> {
        let marks = marked.pupils.iter().flat_map(|entry| &entry.marks);
        marks.map(|mark| mark.marks).collect()
    };
    let before = marks(&after);
    assert!(after.decisions.is_empty());
    fs::remove_file(program.path("hw/second-look.xlsx")).expect("moved away");
    program.run().succeeded();
    assert_eq!(marked(&program), after);
    assert_eq!(marks(&marked(&program)), before);
    assert_eq!(report(&program), found);
}

#[test]
fn a_changed_mark_settles_a_disagreement_and_leaves_the_figures() {
    let program = handed_in().anew().arguments(DRAW);
    program.run().succeeded();
    let filled = Filled::of(&program, |index, row| match index {
        0 => Some(1 - row.first.min(1)),
        _ => Some(row.first),
    });
    let program = program.file("hw/second-look.xlsx", filled.xlsx());
    let program = program.anew().arguments(MARK);
    program.run().succeeded();
    let figures = line(&report(&program), "All questions");
    let before = marked(&program);
    let row = &before.second_looks[0].rows[0];
    let second = row.second.expect("a mark").to_string();
    let mut book = rust_xlsxwriter::Workbook::new();
    let sheet = book.add_worksheet().set_name("Marks").expect("a name");
    let columns = [
        ("Pupil ID", row.pupil_id.as_str()),
        ("Question", row.question.as_str()),
        ("Out of", "1"),
        ("Changed mark", second.as_str()),
        ("Code", row.code.as_str()),
    ];
    for (column, (heading, cell)) in (0_u16..).zip(columns) {
        sheet.write_string(0, column, heading).expect("written");
        sheet.write_string(1, column, cell).expect("written");
    }
    let program = program.file("hw/marked.xlsx", book.save_to_buffer().expect("a workbook"));
    program.run().succeeded();
    let found = report(&program);
    assert_eq!(line(&found, "All questions"), figures);
    let settled = disagreements(&found)[0].clone();
    assert_eq!(settled[1..3], [row.first.to_string(), second.clone()]);
    assert_eq!(settled[settled.len() - 2], second, "the mark now");
    let last = settled.last().expect("cells");
    assert!(last.starts_with("settled by a Changed mark"), "{last}");
}

#[test]
fn a_new_sample_keeps_a_filled_one_as_a_dated_copy() {
    let program = handed_in().anew().arguments(DRAW);
    program.run().succeeded();
    let filled = Filled::of(&program, |_, row| Some(row.first)).xlsx();
    let program = program.file("hw/second-look.xlsx", &filled);
    let other = [
        "mark",
        "hw/form.csv",
        "--second-look",
        "0.2",
        "--seed",
        "new",
    ];
    let program = program.anew().arguments(other);
    program.run().succeeded();
    assert_eq!(copies(&program), 1);
    assert_ne!(
        fs::read(program.path("hw/second-look.xlsx")).expect("the new sample"),
        filled
    );
    // The marks of the first sample are in the record and in the results.
    let seeds: Vec<(String, bool)> = marked(&program)
        .second_looks
        .iter()
        .map(|look| (look.seed.clone(), look.has_marks()))
        .collect();
    assert_eq!(seeds, [("try".to_owned(), true), ("new".to_owned(), false)]);
    assert!(line(&report(&program), "50% of the answers")[0].contains("seed try"));
    // Named by another way to the same file, it is no less kept.
    let filled = Filled::of(&program, |_, row| Some(row.first)).xlsx();
    let program = program.file("hw/second-look.xlsx", filled);
    let program = program.anew().arguments([
        "mark",
        "hw/form.csv",
        "--second-look",
        "0.2",
        "--seed",
        "third",
        "--second-marks",
        "hw/../hw/second-look.xlsx",
    ]);
    program.run().succeeded();
    assert_eq!(copies(&program), 2);
}

#[test]
fn other_formats_and_other_places_are_read_too() {
    let program = handed_in().anew().arguments(DRAW);
    program.run().succeeded();
    let filled = Filled::of(&program, |_, row| Some(row.first));
    let program = program
        .file("elsewhere/from-the-deputy.ods", filled.ods())
        .anew()
        .arguments(MARK)
        .arguments(["--second-marks", "elsewhere/from-the-deputy.ods"]);
    program.run().succeeded();
    let figures = line(&report(&program), "All questions");
    assert_eq!(figures[1], figures[2]);
    let before = marked(&program);
    // Beside the untouched workbook, saved from it in another format.
    let program = program.file("hw/second-look.ods", filled.ods());
    let program = program.anew().arguments(MARK);
    program.run().succeeded();
    assert_eq!(marked(&program), before);
    // Two files with different marks for one sample: a person says which counts.
    let differing = Filled::of(&program, |index, row| match index {
        0 => Some(1 - row.first.min(1)),
        _ => Some(row.first),
    });
    let program = program.file("hw/second-look.xlsx", differing.xlsx());
    let run = program.run().ended_with(1);
    assert!(run.stderr.contains("--second-marks"), "{}", run.stderr);
}

#[test]
fn answers_typed_anew_are_left_out_and_said() {
    let program = handed_in().anew().arguments(DRAW);
    program.run().succeeded();
    let look = marked(&program).second_looks[0].clone();
    let changed = look.rows.iter().filter(|row| row.pupil_id == "ZQ-101");
    let changed = changed.count();
    assert!(changed > 0, "choose a seed that draws the first pupil");
    let filled = Filled::of(&program, |_, row| Some(row.first)).xlsx();
    let csv = answers(&program, "4");
    let program = program
        .file("hw/second-look.xlsx", filled)
        .file("hw/form.csv", csv)
        .anew()
        .arguments(MARK);
    let run = program.run().succeeded();
    let told = format!("since the sample was drawn, and are left out: {changed}.");
    assert!(run.stdout.contains(&told), "{}", run.stdout);
    let found = report(&program);
    let all = line(&found, "All questions");
    assert_eq!(all[1], (look.rows.len() - changed).to_string());
    let said = line(&found, "Left out, because the answer has changed");
    assert_eq!(said[0].matches("ZQ-101").count(), changed);
}

#[test]
fn second_marks_that_cannot_be_used_stop_the_marking() {
    let program = handed_in().anew().arguments(DRAW);
    program.run().succeeded();
    let before = program.read("hw/marked.json");
    let filled = Filled::of(&program, |_, _| Some(77)).xlsx();
    let program = program.file("hw/second-look.xlsx", &filled);
    let program = program.anew().arguments(MARK);
    let run = program.run().ended_with(1);
    assert!(
        run.stderr
            .contains("second-look.xlsx: Sheet1!K9: second mark: found 77"),
        "{}",
        run.stderr
    );
    assert_eq!(program.read("hw/marked.json"), before);
    let program = program.anew().arguments(DRAW);
    program.run().ended_with(1);
    assert_eq!(
        fs::read(program.path("hw/second-look.xlsx")).expect("the file"),
        filled
    );
    // A file that is named but holds nothing is told as well.
    let program = program.file("blank.csv", "Row code,Second mark\nR33333,\n");
    let program = program
        .anew()
        .arguments(MARK)
        .arguments(["--second-marks", "blank.csv"]);
    let run = program.run().ended_with(1);
    assert!(
        run.stderr.contains("blank.csv: found no mark"),
        "{}",
        run.stderr
    );
}

#[test]
fn a_share_that_is_none_is_a_usage_error() {
    for share in ["0", "1.5", "10", "101%", "ten", ""] {
        let run = Program::new()
            .arguments(["mark", "a.csv", "--second-look", share])
            .run()
            .ended_with(2);
        assert!(run.stderr.contains("0.1 or 10%"), "{share}: {}", run.stderr);
    }
}
