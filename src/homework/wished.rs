//! A homework made from wishes: the same marks for everybody, and whose numbers.

use crate::homework;
use crate::homework::design;
use crate::homework::fit;
use crate::homework::hand_out;
use crate::homework::met;
use crate::homework::order;
use crate::homework::slot;
use crate::homework::stock;
use crate::homework::wish;
use crate::level;
use crate::problem;
use crate::seed;
use std::collections::BTreeMap;
use std::sync::Arc;

/// See [`super::set_wished`].
pub(super) fn set(
    plan: &homework::Plan,
    wished: &[wish::Wished],
) -> Result<wish::Fulfilled, Vec<problem::Problem>> {
    let pupils = hand_out::pupils(plan)?;
    let homework::Questions::Count(count) = plan.questions else {
        return Err(vec![problem::Problem::new(
            "questions",
            "every question of the banks is asked for, which leaves nothing to choose",
            "say how many questions each pupil should get",
        )]);
    };
    let by_id: BTreeMap<&str, &wish::Wished> = wished
        .iter()
        .map(|wished| (wished.pupil_id.as_str(), wished))
        .collect();
    let own: Vec<wish::Wished> = pupils
        .iter()
        .map(|pupil| match by_id.get(pupil.id.as_str()) {
            Some(wished) => (*wished).clone(),
            None => plain(&pupil.id, plan.levels),
        })
        .collect();
    let mut stock = stock::Stock::new(&plan.seed);
    let standard = order::take(plan, &mut stock, &plain("", plan.levels), count);
    let orders: Vec<order::Order> = own
        .iter()
        .map(|wished| order::take(plan, &mut stock, wished, count))
        .collect();
    let problems = too_few(&own, &orders, count);
    if !problems.is_empty() {
        return Err(problems);
    }
    let cheapest = standard.totals.iter().min_by_key(|(_, total)| total.cost);
    let usual = cheapest.map_or(0, |(total, _)| *total);
    let reachable: Vec<&BTreeMap<u32, fit::Total>> =
        orders.iter().map(|order| &order.totals).collect();
    let marks = fit::common(&reachable, usual).unwrap_or(usual);
    let mut sheets = hand_out::Sheets::default();
    let mut assignments = Vec::new();
    let mut granted = Vec::new();
    let mut others: BTreeMap<u32, Vec<&str>> = BTreeMap::new();
    for ((pupil, wished), order) in pupils.iter().zip(&own).zip(&orders) {
        let Some((total, found)) = fit::nearest(&order.totals, marks) else {
            continue;
        };
        if total != marks {
            others.entry(total).or_default().push(&pupil.id);
        }
        let mut chosen = order.chosen(found);
        chosen.sort_by_key(|it| (it.candidate.level, it.candidate.template.skill));
        let slots = slots(plan, &mut stock, wished, &chosen);
        let versions = hand_out::versions(plan, &slots, &pupil.id);
        let sheet = sheets.own(plan, &slots, &pupil.id, &versions);
        granted.push(
            chosen
                .iter()
                .zip(1..)
                .map(|(it, position)| wish::Granted {
                    wish: it.wish,
                    question: format!("Q{position}"),
                    skill: it.candidate.template.skill,
                    level: it.candidate.level,
                })
                .collect(),
        );
        assignments.push(homework::Assignment {
            pupil: pupil.clone(),
            sheet,
        });
    }
    let mut notices = stock.notices;
    for (total, ids) in others {
        notices.push(homework::Notice {
            place: "marks".to_owned(),
            what: format!(
                "the sheets of {} come to {total} marks, all others to {marks}: the banks have no \
                 questions for them with which they would",
                ids.join(", ")
            ),
        });
    }
    let uncoded = hand_out::homework(plan, String::new(), sheets.done, assignments);
    // Sheets made from other records must not have the same code; how long they are kept
    // makes no others.
    let text = homework::to_json(&homework::Homework {
        keep_until: None,
        ..uncoded.clone()
    });
    let code = seed::Stream::named(&["code", &text], 0).code(hand_out::CODE_LENGTH);
    Ok(wish::Fulfilled {
        homework: homework::Homework { code, ..uncoded },
        granted,
        notices,
    })
}

/// Nothing wished: practice at the middle of these levels, the lower of two.
fn plain(pupil_id: &str, levels: level::Span) -> wish::Wished {
    wish::Wished {
        pupil_id: pupil_id.to_owned(),
        levels,
        level: levels.middle(),
        wishes: Vec::new(),
        met: met::Met::default(),
    }
}

/// Tells for whom the banks have not enough questions, pupils alike together.
fn too_few(
    wished: &[wish::Wished],
    orders: &[order::Order],
    count: usize,
) -> Vec<problem::Problem> {
    let mut short: BTreeMap<(level::Span, usize), Vec<&str>> = BTreeMap::new();
    for (wished, order) in wished.iter().zip(orders) {
        if order.count < count {
            let key = (wished.levels, order.count);
            short.entry(key).or_default().push(&wished.pupil_id);
        }
    }
    short
        .into_iter()
        .map(|((levels, made), ids)| {
            problem::Problem::new(
                design::said(levels),
                format!(
                    "only {made} different questions can be made of the {count} asked for (wanted \
                     for {})",
                    ids.join(", ")
                ),
                "ask for fewer questions, or allow more levels, skills or banks",
            )
        })
        .collect()
}

/// The questions with their stories and with versions that will do.
fn slots<'p>(
    plan: &homework::Plan,
    stock: &mut stock::Stock<'p>,
    wished: &wish::Wished,
    chosen: &[order::Chosen<'p>],
) -> Vec<slot::Slot<'p>> {
    let name = ["stories", &plan.seed, &wished.pupil_id];
    let mut stream = seed::Stream::named(&name, 0);
    let mut sheet = slot::Sheet::default();
    for it in chosen {
        let options = options(stock, wished, it, &sheet, &mut stream);
        // Where a template comes so often that no story has room, the first will do.
        let room = options.iter().find(|slot| sheet.has_room_for(slot));
        if let Some(slot) = room.or(options.first()).cloned() {
            sheet.take(slot);
        }
    }
    sheet.slots
}

/// What a question may be: stories told least first; kinds that show most of what is
/// not told apart yet, then the larger ones.
fn options<'p>(
    stock: &mut stock::Stock<'p>,
    wished: &wish::Wished,
    chosen: &order::Chosen<'p>,
    sheet: &slot::Sheet<'p>,
    stream: &mut seed::Stream,
) -> Vec<slot::Slot<'p>> {
    let candidate = chosen.candidate;
    let Some(pool) = stock.pool(candidate) else {
        return Vec::new();
    };
    let mut stories: Vec<usize> = (0..candidate.template.stories.len()).collect();
    stream.shuffle(&mut stories);
    stories.sort_by_key(|&story| sheet.repeats(candidate.template, story));
    let separation = sheet.separation(candidate.template.skill);
    let mut kinds: Vec<(usize, usize, Vec<usize>)> = Vec::new();
    for (kind, versions) in pool.kinds.iter().enumerate() {
        let choices = order::left(versions, candidate, &chosen.aim, &wished.met);
        let first = choices.first().and_then(|&index| versions.get(index));
        let gain = first
            .filter(|version| slot::has_few_answers(version))
            .map_or(0, |version| separation.gain(&slot::traces(version)));
        if first.is_some() {
            kinds.push((kind, gain, choices));
        }
    }
    stream.shuffle(&mut kinds);
    let largest = kinds.iter().map(|(.., choices)| choices.len()).max();
    kinds.sort_by_key(|(_, gain, choices)| {
        let is_small = Some(choices.len() * 2) < largest;
        (std::cmp::Reverse(*gain), is_small)
    });
    let mut options = Vec::new();
    for &story in &stories {
        for (kind, _, choices) in &kinds {
            options.push(slot::Slot {
                bank: candidate.bank,
                pool: Arc::clone(&pool),
                kind: *kind,
                choices: choices.clone(),
                story,
                repeat: sheet.repeats(candidate.template, story),
            });
        }
    }
    options
}
