//! A mechanism: parts on axles, what joins them, and what is given about it.
//!
//! This is the one description that everything else is worked out from. It is
//! plain data: [`super::notation`] reads and writes it as text, and
//! [`super::solve`] checks and solves it.

use crate::number;

/// Which part of a [`Mechanism`]: an index into `parts`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct PartId(pub u16);

/// Which body: parts fixed to one axle are one body and turn (or slide) as one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct BodyId(pub u16);

/// A count of teeth or starts, given or to be found.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Count {
    /// So many.
    Known(u32),
    /// To be found (written `?`).
    Unknown,
}

/// What kind of part it is, with its size.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Kind {
    /// A spur gear with its teeth outside.
    Gear {
        /// Its teeth.
        teeth: Count,
    },
    /// A ring gear: teeth on the inside.
    Ring {
        /// Its teeth.
        teeth: Count,
    },
    /// A bevel gear.
    Bevel {
        /// Its teeth.
        teeth: Count,
    },
    /// A worm with so many starts.
    Worm {
        /// Its starts (threads that run side by side).
        starts: Count,
    },
    /// A rack: a straight bar with teeth; it slides. It lies below its pinion
    /// unless `above`.
    Rack {
        /// Whether it lies above its pinion.
        above: bool,
    },
    /// A chain sprocket.
    Sprocket {
        /// Its teeth.
        teeth: Count,
    },
    /// A belt pulley; its diameter in millimetres.
    Pulley {
        /// Its diameter in millimetres.
        diameter_mm: number::Number,
    },
    /// A crank handle.
    Handle {
        /// Its arm in millimetres; not needed where no force is asked about.
        arm_mm: Option<number::Number>,
    },
    /// A winch drum with a string; its diameter in millimetres.
    Drum {
        /// Its diameter in millimetres.
        diameter_mm: number::Number,
    },
    /// A wheel that rolls on the ground; its diameter in millimetres.
    Roller {
        /// Its diameter in millimetres.
        diameter_mm: number::Number,
    },
    /// A motor's shaft.
    Motor,
    /// A dynamo's shaft.
    Dynamo,
    /// The arm that carries planet gears round.
    Carrier,
}

/// One named part on one body.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Part {
    /// Its label on the sheet, such as `A`.
    pub name: String,
    /// What it is.
    pub kind: Kind,
    /// The axle (or sliding bar) it is fixed to.
    pub body: BodyId,
    /// The tooth size (the trade's *module*) in millimetres, where given.
    pub tooth_size_mm: Option<number::Number>,
    /// The carrier whose arm this part's axle rides on (a planet gear).
    pub rides_on: Option<BodyId>,
}

/// How two parts drive each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Link {
    /// Teeth in teeth: spur, ring, bevel, worm or rack, as the parts say.
    Mesh,
    /// A chain over two sprockets: same sense.
    Chain,
    /// An open belt over two pulleys: same sense.
    Belt,
    /// A crossed belt: opposite senses.
    CrossedBelt,
}

/// Two parts that drive each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Joint {
    /// The one named first; the driver where `driver_named`.
    pub first: PartId,
    /// The one named second; driven where `driver_named`.
    pub second: PartId,
    /// How they touch.
    pub link: Link,
    /// Whether the first is named as the driver (`A drives B`), or nothing is
    /// said of who drives whom (`A meshes with B`).
    pub driver_named: bool,
}

/// Which way something moves, seen from the stated side.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Sense {
    /// With the hands of a clock.
    Clockwise,
    /// Against the hands of a clock.
    Anticlockwise,
    /// A rack that moves to the left.
    Left,
    /// A rack that moves to the right.
    Right,
}

/// How much something moves.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Amount {
    /// So many turns.
    Turns(number::Number),
    /// So many turns a minute.
    Rpm(number::Number),
    /// So many millimetres (a rack, a string, the ground).
    Millimetres(number::Value),
}

/// One thing known about the mechanism.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Given {
    /// A part moves so much, or which way, or both.
    Motion {
        /// The part.
        part: PartId,
        /// How much, where said.
        amount: Option<Amount>,
        /// Which way, where said.
        sense: Option<Sense>,
    },
    /// A part is held still.
    Held(PartId),
    /// The mechanism runs for so many minutes.
    Minutes(number::Number),
    /// A force in newtons at a handle's end, on a rack, or hanging from a drum.
    Force {
        /// The handle, rack or drum.
        part: PartId,
        /// The force in newtons.
        newtons: number::Number,
    },
    /// A turning force (torque) on a part's axle, in newton centimetres.
    TurningForce {
        /// The part.
        part: PartId,
        /// The turning force in newton centimetres.
        newton_cm: number::Number,
    },
    /// The share of the work each mesh passes on, from above 0 to 1.
    Efficiency(number::Number),
    /// Two axles are so many millimetres apart.
    Apart {
        /// One gear.
        first: PartId,
        /// The other.
        second: PartId,
        /// The distance in millimetres.
        mm: number::Number,
    },
    /// The stage of two meshing gears is taken out and their axles joined.
    TakenOut {
        /// The stage's drive gear.
        first: PartId,
        /// The stage's driven gear.
        second: PartId,
    },
}

/// Parts on axles, what joins them, and what is given.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Mechanism {
    /// Every part, in the order named.
    pub parts: Vec<Part>,
    /// How many bodies there are; `Part::body` is below it.
    pub body_count: u16,
    /// What drives what, in the order named.
    pub joints: Vec<Joint>,
    /// What is known.
    pub givens: Vec<Given>,
}

impl PartId {
    /// Returns the place in [`Mechanism::parts`].
    #[must_use]
    pub fn index(self) -> usize {
        usize::from(self.0)
    }
}

impl BodyId {
    /// Returns the place in a list with one entry a body.
    #[must_use]
    pub fn index(self) -> usize {
        usize::from(self.0)
    }
}

impl Joint {
    /// Whether these are its two parts, in either order.
    #[must_use]
    pub fn joins(&self, one: PartId, other: PartId) -> bool {
        (self.first, self.second) == (one, other) || (self.second, self.first) == (one, other)
    }

    /// Returns the part at the other end, if `part` is one of its two.
    #[must_use]
    pub fn partner(&self, part: PartId) -> Option<PartId> {
        if self.first == part {
            Some(self.second)
        } else if self.second == part {
            Some(self.first)
        } else {
            None
        }
    }
}

impl Mechanism {
    /// Returns a part.
    ///
    /// # Panics
    ///
    /// When there is no such part: ids come from the mechanism they are used on.
    #[must_use]
    pub fn part(&self, id: PartId) -> &Part {
        &self.parts[id.index()]
    }

    /// Returns every part with its id, in the order named.
    pub fn numbered(&self) -> impl Iterator<Item = (PartId, &Part)> {
        (0_u16..).map(PartId).zip(&self.parts)
    }
}
