//! Published worked examples, each with its source, from `tests/published/gears.txt`.

use std::collections::BTreeSet;
use toothmark::gears::ask;
use toothmark::gears::fault;
use toothmark::gears::mechanism;
use toothmark::gears::notation;
use toothmark::gears::solve;
use toothmark::number;

const EXAMPLES: &str = include_str!("../published/gears.txt");

/// How sure a row is, as the file's heading explains.
const SURE: [&str; 4] = [
    "read",
    "from memory",
    "common practice, no source",
    "computed",
];

struct Example {
    sure: &'static str,
    source: &'static str,
    lines: Vec<String>,
    ask: &'static str,
    answer: &'static str,
}

fn examples() -> Vec<Example> {
    EXAMPLES
        .lines()
        .filter(|line| !line.is_empty() && !line.starts_with('#'))
        .map(|line| {
            let fields: Vec<&str> = line.split(" | ").collect();
            let &[sure, source, lines, ask, answer] = fields.as_slice() else {
                panic!("five fields: {line}");
            };
            Example {
                sure,
                source,
                lines: expand(lines),
                ask,
                answer,
            }
        })
        .collect()
}

/// The lines of a mechanism; `RING 19` is a ring of so many equal gears.
fn expand(lines: &str) -> Vec<String> {
    if let Some(count) = lines.strip_prefix("RING ") {
        let count: usize = count.parse().expect("a count of gears");
        let gears: Vec<String> = (1..=count)
            .map(|index| format!("gear G{index} 12"))
            .collect();
        return vec![gears.join(" drives "), format!("G{count} meshes with G1")];
    }
    lines.split("; ").map(str::to_owned).collect()
}

/// The answer as the file writes it.
fn said(worked: Result<solve::Worked, Vec<fault::Fault>>, wanted: &str) -> String {
    let fact = match worked {
        Ok(worked) => worked.fact,
        Err(faults) => {
            return match faults.as_slice() {
                [fault::Fault::NotWhole { value, .. }] => format!("not whole {value}"),
                [_, ..] | [] => format!("{faults:?}"),
            };
        }
    };
    match fact {
        ask::Fact::Quantity { value, .. } => quantity(value, wanted),
        ask::Fact::Ratio(first, second) => format!("{first} : {second}"),
        ask::Fact::Sense(mechanism::Sense::Clockwise) => "clockwise".to_owned(),
        ask::Fact::Sense(mechanism::Sense::Anticlockwise) => "anticlockwise".to_owned(),
        ask::Fact::YesNo(true) => "yes".to_owned(),
        ask::Fact::YesNo(false) => "no".to_owned(),
        ask::Fact::Sense(mechanism::Sense::Left | mechanism::Sense::Right)
        | ask::Fact::Which(_)
        | ask::Fact::Name(_)
        | ask::Fact::Job(_)
        | ask::Fact::Choices(_)
        | ask::Fact::Reasons(_) => format!("{fact:?}"),
    }
}

/// The quantity as it is wanted: `3`, `3/2`, `13.48 to 2 places`, `20.80 pi to 2 places`.
fn quantity(value: number::Value, wanted: &str) -> String {
    let (exact, places) = match wanted.split_once(" to ") {
        None => (wanted, None),
        Some((exact, places)) => (exact, places.strip_suffix(" places")),
    };
    let Some(places) = places else {
        // A decimal in the file is exact.
        let same = exact
            .parse()
            .is_ok_and(|number: number::Number| value == number.into());
        return if same {
            exact.to_owned()
        } else {
            value.to_string()
        };
    };
    let precision = number::Precision::Places(places.parse().expect("a number of places"));
    let (value, ending) = match exact.strip_suffix(" pi") {
        Some(_) => (value.divided_by(number::Value::PI).expect("fits"), " pi"),
        None => (value, ""),
    };
    let rounded = number::round_half_up(value, precision).expect("fits");
    let text = number::rounded_text(rounded, precision);
    format!("{text}{ending} to {places} places")
}

#[test]
fn published_examples_come_out_as_published() {
    let mut wrong = Vec::new();
    for example in examples() {
        let lines: Vec<&str> = example.lines.iter().map(String::as_str).collect();
        let mechanism = notation::read(&lines).expect("the example's own lines");
        let ask = notation::read_ask(example.ask, &mechanism).expect("the example's own question");
        let found = said(solve::answer(&mechanism, &ask), example.answer);
        if found != example.answer {
            wrong.push(format!(
                "{}: {} | {}: found {found}, published {}",
                example.source,
                lines.join("; "),
                example.ask,
                example.answer
            ));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn there_are_enough_examples_and_each_says_how_sure_it_is() {
    let examples = examples();
    let questions: BTreeSet<(String, &str)> = examples
        .iter()
        .map(|example| (example.lines.join("; "), example.ask))
        .collect();
    assert_eq!(questions.len(), examples.len(), "an example stands twice");
    let read = examples.iter().filter(|it| it.sure == "read").count();
    assert!(read >= 40, "only {read} examples were read at their source");
    for example in &examples {
        assert!(SURE.contains(&example.sure), "{}", example.sure);
        assert!(example.source.len() > 8, "{}", example.source);
    }
}
