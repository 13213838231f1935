//! Whether a chain of calculations is a right method.
//!
//! The chain is done again with the pupil's slips put right: where a calculation
//! uses the result of an earlier one, it gets the right result. Then every number in
//! it is traced to where it comes from (a number told, a value that the right working
//! passes through, an earlier result) and the chain is done on other mechanisms of the
//! same shape. A chain that ends in the right answer on all of them is a right method,
//! whatever the order of its steps; one that does so on this mechanism alone is luck.

mod passed;
mod slip;
mod trace;

use crate::answer;
use crate::gears::ask;
use crate::gears::mechanism;
use crate::gears::solve;
use crate::gears::vary;
use crate::marking::method::passed::ends;
use crate::marking::method::passed::passed;
use crate::marking::method::slip::slip;
use crate::marking::method::slip::slips;
use crate::marking::method::trace::Done;
use crate::marking::method::trace::Search;
use crate::marking::method::trace::Source;
use crate::marking::method::trace::add_to;
use crate::marking::method::trace::in_order_of_use;
use crate::number;
use std::cell::OnceCell;
use std::cmp::Ordering;

/// How many other mechanisms a chain is tried on.
const OTHERS: usize = 3;

/// One value on each mechanism, this one first.
type Everywhere = Vec<number::Value>;

/// What a right method for one question passes through, on several mechanisms.
pub(super) struct Method {
    /// Numbers told.
    told: Vec<Everywhere>,
    /// Values that the right working passes through.
    on_the_way: Vec<Everywhere>,
    /// The right answer in each way that a chain may end in it: in the base unit or
    /// another of its kind; a ratio as first over second or the other way round.
    answers: Vec<Everywhere>,
    /// Whether only this mechanism could be used, so that luck cannot be told.
    is_alone: bool,
    /// Products and quotients of two of the numbers told or passed through.
    in_the_head: OnceCell<Vec<Everywhere>>,
}

/// What a chain comes to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Chain {
    /// A right method, with the slips in it, each said shortly.
    Right {
        /// Calculations that come to something else than the pupil says.
        slips: Vec<String>,
        /// What the pupil's chain says the answer is, in the chain's own numbers.
        ends_in: Option<number::Value>,
    },
    /// Steps of a right method that stop before the answer.
    Unfinished {
        /// The first slip in it.
        slip: Option<String>,
    },
    /// A step that leads away, as written, and what it ends in with slips put right.
    Astray {
        /// The first such step; none where it cannot be told.
        step: Option<String>,
        /// What the last calculation comes to with slips put right.
        ends_in: Option<number::Value>,
    },
}

impl Method {
    /// Returns the method of a question; `None` where its answer is no number.
    pub(super) fn of(mechanism: &mechanism::Mechanism, ask: &ask::Ask) -> Option<Self> {
        let worked = solve::answer(mechanism, ask).ok()?;
        let shape = passed(&worked.steps);
        let mut method = Self {
            told: Vec::new(),
            on_the_way: Vec::new(),
            answers: Vec::new(),
            is_alone: true,
            in_the_head: OnceCell::new(),
        };
        extend(&mut method.told, &vary::numbers(mechanism, ask));
        extend(&mut method.on_the_way, &shape);
        extend(&mut method.answers, &ends(&worked.fact)?);
        for other in vary::varied(mechanism, ask, OTHERS) {
            let told = vary::numbers(&other.mechanism, &other.ask);
            let passed = passed(&other.worked.steps);
            let ends = ends(&other.worked.fact).unwrap_or_default();
            if told.len() != method.told.len()
                || passed.len() != shape.len()
                || ends.len() != method.answers.len()
            {
                continue;
            }
            extend(&mut method.told, &told);
            extend(&mut method.on_the_way, &passed);
            extend(&mut method.answers, &ends);
            method.is_alone = false;
        }
        Some(method)
    }

    /// Returns what a chain of calculations comes to; `given` is the pupil's answer in
    /// the base unit, where one could be read.
    pub(super) fn follow(
        &self,
        chain: &[answer::Calculation],
        given: Option<number::Value>,
    ) -> Chain {
        let mut search = Search::new(self, chain);
        search.trace(&mut Vec::new());
        let sorted;
        let mut chain = chain;
        // The steps may stand in another order than they were done in.
        if search.best.is_none() {
            sorted = in_order_of_use(chain);
            let mut again = Search::new(self, &sorted);
            again.trace(&mut Vec::new());
            if again.best.is_some() {
                search = again;
                chain = &sorted;
            }
        }
        let (best, astray) = (search.best.take(), search.astray.take());
        if let Some(done) = best {
            let index = done.len() - 1;
            let factor = done.last().and_then(|last| last.factor);
            // Whoever goes on after the right value, and answers that, had another plan.
            let goes_on = chain.iter().skip(index + 1).find(|later| {
                given.is_some_and(|given| {
                    later.claimed == Some(given) || later.expression.value() == Some(given)
                })
            });
            return match goes_on {
                Some(later) => Chain::Astray {
                    step: Some(later.text.clone()),
                    ends_in: None,
                },
                None => Chain::Right {
                    slips: slips(chain, &done, given),
                    ends_in: factor.or_else(|| {
                        let last = chain.get(index)?;
                        last.claimed.or_else(|| last.expression.value())
                    }),
                },
            };
        }
        let Some(astray) = astray else {
            return Chain::Astray {
                step: None,
                ends_in: None,
            };
        };
        match astray.iter().position(|done| !self.is_on_the_way(done)) {
            None => Chain::Unfinished {
                slip: chain.iter().find_map(slip),
            },
            Some(index) => Chain::Astray {
                step: chain
                    .get(index)
                    .filter(|_| !self.is_alone)
                    .map(|step| step.text.clone()),
                ends_in: astray
                    .last()
                    .and_then(|last| last.everywhere.first())
                    .copied(),
            },
        }
    }

    /// Where a number of the chain may come from.
    fn sources(
        &self,
        value: number::Value,
        done: &[Done],
        chain: &[answer::Calculation],
    ) -> Vec<Source> {
        let mut sources: Vec<Source> = Vec::new();
        for (index, (earlier, calculation)) in done.iter().zip(chain).enumerate().rev() {
            if calculation.claimed == Some(value) || calculation.expression.value() == Some(value) {
                add_to(
                    &mut sources,
                    Source {
                        everywhere: earlier.everywhere.clone(),
                        earlier: Some(index),
                        is_thought: false,
                    },
                );
            }
        }
        // The answer itself leads nowhere.
        let on_the_way = self
            .on_the_way
            .iter()
            .filter(|known| !self.is_answer(known));
        for told in self.told.iter().chain(on_the_way) {
            if told.first() == Some(&value) {
                add_to(
                    &mut sources,
                    Source {
                        everywhere: told.clone(),
                        earlier: None,
                        is_thought: false,
                    },
                );
            }
        }
        // A share told as 90 %, and pi as it is typed.
        let hundred = number::Number::whole(100).into();
        for told in &self.told {
            let as_percentage: Option<Everywhere> =
                told.iter().map(|value| value.times(hundred).ok()).collect();
            if let Some(everywhere) = as_percentage
                && everywhere.first() == Some(&value)
            {
                add_to(
                    &mut sources,
                    Source {
                        everywhere,
                        earlier: None,
                        is_thought: false,
                    },
                );
            }
        }
        if sources.is_empty() {
            let in_the_head = self.in_the_head().iter();
            for everywhere in in_the_head.filter(|known| known.first() == Some(&value)) {
                add_to(
                    &mut sources,
                    Source {
                        everywhere: everywhere.clone(),
                        earlier: None,
                        is_thought: true,
                    },
                );
            }
        }
        if is_pi(value) {
            add_to(
                &mut sources,
                Source {
                    everywhere: vec![number::Value::PI; self.count()],
                    earlier: None,
                    is_thought: false,
                },
            );
        }
        add_to(
            &mut sources,
            Source {
                everywhere: vec![value; self.count()],
                earlier: None,
                is_thought: false,
            },
        );
        sources
    }

    /// Products and quotients of two numbers, worked out in the head and not written
    /// down.
    fn in_the_head(&self) -> &[Everywhere] {
        self.in_the_head.get_or_init(|| {
            // A ratio may be had the other way round as well: 1/3 where 3 is on the way.
            let turned: Vec<Everywhere> = self.on_the_way.iter().filter_map(turned).collect();
            let known: Vec<&Everywhere> = self
                .told
                .iter()
                .chain(&self.on_the_way)
                .chain(&turned)
                .collect();
            let mut found = Vec::new();
            for (index, one) in known.iter().enumerate() {
                for (other_index, other) in known.iter().enumerate() {
                    for operator in [answer::Operator::Times, answer::Operator::Over] {
                        let is_same_product =
                            operator == answer::Operator::Times && other_index < index;
                        if is_same_product {
                            continue;
                        }
                        let everywhere: Option<Everywhere> = one
                            .iter()
                            .zip(*other)
                            .map(|(one, other)| operator.apply(*one, *other))
                            .collect();
                        found.extend(everywhere);
                    }
                }
            }
            found
        })
    }

    /// How many mechanisms there are.
    fn count(&self) -> usize {
        self.answers.first().map_or(1, Vec::len)
    }

    /// Whether it is the right answer on every mechanism.
    fn is_answer(&self, everywhere: &Everywhere) -> bool {
        self.answers.contains(everywhere)
    }

    /// Whether a result is one that a right method may pass through: a value of the
    /// right working, or a product or quotient of told numbers that the answer is made
    /// of in the same way.
    fn is_on_the_way(&self, done: &Done) -> bool {
        let is_known = |known: &Everywhere| {
            *known == done.everywhere
                || known.iter().zip(&done.everywhere).all(|(one, other)| {
                    one.times(*other)
                        .is_ok_and(|product| product == number::Value::ONE)
                })
        };
        self.on_the_way.iter().any(is_known)
            || self.told.iter().any(is_known)
            || self.is_part_of_answer(&done.everywhere)
    }

    /// Whether the answer is this value, or one over it, times or over further told
    /// numbers, none of which is in it already.
    fn is_part_of_answer(&self, everywhere: &Everywhere) -> bool {
        let Some(answer) = self.answers.first().and_then(|answer| self.powers(answer)) else {
            return false;
        };
        let Some(powers) = self.powers(everywhere) else {
            return false;
        };
        let within = |turned: i8| {
            powers
                .iter()
                .zip(&answer)
                .all(|(power, wanted)| *power == 0 || *power * turned == *wanted)
        };
        within(1) || within(-1)
    }

    /// Each told number's power (-1, 0 or 1) in a value that is a product of them.
    fn powers(&self, everywhere: &Everywhere) -> Option<Vec<i8>> {
        let mut powers = vec![0; self.told.len()];
        // The powers are found one told number after the other; few are told.
        self.search_powers(everywhere, 0, &mut powers)
            .then_some(powers)
    }

    fn search_powers(&self, left: &[number::Value], from: usize, powers: &mut [i8]) -> bool {
        if is_constant(left) {
            return true;
        }
        let Some(told) = self.told.get(from) else {
            return false;
        };
        if from >= MOST_TOLD {
            return false;
        }
        for power in [0, 1, -1] {
            let next: Option<Everywhere> = left
                .iter()
                .zip(told)
                .map(|(left, told)| match power {
                    0 => Some(*left),
                    1 => left.divided_by(*told).ok(),
                    _ => left.times(*told).ok(),
                })
                .collect();
            if let Some(place) = powers.get_mut(from) {
                *place = power;
            }
            if let Some(next) = next
                && self.search_powers(&next, from + 1, powers)
            {
                return true;
            }
        }
        if let Some(place) = powers.get_mut(from) {
            *place = 0;
        }
        false
    }
}

/// One over each value.
fn turned(everywhere: &Everywhere) -> Option<Everywhere> {
    let one = |value: &number::Value| number::Value::ONE.divided_by(*value).ok();
    everywhere.iter().map(one).collect()
}

/// More told numbers than this are not looked through.
const MOST_TOLD: usize = 9;

/// Whether a value is the same on every mechanism, and there are several: a small
/// whole number of the rule itself, such as 2, or one over it.
fn is_constant(everywhere: &[number::Value]) -> bool {
    everywhere.len() > 1
        && everywhere
            .iter()
            .all(|value| Some(value) == everywhere.first())
}

/// Whether a number stands for pi: as near as 3.1, or 22/7.
fn is_pi(value: number::Value) -> bool {
    let bound = |top| number::Number::ratio(top, 1000).map(number::Value::from);
    let (Ok(low), Ok(high)) = (bound(3_130), bound(3_150)) else {
        return false;
    };
    let is_near =
        value.compare(low) == Ok(Ordering::Greater) && value.compare(high) == Ok(Ordering::Less);
    is_near || number::Number::ratio(31, 10).is_ok_and(|rough| value == rough.into())
}

/// Adds what one more mechanism has to what the others have.
fn extend(everywhere: &mut Vec<Everywhere>, values: &[number::Value]) {
    if everywhere.is_empty() {
        everywhere.extend(values.iter().map(|value| vec![*value]));
    } else {
        for (known, value) in everywhere.iter_mut().zip(values) {
            known.push(*value);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::gears::notation;

    fn check(lines: &[&str], asked: &str, working: &str) -> String {
        let mechanism = notation::read(lines).expect("well formed");
        let ask = notation::read_ask(asked, &mechanism).expect("well formed");
        let method = Method::of(&mechanism, &ask).expect("a number is asked");
        assert!(!method.is_alone, "{lines:?}");
        let chain = answer::read_working(&answer::Typed {
            text: working.to_owned(),
            undone: Vec::new(),
        });
        match method.follow(&chain, None) {
            Chain::Right { slips, .. } if slips.is_empty() => "right".to_owned(),
            Chain::Right { slips, .. } => format!("right but {}", slips.join("; ")),
            Chain::Unfinished { slip: None } => "unfinished".to_owned(),
            Chain::Unfinished { slip: Some(slip) } => format!("unfinished, {slip}"),
            Chain::Astray { step, .. } => format!("astray at {}", step.unwrap_or_default()),
        }
    }

    const PAIR: [&str; 2] = ["gear A 12 drives gear B 36", "A turns 9"];
    const COMPOUND: [&str; 4] = [
        "gear A 10 drives gear B 30",
        "gear B 30, gear C 12 on one axle",
        "gear C 12 drives gear D 48",
        "A turns 120",
    ];

    #[test]
    fn right_methods_are_told_in_any_order_of_steps() {
        for (working, wanted) in [
            ("9 x 12 = 108, 108 / 36 = 3", "right"),
            ("9x12=108/36=3", "right"),
            ("12/36 = 1/3, 9 x 1/3 = 3", "right"),
            ("36/12 = 3, 9/3 = 3", "right"),
            ("9 ÷ 3", "right"),
            ("a third of 9", "right"),
            // Written down in another order than they were done in.
            ("108 / 36 = 3, 9 x 12 = 108", "right"),
            (
                "9 x 12 = 108, 108 / 36 = 4",
                "right but 108 ÷ 36 is 3, not 4",
            ),
            (
                "9 x 12 = 98, 98 / 36 = 2.72",
                "right but 9 × 12 is 108, not 98",
            ),
            (
                "9 x 12 = 98, 98 / 36 = 4",
                "right but 9 × 12 is 108, not 98; 98 ÷ 36 is 2 13/18, not 4",
            ),
            ("36 ÷ 12 = 4, 9 ÷ 4 = 2.25", "right but 36 ÷ 12 is 3, not 4"),
            ("36 ÷ 12 = 3", "unfinished"),
            ("9 x 12 = 108", "unfinished"),
            ("36 ÷ 12 = 3, 9 x 3 = 27", "astray at 9 × 3 = 27"),
            ("9 x 36 = 324, 324 / 12 = 27", "astray at 9 × 36 = 324"),
            ("36 - 12 = 24, 24 - 9 = 15", "astray at 36 - 12 = 24"),
            // By chance the right number, but no method.
            ("12 - 9 = 3", "astray at 12 - 9 = 3"),
        ] {
            assert_eq!(check(&PAIR, "turns of B", working), wanted, "{working}");
        }
        for (working, wanted) in [
            ("120 / 3 = 40, 40 / 4 = 10", "right"),
            ("3 x 4 = 12, 120 / 12 = 10", "right"),
            ("30/10 x 48/12 = 12; 120/12=10", "right"),
            (
                "120 x 10 = 1200, 1200 / 30 = 40, 40 x 12 = 480, 480 / 48 = 10",
                "right",
            ),
            (
                "3 x 4 = 14, 120 / 14 = 8.57",
                "right but 3 × 4 is 12, not 14",
            ),
            ("3 + 4 = 7, 120 / 7 = 17.1", "astray at 3 + 4 = 7"),
        ] {
            assert_eq!(check(&COMPOUND, "turns of D", working), wanted, "{working}");
        }
    }

    #[test]
    fn lengths_forces_counts_and_sizes_have_methods_too() {
        let rack = ["gear P 12 drives rack R", "tooth size 2 mm", "P turns 5"];
        for (working, wanted) in [
            ("12 x 2 = 24, 24 x 3.14 = 75.36, 75.36 x 5 = 376.8", "right"),
            ("pi x 24 x 5", "right"),
            ("24 x pi = 75.4, x 5 = 377", "right"),
            ("24 x 5 = 120", "unfinished"),
        ] {
            assert_eq!(check(&rack, "distance of R", working), wanted, "{working}");
        }
        let winch = [
            "handle H 300 mm, gear A 10 on one axle",
            "gear A 10 drives gear B 40",
            "gear B 40, drum D 100 mm on one axle",
            "force 20 N at H",
            "efficiency 90 %",
        ];
        for (working, wanted) in [
            (
                "20 x 30 = 600, 600 x 4 = 2400, 2400 x 0.9 = 2160, 2160 / 5 = 432",
                "right",
            ),
            ("20 x 300 x 4 x 90 / 100 / 50", "right"),
            (
                "20 x 30 = 600, 600 x 4 = 2200, 2200 x 0.9 = 1980, 1980 / 5 = 396",
                "right but 600 × 4 is 2400, not 2200",
            ),
        ] {
            assert_eq!(check(&winch, "force at D", working), wanted, "{working}");
        }
        let missing = ["gear A 12 drives gear B ?", "A turns 9", "B turns 3"];
        for (working, wanted) in [
            ("9 / 3 = 3, 12 x 3 = 36", "right"),
            (
                "9 x 12 = 108, 108 / 3 = 35",
                "right but 108 ÷ 3 is 36, not 35",
            ),
            ("9 - 3 = 6, 12 + 6 = 18", "astray at 9 - 3 = 6"),
        ] {
            assert_eq!(check(&missing, "teeth of B", working), wanted, "{working}");
        }
        let apart = ["gear A 20 drives gear B 40", "tooth size 2 mm"];
        for (working, wanted) in [
            ("20 + 40 = 60, 60 / 2 = 30, 30 x 2 = 60", "right"),
            (
                "20 x 2 = 40, 40 x 2 = 80, 40 + 80 = 120, 120 / 2 = 60",
                "right",
            ),
            (
                "20 + 40 = 50, 50 x 2 / 2 = 50",
                "right but 20 + 40 is 60, not 50",
            ),
            // On the way, though no product.
            ("20 + 40 = 60", "unfinished"),
            ("40 - 20 = 20", "astray at 40 - 20 = 20"),
        ] {
            assert_eq!(
                check(&apart, "centre distance of A, B", working),
                wanted,
                "{working}"
            );
        }
        let timed = [
            "gear A 12 drives gear B 36",
            "A runs at 120 rpm",
            "for 5 minutes",
        ];
        assert_eq!(
            check(&timed, "turns of B", "120 x 5 = 600, 600 x 12/36 = 200"),
            "right"
        );
        let ratio = ["gear A 12 drives gear B 30"];
        assert_eq!(
            check(&ratio, "ratio of turns A : B", "30 / 12 = 2.5"),
            "right"
        );
    }
}
