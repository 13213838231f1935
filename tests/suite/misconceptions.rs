//! The wrong solvers against exact predictions.
//!
//! Source: `tests/reference/malrule_vectors.csv`, 195 exact predictions made for
//! this project from the definitions alone (written as formulas), not from this
//! program.

use std::collections::BTreeMap;
use toothmark::gears::ask;
use toothmark::gears::mechanism;
use toothmark::gears::notation;
use toothmark::misconception;
use toothmark::number;

const VECTORS: &str = include_str!("../reference/malrule_vectors.csv");

/// One question of the vectors in our notation.
fn question(case: &str, inputs: &str) -> (Vec<String>, String) {
    let known: BTreeMap<&str, &str> = inputs
        .split(';')
        .filter_map(|pair| pair.split_once('='))
        .collect();
    let at = |name: &str| known.get(name).copied().expect("the input is there");
    match case {
        "pair_turns" => (
            vec![
                format!("gear A {} drives gear B {}", at("z1"), at("z2")),
                format!("A turns {}", at("n1")),
            ],
            "turns of B".to_owned(),
        ),
        "idler_turns" => (
            vec![
                format!(
                    "gear A {} drives gear B {} drives gear C {}",
                    at("z1"),
                    at("zi"),
                    at("z3")
                ),
                format!("A turns {}", at("n1")),
            ],
            "turns of C".to_owned(),
        ),
        "compound_turns" => (
            vec![
                format!("gear A {} drives gear B {}", at("z1"), at("z2")),
                format!("gear B {}, gear C {} on one axle", at("z2"), at("z3")),
                format!("gear C {} drives gear D {}", at("z3"), at("z4")),
                format!("A turns {}", at("n1")),
            ],
            "turns of D".to_owned(),
        ),
        "missing_teeth" => (
            vec![
                format!("gear A {} drives gear B ?", at("z1")),
                format!("A turns {}", at("n1")),
                format!("B turns {}", at("n2")),
            ],
            "teeth of B".to_owned(),
        ),
        "worm_turns" => (
            vec![
                format!("worm W {} starts drives gear B {}", at("starts"), at("zw")),
                format!("W turns {}", at("n1")),
            ],
            "turns of B".to_owned(),
        ),
        "direction_simple" => {
            let count: usize = at("gears").parse().expect("a count");
            let row: Vec<String> = (1..=count)
                .map(|index| format!("gear G{index} 12"))
                .collect();
            (
                vec![row.join(" drives "), "G1 turns clockwise".to_owned()],
                format!("direction of G{count}"),
            )
        }
        "direction_compound" => {
            let meshes: usize = at("meshes").parse().expect("a count");
            let mut lines: Vec<String> = (1..=meshes)
                .map(|index| format!("gear A{index} 12 drives gear B{index} 24"))
                .collect();
            lines.extend(
                (1..meshes)
                    .map(|index| format!("gear B{index} 24, gear A{} 12 on one axle", index + 1)),
            );
            lines.push("A1 turns clockwise".to_owned());
            (lines, format!("direction of B{meshes}"))
        }
        "rack_travel_in_pi_mm" => (
            vec![
                format!("gear P {} drives rack R", at("z")),
                format!("tooth size {} mm", at("m")),
                format!("P turns {}", at("turns")),
            ],
            "distance of R".to_owned(),
        ),
        "efficiency_percent" => {
            let stages: usize = at("stages").parse().expect("a count");
            let mut lines: Vec<String> = (1..=stages)
                .map(|index| format!("gear A{index} 20 drives gear B{index} 20"))
                .collect();
            lines.extend(
                (1..stages)
                    .map(|index| format!("gear B{index} 20, gear A{} 20 on one axle", index + 1)),
            );
            lines.push("turning force 100 N cm on A1".to_owned());
            lines.push(format!(
                "efficiency {}/100",
                at("each").trim_end_matches('%')
            ));
            (lines, format!("turning force of B{stages}"))
        }
        other => panic!("a kind of case not known: {other}"),
    }
}

/// Our id for a rule of the vectors; they name some rules after the kind of case.
fn id(rule: &str) -> &'static str {
    match rule {
        "M01_inverted" => "ratio-upside-down",
        "M02a_additive_right_sense" => "teeth-difference",
        "M02b_additive_wrong_sense" => "teeth-difference-added",
        "M03_same_speed" | "M03_same_teeth" => "same-speed",
        "M17a_teeth_plus_one_both" | "M17b_driver_plus_one" | "M17c_driven_plus_one" => {
            "miscounts-by-one"
        }
        "M18a_squared" => "ratio-twice",
        "M18b_radius_for_diameter_half" | "M18c_radius_for_diameter_double" => "half-or-double",
        "M28_whole_turns_only" => "whole-turns-only",
        "M07_stop_at_idler" => "stops-at-idler",
        "M08_idler_as_driver" => "starts-at-idler",
        "M09_fresh_ratio_each" => "first-gear-each-time",
        "M10_sum_of_ratios" => "adds-meshes",
        "M11_first_stage_only" => "first-stage-only",
        "M12_last_stage_only" => "last-stage-only",
        "M13_sum_of_stages" => "adds-stages",
        "M14_as_simple_train" => "shared-axle-overlooked",
        "M16_second_stage_inverted" => "second-stage-upside-down",
        "M20a_starts_ignored" => "worm-starts-ignored",
        "M20b_starts_multiply_ratio" => "worm-starts-slow-down",
        "M20c_worm_as_idler" => "worm-like-plain-gear",
        "M05_always_same" => "same-direction",
        "M05b_always_opposite" => "always-opposite",
        "M06_parity_by_gear_count" => "odd-and-even-swapped",
        "M15_reversal_on_shared_axle" => "turns-round-on-axle",
        "M21a_radius" => "radius-for-diameter",
        "M21b_outside_diameter" => "outside-diameter",
        "M21c_ignored_turns" => "one-turn-only",
        "M24a_subtract_losses" => "losses-subtracted",
        "M24b_single_stage_only" | "M24c_average" => "losses-of-one-mesh",
        other => panic!("a rule not known: {other}"),
    }
}

/// Whether a fact is the value that the vectors write.
fn is_value(fact: &ask::Fact, case: &str, written: &str) -> bool {
    let sense = |sense| *fact == ask::Fact::Sense(sense);
    match written {
        "CW" => return sense(mechanism::Sense::Clockwise),
        "ACW" => return sense(mechanism::Sense::Anticlockwise),
        _ => {}
    }
    let factor: number::Number = written.parse().expect("a fraction");
    let pi_power = i8::from(case == "rack_travel_in_pi_mm" && !factor.is_zero());
    matches!(fact, ask::Fact::Quantity { value, .. }
        if *value == number::Value { factor, pi_power })
}

#[test]
fn every_exact_prediction_is_ours_too() {
    let mut right = 0;
    let mut predicted = 0;
    let mut not_there = Vec::new();
    let mut right_values: BTreeMap<(&str, &str), &str> = BTreeMap::new();
    for line in VECTORS.lines().skip(1) {
        let cells: Vec<&str> = line.split(',').collect();
        let [case, inputs, rule, written] = cells[..] else {
            panic!("not four cells: {line}");
        };
        let (lines, asked) = question(case, inputs);
        let lines: Vec<&str> = lines.iter().map(String::as_str).collect();
        let mechanism = notation::read(&lines).expect("the test's own mechanism");
        let ask = notation::read_ask(&asked, &mechanism).expect("the test's own question");
        if rule == "CORRECT" {
            right_values.insert((case, inputs), written);
            let worked =
                toothmark::gears::solve::answer(&mechanism, &ask).expect("it can be solved");
            assert!(
                is_value(&worked.fact, case, written),
                "{line}: {:?}",
                worked.fact
            );
            right += 1;
            continue;
        }
        let ours: Vec<_> = misconception::predictions(&mechanism, &ask)
            .into_iter()
            .filter(|prediction| prediction.misconception.id == id(rule))
            .collect();
        if ours.is_empty() {
            // Where a rule cannot show (one start to overlook, no part of a turn to
            // leave off, no shared axle), it must predict the right answer.
            assert_eq!(right_values.get(&(case, inputs)), Some(&written), "{line}");
            not_there.push(format!("{case} {rule}"));
        } else {
            assert!(
                ours.iter()
                    .any(|prediction| is_value(&prediction.fact, case, written)),
                "{line}: ours say {ours:?}"
            );
            predicted += 1;
        }
    }
    assert_eq!(right + predicted + not_there.len(), 195);
    not_there.sort();
    not_there.dedup();
    assert_eq!(
        not_there,
        [
            "direction_compound M15_reversal_on_shared_axle",
            "pair_turns M28_whole_turns_only",
            "worm_turns M20a_starts_ignored",
            "worm_turns M20b_starts_multiply_ratio",
        ]
    );
}
