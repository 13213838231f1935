//! How every body moves for each other, with its sense: what a moving picture shows.
//!
//! Unlike [`super::solve`] it wants no amounts: a mechanism of which nothing is said
//! but what joins it has its ratios all the same.

use crate::gears::fault;
use crate::gears::mechanism;
use crate::gears::motion;
use crate::gears::solve;
use crate::gears::unknown;
use crate::number;

/// A mechanism with all its counts, and how its bodies move.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Turning {
    /// The mechanism; a count that was to be found from its givens stands in it.
    pub mechanism: mechanism::Mechanism,
    /// One for each body, all at the same scale: turns, clockwise positive; for a bar
    /// pi times millimetres (tooth sizes where that is not known), to the right
    /// positive. Nought for what stands still.
    pub moves: Vec<number::Value>,
}

impl Turning {
    /// Returns how a part moves.
    #[must_use]
    pub fn of(&self, part: mechanism::PartId) -> number::Value {
        self.moves[self.mechanism.part(part).body.index()]
    }
}

/// Returns how every body moves for each other.
///
/// Where no direction is given, what the mechanism begins with moves clockwise (a bar
/// to the right); past a worm, where none follows, so does what begins there.
///
/// Source: the ratios of the walk (see `walk`, `planetary`); only scaled here.
///
/// # Errors
///
/// Every fault of the mechanism: it is locked, its teeth do not fit, not enough is
/// given of a planetary set, a count is to be found that does not follow.
///
/// # Example
///
/// ```
/// use toothmark::gears::{notation, turning};
/// use toothmark::number;
///
/// let pair = notation::read(&["gear A 12 drives gear B 36"]).expect("well formed");
/// let turning = turning::turning(&pair).expect("it turns");
/// let third = number::Number::ratio(-1, 3).expect("a fraction");
/// assert_eq!(turning.moves, [number::Value::ONE, third.into()]);
/// ```
pub fn turning(mechanism: &mechanism::Mechanism) -> Result<Turning, Vec<fault::Fault>> {
    let completed = match unknown::missing(mechanism).as_slice() {
        [] => None,
        [part] => unknown::complete(mechanism, *part)?,
        [_, ..] => return Err(vec![fault::Fault::TooManyUnknowns]),
    };
    let mechanism = completed.map_or_else(|| mechanism.clone(), |it| it.mechanism);
    let moves = moves(&solve::settled(&mechanism)?).map_err(|fault| vec![fault])?;
    Ok(Turning { mechanism, moves })
}

fn moves(motions: &motion::Motions<'_>) -> Result<Vec<number::Value>, fault::Fault> {
    let scales = scales(motions);
    let mut moves = vec![number::Value::ZERO; motions.walk.bodies.len()];
    for (id, part) in motions.walk.mechanism.numbered() {
        let component = motions.component(id);
        if motions.components[component].still {
            continue;
        }
        let reached = motions.walk.at(id);
        if reached.power != 0 {
            return Err(fault::Fault::NotEnoughGiven {
                what: "the missing count",
            });
        }
        let ratio = match motions.senses[reached.group] {
            Some((false, _)) => reached.ratio.negated(),
            Some((true, _)) | None => reached.ratio,
        };
        moves[part.body.index()] = scales[component].times(ratio.into())?;
    }
    Ok(moves)
}

/// How much each component moves for each unit of its ratios, where that is given of
/// all of them; else each moves by its ratios.
fn scales(motions: &motion::Motions<'_>) -> Vec<number::Value> {
    let ones = vec![number::Value::ONE; motions.components.len()];
    if motions.components.len() < 2 {
        return ones;
    }
    let given = |per: motion::Per| -> Option<Vec<number::Value>> {
        let mut scales = ones.clone();
        for (id, _) in motions.walk.mechanism.numbered() {
            let scale = motions.scale(id, per).ok()?;
            scales[motions.component(id)] = scale.value;
        }
        Some(scales)
    };
    given(motion::Per::Minute)
        .or_else(|| given(motion::Per::Run))
        .unwrap_or_else(|| ones.clone())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::gears::notation;

    fn moves(lines: &[&str]) -> Vec<String> {
        let mechanism = notation::read(lines).expect("well formed");
        let turning = turning(&mechanism).expect("it turns");
        turning
            .mechanism
            .numbered()
            .map(|(id, part)| format!("{} {}", part.name, turning.of(id).factor))
            .collect()
    }

    #[test]
    fn every_part_moves_by_its_ratio_and_its_sense() {
        for (lines, told) in [
            (
                &["gear A 12 drives gear B 18 drives gear C 24"][..],
                &["A 1", "B -2/3", "C 1/2"][..],
            ),
            (
                &["gear A 12 drives gear B 24", "B turns 3 clockwise"],
                &["A -2", "B 1"],
            ),
            (
                &["gear P 10 drives rack R", "P turns clockwise"],
                &["P 1", "R -10"],
            ),
            (&["worm W 1 start drives gear B 40"], &["W 1", "B 1/40"]),
            (
                &["gear A 12 drives gear B ?", "A turns 6", "B turns 2"],
                &["A 1", "B -1/3"],
            ),
            (
                &[
                    "gear S 20 drives gear P 10 drives ring R 40",
                    "P rides on carrier C",
                    "R held still",
                    "C turns anticlockwise",
                ],
                &["S -3", "P 3", "R 0", "C -1"],
            ),
            (
                &["pulley A 60 mm drives pulley B 30 mm by crossed belt"],
                &["A 1", "B -2"],
            ),
        ] {
            assert_eq!(moves(lines), told, "{lines:?}");
        }
    }

    #[test]
    fn what_cannot_turn_says_why() {
        for lines in [
            &[
                "gear A 12 drives gear B 12 drives gear C 12",
                "C meshes with A",
            ][..],
            &["gear A 12 drives gear B ?"],
            &["gear A 12 drives worm W 1 start"],
        ] {
            let mechanism = notation::read(lines).expect("well formed");
            assert!(turning(&mechanism).is_err(), "{lines:?}");
        }
    }
}
