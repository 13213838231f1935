//! How sure it is: what happened in the records, how many pupils, what was held back.

use crate::attainment;
use crate::attainment::care;
use crate::attainment::count;
use crate::attainment::figures;
use crate::attainment::figures::about;

/// Under this many pupils small differences say nothing.
///
/// Source: the usual floor for reporting survey results (base under 30 not
/// shown, Sport England children's survey); with 30 pupils and half of them
/// right, the share in a larger group lies anywhere from about 33 to 67 in 100.
const FEWEST_TO_COMPARE: u32 = 30;

/// What to bear in mind.
pub(super) fn sentences(summary: &attainment::Summary, care: &care::Care) -> Vec<String> {
    let mut texts = vec![
        "The numbers in brackets are 95 % intervals: with other pupils like these the figure \
         would as well lie anywhere in them. Pupils answered different questions, so the share \
         of marks is no measure of progress."
            .to_owned(),
    ];
    if let Some(figures) = summary.whole.shown.figures() {
        if figures.pupils < FEWEST_TO_COMPARE {
            texts.push(format!(
                "Only {} pupils: small differences between skills or groups may be chance.",
                figures.pupils
            ));
        }
        let not_reached = figures.answers.as_ref().map_or(0, |it| it.not_reached);
        if not_reached > 0 {
            let were = if not_reached == 1 {
                "1 answer was".to_owned()
            } else {
                format!("{not_reached} answers were")
            };
            texts.push(format!(
                "{were} not reached before the pupil stopped, and count for no question."
            ));
        }
    }
    texts.extend(questions(&summary.figures));
    texts.extend(care.sentences());
    if has_hidden(summary) {
        texts.push(
            "Groups of fewer than 5 pupils are not shown, nor what they could be found from by \
             adding and subtracting any tables of this report. Groups of 5 to 9 are shown by \
             numbers only."
                .to_owned(),
        );
    }
    if let Some(classes) = summary.classes_left_out {
        texts.push(format!(
            "There are {classes} classes: too many to be told one by one."
        ));
    }
    texts
}

/// Whether the questions can be trusted: how far sheets pull together, and how many
/// questions stand out.
fn questions(figures: &figures::Figures) -> Vec<String> {
    let mut texts = Vec::new();
    let mut alphas: Vec<f64> = figures
        .reliability
        .sheets
        .iter()
        .filter_map(|sheet| sheet.alpha.ok().map(|alpha| alpha.value))
        .collect();
    alphas.sort_by(f64::total_cmp);
    match alphas.as_slice() {
        [] => texts.push(
            "How far the questions of a sheet pull together cannot be told: no set of questions \
             was done by enough pupils."
                .to_owned(),
        ),
        [only] => texts.push(format!(
            "The questions of the sheet pull together with alpha {} (1 is wholly, 0 not at all).",
            figures::decimal(*only)
        )),
        [lowest, .., highest] => texts.push(format!(
            "The questions of {} sheets pull together with alpha {} to {} (1 is wholly, 0 not at \
             all).",
            alphas.len(),
            figures::decimal(*lowest),
            figures::decimal(*highest)
        )),
    }
    let mut mend: Vec<&str> = figures
        .about
        .iter()
        .filter(|remark| is_doubt(remark.kind))
        .map(|remark| remark.label.as_str())
        .collect();
    mend.sort_unstable();
    mend.dedup();
    match mend.as_slice() {
        [] => texts.push("No question stands out as one to mend.".to_owned()),
        [only] => texts.push(format!(
            "1 question stands out and is worth a look: {only} (see About questions)."
        )),
        [first, ..] => texts.push(format!(
            "{} questions stand out and are worth a look, such as {first} (see About questions).",
            mend.len()
        )),
    }
    texts
}

/// Whether a sentence about a question puts it in doubt.
pub(super) fn is_doubt(kind: about::Kind) -> bool {
    match kind {
        about::Kind::Against
        | about::Kind::Harder
        | about::Kind::Easier
        | about::Kind::NotTelling
        | about::Kind::Wild => true,
        about::Kind::DrawsOut => false,
    }
}

/// Whether any group is hidden or shown by counts only.
fn has_hidden(summary: &attainment::Summary) -> bool {
    [
        &summary.years,
        &summary.classes,
        &summary.groups,
        &summary.skills,
        &summary.levels,
        &summary.questions,
        &summary.school_years,
        &summary.terms,
    ]
    .into_iter()
    .flatten()
    .map(|row| &row.shown)
    .chain(summary.skills_by_year.shown())
    .chain(summary.skills_by_class.shown())
    .any(|shown| match shown {
        count::Shown::Hidden(_) | count::Shown::CountsOnly { .. } => true,
        count::Shown::InFull { .. } => false,
    })
}
