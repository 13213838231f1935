//! What explains answers, mechanism by mechanism, as said by hand.

use super::*;
use crate::gears::notation;
use crate::gears::solve;

/// Two stages, joined by an axle.
const GEARBOX: &[&str] = &[
    "gear A 10 drives gear B 40",
    "gear B 40, gear C 10 on one axle",
    "gear C 10 drives gear D 40",
];

fn reasons(lines: &[&str], asked: &str) -> idea::Reasons {
    let mechanism = notation::read(lines).expect("the test's own mechanism");
    let ask = notation::read_ask(asked, &mechanism).expect("the test's own question");
    match solve::answer(&mechanism, &ask)
        .expect("it can be explained")
        .fact
    {
        ask::Fact::Reasons(reasons) => reasons,
        ask::Fact::Quantity { .. }
        | ask::Fact::Ratio(..)
        | ask::Fact::Sense(_)
        | ask::Fact::YesNo(_)
        | ask::Fact::Which(_)
        | ask::Fact::Name(_)
        | ask::Fact::Job(_)
        | ask::Fact::Choices(_) => panic!("an explanation was asked for"),
    }
}

fn check(lines: &[&str], asked: &str, key: &str) {
    let ids: Vec<&str> = reasons(lines, asked)
        .key
        .iter()
        .map(|idea| idea.id())
        .collect();
    assert_eq!(ids.join(" "), key, "{lines:?} {asked}");
}

#[test]
fn speeds_are_explained_by_what_joins_the_two() {
    let pair = "gear A 8 drives gear B 16";
    check(
        &[pair],
        "why faster of A, B",
        "smaller-faster teeth-give-times teeth-pass-alike",
    );
    check(
        &["gear A 12 drives gear B 12"],
        "why faster of A, B",
        "same-size-same-speed teeth-pass-alike",
    );
    check(
        &["gear B 36, gear C 12 on one axle"],
        "why faster of B, C",
        "one-axle-together",
    );
    check(
        &["gear A 12 drives gear B 30 drives gear C 12"],
        "why faster of A, C",
        "same-size-same-speed teeth-pass-alike between-keeps-speed",
    );
    check(
        &[
            "gear A 10 drives gear B 40",
            "gear B 40, gear C 10 on one axle",
            "gear C 10 drives gear D 40",
        ],
        "why faster of A, D",
        "stages-build-up one-axle-together teeth-give-times smaller-faster",
    );
    // The gear that is faster here is not the smaller one: its size is no reason.
    check(
        &[
            "gear A 30 drives gear B 10",
            "gear B 10, gear C 40 on one axle",
            "gear C 40 drives gear D 36",
        ],
        "why faster of A, D",
        "stages-build-up one-axle-together teeth-give-times",
    );
    check(
        &["worm W 1 start drives gear B 40"],
        "why faster of W, B",
        "worm-tooth-by-tooth teeth-give-times",
    );
    check(
        &[pair],
        "why stronger of A, B",
        "bigger-stronger slower-stronger teeth-give-times",
    );
    check(
        GEARBOX,
        "why stronger of A, D",
        "bigger-stronger slower-stronger teeth-give-times stages-build-up",
    );
}

#[test]
fn directions_are_explained_by_what_the_way_goes_over() {
    for (lines, asked, key) in [
        (
            &["gear A 8 drives gear B 12", "A turns clockwise"][..],
            "why direction of B",
            "mesh-opposite teeth-push",
        ),
        (
            &["gear A 8 drives gear B 12 drives gear C 8"],
            "why same way A, C",
            "mesh-opposite between-turns-back odd-even",
        ),
        (
            &["gear A 8 drives gear B 12 drives gear C 8 drives gear D 9"],
            "why same way A, D",
            "mesh-opposite odd-even",
        ),
        (
            &["sprocket A 40 drives sprocket B 10 by chain"],
            "why same way A, B",
            "chain-keeps",
        ),
        (
            &["pulley A 60 mm drives pulley B 30 mm by crossed belt"],
            "why same way A, B",
            "crossed-turns",
        ),
        (
            &["gear P 12 drives ring R 60"],
            "why same way P, R",
            "ring-keeps",
        ),
        (
            &["gear P 12 drives rack R", "P turns clockwise"],
            "why direction of R",
            "rack-along teeth-push",
        ),
        (
            &["gear B 36, gear C 12 on one axle"],
            "why same way B, C",
            "one-axle-together",
        ),
        // Two meshes, but no gear between: an axle joins them.
        (
            GEARBOX,
            "why same way A, D",
            "mesh-opposite odd-even one-axle-together",
        ),
    ] {
        check(lines, asked, key);
    }
}

#[test]
fn whether_it_turns_is_explained_by_loops_rows_sizes_and_worms() {
    for (lines, key) in [
        (
            &[
                "gear A 12 drives gear B 12 drives gear C 12",
                "C meshes with A",
            ][..],
            "odd-loop both-ways-at-once mesh-opposite",
        ),
        (
            &[
                "gear A 12 drives gear B 12 drives gear C 12 drives gear D 12",
                "D meshes with A",
            ],
            "even-loop mesh-opposite",
        ),
        (
            &["gear A 8 drives gear B 10 drives gear C 8"],
            "open-row teeth-push mesh-opposite",
        ),
        (
            &[
                "gear A 12 drives gear B 24",
                "tooth size 2 mm on A",
                "tooth size 3 mm on B",
                "A turns 4",
            ],
            "tooth-sizes-differ",
        ),
        (&["gear B 40 drives worm W 1 start"], "worm-not-driven"),
    ] {
        check(lines, "why will it turn", key);
    }
}

#[test]
fn one_axle_is_true_beside_the_reason_only_where_there_is_one() {
    for (lines, is_there) in [(GEARBOX, true), (&["gear A 8 drives gear B 16"][..], false)] {
        let beside = reasons(lines, "why will it turn").beside;
        let found = beside.contains(&Idea::OneAxleTogether);
        assert_eq!(found, is_there, "{lines:?}: {beside:?}");
    }
}

#[test]
fn teeth_push_only_where_teeth_mesh() {
    let chain = [
        "sprocket A 10 drives sprocket B 20 by chain",
        "A turns clockwise",
    ];
    let gears = ["gear A 10 drives gear B 20", "A turns clockwise"];
    for (lines, is_there) in [(&chain, false), (&gears, true)] {
        let beside = reasons(lines, "why same way A, B").beside;
        assert_eq!(beside.contains(&Idea::TeethPush), is_there, "{lines:?}");
        let key = reasons(lines, "why direction of B").key;
        assert_eq!(key.contains(&Idea::TeethPush), is_there, "{lines:?}");
    }
}

#[test]
fn every_idea_says_something_of_its_own() {
    let names: std::collections::BTreeSet<&str> = Idea::all().map(Idea::name).collect();
    assert_eq!(names.len(), Idea::all().count());
    assert!(names.iter().all(|name| name.contains(' ')), "{names:?}");
}

#[test]
fn how_many_times_and_how_often_it_changes_are_told() {
    let row = reasons(
        &[
            "gear A 10 drives gear B 20 drives gear C 40",
            "A turns clockwise",
        ],
        "why same way A, C",
    );
    assert_eq!(row.ground.changes, 2);
    let names: Vec<usize> = row.ground.along.iter().map(|part| part.index()).collect();
    assert_eq!(names, [0, 1, 2]);
    let gearbox = reasons(
        &[
            "gear A 10 drives gear B 40",
            "gear B 40, gear C 10 on one axle",
            "gear C 10 drives gear D 30",
        ],
        "why faster of A, D",
    );
    let times: Vec<String> = gearbox
        .ground
        .times
        .iter()
        .map(ToString::to_string)
        .collect();
    assert_eq!(times, ["4", "3", "12"]);
}

#[test]
fn what_no_idea_explains_is_refused() {
    let lines = [
        "gear S 20 drives gear P 20 drives ring R 60",
        "gear P 20 rides on carrier C",
        "R held still",
        "S turns 4",
    ];
    let mechanism = notation::read(&lines).expect("the test's own mechanism");
    let ask = notation::read_ask("why faster of S, C", &mechanism).expect("a question");
    assert!(solve::answer(&mechanism, &ask).is_err());
}
