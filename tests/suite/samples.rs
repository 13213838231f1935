//! The invented school: its files are what the simulation makes, and the marker's
//! diagnosis is held against what each pupil really thought.

use crate::program;
use crate::simulation::{classwork, homework, pupil, school};
use std::collections::BTreeMap;
use std::fs;
use std::path::PathBuf;
use std::sync::LazyLock;
use toothmark::marking;
use toothmark::marking::check;
use toothmark::marking::overview;
use toothmark::marking::policy;
use toothmark::workbook::answers;

/// A class with everything known about it.
struct Known {
    class: &'static school::Class,
    pupils: Vec<school::Pupil>,
    work: classwork::Classwork,
    marked: marking::Marked,
}

fn folder(class: &school::Class) -> PathBuf {
    program::root().join("sample-classes").join(class.folder)
}

fn answers_file(class: &school::Class) -> PathBuf {
    let name = match class.came_back {
        school::CameBack::TypedOffPaper | school::CameBack::OwnSheet => "answers.xlsx",
        school::CameBack::SavedAsOds => "answers.ods",
        school::CameBack::FormExport => "answers.csv",
    };
    folder(class).join(name)
}

/// Every homework of the school, marked once for all tests.
static KNOWN: LazyLock<Vec<Known>> = LazyLock::new(|| school::homeworks().map(known).collect());

fn known(class: &'static school::Class) -> Known {
    let pupils = school::pupils(class);
    let homework = homework::of(class, &pupils);
    let work = classwork::done_by(&pupils, &homework, class.folder);
    let path = answers_file(class);
    let bytes = fs::read(&path).expect("the sample answers are there");
    let name = path.display().to_string();
    let answers = answers::read(&name, &bytes, &homework).expect("the sample answers are read");
    let marked = marking::mark_homework(&marking::Batch {
        homework: &homework,
        responses: &answers.responses,
        decisions: &[],
        policy: &policy::Policy::default(),
        date: "2026-07-01",
    });
    Known {
        class,
        pupils,
        work,
        marked,
    }
}

fn marks(known: &Known) -> BTreeMap<(&str, &str), &marking::Mark> {
    let all = known.marked.pupils.iter().flat_map(|entry| &entry.marks);
    all.map(|mark| ((mark.pupil_id.as_str(), mark.question.as_str()), mark))
        .collect()
}

/// One line about an answer, for a failing test.
fn told(written: &classwork::Written, mark: &marking::Mark) -> String {
    format!(
        "{} {} typed {:?} read {:?} expected {:?}: {}/{} {} {:?} check {:?} ({}); truth: {}",
        written.pupil_id,
        written.question,
        mark.typed,
        mark.read_as,
        mark.expected,
        mark.marks,
        mark.out_of,
        mark.state.text(),
        mark.misconceptions,
        mark.check,
        mark.reason,
        written.truth.text()
    )
}

#[test]
fn the_sample_classes_are_what_the_simulation_makes() {
    for class in school::homeworks() {
        let pupils = school::pupils(class);
        let homework = homework::of(class, &pupils);
        let path = folder(class).join("homework.json");
        let made = toothmark::homework::to_json(&homework);
        if std::env::var_os("TOOTHMARK_WRITE_CASES").is_some() {
            fs::write(&path, &made).expect("the record can be written");
        }
        let stands = fs::read_to_string(&path).expect("a record");
        assert!(
            stands == made,
            "{}: homework.json is not what the bank gives now; run `cargo run --example samples` \
             and say in the changelog that homeworks change",
            class.folder
        );
    }
}

#[test]
fn right_answers_are_never_failed_unasked() {
    let mut wrong = Vec::new();
    for known in KNOWN.iter() {
        let marks = marks(known);
        for written in &known.work.written {
            let mark = marks[&(written.pupil_id.as_str(), written.question.as_str())];
            let is_right = written.truth == pupil::Truth::Right;
            if is_right && mark.marks < mark.out_of && mark.check.is_empty() {
                wrong.push(format!("{}: {}", known.class.folder, told(written, mark)));
            }
        }
    }
    assert!(
        wrong.is_empty(),
        "{} right answers failed:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}

#[test]
fn wrong_answers_never_earn_full_marks_unasked() {
    let mut wrong = Vec::new();
    for known in KNOWN.iter() {
        let marks = marks(known);
        for written in &known.work.written {
            let mark = marks[&(written.pupil_id.as_str(), written.question.as_str())];
            let is_wrong = match written.truth {
                pupil::Truth::Right => false,
                // A later part worked rightly from a wrong earlier one earns its marks.
                pupil::Truth::Believed(_) | pupil::Truth::Slipped => {
                    !mark.reason.contains("from the pupil's own answer to")
                }
                pupil::Truth::LeftOut | pupil::Truth::DoesNotKnow | pupil::Truth::NotReached => {
                    true
                }
            };
            if is_wrong && mark.marks == mark.out_of && mark.check.is_empty() {
                wrong.push(format!("{}: {}", known.class.folder, told(written, mark)));
            }
        }
    }
    assert!(
        wrong.is_empty(),
        "{} wrong answers passed:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}

#[test]
fn beliefs_are_found_where_they_show() {
    let mut missed = Vec::new();
    let mut shown = 0;
    for known in KNOWN.iter() {
        let marks = marks(known);
        for written in &known.work.written {
            let mark = marks[&(written.pupil_id.as_str(), written.question.as_str())];
            if let pupil::Truth::Believed(id) = &written.truth {
                shown += 1;
                // The same belief in an earlier part leads to the same answer by itself.
                let follows = mark.reason.contains("from the pupil's own answer to");
                if !mark.misconceptions.contains(id) && mark.check.is_empty() && !follows {
                    missed.push(format!("{}: {}", known.class.folder, told(written, mark)));
                }
            }
        }
    }
    assert!(shown >= 100, "only {shown} answers follow a belief");
    assert!(
        missed.is_empty(),
        "{} of {shown} beliefs missed:\n{}",
        missed.len(),
        missed.join("\n")
    );
}

#[test]
fn pupils_are_told_of_what_they_believe_and_of_little_else() {
    let mut missed = Vec::new();
    let mut blamed = Vec::new();
    for known in KNOWN.iter() {
        let overview = overview::of(&known.marked);
        for (pupil, seen) in known.pupils.iter().zip(&overview.pupils) {
            let seen: Vec<&str> = seen
                .consistent_with
                .iter()
                .flat_map(|it| it.ideas.iter().map(|idea| idea.id))
                .collect();
            for belief in &pupil.mind.believes {
                let held = pupil::Truth::Believed(belief.clone());
                let id = &pupil.on_roll.id;
                let written = known.work.written.iter();
                let answers = written
                    .filter(|it| it.pupil_id == *id && it.truth == held)
                    .count();
                if answers >= 2 && !seen.contains(&belief.as_str()) {
                    missed.push(format!(
                        "{} {id}: {belief} in {answers} answers",
                        known.class.folder
                    ));
                }
            }
            if pupil.mind.believes.is_empty() && !seen.is_empty() {
                blamed.push(format!(
                    "{} {}: {seen:?}",
                    known.class.folder, pupil.on_roll.id
                ));
            }
        }
    }
    assert!(missed.is_empty(), "not told:\n{}", missed.join("\n"));
    // Slips can look like a belief twice; it must stay rare.
    assert!(
        blamed.len() <= 3,
        "told without cause:\n{}",
        blamed.join("\n")
    );
}

#[test]
fn what_is_not_answered_is_told_apart() {
    for known in KNOWN.iter() {
        let marks = marks(known);
        for written in &known.work.written {
            let mark = marks[&(written.pupil_id.as_str(), written.question.as_str())];
            let states: &[marking::State] = match written.truth {
                pupil::Truth::DoesNotKnow => &[marking::State::Blank],
                pupil::Truth::LeftOut => &[marking::State::Blank, marking::State::NotReached],
                pupil::Truth::NotReached => &[marking::State::NotReached],
                pupil::Truth::Right | pupil::Truth::Believed(_) | pupil::Truth::Slipped => continue,
            };
            let silent = known
                .work
                .written
                .iter()
                .filter(|it| it.pupil_id == written.pupil_id);
            let all_silent = silent.clone().all(|it| it.text.is_empty());
            assert!(
                states.contains(&mark.state) || all_silent,
                "{}",
                told(written, mark)
            );
        }
        for entry in &known.marked.pupils {
            let attendance = known
                .work
                .attendance
                .get(&entry.pupil.id)
                .map(String::as_str);
            let state = match attendance.map(str::to_lowercase).as_deref() {
                Some("absent") => marking::State::Absent,
                Some("excused") => marking::State::Excused,
                Some(_) | None => continue,
            };
            assert!(
                entry.marks.iter().all(|mark| mark.state == state),
                "{}",
                entry.pupil.id
            );
        }
    }
}

#[test]
fn few_answers_need_a_person() {
    let (mut open, mut count) = (0, 0);
    let mut rows = Vec::new();
    for known in KNOWN.iter() {
        for mark in known.marked.pupils.iter().flat_map(|entry| &entry.marks) {
            // Explanations always need one; how few rows they stand in is told below.
            if !mark.like.is_empty() {
                continue;
            }
            count += 1;
            if !mark.check.is_empty() {
                open += 1;
                rows.push(format!(
                    "{}: {:?} {}",
                    known.class.folder, mark.typed, mark.check
                ));
            }
        }
    }
    assert!(
        open * 20 <= count,
        "{open} of {count} answers need a person:\n{}",
        rows.join("\n")
    );
}

#[test]
fn explanations_wait_in_few_rows_and_none_is_settled() {
    let (mut explanations, mut rows) = (0, 0);
    for known in KNOWN.iter() {
        for mark in known.marked.pupils.iter().flat_map(|entry| &entry.marks) {
            if !mark.like.is_empty() {
                explanations += 1;
                assert!(!mark.check.is_empty(), "{:?} is settled", mark.typed);
            }
        }
        rows += check::rows(&known.marked)
            .iter()
            .filter(|row| !row.mark.like.is_empty())
            .count();
    }
    assert!(explanations >= 30, "only {explanations} explanations");
    assert!(
        rows * 2 <= explanations,
        "{explanations} explanations stand in {rows} rows"
    );
}
