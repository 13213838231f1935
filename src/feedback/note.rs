//! A note for one pupil.

use crate::feedback;
use crate::feedback::example;
use crate::feedback::line;
use crate::item;
use crate::level;
use crate::marking;
use std::collections::BTreeMap;

/// The most skills that a note names.
const MOST_SKILLS: usize = 3;
/// The fewest marks in a skill that say something of a pupil: one may be luck.
pub(super) const FEWEST_MARKS: u32 = 2;

/// Returns what to say to a pupil.
pub(super) fn note(
    request: &feedback::Request<'_>,
    examples: &example::Examples<'_>,
    entry: &marking::MarkedPupil,
) -> feedback::Note {
    let standing = standing(entry);
    let can: Vec<String> = able(entry)
        .into_iter()
        .map(|skill| request.words.can(skill))
        .collect();
    let (practise, item) = practise(request, examples, entry, standing);
    feedback::Note {
        pupil: entry.pupil.clone(),
        standing,
        opening: opening(request, entry, standing, !can.is_empty()),
        can,
        marks: marks(request, entry, standing),
        heading: request.words.line(
            match standing {
                feedback::Standing::Usual => line::Line::Practise,
                feedback::Standing::Absent
                | feedback::Standing::Excused
                | feedback::Standing::Blank
                | feedback::Standing::Waiting
                | feedback::Standing::AllRight
                | feedback::Standing::RightSoFar
                | feedback::Standing::RightAndWaiting => line::Line::Further,
            },
            &[],
        ),
        practise,
        example: item.and_then(|item| examples.of(item)),
    }
}

/// How a pupil's work stands.
pub(super) fn standing(entry: &marking::MarkedPupil) -> feedback::Standing {
    match entry.attendance {
        marking::Attendance::Absent => return feedback::Standing::Absent,
        marking::Attendance::Excused => return feedback::Standing::Excused,
        marking::Attendance::Present => {}
    }
    if !entry.marks.iter().any(is_attempt) {
        return feedback::Standing::Blank;
    }
    let counts = |mark: &&marking::Mark| feedback::is_evidence(mark);
    if !entry.marks.iter().filter(counts).any(is_attempt) {
        return feedback::Standing::Waiting;
    }
    let lost = entry.marks.iter().filter(counts).any(is_lost);
    let not_reached = entry.marks.iter().any(is_left);
    let all = entry.marks.iter().all(feedback::is_evidence);
    match (lost, not_reached, all) {
        (true, _, _) => feedback::Standing::Usual,
        (false, true, _) => feedback::Standing::RightSoFar,
        (false, false, true) => feedback::Standing::AllRight,
        (false, false, false) => feedback::Standing::RightAndWaiting,
    }
}

fn is_attempt(mark: &marking::Mark) -> bool {
    match mark.state {
        marking::State::Correct
        | marking::State::Partly
        | marking::State::Wrong
        | marking::State::Unreadable => true,
        marking::State::Blank
        | marking::State::NotReached
        | marking::State::Absent
        | marking::State::Excused => false,
    }
}

fn is_left(mark: &marking::Mark) -> bool {
    mark.state == marking::State::NotReached
}

fn is_lost(mark: &marking::Mark) -> bool {
    mark.marks < mark.out_of
}

/// The skills that a pupil has by this homework, the most marks first: two marks or
/// more earned, and two thirds of those to be had in answers that count.
fn able(entry: &marking::MarkedPupil) -> Vec<level::Skill> {
    let mut earned: Vec<(level::Skill, u32)> = skills(entry)
        .into_iter()
        .filter(|(_, (marks, out_of))| *marks >= FEWEST_MARKS && marks * 3 >= out_of * 2)
        .map(|(skill, (marks, _))| (skill, marks))
        .collect();
    earned.sort_by_key(|(_, marks)| std::cmp::Reverse(*marks));
    earned.truncate(MOST_SKILLS);
    earned.into_iter().map(|(skill, _)| skill).collect()
}

/// Marks earned and to be had in the answers that count, by skill.
pub(super) fn skills(entry: &marking::MarkedPupil) -> BTreeMap<level::Skill, (u32, u32)> {
    let mut skills: BTreeMap<level::Skill, (u32, u32)> = BTreeMap::new();
    for mark in entry
        .marks
        .iter()
        .filter(|mark| feedback::is_evidence(mark))
    {
        let (marks, out_of) = skills.entry(mark.skill).or_default();
        *marks += u32::from(mark.marks);
        *out_of += u32::from(mark.out_of);
    }
    skills
}

fn opening(
    request: &feedback::Request<'_>,
    entry: &marking::MarkedPupil,
    standing: feedback::Standing,
    has_skills: bool,
) -> String {
    let say = |line| request.words.line(line, &[]);
    let with_skills = |line| {
        if has_skills {
            format!("{} {}", say(line), say(line::Line::Can))
        } else {
            say(line)
        }
    };
    match standing {
        feedback::Standing::Absent => say(line::Line::Absent),
        feedback::Standing::Excused => say(line::Line::Excused),
        feedback::Standing::Blank => say(line::Line::Blank),
        feedback::Standing::Waiting => say(line::Line::Waiting),
        feedback::Standing::AllRight => with_skills(line::Line::AllRight),
        feedback::Standing::RightSoFar => with_skills(line::Line::RightSoFar),
        feedback::Standing::RightAndWaiting => with_skills(line::Line::RightAndWaiting),
        feedback::Standing::Usual if has_skills => say(line::Line::Can),
        feedback::Standing::Usual => {
            let right: Vec<&str> = entry
                .marks
                .iter()
                .filter(|mark| feedback::is_evidence(mark) && !is_lost(mark))
                .map(|mark| example::bare_number(&mark.question))
                .collect();
            match right.as_slice() {
                [] => say(line::Line::Tried),
                numbers => {
                    let questions = questions(numbers);
                    let places = [("questions", questions.as_str())];
                    request.words.line(line::Line::Right, &places)
                }
            }
        }
    }
}

/// Questions by number: `question 2`, `questions 2, 3a and 5`.
fn questions(numbers: &[&str]) -> String {
    match numbers {
        [] => String::new(),
        [only] => format!("question {only}"),
        [first @ .., last] => format!("questions {} and {last}", first.join(", ")),
    }
}

fn marks(
    request: &feedback::Request<'_>,
    entry: &marking::MarkedPupil,
    standing: feedback::Standing,
) -> String {
    let is_away = match standing {
        feedback::Standing::Absent | feedback::Standing::Excused => true,
        feedback::Standing::Blank
        | feedback::Standing::Waiting
        | feedback::Standing::AllRight
        | feedback::Standing::RightSoFar
        | feedback::Standing::RightAndWaiting
        | feedback::Standing::Usual => false,
    };
    if is_away || request.marks == feedback::Marks::Kept {
        return String::new();
    }
    let sum = |count: fn(&marking::Mark) -> u8| -> String {
        let all = entry.marks.iter().map(|mark| u32::from(count(mark)));
        all.sum::<u32>().to_string()
    };
    let (marks, out_of) = (sum(|mark| mark.marks), sum(|mark| mark.out_of));
    let places = [("marks", marks.as_str()), ("out_of", out_of.as_str())];
    request.words.line(line::Line::Marks, &places)
}

/// What to practise, and the question to work an example of.
fn practise<'a>(
    request: &feedback::Request<'_>,
    examples: &example::Examples<'a>,
    entry: &marking::MarkedPupil,
    standing: feedback::Standing,
) -> (String, Option<&'a item::Item>) {
    let items = examples.items(&entry.pupil.id);
    let say = |line| request.words.line(line, &[]);
    match standing {
        feedback::Standing::Excused | feedback::Standing::Waiting => (String::new(), None),
        feedback::Standing::Absent | feedback::Standing::Blank => {
            (say(line::Line::Begin), easiest(items))
        }
        feedback::Standing::AllRight | feedback::Standing::RightAndWaiting => {
            (say(line::Line::Stretch), hardest(items))
        }
        feedback::Standing::RightSoFar => {
            let left = entry.marks.iter().find(|mark| is_left(mark));
            let item = left.and_then(|mark| examples.item(&entry.pupil.id, &mark.question));
            (say(line::Line::GoOn), item)
        }
        feedback::Standing::Usual => {
            let (words, mark) = weakest(request, entry);
            let item = mark.and_then(|mark| examples.item(&entry.pupil.id, &mark.question));
            (words, item)
        }
    }
}

/// What to practise first: the way of thinking that most answers are consistent with,
/// else the skill in which most marks were lost; with an answer that shows it.
fn weakest<'m>(
    request: &feedback::Request<'_>,
    entry: &'m marking::MarkedPupil,
) -> (String, Option<&'m marking::Mark>) {
    let words = request.words;
    let findings = feedback::consistent_with(entry);
    let found = findings
        .iter()
        .find(|finding| finding.only().is_some())
        .or(findings.first());
    if let Some(finding) = found {
        let shown = entry
            .marks
            .iter()
            .find(|mark| feedback::shows(mark, &finding.ideas));
        let next = finding.ideas.first().map(|idea| words.next(idea));
        let said = match finding.only() {
            Some(idea) => words.say(idea),
            None => words.line(line::Line::Several, &[]),
        };
        return (format!("{said} {}", next.unwrap_or_default()), shown);
    }
    let weakest = skills(entry)
        .into_iter()
        .map(|(skill, (marks, out_of))| (skill, out_of - marks))
        .filter(|(_, lost)| *lost > 0)
        .max_by_key(|(skill, lost)| (*lost, std::cmp::Reverse(*skill)));
    let Some((skill, _)) = weakest else {
        return (String::new(), None);
    };
    let lost =
        |mark: &&marking::Mark| feedback::is_evidence(mark) && mark.skill == skill && is_lost(mark);
    let mut marks = entry.marks.iter().filter(lost);
    let shown = marks.clone().find(|mark| is_attempt(mark)).or(marks.next());
    (words.practise(skill), shown)
}

/// The first question of the lowest level.
pub(super) fn easiest(items: &[item::Item]) -> Option<&item::Item> {
    items.iter().min_by_key(|item| item.level)
}

/// The first question of the highest level with the most marks.
pub(super) fn hardest(items: &[item::Item]) -> Option<&item::Item> {
    let last_first = items.iter().rev();
    last_first.max_by_key(|item| (item.level, item.marks))
}
