//! Laws of drawing, over every shipped template and every level it names.

use crate::banks;
use toothmark::answer;
use toothmark::gears::ask;
use toothmark::gears::notation;
use toothmark::gears::solve;
use toothmark::item;
use toothmark::item::apart;
use toothmark::item::measure;
use toothmark::item::pool;
use toothmark::level::feature;
use toothmark::misconception;
use toothmark::seed;

/// What someone who answers rightly has written, read as an answer.
fn right_answers(fact: &ask::Fact, form: &answer::Form) -> Vec<answer::Given> {
    match fact {
        ask::Fact::Quantity { .. } => {
            let typed = answer::Typed {
                text: answer::expected(fact, form),
                undone: Vec::new(),
            };
            let reading = answer::read(&typed, form);
            let answer::Reading::Read(candidates) = reading else {
                panic!("{typed:?} is read as {reading:?}");
            };
            candidates.into_iter().take(1).map(|it| it.given).collect()
        }
        ask::Fact::Ratio(first, second) => vec![answer::Given::Ratio(*first, *second)],
        ask::Fact::Choices(choices) => choices
            .iter()
            .map(|choice| answer::Given::Gears(choice.clone()))
            .collect(),
        ask::Fact::Sense(_)
        | ask::Fact::YesNo(_)
        | ask::Fact::Which(_)
        | ask::Fact::Name(_)
        | ask::Fact::Job(_) => vec![answer::Given::Entry(fact.clone())],
        ask::Fact::Reasons(_) => Vec::new(),
    }
}

/// Returns the first law that a drawn part breaks.
fn broken_law(item: &item::Item) -> Option<String> {
    let rule = item.level.rule();
    let worked = match solve::answer(&item.mechanism, &item.ask) {
        Ok(worked) => worked,
        Err(faults) => return Some(format!("it cannot be solved: {faults:?}")),
    };
    let (fewest, most) = rule.teeth;
    let teeth = item.mechanism.parts.iter().filter_map(feature::teeth);
    for count in teeth {
        if count < fewest || count > most {
            return Some(format!("a gear has {count} teeth"));
        }
    }
    if feature::gear_count(&item.mechanism) > rule.most_gears {
        return Some("too many gears".to_owned());
    }
    if feature::first_level_of(&item.ask) > item.level {
        return Some("asked too early".to_owned());
    }
    for found in feature::features(&item.mechanism) {
        if found.first_level(&item.ask) > item.level {
            return Some(format!("{} comes too early", found.text()));
        }
    }
    if let ask::Fact::Quantity { value, .. } = &worked.fact
        && !value.factor.is_positive()
    {
        return Some(format!("the answer is {value}"));
    }
    for given in right_answers(&worked.fact, &item.form) {
        let agreement = answer::compare(&given, &worked.fact, &item.form);
        let agrees = [answer::Agreement::Equal, answer::Agreement::Rounded].contains(&agreement);
        if !agrees {
            return Some(format!("the right answer {given:?} is {agreement:?}"));
        }
    }
    if !apart::has_few_answers(&item.form) {
        let predictions = misconception::predictions(&item.mechanism, &item.ask);
        if let Some(collision) = apart::collision(&worked.fact, &predictions, &item.form) {
            return Some(collision.to_string());
        }
    }
    let lines = notation::write(&item.mechanism);
    let lines: Vec<&str> = lines.iter().map(String::as_str).collect();
    if notation::read(&lines).as_ref() != Ok(&item.mechanism) {
        return Some(format!("{lines:?} is not read back"));
    }
    let texts = [&item.story, &item.question];
    if texts.iter().any(|text| text.contains(['{', '}'])) {
        return Some("a placeholder is left".to_owned());
    }
    None
}

/// Every version that can come up is looked at: a template with no more than
/// [`pool::MOST_TRIES`] combinations of values is tried whole, so that this holds
/// for every seed there is.
#[test]
fn every_draw_of_every_shipped_template_keeps_the_laws() {
    let mut broken = Vec::new();
    for bank in banks::shipped() {
        for template in &bank.templates {
            for &level in &template.levels {
                let mut stream = seed::Stream::named(&["laws", &template.id], 0);
                let pool = pool::fill(template, level, usize::MAX, &mut stream);
                if pool.kinds.is_empty() {
                    broken.push(format!("{}: {}", template.id, pool.why_none()));
                }
                let versions = pool.kinds.iter().flatten();
                let first_broken = versions
                    .flat_map(|version| {
                        let setting = pool::Setting {
                            bank: &bank.id,
                            position: 1,
                            story: 0,
                        };
                        pool.items(version, &setting)
                    })
                    .find_map(|item| broken_law(&item).map(|law| (item, law)));
                if let Some((item, law)) = first_broken {
                    broken.push(format!("{} at level {level}: {law}: {item:?}", template.id));
                }
            }
        }
    }
    assert!(broken.is_empty(), "{}", broken.join("\n"));
}

#[test]
fn versions_of_a_kind_are_equally_hard() {
    for bank in banks::shipped() {
        for template in bank.templates.iter().step_by(5) {
            for &level in &template.levels {
                let mut stream = seed::Stream::named(&["measures", &template.id], 0);
                let pool = pool::fill(template, level, 20, &mut stream);
                for kind in &pool.kinds {
                    let measures: Vec<Vec<measure::Measure>> = kind
                        .iter()
                        .map(|version| {
                            version
                                .parts
                                .iter()
                                .map(|part| {
                                    let worked = solve::answer(&part.mechanism, &part.ask)
                                        .expect("a version is solvable");
                                    measure::of(
                                        &part.mechanism,
                                        &part.ask,
                                        &worked,
                                        &part.form,
                                        &part.traces,
                                    )
                                })
                                .collect()
                        })
                        .collect();
                    assert!(
                        measures.windows(2).all(|pair| pair[0] == pair[1]),
                        "{} at level {level}",
                        template.id
                    );
                }
            }
        }
    }
}

#[test]
fn the_same_stream_draws_the_same_and_another_draws_otherwise() {
    let bank = banks::shipped()
        .into_iter()
        .next()
        .expect("a bank is shipped");
    let template = bank
        .templates
        .iter()
        .find(|template| template.placeholders.len() > 2)
        .expect("a template with numbers");
    let draw = |name: &str| {
        let mut stream = seed::Stream::named(&[name], 0);
        pool::fill(template, template.levels[0], 8, &mut stream).kinds
    };
    assert_eq!(draw("one"), draw("one"));
    assert_ne!(draw("one"), draw("other"));
}
