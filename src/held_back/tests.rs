//! Facts, and attacks: every set of numbers that fits what is told is counted.

use super::*;
use crate::held_back::groups::Members;
use crate::held_back::known::Seen;
use crate::held_back::known::View;
use proptest::strategy::Strategy;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

/// No number is tried beyond this; the true ones stay well below.
const HIGHEST: u64 = 60;

/// An attack: whether a number can have another value, by trying all.
///
/// Knows the rules in its own words and nothing of how the numbers were chosen.
struct Attack<'a> {
    ledger: &'a Ledger,
    view: &'a View,
    numbers: Vec<Option<u64>>,
    /// Tries left; an attack that runs out of them says nothing.
    left: u32,
}

/// What an attack finds.
#[derive(Debug, PartialEq, Eq, Clone, Copy)]
enum Found {
    Open,
    OneValue,
    GivenUp,
}

fn attack(ledger: &Ledger, view: &View, secret: usize) -> Found {
    let mut attack = Attack {
        ledger,
        view,
        numbers: ledger
            .cells
            .iter()
            .zip(&view.seen)
            .map(|(cell, seen)| (*seen == Seen::Shown).then_some(cell.value))
            .collect(),
        left: 200_000,
    };
    let true_value = ledger.cells[secret].value;
    let mut values: Vec<u64> = (0..=HIGHEST).filter(|it| *it != true_value).collect();
    values.sort_by_key(|it| it.abs_diff(true_value));
    for value in values {
        if attack.try_out(secret, value) {
            return Found::Open;
        }
    }
    if attack.left == 0 {
        Found::GivenUp
    } else {
        Found::OneValue
    }
}

impl Attack<'_> {
    fn try_out(&mut self, cell: usize, value: u64) -> bool {
        if self.left == 0 {
            return false;
        }
        self.left -= 1;
        self.numbers[cell] = Some(value);
        if self.is_possible() && self.go_on() {
            return true;
        }
        self.numbers[cell] = None;
        false
    }

    /// Fills the sum with the fewest numbers missing.
    fn go_on(&mut self) -> bool {
        let missing = |sum: &Sum| sum.cells().filter(|it| self.numbers[*it].is_none()).count();
        let sums = self.ledger.sums.iter().filter(|sum| missing(sum) > 0);
        let next = sums
            .min_by_key(|sum| missing(sum))
            .and_then(|sum| sum.cells().find(|it| self.numbers[*it].is_none()))
            .or_else(|| self.numbers.iter().position(Option::is_none));
        let Some(next) = next else { return true };
        let own = self.ledger.cells[next].value;
        let mut values: Vec<u64> = (0..=HIGHEST).collect();
        values.sort_by_key(|it| it.abs_diff(own));
        values.into_iter().any(|value| self.try_out(next, value))
    }

    fn is_possible(&self) -> bool {
        let sums = self.ledger.sums.iter().all(|sum| {
            let parts: u64 = sum.parts.iter().filter_map(|it| self.numbers[*it]).sum();
            let all = sum.parts.iter().all(|it| self.numbers[*it].is_some());
            self.numbers[sum.whole]
                .is_none_or(|whole| if all { parts == whole } else { parts <= whole })
        });
        sums && (0..self.numbers.len()).all(|cell| self.could_be(cell))
    }

    /// Whether the rules would have led to this sight of the number.
    fn could_be(&self, cell: usize) -> bool {
        let Some(number) = self.numbers[cell] else {
            return true;
        };
        let (group, of) = match self.ledger.cells[cell].rule {
            Rule::Rest | Rule::CrossingAmount(_) => return true,
            Rule::Crossing => return number > 0,
            Rule::Group => (None, None),
            Rule::Within(group) | Rule::Amount(group) => (Some(group), None),
            Rule::Part { group, of } => (Some(group), Some(of)),
        };
        let is_pupils = matches!(self.ledger.cells[cell].rule, Rule::Group | Rule::Within(_));
        let group_seen = group.map(|it| self.view.seen[it.0]);
        let Some(pupils) = group.map_or(Some(number), |it| self.numbers[it.0]) else {
            return true;
        };
        let small = |count: u64| (1..=4).contains(&count);
        let five_to_nine = (5..=9).contains(&pupils);
        let tells = match (self.ledger.cells[cell].rule, of) {
            (Rule::Within(_), _) => {
                five_to_nine && (small(number) || number == 0 || number == pupils)
            }
            (Rule::Part { .. }, Some(of)) => {
                let Some(of) = self.numbers[of.0] else {
                    return true;
                };
                five_to_nine && number <= of && (5 * number <= of || 5 * (of - number) <= of)
            }
            _ => false,
        };
        let few = is_pupils && small(number);
        let about_few = group.is_some() && small(pupils);
        match self.view.seen[cell] {
            Seen::Shown => !few && !about_few && !tells,
            Seen::HeldBack(Reason::TooFew) => few && !about_few && !tells,
            Seen::HeldBack(Reason::ToProtect) => {
                !few && !about_few && !tells && (!is_pupils || number > 0)
            }
            Seen::HeldBack(Reason::SmallGroup) => {
                about_few || tells || group_seen.is_some_and(|it| it != Seen::Shown)
            }
            Seen::HeldBack(Reason::Unsaid) => group.is_some() || number > 0,
            Seen::Never => true,
        }
    }
}

fn secrets(ledger: &Ledger, view: &View) -> Vec<usize> {
    (0..ledger.cells.len())
        .filter(|cell| match (view.seen[*cell], ledger.cells[*cell].rule) {
            (Seen::HeldBack(_), _) => true,
            (Seen::Never, Rule::Crossing) => (1..=4).contains(&ledger.cells[*cell].value),
            (Seen::Never, Rule::CrossingAmount(group)) => {
                (1..=4).contains(&ledger.cells[group.0].value)
            }
            _ => false,
        })
        .collect()
}

/// Checks a ledger and says how many secrets there were.
fn check(ledger: &Ledger) -> usize {
    let view = choose::choose(ledger);
    assert_eq!(view, choose::choose(ledger), "the same again");
    for (cell, seen) in ledger.cells.iter().zip(&view.seen) {
        if *seen == Seen::Shown {
            let is_pupils = matches!(cell.rule, Rule::Group | Rule::Within(_));
            assert!(!is_pupils || !(1..=4).contains(&cell.value));
            assert!(!(1..=4).contains(&ledger.pupils(cell)));
            let group = cell.group().map(|it| view.seen[it.0]);
            assert!(
                group.is_none_or(|it| it == Seen::Shown),
                "told of a group held back"
            );
        }
    }
    let secrets = secrets(ledger, &view);
    for secret in &secrets {
        let found = attack(ledger, &view, *secret);
        assert!(
            found != Found::OneValue,
            "{secret} of {:?}\n{:?}\n{:?}",
            ledger.cells,
            ledger.sums,
            view.seen
        );
    }
    secrets.len()
}

fn told(told: &Protected, cells: &[CellId]) -> Vec<Told> {
    cells.iter().map(|cell| told.of(*cell)).collect()
}

#[test]
fn counts_of_five_to_nine_are_told_without_shares_and_never_all_or_none() {
    let mut ledger = Ledger::default();
    let mut cells = Vec::new();
    for (pupils, part) in [(12, 12), (7, 7), (7, 6), (7, 3), (9, 0), (4, 2), (0, 0)] {
        let group = ledger.cell(pupils, Rule::Group).expect("it fits");
        let of = ledger.cell(pupils, Rule::Amount(group)).expect("it fits");
        let part = ledger
            .cell(part, Rule::Part { group, of })
            .expect("it fits");
        cells.extend([group, part]);
    }
    let small = Told::HeldBack(Reason::SmallGroup);
    let wanted = [
        Told::InFull(12),
        Told::InFull(12),
        Told::CountOnly(7),
        small,
        Told::CountOnly(7),
        small,
        Told::CountOnly(7),
        Told::CountOnly(3),
        Told::CountOnly(9),
        small,
        Told::HeldBack(Reason::TooFew),
        small,
        Told::CountOnly(0),
        Told::CountOnly(0),
    ];
    assert_eq!(told(&ledger.protect(), &cells), wanted);
    check(&ledger);
}

#[test]
fn a_lonely_small_group_takes_the_next_smallest_with_it_in_every_table() {
    let mut ledger = Ledger::default();
    let year = ledger.cell(58, Rule::Group).expect("it fits");
    let classes = [30, 3, 25].map(|it| ledger.cell(it, Rule::Group).expect("it fits"));
    ledger.sum(year, &classes).expect("they add up");
    let years = [58, 29, 31].map(|it| ledger.cell(it, Rule::Group).expect("it fits"));
    let school = ledger.cell(118, Rule::Group).expect("it fits");
    ledger.sum(school, &years).expect("they add up");
    ledger
        .sum(years[0], &[year])
        .expect("the same year in two tables");
    let found = ledger.protect();
    assert_eq!(
        told(&found, &classes),
        [
            Told::InFull(30),
            Told::HeldBack(Reason::TooFew),
            Told::HeldBack(Reason::ToProtect)
        ]
    );
    assert!(
        told(&found, &years)
            .iter()
            .all(|it| matches!(it, Told::InFull(_)))
    );
    check(&ledger);
}

#[test]
fn a_total_that_gives_its_only_parts_away_goes_too() {
    // Four classes of one: that each has fewer than five and the year has too would
    // tell everything, so not even the reasons are given.
    let mut ledger = Ledger::default();
    let year = ledger.cell(4, Rule::Group).expect("it fits");
    let classes = [1, 1, 1, 1].map(|it| ledger.cell(it, Rule::Group).expect("it fits"));
    ledger.sum(year, &classes).expect("they add up");
    let found = ledger.protect();
    let all = [year, classes[0], classes[1], classes[2], classes[3]];
    assert_eq!(told(&found, &all), [Told::HeldBack(Reason::Unsaid); 5]);
    check(&ledger);
}

#[test]
fn what_all_pupils_have_gives_small_groups_away() {
    // Nobody of the year has a mark: then nobody in the class of three has.
    let mut ledger = Ledger::default();
    let members = |class: &str, pupils| Members {
        groups: vec![class.to_owned()],
        pupils,
        shares: vec![(0, pupils)],
    };
    let all = [members("A", 12), members("B", 3), members("C", 11)];
    let groups = groups::put_in(&mut ledger, &all).expect("it adds up");
    let found = ledger.protect();
    assert!(matches!(
        found.of(groups.whole.shares[0].0),
        Told::HeldBack(_)
    ));
    assert!(check(&ledger) > 0);
}

#[test]
fn a_year_less_its_classes_does_not_tell_of_the_few_in_a_mixed_class() {
    let members = |year: &str, class: &str, pupils| Members {
        groups: vec![year.to_owned(), class.to_owned()],
        pupils,
        shares: vec![(pupils / 2, pupils)],
    };
    let all = [
        members("3", "3A", 12),
        members("3", "3/4B", 3),
        members("4", "3/4B", 11),
        members("4", "4C", 13),
    ];
    let mut ledger = Ledger::default();
    let groups = groups::put_in(&mut ledger, &all).expect("it adds up");
    let found = ledger.protect();
    let both = [groups.by[0]["3"].pupils, groups.by[1]["3A"].pupils];
    assert!(
        told(&found, &both)
            .iter()
            .any(|it| matches!(it, Told::HeldBack(_)))
    );
    assert!(check(&ledger) > 0);
}

#[test]
fn what_does_not_add_up_is_refused() {
    let mut ledger = Ledger::default();
    let group = ledger.cell(6, Rule::Group).expect("it fits");
    assert_eq!(
        ledger.cell(7, Rule::Within(group)),
        Err(Unfit::DoesNotAddUp)
    );
    assert_eq!(ledger.cell(0, Rule::Crossing), Err(Unfit::Empty));
    assert_eq!(
        ledger.cell(0, Rule::Amount(CellId(9))),
        Err(Unfit::NoSuchCell)
    );
    assert_eq!(ledger.sum(group, &[]), Err(Unfit::DoesNotAddUp));
    assert_eq!(ledger.sum(group, &[CellId(9)]), Err(Unfit::NoSuchCell));
    assert_eq!(ledger.cells.len(), 1);
    assert_eq!(Ledger::default().protect().of(group), Told::InNoTable);
}

#[test]
fn the_auditor_calls_nothing_safe_that_an_attack_finds() {
    // Rules alone, nothing more held back: some of it can be found, some not.
    let (mut open, mut found) = (0, 0);
    for code in 0..240_u64 {
        let mut ledger = Ledger::default();
        let sizes = [1 + code % 6, 3 + code % 5, 1 + code % 4 * 3, 2 + code % 7];
        let cells = sizes.map(|it| ledger.cell(it, Rule::Group).expect("it fits"));
        for pair in [[0, 1], [2, 3], [0, 2], [1, 3]] {
            let whole = pair.iter().map(|it| sizes[*it]).sum();
            let whole = ledger.cell(whole, Rule::Group).expect("it fits");
            ledger
                .sum(whole, &pair.map(|it| cells[it]))
                .expect("they add up");
        }
        let view = choose::choose(&ledger);
        for secret in secrets(&ledger, &view) {
            assert_eq!(attack(&ledger, &view, secret), Found::Open);
        }
        let view = known::by_the_rules(&ledger);
        for secret in secrets(&ledger, &view) {
            let safe = audit::is_safe(&ledger, &view, secret, &mut BTreeSet::new());
            match attack(&ledger, &view, secret) {
                Found::OneValue => {
                    assert!(!safe, "{:?} {:?}", ledger.cells, view.seen);
                    found += 1;
                }
                Found::Open => open += u32::from(safe),
                Found::GivenUp => {}
            }
        }
        check(&ledger);
    }
    assert!(open > 20 && found > 50, "{open} open, {found} found");
}

fn members(
    labels: &'static [&'static str],
    groupings: usize,
) -> impl Strategy<Value = Vec<Members>> {
    let groups = proptest::collection::vec(proptest::sample::select(labels), groupings);
    let member = (groups, 0_u64..9, 0.0_f64..=1.0).prop_map(|(groups, pupils, part)| {
        let right = (0..pupils).filter(|it| {
            f64::from(u32::try_from(*it).unwrap_or(0))
                < part * f64::from(u32::try_from(pupils).unwrap_or(0))
        });
        Members {
            groups: groups.into_iter().map(str::to_owned).collect(),
            pupils,
            shares: vec![(u64::try_from(right.count()).unwrap_or(0), pupils)],
        }
    });
    proptest::collection::vec(member, 0..5)
}

proptest::proptest! {
    #![proptest_config(proptest::test_runner::Config::with_cases(60))]

    #[test]
    fn nothing_is_found_out_in_tables_of_one_grouping(members in members(&["A", "B", "C", "D"], 1)) {
        let mut ledger = Ledger::default();
        groups::put_in(&mut ledger, &members).expect("it adds up");
        check(&ledger);
    }

    #[test]
    fn nothing_is_found_out_in_two_tables_of_the_same_pupils(members in members(&["A", "B", "C"], 2)) {
        let mut ledger = Ledger::default();
        groups::put_in(&mut ledger, &members).expect("it adds up");
        check(&ledger);
    }

    #[test]
    fn nothing_is_found_out_of_pupils_within_groups(groups in proptest::collection::vec((0_u64..14, 0_u64..14), 1..5)) {
        let mut ledger = Ledger::default();
        let sums = groups.iter().fold((0, 0), |sum, it| (sum.0 + it.0, sum.1 + it.1.min(it.0)));
        let whole = ledger.cell(sums.0, Rule::Group).expect("it fits");
        let those = ledger.cell(sums.1, Rule::Within(whole)).expect("it fits");
        let mut cells = (Vec::new(), Vec::new());
        for (pupils, within) in &groups {
            let group = ledger.cell(*pupils, Rule::Group).expect("it fits");
            cells.0.push(group);
            cells.1.push(ledger.cell(*within.min(pupils), Rule::Within(group)).expect("it fits"));
        }
        ledger.sum(whole, &cells.0).expect("they add up");
        ledger.sum(those, &cells.1).expect("they add up");
        check(&ledger);
    }
}

#[test]
fn one_small_class_of_a_school_takes_one_more_with_it_in_three_tables() {
    for school in 0..8 {
        one_small_class(school);
    }
}

fn one_small_class(school: u64) {
    // Sixteen classes in years, some of them mixed, and four group labels.
    let mut stream = crate::seed::Stream::named(&["a school"], school);
    let mut members = Vec::new();
    for pupil in 0..420_u64 {
        let class = pupil / 27;
        let mixed = if class % 5 == 4 { stream.below(2) } else { 0 };
        let name = if pupil > 416 { 99 } else { class };
        let label = ["blue", "green", "red", ""][stream.index(4)];
        members.push(Members {
            groups: vec![
                format!("{}", class / 2 + mixed),
                format!("{name}"),
                label.to_owned(),
            ],
            pupils: 1,
            shares: vec![(stream.below(11), 10)],
        });
    }
    let mut ledger = Ledger::default();
    let groups = groups::put_in(&mut ledger, &members).expect("it adds up");
    let found = ledger.protect();
    let each = groups.by.iter().flat_map(BTreeMap::iter);
    let held_back: Vec<&str> = each
        .filter(|(_, group)| matches!(found.of(group.pupils), Told::HeldBack(_)))
        .map(|(name, _)| name.as_str())
        .collect();
    assert_eq!(held_back, ["15", "99"]);
    assert_eq!(
        found.of(groups.by[1]["99"].pupils),
        Told::HeldBack(Reason::TooFew)
    );
}
