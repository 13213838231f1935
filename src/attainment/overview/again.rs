//! What to teach again, and in which years; never in which pupils.

use crate::attainment;
use crate::attainment::count;
use crate::attainment::misconceptions;
use crate::attainment::overview;
use crate::attainment::overview::standing;

/// Skills that stand low in a year, then the commonest ways of thinking.
pub(super) fn sentences(summary: &attainment::Summary) -> Vec<String> {
    let table = &summary.misconceptions;
    let thinking = table.rows.iter().filter_map(|row| sentence(table, row));
    let mut texts = weak(summary);
    let before = texts.len();
    texts.extend(thinking.take(overview::MOST_NAMED));
    if texts.len() == before {
        texts.push(
            "No way of thinking showed in two answers or more of 5 pupils or more.".to_owned(),
        );
    }
    texts
}

/// Skills that stand lower in a year than all that the year did, beyond chance.
fn weak(summary: &attainment::Summary) -> Vec<String> {
    let grid = &summary.skills_by_year;
    let years = standing::standings(&summary.years);
    let mut texts = Vec::new();
    for (column, label) in grid.columns.iter().enumerate() {
        let Some(year) = years.iter().find(|year| year.label == label) else {
            continue;
        };
        let cells = grid.rows.iter().filter_map(|row| {
            let shown = row.cells.get(column)?.as_ref()?;
            standing::Standing::told(&row.label, shown)
        });
        let mut low: Vec<standing::Standing<'_>> = cells
            .filter(|cell| cell.beside(year.percent) == standing::Beside::Below)
            .collect();
        low.sort_by_key(|cell| cell.percent);
        if !low.is_empty() {
            let low: Vec<String> = low.iter().map(|cell| cell.words(cell.label)).collect();
            texts.push(format!(
                "{}, beside {} % in all that the year did: {}.",
                attainment::said_year(label),
                year.percent,
                overview::listed(&low)
            ));
        }
    }
    if texts.is_empty() {
        texts.push(
            "In no year group does a skill stand lower than the year's other work by more than \
             chance."
                .to_owned(),
        );
    }
    texts
}

/// Whether it may be told how many pupils show a way of thinking, and some do.
pub(super) fn is_told(table: &misconceptions::Table, row: &misconceptions::Row) -> bool {
    sentence(table, row).is_some()
}

fn sentence(table: &misconceptions::Table, row: &misconceptions::Row) -> Option<String> {
    let (count::Count::Pupils(again), count::Count::Pupils(pupils)) = (row.again, table.pupils)
    else {
        return None;
    };
    if again == 0 {
        return None;
    }
    let mut text = format!(
        "{again} of {pupils} pupils gave two answers or more consistent with someone who {}{}.",
        row.name,
        places(table, row)
    );
    if !row.next.is_empty() {
        text.push_str(" Try: ");
        text.push_str(&row.next);
    }
    Some(text)
}

/// ` (Year 5: 14, Year 6: 15)`: the years that may be told, where there are several.
fn places(table: &misconceptions::Table, row: &misconceptions::Row) -> String {
    if table.years.len() < 2 {
        return String::new();
    }
    let told: Vec<String> = table
        .years
        .iter()
        .zip(&row.by_year)
        .filter_map(|(year, count)| match count {
            count::Count::Pupils(0) | count::Count::Hidden(_) => None,
            count::Count::Pupils(pupils) => {
                Some(format!("{}: {pupils}", attainment::said_year(year)))
            }
        })
        .collect();
    if told.is_empty() {
        String::new()
    } else {
        format!(" ({})", told.join(", "))
    }
}
