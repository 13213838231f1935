//! Tables of growth, comparisons, questions, reliability and the ladder of levels.

use crate::attainment::comparisons;
use crate::attainment::figures;
use crate::attainment::figures::about;
use crate::attainment::figures::levels;
use crate::attainment::figures::questions;
use crate::attainment::figures::reliability;
use crate::attainment::growth;
use crate::report::table;

/// How many questions are drawn.
const MOST_QUESTIONS: usize = 12;

/// Returns the tables of all figures.
pub(super) fn tables(figures: &figures::Figures) -> Vec<table::Table> {
    vec![
        growth(&figures.growth),
        comparisons(&figures.comparisons),
        questions(figures),
        about(&figures.about),
        reliability(&figures.reliability),
        levels(&figures.levels),
    ]
}

/// A figure with its interval, in a unit of which `scale` make 1; or why there is none.
fn span(
    told: &figures::Told<figures::Span>,
    pupils: &figures::Told<u32>,
    scale: f64,
) -> table::Cell {
    match told {
        Ok(span) => table::Cell::Figure(table::Figure {
            value: scale * span.value,
            interval: Some((scale * span.low, scale * span.high)),
            pupils: pupils.ok(),
            note: String::new(),
        }),
        Err(why) => table::Cell::Held(why.to_string()),
    }
}

/// A number of pupils, or why it is not told.
fn pupils(told: &figures::Told<u32>) -> table::Cell {
    match told {
        Ok(pupils) => table::Cell::count(*pupils),
        Err(why) => table::Cell::Held(why.to_string()),
    }
}

/// A number of things in a list.
fn count(count: usize) -> table::Cell {
    table::Cell::count(u32::try_from(count).unwrap_or(u32::MAX))
}

fn plain(names: Vec<String>, cells: Vec<table::Cell>) -> table::Row {
    table::Row {
        names,
        cells,
        is_whole: false,
    }
}

fn notes(notes: &[&str]) -> Vec<String> {
    notes.iter().map(|note| (*note).to_owned()).collect()
}

fn growth(told: &growth::Growth) -> table::Table {
    let mut rows = Vec::new();
    for group in &told.groups {
        let name = |time: &str| vec![group.kind.text().to_owned(), group.shown(), time.to_owned()];
        for point in &group.points {
            let cells = vec![
                pupils(&point.pupils),
                span(&point.measure, &point.pupils, 1.0),
                table::Cell::Nothing,
                table::Cell::Nothing,
            ];
            rows.push(plain(name(&point.time), cells));
        }
        for step in &group.steps {
            // The pupils of a change are those of its later time.
            let later = group.points.iter().find(|point| point.time == step.to);
            let pupils = later.map_or(Err(figures::Why::NothingBefore), |it| it.pupils);
            let cells = vec![
                table::Cell::Nothing,
                table::Cell::Nothing,
                span(&step.change, &pupils, 1.0),
                table::Cell::words(step.verdict()),
            ];
            rows.push(plain(name(&format!("{} to {}", step.from, step.to)), cells));
        }
    }
    let chart = |title: &str, column| table::Chart {
        title: title.to_owned(),
        columns: vec![column],
        named_by: 3,
        rows: table::Drawn::All,
    };
    let mut told_notes = notes(&[
        "Where groups stand on one scale of questions that answers link (logits), so that easier questions \
         give no higher place: the mean of the pupils' places.",
        "A change is growth only where all of its interval lies above nought and at least 4 in 5 \
         pupils are the same at both times. It says nothing of its cause.",
    ]);
    told_notes.extend(told.sentences.iter().cloned());
    table::Table {
        name: "Growth",
        notes: told_notes,
        names: vec!["Group", "Name", "Time"],
        columns: vec![
            table::Column::new("Pupils", table::Unit::Count),
            table::Column::new("Mean place", table::Unit::Logits),
            saying_pupils("Change", table::Unit::Logits),
            table::Column::new("That is", table::Unit::Words),
        ],
        rows,
        charts: vec![
            chart("Where groups stood at each time, in logits", 1),
            chart("How far they moved, in logits", 2),
        ],
    }
}

/// A column whose cells say of how many pupils they are.
fn saying_pupils(measure: &'static str, unit: table::Unit) -> table::Column {
    table::Column {
        says_pupils: true,
        ..table::Column::new(measure, unit)
    }
}

fn comparisons(told: &comparisons::Comparisons) -> table::Table {
    let rows = told.rows.iter().map(|row| {
        let (first, second) = (&row.first, &row.second);
        let both = first.pupils.saturating_add(second.pupils);
        let side = |side: &comparisons::Side| span(&Ok(side.facility), &Ok(side.pupils), 100.0);
        let cells = vec![
            side(first),
            side(second),
            span(&Ok(row.difference), &Ok(both), 100.0),
            span(&Ok(row.corrected), &Ok(both), 100.0),
            table::Cell::words(row.text()),
        ];
        let names = [&row.heading, &first.label, &second.label].map(String::clone);
        plain(names.to_vec(), cells)
    });
    let mut told_notes = notes(&[
        "Pupils of two labels may have had different questions, and a difference says nothing of \
         its cause. It is called one only where its corrected interval leaves out nought.",
        "The corrected interval is widened for the number of comparisons (Bonferroni), so that \
         all together are wrong in about one review of twenty.",
    ]);
    told_notes.extend(told.sentences.iter().cloned());
    table::Table {
        name: "Comparisons",
        notes: told_notes,
        names: vec!["Heading", "First", "Second"],
        columns: vec![
            saying_pupils("Facility of the first", table::Unit::Percent),
            saying_pupils("Facility of the second", table::Unit::Percent),
            saying_pupils("Difference", table::Unit::Points),
            saying_pupils("Difference, corrected", table::Unit::Points),
            table::Column::new("That is", table::Unit::Words),
        ],
        rows: rows.collect(),
        charts: vec![table::Chart {
            title: "First less second, with the corrected interval".to_owned(),
            columns: vec![3],
            named_by: 3,
            rows: table::Drawn::All,
        }],
    }
}

fn questions(told: &figures::Figures) -> table::Table {
    let rows = told.questions.iter().map(|question| {
        let of = &question.pupils;
        let placed = question.difficulty.map(|placed| placed.span);
        let telling = match question.upper_lower {
            Ok(index) => table::Cell::Figure(table::Figure {
                value: index,
                interval: None,
                pupils: of.ok(),
                note: questions::Telling::of(index).text().to_owned(),
            }),
            Err(why) => table::Cell::Held(why.to_string()),
        };
        let levels: Vec<String> = question.levels.iter().map(ToString::to_string).collect();
        let cells = vec![
            table::Cell::words(levels.join(", ")),
            pupils(of),
            span(&question.facility, of, 100.0),
            span(&placed, of, 1.0),
            span(&question.point_biserial, of, 1.0),
            telling,
            span(&question.infit, of, 1.0),
            span(&question.outfit, of, 1.0),
        ];
        plain(vec![question.label.clone()], cells)
    });
    let mut told_notes = notes(&[
        "How hard: the question's place on one scale for all questions, whatever pupils did them \
         (logits; more is harder).",
        "Point-biserial: how far pupils who do well on the rest of their sheet do well on it. \
         Upper-lower: how much better the upper 27 % did on it than the lower.",
        "Infit and outfit are about 1 where answers are as the place lets expect. Their brackets \
         hold where 95 in 100 sound questions lie, not an interval of the figure.",
    ]);
    told_notes.extend(told.linkage.sentences.iter().cloned());
    table::Table {
        name: "Question figures",
        notes: told_notes,
        names: vec!["Question"],
        columns: vec![
            table::Column::new("Level", table::Unit::Words),
            table::Column::new("Pupils", table::Unit::Count),
            table::Column::new("Facility", table::Unit::Percent),
            table::Column::new("How hard", table::Unit::Logits),
            table::Column::new("Point-biserial", table::Unit::Index),
            table::Column::new("Upper-lower", table::Unit::Index),
            table::Column::new("Infit", table::Unit::Index),
            table::Column::new("Outfit", table::Unit::Index),
        ],
        rows: rows.collect(),
        charts: vec![table::Chart {
            title: format!("The hardest questions, up to {MOST_QUESTIONS}, in logits"),
            columns: vec![3],
            named_by: 1,
            rows: table::Drawn::Highest(MOST_QUESTIONS),
        }],
    }
}

fn about(told: &[about::Remark]) -> table::Table {
    let rows = told.iter().map(|remark| {
        plain(
            vec![remark.kind.title().to_owned(), remark.label.clone()],
            vec![table::Cell::words(&remark.text)],
        )
    });
    table::Table {
        name: "About questions",
        notes: notes(&[
            "What these answers say of the questions, to mend the bank by: only what exceeds its \
             error. Of many questions a few will seem so by chance.",
        ]),
        names: vec!["What", "Question"],
        columns: vec![table::Column::new("Said of it", table::Unit::Words)],
        rows: rows.collect(),
        charts: Vec::new(),
    }
}

fn reliability(told: &reliability::Reliability) -> table::Table {
    let rows = told.sheets.iter().zip(1_u32..).map(|(sheet, number)| {
        let pupils = u32::try_from(sheet.pupils).unwrap_or(u32::MAX);
        let cells = vec![
            table::Cell::count(pupils),
            count(sheet.questions.len()),
            table::Cell::count(sheet.marks),
            span(&sheet.alpha, &Ok(pupils), 1.0),
            table::Cell::words(sheet.questions.join("; ")),
        ];
        plain(vec![format!("Set {number}")], cells)
    });
    table::Table {
        name: "Reliability",
        notes: notes(&[
            "Alpha (Cronbach): how far the questions of one sheet pull together. 1 is wholly, 0 \
             not at all. The interval is Feldt's.",
            "Each set is the questions that pupils did together; who did not reach the last ones \
             did another set. Sets of fewer than 10 pupils are not listed.",
        ]),
        names: vec!["Set of questions"],
        columns: vec![
            table::Column::new("Pupils", table::Unit::Count),
            table::Column::new("Questions", table::Unit::Count),
            table::Column::new("Marks", table::Unit::Count),
            table::Column::new("Alpha", table::Unit::Index),
            table::Column::new("Which questions", table::Unit::Words),
        ],
        rows: rows.collect(),
        charts: vec![table::Chart {
            title: "How far each set of questions pulls together (alpha)".to_owned(),
            columns: vec![3],
            named_by: 1,
            rows: table::Drawn::All,
        }],
    }
}

fn levels(told: &[levels::LevelFigures]) -> table::Table {
    let rows = told.iter().map(|level| {
        let of = &level.pupils;
        let places = level.places.map_or(table::Cell::Nothing, |(low, high)| {
            let (low, high) = (figures::decimal(low), figures::decimal(high));
            table::Cell::words(format!("{low} to {high}"))
        });
        let cells = vec![
            pupils(of),
            count(level.questions),
            span(&level.facility, of, 100.0),
            span(&level.difficulty, of, 1.0),
            places,
            span(&level.step, of, 1.0),
            table::Cell::words(&level.text),
        ];
        plain(vec![level.shown()], cells)
    });
    table::Table {
        name: "Levels and results",
        notes: notes(&[
            "Levels are a proposal; what pupils did says whether each is harder than the one \
             before. How hard is the mean place of its questions, in logits.",
            "The interval has the error of the places, for these very questions. Lowest to highest \
             shows how far the questions of a level lie apart.",
        ]),
        names: vec!["Level"],
        columns: vec![
            table::Column::new("Pupils", table::Unit::Count),
            table::Column::new("Questions on the scale", table::Unit::Count),
            table::Column::new("Facility", table::Unit::Percent),
            table::Column::new("How hard", table::Unit::Logits),
            table::Column::new("Lowest to highest", table::Unit::Words),
            table::Column::new("Harder than before by", table::Unit::Logits),
            table::Column::new("That is", table::Unit::Words),
        ],
        rows: rows.collect(),
        charts: vec![table::Chart {
            title: "How hard the questions of each level were, in logits".to_owned(),
            columns: vec![3],
            named_by: 1,
            rows: table::Drawn::All,
        }],
    }
}
