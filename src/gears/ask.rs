//! What can be asked of a mechanism, and what an answer is.

use crate::gears::idea;
use crate::gears::mechanism;
use crate::number;

/// One question about a mechanism.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Ask {
    /// How many turns a part makes (`turns of B`).
    Turns(mechanism::PartId),
    /// How many turns a minute (`speed of B`).
    Speed(mechanism::PartId),
    /// Which way it moves (`direction of B`).
    Direction(mechanism::PartId),
    /// Whether two parts turn the same way (`same way A, B`): yes or no.
    SameWay(mechanism::PartId, mechanism::PartId),
    /// Which of two turns faster (`faster of A, B`): one of the two, or neither.
    Faster(mechanism::PartId, mechanism::PartId),
    /// Which of two has the greater turning force (`stronger of A, B`).
    Stronger(mechanism::PartId, mechanism::PartId),
    /// Turns of the first to turns of the second (`ratio of turns A : B`).
    TurnsRatio(mechanism::PartId, mechanism::PartId),
    /// Teeth of the first to teeth of the second (`ratio of teeth A : B`).
    TeethRatio(mechanism::PartId, mechanism::PartId),
    /// The missing number of teeth (`teeth of B`).
    Teeth(mechanism::PartId),
    /// The missing number of starts of a worm (`starts of W`).
    Starts(mechanism::PartId),
    /// The force in newtons at a handle, rack or drum (`force at D`).
    Force(mechanism::PartId),
    /// The turning force on a part in newton centimetres (`turning force of B`).
    TurningForce(mechanism::PartId),
    /// How far a rack, string or rolling wheel moves (`distance of R`).
    Distance(mechanism::PartId),
    /// How far apart two meshing gears' axles are (`centre distance of A, B`).
    CentreDistance(mechanism::PartId, mechanism::PartId),
    /// Pitch diameter (`pitch diameter of A`).
    PitchDiameter(mechanism::PartId),
    /// Diameter over the tips of the teeth (`tip diameter of A`).
    TipDiameter(mechanism::PartId),
    /// Diameter at the roots of the teeth (`root diameter of A`).
    RootDiameter(mechanism::PartId),
    /// Tooth size, the trade's module (`tooth size of A`).
    ToothSize(mechanism::PartId),
    /// Whether it can turn at all (`will it turn`): yes or no.
    WillItTurn,
    /// What the part is called (`name of C`): `rack`, `worm`, `ring gear` ...
    Name(mechanism::PartId),
    /// What the part does (`job of B`): drive gear, driven gear or idler.
    Job(mechanism::PartId),
    /// How many such stages in a row give a total ratio (`stages for 27`).
    Stages(number::Number),
    /// Turns of the first until the same two teeth meet again (`meet again A, B`).
    MeetAgain(mechanism::PartId, mechanism::PartId),
    /// Gears to choose from a box (`choose A, B from 8, 16, 24`).
    Choose {
        /// The parts whose teeth are `?`, in the order asked.
        parts: Vec<mechanism::PartId>,
        /// The tooth counts in the box, each there once per mention.
        from: Vec<u32>,
    },
    /// Why the answer to another question is what it is (`why faster of A, B`).
    Why(Explained),
}

/// A question whose answer can be explained.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Explained {
    /// As [`Ask::Direction`].
    Direction(mechanism::PartId),
    /// As [`Ask::SameWay`].
    SameWay(mechanism::PartId, mechanism::PartId),
    /// As [`Ask::Faster`].
    Faster(mechanism::PartId, mechanism::PartId),
    /// As [`Ask::Stronger`].
    Stronger(mechanism::PartId, mechanism::PartId),
    /// As [`Ask::WillItTurn`].
    WillItTurn,
}

impl Explained {
    /// Returns the question itself.
    #[must_use]
    pub fn ask(self) -> Ask {
        match self {
            Self::Direction(part) => Ask::Direction(part),
            Self::SameWay(first, second) => Ask::SameWay(first, second),
            Self::Faster(first, second) => Ask::Faster(first, second),
            Self::Stronger(first, second) => Ask::Stronger(first, second),
            Self::WillItTurn => Ask::WillItTurn,
        }
    }
}

/// The unit of a [`Fact::Quantity`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Unit {
    /// Whole turns (revolutions).
    Turns,
    /// Turns a minute.
    Rpm,
    /// Teeth.
    Teeth,
    /// Starts of a worm.
    Starts,
    /// Stages of a gearbox.
    Stages,
    /// Millimetres.
    Millimetres,
    /// Newtons.
    Newtons,
    /// Newton centimetres.
    NewtonCentimetres,
}

/// The job a gear does in a train.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Job {
    /// It is turned by hand or motor.
    Drive,
    /// It gives the turning out.
    Driven,
    /// It stands between and changes only the direction.
    Idler,
}

/// The trade's name of a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum PartName {
    /// Spur gear (teeth outside, straight).
    SpurGear,
    /// Ring gear (teeth inside).
    RingGear,
    /// Bevel gear.
    BevelGear,
    /// Worm.
    Worm,
    /// Rack.
    Rack,
    /// Pinion: the gear that meshes with a rack.
    Pinion,
    /// Sprocket.
    Sprocket,
    /// Pulley.
    Pulley,
    /// Handle (crank).
    Handle,
    /// Winch drum.
    Drum,
    /// Rolling wheel.
    RoadWheel,
    /// Motor.
    Motor,
    /// Dynamo.
    Dynamo,
    /// Planet carrier.
    Carrier,
}

/// Which of two.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Which {
    /// The first named.
    First,
    /// The second named.
    Second,
    /// Neither: both the same.
    Same,
}

/// A right answer, or the answer that a wrong way of thinking gives.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Fact {
    /// A number with its unit; never rounded here.
    Quantity {
        /// The exact value, never negative for a right answer.
        value: number::Value,
        /// Its unit.
        unit: Unit,
    },
    /// Two numbers in the order asked, in simplest form.
    Ratio(number::Number, number::Number),
    /// A direction.
    Sense(mechanism::Sense),
    /// Yes (`true`) or no.
    YesNo(bool),
    /// Which of the two parts asked about.
    Which(Which),
    /// What a part is called.
    Name(PartName),
    /// What a part does.
    Job(Job),
    /// Every right choice from the box, each in the order asked.
    Choices(Vec<Vec<u32>>),
    /// What explains another answer.
    Reasons(idea::Reasons),
}

impl Fact {
    /// The value, if it is a number.
    #[must_use]
    pub fn quantity(&self) -> Option<number::Value> {
        match self {
            Self::Quantity { value, .. } => Some(*value),
            Self::Ratio(..)
            | Self::Sense(_)
            | Self::YesNo(_)
            | Self::Which(_)
            | Self::Name(_)
            | Self::Job(_)
            | Self::Choices(_)
            | Self::Reasons(_) => None,
        }
    }

    /// Whether it is a whole number.
    #[must_use]
    pub fn is_whole(&self) -> bool {
        self.quantity()
            .and_then(number::Value::as_number)
            .is_some_and(number::Number::is_whole)
    }
}
