//! A mechanism and what is given about it, in sentences.

use crate::gears::ask;
use crate::gears::mechanism;
use crate::wording::numbers;
use crate::wording::parts;
use std::collections::BTreeSet;

/// Returns what a mechanism is: a sentence for each axle, joint and loose part.
pub(crate) fn sentences(mechanism: &mechanism::Mechanism) -> Vec<String> {
    let mut teller = Teller {
        mechanism,
        told: BTreeSet::new(),
        axles_told: BTreeSet::new(),
        sentences: Vec::new(),
    };
    for joint in &mechanism.joints {
        teller.tell_axle(joint.first);
        teller.tell_joint(*joint);
    }
    for part in all(mechanism) {
        teller.tell_axle(part);
    }
    for part in all(mechanism) {
        teller.tell_loose(part);
    }
    teller.tell_riders();
    teller.tell_tooth_sizes();
    teller.sentences
}

struct Teller<'a> {
    mechanism: &'a mechanism::Mechanism,
    /// Parts whose size has been said.
    told: BTreeSet<mechanism::PartId>,
    axles_told: BTreeSet<mechanism::BodyId>,
    sentences: Vec<String>,
}

impl Teller<'_> {
    /// A part with its size the first time, then by name.
    fn mention(&mut self, part: mechanism::PartId) -> String {
        if self.told.insert(part) {
            parts::with_size(self.mechanism, part)
        } else {
            parts::name(self.mechanism, part)
        }
    }

    fn say(&mut self, sentence: &str) {
        self.sentences
            .push(format!("{}.", parts::capital(sentence)));
    }

    /// Tells the axle of a part, if it holds several and was not told before.
    fn tell_axle(&mut self, part: mechanism::PartId) {
        let Some(body) = body(self.mechanism, part) else {
            return;
        };
        let members: Vec<mechanism::PartId> = all(self.mechanism)
            .into_iter()
            .filter(|other| self::body(self.mechanism, *other) == Some(body))
            .collect();
        if members.len() > 1 && self.axles_told.insert(body) {
            let mentions: Vec<String> = members.iter().map(|it| self.mention(*it)).collect();
            self.say(&format!("{} are on one axle", parts::list(&mentions)));
        }
    }

    fn tell_joint(&mut self, joint: mechanism::Joint) {
        let first = self.mention(joint.first);
        let second = self.mention(joint.second);
        let verb = match (joint.link, joint.driver_named) {
            (_, true) => "drives",
            (mechanism::Link::Mesh, false) => "meshes with",
            (
                mechanism::Link::Chain | mechanism::Link::Belt | mechanism::Link::CrossedBelt,
                false,
            ) => "is joined to",
        };
        let by = match joint.link {
            mechanism::Link::Mesh => "",
            mechanism::Link::Chain => " by a chain",
            mechanism::Link::Belt => " by a belt",
            mechanism::Link::CrossedBelt => " by a crossed belt",
        };
        let above = [joint.first, joint.second]
            .into_iter()
            .filter_map(|part| self.mechanism.parts.get(usize::from(part.0)))
            .any(|part| part.kind == mechanism::Kind::Rack { above: true });
        let side = if above { "; the rack lies above" } else { "" };
        self.say(&format!("{first} {verb} {second}{by}{side}"));
    }

    fn tell_loose(&mut self, part: mechanism::PartId) {
        if !self.told.contains(&part) {
            let mention = self.mention(part);
            self.say(&format!("there is {mention}"));
        }
    }

    fn tell_riders(&mut self) {
        for (index, part) in self.mechanism.parts.iter().enumerate() {
            let Some(arm) = part.rides_on else { continue };
            let carrier = self
                .mechanism
                .parts
                .iter()
                .find(|other| other.body == arm && other.kind == mechanism::Kind::Carrier);
            if let (Some(carrier), Ok(index)) = (carrier, u16::try_from(index)) {
                let rider = parts::name(self.mechanism, mechanism::PartId(index));
                self.say(&format!("{rider} rides on carrier {}", carrier.name));
            }
        }
    }

    fn tell_tooth_sizes(&mut self) {
        let sized: Vec<(String, String)> = all(self.mechanism)
            .into_iter()
            .filter_map(|part| {
                let size = self
                    .mechanism
                    .parts
                    .get(usize::from(part.0))?
                    .tooth_size_mm?;
                Some((parts::name(self.mechanism, part), numbers::plain(size)))
            })
            .collect();
        let Some((_, first)) = sized.first() else {
            return;
        };
        if sized.iter().all(|(_, size)| size == first) {
            self.say(&format!("the tooth size is {first} mm"));
        } else {
            for (name, size) in &sized {
                self.say(&format!("the tooth size of {name} is {size} mm"));
            }
        }
    }
}

fn all(mechanism: &mechanism::Mechanism) -> Vec<mechanism::PartId> {
    (0..mechanism.parts.len())
        .filter_map(|index| u16::try_from(index).ok())
        .map(mechanism::PartId)
        .collect()
}

fn body(mechanism: &mechanism::Mechanism, part: mechanism::PartId) -> Option<mechanism::BodyId> {
    let part = mechanism.parts.get(usize::from(part.0))?;
    Some(part.body)
}

/// Returns one thing that is given, as a sentence.
pub(crate) fn given(mechanism: &mechanism::Mechanism, given: &mechanism::Given) -> String {
    let name = |part: &mechanism::PartId| parts::name(mechanism, *part);
    let said = match given {
        mechanism::Given::Motion {
            part,
            amount,
            sense,
        } => motion(mechanism, *part, *amount, *sense),
        mechanism::Given::Held(part) => format!("{} is held still", name(part)),
        mechanism::Given::Minutes(minutes) if *minutes == crate::number::Number::ONE => {
            "it runs for 1 minute".to_owned()
        }
        mechanism::Given::Minutes(minutes) => {
            format!("it runs for {} minutes", numbers::plain(*minutes))
        }
        mechanism::Given::Force { part, newtons } => {
            let newtons = numbers::plain(*newtons);
            match parts_kind(mechanism, *part) {
                "drum" => format!("a load of {newtons} N hangs from {}", name(part)),
                _ => format!("a force of {newtons} N acts at {}", name(part)),
            }
        }
        mechanism::Given::TurningForce { part, newton_cm } => format!(
            "a turning force of {} N cm acts on {}",
            numbers::plain(*newton_cm),
            name(part)
        ),
        mechanism::Given::Efficiency(share) => {
            format!("each mesh passes on {} of the work", numbers::plain(*share))
        }
        mechanism::Given::Apart { first, second, mm } => format!(
            "the axles of {} and {} are {} mm apart",
            name(first),
            name(second),
            numbers::plain(*mm)
        ),
        mechanism::Given::TakenOut { first, second } => format!(
            "the stage of {} and {} is taken out and their axles are joined",
            name(first),
            name(second)
        ),
    };
    format!("{}.", parts::capital(&said))
}

fn parts_kind(mechanism: &mechanism::Mechanism, part: mechanism::PartId) -> &'static str {
    mechanism
        .parts
        .get(usize::from(part.0))
        .map_or("part", |part| parts::kind(&part.kind))
}

/// Returns how a part moves, without capital and full stop.
pub(crate) fn motion(
    mechanism: &mechanism::Mechanism,
    part: mechanism::PartId,
    amount: Option<mechanism::Amount>,
    sense: Option<mechanism::Sense>,
) -> String {
    let name = parts::name(mechanism, part);
    let way = sense.map_or(String::new(), |sense| format!(" {}", parts::way(sense)));
    match amount {
        Some(mechanism::Amount::Turns(turns)) => {
            let turns = numbers::with_unit(turns.into(), ask::Unit::Turns);
            format!("{name} makes {turns}{way}")
        }
        Some(mechanism::Amount::Rpm(speed)) => {
            let speed = numbers::with_unit(speed.into(), ask::Unit::Rpm);
            format!("{name} makes {speed}{way}")
        }
        Some(mechanism::Amount::Millimetres(distance)) => {
            let distance = numbers::amount(distance, ask::Unit::Millimetres);
            let mover = match parts_kind(mechanism, part) {
                "drum" => format!("the string of {name} moves"),
                "wheel" => format!("{name} rolls"),
                _ => format!("{name} moves"),
            };
            format!("{mover} {distance}{way}")
        }
        None if parts::slides(mechanism, part) => format!("{name} moves{way}"),
        None => format!("{name} turns{way}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::gears::notation;

    #[test]
    fn a_mechanism_is_told_in_the_order_of_its_motion() {
        for (lines, told) in [
            (
                &[
                    "gear A 12 drives gear B 36",
                    "B, gear C 10 on one axle",
                    "C drives gear D ?",
                ][..],
                &[
                    "Gear A with 12 teeth drives gear B with 36 teeth.",
                    "Gear B and gear C with 10 teeth are on one axle.",
                    "Gear C drives gear D with an unknown number of teeth.",
                ][..],
            ),
            (
                &[
                    "handle H 300 mm, gear A 10 on one axle",
                    "A drives rack R above",
                    "motor M",
                    "tooth size 2 mm",
                ],
                &[
                    "Handle H (300 mm long) and gear A with 10 teeth are on one axle.",
                    "Gear A drives rack R; the rack lies above.",
                    "There is motor M.",
                    "The tooth size is 2 mm.",
                ],
            ),
            (
                &[
                    "gear S 20 drives gear P 20 drives ring R 60",
                    "P rides on carrier C",
                ],
                &[
                    "Gear S with 20 teeth drives gear P with 20 teeth.",
                    "Gear P drives ring gear R with 60 teeth.",
                    "There is carrier C.",
                    "Gear P rides on carrier C.",
                ],
            ),
        ] {
            let mechanism = notation::read(lines).expect("well formed");
            assert_eq!(sentences(&mechanism), told);
        }
    }

    #[test]
    fn givens_read_as_sentences() {
        let lines = [
            "gear A 12 drives rack R",
            "A, drum D 80 mm on one axle",
            "A turns 9 clockwise",
            "A runs at 60 rpm",
            "R moves 120 mm left",
            "R moves left",
            "R held still",
            "for 5 minutes",
            "force 20 N at D",
            "turning force 50 N cm on A",
            "efficiency 90 %",
        ];
        let mechanism = notation::read(&lines).expect("well formed");
        let told: Vec<String> = mechanism
            .givens
            .iter()
            .map(|it| given(&mechanism, it))
            .collect();
        assert_eq!(
            told,
            [
                "Gear A makes 9 turns clockwise.",
                "Gear A makes 60 turns a minute.",
                "Rack R moves 120 mm to the left.",
                "Rack R moves to the left.",
                "Rack R is held still.",
                "It runs for 5 minutes.",
                "A load of 20 N hangs from drum D.",
                "A turning force of 50 N cm acts on gear A.",
                "Each mesh passes on 0.9 of the work.",
            ]
        );
    }
}
