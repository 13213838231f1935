//! The workbook `class.xlsx`: one class by name, for its own teacher.

use crate::attainment::class_view;
use crate::attainment::figures;
use crate::attainment::tally;
use crate::problem;
use crate::retention;
use crate::workbook::style;
use crate::workbook::table;
use rust_xlsxwriter::Workbook;
use rust_xlsxwriter::XlsxError;

/// The row of the column headings.
const HEADING_ROW: u32 = 5;

/// Returns the bytes of the workbook.
///
/// # Errors
///
/// A problem when a text does not fit into a workbook.
pub fn book(view: &class_view::ClassView) -> Result<Vec<u8>, problem::Problem> {
    style::finish("class.xlsx", written(view))
}

fn written(view: &class_view::ClassView) -> Result<Workbook, XlsxError> {
    let title = format!("Class {}: for its own teacher", view.class);
    let about = style::About {
        title: &title,
        code: "Names pupils: do not pass on",
        date: &view.marked_on,
    };
    let mut workbook = style::workbook(&about);
    let private = format!(
        "This workbook names pupils. It is for the teacher of this class only: do not pass it on. \
         {}",
        retention::sentence(view.kept_until)
    );
    for page in [pupils(view), skills(view), homeworks(view), growth(view)] {
        write(&mut workbook, &about, &private, &page)?;
    }
    Ok(workbook)
}

/// One worksheet before it is written.
struct Page {
    name: &'static str,
    intro: &'static str,
    columns: Vec<table::Column>,
    rows: Vec<Vec<table::Value>>,
}

/// Writes a worksheet; `private` says whom it is for, and until when it is kept.
fn write(
    workbook: &mut Workbook,
    about: &style::About<'_>,
    private: &str,
    page: &Page,
) -> Result<(), XlsxError> {
    let table = table::Table {
        columns: &page.columns,
        heading_row: HEADING_ROW,
    };
    let worksheet = workbook.add_worksheet();
    worksheet.set_name(page.name)?;
    worksheet.write_string_with_format(0, 0, about.title, &style::title())?;
    for (row, note) in (1_u32..).zip([
        private,
        "From these homeworks only, and only what pupils did while in this class.",
        page.intro,
    ]) {
        worksheet.write_string_with_format(row, 0, note, &style::fact())?;
    }
    table.write_headings(worksheet)?;
    let formats = table::Formats::rows();
    for (row, values) in (HEADING_ROW + 1..).zip(&page.rows) {
        table.write_row(worksheet, row, values, &formats)?;
    }
    style::set_up(
        worksheet,
        about,
        &style::Frame {
            heading_row: HEADING_ROW,
            columns: 2,
            paper: style::Paper::Across,
            pages_wide: 1,
        },
    )
}

/// The columns that every worksheet begins with.
fn who(more: Vec<table::Column>) -> Vec<table::Column> {
    let mut columns = vec![
        table::Column::new("Pupil ID", 10, table::Kind::Text),
        table::Column::new("Pupil", 24, table::Kind::Text),
    ];
    columns.extend(more);
    columns
}

fn short(heading: &str) -> table::Column {
    table::Column::new(heading, 10, table::Kind::Short)
}

/// The values that every row begins with.
fn named(pupil: &class_view::PupilView) -> Vec<table::Value> {
    vec![
        table::Value::text(&pupil.id),
        table::Value::text(&pupil.name),
    ]
}

fn pupils(view: &class_view::ClassView) -> Page {
    let rows = view.pupils.iter().map(|pupil| {
        let handed_in = pupil.homeworks.iter().filter(|it| it.tally.handed_in() > 0);
        let mut whole = tally::Tally::default();
        for homework in &pupil.homeworks {
            whole.join(&homework.tally);
        }
        let findings: Vec<String> = pupil
            .findings
            .iter()
            .map(|finding| format!("{} ({} answers)", finding.names(), finding.answers))
            .collect();
        let mut values = named(pupil);
        values.extend([
            table::Value::text(&pupil.year),
            table::Value::count(pupil.homeworks.len()),
            table::Value::count(handed_in.count()),
            table::Value::Number(whole.earned),
            table::Value::Number(whole.available),
            table::Value::Number(pupil.to_check),
            table::Value::text(findings.join("; ")),
            table::Value::text(pupil.next.join(" ")),
        ]);
        values
    });
    Page {
        name: "Pupils",
        intro: "Consistent with: two answers or more are what this way of thinking gives. That \
                is evidence, not proof.",
        columns: who(vec![
            short("Year"),
            short("Homeworks set"),
            short("Handed in"),
            short("Marks earned"),
            short("Marks to be had"),
            short("To check"),
            table::Column::new("Consistent with someone who", 34, table::Kind::Text),
            table::Column::new("Practise next", 56, table::Kind::Text),
        ]),
        rows: rows.collect(),
    }
}

fn skills(view: &class_view::ClassView) -> Page {
    let rows = view.pupils.iter().flat_map(|pupil| {
        pupil.skills.iter().map(|skill| {
            let mut values = named(pupil);
            values.push(table::Value::text(skill.skill.title()));
            values.extend(figures(&skill.tally));
            values
        })
    });
    Page {
        name: "Skills",
        intro: "Answered: attempted, right or not. Marks to be had are those of questions answered \
                or left blank, not of questions that were not reached.",
        columns: who(vec![
            table::Column::new("Skill", 20, table::Kind::Text),
            short("Answered"),
            short("Blank"),
            short("Not reached"),
            short("Marks earned"),
            short("Marks to be had"),
        ]),
        rows: rows.collect(),
    }
}

fn homeworks(view: &class_view::ClassView) -> Page {
    let rows = view.pupils.iter().flat_map(|pupil| {
        pupil.homeworks.iter().map(|homework| {
            let mut values = named(pupil);
            values.push(table::Value::text(&homework.homework.set_on));
            values.push(table::Value::text(&homework.homework.title));
            values.push(table::Value::text(came(&homework.tally)));
            values.extend(figures(&homework.tally));
            values
        })
    });
    Page {
        name: "Homeworks",
        intro: "Each pupil's homeworks in the order of the dates they were set.",
        columns: who(vec![
            table::Column::new("Set on", 12, table::Kind::Text),
            table::Column::new("Title", 30, table::Kind::Text),
            short("Handed in"),
            short("Answered"),
            short("Blank"),
            short("Not reached"),
            short("Marks earned"),
            short("Marks to be had"),
        ]),
        rows: rows.collect(),
    }
}

fn growth(view: &class_view::ClassView) -> Page {
    let told = |told: &figures::Told<figures::Span>| match told {
        Ok(span) => [figures::decimal(span.value), span.range()],
        Err(why) => [why.to_string(), String::new()],
    };
    let mut rows = Vec::new();
    for pupil in &view.pupils {
        let growth = &pupil.growth;
        let steps = std::iter::once(None).chain(growth.steps.iter().map(Some));
        for (point, step) in growth.points.iter().zip(steps) {
            let mut values = named(pupil);
            values.push(table::Value::text(&point.time));
            values.extend(told(&point.measure).map(table::Value::text));
            if let Some(step) = step {
                values.extend(told(&step.change).map(table::Value::text));
                values.push(table::Value::text(step.verdict()));
            }
            rows.push(values);
        }
        // Where there are more than two times, the last step is from the first to the last.
        if let Some(step) = growth.steps.get(growth.points.len().saturating_sub(1)) {
            let mut values = named(pupil);
            values.push(table::Value::text(format!("{} to {}", step.from, step.to)));
            values.extend([table::Value::Nothing, table::Value::Nothing]);
            values.extend(told(&step.change).map(table::Value::text));
            values.push(table::Value::text(step.verdict()));
            rows.push(values);
        }
    }
    Page {
        name: "Growth",
        intro: "Places on one scale of all questions given (logits). A single pupil's place is \
                unsure: only a change beyond its error is called growth, and of forty pupils who \
                stay the same about one seems to grow.",
        columns: who(vec![
            table::Column::new("Time", 30, table::Kind::Text),
            table::Column::new("Place", 16, table::Kind::Short),
            table::Column::new("95 % interval", 16, table::Kind::Short),
            table::Column::new("Change", 16, table::Kind::Short),
            table::Column::new("95 % interval", 16, table::Kind::Short),
            table::Column::new("That is", 30, table::Kind::Text),
        ]),
        rows,
    }
}

/// Whether work came in.
fn came(tally: &tally::Tally) -> &'static str {
    if tally.handed_in() > 0 {
        "yes"
    } else if tally.excused > 0 {
        "excused"
    } else {
        "absent"
    }
}

fn figures(tally: &tally::Tally) -> [table::Value; 5] {
    [
        tally.counted().saturating_sub(tally.blank),
        tally.blank,
        tally.not_reached,
        tally.earned,
        tally.available,
    ]
    .map(table::Value::Number)
}
