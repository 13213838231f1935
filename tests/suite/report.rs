//! What a subject lead reads: page, tidy table and workbook say the same, and nothing of
//! few pupils.

use crate::markup;
use calamine::Reader;
use std::collections::{BTreeMap, BTreeSet};
use std::io::Cursor;
use toothmark::attainment;
use toothmark::attainment::{bands, calendar, curriculum, fold, who};
use toothmark::homework;
use toothmark::level;
use toothmark::marking;
use toothmark::report;
use toothmark::workbook::attainment as attainment_book;

/// What a person may type as the name of a class, a label or a title.
const HOSTILE: [&str; 5] = [
    "5 <script>alert('x')</script>",
    "6 \"onload=\"alert(1) & 'more'",
    "=cmd|'/c calc'!A1",
    "7 </table></section>]]><!-- \u{202e}",
    "8 &amp; <svg/onload=1> javascript:x",
];

/// A class in which every third pupil has the ratio upside down.
fn class(name: &str, year: &str, pupils: usize, set_on: &str) -> attainment::Work {
    attainment::Work {
        code: format!("H{}", pupils + 100),
        title: format!("Gears of {name}"),
        set_on: set_on.to_owned(),
        marked_on: "2026-11-20".to_owned(),
        kept_until: None,
        pupils: (0..pupils).map(|it| pupil(name, year, it)).collect(),
    }
}

fn pupil(class: &str, year: &str, number: usize) -> attainment::Pupil {
    let label = if number.is_multiple_of(2) {
        "blue"
    } else {
        HOSTILE[2]
    };
    let roll = homework::Pupil {
        id: format!("{class}-{number}"),
        name: format!("Secretname{number}"),
        class: class.to_owned(),
        year: year.to_owned(),
        level: None,
        groups: [("table".to_owned(), label.to_owned())].into(),
    };
    let answers = (1..=6).zip(level::SKILLS).map(|(question, skill)| {
        let slips = number.is_multiple_of(3) && question > 3;
        attainment::Answer {
            question: format!("Q{question}"),
            bank: "gears-7-11".to_owned(),
            template: format!("{skill}-pair"),
            skill,
            level: level::Level::new(4).expect("4 is a level"),
            marks: if slips { 0 } else { 2 },
            out_of: 2,
            state: if slips {
                marking::State::Wrong
            } else {
                marking::State::Correct
            },
            misconceptions: if slips {
                vec!["ratio-upside-down".to_owned()]
            } else {
                Vec::new()
            },
            needs_check: false,
        }
    });
    attainment::Pupil {
        who: who::Who::of(&roll),
        class: roll.class,
        year: roll.year,
        groups: roll.groups,
        answers: answers.collect(),
    }
}

/// What a school of several classes says, two of them small, with all that it may bring.
pub(crate) fn summary() -> attainment::Summary {
    let school = attainment::School {
        calendar: calendar::read(
            &std::fs::read_to_string(crate::program::root().join("sample-classes/terms.toml"))
                .expect("the sample is there"),
            "terms.toml",
        )
        .ok(),
        bands: bands::read(
            "name = \"<b>Ours</b>\"\n[[band]]\nlabel = \"<i>Building</i>\"\nfrom = 0\n\
             [[band]]\nlabel = \"Secure\"\nfrom = 80\n",
            "bands.toml",
        )
        .ok(),
        curricula: vec![curriculum::england()],
    };
    let works = [
        class(HOSTILE[0], "5", 28, "2026-09-14"),
        class("5 Elm", "5", 8, "2026-09-21"),
        class(HOSTILE[1], "6", 25, "2026-09-21"),
        class("6 Fir", "6", 3, "2026-09-21"),
        class(HOSTILE[2], HOSTILE[4], 31, "2026-11-09"),
        class(HOSTILE[3], "7", 22, "2026-11-16"),
    ];
    let mut fold = fold::Fold::default();
    for family in fold::Family::all(&works) {
        fold.add(&family).expect("each is added once");
    }
    fold.summary(&school)
}

/// The rows of the tidy table, each by its headings.
fn tidy(summary: &attainment::Summary) -> Vec<BTreeMap<String, String>> {
    let bytes = report::csv(summary);
    let mut reader = csv::Reader::from_reader(bytes.as_slice());
    reader
        .deserialize()
        .map(|row| row.expect("a row"))
        .collect()
}

/// The cells of a row of a table on the page, each as many times as it is wide.
fn cells(row: &markup::Element) -> Vec<String> {
    let cells = row.children().into_iter().flat_map(|cell| {
        let width = cell.attribute("colspan").parse().unwrap_or(1);
        std::iter::repeat_n(cell.text().replace('\u{2212}', "-"), width)
    });
    cells.collect()
}

/// A section of the page by its heading.
fn section<'e>(page: &'e markup::Element, name: &str) -> &'e markup::Element {
    let id = name.to_lowercase().replace(' ', "-");
    let sections = page.named("section").into_iter();
    let mut found = sections.filter(|it| it.attribute("aria-labelledby") == id);
    found.next().expect(name)
}

#[test]
fn nothing_typed_becomes_markup() {
    let page = report::page(&summary());
    let read = markup::read(&page);
    let allowed: BTreeSet<&str> = [
        "html",
        "head",
        "meta",
        "title",
        "style",
        "body",
        "a",
        "header",
        "h1",
        "h2",
        "h3",
        "nav",
        "ul",
        "li",
        "main",
        "section",
        "div",
        "p",
        "figure",
        "figcaption",
        "svg",
        "desc",
        "line",
        "path",
        "text",
        "details",
        "summary",
        "table",
        "thead",
        "tbody",
        "tr",
        "th",
        "td",
        "b",
        "span",
        "footer",
    ]
    .into();
    for element in read.all() {
        assert!(allowed.contains(element.name.as_str()), "{}", element.name);
        for (name, value) in &element.attributes {
            assert!(!name.starts_with("on") && name != "style", "{name}={value}");
            if name == "href" {
                assert!(value.starts_with('#'), "{value}");
            }
        }
    }
    assert!(!page.contains('\u{202e}'), "the direction of writing stays");
    // The names are there all the same, as text.
    let classes = section(&read, "Classes").text();
    for name in [HOSTILE[0], HOSTILE[1], HOSTILE[2]] {
        assert!(classes.contains(name), "{name}:\n{classes}");
    }
}

#[test]
fn the_page_allows_itself_nothing_but_its_style() {
    let read = markup::read(&report::page(&summary()));
    let metas = read.named("meta");
    let policy = metas
        .iter()
        .find(|it| it.attribute("http-equiv") == "Content-Security-Policy")
        .expect("it has a policy")
        .attribute("content");
    assert!(
        policy.starts_with("default-src 'none'; style-src 'sha256-"),
        "{policy}"
    );
    assert!(
        !policy.contains("unsafe") && !policy.contains("script-src"),
        "{policy}"
    );
    assert_eq!(read.named("html")[0].attribute("lang"), "en-GB");
}

#[test]
fn headings_go_down_one_step_at_a_time_and_every_link_leads_somewhere() {
    let read = markup::read(&report::page(&summary()));
    let all = read.all();
    let mut before = 0;
    for heading in &all {
        let depth = match heading.name.as_str() {
            "h1" => 1,
            "h2" => 2,
            "h3" => 3,
            _ => continue,
        };
        assert!(depth <= before + 1, "{} after h{before}", heading.text());
        before = depth;
    }
    assert_eq!(read.named("h1").len(), 1);
    let mut ids: Vec<&str> = all.iter().map(|it| it.attribute("id")).collect();
    ids.retain(|id| !id.is_empty());
    let many = ids.len();
    let ids: BTreeSet<&str> = ids.into_iter().collect();
    assert_eq!(ids.len(), many, "an id stands twice");
    for element in &all {
        let link = element.attribute("href").trim_start_matches('#');
        let labels = element.attribute("aria-labelledby").split_whitespace();
        for id in labels.chain([link]).filter(|id| !id.is_empty()) {
            assert!(ids.contains(id), "{id} is nowhere");
        }
    }
    for landmark in ["header", "nav", "main", "footer"] {
        assert_eq!(read.named(landmark).len(), 1, "{landmark}");
    }
    for table in read.named("table") {
        for heading in table.named("th") {
            assert!(matches!(heading.attribute("scope"), "col" | "row"));
        }
    }
}

#[test]
fn every_chart_has_a_table_with_the_same_figures() {
    let read = markup::read(&report::page(&summary()));
    let mut charts = 0;
    for section in read.named("section") {
        let figures = section.named("figure");
        if figures.is_empty() || section.attribute("class") != "part" {
            continue;
        }
        charts += 1;
        let tables = section.named("table");
        let rows: Vec<(String, Vec<String>)> = tables[0]
            .named("tr")
            .into_iter()
            .map(|row| (row.children()[0].text(), cells(row)))
            .collect();
        let svgs = figures.iter().flat_map(|it| it.named("svg"));
        for svg in svgs.filter(|it| it.attribute("role") == "img") {
            let told: Vec<&str> = svg.children().iter().map(|it| it.name.as_str()).collect();
            assert_eq!(
                told[..2],
                ["title", "desc"],
                "it is told to those who hear it"
            );
            let desc = svg.named("desc")[0].text().replace('\u{2212}', "-");
            let drawn = svg.named("text");
            let drawn = drawn.iter().filter(|it| it.attribute("class") == "figure");
            for figure in drawn {
                let figure = figure.text().replace('\u{2212}', "-");
                // In a grid the column's name stands before it.
                let figure = figure
                    .rsplit(": ")
                    .next()
                    .expect("the last part")
                    .to_owned();
                assert!(desc.contains(&figure), "{figure} is not in: {desc}");
                let (told, pupils) = figure.split_once(", n\u{a0}=\u{a0}").expect("it says n");
                assert!(told.contains(" to "), "{told} has no interval");
                let is_there = rows.iter().any(|(name, cells)| {
                    desc.contains(name)
                        && cells.iter().any(|cell| cell.starts_with(told))
                        && cells.iter().any(|cell| cell.contains(pupils))
                });
                assert!(is_there, "{figure} is not in the table {rows:?}");
            }
        }
    }
    assert!(charts >= 7, "only {charts} charts");
}

#[test]
fn the_tidy_table_has_the_figures_of_the_page() {
    let summary = summary();
    let read = markup::read(&report::page(&summary));
    let mut pages: BTreeMap<(String, String), Vec<Vec<String>>> = BTreeMap::new();
    let rows = tidy(&summary);
    let names: BTreeSet<&String> = rows.iter().map(|row| &row["table"]).collect();
    for name in names {
        let tables = section(&read, name).named("table");
        let headings = tables[0].named("th");
        let columns = headings.iter().filter(|it| it.attribute("scope") == "col");
        let name_columns = columns.filter(|it| it.attribute("class") == "name").count();
        for row in tables[0].named("tr").into_iter().skip(1) {
            let mut cells = cells(row);
            let figures = cells.split_off(name_columns);
            let key = (name.clone(), cells.join(" / "));
            pages.entry(key).or_default().push(figures);
        }
    }
    let mut place: BTreeMap<(String, String), usize> = BTreeMap::new();
    for row in &rows {
        let name = row["row"].strip_prefix('\'').unwrap_or(&row["row"]);
        // Signs that steer the direction of writing are not shown.
        let key = (row["table"].clone(), name.replace('\u{202e}', ""));
        let at = place.entry(key.clone()).or_default();
        let cells: Vec<&String> = pages
            .get(&key)
            .unwrap_or_else(|| panic!("{key:?}"))
            .iter()
            .flatten()
            .collect();
        // A cell to which its column does not apply has no row of its own.
        while cells.get(*at).is_some_and(|it| it.is_empty()) {
            *at += 1;
        }
        let cell = cells
            .get(*at)
            .unwrap_or_else(|| panic!("{row:?} is not on the page"));
        *at += 1;
        if row["value"].is_empty() {
            assert_eq!(**cell, row["note"], "{row:?}");
        } else {
            let value = row["value"].strip_prefix('\'').unwrap_or(&row["value"]);
            assert!(cell.starts_with(value), "{row:?} is on the page: {cell}");
            if !row["low"].is_empty() {
                let interval = format!("({} to {})", row["low"], row["high"]);
                assert!(cell.contains(&interval), "{row:?} is on the page: {cell}");
            }
        }
    }
    assert!(rows.len() > 500, "{} rows", rows.len());
}

/// Every worksheet of the workbook, cells as text.
fn worksheets(summary: &attainment::Summary) -> BTreeMap<String, Vec<Vec<String>>> {
    let bytes = attainment_book::book(summary).expect("it can be made");
    let mut book: calamine::Xlsx<_> =
        calamine::open_workbook_from_rs(Cursor::new(bytes)).expect("it is a workbook");
    let names = book.sheet_names();
    let sheets = names.into_iter().map(|name| {
        let range = book.worksheet_range(&name).expect("it is there");
        let rows = range
            .rows()
            .map(|row| row.iter().map(ToString::to_string).collect());
        let rows = rows.collect();
        (name, rows)
    });
    sheets.collect()
}

#[test]
fn the_workbook_has_the_figures_of_the_tidy_table() {
    let summary = summary();
    let sheets = worksheets(&summary);
    let mut compared = 0;
    for row in tidy(&summary) {
        let (table, measure) = (row["table"].as_str(), row["measure"].as_str());
        let Some(sheet) = sheets.get(table) else {
            continue;
        };
        let is_grouped = matches!(
            table,
            "Years" | "Classes" | "Groups" | "Terms" | "School years" | "Skills" | "Levels"
        );
        if !is_grouped {
            continue;
        }
        let name = row["row"].strip_prefix('\'').unwrap_or(&row["row"]);
        let is_it = |cell: &str| cell == name || format!("Year {cell}") == name;
        let found = sheet.iter().find(|cells| is_it(&cells[0])).expect(name);
        let headings = sheet
            .iter()
            .find(|cells| cells[1] == "Pupils")
            .expect(table);
        let heading = measure.trim_end_matches(" (%)");
        let at = headings.iter().position(|it| it == heading).expect(heading);
        if row["value"].is_empty() {
            // The reason stands once, over all the figures that it is about.
            let is_dash = row["note"] == "not told" && found[at] == "\u{2013}";
            assert!(
                is_dash || found.contains(&row["note"]),
                "{row:?} in {found:?}"
            );
        } else {
            assert_eq!(found[at], row["value"], "{row:?}");
        }
        if !row["low"].is_empty() {
            assert_eq!(
                found[at + 1],
                format!("{} to {} %", row["low"], row["high"])
            );
        }
        compared += 1;
    }
    assert!(compared > 200, "only {compared} figures were compared");
}

#[test]
fn nothing_of_few_pupils_is_in_any_of_the_three() {
    let summary = summary();
    for row in tidy(&summary) {
        let is_of_few = row["table"] == "Classes" && row["row"] == "6 Fir";
        if is_of_few {
            let told = [&row["value"], &row["low"], &row["high"], &row["n"]];
            assert!(told.iter().all(|it| it.is_empty()), "{row:?}");
            assert_eq!(row["note"], "fewer than 5 pupils");
        }
    }
    let read = markup::read(&report::page(&summary));
    let row_of_few = |section: &markup::Element| {
        let rows = section.named("tr").into_iter().map(cells);
        rows.filter(|cells| cells[0] == "6 Fir").collect::<Vec<_>>()
    };
    let rows = row_of_few(section(&read, "Classes"));
    assert_eq!(rows.len(), 1);
    assert!(
        rows[0][1..].iter().all(|it| it == "fewer than 5 pupils"),
        "{rows:?}"
    );
    let sheets = worksheets(&summary);
    let row = sheets["Classes"].iter().find(|cells| cells[0] == "6 Fir");
    let told: Vec<&String> = row.expect("it is named")[1..]
        .iter()
        .filter(|it| !it.is_empty())
        .collect();
    assert_eq!(told, ["fewer than 5 pupils"]);
    // And no pupil is named anywhere.
    let csv = String::from_utf8(report::csv(&summary)).expect("UTF-8");
    for text in [report::page(&summary), csv, format!("{sheets:?}")] {
        assert!(!text.contains("Secretname"), "a pupil is named");
    }
}

#[test]
fn no_cell_of_the_tidy_table_is_run() {
    for row in tidy(&summary()) {
        for (heading, cell) in &row {
            let is_number = cell.parse::<f64>().is_ok();
            let is_run = cell.starts_with(['=', '+', '-', '@', '\t', '\r']);
            assert!(is_number || !is_run, "{heading}: {cell}");
        }
    }
}

#[test]
fn a_review_of_nothing_still_makes_a_page() {
    let summary = attainment::summarise(&[]);
    let read = markup::read(&report::page(&summary));
    assert!(read.text().contains("too few to report"));
    assert_eq!(
        tidy(&summary)
            .iter()
            .filter(|row| row["table"] == "Years")
            .count(),
        0
    );
}
