//! Facts, one table or two at a time. The whole of a report is attacked where its tables
//! are made.

use super::*;

/// A ledger of groups of pupils with marks, each a part of its own, and wholes of them.
struct Case {
    ledger: Ledger,
    parts: Vec<EntryId>,
}

impl Case {
    /// Groups by pupils, marks earned and marks lost.
    fn new(groups: &[(u64, u64, u64)], wholes: &[(&[usize], usize)]) -> (Self, Vec<EntryId>) {
        let mut ledger = Ledger::default();
        let mut enter = |table: usize, (pupils, earned, lost): (u64, u64, u64)| {
            ledger.enter(Entry {
                marks: Some((earned, lost)),
                ..Entry::group(table, pupils)
            })
        };
        let parts: Vec<EntryId> = groups.iter().map(|it| enter(1, *it)).collect();
        let sum = |of: &[usize]| {
            of.iter().fold((0, 0, 0), |sum, it| {
                let (pupils, earned, lost) = groups[*it];
                (sum.0 + pupils, sum.1 + earned, sum.2 + lost)
            })
        };
        let all: Vec<EntryId> = wholes
            .iter()
            .map(|(of, table)| enter(*table, sum(of)))
            .collect();
        for quantities in [
            vec![Quantity::Pupils],
            vec![Quantity::Earned, Quantity::Lost],
        ] {
            let mut system = System::default();
            for quantity in quantities {
                let values = groups.iter().map(|(pupils, earned, lost)| match quantity {
                    Quantity::Pupils => *pupils,
                    Quantity::Earned => *earned,
                    Quantity::Lost => *lost,
                });
                system.layer(quantity, values.collect());
            }
            for (place, part) in parts.iter().enumerate() {
                system.view(Some(*part), vec![place]);
            }
            for (whole, (of, _)) in all.iter().zip(wholes) {
                system.view(Some(*whole), of.to_vec());
            }
            ledger.add(system);
        }
        (Self { ledger, parts }, all)
    }

    fn told(&self) -> Vec<Told> {
        let told = self.ledger.protect();
        self.parts.iter().map(|part| told.of(*part)).collect()
    }
}

const FEW: Told = Told::HeldBack(Reason::TooFew);
const SMALL: Told = Told::HeldBack(Reason::SmallGroup);
const BACK: Told = Told::HeldBack(Reason::ToProtect);

#[test]
fn numbers_of_five_to_nine_are_told_without_shares_and_never_all_or_none() {
    let groups = [
        (12, 24, 0),
        (7, 14, 0),
        (7, 12, 2),
        (7, 6, 8),
        (9, 0, 18),
        (4, 4, 4),
        (0, 0, 0),
    ];
    let (case, _) = Case::new(&groups, &[]);
    let wanted = [
        Told::InFull,
        SMALL,
        SMALL,
        Told::NumbersOnly,
        SMALL,
        FEW,
        Told::NumbersOnly,
    ];
    assert_eq!(case.told(), wanted);
}

#[test]
fn a_lonely_small_group_takes_the_next_smallest_of_its_year_with_it() {
    let groups = [
        (30, 40, 20),
        (3, 3, 3),
        (25, 30, 20),
        (6, 6, 6),
        (29, 20, 38),
    ];
    let (case, wholes) = Case::new(
        &groups,
        &[(&[0, 1, 2], 0), (&[3, 4], 0), (&[0, 1, 2, 3, 4], 2)],
    );
    let full = Told::InFull;
    assert_eq!(case.told(), [full, FEW, BACK, Told::NumbersOnly, full]);
    let told = case.ledger.protect();
    assert!(wholes.iter().all(|whole| told.of(*whole) == full));
}

#[test]
fn two_small_groups_of_which_the_reasons_tell_all_take_a_third_with_them() {
    // Eight pupils in two groups of at most four: four in each.
    let groups = [(4, 4, 4), (4, 4, 4), (20, 20, 20), (30, 30, 30)];
    let (case, _) = Case::new(&groups, &[(&[0, 1, 2, 3], 0)]);
    assert_eq!(case.told(), [FEW, FEW, BACK, Told::InFull]);
    let groups = [(4, 4, 4), (3, 4, 4), (20, 20, 20), (30, 30, 30)];
    let (case, _) = Case::new(&groups, &[(&[0, 1, 2, 3], 0)]);
    assert_eq!(case.told(), [FEW, FEW, Told::InFull, Told::InFull]);
}

#[test]
fn a_total_that_gives_its_only_parts_away_goes_too() {
    // Four groups of one: that each has fewer than five and the whole has too would
    // tell everything, so not even the reasons are given.
    let (case, whole) = Case::new(&[(1, 1, 1); 4], &[(&[0, 1, 2, 3], 0)]);
    let unsaid = Told::HeldBack(Reason::Unsaid);
    assert_eq!(case.told(), [unsaid; 4]);
    assert_eq!(case.ledger.protect().of(whole[0]), unsaid);
}

#[test]
fn that_nobody_earned_anything_gives_small_groups_away() {
    // Nobody of the year has earned a mark: then nobody in the group of three has.
    let groups = [(12, 0, 24), (3, 0, 6), (11, 0, 22)];
    let (case, whole) = Case::new(&groups, &[(&[0, 1, 2], 0)]);
    assert_eq!(case.ledger.protect().of(whole[0]), BACK);
    // That all earned everything is told of the year.
    let groups = [(12, 24, 0), (3, 6, 0), (11, 22, 0)];
    let (case, whole) = Case::new(&groups, &[(&[0, 1, 2], 0)]);
    assert_eq!(case.ledger.protect().of(whole[0]), Told::InFull);
}

#[test]
fn a_few_of_a_group_are_not_told_and_nothing_of_a_small_group() {
    let mut ledger = Ledger::default();
    let cases = [
        (12, 12, Told::InFull),
        (0, 12, Told::InFull),
        (3, 12, FEW),
        (0, 7, SMALL),
        (6, 7, SMALL),
        (0, 3, FEW),
        (0, 0, Told::NumbersOnly),
    ];
    let entries = cases.map(|(some, all, _)| ledger.enter(Entry::some_of(0, some, all)));
    let told = ledger.protect();
    for (entry, (some, all, wanted)) in entries.into_iter().zip(cases) {
        assert_eq!(told.of(entry), wanted, "{some} of {all}");
    }
}

#[test]
fn what_is_told_with_a_group_goes_with_it() {
    let mut ledger = Ledger::default();
    let group = ledger.enter(Entry::group(0, 3));
    let more = ledger.enter(Entry {
        with: vec![group],
        ..Entry::group(1, 12)
    });
    assert_eq!(ledger.protect().of(more), FEW);
    let other = Ledger::default().protect();
    assert_eq!(other.of(more), Told::HeldBack(Reason::Unsaid));
}

#[test]
fn what_stands_further_down_goes_first_however_large_it_is() {
    // Three of 23 could be found from the 20 others.
    let told = |depth: u8| {
        let mut ledger = Ledger::default();
        let others = ledger.enter(Entry::group(0, 20));
        let below = [23, 3].map(|pupils| {
            ledger.enter(Entry {
                depth,
                ..Entry::group(1, pupils)
            })
        });
        let mut system = System::default();
        system.layer(Quantity::Pupils, vec![20, 3]);
        system.view(Some(others), vec![0]);
        system.view(Some(below[0]), vec![0, 1]);
        system.view(Some(below[1]), vec![1]);
        ledger.add(system);
        let told = ledger.protect();
        [others, below[0], below[1]].map(|entry| told.of(entry))
    };
    assert_eq!(told(0), [BACK, Told::InFull, FEW]);
    assert_eq!(told(1), [Told::InFull, BACK, FEW]);
}
