//! The page in the browser: the front, then each table with its chart.

use crate::attainment;
use crate::html;
use crate::report::chart;
use crate::report::front;
use crate::report::palette;
use crate::report::table;
use crate::retention;

/// How the page looks; the colours come before it.
const STYLE: &str = include_str!("page.css");
/// What the page is called.
const TITLE: &str = "Attainment in gears";
/// From how many columns a table is wide.
const WIDE: usize = 8;

/// Up to how many rows a table is kept together on paper.
const SHORT: usize = 16;
/// From how many signs a name needs room.
const LONG: usize = 20;

/// Returns the text of the page.
pub(super) fn page(summary: &attainment::Summary, tables: &[table::Table]) -> String {
    let style = format!("\n{}{STYLE}", palette::style());
    // The page asks nothing of any network, whatever may come to stand in it.
    let policy = format!(
        "default-src 'none'; style-src {}; base-uri 'none'; form-action 'none'",
        html::fingerprint(&style)
    );
    let keep = html::text(&retention::sentence(summary.kept_until()));
    let mut text = format!(
        "<!DOCTYPE html>\n<html lang=\"en-GB\">\n<head>\n<meta charset=\"utf-8\"/>\n\
         <meta http-equiv=\"Content-Security-Policy\" content=\"{policy}\"/>\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n\
         <meta name=\"color-scheme\" content=\"light dark\"/>\n\
         <title>{TITLE}</title>\n<style>{style}</style>\n</head>\n<body>\n\
         <a class=\"skip\" href=\"#front\">Skip to the answers</a>\n\
         <header>\n<h1>{TITLE}</h1>\n<p class=\"notes\">{keep}</p>\n</header>\n\
         <nav aria-label=\"On this page\"><ul><li><a href=\"#front\">At a glance</a></li>"
    );
    for table in tables {
        let name = html::text(table.name);
        add!(text, "<li><a href=\"#{}\">{name}</a></li>", id(table));
    }
    text.push_str("</ul></nav>\n<main>\n");
    text.push_str(&front::front(summary));
    text.push_str(&front::reading());
    for table in tables {
        section(&mut text, table);
    }
    text.push_str(
        "</main>\n<footer>\n<p>The same figures stand in attainment.csv and attainment.xlsx. \
         Colours: Okabe and Ito (2008).</p>\n</footer>\n</body>\n</html>\n",
    );
    text
}

/// The id of a table's section.
fn id(table: &table::Table) -> String {
    table.name.to_lowercase().replace(' ', "-")
}

/// A table with what its figures mean and its chart.
fn section(text: &mut String, table: &table::Table) {
    let id = id(table);
    let name = html::text(table.name);
    add!(
        text,
        "<section class=\"part\" aria-labelledby=\"{id}\">\n<div class=\"lead\">\n\
         <h2 id=\"{id}\">{name}</h2>\n"
    );
    for note in &table.notes {
        add!(text, "<p class=\"notes\">{}</p>\n", html::text(note));
    }
    for (number, chart) in table.charts.iter().enumerate() {
        let figure = chart::figure(table, chart, &format!("{id}-{number}"));
        text.push_str(&figure.unwrap_or_default());
    }
    text.push_str("</div>\n");
    let width = table.names.len() + table.columns.len();
    let mut kind = if width >= WIDE { "wide" } else { "narrow" }.to_owned();
    if table.rows.len() <= SHORT {
        kind.push_str(" short");
    }
    let longest = table.rows.iter().flat_map(|row| &row.names);
    if longest.map(|name| name.chars().count()).max() > Some(LONG) {
        kind.push_str(" long");
    }
    add!(
        text,
        "<details open=\"open\">\n<summary>The figures of {name} as a table</summary>\n\
         <div class=\"scroll\" role=\"region\" tabindex=\"0\" aria-label=\"{name}, table\">\n\
         <table class=\"{kind}\">\n<thead>\n"
    );
    headings(text, table);
    text.push_str("</thead>\n<tbody>\n");
    for row in &table.rows {
        table_row(text, table, row);
    }
    text.push_str("</tbody>\n</table>\n</div>\n</details>\n</section>\n");
}

fn headings(text: &mut String, table: &table::Table) {
    text.push_str("<tr>");
    for name in &table.names {
        add!(
            text,
            "<th scope=\"col\" class=\"name\">{}</th>",
            html::text(name)
        );
    }
    for column in &table.columns {
        let class = match column.unit {
            table::Unit::Words => "words",
            table::Unit::Count
            | table::Unit::Percent
            | table::Unit::Points
            | table::Unit::Logits
            | table::Unit::Index => "number",
        };
        add!(
            text,
            "<th scope=\"col\" class=\"{class}\">{}</th>",
            html::text(column.heading())
        );
    }
    text.push_str("</tr>\n");
}

fn table_row(text: &mut String, table: &table::Table, row: &table::Row) {
    text.push_str(if row.is_whole {
        "<tr class=\"whole\">"
    } else {
        "<tr>"
    });
    for (number, name) in row.names.iter().enumerate() {
        let name = html::text(name);
        if number == 0 {
            add!(text, "<th scope=\"row\">{name}</th>");
        } else {
            add!(text, "<td class=\"name\">{name}</td>");
        }
    }
    // Cells side by side that are held back for one reason are one.
    let cells: Vec<(&table::Column, &table::Cell)> = table.columns.iter().zip(&row.cells).collect();
    let is_one = |one: &table::Cell, other: &table::Cell| match (one, other) {
        (table::Cell::Held(why), table::Cell::Held(same)) => why == same,
        (_, _) => false,
    };
    for run in cells.chunk_by(|(_, one), (_, other)| is_one(one, other)) {
        if let [(column, cell), ..] = run {
            table_cell(text, column, cell, run.len());
        }
    }
    text.push_str("</tr>\n");
}

/// A cell that is so many columns wide.
fn table_cell(text: &mut String, column: &table::Column, cell: &table::Cell, width: usize) {
    match cell {
        table::Cell::Figure(figure) => {
            let value = column.unit.shown(figure.value);
            let sign = column.unit.sign();
            add!(text, "<td class=\"figure\"><b>{value}</b>{sign}");
            if let Some(interval) = figure.interval_words(column.unit) {
                add!(text, " <span class=\"interval\">({interval})</span>");
            }
            if let Some(pupils) = figure.pupils.filter(|_| column.says_pupils) {
                add!(
                    text,
                    " <span class=\"pupils\">n\u{a0}=\u{a0}{pupils}</span>"
                );
            }
            if !figure.note.is_empty() {
                add!(
                    text,
                    " <span class=\"note\">{}</span>",
                    html::text(&figure.note)
                );
            }
            text.push_str("</td>");
        }
        table::Cell::Words(words) => {
            add!(text, "<td class=\"words\">{}</td>", html::text(words));
        }

        table::Cell::Held(why) if width > 1 => {
            let why = html::text(why);
            add!(text, "<td class=\"held\" colspan=\"{width}\">{why}</td>");
        }
        table::Cell::Held(why) => add!(text, "<td class=\"held\">{}</td>", html::text(why)),
        table::Cell::Nothing => text.push_str("<td></td>"),
    }
}
