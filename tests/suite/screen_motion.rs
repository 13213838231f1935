//! How mechanisms move on the classroom screen, held against the solver: what the page
//! says of each part, and what a browser makes of it.

use crate::browser::Browser;
use crate::screen::{Page, SHOWN, number_of};
use serde_json::{Value, json};
use std::collections::BTreeSet;
use toothmark::gears::ask;
use toothmark::gears::mechanism;
use toothmark::gears::solve;
use toothmark::item;
use toothmark::item::question;
use toothmark::number;

/// What the browser shows of a question once everything is told: whether it can turn,
/// and how far each wheel and bar has gone at a later moment.
const MEASURE: &str = include_str!("screen.js");

/// A question's mechanism with what its answers say of it.
fn told(question: &question::Question<'_>) -> mechanism::Mechanism {
    let items: Vec<&item::Item> = question.parts.iter().map(|(_, item)| *item).collect();
    let mut told = question::drawn_mechanism(&items).expect("a question has a part");
    for item in items {
        let worked = solve::answer(&item.mechanism, &item.ask).expect("it has an answer");
        let mut fact = worked.fact;
        if let ask::Fact::Choices(choices) = &mut fact {
            choices.truncate(1);
        }
        if matches!(
            item.ask,
            ask::Ask::Teeth(_) | ask::Ask::Starts(_) | ask::Ask::Choose { .. }
        ) {
            told = solve::with_answer(&told, &item.ask, &fact).expect("it is a count");
        }
    }
    told
}

/// How every part moves by the solver, if something is supposed of the first part that
/// it is possible of; which parts have a sense, and whether that was given.
fn solved(mechanism: &mechanism::Mechanism) -> Option<(Vec<solve::Motion>, bool)> {
    let is_motion = |given: &mechanism::Given| matches!(given, mechanism::Given::Motion { .. });
    let is_amount = |given: &mechanism::Given| {
        matches!(
            given,
            mechanism::Given::Motion {
                amount: Some(_),
                ..
            }
        )
    };
    let has_sense = mechanism
        .givens
        .iter()
        .any(|given| matches!(given, mechanism::Given::Motion { sense: Some(_), .. }));
    let tries = mechanism.numbered().map(|(id, part)| {
        let slides = matches!(part.kind, mechanism::Kind::Rack { .. });
        let mut trial = mechanism.clone();
        let (amount, sense) = if slides {
            (
                mechanism::Amount::Millimetres(number::Number::whole(10).into()),
                mechanism::Sense::Right,
            )
        } else {
            (
                mechanism::Amount::Turns(number::Number::ONE),
                mechanism::Sense::Clockwise,
            )
        };
        if !has_sense || !trial.givens.iter().any(is_amount) {
            trial.givens.push(mechanism::Given::Motion {
                part: id,
                amount: (!trial.givens.iter().any(is_amount)).then_some(amount),
                sense: (!trial.givens.iter().any(is_motion) || !has_sense).then_some(sense),
            });
        }
        trial
    });
    tries.into_iter().find_map(|trial| {
        let motions = solve::solve(&trial).ok()?.motions;
        let moves = motions.iter().any(|motion| {
            motion
                .turns
                .or(motion.rpm)
                .is_some_and(|it| !it.factor.is_zero())
        });
        moves.then_some((motions, has_sense))
    })
}

/// How far a part turns, clockwise positive, and whether its sense is known.
fn turns(motion: &solve::Motion) -> Option<(f64, bool)> {
    let amount = motion.turns.or(motion.rpm)?.to_f64();
    Some(match motion.sense {
        Some(mechanism::Sense::Clockwise | mechanism::Sense::Right) => (amount, true),
        Some(mechanism::Sense::Anticlockwise | mechanism::Sense::Left) => (-amount, true),
        None => (amount, false),
    })
}

/// A part of a turn as the nearest whole turn leaves it.
fn within_half(turns: f64) -> f64 {
    turns - turns.round()
}

/// What of a question's motion is not as the solver says.
fn differences(mechanism: &mechanism::Mechanism, found: &Value) -> Vec<String> {
    let mut wrong = Vec::new();
    let wheels = found["wheels"].as_array().expect("a list");
    if wheels.is_empty() {
        return wrong;
    }
    let Some((motions, has_sense)) = solved(mechanism) else {
        return vec!["it turns, and the solver has no motion of it".to_owned()];
    };
    let motion = |name: &str| {
        let mut parts = mechanism.parts.iter();
        let part = parts.find(|part| part.name == name).expect("a part");
        &motions[part.body.index()]
    };
    let of = |wheel: &Value| turns(motion(wheel["part"].as_str().expect("a name")));
    // The fastest tells the scale; without a given sense it may go either way.
    let fastest = wheels.iter().max_by(|one, other| {
        let speed = |wheel| of(wheel).map_or(0.0, |(turns, _)| turns.abs());
        speed(one).total_cmp(&speed(other))
    });
    let fastest = fastest.expect("there is one");
    let seen = within_half(number_of(&fastest["turned"]));
    let Some((whole, whole_known)) = of(fastest) else {
        return vec![format!("{fastest}: the solver has no motion of it")];
    };
    let scale = seen / whole;
    if has_sense && whole_known && scale <= 0.0 {
        wrong.push(format!("{fastest}: it turns the wrong way"));
    }
    let mut check = |what: String, seen: f64, expected: Option<(f64, bool)>| {
        let Some((turns, known)) = expected else {
            wrong.push(format!("{what}: the solver has no motion of it"));
            return;
        };
        let wanted = turns * scale;
        let off = if known && whole_known {
            within_half(seen - wanted).abs()
        } else {
            within_half(seen.abs() - wanted.abs()).abs()
        };
        if off > 1e-4 {
            wrong.push(format!("{what}: turned {seen}, wanted {wanted}"));
        }
    };
    for wheel in wheels {
        let name = wheel["part"].as_str().expect("a name");
        let seen = within_half(number_of(&wheel["turned"]));
        check(name.to_owned(), seen, of(wheel));
        if !wheel["round"].is_null() {
            let part = mechanism.parts.iter().find(|part| part.name == name);
            let carrier = part.and_then(|part| part.rides_on).expect("it is carried");
            let seen = within_half(number_of(&wheel["round"]));
            check(
                format!("{name} round its sun"),
                seen,
                turns(&motions[carrier.index()]),
            );
        }
    }
    for bar in found["bars"].as_array().expect("a list") {
        let right = number_of(&bar["right"]);
        let sense = motion(bar["part"].as_str().expect("a name")).sense;
        let wanted = if sense == Some(mechanism::Sense::Right) {
            1.0
        } else {
            -1.0
        };
        if right * wanted * scale.signum() <= 0.0 {
            wrong.push(format!("{bar}: it slides the wrong way"));
        }
    }
    wrong
}

#[test]
fn every_gear_on_the_screen_turns_as_the_solver_says() {
    let Some(browser) = Browser::start() else {
        return;
    };
    let page = Page::new();
    browser.open(&page.path());
    let measured = browser.script(MEASURE);
    let measured = measured.as_array().expect("a list");
    let questions = question::questions(&SHOWN.0.sheets[0].items);
    assert_eq!(measured.len(), questions.len());
    let mut wrong = Vec::new();
    let (mut wheel_count, mut still_count) = (0, 0);
    let mut kinds = BTreeSet::new();
    for (question, found) in questions.iter().zip(measured) {
        let mechanism = told(question);
        let whether = solve::answer(&mechanism, &ask::Ask::WillItTurn);
        let is_stuck = whether.is_ok_and(|worked| worked.fact == ask::Fact::YesNo(false));
        if found["stuck"] != is_stuck {
            wrong.push(format!("{}: stuck: {}", question.number, found["stuck"]));
        }
        let wheels = found["wheels"].as_array().expect("a list").len();
        wheel_count += wheels;
        still_count += usize::from(wheels == 0);
        kinds.extend(
            found["kinds"]
                .as_array()
                .expect("a list")
                .iter()
                .map(Value::to_string),
        );
        let number = &question.number;
        let found = differences(&mechanism, found);
        wrong.extend(found.iter().map(|it| format!("question {number}: {it}")));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(wheel_count > 300, "{wheel_count} wheels are too few");
    assert!(still_count < 20, "{still_count} questions stand still");
    for kind in [
        "wheel", "slide", "strand", "cone", "string", "label", "leader",
    ] {
        assert!(kinds.contains(&format!("\"{kind}\"")), "{kind}: {kinds:?}");
    }
    assert_eq!(browser.log("browser"), Vec::<String>::new());
}

/// The value of an attribute in a tag.
fn attribute<'t>(tag: &'t str, name: &str) -> Option<&'t str> {
    let (_, rest) = tag.split_once(&format!(" {name}=\""))?;
    rest.split_once('"').map(|(value, _)| value)
}

/// A fraction such as `-1/3`.
fn fraction(text: &str) -> f64 {
    let exact: number::Number = text.parse().expect("a fraction");
    exact.to_f64()
}

/// What a section says of its wheels and bars, as if the fastest wheel had made a tenth
/// of a turn.
fn written(section: &str) -> Value {
    let svg = section
        .rsplit("<svg ")
        .next()
        .expect("there is one at least");
    let tags: Vec<&str> = svg
        .split("<g")
        .filter_map(|rest| rest.split_once('>'))
        .map(|(tag, _)| tag)
        .filter(|tag| attribute(tag, "data-part").is_some())
        .collect();
    let turns = |tag: &&str| attribute(tag, "data-turns").map(fraction);
    let fastest = tags
        .iter()
        .filter_map(turns)
        .fold(0.0, |most: f64, it| most.max(it.abs()));
    let (mut wheels, mut bars) = (Vec::new(), Vec::new());
    for tag in &tags {
        let part = attribute(tag, "data-part");
        if let Some(turns) = turns(tag) {
            let round = attribute(tag, "data-round").map(|it| fraction(it) * 0.1 / fastest);
            let turned = turns * 0.1 / fastest;
            wheels.push(json!({ "part": part, "turned": turned, "round": round }));
        } else if let Some(right) = attribute(tag, "data-right") {
            let right: f64 = right.parse().expect("a number");
            bars.push(json!({ "part": part, "right": right }));
        }
    }
    json!({ "wheels": wheels, "bars": bars })
}

#[test]
fn every_ratio_on_the_page_is_the_solvers() {
    let (homework, page) = &*SHOWN;
    let questions = question::questions(&homework.sheets[0].items);
    let sections: Vec<&str> = page.split("<section ").skip(1).collect();
    assert_eq!(sections.len(), questions.len());
    let mut wrong = Vec::new();
    let mut wheel_count = 0;
    for (question, section) in questions.iter().zip(sections) {
        let found = written(section);
        wheel_count += found["wheels"].as_array().expect("a list").len();
        let number = &question.number;
        let found = differences(&told(question), &found);
        wrong.extend(found.iter().map(|it| format!("question {number}: {it}")));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(wheel_count > 300, "{wheel_count} wheels are too few");
}
