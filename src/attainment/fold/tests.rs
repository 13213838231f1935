//! Any order and any split give the same summary, and it is what a plain recount gives.

use crate::attainment;
use crate::attainment::count;
use crate::attainment::examples;
use crate::attainment::fold;
use crate::level;
use crate::marking;
use proptest::prelude::ProptestConfig;
use proptest::prelude::Strategy;
use proptest::prelude::any;
use proptest::prelude::prop;
use proptest::prop_assert_eq;
use proptest::proptest;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

/// One answer as it is drawn.
type Drawn = (usize, usize, u8, usize);

/// One pupil's work as it is drawn: pupil, class, year, label, answers.
type DrawnWork = (usize, usize, usize, usize, Vec<Drawn>);

fn answer(number: usize, (state, skill, level, misconceptions): Drawn) -> attainment::Answer {
    let state = marking::State::ALL[state];
    let skill = level::SKILLS[skill];
    let ids: &[&str] = match misconceptions {
        0 => &["same-speed"],
        1 => &["same-speed", "big-gear-faster"],
        2 => &["an-older-edition"],
        _ => &[],
    };
    attainment::Answer {
        question: format!(
            "Q{}{}",
            number / 2 + 1,
            if number.is_multiple_of(2) { "a" } else { "b" }
        ),
        bank: "gears".to_owned(),
        template: format!("{skill}-{number}"),
        skill,
        level: level::Level::new(level).expect("1 to 8"),
        marks: match state {
            marking::State::Correct => 2,
            marking::State::Partly => 1,
            marking::State::Wrong
            | marking::State::Blank
            | marking::State::NotReached
            | marking::State::Unreadable
            | marking::State::Absent
            | marking::State::Excused => 0,
        },
        out_of: 2,
        state,
        misconceptions: ids.iter().map(|id| (*id).to_owned()).collect(),
        needs_check: misconceptions == 5,
    }
}

fn pupil((id, class, year, label, answers): DrawnWork) -> attainment::Pupil {
    let groups: BTreeMap<String, String> = match label {
        0 => [("reading".to_owned(), "blue".to_owned())].into(),
        1 => [("reading".to_owned(), " ".to_owned())].into(),
        2 => [
            ("reading".to_owned(), "green".to_owned()),
            ("set".to_owned(), "1".to_owned()),
        ]
        .into(),
        _ => BTreeMap::new(),
    };
    attainment::Pupil {
        who: examples::who(&format!("P{id}"), &format!("N{}", id / 2)),
        class: ["5 Oak", "5 Elm", ""][class].to_owned(),
        year: ["5", "6", ""][year].to_owned(),
        groups,
        answers: answers
            .into_iter()
            .enumerate()
            .map(|(number, drawn)| answer(number, drawn))
            .collect(),
    }
}

/// Records of a few homeworks, some of them marked more than once.
fn works() -> impl Strategy<Value = Vec<attainment::Work>> {
    let drawn = (0..8_usize, 0..4_usize, 3..6_u8, 0..7_usize);
    let pupil = (
        0..30_usize,
        0..3_usize,
        0..3_usize,
        0..4_usize,
        prop::collection::vec(drawn, 1..5),
    )
        .prop_map(pupil);
    let work = (0..4_usize, 0..3_usize, prop::collection::vec(pupil, 0..25)).prop_map(
        |(homework, marked, pupils)| {
            // A roll has each pupil once.
            let mut once: BTreeMap<_, attainment::Pupil> = BTreeMap::new();
            for pupil in pupils {
                once.insert(pupil.who, pupil);
            }
            attainment::Work {
                code: format!("H{homework}"),
                title: format!("Homework {homework}"),
                set_on: format!("2026-03-0{}", homework / 2 + 1),
                marked_on: format!("2026-03-1{marked}"),
                kept_until: format!("2026-08-1{marked}").parse().ok(),
                pupils: once.into_values().collect(),
            }
        },
    );
    prop::collection::vec(work, 0..8)
}

fn folded(families: &[fold::Family<'_>]) -> fold::Fold {
    let mut fold = fold::Fold::default();
    for family in families {
        fold.add(family).expect("each family is added once");
    }
    fold
}

/// Facts counted again in the plainest way, one answer after the other.
fn recounted(works: &[attainment::Work]) -> BTreeMap<String, (usize, u32, u32)> {
    let mut pupils: BTreeMap<String, BTreeSet<_>> = BTreeMap::new();
    let mut facts: BTreeMap<String, (usize, u32, u32)> = BTreeMap::new();
    for family in fold::Family::all(works) {
        for pupil in attainment::newest::newest(&family.works).pupils {
            for answer in &pupil.answers {
                for row in [
                    "all".to_owned(),
                    format!("year {}", pupil.year),
                    format!("class {}", pupil.class),
                    format!("skill {}", answer.skill.title()),
                    format!("level Level {}", answer.level),
                ] {
                    let fact = facts.entry(row.clone()).or_default();
                    let counts = attainment::tally::counts_for_facility(answer.state);
                    fact.1 += u32::from(counts);
                    fact.2 += u32::from(answer.marks);
                    let set = pupils.entry(row).or_default();
                    if attainment::tally::was_handed_in(answer.state) {
                        set.insert(pupil.who);
                    }
                    fact.0 = set.len();
                }
            }
        }
    }
    facts
}

/// The same facts as a summary tells them.
fn told(summary: &attainment::Summary) -> BTreeMap<String, (usize, u32, u32)> {
    let tables = [
        ("year", &summary.years),
        ("class", &summary.classes),
        ("skill", &summary.skills),
        ("level", &summary.levels),
    ];
    let rows = tables
        .into_iter()
        .flat_map(|(table, rows)| {
            rows.iter()
                .map(move |row| (format!("{table} {}", row.label), row))
        })
        .chain([("all".to_owned(), &summary.whole)]);
    rows.filter_map(|(name, row)| match &row.shown {
        count::Shown::InFull { figures, .. } | count::Shown::CountsOnly { figures } => {
            let pupils = usize::try_from(figures.pupils).ok()?;
            let name = name
                .replace("no year given", "")
                .replace("no class given", "");
            Some((name, (pupils, figures.available / 2, figures.earned)))
        }
        count::Shown::Hidden(_) => None,
    })
    .collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn any_order_and_any_split_give_the_same_summary(
        works in works(),
        order in any::<u64>(),
        split in 0..4_usize,
    ) {
        let all = attainment::summarise(&works);
        let mut shuffled = works.clone();
        // A shuffle that needs no more than a number: by a hash of place and order.
        let mut turn = order;
        shuffled.sort_by_cached_key(|_| {
            turn = turn.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            turn >> 33
        });
        prop_assert_eq!(&attainment::summarise(&shuffled), &all);
        let mut families = fold::Family::all(&shuffled);
        families.reverse();
        let (first, second) = families.split_at(split.min(families.len()));
        for (one, other) in [(first, second), (second, first)] {
            let mut merged = folded(one);
            merged.merge(&folded(other)).expect("they share no homework");
            prop_assert_eq!(&merged.summary(&attainment::School::default()), &all);
            let whole = folded(&families);
            prop_assert_eq!(merged.scores(), whole.scores());
        }
    }

    #[test]
    fn a_summary_is_what_a_plain_recount_gives(works in works()) {
        let plain = recounted(&works);
        for (row, fact) in told(&attainment::summarise(&works)) {
            let plain = plain.get(&row).copied().unwrap_or_default();
            prop_assert_eq!(plain, fact, "{}", row);
        }
    }
}

#[test]
fn a_homework_is_counted_once_only() {
    let works = [examples::class("5 Oak", "5", 12)];
    let families = fold::Family::all(&works);
    let mut fold = folded(&families);
    assert!(fold.add(&families[0]).is_err());
    let before = fold.summary(&attainment::School::default());
    assert!(fold.merge(&folded(&families)).is_err());
    assert_eq!(fold.summary(&attainment::School::default()), before);
}

#[test]
fn scores_hold_a_table_for_each_set_of_questions() {
    let works = [examples::class("5 Oak", "5", 12)];
    let fold = folded(&fold::Family::all(&works));
    let (questions, table) = fold.scores().sets().next().expect("one set of questions");
    let names: Vec<&str> = questions.iter().map(|it| it.name.as_str()).collect();
    assert_eq!(
        names,
        [
            "gears-7-11: ratio-pair",
            "gears-7-11: ratio-pair (2)",
            "gears-7-11: turns-pair-down"
        ]
    );
    assert_eq!(table.scores().collect::<Vec<_>>(), [(2, 6), (6, 6)]);
    assert_eq!(fold.scores().sets().count(), 1);
}
