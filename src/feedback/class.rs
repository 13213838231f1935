//! The page for a class's own teacher.

use crate::feedback;
use crate::feedback::example;
use crate::feedback::line;
use crate::feedback::note;
use crate::homework;
use crate::item;
use crate::level;
use crate::marking;
use crate::misconception;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

/// The most things that went well, and the most to teach again.
const MOST: usize = 3;

/// A page for one class.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Page {
    /// The class; empty where the roll names none.
    pub class: String,
    /// Who may see it.
    pub private: String,
    /// The heading of what went well.
    pub well_heading: String,
    /// What went well.
    pub well: Vec<String>,
    /// The heading of what to teach again.
    pub again_heading: String,
    /// What to teach again, at most three things.
    pub again: Vec<Again>,
    /// What to say where there is nothing to teach again.
    pub again_none: String,
    /// A question to do together.
    pub together: Option<Together>,
    /// Pupils of whom there is something else to know.
    pub asides: Vec<Names>,
    /// That answers wait for a look; empty where none does.
    pub waiting: String,
}

/// Something to teach again.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Again {
    /// What it is.
    pub what: String,
    /// What to do.
    pub next: String,
    /// Who needs it, in roll order.
    pub who: Names,
}

/// Pupils with a word before their names.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Names {
    /// What stands before the names.
    pub lead: String,
    /// The pupils, in roll order.
    pub pupils: Vec<homework::Pupil>,
}

/// A question to do together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Together {
    /// Its heading.
    pub heading: String,
    /// How to do it.
    pub ask: String,
    /// The question, worked.
    pub example: feedback::Example,
    /// What somebody with the way of thinking would say; empty where there is none.
    pub would_say: String,
}

/// Something that pupils need, before it is put into words.
struct Need<'m> {
    cause: Cause,
    pupils: Vec<&'m marking::MarkedPupil>,
    /// An answer that shows it, and whose it is.
    shown: Option<(&'m marking::MarkedPupil, &'m marking::Mark)>,
}

#[derive(Clone)]
enum Cause {
    /// Ways of thinking that explain the same answers.
    Ideas(Vec<&'static misconception::Misconception>),
    Skill(level::Skill),
}

/// Returns a page for each class of the roll, in its order.
pub(super) fn pages(
    request: &feedback::Request<'_>,
    examples: &example::Examples<'_>,
) -> Vec<Page> {
    let mut classes: Vec<(&str, Vec<&marking::MarkedPupil>)> = Vec::new();
    for entry in &request.marked.pupils {
        let class = entry.pupil.class.trim();
        match classes.iter_mut().find(|(known, _)| *known == class) {
            Some((_, entries)) => entries.push(entry),
            None => classes.push((class, vec![entry])),
        }
    }
    classes
        .into_iter()
        .map(|(class, entries)| page(request, examples, class, &entries))
        .collect()
}

fn page(
    request: &feedback::Request<'_>,
    examples: &example::Examples<'_>,
    class: &str,
    entries: &[&marking::MarkedPupil],
) -> Page {
    let say = |line| request.words.line(line, &[]);
    let needs = needs(entries);
    let again = needs.iter().map(|need| again(request, need)).collect();
    let marks = entries.iter().flat_map(|entry| &entry.marks);
    let waiting = marks.filter(|mark| !mark.check.is_empty()).count();
    let waiting = if waiting > 0 {
        let count = waiting.to_string();
        let places = [("count", count.as_str())];
        request.words.line(line::Line::StillWaiting, &places)
    } else {
        String::new()
    };
    Page {
        class: class.to_owned(),
        private: say(line::Line::Private),
        well_heading: say(line::Line::Well),
        well: well(request, entries),
        again_heading: say(line::Line::Again),
        again,
        again_none: say(line::Line::AgainNone),
        together: together(request, examples, entries, needs.first()),
        asides: asides(request, entries),
        waiting,
    }
}

/// The skills in which the class earned three quarters of the marks or more, the best
/// first.
fn well(request: &feedback::Request<'_>, entries: &[&marking::MarkedPupil]) -> Vec<String> {
    let mut all: BTreeMap<level::Skill, (u32, u32)> = BTreeMap::new();
    // Who left everything blank is told of beside it.
    let begun = entries
        .iter()
        .filter(|entry| note::standing(entry) != feedback::Standing::Blank);
    for (skill, (marks, out_of)) in begun.flat_map(|entry| note::skills(entry)) {
        let sum = all.entry(skill).or_default();
        *sum = (sum.0 + marks, sum.1 + out_of);
    }
    let mut well: Vec<(level::Skill, (u32, u32))> = all
        .into_iter()
        .filter(|(_, (marks, out_of))| *marks > 0 && marks * 4 >= out_of * 3)
        .collect();
    // A larger share first: one fraction against another without dividing.
    well.sort_by(|(_, one), (_, other)| (other.0 * one.1).cmp(&(one.0 * other.1)));
    well.truncate(MOST);
    if well.is_empty() {
        return vec![request.words.line(line::Line::WellNone, &[])];
    }
    well.into_iter()
        .map(|(skill, (marks, out_of))| {
            let (marks, out_of) = (marks.to_string(), out_of.to_string());
            let places = [
                ("skill", skill.title()),
                ("marks", marks.as_str()),
                ("out_of", out_of.as_str()),
            ];
            request.words.line(line::Line::WellSkill, &places)
        })
        .collect()
}

/// What pupils need, most pupils first, ways of thinking before skills; a skill is left
/// out where a way of thinking shown in it is there already.
fn needs<'m>(entries: &[&'m marking::MarkedPupil]) -> Vec<Need<'m>> {
    let mut ideas = ideas(entries);
    let mut skills = skills(entries);
    for list in [&mut ideas, &mut skills] {
        list.sort_by_key(|need| std::cmp::Reverse(need.pupils.len()));
    }
    let mut needs: Vec<Need<'m>> = Vec::new();
    let mut taught: BTreeSet<level::Skill> = BTreeSet::new();
    // What one pupil alone needs comes after what several do.
    for fewest in [2, 1] {
        for list in [&mut ideas, &mut skills] {
            let mut left = Vec::new();
            for need in list.drain(..) {
                let skill = need.shown.map(|(_, mark)| mark.skill);
                let is_told = match need.cause {
                    Cause::Ideas(_) => false,
                    Cause::Skill(skill) => taught.contains(&skill),
                };
                if need.pupils.len() < fewest || needs.len() >= MOST || is_told {
                    left.push(need);
                } else {
                    taught.extend(skill);
                    needs.push(need);
                }
            }
            *list = left;
        }
    }
    needs
}

/// Ways of thinking that answers of pupils are consistent with.
fn ideas<'m>(entries: &[&'m marking::MarkedPupil]) -> Vec<Need<'m>> {
    let mut needs: Vec<Need<'m>> = Vec::new();
    for entry in entries {
        for finding in feedback::consistent_with(entry) {
            let known = needs.iter_mut().find(|need| match &need.cause {
                Cause::Ideas(ideas) => *ideas == finding.ideas,
                Cause::Skill(_) => false,
            });
            if let Some(need) = known {
                need.pupils.push(entry);
                continue;
            }
            let mut marks = entry.marks.iter();
            let shown = marks.find(|mark| feedback::shows(mark, &finding.ideas));
            needs.push(Need {
                cause: Cause::Ideas(finding.ideas),
                pupils: vec![entry],
                shown: shown.map(|mark| (*entry, mark)),
            });
        }
    }
    needs
}

/// Skills in which pupils lost more than half of two marks or more.
fn skills<'m>(entries: &[&'m marking::MarkedPupil]) -> Vec<Need<'m>> {
    let mut needs: Vec<Need<'m>> = Vec::new();
    for skill in level::SKILLS {
        let pupils: Vec<&marking::MarkedPupil> = entries
            .iter()
            .copied()
            .filter(|entry| {
                let skills = note::skills(entry);
                let found = skills.get(&skill);
                note::standing(entry) == feedback::Standing::Usual
                    && found.is_some_and(|(marks, out_of)| {
                        *out_of >= note::FEWEST_MARKS && marks * 2 < *out_of
                    })
            })
            .collect();
        let shown = pupils.first().and_then(|entry| {
            let mut marks = entry.marks.iter();
            let lost = |mark: &&marking::Mark| {
                feedback::is_evidence(mark) && mark.skill == skill && mark.marks < mark.out_of
            };
            Some((*entry, marks.find(lost)?))
        });
        if !pupils.is_empty() {
            needs.push(Need {
                cause: Cause::Skill(skill),
                pupils,
                shown,
            });
        }
    }
    needs
}

fn again(request: &feedback::Request<'_>, need: &Need<'_>) -> Again {
    let words = request.words;
    let (what, next) = match &need.cause {
        Cause::Ideas(ideas) => {
            let names: Vec<&str> = ideas.iter().map(|idea| idea.name).collect();
            let idea = names.join(", or who ");
            let places = [("idea", idea.as_str())];
            let next = ideas.first().map(|idea| words.next(idea));
            (
                words.line(line::Line::AgainIdea, &places),
                next.unwrap_or_default(),
            )
        }
        Cause::Skill(skill) => (
            words.line(line::Line::AgainSkill, &[("skill", skill.title())]),
            words.practise(*skill),
        ),
    };
    Again {
        what,
        next,
        who: Names {
            lead: words.line(line::Line::Who, &[]),
            pupils: need.pupils.iter().map(|it| it.pupil.clone()).collect(),
        },
    }
}

/// The question to do together: of the first need, else the hardest that somebody had.
fn together(
    request: &feedback::Request<'_>,
    examples: &example::Examples<'_>,
    entries: &[&marking::MarkedPupil],
    need: Option<&Need<'_>>,
) -> Option<Together> {
    let shown: Option<&item::Item> = need
        .and_then(|need| need.shown)
        .and_then(|(entry, mark)| examples.item(&entry.pupil.id, &mark.question));
    let item = shown.or_else(|| {
        let first = entries.first()?;
        note::hardest(examples.items(&first.pupil.id))
    })?;
    let example = examples.of(item)?;
    let words = request.words;
    let would_say = match need.map(|need| &need.cause) {
        Some(Cause::Ideas(ideas)) => example::wrong_answer(&example, ideas),
        Some(Cause::Skill(_)) | None => None,
    };
    let would_say = would_say.map(|(idea, answer)| {
        let places = [("idea", idea.name), ("answer", answer.as_str())];
        words.line(line::Line::WouldSay, &places)
    });
    Some(Together {
        heading: words.line(line::Line::Together, &[]),
        ask: words.line(line::Line::Ask, &[]),
        example,
        would_say: would_say.unwrap_or_default(),
    })
}

/// Pupils without work, excused, or with nothing but blanks.
fn asides(request: &feedback::Request<'_>, entries: &[&marking::MarkedPupil]) -> Vec<Names> {
    [
        (line::Line::Away, feedback::Standing::Absent),
        (line::Line::Spared, feedback::Standing::Excused),
        (line::Line::Empty, feedback::Standing::Blank),
    ]
    .into_iter()
    .map(|(line, standing)| Names {
        lead: request.words.line(line, &[]),
        pupils: entries
            .iter()
            .filter(|entry| note::standing(entry) == standing)
            .map(|entry| entry.pupil.clone())
            .collect(),
    })
    .filter(|names| !names.pupils.is_empty())
    .collect()
}
