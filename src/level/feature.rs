//! What a mechanism and a question have in them that a level may allow.

use crate::gears::ask;
use crate::gears::mechanism;
use crate::level;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

/// Something about a mechanism that a pupil must know to see through it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Feature {
    /// Gears in a row, with one between.
    Idlers,
    /// A ring of gears that closes on itself.
    Loop,
    /// Two gears on one axle that both mesh.
    Compound,
    /// A worm.
    Worm,
    /// Bevel gears.
    Bevel,
    /// A ring gear.
    Ring,
    /// A chain or a belt.
    ChainOrBelt,
    /// A rack.
    Rack,
    /// A winch drum.
    Drum,
    /// A wheel that rolls on the ground.
    Roller,
    /// A planetary set.
    Planetary,
    /// Tooth sizes, or axles a stated distance apart.
    ToothSize,
    /// A speed over a stated time.
    Time,
    /// A stage that is taken out.
    TakenOut,
    /// A turning force.
    TurningForce,
    /// A force at a handle, a rack or a drum.
    Force,
    /// Work lost at each mesh.
    Efficiency,
}

impl Feature {
    /// What it is called in a message.
    #[must_use]
    pub fn text(self) -> &'static str {
        match self {
            Self::Idlers => "an idler",
            Self::Loop => "a closed ring of gears",
            Self::Compound => "two gears that mesh on one axle",
            Self::Worm => "a worm",
            Self::Bevel => "a bevel gear",
            Self::Ring => "a ring gear",
            Self::ChainOrBelt => "a chain or belt",
            Self::Rack => "a rack",
            Self::Drum => "a winch drum",
            Self::Roller => "a rolling wheel",
            Self::Planetary => "a planetary set",
            Self::ToothSize => "a tooth size or a centre distance",
            Self::Time => "a running time",
            Self::TakenOut => "a stage taken out",
            Self::TurningForce => "a turning force",
            Self::Force => "a force",
            Self::Efficiency => "an efficiency",
        }
    }

    /// The lowest level at which a question without calculation may show it,
    /// and the lowest at which it may be calculated with.
    fn first_levels(self) -> (u8, u8) {
        match self {
            Self::Idlers => (1, 4),
            Self::Loop => (3, 3),
            Self::ChainOrBelt => (2, 5),
            Self::Compound => (5, 6),
            Self::ToothSize => (1, 6),
            Self::Worm | Self::Time | Self::TakenOut | Self::TurningForce => (4, 6),
            Self::Bevel | Self::Ring | Self::Rack | Self::Drum | Self::Roller | Self::Force => {
                (4, 7)
            }
            Self::Efficiency | Self::Planetary => (8, 8),
        }
    }

    /// The lowest level that allows it in this question.
    ///
    /// A part may be named at any level, whatever it is, and looked at in a
    /// question without calculation some levels before it is calculated with.
    #[must_use]
    pub fn first_level(self, ask: &ask::Ask) -> level::Level {
        let (shown, calculated) = self.first_levels();
        let number = if is_calculated(ask) {
            calculated
        } else if matches!(ask, ask::Ask::Name(_)) {
            1
        } else {
            shown
        };
        level::Level::new(number).expect("the table holds levels")
    }
}

/// Whether the answer to a question is calculated: a number, a ratio, a choice.
#[must_use]
pub fn is_calculated(ask: &ask::Ask) -> bool {
    match ask {
        ask::Ask::Direction(_)
        | ask::Ask::SameWay(..)
        | ask::Ask::Faster(..)
        | ask::Ask::Stronger(..)
        | ask::Ask::WillItTurn
        | ask::Ask::Name(_)
        | ask::Ask::Job(_)
        | ask::Ask::Why(_) => false,
        ask::Ask::Turns(_)
        | ask::Ask::Speed(_)
        | ask::Ask::TurnsRatio(..)
        | ask::Ask::TeethRatio(..)
        | ask::Ask::Teeth(_)
        | ask::Ask::Starts(_)
        | ask::Ask::Force(_)
        | ask::Ask::TurningForce(_)
        | ask::Ask::Distance(_)
        | ask::Ask::CentreDistance(..)
        | ask::Ask::PitchDiameter(_)
        | ask::Ask::TipDiameter(_)
        | ask::Ask::RootDiameter(_)
        | ask::Ask::ToothSize(_)
        | ask::Ask::Stages(_)
        | ask::Ask::MeetAgain(..)
        | ask::Ask::Choose { .. } => true,
    }
}

/// Returns the lowest level at which a question of this kind may be asked.
#[must_use]
pub fn first_level_of(ask: &ask::Ask) -> level::Level {
    let number = match ask {
        ask::Ask::Name(_) | ask::Ask::Job(_) | ask::Ask::WillItTurn | ask::Ask::Turns(_) => 1,
        ask::Ask::Direction(_) | ask::Ask::SameWay(..) | ask::Ask::Faster(..) => 2,
        ask::Ask::Stronger(..) | ask::Ask::Choose { .. } => 4,
        ask::Ask::TurnsRatio(..)
        | ask::Ask::TeethRatio(..)
        | ask::Ask::Teeth(_)
        | ask::Ask::MeetAgain(..) => 5,
        ask::Ask::Speed(_)
        | ask::Ask::Starts(_)
        | ask::Ask::TurningForce(_)
        | ask::Ask::CentreDistance(..)
        | ask::Ask::PitchDiameter(_)
        | ask::Ask::ToothSize(_)
        | ask::Ask::Stages(_) => 6,
        ask::Ask::Force(_)
        | ask::Ask::Distance(_)
        | ask::Ask::TipDiameter(_)
        | ask::Ask::RootDiameter(_) => 7,
        // A sentence of one's own comes after the first words, and after the answer
        // that it explains.
        ask::Ask::Why(explained) => {
            let answered = first_level_of(&explained.ask());
            return answered.max(level::Level::new(2).expect("2 is a level"));
        }
    };
    level::Level::new(number).expect("the table holds levels")
}

/// Returns everything about a mechanism that a level may allow or not.
#[must_use]
pub fn features(mechanism: &mechanism::Mechanism) -> BTreeSet<Feature> {
    let mut found = BTreeSet::new();
    for part in &mechanism.parts {
        match part.kind {
            mechanism::Kind::Ring { .. } => found.insert(Feature::Ring),
            mechanism::Kind::Bevel { .. } => found.insert(Feature::Bevel),
            mechanism::Kind::Worm { .. } => found.insert(Feature::Worm),
            mechanism::Kind::Rack { .. } => found.insert(Feature::Rack),
            mechanism::Kind::Sprocket { .. } | mechanism::Kind::Pulley { .. } => {
                found.insert(Feature::ChainOrBelt)
            }
            mechanism::Kind::Drum { .. } => found.insert(Feature::Drum),
            mechanism::Kind::Roller { .. } => found.insert(Feature::Roller),
            mechanism::Kind::Carrier => found.insert(Feature::Planetary),
            mechanism::Kind::Gear { .. }
            | mechanism::Kind::Handle { .. }
            | mechanism::Kind::Motor
            | mechanism::Kind::Dynamo => false,
        };
        if part.tooth_size_mm.is_some() {
            found.insert(Feature::ToothSize);
        }
    }
    for given in &mechanism.givens {
        match given {
            mechanism::Given::Minutes(_) => found.insert(Feature::Time),
            mechanism::Given::Force { .. } => found.insert(Feature::Force),
            mechanism::Given::TurningForce { .. } => found.insert(Feature::TurningForce),
            mechanism::Given::Efficiency(_) => found.insert(Feature::Efficiency),
            mechanism::Given::Apart { .. } => found.insert(Feature::ToothSize),
            mechanism::Given::TakenOut { .. } => found.insert(Feature::TakenOut),
            mechanism::Given::Motion { .. } | mechanism::Given::Held(_) => false,
        };
    }
    joined_features(mechanism, &mut found);
    found
}

/// Adds what shows only in how the parts are joined.
fn joined_features(mechanism: &mechanism::Mechanism, found: &mut BTreeSet<Feature>) {
    let mut joints_of_part: BTreeMap<mechanism::PartId, u32> = BTreeMap::new();
    let mut joined_on_body: BTreeMap<mechanism::BodyId, BTreeSet<mechanism::PartId>> =
        BTreeMap::new();
    let body = |id: mechanism::PartId| mechanism.parts.get(usize::from(id.0)).map(|part| part.body);
    // Bodies already joined to each other, each under the lowest of them.
    let mut group: BTreeMap<mechanism::BodyId, mechanism::BodyId> = BTreeMap::new();
    for joint in &mechanism.joints {
        for part in [joint.first, joint.second] {
            *joints_of_part.entry(part).or_default() += 1;
            if let Some(body) = body(part) {
                joined_on_body.entry(body).or_default().insert(part);
                group.entry(body).or_insert(body);
            }
        }
        let ends = body(joint.first)
            .and_then(|body| group.get(&body).copied())
            .zip(body(joint.second).and_then(|body| group.get(&body).copied()));
        if let Some((first, second)) = ends {
            if first == second {
                found.insert(Feature::Loop);
            }
            for entry in group.values_mut().filter(|entry| **entry == second) {
                *entry = first;
            }
        }
    }
    let planetary = found.contains(&Feature::Planetary);
    if joints_of_part.values().any(|&count| count > 1) && !planetary {
        found.insert(Feature::Idlers);
    }
    if joined_on_body.values().any(|parts| parts.len() > 1) {
        found.insert(Feature::Compound);
    }
}

/// How many gears, sprockets and pulleys there are to look at.
#[must_use]
pub fn gear_count(mechanism: &mechanism::Mechanism) -> usize {
    mechanism
        .parts
        .iter()
        .filter(|part| match part.kind {
            mechanism::Kind::Gear { .. }
            | mechanism::Kind::Ring { .. }
            | mechanism::Kind::Bevel { .. }
            | mechanism::Kind::Worm { .. }
            | mechanism::Kind::Rack { .. }
            | mechanism::Kind::Sprocket { .. }
            | mechanism::Kind::Pulley { .. } => true,
            mechanism::Kind::Handle { .. }
            | mechanism::Kind::Drum { .. }
            | mechanism::Kind::Roller { .. }
            | mechanism::Kind::Motor
            | mechanism::Kind::Dynamo
            | mechanism::Kind::Carrier => false,
        })
        .count()
}

/// How many teeth a part has, where it has teeth all round and they are given.
#[must_use]
pub fn teeth(part: &mechanism::Part) -> Option<u32> {
    let count = match part.kind {
        mechanism::Kind::Gear { teeth }
        | mechanism::Kind::Ring { teeth }
        | mechanism::Kind::Bevel { teeth }
        | mechanism::Kind::Sprocket { teeth } => teeth,
        mechanism::Kind::Worm { .. }
        | mechanism::Kind::Rack { .. }
        | mechanism::Kind::Pulley { .. }
        | mechanism::Kind::Handle { .. }
        | mechanism::Kind::Drum { .. }
        | mechanism::Kind::Roller { .. }
        | mechanism::Kind::Motor
        | mechanism::Kind::Dynamo
        | mechanism::Kind::Carrier => return None,
    };
    match count {
        mechanism::Count::Known(teeth) => Some(teeth),
        mechanism::Count::Unknown => None,
    }
}
