//! Statistics against published figures; the sources stand in
//! `tests/reference/README.md`.

use toothmark::number;
use toothmark::statistics::kappa::Pairs;
use toothmark::statistics::kappa::Weights;

const TWO_BY_TWO: &str = include_str!("../reference/cohen_kappa_2x2.csv");
const THREE_BY_THREE: &str = include_str!("../reference/cohen_kappa_fleiss1981_3x3.csv");

/// The pairs of a table whose rows are the first marker's categories.
fn pairs(table: &[Vec<u32>]) -> Pairs {
    let mut pairs = Vec::new();
    for (first, row) in (0_u8..).zip(table) {
        for (second, count) in (0_u8..).zip(row) {
            pairs.extend((0..*count).map(|_| (first, second)));
        }
    }
    Pairs::of(pairs)
}

/// A figure rounded to four places, as most sources print it.
fn rounded(figure: toothmark::statistics::kappa::Figure) -> String {
    let places = number::Precision::Places(4);
    let number = figure.expect("it means something");
    let rounded = number::round_half_up(number.into(), places).expect("it fits");
    number::rounded_text(rounded, places)
}

#[test]
fn kappa_of_the_teaching_examples_is_as_published() {
    let mut count = 0;
    for line in TWO_BY_TWO.lines().skip(1) {
        let cells: Vec<&str> = line.split(',').collect();
        let [name, a, b, c, d, kappa] = cells[..] else {
            panic!("{line}: found {} cells, wanted 6", cells.len());
        };
        let row = |one: &str, other: &str| -> Vec<u32> {
            [one, other].map(|it| it.parse().expect("a count")).to_vec()
        };
        let pairs = pairs(&[row(a, b), row(c, d)]);
        let wanted: number::Number = kappa.parse().expect("a decimal");
        let wanted = number::rounded_text(wanted, number::Precision::Places(4));
        assert_eq!(rounded(pairs.kappa()), wanted, "{name}");
        assert_eq!(rounded(pairs.weighted(Weights::Linear)), wanted, "{name}");
        count += 1;
    }
    assert_eq!(count, 3);
}

#[test]
fn kappa_of_three_diagnoses_is_as_published() {
    let table: Vec<Vec<u32>> = THREE_BY_THREE
        .lines()
        .skip(1)
        .map(|line| {
            let counts = line.split(',').skip(1);
            counts.map(|it| it.parse().expect("a count")).collect()
        })
        .collect();
    let pairs = pairs(&table);
    assert_eq!(pairs.items(), 100);
    // Source: Fleiss (1981), as tests/reference/README.md names it.
    assert_eq!(rounded(pairs.observed()), "0.8900");
    assert_eq!(rounded(pairs.expected()), "0.6600");
    assert_eq!(rounded(pairs.kappa()), "0.6765");
    assert_eq!(
        pairs.kappa().expect("it means something").to_string(),
        "23/34"
    );
}

#[test]
fn linear_weights_are_as_a_statistics_package_has_them() {
    // Source: the tests of statsmodels 0.15.0, which hold the values against SAS:
    // kappa .4842, weighted with linear weights .4701.
    let pairs = pairs(&[vec![0, 4, 1], vec![0, 8, 0], vec![0, 1, 5]]);
    assert_eq!(rounded(pairs.kappa()), "0.4842");
    assert_eq!(rounded(pairs.weighted(Weights::Linear)), "0.4701");
}
