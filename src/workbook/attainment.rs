//! The attainment workbook `attainment.xlsx`: what marks say, by groups.
//!
//! Every table has the number of pupils beside its figures and a chart that the
//! spreadsheet program draws. No pupil is in it: [`attainment::Summary`] has none.

use crate::attainment;
use crate::problem;
use crate::workbook::style;
use rust_xlsxwriter::Workbook;
use rust_xlsxwriter::XlsxError;

mod bands;
mod coverage;
mod grids;
mod groups;
mod misconceptions;
mod overview;
mod page;
mod questions;
mod standing;

/// The title of the workbook, on every page.
const TITLE: &str = "Attainment in gears";

/// Returns the bytes of the attainment workbook.
///
/// # Errors
///
/// A problem when a text does not fit into a workbook.
pub fn book(summary: &attainment::Summary) -> Result<Vec<u8>, problem::Problem> {
    style::finish("attainment.xlsx", written(summary))
}

fn written(summary: &attainment::Summary) -> Result<Workbook, XlsxError> {
    let newest = summary
        .homeworks
        .iter()
        .map(|homework| homework.marked_on.as_str())
        .max();
    let about = style::About {
        title: TITLE,
        code: "Groups only, no pupils",
        date: newest.unwrap_or_default(),
    };
    let mut workbook = style::workbook(&about);
    overview::write(&mut workbook, &about, summary)?;
    for kind in [
        groups::Kind::Years,
        groups::Kind::Classes,
        groups::Kind::Groups,
        groups::Kind::SchoolYears,
        groups::Kind::Terms,
        groups::Kind::Skills,
        groups::Kind::Levels,
        groups::Kind::Questions,
    ] {
        groups::write(&mut workbook, &about, kind, summary)?;
    }
    for (name, grid) in [
        ("Skills by year", &summary.skills_by_year),
        ("Skills by class", &summary.skills_by_class),
    ] {
        if let Some(page) = grids::of(name, grid) {
            page::write(&mut workbook, &about, &page)?;
        }
    }
    misconceptions::write(&mut workbook, &about, &summary.misconceptions)?;
    coverage::write(&mut workbook, &about, &summary.coverage)?;
    if let Some(table) = &summary.bands {
        bands::write(&mut workbook, &about, table)?;
    }
    let figures = &summary.figures;
    for page in [
        standing::growth(figures),
        standing::levels(figures),
        questions::figures_of(figures),
        questions::about(figures),
        questions::reliability(figures),
    ] {
        page::write(&mut workbook, &about, &page)?;
    }
    if !figures.comparisons.sentences.is_empty() {
        page::write(&mut workbook, &about, &standing::comparisons(figures))?;
    }
    Ok(workbook)
}

#[cfg(test)]
mod tests;
