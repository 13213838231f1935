//! What the pupils who say something of each group of questions have on them.

use crate::statistics::rasch::answers;
use crate::statistics::rasch::design;
use crate::statistics::score_table;
use std::collections::BTreeMap;

/// The counts of each group of more than one question, from the scores on whole sets.
pub(super) fn blocks(
    answers: &answers::Answers,
    look: &design::Look<'_>,
    paths: &design::Paths,
) -> Vec<design::Block> {
    let (nodes, order) = (&look.nodes, &look.order);
    let mut home = BTreeMap::new();
    for (group, members) in order.iter().enumerate() {
        for (place, node) in members.iter().enumerate() {
            home.insert(*node, (group, place));
        }
    }
    let part = |node: &usize| part(&nodes[*node], paths);
    let blocks = order.iter().map(|group| design::Block {
        questions: group.iter().map(part).collect(),
        sets: Vec::new(),
        did_one: 0,
    });
    let mut blocks: Vec<design::Block> = blocks.collect();
    for (questions, table) in answers.sets() {
        // Where each group's questions stand in the set, and what they are worth.
        let mut columns: BTreeMap<usize, Vec<(usize, usize)>> = BTreeMap::new();
        let mut before = 0;
        for (column, question) in questions.iter().enumerate() {
            let node = look.places[question];
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
    node: &dyn Fn(usize) -> &'a design::Node<'a>,
) -> design::Set {
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
            scores.insert(score, design::Score { pupils, marks });
        }
    }
    design::Set {
        members: columns.iter().map(|it| it.1).collect(),
        scores,
    }
}

/// A question of a block without any count.
fn part(node: &design::Node<'_>, paths: &design::Paths) -> design::Part {
    let first = paths.get(node.question).and_then(|path| path.first());
    let marks = first.map_or(node.low..=node.high, |first| first.marks.clone());
    let open = if *marks.start() > 0 {
        Some(design::Unscaled::NeverNought)
    } else if *marks.end() < node.question.full {
        Some(design::Unscaled::NeverFull)
    } else if node.high < *marks.end() {
        Some(design::Unscaled::FullOnlyWithAll)
    } else if node.low > *marks.start() {
        Some(design::Unscaled::NoughtOnlyWithNone)
    } else {
        None
    };
    design::Part {
        question: node.question.clone(),
        open,
        counts: vec![0; node.range() + 1],
    }
}
