//! A train ready for the wrong solvers: what each way of thinking takes its gain
//! to be, in turns at the end for one turn at the start.

use crate::gears::mechanism;
use crate::misconception;
use crate::misconception::list;
use crate::misconception::path;
use crate::number;

/// A way of thinking about a train, and what it takes the gain to be.
pub(super) type Thought = (&'static misconception::Misconception, number::Value);

/// What stands on the way of a train, ready for the wrong solvers: each gives
/// turns at the end for one turn at the start.
pub(super) struct Train<'m> {
    mechanism: &'m mechanism::Mechanism,
    legs: &'m [path::Leg],
    stages: Vec<path::Stage>,
}

impl<'m> Train<'m> {
    /// Takes the legs of one way.
    pub(super) fn new(mechanism: &'m mechanism::Mechanism, legs: &'m [path::Leg]) -> Self {
        Self {
            mechanism,
            legs,
            stages: path::stages(legs),
        }
    }

    /// Whether nothing stands on the way.
    pub(super) fn is_empty(&self) -> bool {
        self.legs.is_empty()
    }

    /// Whether it is one mesh, chain or belt.
    pub(super) fn is_pair(&self) -> bool {
        self.legs.len() == 1
    }

    /// Whether it has shared axles on the way.
    pub(super) fn is_compound(&self) -> bool {
        self.stages.len() > 1
    }

    /// Whether it is one row of gears with idlers between.
    pub(super) fn has_idlers_only(&self) -> bool {
        self.stages.len() == 1 && self.legs.len() > 1
    }

    /// Whether a worm stands on the way.
    pub(super) fn has_worm(&self) -> bool {
        self.legs.iter().any(|leg| {
            path::is_worm(self.mechanism, leg.from) || path::is_worm(self.mechanism, leg.to)
        })
    }

    /// The first and last part of the way with their sizes.
    pub(super) fn ends(&self) -> Option<(number::Number, number::Number)> {
        let first = path::size(self.mechanism, self.legs.first()?.from)?;
        let last = path::size(self.mechanism, self.legs.last()?.to)?;
        Some((first, last))
    }

    /// The right gain.
    pub(super) fn right(&self) -> Option<number::Value> {
        path::gain(self.mechanism, self.legs)
    }

    /// Every stage upside down.
    pub(super) fn upside_down(&self) -> Option<number::Value> {
        path::upside_down(self.right()?)
    }

    /// What every way of thinking that is about the train itself takes the gain
    /// to be, whatever is asked: turns, a ratio, a force or a choice of gears.
    ///
    /// The whole train upside down, and all parts turning alike, are not here:
    /// their names go by what is asked.
    pub(super) fn thoughts(&self) -> Vec<Thought> {
        let mut thoughts: Vec<Thought> = Vec::new();
        let mut add = |misconception, gain: Option<number::Value>| {
            thoughts.extend(gain.map(|gain| (misconception, gain)));
        };
        if self.is_compound() {
            add(&list::trains::FIRST_STAGE_ONLY, self.gain_of(0..1));
            let last = self.stages.len() - 1;
            add(&list::trains::LAST_STAGE_ONLY, self.gain_of(last..last + 1));
            if last > 1 {
                add(&list::trains::STAGE_SHORT, self.gain_of(0..last));
            }
            for sum in self.sums_of_stages() {
                add(&list::trains::ADDS_STAGES, Some(sum));
            }
            add(&list::trains::COMPOUND_AS_SIMPLE, self.as_simple_train());
            for later in self.later_stages() {
                add(
                    &list::trains::LATER_STAGE_UPSIDE_DOWN,
                    self.with_stage_upside_down(later),
                );
            }
        }
        for end in self.idlers_after_last_axle() {
            add(&list::trains::STOPS_AT_IDLER, self.gain_of_legs(0..end));
        }
        for start in self.idlers_before_first_axle() {
            let all = start..self.legs.len();
            add(&list::trains::STARTS_AT_IDLER, self.gain_of_legs(all));
        }
        if self.has_idlers_only() {
            add(&list::trains::FRESH_RATIO_EACH, self.fresh_ratio_each());
            add(&list::trains::ADDS_MESHES, self.sum_of_meshes());
        }
        if self.is_pair() && !self.has_worm() {
            let squared = self.right().and_then(|right| right.times(right).ok());
            add(&list::trains::SQUARED, squared);
        }
        let ignored = self.without_starts();
        if let Some(ignored) = ignored {
            add(&list::trains::STARTS_IGNORED, Some(ignored));
            let multiplied = self.over_starts(ignored);
            add(&list::trains::STARTS_MULTIPLY, multiplied);
        }
        thoughts
    }

    /// The gain of some of the stages.
    fn gain_of(&self, stages: std::ops::Range<usize>) -> Option<number::Value> {
        self.stages
            .get(stages)?
            .iter()
            .try_fold(number::Value::ONE, |gain, path::Stage(row)| {
                gain.times(path::gain(self.mechanism, row)?).ok()
            })
    }

    fn gain_of_legs(&self, legs: std::ops::Range<usize>) -> Option<number::Value> {
        path::gain(self.mechanism, self.legs.get(legs)?)
    }

    /// How many legs lead to each idler that the last axle drives.
    fn idlers_after_last_axle(&self) -> std::ops::Range<usize> {
        let last = self.stages.last().map_or(0, |stage| stage.0.len());
        let before = self.legs.len() - last;
        before + 1..before + last.max(1)
    }

    /// How many legs lead to each idler that the first axle drives.
    fn idlers_before_first_axle(&self) -> std::ops::Range<usize> {
        let first = self.stages.first().map_or(0, |stage| stage.0.len());
        1..first.max(1)
    }

    /// The stages that come later: on the way, and in the sense of the drive where
    /// the way is walked back.
    fn later_stages(&self) -> std::ops::Range<usize> {
        let is_back = self.legs.first().is_some_and(|leg| leg.backwards);
        usize::from(!is_back)..self.stages.len()
    }

    /// One stage upside down, the others right.
    fn with_stage_upside_down(&self, stage: usize) -> Option<number::Value> {
        let gain = self.gain_of(stage..stage + 1)?;
        self.right()?.divided_by(gain.times(gain).ok()?).ok()
    }

    /// As if every worm had one start; `None` where each has.
    fn without_starts(&self) -> Option<number::Value> {
        let (driving, driven) = self.starts()?;
        if driving == number::Value::ONE && driven == number::Value::ONE {
            return None;
        }
        self.over_starts(self.right()?)
    }

    /// A gain divided by the starts of the worms, in the sense of the drive.
    fn over_starts(&self, gain: number::Value) -> Option<number::Value> {
        let (driving, driven) = self.starts()?;
        gain.divided_by(driving).ok()?.times(driven).ok()
    }

    /// How many teeth the last wheel has more than the first, where nothing but a
    /// row of wheels stands on the way.
    pub(super) fn difference(&self) -> Option<number::Number> {
        if self.has_worm() || self.is_compound() {
            return None;
        }
        let (first, last) = self.ends()?;
        last.minus(first).ok()
    }

    /// First gear over last gear, as if nothing but idlers stood between.
    fn as_simple_train(&self) -> Option<number::Value> {
        let (first, last) = self.ends()?;
        Some(first.divided_by(last).ok()?.into())
    }

    /// The first gear over each later gear, multiplied.
    fn fresh_ratio_each(&self) -> Option<number::Value> {
        let first = path::size(self.mechanism, self.legs.first()?.from)?;
        self.legs.iter().try_fold(number::Value::ONE, |gain, leg| {
            let to = path::size(self.mechanism, leg.to)?;
            gain.times(first.divided_by(to).ok()?.into()).ok()
        })
    }

    /// The ratios of the meshes added instead of multiplied.
    fn sum_of_meshes(&self) -> Option<number::Value> {
        let pieces: Vec<&[path::Leg]> = self.legs.iter().map(std::slice::from_ref).collect();
        self.sum(&pieces)
    }

    /// The ratios of the stages added instead of multiplied: always as drive
    /// turns for one turn out, and where every stage steps up also the other
    /// way round, as a pupil who says "times 4 and times 3" would.
    fn sums_of_stages(&self) -> Vec<number::Value> {
        let pieces: Vec<&[path::Leg]> =
            self.stages.iter().map(|stage| stage.0.as_slice()).collect();
        let mut sums: Vec<number::Value> = self.sum(&pieces).into_iter().collect();
        let gains: Option<Vec<number::Value>> = pieces
            .iter()
            .map(|legs| {
                let gain = path::gain(self.mechanism, legs)?;
                let drive = self.drive_gain(gain)?;
                (drive.factor > number::Number::ONE).then_some(drive)
            })
            .collect();
        if let Some(gains) = gains {
            let sum = gains
                .into_iter()
                .try_fold(number::Value::ZERO, |sum, gain| sum.plus(gain).ok());
            sums.extend(sum.and_then(|sum| self.drive_gain(sum)));
        }
        sums
    }

    /// A gain seen in the sense of the drive, or back again.
    fn drive_gain(&self, gain: number::Value) -> Option<number::Value> {
        if self.legs.first()?.backwards {
            path::upside_down(gain)
        } else {
            Some(gain)
        }
    }

    fn sum(&self, pieces: &[&[path::Leg]]) -> Option<number::Value> {
        let sum = pieces.iter().try_fold(number::Value::ZERO, |sum, legs| {
            let drive = self.drive_gain(path::gain(self.mechanism, legs)?)?;
            sum.plus(path::upside_down(drive)?).ok()
        })?;
        self.drive_gain(path::upside_down(sum)?)
    }

    /// The product of the starts of worms that drive, and of those walked back.
    fn starts(&self) -> Option<(number::Value, number::Value)> {
        let product = |side: fn(&path::Leg) -> mechanism::PartId| {
            self.legs
                .iter()
                .map(side)
                .filter(|id| path::is_worm(self.mechanism, *id))
                .try_fold(number::Value::ONE, |product, id| {
                    product.times(path::size(self.mechanism, id)?.into()).ok()
                })
        };
        Some((product(|leg| leg.from)?, product(|leg| leg.to)?))
    }
}
