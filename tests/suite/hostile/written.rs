//! Hostile files of those that people or the program write as text: banks, policies,
//! calendars, bands, words, tasks and records.

use super::BOUNDS;
use super::build::noise;
use crate::program::Program;

/// Each way of handing a text file to the program; the file is named `x`.
const WAYS: [&[&str]; 8] = [
    &["bank", "check", "x"],
    &["bank", "show", "x"],
    &["mark", "--show-policy", "--policy", "x"],
    &["feedback", "--show-words", "--words", "x"],
    &["cards", "--level", "3", "--out", "out", "--tasks", "x"],
    &["show", "x", "--out", "out.html"],
    &["review", "x", "--out", "out"],
    &["mark", "answers.csv", "--homework", "x", "--out", "out"],
];

#[test]
fn hostile_text_files_are_refused_in_every_place() {
    let texts: Vec<(&str, Vec<u8>)> = vec![
        ("nothing", Vec::new()),
        ("zeros", vec![0; 100_000]),
        ("lists", b"[".repeat(300_000)),
        (
            "lists under a key",
            [b"a = ".to_vec(), b"[".repeat(300_000)].concat(),
        ),
        (
            "tables",
            b"a = "
                .iter()
                .copied()
                .chain(b"{ a = ".repeat(200_000))
                .collect(),
        ),
        ("objects", b"{\"a\":".repeat(200_000)),
        (
            "objects of the format",
            [b"{\"format\":1,\"pupils\":".to_vec(), b"[".repeat(300_000)].concat(),
        ),
        (
            "dots",
            [b"a".to_vec(), b".a".repeat(100_000), b" = 1".to_vec()].concat(),
        ),
        (
            "dotted headings",
            b"[a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a]\n".repeat(40_000),
        ),
        ("faults", b"?\n".repeat(50_000)),
        (
            "unknown keys",
            (0..20_000)
                .flat_map(|key| format!("k{key} = 1\n").into_bytes())
                .collect(),
        ),
        ("tables of nothing", b"[[template]]\n".repeat(100_000)),
        (
            "tables of nothing in a line",
            [
                b"template = [".to_vec(),
                b"{},".repeat(100_000),
                b"]".to_vec(),
            ]
            .concat(),
        ),
        (
            "a long number",
            [b"format = ".to_vec(), b"9".repeat(300_000)].concat(),
        ),
        (
            "a long number of a record",
            [
                b"{\"format\":".to_vec(),
                b"9".repeat(300_000),
                b"}".to_vec(),
            ]
            .concat(),
        ),
        ("a number beyond all", b"{\"format\":1e999999999}".to_vec()),
        (
            "an open text",
            [b"format = \"".to_vec(), noise(300_000).into_bytes()].concat(),
        ),
        ("the same key", b"format = 1\n".repeat(100_000)),
        (
            "signs of a terminal",
            "\u{1b}[2J\u{202e} = 1\n".as_bytes().to_vec(),
        ),
        ("half a sign", b"format = \"\xC3\"".to_vec()),
    ];
    for (name, text) in &texts {
        for way in WAYS {
            let program = Program::new()
                .file("x", text)
                .file("answers.csv", "Pupil ID,Pupil,Q1\nP1,Ada,3\n")
                .arguments(way.iter().copied());
            let before = program.everything();
            let run = program.run_within(BOUNDS);
            let told = format!("{name}, {way:?}: {}\n{}", run.code, run.stderr);
            // An empty policy, and empty words, leave everything as it is.
            if name == &"nothing" && run.code == 0 {
                assert!(
                    way.contains(&"--policy") || way.contains(&"--words"),
                    "{told}"
                );
                continue;
            }
            assert_eq!(run.code, 1, "{told}");
            assert!(run.stderr.contains("problem: x"), "{told}");
            assert!(!run.stderr.contains("panicked"), "{told}");
            assert!(!run.stderr.contains(['\u{1b}', '\u{202e}']), "{told}");
            assert!(
                run.stderr.len() < 500_000,
                "{name}, {way:?}: {}",
                run.stderr.len()
            );
            assert_eq!(program.everything(), before, "{told}");
        }
    }
}

/// A bank with one question of this mechanism and these placeholders.
fn bank(mechanism: &str, numbers: &str) -> String {
    format!(
        "format = 1\nid = \"x\"\ntitle = \"x\"\nedition = \"1\"\n[[template]]\nid = \"a\"\n\
         skill = \"turns\"\nlevels = [3]\nmechanism = [{mechanism}]\nask = \"turns of B\"\n\
         question = \"How many turns does gear B make?\"\nunit = \"turns\"\nmarks = 1\n\
         [template.numbers]\n{numbers}"
    )
}

#[test]
fn banks_that_ask_for_very_much_are_refused_or_done() {
    let wide = "{ from = 8, to = 1000000000 }";
    let names: Vec<String> = (0..40).map(|name| format!("a{name}")).collect();
    let long: String = (0..3_000)
        .map(|gear| format!("\"gear A{gear} 12 drives gear A{} 12\", ", gear + 1))
        .collect::<Vec<String>>()
        .concat();
    let placeholders: String = names
        .iter()
        .map(|name| format!("{name} = {{ from = 8, to = 900 }}\n"))
        .collect::<Vec<String>>()
        .concat();
    let many: String = names
        .iter()
        .map(|name| format!("\"gear A{name} {{{name}}} drives gear B{name} 12\", "))
        .collect::<Vec<String>>()
        .concat();
    let pair = "\"gear A {a} drives gear B {b}\", \"A turns 4 clockwise\"";
    for (name, text) in [
        (
            "a wide range",
            bank(pair, &format!("a = {wide}\nb = {wide}")),
        ),
        (
            "small steps",
            bank(pair, "a = { from = 8, to = 9, step = 0.0000001 }\nb = 8"),
        ),
        (
            "nothing fits",
            bank(
                pair,
                "a = { from = 8, to = 900 }\nb = { from = 8, to = 900 }",
            ),
        ),
        ("many gears", bank(&long, "")),
        ("many placeholders", bank(&many, &placeholders)),
        (
            "a long wording",
            bank(pair, "a = 8\nb = 8").replace("How many", &"How many ".repeat(100_000)),
        ),
        ("many questions", {
            let one = bank(pair, "a = 8\nb = 16");
            let (head, question) = one.split_once("[[template]]").expect("a question");
            let questions: String = (0..300)
                .map(|index| {
                    format!(
                        "[[template]]{}\n",
                        question.replace("\"a\"", &format!("\"a{index}\""))
                    )
                })
                .collect::<Vec<String>>()
                .concat();
            format!("{head}{questions}")
        }),
    ] {
        let program = Program::new()
            .file("x", text)
            .arguments(["bank", "check", "x"]);
        let run = program.run_within(BOUNDS);
        assert!([0, 1].contains(&run.code), "{name}: {}", run.stderr);
        assert_eq!(
            run.code == 1,
            !run.stderr.is_empty() && run.stderr.contains("problem: x"),
            "{name}: {}",
            run.stderr
        );
        assert!(!run.stderr.contains("panicked"), "{name}: {}", run.stderr);
    }
}
