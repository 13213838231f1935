//! Amounts and senses: what is given about motion, put onto a walk.
//!
//! A scale says how much a component's bodies move for each unit of their ratio:
//! in turns for the run, or in turns a minute. A bar's moves count pi millimetres.
//!
//! Source: turns = turns a minute × minutes, from the meaning of the words.

use crate::gears::ask;
use crate::gears::fault;
use crate::gears::givens;
use crate::gears::mechanism;
use crate::gears::planetary;
use crate::gears::walk;
use crate::number;

/// Whether moves are counted over the run or in a minute.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Per {
    /// Turns for the run (or distance).
    Run,
    /// Turns a minute.
    Minute,
}

/// How much a component moves for each unit of its ratios.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Scale {
    /// The scale, never negative.
    pub(super) value: number::Value,
    /// How often the unknown count multiplies it.
    power: i8,
    /// The part that it was given of.
    pub(super) from: mechanism::PartId,
    /// What was given of it; `None` for a part held still.
    pub(super) given: Option<mechanism::Amount>,
}

/// The scale of a component whose ratios are already the given amounts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Settled {
    /// Over the run or in a minute.
    pub(super) per: Per,
    /// The scale: 1, or a power of pi.
    pub(super) value: number::Value,
    /// A part that was given.
    pub(super) from: mechanism::PartId,
    /// What was given of it.
    pub(super) given: mechanism::Amount,
}

/// What is known of one component.
#[derive(Debug, Clone, Copy)]
pub(super) struct Component {
    /// Over the run, as given.
    pub(super) run: Option<Scale>,
    /// In a minute, as given.
    pub(super) minute: Option<Scale>,
    /// Whether it is held still.
    pub(super) still: bool,
    /// What its ratios mean.
    meaning: planetary::Meaning,
    /// Whether anything is given that drives or holds it.
    pub(super) driven: bool,
}

/// A walk with its amounts and senses.
#[derive(Debug)]
pub(super) struct Motions<'a> {
    /// How the bodies move for each other.
    pub(super) walk: walk::Walk<'a>,
    /// Which component each cluster belongs to.
    pub(super) of_cluster: Vec<usize>,
    /// What is known of each component.
    pub(super) components: Vec<Component>,
    /// Whether each group's first body moves with positive sign, with the part that
    /// it was given of.
    pub(super) senses: Vec<Option<(bool, mechanism::PartId)>>,
    /// How many minutes the run takes.
    pub(super) minutes: Option<number::Number>,
}

/// Returns the mechanism walked, with its amounts and senses, and every fault in
/// the faults' list.
///
/// # Errors
///
/// [`fault::Fault::Number`] when a number does not fit; nothing else can be told then.
pub(super) fn settle<'a>(
    mechanism: &'a mechanism::Mechanism,
    faults: &mut Vec<fault::Fault>,
) -> Result<Motions<'a>, fault::Fault> {
    let mut walk = walk::walk(mechanism, faults)?;
    faults.extend(planetary::misfits(&walk));
    let components = planetary::join(&mut walk, faults)?;
    let mut motions = Motions {
        senses: vec![None; walk.group_count],
        walk,
        components: components
            .meaning
            .iter()
            .map(|meaning| component(*meaning))
            .collect(),
        of_cluster: components.of_cluster,
        minutes: givens::minutes(mechanism),
    };
    motions.take_givens(faults)?;
    motions.check_minutes(faults)?;
    motions.find_unconnected(faults);
    Ok(motions)
}

/// What is known of a component before any given is taken.
fn component(meaning: planetary::Meaning) -> Component {
    let mut component = Component {
        run: None,
        minute: None,
        still: false,
        meaning,
        driven: false,
    };
    match meaning {
        planetary::Meaning::Ratios | planetary::Meaning::Nothing => {}
        planetary::Meaning::Amounts(settled) => {
            let scale = Some(Scale {
                value: settled.value,
                power: 0,
                from: settled.from,
                given: Some(settled.given),
            });
            match settled.per {
                Per::Run => component.run = scale,
                Per::Minute => component.minute = scale,
            }
        }
    }
    component
}

impl Motions<'_> {
    /// Returns the component that a part is in.
    pub(super) fn component(&self, part: mechanism::PartId) -> usize {
        self.of_cluster[self.walk.at(part).cluster]
    }

    /// Whether two or more parts of the planetary set around this part are driven.
    pub(super) fn two_drives(&self, part: mechanism::PartId) -> bool {
        matches!(
            self.components[self.component(part)].meaning,
            planetary::Meaning::Amounts(_)
        )
    }

    fn take_givens(&mut self, faults: &mut Vec<fault::Fault>) -> Result<(), fault::Fault> {
        let mechanism = self.walk.mechanism;
        for given in &mechanism.givens {
            let result = match given {
                mechanism::Given::Motion {
                    part,
                    amount,
                    sense,
                } => {
                    let component = self.component(*part);
                    self.components[component].driven = true;
                    let mut result = Ok(());
                    if let Some(amount) = amount {
                        result = self.take_amount(*part, *amount);
                    }
                    if let (Ok(()), Some(sense)) = (&result, sense) {
                        result = self.take_sense(*part, *sense);
                    }
                    result
                }
                mechanism::Given::Held(part) => {
                    let component = self.component(*part);
                    self.components[component].driven = true;
                    self.hold(*part);
                    Ok(())
                }
                mechanism::Given::Force { part, .. }
                | mechanism::Given::TurningForce { part, .. } => {
                    let component = self.component(*part);
                    self.components[component].driven = true;
                    Ok(())
                }
                mechanism::Given::Minutes(minutes) => {
                    if minutes.is_positive() {
                        Ok(())
                    } else {
                        Err(fault::Fault::NotPositive { what: "the time" })
                    }
                }
                mechanism::Given::Efficiency(_)
                | mechanism::Given::Apart { .. }
                | mechanism::Given::TakenOut { .. } => Ok(()),
            };
            match result {
                Ok(()) => {}
                Err(fault::Fault::Number(error)) => return Err(error.into()),
                Err(fault) => faults.push(fault),
            }
        }
        // What is held cannot be driven as well.
        for component in &self.components {
            if let (true, Some(scale)) = (component.still, component.run.or(component.minute)) {
                faults.push(fault::Fault::DrivenTwice { part: scale.from });
            }
        }
        Ok(())
    }

    fn hold(&mut self, part: mechanism::PartId) {
        if !self.walk.at(part).ratio.is_zero() {
            let component = self.component(part);
            self.components[component].still = true;
        }
    }

    fn take_amount(
        &mut self,
        part: mechanism::PartId,
        amount: mechanism::Amount,
    ) -> Result<(), fault::Fault> {
        let (per, moves) = givens::moves(self.walk.mechanism, part, amount)?;
        let reached = *self.walk.at(part);
        if self.components[self.component(part)].meaning == planetary::Meaning::Nothing {
            return Ok(());
        }
        if moves.factor.is_zero() {
            self.hold(part);
            return Ok(());
        }
        if reached.ratio.is_zero() {
            return Err(fault::Fault::DrivenTwice { part });
        }
        let scale = Scale {
            value: moves.divided_by(reached.ratio.magnitude().into())?,
            power: -reached.power,
            from: part,
            given: Some(amount),
        };
        let component = self.component(part);
        let place = match per {
            Per::Run => &mut self.components[component].run,
            Per::Minute => &mut self.components[component].minute,
        };
        match place {
            None => *place = Some(scale),
            Some(known) => {
                let condition = condition(*known, scale)?;
                self.agree(condition, part)?;
            }
        }
        Ok(())
    }

    fn agree(
        &mut self,
        condition: walk::Condition,
        part: mechanism::PartId,
    ) -> Result<(), fault::Fault> {
        if condition.power != 0 {
            self.walk.conditions.push(condition);
        } else if condition.factor != number::Value::ONE {
            return Err(fault::Fault::DrivenTwice { part });
        }
        Ok(())
    }

    fn take_sense(
        &mut self,
        part: mechanism::PartId,
        sense: mechanism::Sense,
    ) -> Result<(), fault::Fault> {
        let positive = walk::is_positive(&self.walk.mechanism.part(part).kind, sense).ok_or(
            fault::Fault::CannotAsk {
                part,
                what: "that direction",
            },
        )?;
        let reached = *self.walk.at(part);
        if reached.ratio.is_zero() {
            return Ok(());
        }
        let first_positive = positive != reached.ratio.is_negative();
        match self.senses[reached.group] {
            None => self.senses[reached.group] = Some((first_positive, part)),
            Some((known, _)) => {
                if known != first_positive {
                    return Err(fault::Fault::DrivenTwice { part });
                }
            }
        }
        Ok(())
    }

    /// Turns and turns a minute of one component must agree over the given minutes.
    fn check_minutes(&mut self, faults: &mut Vec<fault::Fault>) -> Result<(), fault::Fault> {
        let Some(minutes) = self.minutes else {
            return Ok(());
        };
        for index in 0..self.components.len() {
            let component = self.components[index];
            if let (Some(run), Some(minute)) = (component.run, component.minute) {
                let by_time = Scale {
                    value: minute.value.times(minutes.into())?,
                    ..minute
                };
                let condition = condition(run, by_time)?;
                if let Err(fault) = self.agree(condition, minute.from) {
                    faults.push(fault);
                }
            }
        }
        Ok(())
    }

    /// What nothing joins to a part that is driven.
    fn find_unconnected(&self, faults: &mut Vec<fault::Fault>) {
        if self.components.len() < 2 {
            return;
        }
        let none_driven = self.components.iter().all(|component| !component.driven);
        let mut told = vec![false; self.components.len()];
        for (id, _) in self.walk.mechanism.numbered() {
            let component = self.component(id);
            // Without a given the drive is what the walk began at.
            let driven = self.components[component].driven || (none_driven && component == 0);
            if !driven && !told[component] {
                told[component] = true;
                faults.push(fault::Fault::NotConnected { part: id });
            }
        }
    }

    /// Returns the scale of a part's component over the run or in a minute, worked
    /// out from the other one over the given minutes if need be.
    ///
    /// # Errors
    ///
    /// [`fault::Fault::NotEnoughGiven`] when it does not follow.
    pub(super) fn scale(&self, part: mechanism::PartId, per: Per) -> Result<Scale, fault::Fault> {
        let component = &self.components[self.component(part)];
        if component.still {
            return Ok(Scale {
                value: number::Value::ZERO,
                power: 0,
                from: part,
                given: None,
            });
        }
        let (wanted, other) = match per {
            Per::Run => (component.run, component.minute),
            Per::Minute => (component.minute, component.run),
        };
        if let Some(scale) = wanted {
            return Ok(scale);
        }
        let other = other.ok_or(fault::Fault::NotEnoughGiven {
            what: "how much one of the parts moves",
        })?;
        let minutes = self.minutes.ok_or(fault::Fault::NotEnoughGiven {
            what: "how many minutes it runs",
        })?;
        let value = match per {
            Per::Run => other.value.times(minutes.into())?,
            Per::Minute => other.value.divided_by(minutes.into())?,
        };
        Ok(Scale { value, ..other })
    }

    /// Returns how much a part's body moves, without sign: turns, or for a bar pi
    /// millimetres.
    ///
    /// # Errors
    ///
    /// [`fault::Fault::NotEnoughGiven`] when it does not follow.
    pub(super) fn amount(
        &self,
        part: mechanism::PartId,
        per: Per,
    ) -> Result<number::Value, fault::Fault> {
        let scale = self.scale(part, per)?;
        let reached = self.walk.at(part);
        if scale.power + reached.power != 0 {
            return Err(fault::Fault::NotEnoughGiven {
                what: "the missing count",
            });
        }
        Ok(scale.value.times(reached.ratio.magnitude().into())?)
    }

    /// Returns which way a part moves, where it follows.
    pub(super) fn sense(&self, part: mechanism::PartId) -> Option<mechanism::Sense> {
        let reached = self.walk.at(part);
        let (positive, _) = self.senses[reached.group]?;
        (!reached.ratio.is_zero() && !self.components[self.component(part)].still)
            .then(|| self.walk.sense(part, positive))
    }

    /// Returns the unit of a part's moves.
    pub(super) fn unit(&self, part: mechanism::PartId, per: Per) -> ask::Unit {
        if matches!(
            self.walk.mechanism.part(part).kind,
            mechanism::Kind::Rack { .. }
        ) {
            return ask::Unit::Millimetres;
        }
        match per {
            Per::Run => ask::Unit::Turns,
            Per::Minute => ask::Unit::Rpm,
        }
    }
}

/// What it takes that two scales are equal.
fn condition(one: Scale, other: Scale) -> Result<walk::Condition, fault::Fault> {
    Ok(walk::Condition {
        factor: one.value.divided_by(other.value)?,
        power: one.power - other.power,
    })
}
