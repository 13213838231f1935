//! Drawings of every shipped question and of mechanisms at random: the laws of
//! `drawing_laws`, and that nothing is given away.

use crate::banks;
use crate::drawing_laws;
use crate::program;
use proptest::prelude::Strategy;
use proptest::{collection, prop_assert, prop_assert_eq, prop_oneof};
use toothmark::drawing;
use toothmark::drawing::mover;
use toothmark::drawing::shape;
use toothmark::gears::ask;
use toothmark::gears::mechanism;
use toothmark::gears::notation;
use toothmark::gears::solve;
use toothmark::item;
use toothmark::item::pool;
use toothmark::seed;
use toothmark::wording;

/// Draws at one of the sizes of the sheets.
fn draw(
    mechanism: &mechanism::Mechanism,
    asks: &[ask::Ask],
    width_mm: f64,
) -> Result<drawing::Drawing, drawing::refusal::NotDrawn> {
    drawing::draw(&drawing::Wish {
        mechanism,
        asks,
        width_mm,
        height_mm: 46.0,
        type_mm: 4.0,
    })
}

/// What a drawing would give away of a question's answer.
fn given_away(item: &item::Item, drawn: &drawing::Drawing) -> Option<String> {
    let worked = solve::answer(&item.mechanism, &item.ask).ok()?;
    let answer = wording::fact(&item.mechanism, &item.ask, &worked.fact);
    let said = |words: &str| drawn.text.to_lowercase().contains(words);
    let leak = match &worked.fact {
        ask::Fact::Name(name) => said(wording::trade_name(*name)),
        // Only counts, diameters and arms are told, and those are in the question.
        ask::Fact::Quantity { .. } => said(&format!(" {answer} ")) && !is_told(item, &answer),
        ask::Fact::Sense(_) => drawn.text.matches("points").count() > told_senses(item),
        ask::Fact::Job(job) => said(wording::job(*job)),
        ask::Fact::Ratio(..)
        | ask::Fact::YesNo(_)
        | ask::Fact::Which(_)
        | ask::Fact::Choices(_)
        | ask::Fact::Reasons(_) => ["drives", "faster", "stronger", "ratio", "locked", "cannot"]
            .iter()
            .any(|word| said(word)),
    };
    leak.then(|| format!("{answer}: {}", drawn.text))
}

fn is_told(item: &item::Item, answer: &str) -> bool {
    format!("{} {}", item.story, item.question).contains(answer)
}

fn told_senses(item: &item::Item) -> usize {
    let told = item.mechanism.givens.iter();
    told.filter(|given| matches!(given, mechanism::Given::Motion { sense: Some(_), .. }))
        .count()
}

fn unnamed(item: &item::Item) -> Vec<mechanism::PartId> {
    if let ask::Ask::Name(part) = item.ask {
        vec![part]
    } else {
        Vec::new()
    }
}

#[test]
fn every_shipped_question_is_drawn_by_the_laws_and_gives_nothing_away() {
    let mut broken = Vec::new();
    let mut drawn_count = 0;
    for bank in banks::shipped() {
        for template in &bank.templates {
            for &level in &template.levels {
                for number in 0..2 {
                    let mut stream = seed::Stream::named(&["drawings", &template.id], number);
                    let pool = pool::fill(template, level, 2, &mut stream);
                    let setting = pool::Setting {
                        bank: &bank.id,
                        position: 1,
                        story: 0,
                    };
                    let versions = pool.kinds.iter().flatten().take(2);
                    for item in versions.flat_map(|version| pool.items(version, &setting)) {
                        drawn_count += 1;
                        let asks = [item.ask.clone()];
                        let width = if item.working { 82.0 } else { 168.0 };
                        let fault = match draw(&item.mechanism, &asks, width) {
                            Ok(drawn) => drawing_laws::broken(&drawn)
                                .or_else(|| given_away(&item, &drawn))
                                .or_else(|| {
                                    drawing_laws::untold(&item.mechanism, &drawn, &unnamed(&item))
                                }),
                            Err(refusal) => Some(format!("not drawn: {refusal}")),
                        };
                        // Large print leaves a drawing little room for its type.
                        let narrow = drawing::draw(&drawing::Wish {
                            mechanism: &item.mechanism,
                            asks: &asks,
                            width_mm: 60.0,
                            height_mm: 34.0,
                            type_mm: 4.4,
                        });
                        let fault = fault
                            .or_else(|| drawing_laws::broken(narrow.as_ref().ok()?))
                            .or_else(|| narrow.is_err().then(|| "too narrow".to_owned()));
                        if let Some(fault) = fault {
                            let lines = notation::write(&item.mechanism);
                            broken.push(format!("{} {level}: {fault}\n  {lines:?}", template.id));
                        }
                    }
                }
            }
        }
    }
    assert!(drawn_count > 300, "{drawn_count} drawings are too few");
    assert!(
        broken.is_empty(),
        "{} of {drawn_count}:\n{}",
        broken.len(),
        broken.join("\n")
    );
}

fn row() -> impl Strategy<Value = Vec<String>> {
    collection::vec(6_u32..70, 2..6).prop_map(|teeth| {
        let gears: Vec<String> = teeth
            .iter()
            .zip('A'..)
            .map(|(teeth, name)| format!("gear {name} {teeth}"))
            .collect();
        vec![gears.join(" drives ")]
    })
}

fn compound() -> impl Strategy<Value = Vec<String>> {
    collection::vec((6_u32..40, 6_u32..60), 2..5).prop_map(|stages| {
        let mut lines = Vec::new();
        let mut names = 'A'..;
        let mut last: Option<(char, u32)> = None;
        for (drive, driven) in stages {
            let (one, other) = (names.next().unwrap_or('Y'), names.next().unwrap_or('Z'));
            lines.push(format!("gear {one} {drive} drives gear {other} {driven}"));
            if let Some((before, teeth)) = last {
                lines.push(format!(
                    "gear {before} {teeth}, gear {one} {drive} on one axle"
                ));
            }
            last = Some((other, driven));
        }
        lines
    })
}

fn ring_pair() -> impl Strategy<Value = Vec<String>> {
    (8_u32..40, 8_u32..60)
        .prop_map(|(gear, more)| vec![format!("gear P {gear} drives ring R {}", gear + more)])
}

fn planetary() -> impl Strategy<Value = Vec<String>> {
    (10_u32..40, 8_u32..30).prop_map(|(sun, planet)| {
        vec![
            format!(
                "gear S {sun} drives gear P {planet} drives ring R {}",
                sun + 2 * planet
            ),
            "P rides on carrier C".to_owned(),
        ]
    })
}

fn bars() -> impl Strategy<Value = Vec<String>> {
    (6_u32..60, 1_u32..4).prop_map(|(teeth, starts)| {
        vec![
            format!("rack R below drives gear P {teeth} drives rack S above"),
            format!("worm W {starts} starts drives gear B {teeth}"),
        ]
    })
}

fn closed_ring() -> impl Strategy<Value = Vec<String>> {
    collection::vec(8_u32..16, 3..8).prop_map(|teeth| {
        let gears: Vec<String> = teeth
            .iter()
            .zip('A'..)
            .map(|(teeth, name)| format!("gear {name} {teeth}"))
            .collect();
        let last = ('A'..).nth(teeth.len() - 1).unwrap_or('A');
        vec![gears.join(" drives "), format!("{last} meshes with A")]
    })
}

fn any_mechanism() -> impl Strategy<Value = Vec<String>> {
    prop_oneof![
        row(),
        compound(),
        ring_pair(),
        planetary(),
        bars(),
        closed_ring()
    ]
}

proptest::proptest! {
    #![proptest_config(proptest::prelude::ProptestConfig::with_cases(150))]

    #[test]
    fn mechanisms_at_random_are_drawn_by_the_laws(lines in any_mechanism()) {
        let lines: Vec<&str> = lines.iter().map(String::as_str).collect();
        let mechanism = notation::read(&lines).expect("the lines are well formed");
        // Some cannot be: tips that foul, or rings with no place for their wheels.
        if let Ok(drawn) = draw(&mechanism, &[], 168.0) {
            let fault = drawing_laws::broken(&drawn)
                .or_else(|| drawing_laws::untold(&mechanism, &drawn, &[]));
            prop_assert_eq!(fault, None);
            let svg = drawing::svg::text(&drawn);
            prop_assert_eq!(is_well_formed(&svg), Ok(()));
            let again = draw(&mechanism, &[], 168.0).expect("it was drawn before");
            prop_assert!(svg == drawing::svg::text(&again), "two drawings differ");
        }
    }
}

fn is_well_formed(svg: &str) -> Result<(), String> {
    let mut reader = quick_xml::Reader::from_str(svg);
    let mut depth = 0_i32;
    loop {
        let event = reader.read_event().map_err(|error| error.to_string())?;
        if matches!(event, quick_xml::events::Event::Start(_)) {
            depth += 1;
        } else if matches!(event, quick_xml::events::Event::End(_)) {
            depth -= 1;
        } else if matches!(event, quick_xml::events::Event::Eof) {
            return if depth == 0 {
                Ok(())
            } else {
                Err("it ends too early".to_owned())
            };
        }
    }
}

#[test]
fn a_count_that_is_asked_is_not_drawn() {
    let outline = |lines: &[&str]| {
        let mechanism = notation::read(lines).expect("well formed");
        let asks = [notation::read_ask("teeth of B", &mechanism).expect("well formed")];
        draw(&mechanism, &asks, 168.0).expect("it is drawn")
    };
    let one = outline(&["gear A 12 drives gear B ?", "A turns 3", "B turns 1"]);
    let other = outline(&["gear A 12 drives gear B ?", "A turns 1", "B turns 2"]);
    assert_eq!(one.shapes, other.shapes);
    assert!(one.text.contains("not drawn to size"), "{}", one.text);
}

#[test]
fn the_text_tells_what_a_child_would_see() {
    for (lines, asked, told) in [
        (
            &["gear A 8 drives gear B 12", "A turns clockwise"][..],
            "direction of B",
            "Drawing. Gear A with 8 teeth meshes with gear B with 12 teeth. An arrow on gear A \
             points clockwise. An arrow with two heads and a question mark stands at gear B.",
        ),
        (
            &["gear A 12 drives gear B 36", "B, gear C 10 on one axle"],
            "faster of B, C",
            "Drawing. Gear A with 12 teeth meshes with gear B with 36 teeth. Gear B and gear C \
             with 10 teeth are fixed on one axle.",
        ),
        (
            &["worm W 1 start drives gear B 40"],
            "name of W",
            "Drawing. Part W, a rod with a thread round it like a screw, meshes with gear B \
             with 40 teeth.",
        ),
        (
            &[
                "gear S 24 drives gear P 12 drives ring R 48",
                "P rides on carrier C",
                "R held still",
                "S turns 3",
            ],
            "turns of C",
            "Drawing. Gear S with 24 teeth meshes with gear P with 12 teeth. Gear P meshes with \
             ring gear R with 48 teeth. Carrier C holds the axle of gear P. Ring gear R is held \
             still.",
        ),
        (
            &["pulley A 60 mm drives pulley B 30 mm by crossed belt"],
            "turns of B",
            "Drawing. A belt that crosses over itself goes round pulley A (60 mm across) and \
             pulley B (30 mm across).",
        ),
    ] {
        let mechanism = notation::read(lines).expect("well formed");
        let asks = [notation::read_ask(asked, &mechanism).expect("well formed")];
        let drawn = draw(&mechanism, &asks, 168.0).expect("it is drawn");
        assert_eq!(drawn.text, told);
    }
}

#[test]
fn each_shape_knows_what_it_moves_with() {
    let lines = [
        "handle H, gear A 12 on one axle",
        "gear A 12 drives gear B 30 drives rack R below",
        "gear B 30, drum D 40 mm on one axle",
        "H turns clockwise",
    ];
    let mechanism = notation::read(&lines).expect("well formed");
    let drawn = draw(&mechanism, &[], 168.0).expect("it is drawn");
    let ends: Vec<usize> = drawn.pieces.iter().map(|piece| piece.shapes.end).collect();
    let starts: Vec<usize> = drawn
        .pieces
        .iter()
        .map(|piece| piece.shapes.start)
        .collect();
    assert_eq!(starts[0], 0);
    assert_eq!(starts[1..], ends[..ends.len() - 1]);
    assert_eq!(ends.last(), Some(&drawn.shapes.len()));
    let part = |name: &str| {
        let mut parts = mechanism.numbered();
        parts
            .find(|(_, it)| it.name == name)
            .expect("it is there")
            .0
    };
    let mover = |shape: usize| {
        let piece = drawn.pieces.iter().find(|it| it.shapes.contains(&shape));
        &piece.expect("every shape is in one").mover
    };
    for wheel in &drawn.wheels {
        let turning = mover::Mover::Wheel(mover::Axle {
            part: wheel.part,
            centre: wheel.centre,
            carried: None,
        });
        assert_eq!(*mover(wheel.outline), turning);
    }
    let turns = |name: &str| {
        drawn.pieces.iter().any(
            |piece| matches!(&piece.mover, mover::Mover::Wheel(axle) if axle.part == part(name)),
        )
    };
    assert!(turns("H") && turns("D"));
    let slide = |wanted: &str| {
        drawn.pieces.iter().find_map(|piece| match &piece.mover {
            mover::Mover::Rack {
                part: rack, slide, ..
            } => (*rack == part(wanted)).then_some(slide.mm_a_turn),
            mover::Mover::Load(hanging) => {
                (hanging.part == part(wanted)).then_some(hanging.slide.mm_a_turn)
            }
            mover::Mover::Still
            | mover::Mover::Wheel(_)
            | mover::Mover::Label { .. }
            | mover::Mover::Leader { .. }
            | mover::Mover::Thread(_)
            | mover::Mover::Cone(_)
            | mover::Mover::Strand(_)
            | mover::Mover::String(_)
            | mover::Mover::Ground { .. }
            | mover::Mover::Crank { .. } => None,
        })
    };
    // A pinion that turns clockwise pushes a rack below it to the left by its pitch
    // circle, and lets down a load that hangs at its right.
    let pitch = drawn.wheels.iter().find(|it| it.part == part("B"));
    let around = std::f64::consts::TAU * pitch.expect("it is drawn").pitch_mm;
    let rack = slide("R").expect("it slides");
    assert!((rack + around).abs() < 1e-9, "{rack} {around}");
    assert!(slide("D").expect("it hangs") > 0.0);
    for (index, found) in drawn.shapes.iter().enumerate() {
        let is_words = matches!(found, shape::Shape::Words { .. });
        assert!(
            !is_words || !matches!(mover(index), mover::Mover::Wheel(_)),
            "{found:?}"
        );
    }
}

#[test]
fn large_wheels_are_broken_off_and_small_ones_never_are() {
    for (teeth, is_broken) in [(20, false), (60, false), (200, true), (1000, true)] {
        let line = format!("gear A 12 drives gear B {teeth}");
        let mechanism = notation::read(&[&line]).expect("well formed");
        let drawn = draw(&mechanism, &[], 168.0).expect("it is drawn");
        assert_eq!(drawn.text.contains("broken off"), is_broken, "{teeth}");
        assert!(
            drawn.height_mm <= 46.0 && drawn.width_mm <= 168.0,
            "{teeth}"
        );
        assert_eq!(drawing_laws::broken(&drawn), None, "{teeth}");
    }
    // A label beyond the wavy line stays on the page.
    let lines = [
        "gear A 10 drives gear B 150",
        "gear B 150, gear C 10 on one axle",
        "gear C 10 drives gear D 180",
    ];
    let mechanism = notation::read(&lines).expect("well formed");
    let drawn = draw(&mechanism, &[], 168.0).expect("it is drawn");
    assert!(drawn.text.contains("broken off"), "{}", drawn.text);
    assert_eq!(drawing_laws::broken(&drawn), None);
}

#[test]
fn a_direction_is_shown_on_an_axle_without_wheels_and_on_no_shaft_across() {
    for (lines, asked, arrows) in [
        (
            &["handle H, drum D 50 mm on one axle", "H turns clockwise"][..],
            "direction of D",
            2,
        ),
        (
            &[
                "handle H, worm W 1 start on one axle",
                "worm W 1 start drives gear B 24",
                "W turns 3 clockwise",
            ],
            "turns of B",
            0,
        ),
    ] {
        let mechanism = notation::read(lines).expect("well formed");
        let asks = [notation::read_ask(asked, &mechanism).expect("well formed")];
        let drawn = draw(&mechanism, &asks, 168.0).expect("it is drawn");
        let told = drawn.text.matches("An arrow").count();
        assert_eq!(told, arrows, "{}", drawn.text);
        assert_eq!(drawing_laws::broken(&drawn), None);
    }
}

#[test]
fn the_teeth_of_equal_wheels_on_one_axle_show_between_each_other() {
    let lines = [
        "gear A 12 drives gear B 20",
        "gear B 20, gear C 20 on one axle",
        "gear C 20 drives gear D 30",
    ];
    let mechanism = notation::read(&lines).expect("well formed");
    let drawn = draw(&mechanism, &[], 168.0).expect("it is drawn");
    let (behind, before) = (&drawn.wheels[1], &drawn.wheels[2]);
    assert_ne!(behind.depth, before.depth);
    let pitch = std::f64::consts::TAU / 20.0;
    let apart = ((behind.phase - before.phase) / pitch).rem_euclid(1.0);
    assert!((apart - 0.5).abs() < 1e-9, "{apart}");
    assert_eq!(drawing_laws::broken(&drawn), None);
}

#[test]
fn solve_saves_a_drawing_and_overwrites_nothing() {
    let lines = ["solve", "gear A 12 drives gear B 36", "turns of B"];
    for name in ["pair.svg", "pair.png", "pair.pdf"] {
        let program = program::Program::new()
            .arguments(lines)
            .arguments(["--drawing", name]);
        let run = program.run().succeeded();
        assert!(run.stdout.contains(name), "{}", run.stdout);
        let bytes = std::fs::read(program.path(name)).expect("it is there");
        assert!(bytes.len() > 1000, "{name}");
        // The same again is no trouble; another drawing is.
        program.run().succeeded();
        let other =
            program
                .anew()
                .arguments(["solve", "gear A 10 drives gear B 20", "--drawing", name]);
        let run = other.run().ended_with(1);
        assert!(
            run.stderr.contains("another file stands here"),
            "{}",
            run.stderr
        );
    }
    let run = program::Program::new()
        .arguments(lines)
        .arguments(["--drawing", "pair.doc"])
        .run()
        .ended_with(1);
    assert!(run.stderr.contains(".svg, .png or .pdf"), "{}", run.stderr);
}
