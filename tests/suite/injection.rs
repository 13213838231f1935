//! What pupils, rolls and titles hold never becomes a formula, a link, markup, a script,
//! typesetting code, a path or a terminal's escape: one list of attacks through every
//! output, each opened with a real reader.
//!
//! Every file that the commands leave is looked at by its ending, so that a new output
//! is held to this too; an ending that is not known here fails.

use crate::program::{Bounds, Program, root};
use calamine::Reader;
use std::fs;
use std::io::Cursor;

mod readers;

const BOUNDS: Bounds = Bounds {
    seconds: 300,
    megabytes: 4_096,
};

/// What somebody may type, or call a pupil.
const ATTACKS: [&str; 43] = [
    "=HYPERLINK(\"http://example.org/?\"&A1,\"3\")",
    "=cmd|' /C calc'!A0",
    "=1+1",
    "+1+1",
    "-1+1",
    "@SUM(1;1)",
    "\t=1+1",
    "\r=1+1",
    "\n=1+1",
    " =1+1",
    "\u{feff}=1+1",
    "\u{ff1d}1+1",
    "\u{ff0b}1",
    "=DDE(\"cmd\";\"/C calc\";\"x\")",
    "=IMPORTXML(\"http://example.org\",\"//a\")",
    "{=1+1}",
    "'=1+1",
    "\";=1+1;\"",
    "\",=1+1,\"",
    "<script>window.attacked = 1</script>",
    "\"><img src=x onerror=\"window.attacked = 1\">",
    "</script><script>window.attacked = 1</script>",
    "javascript:window.attacked=1",
    "]]><attacked/>",
    "&#x3c;b&#x3e; &lt;i&gt; &amp;",
    "<!--",
    "#read(\"/etc/passwd\")",
    "#link(\"http://example.org\")[3] $x^2$ @ref *b* _i_ `c` \\ #",
    "http://example.org/3",
    "mailto:ada@example.org",
    "file:///etc/passwd",
    "\u{1b}[31mred\u{1b}[0m \u{1b}]8;;http://example.org\u{7}3\u{1b}]8;;\u{7}",
    "\u{9b}31m\u{85}\u{90}x",
    "3\u{202e}1:\u{2066}x\u{2069}\u{200f}",
    "3\u{200b}:\u{200d}1\u{2060}",
    "../../../attacked",
    "C:\\Windows\\attacked",
    "CON",
    "NUL.xlsx",
    "a\u{0}b\u{1}\u{7f}",
    "_x0041__x001B_",
    "&F &\"Arial,Bold\"&D &A {0} {name} %s %n",
    "\u{1f468}\u{200d}\u{1f467} \u{1d54f} \u{fffd}",
];

/// Signs that steer a terminal or the direction of writing.
fn steers(sign: char) -> bool {
    (sign.is_control() && !matches!(sign, '\n' | '\t'))
        || matches!(sign, '\u{200b}' | '\u{200e}'..='\u{200f}' | '\u{202a}'..='\u{202e}')
        || matches!(sign, '\u{2060}'..='\u{2069}' | '\u{feff}')
}

/// A workbook with one worksheet of these rows, everything in it text.
fn workbook(rows: &[Vec<String>]) -> Vec<u8> {
    let mut book = rust_xlsxwriter::Workbook::new();
    let sheet = book.add_worksheet();
    for (row, cells) in (0..).zip(rows) {
        for (column, text) in (0..).zip(cells) {
            sheet.write_string(row, column, text).expect("in the sheet");
        }
    }
    book.save_to_buffer().expect("in memory")
}

/// The attack for a pupil and a question, each pupil another one.
fn attack(pupil: usize, question: usize) -> String {
    ATTACKS[(pupil + question * 5) % ATTACKS.len()].to_owned()
}

/// Runs the program on and checks that it says nothing that steers a terminal.
fn done(program: Program, arguments: &[&str]) -> Program {
    let program = program.anew().arguments(arguments);
    let run = program.run_within(BOUNDS).succeeded();
    for said in [&run.stdout, &run.stderr] {
        assert!(!said.contains(steers), "{arguments:?}: {said:?}");
    }
    program
}

#[allow(clippy::too_many_lines, reason = "one command after another")]
/// The whole way of a homework with attacks in every place, in the folder `made`.
fn everything_made() -> Program {
    let text = |text: &str| text.to_owned();
    let head = ["pupil id", "name", "class", "year", "table"].map(text);
    let long = "long ".repeat(1_000);
    let mut roll = vec![head.to_vec()];
    for index in 0..ATTACKS.len() {
        let name = if index == 7 {
            long.clone()
        } else {
            attack(index, 0)
        };
        let class = if index < 20 {
            "=1+1"
        } else {
            "</script>5 <b>&Oak\u{1b}[31m"
        };
        roll.push(vec![
            format!("P{index}"),
            format!("{name} {index}"),
            text(class),
            text("5"),
            attack(index, 1),
        ]);
    }
    let title =
        "=1+1 &F <script>window.attacked = 1</script> #read(\"/etc/passwd\") \u{1b}[31m\u{202e}";
    let program = Program::new().file("roll.xlsx", workbook(&roll)).file(
        "bank.toml",
        fs::read(root().join("question-banks/gears-7-11.toml")).expect("there"),
    );
    let program = done(
        program,
        &[
            "set",
            "--bank",
            "bank.toml",
            "--roll",
            "roll.xlsx",
            "--level",
            "3-5",
            "--questions",
            "5",
            "--title",
            title,
            "--seed",
            "attacks",
            "--date",
            "2026-03-02",
            "--out",
            "made",
        ],
    );
    let record: serde_json::Value =
        serde_json::from_str(&program.read("made/homework.json")).expect("JSON");
    let sheet = fs::read(program.path("made/answers.xlsx")).expect("written");
    let mut book: calamine::Xlsx<_> =
        calamine::open_workbook_from_rs(Cursor::new(&sheet[..])).expect("a workbook");
    let range = book.worksheet_range("Answers").expect("the worksheet");
    let headings: Vec<String> = range
        .rows()
        .find(|row| row.first().is_some_and(|cell| *cell == "Pupil ID"))
        .expect("the headings")
        .iter()
        .map(ToString::to_string)
        .filter(|heading| heading.starts_with('Q') || heading.starts_with("Pupil"))
        .collect();
    assert!(
        record["pupils"]
            .as_array()
            .is_some_and(|pupils| pupils.len() == ATTACKS.len())
    );
    let mut answers = vec![headings.clone()];
    for index in 0..ATTACKS.len() {
        let mut row = vec![format!("P{index}"), attack(index, 0)];
        row.extend((2..headings.len()).map(|question| attack(index, question)));
        answers.push(row);
    }
    fs::write(program.path("typed.xlsx"), workbook(&answers)).expect("written");
    let program = done(
        program,
        &[
            "mark",
            "typed.xlsx",
            "--homework",
            "made/homework.json",
            "--second-look",
            "20%",
            "--out",
            "made",
        ],
    );
    let program = done(program, &["feedback", "made", "--marks"]);
    let program = done(program, &["show", "made", "--out", "made/screen.html"]);
    let program = done(program, &["review", "made", "--out", "made/review"]);
    let program = done(
        program,
        &[
            "review",
            "made",
            "--for-class",
            "=1+1",
            "--out",
            "made/class",
        ],
    );
    let program = done(program, &["cards", "--level", "3", "--out", "made/cards"]);
    done(
        program,
        &[
            "solve",
            "gear A 12 drives gear B 36",
            "turns of B",
            "A turns 9 clockwise",
            "--drawing",
            "made/pair.svg",
        ],
    )
}

#[test]
fn no_attack_comes_alive_in_any_output() {
    let program = everything_made();
    let names = program.everything();
    let files: Vec<&String> = names
        .iter()
        .filter(|name| program.path(name).is_file())
        .collect();
    // No name of a file comes from what somebody typed.
    for name in &names {
        assert!(
            name.chars()
                .all(|sign| sign.is_ascii_alphanumeric() || "-./ ".contains(sign)),
            "{name:?}"
        );
        assert!(
            !name.contains("attacked") && !name.to_uppercase().contains("CON/"),
            "{name:?}"
        );
    }
    for wanted in [
        "made/answers.xlsx",
        "made/feedback.pdf",
        "made/marked.xlsx",
        "made/review/attainment.xlsx",
        "made/class/class.xlsx",
        "made/screen.html",
    ] {
        assert!(
            names.iter().any(|name| name == wanted),
            "{wanted} is not in {names:?}"
        );
    }
    for name in files.iter().filter(|name| name.starts_with("made/")) {
        let bytes = fs::read(program.path(name)).expect("it can be read");
        match readers::ending(name) {
            "xlsx" => readers::check_workbook(name, &bytes),
            "csv" => readers::check_csv(name, &bytes),
            "pdf" => readers::check_pdf(name, &bytes),
            "html" => readers::check_page(name, &bytes),
            "svg" => readers::check_xml(name, &bytes),
            "json" => drop(serde_json::from_slice::<serde_json::Value>(&bytes).expect(name)),
            _ => panic!("{name}: no check for this kind of output"),
        }
    }
    readers::check_typed(&program);
    readers::check_in_a_spreadsheet_program(&program, &files);
    readers::check_in_a_browser(&program, &files);
}

#[test]
fn notation_that_attacks_is_refused_and_shown() {
    for attack in ATTACKS.iter().filter(|attack| !attack.contains('\0')) {
        let gear = format!("gear {attack} 12 drives gear B 36");
        let program =
            Program::new().arguments(["solve", &gear, "turns of B", "--drawing", "x.svg"]);
        let run = program.run_within(BOUNDS);
        assert!([1, 2].contains(&run.code), "{attack:?}: {run:?}");
        assert!(
            !run.stderr.contains(steers) && !run.stdout.contains(steers),
            "{run:?}"
        );
        assert!(program.everything().is_empty(), "{attack:?}");
    }
}
