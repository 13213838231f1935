//! What may have been typed where a spreadsheet program changed it.
//!
//! Takes one [`cells::Cell`] and gives an [`answer::Typed`]: the text as a
//! person sees it and, where a program made a time, date, percentage or
//! fraction of what was typed, every text that may have been typed, likeliest
//! first, each with why. Does not read the texts as answers.
//!
//! What cannot be brought back: which of `3/1`, `3-1` and `3 Jan` became the
//! date 3 January (the slash is taken); leading zeros and plus signs (`007`,
//! `+3`); `2 1/2` in an xls file, which keeps the number 2.5 alone; the text of
//! a formula where it is more than one division (its result is taken).

use crate::answer;
use crate::workbook::cells;
use crate::workbook::cells::Content;
use crate::workbook::number_format;
use crate::workbook::number_format::Shape;

const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// How many years after the homework a date without a typed year may carry.
const YEARS_AFTER: i32 = 5;

/// Returns what stood in a cell; `year_set` is the year of the homework.
#[must_use]
pub fn typed(cell: &cells::Cell, year_set: i32) -> answer::Typed {
    match &cell.content {
        Content::Text(text) => with_formula(text.clone(), cell),
        Content::Number(digits) => number(digits, cell),
        Content::Time { milliseconds } => time(*milliseconds, cell.format()),
        Content::Date { year, month, day } => date(
            Calendar {
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
                undone: formula_text(cell)
                    .map(|text| undone(text, &why))
                    .into_iter()
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

fn number(digits: &str, cell: &cells::Cell) -> answer::Typed {
    if !cell.formula().is_empty() {
        return with_formula(digits.to_owned(), cell);
    }
    let format = if cell.shown().is_empty() {
        number_format::understand(cell.format())
    } else {
        format_of_shown(cell.shown())
    };
    let around = |text: &str| format!("{}{text}{}", format.before, format.after);
    let (shown, others) = match &format.shape {
        Shape::Plain if format.before.is_empty() && format.after.is_empty() => {
            return answer::Typed {
                text: digits.to_owned(),
                undone: Vec::new(),
            };
        }
        Shape::Plain => (around(digits), vec![digits.to_owned()]),
        Shape::Percent => match moved_two_places(digits) {
            Some(hundredths) => (format!("{hundredths}%"), vec![digits.to_owned()]),
            None => (digits.to_owned(), Vec::new()),
        },
        Shape::Scientific => (digits.to_owned(), scientific(digits).into_iter().collect()),
        Shape::Fraction { largest } => match fraction(digits, *largest) {
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

/// Returns a decimal number as sign, all its digits as one whole number, and how many are places.
fn decimal(digits: &str) -> Option<(&'static str, u128, usize)> {
    let (sign, bare) = match digits.strip_prefix('-') {
        Some(rest) => ("-", rest),
        None => ("", digits),
    };
    let (whole, places) = bare.split_once('.').unwrap_or((bare, ""));
    let together = format!("{whole}{places}").parse().ok()?;
    (places.len() <= 20).then_some((sign, together, places.len()))
}

/// Returns a hundred times a number, in decimal digits.
fn moved_two_places(digits: &str) -> Option<String> {
    let (sign, together, places) = decimal(digits)?;
    if places <= 2 {
        let missing = u32::try_from(2 - places).expect("at most two");
        return Some(format!(
            "{sign}{}",
            together.checked_mul(10_u128.pow(missing))?
        ));
    }
    let places = places - 2;
    let padded = format!("{together:0>width$}", width = places + 1);
    let (whole, part) = padded.split_at(padded.len() - places);
    let part = part.trim_end_matches('0');
    let point = if part.is_empty() { "" } else { "." };
    Some(format!("{sign}{whole}{point}{part}"))
}

/// Returns a number as a power of ten, such as `1e3`.
fn scientific(digits: &str) -> Option<String> {
    let (sign, together, places) = decimal(digits)?;
    let all = together.to_string();
    let significant = all.trim_end_matches('0');
    if significant.is_empty() {
        return None;
    }
    let exponent = i64::try_from(all.len()).ok()? - 1 - i64::try_from(places).ok()?;
    let (first, rest) = significant.split_at(1);
    let point = if rest.is_empty() { "" } else { "." };
    Some(format!("{sign}{first}{point}{rest}e{exponent}"))
}

/// Returns a number as a mixed number and as an improper fraction: (`2 1/2`, `5/2`).
///
/// None where no denominator up to the largest gives the number to the digits
/// that a spreadsheet program keeps, so that it was not typed as a fraction.
fn fraction(digits: &str, largest: u32) -> Option<(String, String)> {
    let (sign, together, places) = decimal(digits)?;
    let unit = 10_u128.checked_pow(u32::try_from(places).ok()?)?;
    for below in 1..=u128::from(largest) {
        let scaled = together.checked_mul(below)?;
        let above = (scaled.checked_add(unit / 2)?) / unit;
        let difference = scaled.abs_diff(above.checked_mul(unit)?);
        // Fifteen significant digits: the last one may be off by one in each part.
        let is_same = if places < 12 {
            difference == 0
        } else {
            difference <= below * 2
        };
        if !is_same {
            continue;
        }
        let (whole, left) = (above / below, above % below);
        let mixed = match (whole, left) {
            (whole, 0) => format!("{sign}{whole}"),
            (0, left) => format!("{sign}{left}/{below}"),
            (whole, left) => format!("{sign}{whole} {left}/{below}"),
        };
        return Some((mixed, format!("{sign}{above}/{below}")));
    }
    None
}

fn time(milliseconds: i64, code: &str) -> answer::Typed {
    let Ok(all) = u64::try_from(milliseconds) else {
        return answer::Typed {
            text: format!("a time of {milliseconds} milliseconds"),
            undone: Vec::new(),
        };
    };
    let (hours, minutes) = (all / 3_600_000, all / 60_000 % 60);
    let (seconds, thousandths) = (all / 1_000 % 60, all % 1_000);
    let part = if thousandths == 0 {
        String::new()
    } else {
        format!(".{thousandths:03}")
            .trim_end_matches('0')
            .to_owned()
    };
    let shown = format!("{hours:02}:{minutes:02}:{seconds:02}{part}");
    let mut texts = Vec::new();
    if !part.is_empty() {
        // Only minutes and seconds can be typed with a decimal part: 1:2.5.
        if hours == 0 {
            texts.push(format!("{minutes}:{seconds}{part}"));
        }
        texts.push(format!("{hours}:{minutes}:{seconds}{part}"));
    } else if seconds != 0 {
        if hours == 0 && number_format::is_without_hours(code) {
            texts.push(format!("{minutes}:{seconds}"));
        }
        texts.push(format!("{hours}:{minutes}:{seconds}"));
        if hours == 0 && !number_format::is_without_hours(code) {
            texts.push(format!("{minutes}:{seconds}"));
        }
    } else {
        texts.push(format!("{hours}:{minutes}"));
        // Some programs carry sixty minutes and more into the hours, and show a length of time.
        if number_format::is_elapsed(code) && (1..24).contains(&hours) {
            texts.push(format!("{}:{}", hours - 1, minutes + 60));
        }
    }
    let why = format!("the cell holds the time {shown}");
    answer::Typed {
        text: shown,
        undone: texts.into_iter().map(|text| undone(text, &why)).collect(),
    }
}

/// A date.
#[derive(Clone, Copy)]
struct Calendar {
    year: i32,
    month: u32,
    day: u32,
}

fn date(date: Calendar, cell: &cells::Cell, year_set: i32) -> answer::Typed {
    let Calendar { year, month, day } = date;
    let index = usize::try_from(month.saturating_sub(1)).unwrap_or_default();
    let name = MONTHS.get(index).copied().unwrap_or("?");
    let shown = format!("{day} {name} {year}");
    let short = year.rem_euclid(100);
    let day_first = format!("{day}/{month}");
    let month_first = format!("{month}/{day}");
    let mut texts = Vec::new();
    let code = cell.format();
    // Typed without a year, a date gets the year in which it was typed.
    let year_made_up = year_set > 0 && !(year_set..=year_set + YEARS_AFTER).contains(&year);
    let month_and_year = [format!("{month}/{short}"), format!("{month}/{short:02}")];
    if number_format::is_month_and_year(code) {
        texts.extend(month_and_year);
    } else {
        // The first digits on the screen tell the order where they differ.
        let first_shown: String = cell
            .shown()
            .chars()
            .take_while(char::is_ascii_digit)
            .collect();
        let is_shown_month_first = day != month && first_shown.parse() == Ok(month);
        let both = if number_format::is_month_first(code) || is_shown_month_first {
            [month_first, day_first]
        } else {
            [day_first, month_first]
        };
        if year_made_up && day == 1 && code.is_empty() && cell.shown().is_empty() {
            texts.extend(month_and_year);
        }
        if year_made_up && day != 1 {
            texts.push(format!("{day}/{month}/{short}"));
        }
        texts.extend(both);
    }
    let mut seen = Vec::new();
    texts.retain(|text| {
        let is_new = !seen.contains(text);
        seen.push(text.clone());
        is_new
    });
    let why = format!("the cell holds the date {shown}");
    answer::Typed {
        text: shown,
        undone: texts.into_iter().map(|text| undone(text, &why)).collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cell(content: Content, format: &str) -> cells::Cell {
        cells::Cell {
            content,
            look: Some(Box::new(cells::Look {
                format: format.to_owned(),
                ..cells::Look::default()
            })),
        }
    }

    fn readings(cell: &cells::Cell) -> Vec<String> {
        typed(cell, 2026)
            .undone
            .into_iter()
            .map(|undone| undone.text)
            .collect()
    }

    #[test]
    fn a_time_gives_back_the_ratio() {
        let cases: [(i64, &str, &[&str]); 8] = [
            (10_860_000, "hh:mm:ss", &["3:1"]),
            (108_600_000, "[hh]:mm:ss", &["30:10"]),
            (62_500, "mm:ss.00", &["1:2.5"]),
            (62_000, "mm:ss.0", &["1:2", "0:1:2"]),
            (7_263_000, "hh:mm:ss", &["2:1:3"]),
            (46_800_000, "[h]:mm:ss", &["13:0", "12:60"]),
            (2_700_000, "h:mm", &["0:45"]),
            (0, "h:mm", &["0:0"]),
        ];
        for (milliseconds, code, wanted) in cases {
            let cell = cell(Content::Time { milliseconds }, code);
            // 1:2.5 has a second way that nobody types; the first is what counts there.
            let found = readings(&cell);
            let found: Vec<&str> = found
                .iter()
                .map(String::as_str)
                .take(wanted.len())
                .collect();
            assert_eq!(found, wanted, "{milliseconds} {code}");
        }
        let shown = typed(
            &cell(
                Content::Time {
                    milliseconds: 10_860_000,
                },
                "hh:mm:ss",
            ),
            2026,
        );
        assert_eq!(shown.text, "03:01:00");
        assert_eq!(
            shown.undone.first().expect("one reading").why,
            "the cell holds the time 03:01:00"
        );
    }

    #[test]
    fn a_date_gives_day_first_and_month_first() {
        let cases: [(i32, u32, u32, &str, &[&str]); 7] = [
            (2026, 2, 1, "d\\-mmm", &["1/2", "2/1"]),
            (2026, 1, 2, "mm/dd/yy", &["1/2", "2/1"]),
            (2026, 10, 25, "dd/mm/yy", &["25/10", "10/25"]),
            (2026, 3, 3, "dd/mm/yy", &["3/3"]),
            (1936, 12, 1, "mmm\\-yy", &["12/36"]),
            (1936, 12, 1, "", &["12/36", "1/12", "12/1"]),
            (2005, 4, 3, "dd/mm/yy", &["3/4/5", "3/4", "4/3"]),
        ];
        for (year, month, day, code, wanted) in cases {
            let cell = cell(Content::Date { year, month, day }, code);
            assert_eq!(readings(&cell), wanted, "{year}-{month}-{day} {code}");
        }
    }

    #[test]
    fn a_number_format_gives_back_what_stood_around_the_number() {
        let cases: [(&str, &str, &str, &[&str]); 12] = [
            ("20", "General", "20", &[]),
            ("2.5", "0.00", "2.5", &[]),
            ("2.5", "# ?/?", "2 1/2", &["2 1/2", "5/2", "2.5"]),
            (
                "0.333333333333333",
                "# ?/?",
                "1/3",
                &["1/3", "0.333333333333333"],
            ),
            (
                "2.33333333333333",
                "# ?/?",
                "2 1/3",
                &["2 1/3", "7/3", "2.33333333333333"],
            ),
            ("0.34", "# ?/?", "0.34", &["0.34"]),
            ("0.5", "0.00%", "50%", &["50%", "0.5"]),
            ("0.333", "0.00%", "33.3%", &["33.3%", "0.333"]),
            ("3", "0%", "300%", &["300%", "3"]),
            ("1000", "0.00E+00", "1000", &["1000", "1e3"]),
            ("5", "[$£-809]#,##0.00", "£5", &["£5", "5"]),
            ("3", "0\":1\"", "3:1", &["3:1", "3"]),
        ];
        for (digits, code, text, wanted) in cases {
            let cell = cell(Content::Number(digits.to_owned()), code);
            assert_eq!(typed(&cell, 2026).text, text, "{digits} {code}");
            assert_eq!(readings(&cell), wanted, "{digits} {code}");
        }
    }

    #[test]
    fn a_text_on_the_screen_tells_as_much_as_a_format() {
        let cases: [(&str, &str, &[&str]); 6] = [
            ("2.5", "2 1/2", &["2 1/2", "5/2", "2.5"]),
            ("0.5", "50.00%", &["50%", "0.5"]),
            ("1000", "1.00E+03", &["1000", "1e3"]),
            ("5", "£5.00", &["£5", "5"]),
            ("1200", "1,200.00", &[]),
            ("-3", "-3.00", &[]),
        ];
        for (digits, shown, wanted) in cases {
            let mut cell = cell(Content::Number(digits.to_owned()), "");
            if let Some(look) = cell.look.as_mut() {
                look.shown = shown.to_owned();
            }
            assert_eq!(readings(&cell), wanted, "{digits} {shown}");
        }
    }

    #[test]
    fn a_formula_is_told_and_its_result_taken() {
        let with = |content, formula: &str| cells::Cell {
            content,
            look: Some(Box::new(cells::Look {
                formula: formula.to_owned(),
                ..cells::Look::default()
            })),
        };
        let calculated = typed(&with(Content::Number("20".to_owned()), "60/3"), 2026);
        assert_eq!(calculated.text, "20");
        assert_eq!(
            readings(&with(Content::Number("20".to_owned()), "60/3")),
            ["20", "=60/3"]
        );
        assert_eq!(
            readings(&with(Content::Number("40".to_owned()), "60/3*2")),
            ["40"]
        );
        assert_eq!(
            readings(&with(Content::Fault("#NAME?".to_owned()), "-clockwise")),
            ["=-clockwise"]
        );
        let never = typed(&with(Content::Uncalculated, "60/3"), 2026);
        assert_eq!(never.text, "=60/3");
        assert!(
            never
                .undone
                .first()
                .expect("one")
                .why
                .contains("never calculated")
        );
    }

    #[test]
    fn what_was_typed_as_text_is_left_alone() {
        for text in ["3:1", " 1/2 ", "clockwise", "=60/3", "007"] {
            let cell = cells::Cell::plain(Content::Text(text.to_owned()));
            let found = typed(&cell, 2026);
            assert_eq!(found.text, text);
            assert!(found.undone.is_empty());
        }
    }
}
