//! The roll: a class list from any spreadsheet file, read by its headings.

use crate::homework;
use crate::level;
use crate::need;
use crate::problem;
use crate::workbook::cells;
use crate::workbook::headings;
use std::collections::BTreeMap;

/// The headings every roll must have, with the spellings taken for each.
const NEEDED: [(&str, &[&str]); 4] = [
    ("pupil id", &["pupilid"]),
    ("name", &["name", "pupil", "pupilname"]),
    ("class", &["class"]),
    ("year", &["year", "yeargroup"]),
];

/// A class list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Roll {
    /// The pupils, in its order.
    pub pupils: Vec<homework::Pupil>,
    /// What pupils need of the printed page, by their id: for printing only, and kept
    /// nowhere else.
    pub needs: BTreeMap<String, need::Wishes>,
}

/// Returns the pupils of a roll with what they need of the printed page.
///
/// A column of a need is no group: it is never reviewed and not in the record.
///
/// `file` is the file's name, for places.
///
/// # Errors
///
/// Every problem of the file at once: a missing column, an empty or repeated
/// id, an empty name, a level or a need that is none.
pub fn read(file: &str, bytes: &[u8]) -> Result<Roll, Vec<problem::Problem>> {
    let book = cells::read(bytes).map_err(|fault| vec![fault.to_problem(file)])?;
    let ids = NEEDED.first().map_or(&[][..], |(_, spellings)| *spellings);
    let by_id = book
        .grids
        .iter()
        .find_map(|grid| headings::find(grid, &[ids]));
    let Some(table) = by_id.or_else(|| book.grids.iter().find_map(headings::first)) else {
        return Err(vec![problem::Problem::new(
            file,
            "no worksheet holds anything",
            "put a heading row with pupil id, name, class and year above the pupils",
        )]);
    };
    let columns = columns(file, &table)?;
    let mut problems = Vec::new();
    let mut pupils: Vec<homework::Pupil> = Vec::new();
    let mut needs = BTreeMap::new();
    let mut rows_by_id: BTreeMap<String, u32> = BTreeMap::new();
    for row in table.rows() {
        let texts: Vec<String> = table
            .headings
            .iter()
            .map(|heading| table.text(row, heading.column))
            .collect();
        if texts.iter().all(String::is_empty) {
            continue;
        }
        let wishes = wishes(file, &table, &columns, row, &mut problems);
        if let Some(pupil) = pupil(file, &table, &columns, row, &mut problems) {
            if let Some(first) = rows_by_id.get(&pupil.id) {
                problems.push(problem::Problem::new(
                    table.place(file, row, columns.id),
                    format!(
                        "found the pupil id {} a second time, first in {}",
                        pupil.id,
                        table.grid.place(*first, columns.id)
                    ),
                    "give each pupil an id of their own, or delete the second row",
                ));
            } else {
                rows_by_id.insert(pupil.id.clone(), row);
                if !wishes.is_empty() {
                    needs.insert(pupil.id.clone(), wishes);
                }
                pupils.push(pupil);
            }
        }
    }
    if pupils.is_empty() && problems.is_empty() {
        problems.push(problem::Problem::new(
            table.place(file, table.row, columns.id),
            "found a heading row and no pupil below it",
            "put one pupil in each row below the headings",
        ));
    }
    if problems.is_empty() {
        Ok(Roll { pupils, needs })
    } else {
        Err(problems)
    }
}

/// Where each thing stands.
struct Columns {
    id: u32,
    name: u32,
    class: u32,
    year: u32,
    level: Option<u32>,
    /// Columns of needs.
    needs: Vec<(u32, need::Kind)>,
    /// Further columns with their headings.
    groups: Vec<(u32, String)>,
}

fn columns(file: &str, table: &headings::Table<'_>) -> Result<Columns, Vec<problem::Problem>> {
    let mut problems = Vec::new();
    let mut used = Vec::new();
    let mut found = Vec::new();
    for (name, spellings) in NEEDED {
        let column = table.column(spellings);
        used.extend(column);
        found.push(column);
        if column.is_none() {
            let others = table.headings.iter().map(|heading| heading.text.as_str());
            let hint = match headings::nearest(name, others) {
                Some(near) => format!("rename the column {near} to {name}"),
                None => format!("add a column with the heading {name}"),
            };
            problems.push(problem::Problem::new(
                table.place(file, table.row, 0),
                format!("no column has the heading {name}"),
                hint,
            ));
        }
    }
    let level = table.column(&["level"]);
    used.extend(level);
    let mut needs = Vec::new();
    for kind in need::Kind::ALL {
        let mut found = kind
            .spellings()
            .iter()
            .flat_map(|spelling| table.columns(spelling));
        needs.extend(found.next().map(|column| (column, kind)));
    }
    used.extend(needs.iter().map(|(column, _)| *column));
    let mut groups: Vec<(u32, String)> = Vec::new();
    for heading in &table.headings {
        if used.contains(&heading.column) {
            continue;
        }
        let is_second = NEEDED
            .iter()
            .any(|(_, spellings)| spellings.first() == Some(&heading.key.as_str()))
            || heading.key == "level"
            || need_of(&heading.key).is_some()
            || groups.iter().any(|(_, text)| *text == heading.text);
        if is_second {
            problems.push(problem::Problem::new(
                table.place(file, table.row, heading.column),
                format!("found the heading {} a second time", heading.text),
                "rename or delete one of the two columns",
            ));
        } else if let Some(kind) = nearly_a_need(&heading.key) {
            // Taken for a group it would be kept and reviewed, which no need may be.
            problems.push(problem::Problem::new(
                table.place(file, table.row, heading.column),
                format!(
                    "found the heading {}, almost {}",
                    heading.text,
                    kind.heading()
                ),
                format!(
                    "write {} if it says what pupils need on paper, else rename it",
                    kind.heading()
                ),
            ));
        } else {
            groups.push((heading.column, heading.text.clone()));
        }
    }
    match found.as_slice() {
        [Some(id), Some(name), Some(class), Some(year)] if problems.is_empty() => Ok(Columns {
            id: *id,
            name: *name,
            class: *class,
            year: *year,
            level,
            needs,
            groups,
        }),
        _ => Err(problems),
    }
}

/// The need that a heading is taken for.
fn need_of(key: &str) -> Option<need::Kind> {
    need::Kind::ALL
        .into_iter()
        .find(|kind| kind.spellings().contains(&key))
}

/// The need that a heading was probably meant for; short words have too many others near.
fn nearly_a_need(key: &str) -> Option<need::Kind> {
    need::Kind::ALL.into_iter().find(|kind| {
        let mut long = kind.spellings().iter().filter(|known| known.len() >= 7);
        long.any(|known| strsim::osa_distance(key, known) <= 2)
    })
}

/// What a row says its pupil needs.
fn wishes(
    file: &str,
    table: &headings::Table<'_>,
    columns: &Columns,
    row: u32,
    problems: &mut Vec<problem::Problem>,
) -> need::Wishes {
    let mut wishes = need::Wishes::default();
    for (column, kind) in &columns.needs {
        let text = table.text(row, *column);
        if !text.is_empty() && !wishes.take(*kind, &text) {
            problems.push(problem::Problem::new(
                table.place(file, row, *column),
                format!(
                    "{}: found {text}, looked for {}",
                    kind.heading(),
                    kind.choices()
                ),
                format!("write {}, or leave the cell empty", kind.choices()),
            ));
        }
    }
    wishes
}

fn pupil(
    file: &str,
    table: &headings::Table<'_>,
    columns: &Columns,
    row: u32,
    problems: &mut Vec<problem::Problem>,
) -> Option<homework::Pupil> {
    let before = problems.len();
    let id = table.text(row, columns.id);
    let name = table.text(row, columns.name);
    for (text, column, what) in [(&id, columns.id, "pupil id"), (&name, columns.name, "name")] {
        if text.is_empty() {
            problems.push(problem::Problem::new(
                table.place(file, row, column),
                format!("the {what} is empty"),
                format!("type the {what}, or delete the row"),
            ));
        }
    }
    let level = columns.level.and_then(|column| {
        let text = table.text(row, column);
        if text.is_empty() {
            return None;
        }
        let level = text.parse().ok().and_then(level::Level::new);
        if level.is_none() {
            problems.push(problem::Problem::new(
                table.place(file, row, column),
                format!("level: found {text}, looked for a whole number from 1 to 8"),
                "type a number from 1 to 8, or leave the cell empty",
            ));
        }
        level
    });
    let groups = columns
        .groups
        .iter()
        .map(|(column, heading)| (heading.clone(), table.text(row, *column)))
        .filter(|(_, label)| !label.is_empty())
        .collect();
    (problems.len() == before).then(|| homework::Pupil {
        id,
        name,
        class: table.text(row, columns.class),
        year: table.text(row, columns.year),
        level,
        groups,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_roll_is_read_by_its_headings() {
        let text = "Ashwhistle School\n\nName,Pupil ID,Level,Class,Year,Table\n\
                    Ann Example,P1,3,Maple,4,red\nBen Example,P2,,Maple,4,\n,,,,,\n";
        let Roll { pupils, needs } = read("roll.csv", text.as_bytes()).expect("a roll");
        assert!(needs.is_empty());
        assert_eq!(pupils.len(), 2);
        let ann = pupils.first().expect("two pupils");
        assert_eq!(
            (
                ann.id.as_str(),
                ann.name.as_str(),
                ann.class.as_str(),
                ann.year.as_str()
            ),
            ("P1", "Ann Example", "Maple", "4")
        );
        assert_eq!(ann.level, level::Level::new(3));
        assert_eq!(ann.groups.get("Table").map(String::as_str), Some("red"));
        let ben = pupils.get(1).expect("two pupils");
        assert_eq!(ben.level, None);
        assert!(ben.groups.is_empty());
    }

    #[test]
    fn every_problem_is_told_at_once_with_its_place() {
        let text = "pupil id,name,class,year,level\n\
                    P1,Ann,Maple,4,9\nP1,Ben,Maple,4,\n,Cat,Maple,4,\nP4,,Maple,4,\n";
        let told: Vec<String> = read("roll.csv", text.as_bytes())
            .expect_err("four problems")
            .iter()
            .map(|problem| format!("{}: {}", problem.place, problem.what))
            .collect();
        assert_eq!(
            told,
            [
                "roll.csv: E2: level: found 9, looked for a whole number from 1 to 8",
                "roll.csv: A4: the pupil id is empty",
                "roll.csv: B5: the name is empty",
            ]
        );
        let text = "pupil id,name,class,year\nP1,Ann,Maple,4\nP1,Ben,Maple,4\n";
        let told = read("roll.csv", text.as_bytes()).expect_err("a second P1");
        assert_eq!(
            told.first().expect("one").what,
            "found the pupil id P1 a second time, first in A2"
        );
    }

    #[test]
    fn needs_are_read_and_are_no_groups() {
        let text = "pupil id,name,class,year,Print size,TINT,word card,questions per page,table\n\
                    P1,Ann,Maple,4,24,cream,yes,1,red\nP2,Ben,Maple,4,,,,,red\n\
                    P3,Cat,Maple,4,usual,,no,,\n";
        let roll = read("roll.csv", text.as_bytes()).expect("a roll");
        let class = need::Class {
            usual: need::Needs {
                print_size: need::PrintSize::Point18,
                ..need::Needs::default()
            },
            own: roll.needs,
        };
        let ann = class.of("P1");
        assert_eq!(ann.print_size, need::PrintSize::Point24);
        assert_eq!(ann.tint, need::Tint::Cream);
        assert_eq!(ann.word_card, need::WordCard::With);
        assert_eq!(ann.questions_a_page, need::QuestionsAPage::AtMost(1));
        assert_eq!(class.of("P2"), class.usual);
        assert_eq!(class.of("P3").print_size, need::PrintSize::Usual);
        for pupil in &roll.pupils {
            assert!(pupil.groups.keys().all(|heading| heading == "table"));
        }
    }

    #[test]
    fn needs_that_cannot_be_met_are_told_at_once() {
        let text = "pupil id,name,class,year,print size,spacing,tint,word card,answers apart,\
                    questions a page\n\
                    P1,Ann,Maple,4,20,double,plaid,18,perhaps,0\n";
        let told: Vec<String> = read("roll.csv", text.as_bytes())
            .expect_err("six problems")
            .iter()
            .map(|problem| format!("{}: {}", problem.place, problem.what))
            .collect();
        assert_eq!(
            told,
            [
                "roll.csv: E2: print size: found 20, looked for 18, 24, 36 or usual",
                "roll.csv: F2: spacing: found double, looked for wide or usual",
                "roll.csv: G2: tint: found plaid, looked for cream, yellow, peach, pink, blue, \
                 green or none",
                "roll.csv: H2: word card: found 18, looked for yes or no",
                "roll.csv: I2: answers apart: found perhaps, looked for yes or no",
                "roll.csv: J2: questions a page: found 0, looked for a whole number from 1 to 20, \
                 or usual",
            ]
        );
    }

    #[test]
    fn a_need_with_a_slip_in_its_heading_does_not_become_a_group() {
        for (heading, what) in [
            (
                "print sise",
                "found the heading print sise, almost print size",
            ),
            (
                "tint,paper tint",
                "found the heading paper tint a second time",
            ),
        ] {
            let columns = heading.split(',').count();
            let text = format!(
                "pupil id,name,class,year,{heading}\nP1,Ann,Maple,4{}\n",
                ",".repeat(columns)
            );
            let told = read("roll.csv", text.as_bytes()).expect_err("a heading is wrong");
            assert_eq!(told.first().expect("one").what, what);
        }
    }

    #[test]
    fn a_missing_column_names_the_one_that_is_near() {
        let text = "pupil di,name,clas,year\nP1,Ann,Maple,4\n";
        let told = read("roll.csv", text.as_bytes()).expect_err("two columns are missing");
        let hints: Vec<&str> = told.iter().map(|problem| problem.hint.as_str()).collect();
        assert_eq!(
            hints,
            [
                "rename the column pupil di to pupil id",
                "rename the column clas to class"
            ]
        );
    }
}
