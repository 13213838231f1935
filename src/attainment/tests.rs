//! A summary of several classes together.

use crate::attainment;
use crate::attainment::count;
use crate::attainment::examples;
use crate::attainment::overview;
use crate::held_back;

/// The sentences on one theme.
fn texts(summary: &attainment::Summary, theme: overview::Theme) -> Vec<&str> {
    summary
        .overview
        .iter()
        .filter(|remark| remark.theme == theme)
        .map(|remark| remark.text.as_str())
        .collect()
}

/// What a row tells, shortly.
fn told(rows: &[attainment::Row]) -> Vec<(String, String)> {
    rows.iter()
        .map(|row| {
            let told = match &row.shown {
                count::Shown::InFull { figures, facility } => {
                    format!("{} {:?}", figures.pupils, facility.expect("answers count"))
                }
                count::Shown::CountsOnly { figures } => format!("{} counts", figures.pupils),
                count::Shown::Hidden(why) => why.text().to_owned(),
            };
            (row.label.clone(), told)
        })
        .collect()
}

#[test]
fn classes_years_and_skills_are_counted_apart() {
    let works = [
        examples::class("5 Oak", "5", 20),
        examples::class("5 Elm", "5", 8),
        examples::class("6 Ash", "6", 30),
    ];
    let summary = attainment::summarise(&works);
    let pair = |label: &str, told: &str| (label.to_owned(), told.to_owned());
    assert_eq!(
        told(&summary.classes),
        [
            pair("5 Elm", "8 counts"),
            pair("5 Oak", "20 2/3"),
            pair("6 Ash", "30 2/3")
        ]
    );
    assert_eq!(
        told(&summary.years),
        [pair("5", "28 2/3"), pair("6", "30 2/3")]
    );
    assert_eq!(
        told(&summary.skills),
        [pair("Turns", "58 1"), pair("Ratio", "58 1/2")]
    );
    assert_eq!(summary.homeworks.len(), 3);
    assert_eq!(
        summary.misconceptions.rows[0].again,
        count::Count::Pupils(29)
    );
}

#[test]
fn the_overview_says_what_holds_what_does_not_and_what_is_next() {
    let summary = attainment::summarise(&[examples::class("5 Oak", "5", 20)]);
    assert_eq!(
        texts(&summary, overview::Theme::Covers),
        ["1 homework, 20 pupils, 60 answers attempted or left blank."]
    );
    assert_eq!(
        texts(&summary, overview::Theme::Holds),
        ["Turns: 100 % of the marks earned (20 pupils, 20 answers)."]
    );
    assert_eq!(
        texts(&summary, overview::Theme::DoesNotHold),
        ["Ratio: 50 % of the marks earned (20 pupils, 40 answers)."]
    );
    let next = texts(&summary, overview::Theme::Next).join(" ");
    assert!(next.contains("10 of 20 pupils"), "{next}");
    assert!(
        next.contains("Not asked in any of these homeworks: naming"),
        "{next}"
    );
    let care = texts(&summary, overview::Theme::Care).join(" ");
    assert!(care.contains("Only 20 pupils"), "{care}");
}

#[test]
fn a_handful_of_pupils_is_not_reported_at_all() {
    let summary = attainment::summarise(&[examples::class("5 Oak", "5", 4)]);
    let hidden = count::Shown::Hidden(held_back::Reason::TooFew);
    assert_eq!(summary.whole.shown, hidden);
    for row in summary.skills.iter().chain(&summary.classes) {
        assert_eq!(row.shown, hidden, "{}", row.label);
    }
    let covers = texts(&summary, overview::Theme::Covers).join(" ");
    assert!(covers.contains("fewer than 5 pupils"), "{covers}");
}

#[test]
fn no_pupil_is_in_the_summary() {
    let summary = attainment::summarise(&[
        examples::class("Oak", "5", 12),
        examples::class("Elm", "5", 3),
    ]);
    let all = format!("{summary:?}");
    for id in ["Oak-0", "Elm-2"] {
        assert!(!all.contains(id), "{id}");
    }
}

#[test]
fn nothing_marked_gives_an_empty_summary() {
    let summary = attainment::summarise(&[]);
    assert!(summary.homeworks.is_empty());
    assert!(summary.skills.is_empty());
}
