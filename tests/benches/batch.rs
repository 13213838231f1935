//! Marking as a whole process, at sizes that no class has: time and memory against the
//! spreadsheet libraries alone, and whether cost grows with the answers.
//!
//! `cargo bench --bench batch -- 1000 5000 50000` prints a row for each number of pupils,
//! with 20 questions each. Memory is the most that a process held, where the system tells.
//! The libraries alone read the same answer workbook and write the cells of the same
//! results, in a process of their own (this program, called again). Cells of ours that are
//! empty and have a border are not among them: that counts against us. With
//! `TOOTHMARK_PANDAS` naming a Python that has pandas, `key_only.py` runs too: a script that
//! holds the same answers against a key.

#![expect(clippy::print_stdout, reason = "the table is the result")]

#[path = "class.rs"]
mod class;

use calamine::Reader;
use rust_xlsxwriter::Format;
use rust_xlsxwriter::Workbook;
use std::env;
use std::fs;
use std::io::BufRead;
use std::io::BufReader;
use std::io::BufWriter;
use std::io::Cursor;
use std::io::Write;
use std::path::Path;
use std::process::Command;
use std::process::Stdio;
use std::thread;
use std::time::Duration;
use std::time::Instant;
use toothmark::answer;
use toothmark::gears::solve;
use toothmark::homework;

/// How many questions a sheet has.
const QUESTIONS: usize = 20;
/// What the program is told to do where it is to use the libraries alone.
const ALONE: &str = "alone";

fn main() {
    let arguments: Vec<String> = env::args().skip(1).collect();
    if let [what, folder] = arguments.as_slice()
        && what == ALONE
    {
        alone(Path::new(folder));
        return;
    }
    let sizes: Vec<usize> = arguments.iter().filter_map(|it| it.parse().ok()).collect();
    let sizes = if sizes.is_empty() {
        vec![1_000, 4_000]
    } else {
        sizes
    };
    println!(
        "| pupils | answers | mark, s | MB | bytes an answer | libraries alone, s | MB | ratio \
         | key alone, s |"
    );
    println!("|---|---|---|---|---|---|---|---|---|");
    for pupils in sizes {
        row(pupils);
    }
}

/// One row of the table.
fn row(pupils: usize) {
    let folder = tempfile::tempdir().expect("a folder");
    make(folder.path(), pupils);
    let marked = timed(
        Command::new(env!("CARGO_BIN_EXE_toothmark"))
            .args(["mark", "answers.xlsx", "--quiet"])
            .current_dir(folder.path()),
    );
    dump(folder.path());
    let this = env::current_exe().expect("this program");
    let libraries = timed(Command::new(this).arg(ALONE).arg(folder.path()));
    let key = env::var_os("TOOTHMARK_PANDAS").map(|python| {
        let script = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/benches/key_only.py");
        timed(Command::new(python).arg(script).arg(folder.path()))
    });
    let key = key.map_or("not run".to_owned(), |key| {
        format!("{:.2}", key.time.as_secs_f64())
    });
    let answers = pupils * QUESTIONS;
    let more = marked.peak.saturating_sub(libraries.peak) / answers.max(1);
    println!(
        "| {pupils} | {answers} | {:.2} | {} | {more} | {:.2} | {} | {:.2} | {key} |",
        marked.time.as_secs_f64(),
        marked.peak / 1_000_000,
        libraries.time.as_secs_f64(),
        libraries.peak / 1_000_000,
        marked.time.as_secs_f64() / libraries.time.as_secs_f64(),
    );
}

/// How long a process took, and the most memory it held, in bytes.
struct Taken {
    time: Duration,
    peak: usize,
}

fn timed(command: &mut Command) -> Taken {
    let start = Instant::now();
    let mut child = command
        .stdout(Stdio::null())
        .spawn()
        .expect("the program runs");
    let mut peak = 0;
    loop {
        peak = peak.max(memory(child.id()));
        if let Some(status) = child.try_wait().expect("it can be waited for") {
            assert!(status.success(), "{status}");
            return Taken {
                time: start.elapsed(),
                peak,
            };
        }
        thread::sleep(Duration::from_millis(5));
    }
}

/// The most memory that a process has held so far, as Linux tells it.
fn memory(process: u32) -> usize {
    let status = fs::read_to_string(format!("/proc/{process}/status")).unwrap_or_default();
    let line = status.lines().find(|line| line.starts_with("VmHWM:"));
    let kilobytes = line.and_then(|line| line.split_whitespace().nth(1)?.parse().ok());
    kilobytes.unwrap_or(0_usize) * 1024
}

/// Writes a homework of so many pupils, and what they answered.
fn make(folder: &Path, pupils: usize) {
    let homework = class::homework(
        pupils,
        homework::Questions::Count(QUESTIONS),
        homework::Versions::Same,
    );
    fs::write(folder.join("homework.json"), homework::to_json(&homework)).expect("written");
    let items = &homework.sheets[0].items;
    let right: Vec<String> = items
        .iter()
        .map(|item| {
            let fact = solve::answer(&item.mechanism, &item.ask)
                .expect("it solves")
                .fact;
            answer::expected(&fact, &item.form)
        })
        .collect();
    let mut key = csv::Writer::from_path(folder.join("key.csv")).expect("a file");
    key.write_record(["question", "right"]).expect("written");
    for (item, right) in items.iter().zip(&right) {
        key.write_record([&item.number, right]).expect("written");
    }
    key.flush().expect("written");
    let mut book = Workbook::new();
    let text = Format::new().set_num_format("@");
    let sheet = book.add_worksheet().set_name("Answers").expect("a name");
    for (column, heading) in (0_u16..).zip(["Pupil ID", "Pupil"]) {
        sheet.write_string(0, column, heading).expect("written");
    }
    for (column, item) in (2_u16..).zip(items) {
        sheet
            .write_string(0, column, &item.number)
            .expect("written");
    }
    for (row, assigned) in (1_u32..).zip(&homework.pupils) {
        sheet
            .write_string(row, 0, &assigned.pupil.id)
            .expect("written");
        sheet
            .write_string(row, 1, &assigned.pupil.name)
            .expect("written");
        for (column, right) in (2_u16..).zip(&right) {
            // Two in three right, the others one of a few hundred wrong ones.
            let code = (row * 31 + u32::from(column) * 17) % 300;
            let typed = if code < 200 {
                right.clone()
            } else {
                format!("{code}")
            };
            let written = sheet.write_string_with_format(row, column, &typed, &text);
            written.expect("written");
        }
    }
    book.save(folder.join("answers.xlsx")).expect("saved");
}

/// Writes every cell of the results into a plain file, a line each, so that the libraries
/// alone have them to write without reading a second workbook.
fn dump(folder: &Path) {
    let bytes = fs::read(folder.join("marked.xlsx")).expect("the results are there");
    let mut results: calamine::Xlsx<_> =
        calamine::open_workbook_from_rs(Cursor::new(bytes)).expect("a workbook");
    let file = fs::File::create(folder.join("cells.txt")).expect("a file");
    let mut file = BufWriter::new(file);
    for name in results.sheet_names() {
        writeln!(file, "S\t{name}").expect("written");
        let range = results.worksheet_range(&name).expect("a worksheet");
        let (first_row, first_column) = range.start().unwrap_or_default();
        for (row, column, cell) in range.used_cells() {
            let row = u32::try_from(row).expect("a row") + first_row;
            let column = u32::try_from(column).expect("a column") + first_column;
            match cell {
                calamine::Data::String(text) => {
                    let text = text.replace(['\n', '\r', '\t'], " ");
                    writeln!(file, "T\t{row}\t{column}\t{text}").expect("written");
                }
                calamine::Data::Float(value) => {
                    writeln!(file, "N\t{row}\t{column}\t{value}").expect("written");
                }
                // Results hold nothing else.
                calamine::Data::Int(_)
                | calamine::Data::Bool(_)
                | calamine::Data::DateTime(_)
                | calamine::Data::DateTimeIso(_)
                | calamine::Data::DurationIso(_)
                | calamine::Data::Error(_)
                | calamine::Data::Empty => {}
            }
        }
    }
    file.flush().expect("written");
}

/// Reads the answers and writes the cells of the results, with the libraries and nothing
/// else.
fn alone(folder: &Path) {
    let bytes = fs::read(folder.join("answers.xlsx")).expect("the answers are there");
    let mut answers: calamine::Xlsx<_> =
        calamine::open_workbook_from_rs(Cursor::new(bytes)).expect("a workbook");
    let range = answers.worksheet_range("Answers").expect("the worksheet");
    assert!(range.height() > 1, "there are answers");
    drop(range);
    drop(answers);
    let cells = fs::File::open(folder.join("cells.txt")).expect("the cells are there");
    let mut book = Workbook::new();
    let text = Format::new().set_text_wrap();
    let mut sheet = None;
    for line in BufReader::new(cells).lines() {
        let line = line.expect("a line");
        let parts: Vec<&str> = line.splitn(4, '\t').collect();
        match (parts.as_slice(), &mut sheet) {
            (["S", name], _) => {
                let mut new = rust_xlsxwriter::Worksheet::new();
                new.set_name(*name).expect("a name");
                if let Some(full) = sheet.replace(new) {
                    book.push_worksheet(full);
                }
            }
            ([kind, row, column, value], Some(sheet)) => {
                let row = row.parse().expect("a row");
                let column = column.parse().expect("a column");
                let written = if *kind == "N" {
                    let value: f64 = value.parse().expect("a number");
                    sheet.write_number_with_format(row, column, value, &text)
                } else {
                    sheet.write_string_with_format(row, column, *value, &text)
                };
                written.expect("written");
            }
            _ => {}
        }
    }
    if let Some(full) = sheet {
        book.push_worksheet(full);
    }
    book.save(folder.join("alone.xlsx")).expect("saved");
}
