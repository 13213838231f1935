//! What to take care of, by what a mechanism holds.
//!
//! Source: common practice in schools, no single source; a school's own risk assessment
//! and local rules come first, which every card says.

use crate::gears::mechanism;
use crate::level;

/// Something to take care of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Caution {
    /// Fingers, hair and clothes near what turns.
    Turning,
    /// Slowly and by hand first.
    SlowFirst,
    /// Stop before changing anything.
    StopFirst,
    /// Belts and chains run in where fingers are drawn in.
    RunningIn,
    /// A rack slides and pinches.
    Sliding,
    /// A worm goes on turning quietly, and holds what it lifts.
    Worm,
    /// Cells only.
    Electricity,
    /// Short circuits and hot wires.
    ShortCircuit,
    /// Which cells are kept away.
    Cells,
    /// Disconnect before changing gears.
    Disconnect,
    /// What hangs may fall.
    Hanging,
    /// What hangs stays light, and nobody is lifted.
    LightLoad,
    /// A handle under load may spin back.
    SpinsBack,
    /// What flies off.
    Goggles,
    /// Small parts and the youngest.
    SmallParts,
}

/// What every card says last.
pub const DEFERS: &str =
    "These notes approve nothing: your school's own risk assessment and local rules come first.";

/// What every pupil's card says last of all cautions.
pub const TO_PUPILS: &str = "What your teacher says comes first.";

/// Where a teacher may look for guidance.
pub const WHERE_TO_LOOK: &str = "Places to look for guidance: your employer's code of practice, CLEAPSS, SSERC in Scotland, the ASE's \"Be Safe!\" for ages 4 to 12, and BS 4163 for design and technology. None of them has seen or approved these cards.";

impl Caution {
    /// What is said to pupils.
    #[must_use]
    pub fn to_pupils(self) -> &'static str {
        match self {
            Self::Turning => {
                "Keep fingers, hair and loose clothes away from turning gears. Tie long hair back."
            }
            Self::SlowFirst => "Turn by hand, slowly, before anything else.",
            Self::StopFirst => "Stop everything before you touch or change a part.",
            Self::RunningIn => "Keep fingers away from where the belt or chain meets its wheel.",
            Self::Sliding => "Keep fingers away from the ends of the sliding rack.",
            Self::Worm => "Keep fingers off the worm: it can draw them in.",
            Self::Electricity => "Use only the battery box that you are given. Never use a plug.",
            Self::ShortCircuit => {
                "Never join the two ends of a battery. Hot wire? Switch off and tell an adult."
            }
            Self::Cells => "Leave the batteries in their box.",
            Self::Disconnect => "Take the battery off before you change a gear.",
            Self::Hanging => {
                "Keep feet and hands out from under what hangs. Put the catch box below."
            }
            Self::LightLoad => "Lift only the load that you are given. Never lift a person.",
            Self::SpinsBack => "Hold the handle while something hangs. It may spin back.",
            Self::Goggles => "Wear goggles.",
            Self::SmallParts => {
                "Small parts stay on the table, never in your mouth. Count them back in."
            }
        }
    }

    /// What is said to the teacher.
    #[must_use]
    pub fn to_the_teacher(self) -> &'static str {
        match self {
            Self::Turning => {
                "Fingers, long hair, lanyards, ties, scarves and sleeves stay away from what turns: tie back, tuck in, take off."
            }
            Self::SlowFirst => {
                "Turn slowly and by hand first; look at a whole turn before going faster."
            }
            Self::StopFirst => "Stop, or guard, before anything is adjusted.",
            Self::RunningIn => "A belt or chain draws fingers in where it runs on to its wheel.",
            Self::Sliding => "A rack pinches at both ends of its way, and where its gear meets it.",
            Self::Worm => {
                "A worm draws in where it meets its gear, and holds a load when it stops."
            }
            Self::Electricity => {
                "Low-voltage cells only; nothing connected to the mains, and no mains adaptor that pupils plug in."
            }
            Self::ShortCircuit => {
                "A short circuit heats wires and cells: check each circuit before it is switched on. Where your guidance says so, use zinc-type cells rather than alkaline or rechargeable ones."
            }
            Self::Cells => {
                "No loose lithium cells; button cells locked away, since swallowing one is an emergency."
            }
            Self::Disconnect => "Disconnect the cells before any gear is changed.",
            Self::Hanging => {
                "A catch box under what hangs, with something soft in it; feet and hands clear."
            }
            Self::LightLoad => {
                "Cap the load: some hundred grams are plenty. Nobody is lifted, ever."
            }
            Self::SpinsBack => {
                "A handle spins back when it is let go under load: lower the load first."
            }
            Self::Goggles => "Goggles where string, belts or fast parts may fly off.",
            Self::SmallParts => {
                "Small parts with the youngest: count out, count in, none in mouths."
            }
        }
    }
}

/// Returns everything to take care of with a mechanism, always in the same order.
///
/// What turns is always said; the others go by the parts, and small parts by the lowest
/// level that the task is for.
#[must_use]
pub fn cautions(mechanism: &mechanism::Mechanism, levels: &[level::Level]) -> Vec<Caution> {
    let has = |is: fn(&mechanism::Kind) -> bool| mechanism.parts.iter().any(|part| is(&part.kind));
    let motor = has(|kind| matches!(kind, mechanism::Kind::Motor));
    let dynamo = has(|kind| matches!(kind, mechanism::Kind::Dynamo));
    let worm = has(|kind| matches!(kind, mechanism::Kind::Worm { .. }));
    let rack = has(|kind| matches!(kind, mechanism::Kind::Rack { .. }));
    let drum = has(|kind| matches!(kind, mechanism::Kind::Drum { .. }));
    let strand = mechanism.joints.iter().any(|joint| match joint.link {
        mechanism::Link::Chain | mechanism::Link::Belt | mechanism::Link::CrossedBelt => true,
        mechanism::Link::Mesh => false,
    });
    let loaded = mechanism.givens.iter().any(|given| match given {
        mechanism::Given::Force { .. } | mechanism::Given::TurningForce { .. } => true,
        mechanism::Given::Motion { .. }
        | mechanism::Given::Held(_)
        | mechanism::Given::Minutes(_)
        | mechanism::Given::Efficiency(_)
        | mechanism::Given::Apart { .. }
        | mechanism::Given::TakenOut { .. } => false,
    });
    let hanging = drum || loaded;
    let electric = motor || dynamo;
    let youngest = level::Level::new(2).is_some_and(|two| levels.iter().any(|level| *level <= two));
    [
        (Caution::Turning, true),
        (Caution::SlowFirst, true),
        (Caution::StopFirst, true),
        (Caution::RunningIn, strand),
        (Caution::Sliding, rack),
        (Caution::Worm, worm),
        (Caution::Electricity, electric),
        (Caution::ShortCircuit, electric),
        (Caution::Cells, electric),
        (Caution::Disconnect, electric),
        (Caution::Hanging, hanging),
        (Caution::LightLoad, hanging),
        (Caution::SpinsBack, hanging && !worm),
        (Caution::Goggles, hanging || strand || electric),
        (Caution::SmallParts, youngest),
    ]
    .into_iter()
    .filter(|(_, applies)| *applies)
    .map(|(caution, _)| caution)
    .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::gears::notation;

    fn check(lines: &[&str], level: u8, wanted: &[Caution], unwanted: &[Caution]) {
        let mechanism = notation::read(lines).expect("well formed");
        let found = cautions(&mechanism, &[level::Level::new(level).expect("a level")]);
        for always in [Caution::Turning, Caution::SlowFirst, Caution::StopFirst] {
            assert!(found.contains(&always), "{lines:?}");
        }
        for caution in wanted {
            assert!(found.contains(caution), "{caution:?}: {lines:?}");
        }
        for caution in unwanted {
            assert!(!found.contains(caution), "{caution:?}: {lines:?}");
        }
    }

    #[test]
    fn cautions_go_by_what_the_mechanism_holds() {
        check(
            &[
                "handle H, gear A 12 on one axle",
                "gear A 12 drives gear B 36",
            ],
            4,
            &[],
            &[
                Caution::Electricity,
                Caution::Hanging,
                Caution::SmallParts,
                Caution::Goggles,
            ],
        );
        check(
            &["motor M, gear A 8 on one axle", "gear A 8 drives gear B 40"],
            6,
            &[
                Caution::Electricity,
                Caution::ShortCircuit,
                Caution::Cells,
                Caution::Disconnect,
                Caution::Goggles,
            ],
            &[Caution::Hanging],
        );
        check(
            &[
                "gear A 40 drives gear B 8",
                "gear B 8, dynamo D on one axle",
            ],
            6,
            &[Caution::Electricity, Caution::Disconnect],
            &[],
        );
        check(
            &["handle H 100 mm, drum D 40 mm on one axle"],
            7,
            &[
                Caution::Hanging,
                Caution::LightLoad,
                Caution::SpinsBack,
                Caution::Goggles,
            ],
            &[Caution::Electricity],
        );
        check(
            &["pulley A 30 mm drives pulley B 60 mm by crossed belt"],
            5,
            &[Caution::RunningIn, Caution::Goggles],
            &[],
        );
        check(&["gear P 12 drives rack R"], 4, &[Caution::Sliding], &[]);
        check(
            &["worm W 1 start drives gear B 20"],
            6,
            &[Caution::Worm],
            &[],
        );
        check(
            &["gear A 8 drives gear B 12"],
            2,
            &[Caution::SmallParts],
            &[],
        );
        check(
            &["gear A 8 drives gear B 12"],
            3,
            &[],
            &[Caution::SmallParts],
        );
    }

    #[test]
    fn the_last_sentence_defers_and_approves_nothing() {
        assert!(DEFERS.contains("risk assessment and local rules come first"));
        assert!(WHERE_TO_LOOK.contains("None of them has seen or approved"));
    }
}
