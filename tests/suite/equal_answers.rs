//! A class is marked as each pupil alone would be: what is remembered of equal answers
//! changes no mark.

use crate::class;
use crate::marking as cases;
use toothmark::answer;
use toothmark::gears::solve;
use toothmark::homework;
use toothmark::item;
use toothmark::marking;
use toothmark::marking::policy;
use toothmark::misconception;
use toothmark::seed;

/// What pupils might type to an item: the right answer, those of wrong ways of thinking,
/// what follows from a wrong answer to an earlier part, and some of no sense.
fn typed_to(item: &item::Item, items: &[item::Item]) -> Vec<String> {
    let worked = solve::answer(&item.mechanism, &item.ask).expect("it solves");
    let predictions = misconception::predictions(&item.mechanism, &item.ask);
    let wrong = predictions.iter().map(|it| &it.fact).take(2);
    let mut typed: Vec<String> = std::iter::once(&worked.fact)
        .chain(wrong)
        .map(|fact| answer::expected(fact, &item.form))
        .collect();
    for earlier in items.iter().filter(|it| item.follows.contains(&it.number)) {
        let wrong = misconception::predictions(&earlier.mechanism, &earlier.ask);
        let after = wrong.iter().filter_map(|wrong| {
            let mechanism = solve::with_answer(&item.mechanism, &earlier.ask, &wrong.fact)?;
            solve::answer(&mechanism, &item.ask).ok()
        });
        typed.extend(
            after
                .take(2)
                .map(|it| answer::expected(&it.fact, &item.form)),
        );
    }
    typed.extend(["", "7", "clockwise", "the teeth push it round"].map(str::to_owned));
    typed
}

#[test]
fn a_class_is_marked_as_each_pupil_alone() {
    let all = homework::Questions::All;
    let homework = class::homework(500, all, homework::Versions::Same);
    let items = &homework.sheets[0].items;
    let choices: Vec<Vec<String>> = items.iter().map(|item| typed_to(item, items)).collect();
    let mut stream = seed::Stream::named(&["equal answers"], 0);
    let responses: Vec<marking::Response> = homework
        .pupils
        .iter()
        .map(|assigned| {
            let answers: Vec<(&str, &str)> = items
                .iter()
                .zip(&choices)
                .map(|(item, typed)| {
                    let typed = stream.choose(typed).expect("there are some");
                    (item.number.as_str(), typed.as_str())
                })
                .collect();
            marking::Response {
                pupil_id: assigned.pupil.id.clone(),
                ..cases::response(&answers, &[])
            }
        })
        .collect();
    let policy = policy::Policy::default();
    let marked = marking::mark_homework(&marking::Batch {
        homework: &homework,
        responses: &responses,
        decisions: &[],
        policy: &policy,
        date: "2026-03-16",
    });
    let mut followed = 0;
    let mut explained = 0;
    for (entry, response) in marked.pupils.iter().zip(&responses) {
        let alone = marking::mark_sheet(items, response, &policy);
        assert_eq!(entry.marks, alone, "{}", entry.pupil.id);
        followed += alone
            .iter()
            .filter(|it| it.reason.contains("the pupil's own answer to"))
            .count();
        explained += alone
            .iter()
            .filter(|it| it.reason.contains("Before, the pupil answered"))
            .count();
    }
    // The law would say little where nothing hangs on anything.
    assert!(followed > 5 && explained > 50, "{followed} {explained}");
}
