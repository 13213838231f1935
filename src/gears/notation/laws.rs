//! Laws of the notation, with random mechanisms and random text.

use crate::gears::mechanism;
use crate::gears::notation;
use crate::gears::notation::part;
use crate::number;
use proptest::prelude::{Just, Strategy};
use proptest::{collection, option, prop_assert, prop_assert_eq, prop_oneof, sample};

fn small_number() -> impl Strategy<Value = number::Number> {
    (0_i64..500, 1_i64..12).prop_map(|(top, bottom)| {
        number::Number::ratio(top, bottom).expect("the bottom is not nought")
    })
}

fn count() -> impl Strategy<Value = mechanism::Count> {
    prop_oneof![
        Just(mechanism::Count::Unknown),
        (0_u32..=notation::LARGEST_COUNT).prop_map(mechanism::Count::Known),
    ]
}

fn kind() -> impl Strategy<Value = mechanism::Kind> {
    use mechanism::Kind;
    prop_oneof![
        count().prop_map(|teeth| Kind::Gear { teeth }),
        count().prop_map(|teeth| Kind::Ring { teeth }),
        count().prop_map(|teeth| Kind::Bevel { teeth }),
        count().prop_map(|starts| Kind::Worm { starts }),
        sample::select(vec![false, true]).prop_map(|above| Kind::Rack { above }),
        count().prop_map(|teeth| Kind::Sprocket { teeth }),
        small_number().prop_map(|diameter_mm| Kind::Pulley { diameter_mm }),
        option::of(small_number()).prop_map(|arm_mm| Kind::Handle { arm_mm }),
        small_number().prop_map(|diameter_mm| Kind::Drum { diameter_mm }),
        small_number().prop_map(|diameter_mm| Kind::Roller { diameter_mm }),
        sample::select(vec![Kind::Motor, Kind::Dynamo, Kind::Carrier]),
    ]
}

/// What a random mechanism is made of: each number picks by remainder.
type Draws = (
    Vec<(mechanism::Kind, usize, Option<number::Number>)>,
    Vec<(usize, usize, bool, bool)>,
    Vec<(u8, usize, usize, number::Number, usize)>,
    Option<(usize, usize)>,
);

fn draws() -> impl Strategy<Value = Draws> {
    (
        collection::vec((kind(), 0_usize..9, option::of(small_number())), 1..9),
        collection::vec(
            (
                0_usize..99,
                0_usize..99,
                proptest::bool::ANY,
                proptest::bool::ANY,
            ),
            0..9,
        ),
        collection::vec(
            (
                0_u8..9,
                0_usize..99,
                0_usize..99,
                small_number(),
                0_usize..3,
            ),
            0..6,
        ),
        option::of((0_usize..99, 0_usize..99)),
    )
}

fn random_mechanism(draws: Draws) -> mechanism::Mechanism {
    let (drawn_parts, drawn_joints, drawn_givens, ride) = draws;
    let mut parts: Vec<mechanism::Part> = Vec::new();
    let mut body_count = 0_u16;
    for (index, (kind, place, tooth_size)) in drawn_parts.into_iter().enumerate() {
        let slides = matches!(kind, mechanism::Kind::Rack { .. });
        // A part joins an earlier part's axle, or has one of its own.
        let shared = parts
            .get(place)
            .filter(|other| !slides && !matches!(other.kind, mechanism::Kind::Rack { .. }))
            .map(|other| other.body);
        let body = shared.unwrap_or_else(|| {
            body_count += 1;
            mechanism::BodyId(body_count - 1)
        });
        let tooth_size_mm = tooth_size.filter(|_| part::KindWord::of(&kind).has_tooth_size());
        parts.push(mechanism::Part {
            name: format!("A{index}"),
            kind,
            body,
            tooth_size_mm,
            rides_on: None,
        });
    }
    if let Some((rider, arm)) = ride {
        let rider = parts[rider % parts.len()].body;
        let arm = &parts[arm % parts.len()];
        if arm.kind == mechanism::Kind::Carrier && arm.body != rider {
            let arm = arm.body;
            for part in &mut parts {
                if part.body == rider {
                    part.rides_on = Some(arm);
                }
            }
        }
    }
    let part_id = |index: usize| mechanism::PartId(u16::try_from(index).expect("few parts"));
    let kind_word = |index: usize| part::KindWord::of(&parts[index].kind);
    let mut joints = Vec::new();
    for (first, second, driver_named, crossed) in drawn_joints {
        let (first, second) = (first % parts.len(), second % parts.len());
        if first == second {
            continue;
        }
        let link = match (kind_word(first), kind_word(second)) {
            (part::KindWord::Sprocket, part::KindWord::Sprocket) => mechanism::Link::Chain,
            (part::KindWord::Pulley, part::KindWord::Pulley) if crossed => {
                mechanism::Link::CrossedBelt
            }
            (part::KindWord::Pulley, part::KindWord::Pulley) => mechanism::Link::Belt,
            _ => mechanism::Link::Mesh,
        };
        joints.push(mechanism::Joint {
            first: part_id(first),
            second: part_id(second),
            link,
            driver_named,
        });
    }
    let mut givens = Vec::new();
    for (choice, first, second, amount, sense) in drawn_givens {
        let (first, second) = (first % parts.len(), second % parts.len());
        givens.extend(random_given(
            choice, first, second, amount, sense, &kind_word,
        ));
    }
    mechanism::Mechanism {
        parts,
        body_count,
        joints,
        givens,
    }
}

fn random_given(
    choice: u8,
    first: usize,
    second: usize,
    amount: number::Number,
    sense: usize,
    kind_word: &dyn Fn(usize) -> part::KindWord,
) -> Option<mechanism::Given> {
    use mechanism::{Amount, Given, Sense};
    let part_id = |index: usize| mechanism::PartId(u16::try_from(index).expect("few parts"));
    let part = part_id(first);
    let kind = kind_word(first);
    let slides = kind == part::KindWord::Rack;
    let sense = match (sense, slides) {
        (0, _) => None,
        (1, true) => Some(Sense::Left),
        (1, false) => Some(Sense::Clockwise),
        (_, true) => Some(Sense::Right),
        (_, false) => Some(Sense::Anticlockwise),
    };
    let motion = |amount| Given::Motion {
        part,
        amount,
        sense,
    };
    match choice {
        0 if !slides => Some(motion(Some(Amount::Turns(amount)))),
        1 if !slides => Some(motion(Some(Amount::Rpm(amount)))),
        2 if slides || kind == part::KindWord::Drum || kind == part::KindWord::Roller => {
            let pi_power = i8::from(!amount.is_zero());
            let distance = number::Value {
                factor: amount,
                pi_power,
            };
            Some(motion(Some(Amount::Millimetres(distance))))
        }
        3 if sense.is_some() => Some(motion(None)),
        4 => Some(Given::Held(part)),
        5 if slides || kind == part::KindWord::Handle => Some(Given::Force {
            part,
            newtons: amount,
        }),
        6 if !slides => Some(Given::TurningForce {
            part,
            newton_cm: amount,
        }),
        7 if first != second => Some(Given::Apart {
            first: part,
            second: part_id(second),
            mm: amount,
        }),
        8 if first != second => Some(Given::TakenOut {
            first: part,
            second: part_id(second),
        }),
        _ => None,
    }
}

proptest::proptest! {
    #[test]
    fn reading_what_was_written_gives_the_same_mechanism(drawn in draws()) {
        let mechanism = random_mechanism(drawn);
        let lines = notation::write(&mechanism);
        let texts: Vec<&str> = lines.iter().map(String::as_str).collect();
        prop_assert_eq!(notation::read(&texts), Ok(mechanism), "{:#?}", lines);
    }

    #[test]
    fn no_text_makes_it_panic(lines in collection::vec(".{0,40}", 0..4)) {
        let texts: Vec<&str> = lines.iter().map(String::as_str).collect();
        check_spans(&texts)?;
    }

    #[test]
    fn no_heap_of_its_own_words_makes_it_panic(
        lines in collection::vec(collection::vec(sample::select(SOUP.to_vec()), 0..9), 0..5)
    ) {
        let lines: Vec<String> = lines.iter().map(|words| words.join(" ")).collect();
        let texts: Vec<&str> = lines.iter().map(String::as_str).collect();
        check_spans(&texts)?;
        if let Ok(mechanism) = notation::read(&texts) {
            let written = notation::write(&mechanism);
            let again: Vec<&str> = written.iter().map(String::as_str).collect();
            prop_assert_eq!(notation::read(&again), Ok(mechanism), "{:#?}", written);
        }
    }
}

const SOUP: [&str; 48] = [
    "gear",
    "ring",
    "rack",
    "worm",
    "carrier",
    "sprocket",
    "pulley",
    "handle",
    "motor",
    "A",
    "B",
    "C",
    "A12",
    "12",
    "2.5",
    "1/2",
    "1/0",
    "?",
    "drives",
    "meshes with",
    "on one axle",
    ",",
    "taken out",
    "turns",
    "runs at",
    "moves",
    "rpm",
    "mm",
    "clockwise",
    "left",
    "held still",
    "rides on",
    "for",
    "minutes",
    "force",
    "N at",
    "turning force",
    "N cm on",
    "efficiency",
    "%",
    "tooth size",
    "on",
    "and",
    "apart",
    "by",
    "chain",
    "crossed belt",
    "99999999999999999999999999999999999999999",
];

fn check_spans(lines: &[&str]) -> Result<(), proptest::test_runner::TestCaseError> {
    let simple = notation::read(&["gear A 12 drives gear B 36"]).expect("well formed");
    for line in lines {
        let _ = notation::is_ask(line);
        let _ = notation::read_ask(line, &simple);
    }
    if let Err(faults) = notation::read(lines) {
        prop_assert!(!faults.is_empty());
        for fault in faults {
            let line = lines[fault.line];
            prop_assert!(
                line.get(fault.span.clone()).is_some(),
                "{:?} in {:?}",
                fault,
                line
            );
        }
    }
    Ok(())
}
