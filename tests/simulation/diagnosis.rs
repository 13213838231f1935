//! What the marker says of pupils, held against what they really think.
//!
//! The pupils write what our own wrong solvers say. So this measures reading, naming
//! and what is told of whom; it says nothing of whether children think so.

use super::classwork;
use super::homework as simulated;
use super::larger;
use super::pupil;
use super::school;
use std::collections::BTreeMap;
use std::fmt::Write as _;
use toothmark::homework;
use toothmark::marking;
use toothmark::marking::overview;
use toothmark::marking::policy;
use toothmark::workbook::answers;

/// A homework done by pupils of whom everything is known, and marked.
struct Studied {
    /// The pupils.
    pupils: Vec<school::Pupil>,
    /// What they wrote, and why.
    work: classwork::Classwork,
    /// What the marker made of it.
    marked: marking::Marked,
}

/// Returns a homework as its pupils do it, handed in as a csv file and marked.
fn study(homework: &homework::Homework, pupils: Vec<school::Pupil>, folder: &str) -> Studied {
    let work = classwork::done_by(&pupils, homework, folder);
    let mut writer = csv::Writer::from_writer(Vec::new());
    for row in classwork::table(homework, &work) {
        writer.write_record(row).expect("a row of the table");
    }
    let bytes = writer.into_inner().expect("a file in memory");
    let answers = answers::read("answers.csv", &bytes, homework).expect("our own answers");
    let marked = marking::mark_homework(&marking::Batch {
        homework,
        responses: &answers.responses,
        decisions: &[],
        policy: &policy::Policy::default(),
        date: "2026-10-12",
    });
    Studied {
        pupils,
        work,
        marked,
    }
}

/// What became of one belief.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(crate) struct Row {
    /// Pupils who hold it.
    pub(crate) holders: usize,
    /// Answers that followed it.
    pub(crate) followed: usize,
    /// Of these, answers in which the marker named it.
    pub(crate) recognised: usize,
    /// Of the answers that followed it, those that need no person.
    pub(crate) settled: usize,
    /// Pupils of whom two answers or more followed it.
    pub(crate) shown: usize,
    /// Of these, pupils told of it.
    pub(crate) told: usize,
    /// Of the pupils told of it, those told of another that fits as well.
    pub(crate) told_or_another: usize,
    /// Holders told of something that they do not believe.
    pub(crate) told_else: usize,
}

/// The pupils who believe nothing wrong.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(crate) struct Without {
    /// How many they are.
    pub(crate) pupils: usize,
    /// Of these, pupils told of a misconception.
    pub(crate) told: usize,
}

/// Truth against diagnosis.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(crate) struct Table {
    /// A row a belief, by its id.
    pub(crate) rows: BTreeMap<String, Row>,
    /// Those who hold none.
    pub(crate) without: Without,
}

/// Returns the table of the sample classes, one homework each.
pub(crate) fn of_sample_classes() -> Table {
    let studied: Vec<Studied> = school::CLASSES
        .iter()
        .map(|class| {
            let pupils = school::pupils(class);
            let homework = simulated::of(class, &pupils);
            study(&homework, pupils, class.folder)
        })
        .collect();
    table(&studied)
}

/// Returns the table of the larger school, every question of each bank.
pub(crate) fn of_larger_school() -> Table {
    let studied: Vec<Studied> = larger::YEARS
        .iter()
        .map(|year| {
            let (homework, pupils) = larger::year(year);
            study(&homework, pupils, year.bank)
        })
        .collect();
    table(&studied)
}

/// Returns the table over some homeworks.
fn table(studied: &[Studied]) -> Table {
    let mut table = Table::default();
    for studied in studied {
        add(&mut table, studied);
    }
    table
}

fn add(table: &mut Table, studied: &Studied) {
    let marks: BTreeMap<(&str, &str), &marking::Mark> = studied
        .marked
        .pupils
        .iter()
        .flat_map(|entry| &entry.marks)
        .map(|mark| ((mark.pupil_id.as_str(), mark.question.as_str()), mark))
        .collect();
    let mut followed: BTreeMap<(&str, &str), usize> = BTreeMap::new();
    for written in &studied.work.written {
        let pupil::Truth::Believed(id) = &written.truth else {
            continue;
        };
        let mark = marks[&(written.pupil_id.as_str(), written.question.as_str())];
        // A later part worked from an earlier slip earns its marks: the slip is told
        // once. Explanations are for a person.
        if mark.marks == mark.out_of || !mark.like.is_empty() {
            continue;
        }
        let row = table.rows.entry(id.clone()).or_default();
        row.followed += 1;
        row.recognised += usize::from(mark.misconceptions.contains(id));
        row.settled += usize::from(mark.check.is_empty());
        *followed.entry((&written.pupil_id, id)).or_default() += 1;
    }
    let overview = overview::of(&studied.marked);
    for (known, seen) in studied.pupils.iter().zip(&overview.pupils) {
        let believes = &known.mind.believes;
        let is_held = |id: &str| believes.iter().any(|belief| belief == id);
        let told_else = seen
            .consistent_with
            .iter()
            .any(|finding| !finding.ideas.iter().any(|idea| is_held(idea.id)));
        if believes.is_empty() && known.attendance.is_empty() {
            table.without.pupils += 1;
            table.without.told += usize::from(told_else);
        }
        for belief in believes {
            let row = table.rows.entry(belief.clone()).or_default();
            row.holders += 1;
            row.told_else += usize::from(told_else);
            let answers = followed.get(&(known.on_roll.id.as_str(), belief.as_str()));
            if answers.copied().unwrap_or_default() < 2 {
                continue;
            }
            row.shown += 1;
            let mut findings = seen.consistent_with.iter();
            let finding = findings.find(|it| it.ideas.iter().any(|idea| idea.id == belief));
            row.told += usize::from(finding.is_some());
            row.told_or_another += usize::from(finding.is_some_and(|it| it.only().is_none()));
        }
    }
}

impl Table {
    /// All rows together.
    pub(crate) fn sum(&self) -> Row {
        let mut sum = Row::default();
        for row in self.rows.values() {
            sum.holders += row.holders;
            sum.followed += row.followed;
            sum.recognised += row.recognised;
            sum.settled += row.settled;
            sum.shown += row.shown;
            sum.told += row.told;
            sum.told_or_another += row.told_or_another;
            sum.told_else += row.told_else;
        }
        sum
    }

    /// The table as text for people.
    pub(crate) fn text(&self) -> String {
        let mut text = format!(
            "{:<36}{:>8}{:>10}{:>12}{:>9}{:>9}{:>7}{:>12}{:>11}\n",
            "belief",
            "pupils",
            "answers",
            "recognised",
            "settled",
            "shown",
            "told",
            "or another",
            "told else"
        );
        for (name, row) in &self.rows {
            line(&mut text, name, row);
        }
        line(&mut text, "all", &self.sum());
        let _ = writeln!(
            text,
            "{} pupils who believe nothing wrong, {} of them told of something",
            self.without.pupils, self.without.told
        );
        text.push_str(
            "answers: that followed the belief; settled: that need no person; shown: pupils with \
             two such answers or more,\ntold: of these, told of it, or another: with another that \
             fits as well; told else: holders told of what they do not believe\n",
        );
        text
    }
}

fn line(text: &mut String, name: &str, row: &Row) {
    let _ = writeln!(
        text,
        "{name:<36}{:>8}{:>10}{:>12}{:>9}{:>9}{:>7}{:>12}{:>11}",
        row.holders,
        row.followed,
        row.recognised,
        row.settled,
        row.shown,
        row.told,
        row.told_or_another,
        row.told_else
    );
}
