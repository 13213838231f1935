//! The upper-lower index: how much better the upper 27 % of pupils do on a question
//! than the lower 27 %.
//!
//! A score that straddles the cut enters with the share of its pupils that is
//! needed. To cut by the order of the rows instead would make figures out of an
//! accident.

use crate::number;
use crate::statistics;
use crate::statistics::score_table;

/// With fewer pupils it is not told: the groups would be of seven or eight (common
/// practice, no source).
pub const FEWEST_PUPILS: u32 = 30;

/// How much of the pupils each group has, in hundredths.
const PER_CENT: u32 = 27;

/// Returns the share of the marks that the upper group earned less that of the lower
/// group, from -1 to 1, exactly.
///
/// Groups are by the score on the whole sheet, the question included.
///
/// Source: Kelley (1939), Journal of Educational Psychology 30, 17-24 (from memory)
/// for the 27 %; fractional ties as stated above. Checked on LSAT6 and LSAT7.
///
/// # Errors
///
/// [`statistics::Meaningless`] with fewer than [`FEWEST_PUPILS`], where all have the
/// same score, and where the question is worth nothing.
pub fn discrimination(
    table: &score_table::ScoreTable,
    question: usize,
) -> statistics::Figure<number::Number> {
    if table.full(question).is_none() {
        return Err(statistics::Meaningless::NoSuchQuestion);
    }
    if table.pupils() < u64::from(FEWEST_PUPILS) {
        return Err(statistics::Meaningless::TooFewPupils {
            fewest: FEWEST_PUPILS,
        });
    }
    index(table, question)
}

/// The index, however few the pupils are.
fn index(table: &score_table::ScoreTable, question: usize) -> statistics::Figure<number::Number> {
    let Some(full) = table.full(question) else {
        return Err(statistics::Meaningless::NoSuchQuestion);
    };
    if full == 0 {
        return Err(statistics::Meaningless::NoItems);
    }
    if table.scores().count() < 2 {
        return Err(statistics::Meaningless::NoSpread);
    }
    let size = statistics::exact(table.pupils())?
        .times(number::Number::from(PER_CENT))?
        .divided_by(number::Number::from(100))?;
    let lower = earned(table, question, table.scores(), size)?;
    let upper = earned(table, question, table.scores().rev(), size)?;
    let available = size.times(number::Number::from(u32::from(full)))?;
    Ok(upper.minus(lower)?.divided_by(available)?)
}

/// With fewer pupils a sheet does not enter a pool: its groups would be of two (common
/// practice, no source).
pub const FEWEST_OF_A_SHEET: u64 = 10;

/// Returns the index of a question over several sheets, each with the place of the
/// question on it: upper and lower 27 % of each sheet, its pupils being held against
/// nobody else.
///
/// Source: [`discrimination`], each sheet with the weight of its pupils (common
/// practice, no source).
///
/// # Errors
///
/// As [`discrimination`], over the pupils of sheets that [`FEWEST_OF_A_SHEET`] did.
pub fn pooled(sheets: &[(&score_table::ScoreTable, usize)]) -> statistics::Figure<f64> {
    let (mut sum, mut pupils) = (0.0, 0_u64);
    let mut why = None;
    for (table, question) in sheets {
        if table.pupils() < FEWEST_OF_A_SHEET {
            continue;
        }
        match index(table, *question) {
            Ok(found) => {
                sum += found.to_f64() * statistics::real(table.pupils());
                pupils = pupils.saturating_add(table.pupils());
            }
            Err(found) => why = Some(found),
        }
    }
    if pupils >= u64::from(FEWEST_PUPILS) {
        return Ok(sum / statistics::real(pupils));
    }
    Err(why.unwrap_or(statistics::Meaningless::TooFewPupils {
        fewest: FEWEST_PUPILS,
    }))
}

/// The marks that the first so many pupils earned on a question, going through the
/// scores in their order.
fn earned(
    table: &score_table::ScoreTable,
    question: usize,
    scores: impl Iterator<Item = (u32, u64)>,
    size: number::Number,
) -> statistics::Figure<number::Number> {
    let (mut wanted, mut sum) = (size, number::Number::ZERO);
    for (score, pupils) in scores {
        let counts = (0_u64..).zip(table.marks(score, question));
        let marks = counts.fold(0_u64, |marks, (mark, count)| {
            marks.saturating_add(mark.saturating_mul(*count))
        });
        let (pupils, marks) = (statistics::exact(pupils)?, statistics::exact(marks)?);
        if wanted <= pupils {
            return Ok(sum.plus(marks.times(wanted)?.divided_by(pupils)?)?);
        }
        sum = sum.plus(marks)?;
        wanted = wanted.minus(pupils)?;
    }
    Ok(sum)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::statistics::Meaningless;
    use crate::statistics::score_table::ScoreTable;

    fn table(full: &[u8], pupils: &[(u64, &[u8])]) -> ScoreTable {
        let mut table = ScoreTable::new(full).expect("there are questions");
        for (times, marks) in pupils {
            for _ in 0..*times {
                table.add(marks).expect("they fit");
            }
        }
        table
    }

    #[test]
    fn a_question_that_parts_the_pupils_has_index_one() {
        let parted = table(&[1, 2], &[(20, &[1, 2]), (20, &[0, 0])]);
        assert_eq!(discrimination(&parted, 0), Ok(number::Number::ONE));
        assert_eq!(discrimination(&parted, 1), Ok(number::Number::ONE));
    }

    #[test]
    fn a_straddling_score_enters_with_its_share() {
        // Of 50 the groups are of 27/2: the 10 with score 2 and 7/2 of the 30 with 1.
        let ties: [(u64, &[u8]); 4] = [(10, &[1, 1]), (15, &[1, 0]), (15, &[0, 1]), (10, &[0, 0])];
        let found = discrimination(&table(&[1, 1], &ties), 0);
        assert_eq!(
            found,
            Ok(number::Number::ratio(20, 27).expect("a fraction"))
        );
    }

    #[test]
    fn the_index_says_when_it_means_nothing() {
        let few = table(&[1, 1], &[(14, &[1, 1]), (15, &[0, 0])]);
        let fewest = FEWEST_PUPILS;
        assert_eq!(
            discrimination(&few, 0),
            Err(Meaningless::TooFewPupils { fewest })
        );
        let same = table(&[1, 1], &[(15, &[1, 0]), (15, &[0, 1])]);
        assert_eq!(discrimination(&same, 0), Err(Meaningless::NoSpread));
        assert_eq!(discrimination(&same, 7), Err(Meaningless::NoSuchQuestion));
        let nothing = table(&[1, 0], &[(15, &[1, 0]), (15, &[0, 0])]);
        assert_eq!(discrimination(&nothing, 1), Err(Meaningless::NoItems));
    }

    #[test]
    fn sheets_count_by_their_pupils_and_small_ones_not_at_all() {
        let parted = table(&[1, 2], &[(20, &[1, 2]), (20, &[0, 0])]);
        let unrelated = table(
            &[1, 2],
            &[(5, &[1, 2]), (5, &[0, 2]), (5, &[1, 0]), (5, &[0, 0])],
        );
        let small = table(&[1, 2], &[(4, &[1, 2]), (5, &[0, 0])]);
        let alone = discrimination(&parted, 1).map(number::Number::to_f64);
        assert_eq!(pooled(&[(&parted, 1), (&small, 1)]), alone);
        let both = pooled(&[(&parted, 1), (&unrelated, 1)]).expect("sixty pupils");
        // One for forty pupils; for twenty, all of the upper and none of the lower have it.
        assert!((both - 1.0).abs() < 1e-12, "{both}");
        let fewest = FEWEST_PUPILS;
        assert_eq!(
            pooled(&[(&small, 1)]),
            Err(Meaningless::TooFewPupils { fewest })
        );
    }

    proptest::proptest! {
        #[test]
        fn the_index_stays_in_its_bounds_in_any_order(pupils in proptest::collection::vec((0_u8..=1, 0_u8..=3), 0..80)) {
            let mut table = ScoreTable::new(&[1, 3]).expect("there are questions");
            let mut turned = ScoreTable::new(&[3, 1]).expect("there are questions");
            for (a, b) in pupils.iter().rev() {
                turned.add(&[*b, *a]).expect("they fit");
            }
            for (a, b) in &pupils {
                table.add(&[*a, *b]).expect("they fit");
            }
            for question in 0..2 {
                let found = discrimination(&table, question);
                proptest::prop_assert_eq!(discrimination(&turned, 1 - question), found);
                if let Ok(found) = found {
                    proptest::prop_assert!(found.magnitude() <= number::Number::ONE);
                }
            }
        }
    }
}
