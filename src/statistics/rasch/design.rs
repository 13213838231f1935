//! Which questions can be put on one scale, and why others cannot.
//!
//! Two things are needed. Pupils must link the questions: two groups of questions
//! that nobody did some of both of cannot be compared. And the answers must overlap:
//! for every way to part the questions in two, some pupil must have done better than
//! the least on one side and worse than the best on the other, both ways round. Else
//! the one part is harder by as much as one likes, and no figure is right.
//!
//! Where the answers part in this way, a pupil's score still tells what was earned
//! on each part: nobody has a mark on the harder part without all of the easier. So
//! each part gets a scale of its own from the same counts.
//!
//! For more marks than one a question, that is not enough. The highest mark on a question
//! may be given only by pupils with all marks on everything they could be weighed by, who
//! say nothing; the step to it would run away. Then it is taken for the mark below, the
//! same with the lowest, and it is looked again whether the answers overlap. Nothing else
//! changes by it: a pupil's score still tells which mark it was. What else may run away
//! the estimation notices by itself.
//!
//! Source: Fischer (1981), Psychometrika 46, 59-77 (from memory): the condition for
//! one mark a question. That the others keep the places that they have without what runs
//! away: Barndorff-Nielsen (1978), Information and Exponential Families (from memory),
//! where the likelihood has no peak it has one among the patterns that stay possible as it
//! rises; for marks given only by the best or the weakest worked out by ourselves.

use crate::statistics::rasch::answers;
use std::collections::BTreeMap;
use std::fmt;
use std::ops::RangeInclusive;

mod counts;
mod graph;

/// Why a question has no place on a scale.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Unscaled {
    /// Everybody has all marks on it.
    AlwaysFull,
    /// Nobody has a mark on it.
    AlwaysNought,
    /// Everybody has the same of several marks on it.
    AlwaysSame,
    /// It is on a scale, but nobody has all marks on it, so that its place is open
    /// upwards.
    NeverFull,
    /// It is on a scale, but everybody has a mark on it, so that its place is open
    /// downwards.
    NeverNought,
    /// All who could be compared have the same of several marks on it.
    SameWhereCompared,
    /// It is on a scale, but who has all marks on it has all marks on everything that it
    /// could be weighed against, so that its place is open upwards.
    FullOnlyWithAll,
    /// It is on a scale, but who has none on it has none on anything that it could be
    /// weighed against, so that its place is open downwards.
    NoughtOnlyWithNone,
    /// No pupil who did it did another question that can be scaled.
    NotLinked,
    /// The answers part it from all others.
    NoOverlap,
    /// Too few pupils did better than the least and worse than the best.
    TooFewPupils {
        /// How many are needed.
        fewest: u32,
    },
    /// The answers are too few or too much alike to settle on a place.
    NotSettled,
}

impl fmt::Display for Unscaled {
    /// Writes the reason, to stand beside the question.
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(match self {
            Self::AlwaysFull => "everybody has all marks on it",
            Self::AlwaysNought => "nobody has a mark on it",
            Self::AlwaysSame => "everybody has the same mark on it",
            Self::NeverFull => "nobody has all marks on it",
            Self::NeverNought => "everybody has a mark on it",
            Self::SameWhereCompared => "all but those with all marks or none on the others have the same mark on it",
            Self::FullOnlyWithAll => "only those who have all marks on all the others have all marks on it",
            Self::NoughtOnlyWithNone => "only those who have no mark on any of the others have none on it",
            Self::NotLinked => "no pupil did it together with another question of the scale",
            Self::NoOverlap => "all who did less than the best on easier questions failed on it, or the other way round: it cannot be weighed against them",
            Self::TooFewPupils { fewest } => {
                return write!(formatter, "fewer than {fewest} pupils can be counted for it");
            }
            Self::NotSettled => "the answers are too few or too much alike",
        })
    }
}

/// Questions that can be weighed against each other, with their counts.
pub(super) struct Block {
    /// The questions, sorted.
    pub(super) questions: Vec<Part>,
    /// The counts, by which of the questions pupils did.
    pub(super) sets: Vec<Set>,
    /// The pupils with some but not all marks who did one of the questions only.
    pub(super) did_one: u64,
}

/// A question of a block.
pub(super) struct Part {
    /// The question.
    pub(super) question: answers::Question,
    /// Why its place is open to one side, if it is.
    pub(super) open: Option<Unscaled>,
    /// For each mark from the lowest to the highest that somebody who can be compared has,
    /// how many pupils who count have it.
    pub(super) counts: Vec<u64>,
}

/// The pupils who did the same questions of a block and say something of them.
pub(super) struct Set {
    /// Which questions, by their places in the block.
    pub(super) members: Vec<usize>,
    /// By score, where each mark counts from the lowest that somebody has.
    pub(super) scores: BTreeMap<usize, Score>,
}

/// The pupils of one score.
pub(super) struct Score {
    /// How many.
    pub(super) pupils: u64,
    /// How often each mark of each member was given.
    pub(super) marks: Vec<Vec<u64>>,
}

/// What can be scaled, and what cannot.
pub(super) struct Design {
    /// The parts that can, in an order in which easier parts come before harder.
    pub(super) blocks: Vec<Block>,
    /// The questions that cannot.
    pub(super) unscaled: BTreeMap<answers::Question, Unscaled>,
    /// All questions in groups that pupils link.
    pub(super) linked: Vec<Vec<answers::Question>>,
    /// Where each question stands.
    pub(super) paths: Paths,
}

/// Where a question stands, each time that the answers were looked at.
pub(super) type Path = Vec<Standing>;
/// The same of each question.
pub(super) type Paths = BTreeMap<answers::Question, Path>;

/// Where a question stands among those that the answers part.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Standing {
    /// The group that it is weighed in, easier ones before; none where all have the same
    /// on it.
    pub(super) group: Option<usize>,
    /// The lowest and the highest mark that somebody has.
    pub(super) marks: RangeInclusive<u8>,
}

/// What a question adds to the score of the pupils who count for another.
pub(super) enum Adds {
    /// The same for all of them.
    Always(u8),
    /// It is weighed with the other: at least so much.
    AtLeast(u8),
}

/// Returns what a question adds to the score of those who count for another.
pub(super) fn adds(of: &[Standing], other: &[Standing]) -> Adds {
    let mut least = 0;
    for (one, other) in of.iter().zip(other) {
        least = *one.marks.start();
        match (one.group, other.group) {
            (Some(one_group), Some(other)) if one_group < other => {
                return Adds::Always(*one.marks.end());
            }
            (Some(one), Some(other)) if one == other => {}
            (Some(_) | None, Some(_) | None) => return Adds::Always(least),
        }
    }
    Adds::AtLeast(least)
}

/// A question with the marks that occur.
struct Node<'a> {
    question: &'a answers::Question,
    low: u8,
    high: u8,
}

/// One look at the answers.
struct Look<'a> {
    nodes: Vec<Node<'a>>,
    /// The places of the questions in the nodes.
    places: BTreeMap<&'a answers::Question, usize>,
    /// The groups that the answers part, easier ones before.
    order: Vec<Vec<usize>>,
    /// Which questions were done beside each other.
    beside: Vec<Vec<bool>>,
}

/// Returns what of the answers can be scaled.
pub(super) fn design(answers: &answers::Answers) -> Design {
    let first = Look::at(answers);
    let all: Vec<usize> = (0..first.nodes.len()).collect();
    let named = |group: &Vec<usize>| {
        let nodes = group.iter().map(|it| first.nodes[*it].question.clone());
        nodes.collect()
    };
    let linked = graph::strong(&first.beside, &all);
    let linked = linked.iter().map(named).collect();
    let mut paths = Paths::new();
    let mut clipped: Option<answers::Answers> = None;
    loop {
        let now = clipped.as_ref().unwrap_or(answers);
        let look = Look::at(now);
        look.add_to(&mut paths);
        let blocks = counts::blocks(now, &look, &paths);
        let between = between(&blocks, &paths);
        if between.is_empty() {
            return Design {
                unscaled: look.unscaled(&paths),
                blocks,
                linked,
                paths,
            };
        }
        clipped = Some(now.clipped(&between));
    }
}

/// The marks on questions whose lowest or highest is given by nobody who counts.
fn between(blocks: &[Block], paths: &Paths) -> BTreeMap<answers::Question, RangeInclusive<u8>> {
    let mut between = BTreeMap::new();
    for part in blocks.iter().flat_map(|block| &block.questions) {
        let standing = paths.get(&part.question).and_then(|path| path.last());
        let Some(marks) = standing.map(|standing| standing.marks.clone()) else {
            continue;
        };
        let given = marks.clone().zip(&part.counts);
        let mut given = given.filter(|(_, count)| **count > 0).map(|(mark, _)| mark);
        // Where nobody counts nothing is known of any mark.
        if let Some(lowest) = given.next() {
            let highest = given.next_back().unwrap_or(lowest);
            if (lowest..=highest) != marks {
                between.insert(part.question.clone(), lowest..=highest);
            }
        }
    }
    between
}

impl<'a> Look<'a> {
    fn at(answers: &'a answers::Answers) -> Self {
        let nodes = nodes(answers);
        let places: BTreeMap<&answers::Question, usize> =
            nodes.iter().map(|it| it.question).zip(0..).collect();
        let (mut beats, mut beside) = (graph::edges(nodes.len()), graph::edges(nodes.len()));
        for (questions, table) in answers.sets() {
            let members: Vec<usize> = questions.iter().map(|it| places[it]).collect();
            for (one, from) in members.iter().enumerate() {
                for (other, to) in members.iter().enumerate() {
                    beside[*from][*to] = true;
                    let (first, second) = (&nodes[*from], &nodes[*to]);
                    if from != to && !beats[*from][*to] {
                        beats[*from][*to] = graph::beats_in(table, (one, first), (other, second));
                    }
                }
            }
        }
        let varying = (0..nodes.len()).filter(|it| nodes[*it].low < nodes[*it].high);
        let varying: Vec<usize> = varying.collect();
        Self {
            order: graph::strong(&beats, &varying),
            nodes,
            places,
            beside,
        }
    }

    /// Adds where each question stands.
    fn add_to(&self, paths: &mut Paths) {
        for (place, node) in self.nodes.iter().enumerate() {
            let path = paths.entry(node.question.clone()).or_default();
            path.push(Standing {
                group: self.order.iter().position(|group| group.contains(&place)),
                marks: node.low..=node.high,
            });
        }
    }

    /// The questions that stand alone, and those on which all have the same.
    fn unscaled(&self, paths: &Paths) -> BTreeMap<answers::Question, Unscaled> {
        let mut unscaled = BTreeMap::new();
        for node in self.nodes.iter().filter(|node| node.low == node.high) {
            let first = paths.get(node.question).and_then(|path| path.first());
            let always = first.is_some_and(|first| first.marks.start() == first.marks.end());
            let why = if always {
                node.constant()
            } else {
                Unscaled::SameWhereCompared
            };
            unscaled.insert(node.question.clone(), why);
        }
        let varies = |other: &usize| self.nodes[*other].low < self.nodes[*other].high;
        for group in &self.order {
            if let [only] = group[..] {
                let mut others = (0..self.nodes.len()).filter(varies);
                let linked = others.any(|it| it != only && self.beside[only][it]);
                let why = if linked {
                    Unscaled::NoOverlap
                } else {
                    Unscaled::NotLinked
                };
                unscaled.insert(self.nodes[only].question.clone(), why);
            }
        }
        unscaled
    }
}

/// Every question, sorted, with the marks that occur.
fn nodes(answers: &answers::Answers) -> Vec<Node<'_>> {
    let mut seen: BTreeMap<&answers::Question, Vec<bool>> = BTreeMap::new();
    for (questions, table) in answers.sets() {
        for (place, question) in questions.iter().enumerate() {
            let marks = seen
                .entry(question)
                .or_insert_with(|| vec![false; usize::from(question.full) + 1]);
            for (score, _) in table.scores() {
                for (seen, count) in marks.iter_mut().zip(table.marks(score, place)) {
                    *seen |= *count > 0;
                }
            }
        }
    }
    let nodes = seen.into_iter().map(|(question, seen)| {
        let those = || (0_u8..=255).zip(&seen).filter(|(_, seen)| **seen);
        let (low, high) = (those().next(), those().next_back());
        Node {
            question,
            low: low.map_or(0, |it| it.0),
            high: high.map_or(0, |it| it.0),
        }
    });
    nodes.collect()
}

impl Node<'_> {
    /// Why a question on which all have the same cannot be scaled.
    fn constant(&self) -> Unscaled {
        if self.high == 0 {
            Unscaled::AlwaysNought
        } else if self.low == self.question.full {
            Unscaled::AlwaysFull
        } else {
            Unscaled::AlwaysSame
        }
    }

    fn range(&self) -> usize {
        usize::from(self.high - self.low)
    }
}

impl Part {
    /// Whether a pupil who counts has each mark.
    pub(super) fn given(&self) -> impl DoubleEndedIterator<Item = bool> + ExactSizeIterator {
        self.counts.iter().map(|count| *count > 0)
    }
}

impl Block {
    /// Takes a set in, if it says anything; one question alone says nothing.
    fn add(&mut self, set: Set) {
        let pupils: u64 = set.scores.values().map(|score| score.pupils).sum();
        if let [_] = set.members[..] {
            self.did_one = self.did_one.saturating_add(pupils);
            return;
        }
        for score in set.scores.values() {
            for (member, marks) in set.members.iter().zip(&score.marks) {
                for (count, more) in self.questions[*member].counts.iter_mut().zip(marks) {
                    *count = count.saturating_add(*more);
                }
            }
        }
        if !set.scores.is_empty() {
            self.sets.push(set);
        }
    }

    /// Returns how many pupils say something of it.
    pub(super) fn pupils(&self) -> u64 {
        let scores = self.sets.iter().flat_map(|set| set.scores.values());
        let together: u64 = scores.map(|score| score.pupils).sum();
        together.saturating_add(self.did_one)
    }
}
