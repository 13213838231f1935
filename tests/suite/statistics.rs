//! Statistics against published figures; the sources stand in
//! `tests/reference/README.md`.

use toothmark::number;
use toothmark::statistics::alpha;
use toothmark::statistics::kappa::Pairs;
use toothmark::statistics::kappa::Weights;
use toothmark::statistics::point_biserial;
use toothmark::statistics::proportion::Share;
use toothmark::statistics::rasch;
use toothmark::statistics::rasch::answers::Answers;
use toothmark::statistics::rasch::answers::Question;
use toothmark::statistics::score_table::ScoreTable;
use toothmark::statistics::upper_lower;

const TWO_BY_TWO: &str = include_str!("../reference/cohen_kappa_2x2.csv");
const THREE_BY_THREE: &str = include_str!("../reference/cohen_kappa_fleiss1981_3x3.csv");
const WILSON: &str = include_str!("../reference/wilson_95.csv");
const LSAT6: &str = include_str!("../reference/lsat6_pattern_counts.csv");
const LSAT7: &str = include_str!("../reference/lsat7_pattern_counts.csv");
const LSAT: &str = include_str!("../reference/lsat_reference_values.csv");

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

fn close(found: f64, wanted: f64, within: f64) -> bool {
    (found - wanted).abs() <= within
}

#[test]
fn wilson_intervals_are_as_worked_out_elsewhere() {
    let mut count = 0;
    for line in WILSON.lines().skip(1) {
        let cells: Vec<&str> = line.split(',').collect();
        let [those, all, low, high] = cells[..] else {
            panic!("{line}: found {} cells, wanted 4", cells.len());
        };
        let whole = |text: &str| text.parse::<u64>().expect("a count");
        let real = |text: &str| text.parse::<f64>().expect("a decimal");
        let share = Share::of_pupils(whole(those), whole(all)).expect("there are pupils");
        let found = share.interval();
        assert!(
            close(found.low, real(low), 1e-9) && close(found.high, real(high), 1e-9),
            "{line}"
        );
        count += 1;
    }
    assert_eq!(count, 14);
}

/// The patterns of a table: the marks and how many people gave them.
fn patterns(table: &str) -> Vec<(Vec<u8>, u32)> {
    let line = |line: &str| {
        let (marks, count) = line.rsplit_once(',').expect("marks and a count");
        let marks = marks.split(',').map(|it| it.parse().expect("a mark"));
        (marks.collect(), count.parse().expect("a count"))
    };
    table.lines().skip(1).map(line).collect()
}

fn score_table(table: &str) -> ScoreTable {
    let mut scores = ScoreTable::new(&[1; 5]).expect("five questions");
    for (marks, count) in patterns(table) {
        for _ in 0..count {
            scores.add(&marks).expect("they fit");
        }
    }
    scores
}

fn questions() -> Vec<Question> {
    let name = |place: &str| Question {
        name: place.to_owned(),
        full: 1,
    };
    ["1", "2", "3", "4", "5"].map(name).to_vec()
}

fn scale(table: &str) -> rasch::Scale {
    let mut answers = Answers::default();
    for (marks, count) in patterns(table) {
        let record: Vec<(Question, u8)> = questions().into_iter().zip(marks).collect();
        for _ in 0..count {
            answers.add(&record).expect("they fit");
        }
    }
    let found = rasch::scales(&answers);
    assert!(found.unscaled.is_empty() && found.linked.len() == 1);
    found.scales.into_iter().next().expect("a scale")
}

/// The reference values of one statistic for the five questions.
fn reference(data: &str, statistic: &str) -> Vec<f64> {
    let wanted = format!("{data},{statistic},");
    let line = LSAT.lines().find_map(|line| line.strip_prefix(&wanted));
    let cells = line.expect("the statistic is listed").split(',').take(5);
    cells.map(|it| it.parse().expect("a decimal")).collect()
}

fn check(data: &str, statistic: &str, found: &[f64]) {
    let wanted = reference(data, statistic);
    assert_eq!(found.len(), wanted.len());
    for (found, wanted) in found.iter().zip(wanted) {
        assert!(
            close(*found, wanted, 1e-6),
            "{data} {statistic}: {found} for {wanted}"
        );
    }
}

#[test]
fn the_law_school_tests_have_the_published_classical_statistics() {
    for (data, table, value, low, high) in [
        ("lsat6", LSAT6, 0.294_997, 0.223, 0.362),
        ("lsat7", LSAT7, 0.453_409, 0.398, 0.505),
    ] {
        let table = score_table(table);
        let right = |question: usize| {
            table
                .scores()
                .map(|it| table.marks(it.0, question)[1])
                .sum()
        };
        let facilities: Vec<f64> = (0..5)
            .map(|question| Share::of_pupils(right(question), table.pupils()))
            .map(|share| share.expect("there are people").value().to_f64())
            .collect();
        check(data, "facility", &facilities);
        let found = alpha::alpha(&table).expect("it means something");
        assert!(
            close(found.value.to_f64(), value, 1e-6),
            "{data}: {}",
            found.value
        );
        assert!(close(found.interval.low, low, 5e-4) && close(found.interval.high, high, 5e-4));
        let real = |figure: toothmark::statistics::Figure<number::Number>| {
            figure.expect("it means something").to_f64()
        };
        let without: Vec<f64> = found.without.into_iter().map(real).collect();
        check(data, "alpha_if_item_deleted", &without);
        let each = 0..5;
        let correlations: Vec<f64> = each
            .clone()
            .map(|it| {
                point_biserial::corrected(&table, it)
                    .expect("it means something")
                    .value
            })
            .collect();
        check(data, "rpb_item_rest_excluded", &correlations);
        let upper_lower: Vec<f64> = each
            .map(|it| real(upper_lower::discrimination(&table, it)))
            .collect();
        check(data, "D_27pct_fractional_ties", &upper_lower);
    }
}

#[test]
fn the_law_school_tests_have_the_places_worked_out_elsewhere() {
    for (data, table, height) in [
        ("lsat6", LSAT6, -1_091.569_69),
        ("lsat7", LSAT7, -1_182.699_899),
    ] {
        let scale = scale(table);
        let places: Vec<f64> = scale
            .places
            .values()
            .map(|it| it.difficulty.value)
            .collect();
        check(data, "rasch_CML_b_sum_zero", &places);
        let errors: Vec<f64> = scale
            .places
            .values()
            .map(|it| it.difficulty.error)
            .collect();
        check(data, "rasch_CML_se", &errors);
        assert!(
            close(scale.log_likelihood, height, 1e-5),
            "{}",
            scale.log_likelihood
        );
        for (question, place) in &scale.places {
            let thresholds = place.thresholds.as_deref().expect("both marks occur");
            assert_eq!(thresholds, [place.difficulty], "{}", question.name);
        }
    }
}

#[test]
fn the_law_school_people_have_the_places_worked_out_elsewhere() {
    let measures = scale(LSAT6)
        .measures(&questions())
        .expect("all have a place");
    let wanted = [
        -2.790_481, -1.337_596, -0.411_479, 0.421_925, 1.335_731, 2.776_479,
    ];
    assert_eq!(measures.len(), wanted.len());
    for (found, wanted) in measures.iter().zip(wanted) {
        assert!(
            close(found.value, wanted, 1e-5),
            "{} for {wanted}",
            found.value
        );
    }
}
