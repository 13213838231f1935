//! The worksheets `Levels and results`, `Growth` and `Comparisons`.

use crate::attainment::comparisons;
use crate::attainment::figures;
use crate::attainment::growth;
use crate::workbook::attainment::page;
use crate::workbook::table;

/// Returns the ladder of levels against what pupils did.
pub(super) fn levels(figures: &figures::Figures) -> page::Page {
    let rows = figures.levels.iter().map(|level| {
        let mut values = vec![
            table::Value::text(level.shown()),
            page::pupils(&level.pupils),
            table::Value::count(level.questions),
        ];
        values.extend(page::share(&level.facility));
        values.extend(page::span(&level.difficulty));
        let places = level
            .places
            .map(|(low, high)| format!("{} to {}", figures::decimal(low), figures::decimal(high)));
        values.push(table::Value::text(places.unwrap_or_default()));
        values.extend(page::span(&level.step));
        values.push(table::Value::text(&level.text));
        values
    });
    let bars = figures.levels.iter().filter_map(|level| {
        Some(page::Bar {
            name: format!("{} (n = {})", level.shown(), level.pupils.ok()?),
            span: level.difficulty.ok()?,
        })
    });
    page::Page {
        name: "Levels and results",
        notes: vec![
            "Levels are a proposal; what pupils did says whether each is harder than the one \
             before. Facility alone does not: higher levels may be set to abler pupils. How hard \
             is the mean place of a level's questions on a scale of questions that answers link \
             (logits), which takes account of who did them. Levels on two scales cannot be compared."
                .to_owned(),
            "The interval has the error of the places, for these very questions. Lowest to \
             highest shows how far the questions of a level lie apart."
                .to_owned(),
        ],
        columns: vec![
            page::text("Level", 12),
            page::short("Pupils", 9),
            page::short("Questions on the scale", 12),
            page::short("Facility", 10),
            page::short("95 % interval", 12),
            page::short("How hard", 13),
            page::short("95 % interval", 14),
            page::short("Lowest to highest", 14),
            page::short("Harder than before by", 13),
            page::short("95 % interval", 14),
            page::text("That is", 42),
        ],
        rows: rows.collect(),
        chart: Some(page::Bars {
            title: "How hard the questions of each level were".to_owned(),
            figure: "Logits",
            entries: bars.collect(),
        }),
    }
}

/// Returns how groups stand from time to time.
pub(super) fn growth(figures: &figures::Figures) -> page::Page {
    let mut rows = Vec::new();
    for group in &figures.growth.groups {
        let steps = std::iter::once(None).chain(group.steps.iter().map(Some));
        for (point, step) in group.points.iter().zip(steps) {
            let mut values = named(group, &point.time);
            values.push(page::pupils(&point.pupils));
            values.extend(page::span(&point.measure));
            values.extend(changed(step));
            rows.push(values);
        }
        // Where there are more than two times, the last step is from the first to the last.
        if let Some(step) = group.steps.get(group.points.len().saturating_sub(1)) {
            let mut values = named(group, &format!("{} to {}", step.from, step.to));
            values.extend([
                table::Value::Nothing,
                table::Value::Nothing,
                table::Value::Nothing,
            ]);
            values.extend(changed(Some(step)));
            rows.push(values);
        }
    }
    let bars = figures.growth.groups.iter().flat_map(|group| {
        group.points.iter().filter_map(|point| {
            let name = name(group);
            Some(page::Bar {
                name: format!("{name}, {} (n = {})", point.time, point.pupils.ok()?),
                span: point.measure.ok()?,
            })
        })
    });
    let mut notes = vec![
        "Where groups stand on one scale of questions that answers link (logits), so that easier questions \
         at one time make no growth. A change is called growth only where it exceeds its error: \
         that of the pupils' places and, where the questions differ, that of the questions' \
         places."
            .to_owned(),
        "It is not growth where fewer than 4 in 5 pupils are the same at both times. Growth says \
         nothing of its cause: time, teaching, or questions met before."
            .to_owned(),
    ];
    notes.extend(figures.growth.sentences.iter().cloned());
    page::Page {
        name: "Growth",
        notes,
        columns: vec![
            page::text("Group", 10),
            page::text("Name", 22),
            page::text("Time", 30),
            page::short("Pupils", 14),
            page::short("Mean place", 18),
            page::short("95 % interval", 15),
            page::short("Change", 18),
            page::short("95 % interval", 15),
            page::text("That is", 30),
        ],
        rows,
        chart: Some(page::Bars {
            title: "Where groups stood at each time".to_owned(),
            figure: "Logits",
            entries: bars.collect(),
        }),
    }
}

fn named(group: &growth::GroupGrowth, time: &str) -> Vec<table::Value> {
    vec![
        table::Value::text(group.kind.text()),
        table::Value::text(group.shown()),
        table::Value::text(time),
    ]
}

fn name(group: &growth::GroupGrowth) -> String {
    match group.kind {
        growth::Kind::All => group.shown(),
        growth::Kind::Year | growth::Kind::Class => {
            format!("{} {}", group.kind.text(), group.shown())
        }
    }
}

/// The cells of a change; empty at the first time.
fn changed(step: Option<&growth::Step>) -> Vec<table::Value> {
    let Some(step) = step else {
        return vec![
            table::Value::Nothing,
            table::Value::Nothing,
            table::Value::Nothing,
        ];
    };
    let [value, range] = match step.change {
        Ok(_) => page::span(&step.change),
        Err(_) => [table::Value::Nothing, table::Value::Nothing],
    };
    vec![value, range, table::Value::text(step.verdict())]
}

/// Returns the labels of one heading held against each other.
pub(super) fn comparisons(figures: &figures::Figures) -> page::Page {
    let comparisons = &figures.comparisons;
    let rows = comparisons.rows.iter().map(|row| {
        let mut values = vec![table::Value::text(&row.heading)];
        for side in [&row.first, &row.second] {
            values.push(table::Value::text(&side.label));
            values.push(table::Value::Number(side.pupils));
            values.push(table::Value::text(figures::percent(side.facility.value)));
        }
        values.push(table::Value::text(figures::percent(row.difference.value)));
        values.push(table::Value::text(range(&row.difference)));
        values.push(table::Value::text(range(&row.corrected)));
        values.push(table::Value::text(verdict(row)));
        values
    });
    let bars = comparisons.rows.iter().map(|row| page::Bar {
        name: format!(
            "{}: {} (n = {}) less {} (n = {})",
            row.heading, row.first.label, row.first.pupils, row.second.label, row.second.pupils
        ),
        span: figures::Span {
            value: 100.0 * row.difference.value,
            low: 100.0 * row.difference.low,
            high: 100.0 * row.difference.high,
        },
    });
    let mut notes = vec![
        "Groups are held against each other with care: pupils of two labels may have had \
         different questions, and a difference says nothing of its cause."
            .to_owned(),
        "Difference: facility of the first less that of the second, with Newcombe's interval over \
         the pupils. Only where the interval widened for the number of comparisons (Bonferroni; \
         Dunn 1961) leaves out nought is it called a difference."
            .to_owned(),
    ];
    notes.extend(comparisons.sentences.iter().cloned());
    page::Page {
        name: "Comparisons",
        notes,
        columns: vec![
            page::text("Heading", 16),
            page::text("First", 16),
            page::short("Pupils", 8),
            page::short("Facility", 9),
            page::text("Second", 16),
            page::short("Pupils", 8),
            page::short("Facility", 9),
            page::short("Difference", 11),
            page::short("95 % interval", 15),
            page::short("Widened for the number", 15),
            page::text("That is", 26),
        ],
        rows: rows.collect(),
        chart: Some(page::Bars {
            title: "Differences of facility".to_owned(),
            figure: "Hundredths of the marks",
            entries: bars.collect(),
        }),
    }
}

fn verdict(row: &comparisons::Comparison) -> &'static str {
    if row.is_beyond_error() {
        "a difference beyond its error"
    } else {
        "may be chance"
    }
}

fn range(span: &figures::Span) -> String {
    format!(
        "{} to {}",
        figures::percent(span.low),
        figures::percent(span.high)
    )
}
