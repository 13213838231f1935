//! The fold at some size: a small nation is counted as a plain count has it, whole or in
//! parts.

use crate::simulation::nation;
use toothmark::attainment;
use toothmark::attainment::count;

#[test]
fn a_small_nation_is_counted_as_a_plain_count_has_it() {
    let nation = nation::Nation {
        pupils: 840,
        homeworks: 3,
    };
    let whole = nation.count(0..nation.classes());
    let school = attainment::School::default();
    let summary = whole.fold.summary(&school);
    let count::Shown::InFull { figures, .. } = &summary.whole.shown else {
        panic!("a nation is no small group");
    };
    assert_eq!(figures.answers.as_ref(), Some(&whole.plain));
    assert!(figures.pupils > 800, "{}", figures.pupils);
    assert_eq!(summary.homeworks.len(), 28 * 3);
    assert_eq!(
        summary.classes.len(),
        28,
        "schools keep their classes apart"
    );

    let mut merged = nation.count(20..28).fold;
    let rest = nation.count(0..20).fold;
    merged.merge(&rest).expect("other classes, other homeworks");
    assert_eq!(merged.summary(&school), summary);
}
