//! The worksheets on questions: `Question figures`, `About questions` and `Reliability`.

use crate::attainment::figures;
use crate::attainment::figures::questions;
use crate::workbook::attainment::page;
use crate::workbook::table;

/// Returns the figures of every question.
pub(super) fn figures_of(figures: &figures::Figures) -> page::Page {
    let rows = figures.questions.iter().map(|question| {
        let mut values = vec![table::Value::text(&question.label)];
        values.push(table::Value::text(levels(question)));
        values.push(page::pupils(&question.pupils));
        let Ok(_) = question.pupils else {
            return values;
        };
        values.extend(page::share(&question.facility));
        let place = question.difficulty.map(|it| it.span);
        values.extend(page::span(&place));
        values.extend(page::span(&question.point_biserial));
        values.push(page::value(&question.upper_lower));
        let telling = question.upper_lower.map(questions::Telling::of);
        values.push(table::Value::text(
            telling.map_or("", questions::Telling::text),
        ));
        for fit in [&question.infit, &question.outfit] {
            values.extend(page::span(fit));
        }
        values
    });
    let bars = figures.questions.iter().filter_map(|question| {
        let place = question.difficulty.ok().filter(|it| it.scale == 1)?;
        let pupils = question.pupils.ok()?;
        Some(page::Bar {
            name: format!("{} (n = {pupils})", question.label),
            span: place.span,
        })
    });
    let mut notes = vec![
        "How hard: the question's place on one scale for all questions, whatever pupils did them \
         (Rasch's model, unit logits): over 0 is harder than the average question. A pupil whose \
         place is 1 above a question of one mark gets it right about three times in four."
            .to_owned(),
        "Point-biserial: how far pupils who do well on the rest of their sheet do well on it; \
         under 0.20 it tells little. Upper-lower: its facility among the best 27 % of pupils less \
         that among the last 27 %; 0.40 and over is very good, 0.30 good, 0.20 marginal (Ebel and \
         Frisbie 1991). Pupils are held only against others with the same questions."
            .to_owned(),
        "Infit and outfit: about 1 where its answers are as the place lets expect, over it where \
         they are wilder; the range is where 95 in 100 sound questions lie."
            .to_owned(),
        "Premises: the questions ask for one ability, and the versions of a question are equally \
         hard. A question that was worth different marks is told with its usual ones; one that \
         stood on a sheet twice, by its first time."
            .to_owned(),
    ];
    notes.extend(figures.linkage.sentences.iter().cloned());
    page::Page {
        name: "Question figures",
        notes,
        columns: vec![
            page::text("Question (bank and template)", 34),
            page::short("Level", 7),
            page::short("Pupils", 9),
            page::short("Facility", 11),
            page::short("95 % interval", 12),
            page::short("How hard", 13),
            page::short("95 % interval", 13),
            page::short("Point-biserial", 13),
            page::short("95 % interval", 12),
            page::short("Upper-lower", 12),
            page::short("That is", 9),
            page::short("Infit", 12),
            page::short("Expected", 12),
            page::short("Outfit", 12),
            page::short("Expected", 12),
        ],
        rows: rows.collect(),
        chart: Some(page::Bars {
            title: "How hard each question is".to_owned(),
            figure: "Logits",
            entries: bars.collect(),
        }),
    }
}

fn levels(question: &questions::QuestionFigures) -> String {
    let levels: Vec<String> = question.levels.iter().map(ToString::to_string).collect();
    levels.join(", ")
}

/// Returns what to mend in the bank.
pub(super) fn about(figures: &figures::Figures) -> page::Page {
    let rows = figures.about.iter().map(|remark| {
        vec![
            table::Value::text(remark.kind.title()),
            table::Value::text(&remark.label),
            table::Value::text(&remark.text),
        ]
    });
    let mut rows: Vec<Vec<table::Value>> = rows.collect();
    if rows.is_empty() {
        rows.push(vec![table::Value::text(
            "Nothing stands out beyond its error.",
        )]);
    }
    page::Page {
        name: "About questions",
        notes: vec![
            "What these answers say of the questions, to mend the bank by. Only what exceeds its \
             error is said, of questions that ten pupils or more did; of many questions a few \
             will seem so by chance."
                .to_owned(),
            "Harder or easier than its level says: beyond the middle of the next level, and of \
             its own level's other questions, each by more than the error of the difference."
                .to_owned(),
            "Draws out a misconception: at least a third of its wrong answers are consistent with \
             it. That can be just what the question is for."
                .to_owned(),
        ],
        columns: vec![
            page::text("What", 28),
            page::text("Question (bank and template)", 38),
            page::text("Said of it", 84),
        ],
        rows,
        chart: None,
    }
}

/// Returns how far the questions of each sheet pull together.
pub(super) fn reliability(figures: &figures::Figures) -> page::Page {
    let sheets = || (1_u32..).zip(&figures.reliability.sheets);
    let rows = sheets().map(|(number, sheet)| {
        let mut values = vec![
            table::Value::text(format!("Set {number}")),
            table::Value::text(sheet.pupils.to_string()),
            table::Value::count(sheet.questions.len()),
            table::Value::Number(sheet.marks),
        ];
        values.extend(page::span(&sheet.alpha));
        values.push(table::Value::text(sheet.questions.join("; ")));
        values
    });
    let bars = sheets().filter_map(|(number, sheet)| {
        Some(page::Bar {
            name: format!("Set {number} (n = {})", sheet.pupils),
            span: sheet.alpha.ok()?,
        })
    });
    let mut notes = vec![
        "Alpha (Cronbach): how far the questions of one sheet pull together. 1 is wholly, 0 not at \
         all; under about 0.7 the marks of one sheet say little of a single pupil (common \
         practice)."
            .to_owned(),
        "Each set is the questions that pupils did together; who did not reach the last ones did \
         another set. The interval is Feldt's."
            .to_owned(),
    ];
    if figures.reliability.too_small > 0 {
        notes.push(format!(
            "{} further sets of questions were each done by fewer than 10 pupils.",
            figures.reliability.too_small
        ));
    }
    if figures.reliability.more > 0 {
        notes.push(format!(
            "{} further sets are left out here: those of most pupils are shown.",
            figures.reliability.more
        ));
    }
    page::Page {
        name: "Reliability",
        notes,
        columns: vec![
            page::text("Set of questions", 14),
            page::short("Pupils", 9),
            page::short("Questions", 10),
            page::short("Marks", 8),
            page::short("Alpha", 20),
            page::short("95 % interval", 16),
            page::text("Which questions", 80),
        ],
        rows: rows.collect(),
        chart: Some(page::Bars {
            title: "How far each set of questions pulls together".to_owned(),
            figure: "Alpha",
            entries: bars.collect(),
        }),
    }
}
