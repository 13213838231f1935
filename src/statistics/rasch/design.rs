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
//! Source: Fischer (1981), Psychometrika 46, 59-77 (from memory): the condition for
//! one mark a question. For more marks it is needed but may not be enough; there the
//! estimation notices by itself that it does not settle.

use crate::statistics::rasch::answers;
use crate::statistics::score_table;
use std::collections::BTreeMap;
use std::fmt;

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
    /// Which of the groups that the answers part it is; easier ones come before.
    pub(super) group: usize,
    /// The questions, sorted.
    pub(super) questions: Vec<Part>,
    /// The counts, by which of the questions pupils did.
    pub(super) sets: Vec<Set>,
}

/// A question of a block.
pub(super) struct Part {
    /// The question.
    pub(super) question: answers::Question,
    /// The lowest mark that somebody has.
    pub(super) low: u8,
    /// For each mark from the lowest to the highest that somebody has, how often it
    /// was given by pupils who count.
    pub(super) counts: Vec<u64>,
    /// Whether somebody has the mark, for the same marks.
    pub(super) seen: Vec<bool>,
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
    /// What each question adds to a score.
    pub(super) seats: BTreeMap<answers::Question, Seat>,
}

/// What a question adds to the score of everybody who did it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Seat {
    /// The group that it is weighed in; none where everybody has the same on it.
    pub(super) group: Option<usize>,
    /// The lowest mark that somebody has: everybody has as much.
    pub(super) low: u32,
    /// The highest less the lowest.
    pub(super) range: u32,
}

/// A question with the marks that occur.
struct Node<'a> {
    question: &'a answers::Question,
    seen: Vec<bool>,
    low: u8,
    high: u8,
}

/// Returns what of the answers can be scaled.
pub(super) fn design(answers: &answers::Answers) -> Design {
    let nodes = nodes(answers);
    let places: BTreeMap<&answers::Question, usize> =
        nodes.iter().map(|it| it.question).zip(0..).collect();
    let (mut beats, mut beside) = (edges(nodes.len()), edges(nodes.len()));
    for (questions, table) in answers.sets() {
        let members: Vec<usize> = questions.iter().map(|it| places[it]).collect();
        for (one, from) in members.iter().enumerate() {
            for (other, to) in members.iter().enumerate() {
                beside[*from][*to] = true;
                let (first, second) = (&nodes[*from], &nodes[*to]);
                if from != to && !beats[*from][*to] {
                    beats[*from][*to] = beats_in(table, (one, first), (other, second));
                }
            }
        }
    }
    let varies = |node: &usize| nodes[*node].low < nodes[*node].high;
    let mut unscaled = BTreeMap::new();
    for node in nodes.iter().filter(|node| node.low == node.high) {
        unscaled.insert(node.question.clone(), node.constant());
    }
    let all: Vec<usize> = (0..nodes.len()).collect();
    let varying: Vec<usize> = all.iter().copied().filter(varies).collect();
    let mut order = Vec::new();
    for group in strong(&beats, &varying) {
        if let [only] = group[..] {
            let linked = varying.iter().any(|it| *it != only && beside[only][*it]);
            let why = if linked {
                Unscaled::NoOverlap
            } else {
                Unscaled::NotLinked
            };
            unscaled.insert(nodes[only].question.clone(), why);
        }
        order.push(group);
    }
    let named = |group: &Vec<usize>| group.iter().map(|it| nodes[*it].question.clone()).collect();
    Design {
        blocks: blocks(answers, &nodes, &places, &order),
        unscaled,
        linked: strong(&beside, &all).iter().map(named).collect(),
        seats: seats(&nodes, &order),
    }
}

/// What each question adds to a score.
fn seats(nodes: &[Node<'_>], order: &[Vec<usize>]) -> BTreeMap<answers::Question, Seat> {
    let seat = |(place, node): (usize, &Node<'_>)| {
        let group = order.iter().position(|group| group.contains(&place));
        let seat = Seat {
            group,
            low: u32::from(node.low),
            range: u32::from(node.high - node.low),
        };
        (node.question.clone(), seat)
    };
    nodes.iter().enumerate().map(seat).collect()
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
            seen,
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

fn edges(size: usize) -> Vec<Vec<bool>> {
    vec![vec![false; size]; size]
}

/// Whether some pupil did better than the least on one and worse than the best on
/// the other.
fn beats_in(
    table: &score_table::ScoreTable,
    (one, first): (usize, &Node<'_>),
    (other, second): (usize, &Node<'_>),
) -> bool {
    (first.low..=first.high).skip(1).any(|mark| {
        (second.low..second.high).any(|beside| table.went_together((one, mark), (other, beside)))
    })
}

/// The groups of nodes that reach each other both ways, in an order in which edges
/// between groups only go forward.
///
/// Source: Kosaraju's algorithm (Sharir 1981, from memory): depth first once, then
/// against the edges in the order in which the first walk left the nodes.
fn strong(edges: &[Vec<bool>], nodes: &[usize]) -> Vec<Vec<usize>> {
    let mut left = Vec::new();
    let mut met = vec![false; edges.len()];
    for start in nodes {
        walk(*start, nodes, &mut met, &mut left, &|from, to| {
            edges[from][to]
        });
    }
    let mut met = vec![false; edges.len()];
    let mut groups = Vec::new();
    for start in left.iter().rev() {
        let mut group = Vec::new();
        walk(*start, nodes, &mut met, &mut group, &|from, to| {
            edges[to][from]
        });
        if !group.is_empty() {
            group.sort_unstable();
            groups.push(group);
        }
    }
    groups
}

/// Walks depth first from a node and adds each newly met one when it is left.
fn walk(
    start: usize,
    nodes: &[usize],
    met: &mut [bool],
    left: &mut Vec<usize>,
    leads: &dyn Fn(usize, usize) -> bool,
) {
    if met[start] {
        return;
    }
    met[start] = true;
    let mut path = vec![(start, nodes.iter())];
    while let Some((node, rest)) = path.last_mut() {
        let from = *node;
        let next = rest.find(|to| !met[**to] && leads(from, **to));
        if let Some(next) = next {
            met[*next] = true;
            path.push((*next, nodes.iter()));
        } else {
            left.push(from);
            path.pop();
        }
    }
}

/// The counts of each group of more than one question, from the scores on whole sets.
fn blocks(
    answers: &answers::Answers,
    nodes: &[Node<'_>],
    places: &BTreeMap<&answers::Question, usize>,
    order: &[Vec<usize>],
) -> Vec<Block> {
    let mut home = BTreeMap::new();
    for (group, members) in order.iter().enumerate() {
        for (place, node) in members.iter().enumerate() {
            home.insert(*node, (group, place));
        }
    }
    let part = |node: &usize| nodes[*node].part();
    let mut blocks: Vec<Block> = order
        .iter()
        .enumerate()
        .map(|(number, group)| Block {
            group: number,
            questions: group.iter().map(part).collect(),
            sets: Vec::new(),
        })
        .collect();
    for (questions, table) in answers.sets() {
        // Where each group's questions stand in the set, and what they are worth.
        let mut columns: BTreeMap<usize, Vec<(usize, usize)>> = BTreeMap::new();
        let mut before = 0;
        for (column, question) in questions.iter().enumerate() {
            let node = places[question];
            before += usize::from(nodes[node].low);
            if let Some((group, place)) = home.get(&node) {
                columns.entry(*group).or_default().push((column, *place));
            }
        }
        // Easier groups fill up first: `before` is what all easier ones are worth.
        for (group, columns) in columns {
            let node = |place: usize| &nodes[order[group][place]];
            let worth: usize = columns.iter().map(|it| node(it.1).range()).sum();
            let set = set(table, &columns, (before, worth), &|place| node(place));
            before += worth;
            blocks[group].add(set);
        }
    }
    blocks.retain(|block| block.questions.len() > 1);
    blocks
}

/// The pupils of a set who have something but not all of what a group is worth.
fn set<'a>(
    table: &score_table::ScoreTable,
    columns: &[(usize, usize)],
    (before, worth): (usize, usize),
    node: &dyn Fn(usize) -> &'a Node<'a>,
) -> Set {
    let mut scores = BTreeMap::new();
    for (whole, pupils) in table.scores() {
        let score = usize::try_from(whole).unwrap_or(usize::MAX);
        let score = score.saturating_sub(before);
        if (1..worth).contains(&score) {
            let marks = columns.iter().map(|(column, place)| {
                let node = node(*place);
                let counts = table.marks(whole, *column).iter();
                let those = counts.skip(usize::from(node.low));
                those.take(node.range() + 1).copied().collect()
            });
            let marks = marks.collect();
            scores.insert(score, Score { pupils, marks });
        }
    }
    Set {
        members: columns.iter().map(|it| it.1).collect(),
        scores,
    }
}

impl Node<'_> {
    fn part(&self) -> Part {
        let seen = self.seen.iter().skip(usize::from(self.low));
        Part {
            question: self.question.clone(),
            low: self.low,
            counts: vec![0; self.range() + 1],
            seen: seen.take(self.range() + 1).copied().collect(),
        }
    }
}

impl Block {
    /// Takes a set in, if it says anything.
    fn add(&mut self, set: Set) {
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
        scores.map(|score| score.pupils).sum()
    }
}
