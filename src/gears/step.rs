//! The steps of a worked solution, as values; the words are said elsewhere.

#![allow(missing_docs)]

use crate::gears::ask;
use crate::gears::mechanism;
use crate::number;

/// How much each body of a step moves: turns, or turns a minute, or millimetres.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Movement {
    /// The exact amount, never negative.
    pub value: number::Value,
    /// Turns, rpm or millimetres.
    pub unit: ask::Unit,
}

/// One line of a worked solution.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Step {
    /// What is given about a part at the start.
    Start {
        part: mechanism::PartId,
        movement: Option<Movement>,
        sense: Option<mechanism::Sense>,
    },
    /// `from` drives `to`: movement × `from_size` ÷ `to_size`. Sizes are teeth,
    /// starts, or pulley diameters in millimetres.
    Drive {
        from: mechanism::PartId,
        to: mechanism::PartId,
        link: mechanism::Link,
        from_size: number::Value,
        to_size: number::Value,
        before: Option<Movement>,
        after: Option<Movement>,
        /// The sense before and after, where known.
        sense_before: Option<mechanism::Sense>,
        sense_after: Option<mechanism::Sense>,
    },
    /// Two parts on one axle turn together.
    SameAxle {
        from: mechanism::PartId,
        to: mechanism::PartId,
    },
    /// Two parts of a stage taken out: their axles are now one.
    Joined {
        from: mechanism::PartId,
        to: mechanism::PartId,
    },
    /// Turns = speed × minutes (or back).
    OverTime {
        part: mechanism::PartId,
        rpm: number::Value,
        minutes: number::Number,
        turns: number::Value,
    },
    /// Distance = turns × pi × diameter (pitch diameter of a pinion, drum, rolling wheel).
    Travel {
        part: mechanism::PartId,
        turns: number::Value,
        diameter_mm: number::Number,
        distance_mm: number::Value,
    },
    /// A planetary set: (sun + ring) × carrier = sun × sun's turns + ring × ring's turns.
    Planetary {
        sun: mechanism::PartId,
        ring: mechanism::PartId,
        carrier: mechanism::PartId,
        sun_teeth: u32,
        ring_teeth: u32,
        sun_moves: number::Value,
        ring_moves: number::Value,
        carrier_moves: number::Value,
    },
    /// Turning force across one joint: × `to_size` ÷ `from_size` × efficiency.
    ForceAcross {
        from: mechanism::PartId,
        to: mechanism::PartId,
        before: number::Value,
        after: number::Value,
        from_size: number::Value,
        to_size: number::Value,
        efficiency: number::Number,
    },
    /// Turning force = force × arm (radius), in newton centimetres.
    ForceTimesArm {
        part: mechanism::PartId,
        newtons: number::Value,
        arm_mm: number::Value,
        newton_cm: number::Value,
    },
    /// An unknown found from a relation: teeth of `part`.
    MissingCount {
        part: mechanism::PartId,
        partner: mechanism::PartId,
        partner_count: u32,
        partner_moves: number::Value,
        part_moves: number::Value,
        found: number::Value,
    },
    /// A size: `diameter = tooth size × teeth (+ 2, or - 2.5, tooth sizes)`.
    Diameter {
        part: mechanism::PartId,
        tooth_size_mm: number::Number,
        teeth: u32,
        extra_tooth_sizes: number::Number,
        mm: number::Number,
    },
    /// Centre distance = tooth size × (sum, or for a ring difference, of teeth) ÷ 2.
    Distance {
        first: mechanism::PartId,
        second: mechanism::PartId,
        tooth_size_mm: number::Number,
        teeth_sum: i64,
        mm: number::Number,
    },
    /// A ratio brought to its simplest form by a common divisor.
    Simplify {
        first: number::Number,
        second: number::Number,
        to_first: number::Number,
        to_second: number::Number,
    },
    /// Meshes counted between two parts: an even number keeps the sense.
    CountMeshes {
        from: mechanism::PartId,
        to: mechanism::PartId,
        meshes: u32,
    },
    /// A closed loop cannot turn, with what stands against it.
    Loop {
        parts: Vec<mechanism::PartId>,
        turns: bool,
    },
    /// So many equal stages multiply to so much.
    Stage {
        stages: u32,
        stage_ratio: number::Number,
        total: number::Number,
    },
    /// The lowest count of teeth after which the same teeth meet again.
    CommonMultiple {
        first: mechanism::PartId,
        second: mechanism::PartId,
        first_teeth: u32,
        second_teeth: u32,
        common: u64,
        turns: u64,
    },
    /// A choice that gives what is asked.
    Chosen {
        parts: Vec<mechanism::PartId>,
        teeth: Vec<u32>,
    },
    /// A comparison of two parts by their teeth or movement.
    Compare {
        first: mechanism::PartId,
        second: mechanism::PartId,
        first_moves: number::Value,
        second_moves: number::Value,
    },
    /// What a part is, or does, with the reason: who drives it and whom it drives.
    Role {
        part: mechanism::PartId,
        driven_by: Option<mechanism::PartId>,
        drives: Option<mechanism::PartId>,
    },
}
