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
        let cases: [(i32, u32, u32, &str, &[&str]); 9] = [
            (2026, 2, 1, "d\\-mmm", &["1/2", "2/1"]),
            (2026, 1, 2, "mm/dd/yy", &["1/2", "2/1"]),
            (2026, 10, 25, "dd/mm/yy", &["25/10", "10/25"]),
            (2026, 3, 3, "dd/mm/yy", &["3/3"]),
            (1936, 12, 1, "mmm\\-yy", &["12/36"]),
            (1936, 12, 1, "", &["12/36", "1/12", "12/1", "1/12/36"]),
            (2005, 4, 3, "dd/mm/yy", &["3/4/5", "3/4", "4/3"]),
            (2003, 2, 1, "dd/mm/yy", &["1/2", "2/1", "1/2/3"]),
            (2026, 1, 3, "dd\\.mm\\.yyyy", &["3/1", "1/3", "3.1", "1.3"]),
        ];
        for (year, month, day, code, wanted) in cases {
            let cell = cell(Content::Date { year, month, day }, code);
            // A hyphen makes the same date as a slash.
            let hyphens = wanted
                .iter()
                .filter(|text| day != month && text.contains('/'))
                .map(|text| text.replace('/', "-"));
            let wanted: Vec<String> = wanted
                .iter()
                .map(|text| (*text).to_owned())
                .chain(hyphens)
                .collect();
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
    fn a_number_in_a_text_cell_may_have_been_a_time_or_date() {
        let cases: [(&str, &[&str]); 5] = [
            ("0.125694444444444", &["3:1", "0.125694444444444"]),
            ("1.25694444444444", &["30:10", "1.25694444444444"]),
            ("46054", &["1/2", "2/1", "1-2", "2-1", "46054"]),
            ("2.5", &[]),
            ("20", &[]),
        ];
        for (digits, wanted) in cases {
            let cell = cell(Content::Number(digits.to_owned()), "@");
            assert_eq!(typed(&cell, 2026).text, digits);
            assert_eq!(readings(&cell), wanted, "{digits}");
        }
    }

    #[test]
    fn a_text_on_the_screen_tells_as_much_as_a_format() {
        let cases: [(&str, &str, &[&str]); 8] = [
            ("5", "5,00 kr", &["5kr", "5"]),
            ("5", "$5.00", &["$5", "5"]),
            ("2.5", "2 1/2", &["2 1/2", "5/2", "2.5"]),
            ("0.5", "50.00%", &["50%", "0.5"]),
            ("1000", "1.00E+03", &["1000", "1e3"]),
            ("5", "£5.00", &["£5", "5"]),
            ("1200", "1,200.00", &[]),
            ("-3", "-3.00", &["-3", "(3)"]),
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
        for formula in ["-1:3", "-[.1:.3]", "-$1:$3"] {
            let cell = with(Content::Fault("#VALUE!".to_owned()), formula);
            assert_eq!(readings(&cell), ["-3:1", "-1:3"], "{formula}");
        }
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
    fn a_csv_file_keeps_the_dates_and_times_that_a_program_made() {
        let march = &["1/3", "3/1", "1-3", "3-1"];
        let cases: [(&str, &[&str]); 14] = [
            ("01/03/2026", march),
            ("2026-03-01", march),
            ("2026-03-01 00:00:00", march),
            ("01/03/26", &["1/3", "3/1", "1-3", "3-1", "01/03/26"]),
            ("01-Mar", march),
            ("01-mars", march),
            ("1. Mrz", &["1/3", "3/1", "1.3", "3.1", "1-3", "3-1"]),
            ("Dec-36", &["12/36", "12-36"]),
            ("03:01:00", &["3:1"]),
            ("03:01:00 AM", &["3:1"]),
            ("3:01 PM", &["15:1"]),
            ("12:01:00 AM", &["0:1"]),
            ("-03:01:00", &["-3:1"]),
            ("30:10:00", &["30:10"]),
        ];
        for (text, wanted) in cases {
            let cell = cells::Cell::plain(Content::Text(text.to_owned()));
            assert_eq!(readings(&cell), wanted, "{text}");
            assert_eq!(typed(&cell, 2026).text, text);
        }
    }

    #[test]
    fn the_text_on_the_screen_tells_how_a_time_or_date_was_typed() {
        let shown = |content, shown: &str| cells::Cell {
            content,
            look: Some(Box::new(cells::Look {
                shown: shown.to_owned(),
                ..cells::Look::default()
            })),
        };
        let time = |milliseconds| Content::Time { milliseconds };
        let date = |year, month, day| Content::Date { year, month, day };
        for (content, text, wanted) in [
            (time(62_000), "01:02", "1:2"),
            (time(62_000), "00:01:02", "0:1:2"),
            (date(1936, 12, 1), "Dec-36", "12/36"),
            (date(2026, 3, 1), "03/01/26", "3/1"),
            (date(2026, 3, 1), "01/03/26", "1/3"),
        ] {
            let found = readings(&shown(content, text));
            assert_eq!(found.first().map(String::as_str), Some(wanted), "{text}");
        }
        let carried = readings(&shown(time(46_800_000), "13:00:00"));
        assert_eq!(carried, ["13:0", "12:60"]);
    }

    #[test]
    fn true_and_false_are_known_in_the_languages_of_spreadsheet_programs() {
        for (text, wanted) in [("WAHR", "TRUE"), ("VRAI", "TRUE"), ("FAUX", "FALSE")] {
            let cell = cells::Cell::plain(Content::Text(text.to_owned()));
            assert_eq!(readings(&cell), [wanted]);
        }
    }

    #[test]
    fn digits_beyond_the_fifteenth_are_noise() {
        for (digits, wanted) in [
            ("2.9999999999999996", "3"),
            ("3.0000000000000004", "3"),
            ("0.33299999999999996", "0.333"),
            ("0.333333333333333", "0.333333333333333"),
            ("1200.0000000000002", "1200"),
            ("-2.5", "-2.5"),
            ("123456789012345678", "123456789012345678"),
        ] {
            let cell = cells::Cell::plain(Content::Number(digits.to_owned()));
            assert_eq!(typed(&cell, 2026).text, wanted);
        }
    }

    #[test]
    fn what_was_typed_as_text_is_left_alone() {
        for text in [
            "3:1",
            " 1/2 ",
            "clockwise",
            "=60/3",
            "007",
            "2:1:3",
            "1/2/3",
            "10/12/36",
            "10 30 20",
            "10-30-20",
            "03:01",
            "Mar",
        ] {
            let cell = cells::Cell::plain(Content::Text(text.to_owned()));
            let found = typed(&cell, 2026);
            assert_eq!(found.text, text);
            assert!(found.undone.is_empty());
        }
    }
}
