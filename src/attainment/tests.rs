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
        examples::class("5 Elm", "5", 12),
        examples::class("6 Ash", "6", 30),
    ];
    let summary = attainment::summarise(&works);
    let pair = |label: &str, told: &str| (label.to_owned(), told.to_owned());
    assert_eq!(
        told(&summary.classes),
        [
            pair("5 Elm", "12 2/3"),
            pair("5 Oak", "20 2/3"),
            pair("6 Ash", "30 2/3")
        ]
    );
    assert_eq!(
        told(&summary.years),
        [pair("5", "32 2/3"), pair("6", "30 2/3")]
    );
    assert_eq!(
        told(&summary.skills),
        [pair("Turns", "62 1"), pair("Ratio", "62 1/2")]
    );
    assert_eq!(summary.homeworks.len(), 3);
    assert_eq!(
        summary.misconceptions.rows[0].again,
        count::Count::Pupils(31)
    );
}

#[test]
fn the_front_answers_a_subject_leads_questions() {
    let summary = attainment::summarise(&[examples::class("5 Oak", "5", 40)]);
    let said = |theme| texts(&summary, theme).join(" ");
    for (theme, wanted) in [
        (
            overview::Theme::Covers,
            "1 homework, 40 pupils, 120 answers attempted or left blank. Set on 2026-03-09, \
             last marked on 2026-03-12.",
        ),
        (overview::Theme::Covers, "Delete these files"),
        (overview::Theme::Years, "Year 5 67 % (51 to 79; 40 pupils)."),
        (
            overview::Theme::Holds,
            "Holds best: Turns 100 % (91 to 100).",
        ),
        (
            overview::Theme::Holds,
            "Holds least: Ratio 50 % (35 to 65).",
        ),
        (overview::Theme::Again, "20 of 40 pupils gave two answers"),
        (overview::Theme::Groups, "cannot be told"),
        (overview::Theme::NeverAsked, "naming"),
        (overview::Theme::Sure, "95 % intervals"),
        (overview::Theme::Next, "Teach ratio again first."),
    ] {
        let said = said(theme);
        assert!(said.contains(wanted), "{theme:?}: {wanted}:\n{said}");
    }
}

#[test]
fn with_few_pupils_no_difference_is_claimed() {
    let summary = attainment::summarise(&[examples::class("5 Oak", "5", 12)]);
    let holds = texts(&summary, overview::Theme::Holds).join(" ");
    assert!(!holds.contains("Holds least"), "{holds}");
    let next = texts(&summary, overview::Theme::Next).join(" ");
    assert!(next.contains("by more than chance"), "{next}");
    let sure = texts(&summary, overview::Theme::Sure).join(" ");
    assert!(sure.contains("Only 12 pupils"), "{sure}");
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
