//! What stands where a file is wanted and is none, names that play tricks, and what is
//! odd but harmless and must be read.

use super::BOUNDS;
use super::build::Xlsx;
use crate::program::{Program, root};
use std::fs;
use std::io::{Cursor, Read, Write};

/// Each place on the command line where a file is named; `x` stands for it.
const PLACES: [&[&str]; 12] = [
    &["mark", "x", "--out", "out"],
    &["mark", "answers.xlsx", "--homework", "x", "--out", "out"],
    &["mark", "answers.xlsx", "--policy", "x", "--out", "out"],
    &["mark", "answers.xlsx", "--decided", "x", "--out", "out"],
    &[
        "set",
        "--bank",
        "x",
        "--roll",
        "roll.csv",
        "--level",
        "3",
        "--questions",
        "2",
        "--out",
        "out",
    ],
    &[
        "set",
        "--bank",
        "bank.toml",
        "--roll",
        "x",
        "--level",
        "3",
        "--questions",
        "2",
        "--out",
        "out",
    ],
    &["bank", "check", "x"],
    &["review", "x", "--out", "out"],
    &["review", "marked.json", "--calendar", "x", "--out", "out"],
    &["review", "marked.json", "--bands", "x", "--out", "out"],
    &["show", "x", "--out", "out.html"],
    &["cards", "--level", "3", "--tasks", "x", "--out", "out"],
];

/// A folder with the sample class in it.
fn with_the_sample() -> Program {
    let sample = |name: &str| fs::read(root().join(name)).expect("the sample is there");
    Program::new()
        .file(
            "answers.xlsx",
            sample("sample-classes/6-alder/answers.xlsx"),
        )
        .file(
            "homework.json",
            sample("sample-classes/6-alder/homework.json"),
        )
        .file("roll.csv", sample("sample-classes/6-alder/roll.csv"))
        .file("bank.toml", sample("question-banks/gears-7-11.toml"))
        .file(
            "marked.json",
            sample("tests/cases/earlier-version/marked.json"),
        )
}

/// Puts something that is no ordinary file in the place of `x`.
#[cfg(unix)]
type Maker = fn(&Program);

#[cfg(unix)]
#[test]
fn devices_pipes_links_and_folders_are_told_in_every_place() {
    let made: [(&str, Maker); 6] = [
        ("is a device or a pipe", |program| {
            std::os::unix::fs::symlink("/dev/zero", program.path("x")).expect("a link");
        }),
        ("is a device or a pipe", |program| {
            std::os::unix::fs::symlink("/dev/null", program.path("x")).expect("a link");
        }),
        ("is a device or a pipe", |program| {
            let made = std::process::Command::new("mkfifo")
                .arg(program.path("x"))
                .status();
            assert!(made.expect("mkfifo is there").success());
        }),
        ("could not be read", |program| {
            std::os::unix::fs::symlink("x", program.path("x")).expect("a link to itself");
        }),
        ("there is no such file", |program| {
            std::os::unix::fs::symlink("nowhere", program.path("x")).expect("a link");
        }),
        ("", |program| {
            fs::create_dir(program.path("x")).expect("a folder");
        }),
    ];
    for (says, make) in made {
        for place in PLACES {
            let program = with_the_sample().arguments(place.iter().copied());
            make(&program);
            let before = program.everything();
            let run = program.run_within(BOUNDS).ended_with(1);
            let told = format!("{place:?}: {}", run.stderr);
            assert!(run.stderr.contains("problem: x"), "{told}");
            assert!(run.stderr.contains(says), "{told}");
            assert_eq!(program.everything(), before, "{told}");
        }
    }
}

#[cfg(unix)]
#[test]
fn a_pipe_in_the_place_of_an_output_is_told_and_not_waited_for() {
    let program = with_the_sample().arguments(["mark", "answers.xlsx", "--out", "out"]);
    fs::create_dir(program.path("out")).expect("a folder");
    let made = std::process::Command::new("mkfifo")
        .arg(program.path("out/marks.csv"))
        .status();
    assert!(made.expect("mkfifo is there").success());
    let run = program.run_within(BOUNDS).ended_with(1);
    assert!(run.stderr.contains("no ordinary file"), "{}", run.stderr);
    assert_eq!(
        program
            .everything()
            .iter()
            .filter(|name| name.starts_with("out/"))
            .count(),
        1
    );
}

#[cfg(unix)]
#[test]
fn names_that_play_tricks_are_shown_as_they_are() {
    for (name, shown) in [
        ("a\u{1b}[2Jb.xlsx", "a\\u{1b}[2Jb.xlsx"),
        ("a\u{9b}2J.xlsx", "a\\u{9b}2J.xlsx"),
        ("a\u{202e}xslx.exe", "a\\u{202e}xslx.exe"),
        ("a\nproblem: b.xlsx", "a\\nproblem: b.xlsx"),
        (
            "\u{1f468}\u{200d}\u{1f467} ½.xlsx",
            "\u{1f468}\u{200d}\u{1f467} ½.xlsx",
        ),
    ] {
        let program = with_the_sample().arguments(["mark", name, "--out", "out"]);
        let missing = program.run_within(BOUNDS).ended_with(1);
        assert!(
            missing.stderr.starts_with(&format!("problem: {shown}: ")),
            "{}",
            missing.stderr
        );
        fs::copy(program.path("answers.xlsx"), program.path(name)).expect("copied");
        let run = program.run_within(BOUNDS).succeeded();
        for said in [&run.stdout, &run.stderr, &missing.stderr] {
            assert!(!said.contains(['\u{1b}', '\u{9b}', '\u{202e}']), "{said:?}");
        }
        // Nothing that is written has the name of what was read.
        let written = program.everything();
        let written = written.iter().filter(|name| name.starts_with("out/"));
        assert_eq!(
            written.collect::<Vec<_>>(),
            ["out/marked.json", "out/marked.xlsx", "out/marks.csv"]
        );
    }
}

/// A workbook with further parts and relations of the workbook.
fn with_parts(workbook: &[u8], parts: &[(&str, &[u8])]) -> Vec<u8> {
    let mut archive = zip::ZipArchive::new(Cursor::new(workbook)).expect("a workbook");
    let mut writer = zip::ZipWriter::new(Cursor::new(Vec::new()));
    let options = zip::write::SimpleFileOptions::default();
    for index in 0..archive.len() {
        let mut part = archive.by_index(index).expect("a part");
        let mut content = Vec::new();
        part.read_to_end(&mut content).expect("it unpacks");
        writer
            .start_file(part.name().expect("a name"), options)
            .expect("a part");
        writer.write_all(&content).expect("in memory");
    }
    for (name, content) in parts {
        writer.start_file(*name, options).expect("a part");
        writer.write_all(content).expect("in memory");
    }
    writer.finish().expect("a workbook").into_inner()
}

#[test]
fn what_is_odd_and_harmless_is_read() {
    let sample = fs::read(root().join("sample-classes/6-alder/answers.xlsx")).expect("the sample");
    let usual = with_the_sample().arguments(["mark", "answers.xlsx", "--out", "out"]);
    usual.run().succeeded();
    let wanted = usual.read("out/marks.csv");
    let link = b"<externalLink xmlns:r=\"x\"><externalBook r:id=\"rId1\"/></externalLink>";
    let target = b"<Relationships><Relationship Id=\"rId1\" Type=\"x\" Target=\"file:///etc/passwd\" TargetMode=\"External\"/></Relationships>";
    let table: String = (1..=5_000_u32)
        .map(|row| {
            let cells: String = ('A'..='V')
                .map(|column| format!("<c r=\"{column}{row}\"><v>{row}</v></c>"))
                .collect::<Vec<String>>()
                .concat();
            format!("<row r=\"{row}\">{cells}</row>")
        })
        .collect::<Vec<String>>()
        .concat();
    let large = Xlsx::of_sheet(format!("<sheetData>{table}</sheetData>"));
    for (name, bytes) in [
        ("answers.csv", sample.clone()),
        ("answers.xls", sample.clone()),
        (
            "macros.xlsm",
            with_parts(
                &sample,
                &[("xl/vbaProject.bin", &[0xD0, 0xCF, 0x11, 0xE0, 1, 2, 3])],
            ),
        ),
        (
            "links.xlsx",
            with_parts(
                &sample,
                &[
                    ("xl/externalLinks/externalLink1.xml", link),
                    ("xl/externalLinks/_rels/externalLink1.xml.rels", target),
                    (
                        "xl/embeddings/inner.zip",
                        &super::build::zipped(&[("a", b"x")]),
                    ),
                    ("../../../outside.txt", b"x"),
                ],
            ),
        ),
    ] {
        let program = with_the_sample()
            .file(name, bytes)
            .arguments(["mark", name, "--out", "out"]);
        program.run_within(BOUNDS).succeeded();
        assert_eq!(program.read("out/marks.csv"), wanted, "{name}");
    }
    // Larger than any class's workbook, and no answers in it.
    let program = with_the_sample().file("large.xlsx", large).arguments([
        "mark",
        "large.xlsx",
        "--out",
        "out",
    ]);
    let run = program.run_within(BOUNDS).ended_with(1);
    assert!(run.stderr.contains("no worksheet has"), "{}", run.stderr);
    // A csv in UTF-16 as spreadsheet programs save it.
    let csv: Vec<u8> = std::iter::once('\u{feff}')
        .chain(wanted.chars())
        .collect::<String>()
        .encode_utf16()
        .flat_map(u16::to_le_bytes)
        .collect();
    let program = with_the_sample()
        .file("wide.csv", csv)
        .arguments(["mark", "wide.csv", "--out", "out"]);
    let run = program.run_within(BOUNDS).ended_with(1);
    assert!(
        !run.stderr.contains("damaged") && !run.stderr.contains("looked for a spreadsheet"),
        "{}",
        run.stderr
    );
}
