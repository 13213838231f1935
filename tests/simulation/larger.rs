//! A larger invented school: every misconception that a question of the shipped banks
//! can draw out is held by somebody. It is made for measuring only; its classes are
//! not written to files.

use super::hand;
use super::homework;
use super::pupil;
use super::school;
use std::collections::BTreeSet;
use toothmark::gears::solve;
use toothmark::homework as homeworks;
use toothmark::item;
use toothmark::misconception;
use toothmark::seed;

/// One year group, which does every question of one bank.
pub(crate) struct Year {
    /// The bank's file.
    pub(crate) bank: &'static str,
    /// Lowest and highest level of the bank.
    pub(crate) levels: (u8, u8),
}

/// The year groups, youngest first.
pub(crate) const YEARS: [Year; 3] = [
    Year {
        bank: "gears-5-7.toml",
        levels: (1, 3),
    },
    Year {
        bank: "gears-7-11.toml",
        levels: (2, 5),
    },
    Year {
        bank: "gears-11-14.toml",
        levels: (5, 8),
    },
];

/// Pupils who hold one belief and no other.
const HOLDERS: usize = 2;
/// Pupils who hold no belief.
const WITHOUT: usize = 20;

/// Returns the year group's homework and its pupils, the same every time.
pub(crate) fn year(year: &Year) -> (homeworks::Homework, Vec<school::Pupil>) {
    // Whose beliefs the questions can draw out is known once they are set; and a pupil
    // more changes nobody's sheet.
    let alone = homework::whole_bank(year.bank, year.levels, &pupils(year, &[]));
    let beliefs: Vec<&str> = alone
        .sheets
        .iter()
        .flat_map(|sheet| &sheet.items)
        .flat_map(drawn_out)
        .collect::<BTreeSet<_>>()
        .into_iter()
        .collect();
    let pupils = pupils(year, &beliefs);
    (
        homework::whole_bank(year.bank, year.levels, &pupils),
        pupils,
    )
}

/// The ways of thinking that lead to a wrong answer to an item.
fn drawn_out(item: &item::Item) -> Vec<&'static str> {
    let right = solve::answer(&item.mechanism, &item.ask)
        .expect("a set item solves")
        .fact;
    misconception::predictions(&item.mechanism, &item.ask)
        .into_iter()
        .filter(|prediction| !prediction.misconception.slip)
        .filter(|prediction| prediction.fact != right && pupil::writable(&prediction.fact))
        .map(|prediction| prediction.misconception.id)
        .collect()
}

fn pupils(year: &Year, beliefs: &[&str]) -> Vec<school::Pupil> {
    let mut stream = seed::Stream::named(&["larger school", school::SCHOOL, year.bank], 0);
    let mut minds: Vec<Vec<&str>> = vec![Vec::new(); WITHOUT];
    for (index, belief) in beliefs.iter().enumerate() {
        minds.extend(vec![vec![*belief]; HOLDERS]);
        // One holds a second belief as well, less strongly.
        let second = beliefs[(index + 1) % beliefs.len()];
        minds.push(vec![*belief, second]);
    }
    minds
        .into_iter()
        .enumerate()
        .map(|(index, believes)| school::Pupil {
            on_roll: homeworks::Pupil {
                id: format!("L{index}"),
                name: format!("Pupil {index}"),
                class: year.bank.to_owned(),
                year: String::new(),
                level: None,
                groups: std::collections::BTreeMap::new(),
            },
            mind: pupil::Mind {
                believes: believes.into_iter().map(str::to_owned).collect(),
                steadiness: 75 + stream.below(20),
                slips: 3 + stream.below(8),
                leaves_out: stream.below(6),
                reaches: None,
            },
            attendance: "",
            hand: hand::Hand::Lively,
        })
        .collect()
}
