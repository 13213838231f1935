//! A chain of calculations done again, each number of it traced to where it comes from.

use crate::answer;
use crate::marking::method::Everywhere;
use crate::marking::method::Method;
use crate::number;

/// How many ways of tracing the numbers of a chain are tried.
const MOST_TRIES: usize = 1_500;

/// The most ways of tracing one calculation that are kept.
const MOST_WAYS: usize = 24;

/// Where a number comes from.
pub(super) struct Source {
    /// Its value on each mechanism.
    pub(super) everywhere: Everywhere,
    /// The calculation whose result it is.
    pub(super) earlier: Option<usize>,
    /// Whether it was worked out in the head, and may have come about by chance.
    pub(super) is_thought: bool,
}

/// Adds a source unless the number is known to come from the like.
pub(super) fn add_to(sources: &mut Vec<Source>, source: Source) {
    if !sources
        .iter()
        .any(|known| known.everywhere == source.everywhere)
    {
        sources.push(source);
    }
}

/// One calculation done again.
#[derive(Debug, Clone)]
pub(super) struct Done {
    /// What it comes to on each mechanism.
    pub(super) everywhere: Everywhere,
    /// The earlier calculations that it uses.
    pub(super) uses: Vec<usize>,
    /// The factor that was looked for, where a product was: `36 × 3 = 108` for `108 ÷ 36`.
    pub(super) factor: Option<number::Value>,
}

impl From<Source> for Done {
    fn from(source: Source) -> Self {
        Self {
            everywhere: source.everywhere,
            uses: source.earlier.into_iter().collect(),
            factor: None,
        }
    }
}

/// A chain with the ways of tracing its numbers that were tried.
pub(super) struct Search<'a> {
    method: &'a Method,
    chain: &'a [answer::Calculation],
    tries: usize,
    /// The chain up to the right answer.
    pub(super) best: Option<Vec<Done>>,
    /// The whole chain traced the likeliest way, where it does not get there.
    pub(super) astray: Option<Vec<Done>>,
}

impl<'a> Search<'a> {
    /// Returns a search that has tried nothing yet.
    pub(super) fn new(method: &'a Method, chain: &'a [answer::Calculation]) -> Self {
        Self {
            method,
            chain,
            tries: 0,
            best: None,
            astray: None,
        }
    }

    /// Whether the whole chain is a right method, or enough was tried.
    fn is_done(&self) -> bool {
        self.best
            .as_ref()
            .is_some_and(|best| best.len() == self.chain.len())
            || self.tries > MOST_TRIES
    }

    /// Traces the next calculation in every way, as far as the answer is reached.
    pub(super) fn trace(&mut self, done: &mut Vec<Done>) {
        if self.is_done() {
            return;
        }
        let Some(next) = self.chain.get(done.len()) else {
            if self.astray.is_none() {
                self.astray = Some(done.clone());
            }
            return;
        };
        let mut ways = self.ways(&next.expression, done);
        ways.extend(self.factors(next, done));
        for result in ways {
            self.tries += 1;
            let reached = self.method.is_answer(&result.everywhere);
            done.push(result);
            let is_longer = self
                .best
                .as_ref()
                .is_none_or(|best| best.len() < done.len());
            if reached && is_longer {
                self.best = Some(done.clone());
            }
            self.trace(done);
            done.pop();
            if self.is_done() {
                return;
            }
        }
    }

    /// A fraction in digits may be an earlier result or a value on the way, as it stands.
    fn fraction(&self, expression: &answer::Expression, done: &[Done]) -> Vec<Source> {
        let answer::Expression::Combined {
            first,
            operator: answer::Operator::Over,
            second,
        } = expression
        else {
            return Vec::new();
        };
        let are_numbers = matches!(**first, answer::Expression::Number(_))
            && matches!(**second, answer::Expression::Number(_));
        let Some(value) = expression.value().filter(|_| are_numbers) else {
            return Vec::new();
        };
        let mut sources = self.method.sources(value, done, self.chain);
        // The last source is the bare number; its two parts are traced beside it.
        sources.pop();
        sources
    }

    /// `36 × 3 = 108`, where 108 and 36 are known: what 36 must be multiplied by.
    fn factors(&self, next: &answer::Calculation, done: &[Done]) -> Vec<Done> {
        let (
            answer::Expression::Combined {
                first,
                operator: answer::Operator::Times,
                second,
            },
            Some(claimed),
        ) = (&next.expression, next.claimed)
        else {
            return Vec::new();
        };
        let (answer::Expression::Number(first), answer::Expression::Number(second)) =
            (&**first, &**second)
        else {
            return Vec::new();
        };
        // The last source is the bare number, which is not known from anywhere.
        let known = |value: number::Value| {
            let mut sources = self.method.sources(value, done, self.chain);
            sources.pop();
            sources
        };
        // What a factor is looked for in was told or worked out, not thought of: "9 × 3 = 27".
        let mut wholes = known(claimed);
        wholes.retain(|whole| {
            whole.earlier.is_some() || self.method.told.contains(&whole.everywhere)
        });
        let mut ways = Vec::new();
        for (part, factor) in [(*first, *second), (*second, *first)] {
            for part in known(part) {
                for whole in &wholes {
                    let sides = whole.everywhere.iter().zip(&part.everywhere);
                    let everywhere: Option<Everywhere> = sides
                        .map(|(whole, part)| whole.divided_by(*part).ok())
                        .collect();
                    ways.extend(everywhere.map(|everywhere| Done {
                        everywhere,
                        uses: whole.earlier.into_iter().chain(part.earlier).collect(),
                        factor: Some(factor),
                    }));
                }
            }
        }
        ways.truncate(MOST_WAYS);
        ways
    }

    /// What an expression comes to, for every way of tracing its numbers.
    fn ways(&self, expression: &answer::Expression, done: &[Done]) -> Vec<Done> {
        match expression {
            answer::Expression::Number(value) => self
                .method
                .sources(*value, done, self.chain)
                .into_iter()
                .map(Done::from)
                .collect(),
            answer::Expression::Combined {
                first,
                operator,
                second,
            } => {
                let seconds = self.ways(second, done);
                let (thought, known): (Vec<Source>, Vec<Source>) = self
                    .fraction(expression, done)
                    .into_iter()
                    .partition(|source| source.is_thought);
                let mut ways: Vec<Done> = known.into_iter().map(Done::from).collect();
                for first in self.ways(first, done) {
                    for second in &seconds {
                        let everywhere: Option<Everywhere> = first
                            .everywhere
                            .iter()
                            .zip(&second.everywhere)
                            .map(|(first, second)| operator.apply(*first, *second))
                            .collect();
                        let Some(everywhere) = everywhere else {
                            continue;
                        };
                        if ways.iter().all(|known| known.everywhere != everywhere)
                            && ways.len() < MOST_WAYS
                        {
                            let mut uses = first.uses.clone();
                            uses.extend(&second.uses);
                            ways.push(Done {
                                everywhere,
                                uses,
                                factor: None,
                            });
                        }
                    }
                }
                ways.extend(thought.into_iter().map(Done::from));
                ways
            }
        }
    }
}

/// The calculations so that each stands behind those whose results it uses.
pub(super) fn in_order_of_use(chain: &[answer::Calculation]) -> Vec<answer::Calculation> {
    let mut left: Vec<&answer::Calculation> = chain.iter().collect();
    let mut sorted = Vec::new();
    while !left.is_empty() {
        let uses_later = |one: &answer::Calculation| {
            let numbers = numbers(&one.expression);
            left.iter().any(|other| {
                !std::ptr::eq(*other, one)
                    && other
                        .claimed
                        .is_some_and(|claimed| numbers.contains(&claimed))
            })
        };
        let next = left.iter().position(|one| !uses_later(one)).unwrap_or(0);
        sorted.push(left.remove(next).clone());
    }
    sorted
}

/// Every number of an expression.
fn numbers(expression: &answer::Expression) -> Vec<number::Value> {
    match expression {
        answer::Expression::Number(value) => vec![*value],
        answer::Expression::Combined { first, second, .. } => {
            let mut found = numbers(first);
            found.extend(numbers(second));
            found
        }
    }
}
