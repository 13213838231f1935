//! Explanations: which ideas a text has in it, and whether they are true here.
//!
//! The words become [`sign::Sign`]s, the signs claims about sizes and speeds, ways
//! or loops, and those are held against what is true of the mechanism. What is not
//! understood is no idea; nothing here says what an explanation is worth.

mod compared;
mod phrase;
mod sign;
mod spelling;
mod statement;
mod turning;
mod ways;

use crate::answer::Candidate;
use crate::answer::Given;
use crate::answer::Reading;
use crate::answer::Sureness;
use crate::answer::explaining;
use crate::answer::explaining::Polarity;
use crate::answer::reading::explained::sign::Sign;
use crate::answer::reading::token;
use crate::gears::ask;
use crate::gears::idea::Idea;
use crate::number;
use std::collections::BTreeMap;

/// Returns what an explanation says.
pub(super) fn read(tokens: &[token::Token], explaining: &explaining::Explaining) -> Reading {
    let signs = without_taken_back(&sign::signs(tokens, explaining));
    let text = Text {
        signs: &signs,
        explaining,
    };
    let mut claims = Claims::new(explaining);
    let conclusion = match explaining.explained {
        ask::Explained::Faster(first, second) => {
            compared::read(&text, compared::Pair::faster(first, second), &mut claims)
        }
        ask::Explained::Stronger(first, second) => {
            compared::read(&text, compared::Pair::stronger(first, second), &mut claims)
        }
        ask::Explained::SameWay(..) | ask::Explained::Direction(_) => {
            ways::read(&text, &mut claims)
        }
        ask::Explained::WillItTurn => turning::read(&text, &mut claims),
    };
    let explanation = explaining::Explanation {
        conclusion,
        ideas: claims.found(),
    };
    Reading::Read(vec![Candidate {
        said: said(&explanation, explaining),
        given: Given::Explanation(explanation),
        sureness: Sureness::Check {
            why: explaining::WHY_LOOK.to_owned(),
        },
    }])
}

/// What "not because it is bigger" says is left out up to the next break.
fn without_taken_back(signs: &[Sign]) -> Vec<Sign> {
    let mut kept = Vec::new();
    let mut rest = signs;
    while let Some((sign, after)) = rest.split_first() {
        rest = after;
        let takes_back = *sign == Sign::Though
            || (*sign == Sign::Not && after.first() == Some(&Sign::Because) && kept.is_empty());
        if takes_back {
            let skipped = after
                .iter()
                .take_while(|sign| !matches!(sign, Sign::Break | Sign::But | Sign::So))
                .count();
            rest = after.get(skipped..).unwrap_or_default();
        } else {
            kept.push(*sign);
        }
    }
    kept
}

/// The signs of one explanation.
struct Text<'a> {
    signs: &'a [Sign],
    explaining: &'a explaining::Explaining,
}

impl Text<'_> {
    fn has(&self, wanted: Sign) -> bool {
        self.signs.contains(&wanted)
    }

    fn has_any(&self, wanted: &[Sign]) -> bool {
        wanted.iter().any(|wanted| self.has(*wanted))
    }

    /// What is right.
    fn right(&self) -> &ask::Fact {
        &self.explaining.reasons.conclusion
    }

    /// The numbers in it.
    fn numbers(&self) -> impl Iterator<Item = number::Number> + '_ {
        self.signs.iter().filter_map(|sign| {
            if let Sign::Number(number) = sign {
                Some(*number)
            } else {
                None
            }
        })
    }

    /// The parts of text between breaks and words that link.
    fn clauses(&self) -> impl Iterator<Item = &[Sign]> {
        self.signs.split(|sign| ends_clause(*sign))
    }

    /// Yes or no, as far as it is said in so many words.
    fn yes_or_no(&self) -> Option<bool> {
        let first = self.signs.iter().find(|sign| **sign != Sign::Break)?;
        if *first == Sign::Yes {
            Some(true)
        } else {
            (*first == Sign::No).then_some(false)
        }
    }
}

/// Whether a clause ends here.
fn ends_clause(sign: Sign) -> bool {
    matches!(
        sign,
        Sign::Break | Sign::Because | Sign::So | Sign::But | Sign::And
    )
}

/// The ideas claimed so far, held against what is true.
struct Claims<'a> {
    explaining: &'a explaining::Explaining,
    found: BTreeMap<Idea, Polarity>,
}

impl<'a> Claims<'a> {
    fn new(explaining: &'a explaining::Explaining) -> Self {
        Self {
            explaining,
            found: BTreeMap::new(),
        }
    }

    /// Whether the idea is true of the mechanism.
    fn is_true(&self, idea: Idea) -> bool {
        let reasons = &self.explaining.reasons;
        reasons.key.contains(&idea) || reasons.beside.contains(&idea)
    }

    /// Whether the idea is one of those that explain the answer.
    fn is_key(&self, idea: Idea) -> bool {
        self.explaining.reasons.key.contains(&idea)
    }

    /// Notes that the idea is said, where it is true here.
    fn says(&mut self, idea: Idea) {
        self.add(idea, Polarity::True);
    }

    /// Notes that the idea is said the wrong way round, where it is true here.
    fn denies(&mut self, idea: Idea) {
        self.add(idea, Polarity::Against);
    }

    /// Notes that the idea is touched, where it is true here.
    fn touches(&mut self, idea: Idea) {
        self.add(idea, Polarity::Unclear);
    }

    /// What goes against the mechanism outweighs what agrees, and both what is
    /// unclear.
    fn add(&mut self, idea: Idea, polarity: Polarity) {
        if !self.is_true(idea) {
            return;
        }
        let rank = |polarity: Polarity| match polarity {
            Polarity::Unclear => 0,
            Polarity::True => 1,
            Polarity::Against => 2,
        };
        let known = self.found.entry(idea).or_insert(polarity);
        if rank(polarity) > rank(*known) {
            *known = polarity;
        }
    }

    fn found(self) -> Vec<explaining::Found> {
        self.found
            .into_iter()
            .map(|(idea, polarity)| explaining::Found { idea, polarity })
            .collect()
    }
}

/// What was read, shortly.
fn said(explanation: &explaining::Explanation, explaining: &explaining::Explaining) -> String {
    let mut said: Vec<String> = explanation
        .conclusion
        .iter()
        .map(|fact| explaining.shown(fact))
        .collect();
    for found in &explanation.ideas {
        said.push(match found.polarity {
            Polarity::True => found.idea.name().to_owned(),
            Polarity::Against => format!("the wrong way round: {}", found.idea.wrong()),
            Polarity::Unclear => format!("perhaps: {}", found.idea.name()),
        });
    }
    if explanation.ideas.is_empty() {
        said.push("no idea found".to_owned());
    }
    said.join("; ")
}
