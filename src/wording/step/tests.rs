//! Steps in words, one of each kind.

use crate::gears::ask;
use crate::gears::mechanism;
use crate::gears::notation;
use crate::gears::step;
use crate::number;
use crate::wording;

fn exact(text: &str) -> number::Value {
    plain(text).into()
}

fn plain(text: &str) -> number::Number {
    text.parse().expect("the test's own number")
}

fn turns(text: &str) -> step::Movement {
    step::Movement {
        value: exact(text),
        unit: ask::Unit::Turns,
    }
}

fn check(lines: &[&str], step: &step::Step, said: &str) {
    let mechanism = notation::read(lines).expect("well formed");
    assert_eq!(wording::step(&mechanism, step), said);
}

const A: mechanism::PartId = mechanism::PartId(0);
const B: mechanism::PartId = mechanism::PartId(1);
const C: mechanism::PartId = mechanism::PartId(2);

fn drive(link: mechanism::Link) -> step::Step {
    step::Step::Drive {
        from: A,
        to: B,
        link,
        from_size: exact("12"),
        to_size: exact("36"),
        before: Some(turns("9")),
        after: Some(turns("3")),
        sense_before: Some(mechanism::Sense::Clockwise),
        sense_after: Some(mechanism::Sense::Anticlockwise),
    }
}

#[test]
fn movement_is_said_with_its_calculation() {
    let pair = &["gear A 12 drives gear B 36"];
    check(
        pair,
        &step::Step::Start {
            part: A,
            movement: Some(turns("9")),
            sense: Some(mechanism::Sense::Clockwise),
        },
        "Gear A makes 9 turns clockwise.",
    );
    check(
        pair,
        &drive(mechanism::Link::Mesh),
        "Gear B: 9 turns × 12 ÷ 36 = 3 turns. Gear B turns the other way: anticlockwise.",
    );
    check(
        &["pulley A 12 mm drives pulley B 36 mm by crossed belt"],
        &drive(mechanism::Link::CrossedBelt),
        "Pulley B: 9 turns × 12 ÷ 36 = 3 turns. The crossed belt turns pulley B the other way: anticlockwise.",
    );
    check(
        pair,
        &step::Step::SameAxle { from: A, to: B },
        "Gear B is on one axle with gear A, so both turn together.",
    );
    check(
        &["gear A 12 drives rack R"],
        &step::Step::Drive {
            from: A,
            to: B,
            link: mechanism::Link::Mesh,
            from_size: exact("12"),
            to_size: number::Value::ZERO,
            before: None,
            after: None,
            sense_before: Some(mechanism::Sense::Clockwise),
            sense_after: Some(mechanism::Sense::Left),
        },
        "Rack R moves to the left.",
    );
}

#[test]
fn time_and_travel_are_said_the_way_they_were_used() {
    let over_time = step::Step::OverTime {
        part: A,
        rpm: exact("120"),
        minutes: plain("5"),
        turns: exact("600"),
    };
    check(
        &["gear A 12", "A runs at 120 rpm"],
        &over_time,
        "Gear A: 120 turns a minute × 5 minutes = 600 turns.",
    );
    check(
        &["gear A 12", "A turns 600"],
        &over_time,
        "Gear A: 600 turns ÷ 5 minutes = 120 turns a minute.",
    );
    let travel = step::Step::Travel {
        part: A,
        turns: exact("2"),
        diameter_mm: plain("40"),
        distance_mm: number::Value::PI.times(exact("80")).expect("fits"),
    };
    check(
        &["gear A 20 drives rack R", "A turns 2"],
        &travel,
        "Gear A: 2 turns × π × 40 mm = 80π mm (about 251.3 mm).",
    );
    let mechanism = notation::read(&["gear A 20 drives rack R"]).expect("well formed");
    let start = step::Step::Start {
        part: B,
        movement: Some(step::Movement {
            value: number::Value::PI.times(exact("80")).expect("fits"),
            unit: ask::Unit::Millimetres,
        }),
        sense: None,
    };
    assert_eq!(
        wording::steps(&mechanism, &[start, travel]),
        [
            "Rack R moves 80π mm.",
            "Gear A: 80π mm ÷ (π × 40 mm) = 2 turns."
        ]
    );
}

#[test]
fn force_is_said_with_its_arm_and_loss() {
    let winch = &[
        "handle H 300 mm, gear A 12 on one axle",
        "A drives gear B 36",
        "force 20 N at H",
    ];
    check(
        winch,
        &step::Step::ForceTimesArm {
            part: A,
            newtons: exact("20"),
            arm_mm: exact("300"),
            newton_cm: exact("600"),
        },
        "Turning force on handle H: 20 N × 30 cm = 600 N cm.",
    );
    check(
        winch,
        &step::Step::ForceAcross {
            from: B,
            to: C,
            before: exact("600"),
            after: exact("1620"),
            from_size: exact("12"),
            to_size: exact("36"),
            efficiency: plain("9/10"),
            flow: step::Flow::With,
        },
        "Turning force on gear B: 600 N cm × 36 ÷ 12 × 0.9 = 1620 N cm.",
    );
    check(
        &["gear B 36, drum D 80 mm on one axle"],
        &step::Step::ForceTimesArm {
            part: B,
            newtons: exact("150"),
            arm_mm: exact("40"),
            newton_cm: exact("600"),
        },
        "Force at drum D: 600 N cm ÷ 4 cm = 150 N.",
    );
}

#[test]
fn counts_and_sizes_are_said_the_way_they_were_found() {
    let pair = &["gear A 12 drives gear B ?"];
    check(
        pair,
        &step::Step::MissingCount {
            part: B,
            partner: A,
            partner_count: 12,
            partner_moves: exact("9"),
            part_moves: exact("3"),
            found: exact("36"),
        },
        "Gear B: 12 × 9 ÷ 3 = 36 teeth.",
    );
    check(
        pair,
        &step::Step::CountFromSum {
            part: B,
            partner: A,
            partner_count: 12,
            sum: plain("48"),
            found: plain("36"),
        },
        "Gear B: 48 - 12 = 36 teeth.",
    );
    let tip = step::Step::Diameter {
        part: A,
        tooth_size_mm: plain("2"),
        teeth: 20,
        extra_tooth_sizes: plain("2"),
        mm: plain("44"),
    };
    check(
        &["gear A 20", "tooth size 2 mm"],
        &tip,
        "Gear A: 2 mm × (20 + 2) = 44 mm.",
    );
    check(&["gear A 20"], &tip, "Gear A: 44 mm ÷ (20 + 2) = 2 mm.");
    let apart = step::Step::Distance {
        first: A,
        second: B,
        tooth_size_mm: plain("2"),
        teeth_sum: plain("60"),
        mm: plain("60"),
    };
    check(
        &["gear A 20 drives gear B 40", "tooth size 2 mm"],
        &apart,
        "Gear A and gear B: 2 mm × (20 + 40) ÷ 2 = 60 mm apart.",
    );
    check(
        &["gear A 20 drives gear B 40", "A and B 60 mm apart"],
        &apart,
        "Gear A and gear B: 60 mm × 2 ÷ (20 + 40) = 2 mm.",
    );
    check(
        &[
            "gear A 20 drives gear B ?",
            "tooth size 2 mm",
            "A and B 60 mm apart",
        ],
        &apart,
        "Gear A and gear B: 60 mm × 2 ÷ 2 mm = 60 teeth between them.",
    );
    check(
        pair,
        &step::Step::Stage {
            stages: 3,
            stage_ratio: plain("3"),
            total: plain("27"),
        },
        "3 stages: 3 × 3 × 3 = 27.",
    );
}

#[test]
fn reasons_are_said_in_plain_words() {
    let three = &["gear A 8 drives gear B 9 drives gear C 10"];
    check(
        three,
        &step::Step::CountMeshes {
            from: A,
            to: C,
            meshes: 2,
        },
        "From gear A to gear C the direction changes twice, an even number: they turn the same way.",
    );
    check(
        three,
        &step::Step::Loop {
            parts: vec![A, B, C],
            turns: false,
        },
        "Gear A, gear B and gear C form a closed loop; round it the movements do not agree, so it is locked.",
    );
    check(
        three,
        &step::Step::Role {
            part: B,
            driven_by: Some(A),
            drives: Some(C),
        },
        "Gear B is driven by gear A and drives gear C.",
    );
}

#[test]
fn a_planetary_set_is_said_with_signs() {
    let set = &[
        "gear S 20 drives gear P 20 drives ring R 60",
        "P rides on carrier C",
    ];
    check(
        set,
        &step::Step::OnCarrier {
            carrier: mechanism::PartId(3),
            from: A,
            to: B,
            from_size: exact("20"),
            to_size: exact("20"),
            carrier_moves: exact("1"),
            from_moves: exact("4"),
            to_moves: exact("-2"),
        },
        "Seen from carrier C, gear S makes 3 turns and gear P makes 3 × 20 ÷ 20 = 3 turns the other way. With the 1 turn clockwise of carrier C gear P makes 2 turns anticlockwise.",
    );
}
