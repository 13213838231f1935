//! Writes `sample-classes`: rolls, homework and answers of the invented school.
//!
//! Run with `cargo run --example samples`. Where `LibreOffice` is installed the
//! sheets that a class kept in `LibreOffice` are saved by it, so that times and
//! dates stand in them as they would; where it is not, those files are left alone.

#![allow(missing_docs, reason = "a program for contributors, not a library")]

#[allow(dead_code, reason = "the tests use the rest")]
#[path = "mod.rs"]
mod simulation;

use rust_xlsxwriter::{DocProperties, ExcelDateTime, Format, Workbook};
use simulation::{classwork, homework, school};
use std::error::Error;
use std::fs;
use std::path::Path;
use std::process::Command;

fn main() -> Result<(), Box<dyn Error>> {
    let samples = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-classes");
    for class in school::homeworks() {
        let folder = samples.join(class.folder);
        fs::create_dir_all(&folder)?;
        let pupils = school::pupils(class);
        let homework = homework::of(class, &pupils);
        let work = classwork::done_by(&pupils, &homework, class.folder);
        let table = classwork::table(&homework, &work);
        fs::write(folder.join("roll.csv"), roll(&pupils)?)?;
        fs::write(
            folder.join("homework.json"),
            toothmark::homework::to_json(&homework),
        )?;
        fs::write(folder.join("truth.csv"), truth(&work)?)?;
        match class.came_back {
            school::CameBack::TypedOffPaper => typed_off_paper(&folder, class, &table)?,
            school::CameBack::FormExport => {
                fs::write(folder.join("answers.csv"), form_export(class, &table)?)?;
            }
            school::CameBack::SavedAsOds => save_in_libreoffice(&folder, &table, "ods")?,
            school::CameBack::OwnSheet => save_in_libreoffice(&folder, &table, "xlsx")?,
        }
    }
    Ok(())
}

fn csv_bytes(rows: &[Vec<String>]) -> Result<Vec<u8>, Box<dyn Error>> {
    let mut writer = csv::WriterBuilder::new()
        .flexible(true)
        .from_writer(Vec::new());
    for row in rows {
        writer.write_record(row)?;
    }
    Ok(writer.into_inner()?)
}

fn roll(pupils: &[school::Pupil]) -> Result<Vec<u8>, Box<dyn Error>> {
    let mut rows = vec![
        ["pupil id", "name", "class", "year", "table"]
            .map(str::to_owned)
            .to_vec(),
    ];
    for pupil in pupils {
        let row = &pupil.on_roll;
        let table = row.groups.get("table").cloned().unwrap_or_default();
        rows.push(vec![
            row.id.clone(),
            row.name.clone(),
            row.class.clone(),
            row.year.clone(),
            table,
        ]);
    }
    csv_bytes(&rows)
}

/// What every pupil wrote and why: for holding the marker against the truth.
fn truth(work: &classwork::Classwork) -> Result<Vec<u8>, Box<dyn Error>> {
    let mut rows = vec![
        ["pupil id", "question", "written", "truth"]
            .map(str::to_owned)
            .to_vec(),
    ];
    for it in &work.written {
        rows.push(vec![
            it.pupil_id.clone(),
            it.question.clone(),
            it.text.clone(),
            it.truth.text(),
        ]);
    }
    csv_bytes(&rows)
}

/// The answer workbook as an assistant left it: a note added, two columns of
/// their own, the last pupil moved to the top.
fn typed_off_paper(
    folder: &Path,
    class: &school::Class,
    table: &[Vec<String>],
) -> Result<(), Box<dyn Error>> {
    let mut book = Workbook::new();
    let made = ExcelDateTime::parse_from_str(class.date)?;
    book.set_properties(&DocProperties::new().set_creation_datetime(&made));
    let text = Format::new().set_num_format("@");
    let sheet = book.add_worksheet().set_name("Answers")?;
    sheet.write_string(0, 0, class.title)?;
    sheet.write_string(1, 0, "typed by the class assistant, Tuesday")?;
    let (headings, pupils) = table.split_first().ok_or("a table without headings")?;
    let mut rows: Vec<&Vec<String>> = pupils.iter().collect();
    rows.rotate_right(1);
    for (column, heading) in headings.iter().enumerate() {
        sheet.write_string(3, u16::try_from(column)?, heading)?;
    }
    let notes = u16::try_from(headings.len())?;
    sheet.write_string(3, notes, "Notes")?;
    for (row, cells) in rows.iter().enumerate() {
        let row = u32::try_from(row)? + 4;
        for (column, cell) in cells.iter().enumerate() {
            sheet.write_string_with_format(row, u16::try_from(column)?, cell, &text)?;
        }
    }
    sheet.write_string(6, notes, "handed in after lunch")?;
    book.add_worksheet()
        .set_name("scrap")?
        .write_string(0, 0, "spare paper: 3 sheets")?;
    fs::write(folder.join("answers.xlsx"), book.save_to_buffer()?)?;
    Ok(())
}

/// A form's export: its own first columns, then the headings asked for.
fn form_export(class: &school::Class, table: &[Vec<String>]) -> Result<Vec<u8>, Box<dyn Error>> {
    let mut rows = Vec::new();
    for (index, cells) in table.iter().enumerate() {
        let stamp = match index {
            0 => "Time sent".to_owned(),
            _ => format!("{} 16:{:02}", class.date, index),
        };
        let mut row = vec![stamp];
        row.extend(cells.iter().cloned());
        // A form sends nothing for pupils who did not answer.
        let silent = cells.iter().skip(2).all(String::is_empty);
        if index == 0 || !silent {
            rows.push(row);
        }
    }
    csv_bytes(&rows)
}

/// Has `LibreOffice` type the table into an ordinary sheet and save it.
fn save_in_libreoffice(
    folder: &Path,
    table: &[Vec<String>],
    ending: &str,
) -> Result<(), Box<dyn Error>> {
    let typed = tempfile::tempdir()?;
    let csv = typed.path().join("answers.csv");
    fs::write(&csv, csv_bytes(table)?)?;
    // Comma, double quote, UTF-8, English (UK), numbers recognised as when typed.
    let reading = "CSV:44,34,76,1,,2057,false,true,false";
    let profile = format!(
        "-env:UserInstallation=file://{}",
        typed.path().join("profile").display()
    );
    let saved = Command::new("soffice")
        .args([
            &profile,
            "--headless",
            &format!("--infilter={reading}"),
            "--convert-to",
            ending,
        ])
        .arg("--outdir")
        .arg(folder)
        .arg(&csv)
        .output();
    match saved {
        Ok(output) if output.status.success() => Ok(()),
        Ok(output) => Err(String::from_utf8_lossy(&output.stderr).into_owned().into()),
        Err(_) => Ok(()),
    }
}
