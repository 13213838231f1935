//! What may have been typed where a spreadsheet program changed it.
//!
//! Takes one [`cells::Cell`] and gives an [`answer::Typed`]: the text as a
//! person sees it and, where a program made a time, date, percentage or
//! fraction of what was typed, every text that may have been typed, likeliest
//! first, each with why. Does not read the texts as answers.
//!
//! What cannot be brought back, and need not be, because it means the same: spaces
//! in `3 : 1`, leading zeros and plus signs (`007`, `+3`), thousands commas, zeros
//! behind a decimal (`2.50` earns what `2.5` does); a month's name (`3 Jan`); the
//! text of a formula where it is more than one division (its result is taken).

mod clock;
mod decimal;

use crate::answer;
use crate::workbook::cells;
use crate::workbook::cells::Content;
use crate::workbook::number_format;
use crate::workbook::number_format::Shape;

/// The serial numbers that are likely to be dates: the years 1990 to 2059.
const SERIALS_OF_DATES: std::ops::Range<i64> = 32_874..58_440;

/// Returns what stood in a cell; `year_set` is the year of the homework.
#[must_use]
pub fn typed(cell: &cells::Cell, year_set: i32) -> answer::Typed {
    match &cell.content {
        Content::Text(text) if cell.formula().is_empty() => clock::from_text(text, year_set)
            .or_else(|| truth_of(text))
            .unwrap_or_else(|| with_formula(text.clone(), cell)),
        Content::Text(text) => with_formula(text.clone(), cell),
        Content::Number(digits) => number(&decimal::without_noise(digits), cell, year_set),
        Content::Time { milliseconds } => clock::time(*milliseconds, cell),
        Content::Date { year, month, day } => clock::date(
            clock::Calendar {
                year: *year,
                month: *month,
                day: *day,
            },
            cell,
            year_set,
        ),
        Content::Truth(truth) => {
            with_formula(if *truth { "TRUE" } else { "FALSE" }.to_owned(), cell)
        }
        Content::Fault(fault) => {
            let why = format!("the cell holds a formula that gives {fault}");
            answer::Typed {
                text: fault.clone(),
                undone: formula_texts(cell)
                    .into_iter()
                    .map(|text| undone(text, &why))
                    .collect(),
            }
        }
        Content::Uncalculated => {
            let text = formula_text(cell).unwrap_or_else(|| "=".to_owned());
            let why = "the cell holds a formula that was never calculated";
            answer::Typed {
                undone: vec![undone(text.clone(), why)],
                text,
            }
        }
    }
}

/// Returns what was typed where a csv file keeps what a program in another language
/// writes for true or false.
fn truth_of(text: &str) -> Option<answer::Typed> {
    const TRUE: [&str; 8] = [
        "WAHR",
        "VRAI",
        "VERDADERO",
        "VERDADEIRO",
        "VERO",
        "WAAR",
        "PRAWDA",
        "SANT",
    ];
    const FALSE: [&str; 7] = [
        "FALSCH", "FAUX", "FALSO", "ONWAAR", "FAŁSZ", "FALSKT", "USANN",
    ];
    let meaning = if TRUE.contains(&text.trim()) {
        "TRUE"
    } else if FALSE.contains(&text.trim()) {
        "FALSE"
    } else {
        return None;
    };
    Some(answer::Typed {
        text: text.to_owned(),
        undone: vec![undone(
            meaning,
            &format!("a spreadsheet program writes {meaning} so"),
        )],
    })
}

/// Returns the text of a cell as a person sees it, for cells that hold no answers.
#[must_use]
pub fn text(cell: &cells::Cell) -> String {
    typed(cell, 0).text
}

fn undone(text: impl Into<String>, why: &str) -> answer::Undone {
    answer::Undone {
        text: text.into(),
        why: why.to_owned(),
    }
}

fn formula_text(cell: &cells::Cell) -> Option<String> {
    let formula = cell.formula();
    (!formula.is_empty()).then(|| format!("={formula}"))
}

/// Returns the formula of a cell as it may have been typed: `-3:1` becomes the rows
/// 1 to 3, the smaller number first, so that the order is not known.
fn formula_texts(cell: &cells::Cell) -> Vec<String> {
    let formula = cell.formula();
    let bare = formula.trim_start_matches('-');
    let sign = formula.strip_suffix(bare).unwrap_or_default();
    let digits = |text: &str| -> String {
        // An ods file writes a reference in square brackets, with a full stop before it.
        text.chars()
            .filter(|sign| !"[].$".contains(*sign))
            .collect()
    };
    let is_number = |text: &str| !text.is_empty() && text.chars().all(|it| it.is_ascii_digit());
    if let Some((first, last)) = bare.split_once(':') {
        let (first, last) = (digits(first), digits(last));
        if is_number(&first) && is_number(&last) {
            return vec![
                format!("{sign}{last}:{first}"),
                format!("{sign}{first}:{last}"),
            ];
        }
    }
    formula_text(cell).into_iter().collect()
}

/// Returns a text with, where a formula made it, the formula told.
fn with_formula(text: String, cell: &cells::Cell) -> answer::Typed {
    let Some(formula) = formula_text(cell) else {
        return answer::Typed {
            text,
            undone: Vec::new(),
        };
    };
    let why = format!("the cell holds the formula {formula}");
    let mut readings = vec![undone(text.clone(), &why)];
    if is_one_division(cell.formula()) {
        readings.push(undone(formula, &why));
    }
    answer::Typed {
        text,
        undone: readings,
    }
}

/// Says whether a formula is one number divided by another, as a pupil writes a fraction.
fn is_one_division(formula: &str) -> bool {
    let is_number = |text: &str| {
        let text = text.trim();
        !text.is_empty()
            && text
                .chars()
                .all(|sign| sign.is_ascii_digit() || sign == '.')
    };
    formula
        .split_once('/')
        .is_some_and(|(above, below)| is_number(above) && is_number(below))
}

fn number(digits: &str, cell: &cells::Cell, year_set: i32) -> answer::Typed {
    if !cell.formula().is_empty() {
        return with_formula(digits.to_owned(), cell);
    }
    if cell.format() == "@" {
        return made_text_later(digits, cell, year_set);
    }
    let format = if cell.shown().is_empty() {
        number_format::understand(cell.format())
    } else {
        format_of_shown(cell.shown())
    };
    let around = |text: &str| format!("{}{text}{}", format.before, format.after);
    let (shown, others) = match &format.shape {
        // Typed in brackets, a number is a negative one for spreadsheet programs.
        Shape::Plain if format.before.is_empty() && format.after.is_empty() => {
            let Some(positive) = digits.strip_prefix('-') else {
                return answer::Typed {
                    text: digits.to_owned(),
                    undone: Vec::new(),
                };
            };
            let why = "the cell holds a number below nought";
            return answer::Typed {
                text: digits.to_owned(),
                undone: vec![undone(digits, why), undone(format!("({positive})"), why)],
            };
        }
        Shape::Plain => (around(digits), vec![digits.to_owned()]),
        Shape::Percent => match decimal::moved_two_places(digits) {
            Some(hundredths) => (format!("{hundredths}%"), vec![digits.to_owned()]),
            None => (digits.to_owned(), Vec::new()),
        },
        Shape::Scientific => (
            digits.to_owned(),
            decimal::scientific(digits).into_iter().collect(),
        ),
        Shape::Fraction { largest } => match decimal::fraction(digits, *largest) {
            Some((mixed, improper)) => {
                let mut others = vec![improper, digits.to_owned()];
                others.retain(|other| *other != mixed);
                (mixed, others)
            }
            None => (digits.to_owned(), Vec::new()),
        },
    };
    let why = match format.shape {
        Shape::Fraction { .. } => format!("the cell holds {digits}, shown as a fraction"),
        Shape::Percent => format!("the cell holds {digits}, shown as a percentage"),
        Shape::Scientific => format!("the cell holds {digits}, shown with a power of ten"),
        Shape::Plain => format!("the cell holds {digits}, shown as {shown}"),
    };
    let mut readings = vec![undone(shown.clone(), &why)];
    readings.extend(others.into_iter().map(|other| undone(other, &why)));
    answer::Typed {
        text: shown,
        undone: readings,
    }
}

/// Returns what may have been typed where a number stands in a cell of the text format.
///
/// What is typed into such a cell stays text; so the cell was made text later,
/// and the number may be what a time or date looks like then.
fn made_text_later(digits: &str, cell: &cells::Cell, year_set: i32) -> answer::Typed {
    let mut readings = match digits.parse::<i64>() {
        Ok(serial) if SERIALS_OF_DATES.contains(&serial) => clock::date_of_serial(serial)
            .map(|date| clock::date(date, cell, year_set).undone)
            .unwrap_or_default(),
        Ok(_) => Vec::new(),
        Err(_) => decimal::milliseconds(digits)
            .map(|milliseconds| clock::time(milliseconds, cell).undone)
            .unwrap_or_default(),
    };
    if !readings.is_empty() {
        let why = "the cell holds a number, and was made text later";
        readings.push(undone(digits, why));
    }
    answer::Typed {
        text: digits.to_owned(),
        undone: readings,
    }
}

/// Returns the format that a text on the screen must have been made with.
fn format_of_shown(shown: &str) -> number_format::Format {
    let shown = shown.trim();
    let is_of_number = |sign: char| sign.is_ascii_digit() || ".,-+ \u{a0}\u{202f}'".contains(sign);
    let plain = |shape| number_format::Format {
        shape,
        before: String::new(),
        after: String::new(),
    };
    if shown.ends_with('%') {
        return plain(Shape::Percent);
    }
    if let Some((_, below)) = shown.split_once('/') {
        let digits = below.chars().take_while(char::is_ascii_digit).count();
        let largest = match digits {
            0 | 1 => 9,
            2 => 99,
            _ => 999,
        };
        return plain(Shape::Fraction { largest });
    }
    if shown.contains("E+") || shown.contains("E-") {
        return plain(Shape::Scientific);
    }
    let before: String = shown
        .chars()
        .take_while(|sign| !is_of_number(*sign))
        .collect();
    let reversed: String = shown
        .chars()
        .rev()
        .take_while(|sign| !is_of_number(*sign))
        .collect();
    let after: String = reversed.chars().rev().collect();
    if before.len() == shown.len() {
        return plain(Shape::Plain);
    }
    number_format::Format {
        shape: Shape::Plain,
        before: before.trim().to_owned(),
        after: after.trim().to_owned(),
    }
}

#[cfg(test)]
mod tests;
