//! What to teach again, and in which years; never in which pupils.

use crate::attainment;
use crate::attainment::count;
use crate::attainment::misconceptions;
use crate::attainment::overview;

/// The commonest ways of thinking, with where they are.
pub(super) fn sentences(summary: &attainment::Summary) -> Vec<String> {
    let table = &summary.misconceptions;
    let texts: Vec<String> = table
        .rows
        .iter()
        .filter_map(|row| sentence(table, row))
        .take(overview::MOST_NAMED)
        .collect();
    if texts.is_empty() {
        return vec![
            "No way of thinking showed in two answers or more of 5 pupils or more.".to_owned(),
        ];
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
            count::Count::Pupils(pupils) => Some(format!("{}: {pupils}", overview::year(year))),
        })
        .collect();
    if told.is_empty() {
        String::new()
    } else {
        format!(" ({})", told.join(", "))
    }
}
