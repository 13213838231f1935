//! How fast a drawn mechanism turns on the screen, how far it can go, and which
//! questions its turning would answer.

use crate::drawing;
use crate::drawing::mover;
use crate::gears::ask;
use crate::gears::mechanism;
use crate::gears::turning;
use crate::number;
use crate::wording;

/// The most turns a second of anything that is seen to turn: calm enough to count.
const FASTEST: f64 = 1.0 / 3.0;
/// The most teeth a second that pass: more would flicker on a slow projector.
const MOST_TEETH: f64 = 6.0;
/// How long a rack or load takes from one end to the other at the least.
const STROKE_SECONDS: f64 = 4.0;
/// A wheel that turns so many times more slowly than the fastest is told of in words.
const NEARLY_STILL: f64 = 8.0;

/// The motion of a mechanism as it is drawn.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Motion {
    turning: turning::Turning,
    /// The part whose turns all others are counted by.
    drive: mechanism::PartId,
    /// Whether everything turns the other way than supposed: where no direction is
    /// given, a load is wound up.
    is_turned_round: bool,
    /// How fast that part turns.
    pub(super) turns_a_second: f64,
    /// How many of its turns it can go back and forth; without an end where there is
    /// none.
    pub(super) stroke: Option<(f64, f64)>,
    /// What is said of wheels that turn too slowly to be seen.
    pub(super) remarks: Vec<String>,
}

/// Returns how a mechanism moves; none where it does not.
pub(super) fn motion(mechanism: &mechanism::Mechanism, drawn: &drawing::Drawing) -> Option<Motion> {
    let turning = turning::turning(mechanism).ok()?;
    let mut seen: Vec<mechanism::PartId> = drawn
        .pieces
        .iter()
        .filter_map(|piece| turning_part(&piece.mover))
        .filter(|part| !turning.of(*part).factor.is_zero())
        .collect();
    seen.sort_unstable();
    seen.dedup();
    let drive = *seen.first()?;
    let mut motion = Motion {
        turning,
        drive,
        is_turned_round: false,
        turns_a_second: 0.0,
        stroke: None,
        remarks: Vec::new(),
    };
    let teeth = |part: mechanism::PartId| {
        let mut wheels = drawn.wheels.iter();
        let wheel = wheels.find(|wheel| wheel.part == part && wheel.teeth.is_some());
        wheel.map_or(0.0, |wheel| f64::from(wheel.teeth.unwrap_or_default()))
    };
    let slowest_need = |part: &mechanism::PartId| {
        let share = motion.turns(*part).abs();
        (FASTEST / share).min(MOST_TEETH / (share * teeth(*part)))
    };
    motion.turns_a_second = seen.iter().map(slowest_need).fold(FASTEST, f64::min);
    motion.is_turned_round = !gives_a_sense(mechanism) && motion.lets_down(drawn);
    motion.stroke = motion.stroke_of(drawn);
    if let Some((back, forth)) = motion.stroke {
        let calm = (back + forth) / STROKE_SECONDS;
        motion.turns_a_second = motion.turns_a_second.min(calm);
    }
    motion.remarks = motion.slow_ones(&seen);
    Some(motion)
}

/// Whether any direction is given.
fn gives_a_sense(mechanism: &mechanism::Mechanism) -> bool {
    mechanism
        .givens
        .iter()
        .any(|given| matches!(given, mechanism::Given::Motion { sense: Some(_), .. }))
}

/// The part that a piece shows turning.
fn turning_part(mover: &mover::Mover) -> Option<mechanism::PartId> {
    match mover {
        mover::Mover::Wheel(axle) => Some(axle.part),
        mover::Mover::Thread(thread) => Some(thread.part),
        mover::Mover::Cone(cone) => Some(cone.part),
        mover::Mover::Still
        | mover::Mover::Label { .. }
        | mover::Mover::Leader { .. }
        | mover::Mover::Rack { .. }
        | mover::Mover::Strand(_)
        | mover::Mover::String(_)
        | mover::Mover::Load(_)
        | mover::Mover::Ground { .. }
        | mover::Mover::Crank { .. } => None,
    }
}

impl Motion {
    /// Returns how a part moves for one turn of the drive, exactly.
    fn share(&self, part: mechanism::PartId) -> Result<number::Value, number::NumberError> {
        let whole = self.turning.of(self.drive).magnitude();
        let share = self.turning.of(part).divided_by(whole)?;
        Ok(if self.is_turned_round {
            share.negated()
        } else {
            share
        })
    }

    /// Returns how many turns a part makes for one turn of the drive, clockwise
    /// positive.
    pub(super) fn turns(&self, part: mechanism::PartId) -> f64 {
        self.share(part).map_or(0.0, number::Value::to_f64)
    }

    /// Returns the same as a fraction, such as `-1/3`; as a decimal where pi is in it.
    pub(super) fn turns_text(&self, part: mechanism::PartId) -> String {
        let exact = self.share(part).ok().and_then(number::Value::as_number);
        exact.map_or_else(
            || format!("{:.6}", self.turns(part)),
            |share| share.to_string(),
        )
    }

    /// Returns how far something slides for one turn of the drive.
    pub(super) fn slides_mm(&self, slide: mover::Slide) -> f64 {
        self.turns(slide.wheel) * slide.mm_a_turn
    }

    /// How far the drive can go both ways before a rack or a load is at its end.
    fn stroke_of(&self, drawn: &drawing::Drawing) -> Option<(f64, f64)> {
        let mut stroke: Option<(f64, f64)> = None;
        for piece in &drawn.pieces {
            let (slide, most_mm, goes_back) = match &piece.mover {
                mover::Mover::Rack { slide, most_mm, .. } => (slide, most_mm, true),
                mover::Mover::Load(hanging) => (&hanging.slide, &hanging.most_mm, false),
                mover::Mover::Still
                | mover::Mover::Wheel(_)
                | mover::Mover::Label { .. }
                | mover::Mover::Leader { .. }
                | mover::Mover::Thread(_)
                | mover::Mover::Cone(_)
                | mover::Mover::Strand(_)
                | mover::Mover::String(_)
                | mover::Mover::Ground { .. }
                | mover::Mover::Crank { .. } => continue,
            };
            let speed = self.slides_mm(*slide).abs();
            if speed > 0.0 {
                let forth = most_mm / speed;
                let back = if goes_back { forth } else { 0.0 };
                let known = stroke.unwrap_or((back, forth));
                stroke = Some((known.0.min(back), known.1.min(forth)));
            }
        }
        stroke
    }

    /// Whether a load goes down.
    fn lets_down(&self, drawn: &drawing::Drawing) -> bool {
        drawn.pieces.iter().any(|piece| {
            matches!(&piece.mover, mover::Mover::Load(hanging) if self.slides_mm(hanging.slide) > 0.0)
        })
    }

    /// A sentence on each wheel that hardly seems to turn.
    fn slow_ones(&self, seen: &[mechanism::PartId]) -> Vec<String> {
        let mechanism = &self.turning.mechanism;
        let speed = |part: &mechanism::PartId| self.turns(*part).abs();
        let Some(fastest) = seen.iter().copied().reduce(|one, other| {
            if speed(&other) > speed(&one) {
                other
            } else {
                one
            }
        }) else {
            return Vec::new();
        };
        let mut told = Vec::new();
        let mut remarks = Vec::new();
        for &part in seen {
            let body = mechanism.part(part).body;
            if speed(&part) * NEARLY_STILL > speed(&fastest) || told.contains(&body) {
                continue;
            }
            told.push(body);
            let ratio = self.turning.of(fastest).magnitude();
            if let Ok(ratio) = ratio.divided_by(self.turning.of(part).magnitude()) {
                remarks.push(format!(
                    "{} makes 1 turn in {} turns of {}.",
                    mechanism.part(part).name,
                    wording::number(ratio),
                    mechanism.part(fastest).name
                ));
            }
        }
        remarks
    }
}

/// Whether seeing the mechanism turn would answer a question, or help to.
pub(super) fn tells(ask: &ask::Ask) -> bool {
    match ask {
        ask::Ask::Turns(_)
        | ask::Ask::Speed(_)
        | ask::Ask::Direction(_)
        | ask::Ask::SameWay(..)
        | ask::Ask::Faster(..)
        | ask::Ask::Stronger(..)
        | ask::Ask::TurnsRatio(..)
        | ask::Ask::Teeth(_)
        | ask::Ask::Starts(_)
        | ask::Ask::Force(_)
        | ask::Ask::TurningForce(_)
        | ask::Ask::Distance(_)
        | ask::Ask::WillItTurn
        | ask::Ask::Stages(_)
        | ask::Ask::MeetAgain(..)
        | ask::Ask::Choose { .. }
        | ask::Ask::Why(_) => true,
        ask::Ask::TeethRatio(..)
        | ask::Ask::CentreDistance(..)
        | ask::Ask::PitchDiameter(_)
        | ask::Ask::TipDiameter(_)
        | ask::Ask::RootDiameter(_)
        | ask::Ask::ToothSize(_)
        | ask::Ask::Name(_)
        | ask::Ask::Job(_) => false,
    }
}
