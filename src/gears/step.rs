//! The steps of a worked solution, as values; the words are said elsewhere.

use crate::gears::ask;
use crate::gears::mechanism;
use crate::number;

/// How much a part of a step moves: turns, or turns a minute, or millimetres.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Movement {
    /// The exact amount, never negative.
    pub value: number::Value,
    /// Turns, rpm or millimetres.
    pub unit: ask::Unit,
}

/// Whether a step goes the way the work flows, from drive to driven, or back.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Flow {
    /// From drive to driven: losses make the force smaller.
    With,
    /// From driven back to drive: losses make the force needed larger.
    Against,
}

/// One line of a worked solution.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Step {
    /// What is given (or, for a ratio, supposed) about a part at the start.
    Start {
        /// The part.
        part: mechanism::PartId,
        /// How much it moves, where that matters to the question.
        movement: Option<Movement>,
        /// Which way it moves, where that matters to the question.
        sense: Option<mechanism::Sense>,
    },
    /// `from` drives `to`: movement × `from_size` ÷ `to_size`.
    Drive {
        /// The part whose movement is known; not always the one that drives.
        from: mechanism::PartId,
        /// The part whose movement follows.
        to: mechanism::PartId,
        /// How they touch.
        link: mechanism::Link,
        /// Teeth, starts, or a pulley's diameter in millimetres; nought for a rack,
        /// which has no size (there only the sense matters).
        from_size: number::Value,
        /// The same of `to`.
        to_size: number::Value,
        /// The movement before, where it matters.
        before: Option<Movement>,
        /// The movement after, where it matters.
        after: Option<Movement>,
        /// The sense before, where it matters and is known.
        sense_before: Option<mechanism::Sense>,
        /// The sense after, where it matters and is known.
        sense_after: Option<mechanism::Sense>,
    },
    /// Two parts on one axle turn together.
    SameAxle {
        /// The part whose movement is known.
        from: mechanism::PartId,
        /// The part that moves as it does.
        to: mechanism::PartId,
    },
    /// Two parts of a stage taken out: their axles are now one.
    Joined {
        /// The part whose axle's movement is known.
        from: mechanism::PartId,
        /// The part whose axle now moves as it does.
        to: mechanism::PartId,
    },
    /// Turns = speed × minutes (or back: the one not known yet follows).
    OverTime {
        /// The part.
        part: mechanism::PartId,
        /// Its turns a minute.
        rpm: number::Value,
        /// The minutes.
        minutes: number::Number,
        /// Its turns.
        turns: number::Value,
    },
    /// Distance = turns × pi × diameter (pitch diameter of a pinion, drum, rolling
    /// wheel), or back: the one not known yet follows.
    Travel {
        /// The pinion, drum or rolling wheel.
        part: mechanism::PartId,
        /// Its turns.
        turns: number::Value,
        /// Its diameter in millimetres.
        diameter_mm: number::Number,
        /// The distance in millimetres.
        distance_mm: number::Value,
    },
    /// A planetary set: (sun + ring) × carrier = sun × sun's turns + ring × ring's turns.
    ///
    /// The three movements carry signs: clockwise is positive.
    Planetary {
        /// The sun gear.
        sun: mechanism::PartId,
        /// The ring gear.
        ring: mechanism::PartId,
        /// The planet carrier.
        carrier: mechanism::PartId,
        /// The sun's teeth.
        sun_teeth: u32,
        /// The ring's teeth.
        ring_teeth: u32,
        /// How much the sun moves.
        sun_moves: number::Value,
        /// How much the ring moves.
        ring_moves: number::Value,
        /// How much the carrier moves.
        carrier_moves: number::Value,
    },
    /// A mesh seen by someone riding on the carrier: (to - carrier) =
    /// (from - carrier) × `from_size` ÷ `to_size`, turned round in an external mesh.
    ///
    /// The three movements carry signs: clockwise is positive.
    OnCarrier {
        /// The carrier.
        carrier: mechanism::PartId,
        /// The part whose movement is known.
        from: mechanism::PartId,
        /// The part whose movement follows.
        to: mechanism::PartId,
        /// Teeth of `from`.
        from_size: number::Value,
        /// Teeth of `to`.
        to_size: number::Value,
        /// How much the carrier moves.
        carrier_moves: number::Value,
        /// How much `from` moves.
        from_moves: number::Value,
        /// How much `to` moves.
        to_moves: number::Value,
    },
    /// Turning force across one joint: × `to_size` ÷ `from_size`, then × efficiency
    /// with the flow of the work, ÷ efficiency against it.
    ForceAcross {
        /// The part whose turning force is known.
        from: mechanism::PartId,
        /// The part whose turning force follows.
        to: mechanism::PartId,
        /// The turning force before, in newton centimetres (at a rack: newtons).
        before: number::Value,
        /// The turning force after, in the same unit.
        after: number::Value,
        /// Teeth, starts or diameter of `from`; 1 at a rack, where only the loss counts.
        from_size: number::Value,
        /// The same of `to`.
        to_size: number::Value,
        /// The share of the work passed on, 1 where there is no loss.
        efficiency: number::Number,
        /// Whether the step goes with the work or against it.
        flow: Flow,
    },
    /// Turning force = force × arm (or back: the one not known yet follows). The arm
    /// of a drum, rolling wheel or pinion is its radius.
    ForceTimesArm {
        /// The handle, drum, rolling wheel or pinion.
        part: mechanism::PartId,
        /// The force in newtons.
        newtons: number::Value,
        /// The arm in millimetres.
        arm_mm: number::Value,
        /// The turning force in newton centimetres.
        newton_cm: number::Value,
    },
    /// An unknown found from a relation: `found` = `partner_count` × `partner_moves` ÷
    /// `part_moves`.
    MissingCount {
        /// The part whose teeth or starts are found.
        part: mechanism::PartId,
        /// The part it touches.
        partner: mechanism::PartId,
        /// That part's teeth or starts.
        partner_count: u32,
        /// How much that part moves.
        partner_moves: number::Value,
        /// How much `part` moves.
        part_moves: number::Value,
        /// The count found.
        found: number::Value,
    },
    /// An unknown found from the sum of two counts (for a ring gear, the difference).
    CountFromSum {
        /// The part whose teeth are found.
        part: mechanism::PartId,
        /// The part it meshes with.
        partner: mechanism::PartId,
        /// That part's teeth.
        partner_count: u32,
        /// The sum, or ring less gear.
        sum: number::Number,
        /// The count found.
        found: number::Number,
    },
    /// A size: `diameter = tooth size × (teeth + extra)`, or back: the one not known
    /// yet follows. The extra is 2 (tip), -2.5 (root), 0 (pitch), signs turned round
    /// for a ring.
    Diameter {
        /// The part.
        part: mechanism::PartId,
        /// Its tooth size in millimetres.
        tooth_size_mm: number::Number,
        /// Its teeth.
        teeth: u32,
        /// How many tooth sizes the diameter is larger than the pitch diameter.
        extra_tooth_sizes: number::Number,
        /// The diameter in millimetres.
        mm: number::Number,
    },
    /// Centre distance = tooth size × (sum, or for a ring difference, of teeth) ÷ 2,
    /// or back: the one not known yet follows.
    Distance {
        /// The one gear.
        first: mechanism::PartId,
        /// The other.
        second: mechanism::PartId,
        /// Their tooth size in millimetres.
        tooth_size_mm: number::Number,
        /// Their teeth together, or ring less gear.
        teeth_sum: number::Number,
        /// The distance in millimetres.
        mm: number::Number,
    },
    /// A ratio brought to its simplest form by a common divisor.
    Simplify {
        /// The first number as found.
        first: number::Number,
        /// The second number as found.
        second: number::Number,
        /// The first number in simplest form.
        to_first: number::Number,
        /// The second number in simplest form.
        to_second: number::Number,
    },
    /// Meshes (and crossed belts) that turn the sense round, counted between two
    /// parts: an even number keeps the sense.
    CountMeshes {
        /// The part to begin at.
        from: mechanism::PartId,
        /// The part to end at.
        to: mechanism::PartId,
        /// How many.
        meshes: u32,
    },
    /// A closed loop, and whether it can turn.
    Loop {
        /// The parts round the loop, in mesh order.
        parts: Vec<mechanism::PartId>,
        /// Whether it can turn.
        turns: bool,
    },
    /// Two meshing parts with the tooth size of each.
    ToothSizes {
        /// The one.
        first: mechanism::PartId,
        /// The other.
        second: mechanism::PartId,
        /// The tooth size of the one in millimetres.
        first_mm: number::Number,
        /// The tooth size of the other in millimetres.
        second_mm: number::Number,
    },
    /// A worm with a single start holds its wheel: the wheel cannot drive it.
    WormHolds {
        /// The worm.
        worm: mechanism::PartId,
        /// The wheel.
        wheel: mechanism::PartId,
    },
    /// So many equal stages multiply to so much.
    Stage {
        /// How many stages so far.
        stages: u32,
        /// The ratio of one.
        stage_ratio: number::Number,
        /// The product.
        total: number::Number,
    },
    /// The lowest count of teeth after which the same teeth meet again.
    CommonMultiple {
        /// The one gear.
        first: mechanism::PartId,
        /// The other.
        second: mechanism::PartId,
        /// The one gear's teeth.
        first_teeth: u32,
        /// The other's teeth.
        second_teeth: u32,
        /// The lowest common multiple of the two counts.
        common: u64,
        /// The turns of the first gear that make so many teeth.
        turns: u64,
    },
    /// A choice that gives what is asked.
    Chosen {
        /// The parts to choose, in the order asked.
        parts: Vec<mechanism::PartId>,
        /// The teeth of each.
        teeth: Vec<u32>,
    },
    /// A comparison of two parts by their movement (for turning force: by the turning
    /// force, as shares of each other).
    Compare {
        /// The one part.
        first: mechanism::PartId,
        /// The other.
        second: mechanism::PartId,
        /// How much the one moves.
        first_moves: number::Value,
        /// How much the other moves.
        second_moves: number::Value,
    },
    /// What a part is, or does, with the reason: who drives it and whom it drives.
    Role {
        /// The part.
        part: mechanism::PartId,
        /// The part that drives it.
        driven_by: Option<mechanism::PartId>,
        /// The part that it drives.
        drives: Option<mechanism::PartId>,
    },
}
