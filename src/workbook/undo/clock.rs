//! Times and dates that were ratios and fractions.

use crate::answer;
use crate::date;
use crate::workbook::cells;
use crate::workbook::number_format;
use crate::workbook::undo;

/// How many years after the homework a date without a typed year may carry.
const YEARS_AFTER: i32 = 5;

/// The day that spreadsheet programs count from, as a day of the epoch 1970.
const DAY_ZERO: i64 = -25_569;

/// Returns what may have been typed for a time or a length of time.
pub(super) fn time(milliseconds: i64, cell: &cells::Cell) -> answer::Typed {
    let all = milliseconds.unsigned_abs();
    let sign = if milliseconds < 0 { "-" } else { "" };
    let (hours, minutes) = (all / 3_600_000, all / 60_000 % 60);
    let (seconds, thousandths) = (all / 1_000 % 60, all % 1_000);
    let part = if thousandths == 0 {
        String::new()
    } else {
        format!(".{thousandths:03}")
            .trim_end_matches('0')
            .to_owned()
    };
    let shown = format!("{sign}{hours:02}:{minutes:02}:{seconds:02}{part}");
    let code = cell.format();
    // Two numbers on the screen, where the time has seconds, are minutes and seconds.
    let is_without_hours = number_format::is_without_hours(code)
        || (code.is_empty() && cell.shown().matches(':').count() == 1);
    let mut texts = Vec::new();
    if !part.is_empty() {
        // Only minutes and seconds can be typed with a decimal part: 1:2.5.
        if hours == 0 {
            texts.push(format!("{minutes}:{seconds}{part}"));
        }
        texts.push(format!("{hours}:{minutes}:{seconds}{part}"));
    } else if seconds != 0 {
        if hours == 0 && is_without_hours {
            texts.push(format!("{minutes}:{seconds}"));
        }
        texts.push(format!("{hours}:{minutes}:{seconds}"));
        if hours == 0 && !is_without_hours {
            texts.push(format!("{minutes}:{seconds}"));
        }
    } else {
        texts.push(format!("{hours}:{minutes}"));
        // Some programs carry sixty minutes and more into the hours, and show a length
        // of time. Where that cannot be told, only nought minutes are as odd as that.
        let may_be_carried = number_format::is_elapsed(code) || (code.is_empty() && minutes == 0);
        if may_be_carried && (1..24).contains(&hours) {
            texts.push(format!("{}:{}", hours - 1, minutes + 60));
        }
    }
    let why = format!("the cell holds the time {shown}");
    answer::Typed {
        text: shown,
        undone: texts
            .into_iter()
            .map(|text| undo::undone(format!("{sign}{text}"), &why))
            .collect(),
    }
}

/// A date.
#[derive(Clone, Copy)]
pub(super) struct Calendar {
    /// The year.
    pub(super) year: i32,
    /// The month, from 1.
    pub(super) month: u32,
    /// The day of the month, from 1.
    pub(super) day: u32,
}

/// Returns what may have been typed for a date.
pub(super) fn date(date: Calendar, cell: &cells::Cell, year_set: i32) -> answer::Typed {
    let Calendar { year, month, day } = date;
    let index = usize::try_from(month.saturating_sub(1)).unwrap_or_default();
    let name = date::MONTHS.get(index).copied().unwrap_or("?");
    let shown = format!("{day} {name} {year}");
    let short = year.rem_euclid(100);
    let day_first = format!("{day}/{month}");
    let month_first = format!("{month}/{day}");
    let mut texts = Vec::new();
    let code = cell.format();
    // Typed without a year, a date gets the year in which it was typed.
    let year_made_up = year_set > 0 && !(year_set..=year_set + YEARS_AFTER).contains(&year);
    let month_and_year = [format!("{month}/{short}"), format!("{month}/{short:02}")];
    if number_format::is_month_and_year(code) || is_shown_as_month_and_year(cell.shown()) {
        texts.extend(month_and_year);
        // Digits that could be a day were typed as a month's name: in either order.
        if (1..=31).contains(&short) {
            texts.push(format!("{short}/{month}"));
        }
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
        if year_made_up && day == 1 {
            texts.push(format!("{day}/{month}/{short}"));
        }
    }
    // Typed with a hyphen it became the same date, and with a full stop where dates
    // are written so. Nobody takes a number from itself.
    let is_dotted = code.contains('.') || cell.shown().contains('.');
    let slashed = texts.clone();
    if is_dotted {
        texts.extend(slashed.iter().map(|text| text.replace('/', ".")));
    }
    if day != month {
        texts.extend(slashed.iter().map(|text| text.replace('/', "-")));
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
        undone: texts
            .into_iter()
            .map(|text| undo::undone(text, &why))
            .collect(),
    }
}

/// Says whether a text on the screen is a month's name and a year: `Dec-36`, `May 1936`.
fn is_shown_as_month_and_year(shown: &str) -> bool {
    let mut signs = shown.trim().chars();
    let is_name_first = signs.next().is_some_and(char::is_alphabetic);
    let digits: Vec<&str> = shown
        .split(|sign: char| !sign.is_ascii_digit())
        .filter(|digits| !digits.is_empty())
        .collect();
    is_name_first && matches!(digits.as_slice(), [year] if matches!(year.len(), 2 | 4))
}

/// Returns what may have been typed where a csv file keeps the date or time that a
/// spreadsheet program had made of it: `01/03/2026`, `01.03.26`, `2026-03-01`,
/// `01-Mar`, `03:01:00`.
///
/// None for any other text. The text itself stays what is shown.
pub(super) fn from_text(text: &str, year_set: i32) -> Option<answer::Typed> {
    let trimmed = text.trim();
    let with_format = |format: &str| cells::Cell {
        content: cells::Content::Text(String::new()),
        look: Some(Box::new(cells::Look {
            format: format.to_owned(),
            ..cells::Look::default()
        })),
    };
    let mut found = time_of(trimmed)
        .map(|milliseconds| time(milliseconds, &with_format("")))
        .or_else(|| {
            let (calendar, format) = calendar_of(trimmed, year_set)?;
            let mut found = date(calendar, &with_format(format), year_set);
            if is_of_two_digits(trimmed) {
                let why = "the cell holds the text as it stands";
                found.undone.push(undo::undone(trimmed, why));
            }
            Some(found)
        })?;
    text.clone_into(&mut found.text);
    Some(found)
}

/// `03:01:00`, `-03:01:00`, `3:01 AM`: two digits each, as programs write them, but
/// for the hours where the half of the day stands behind.
fn time_of(text: &str) -> Option<i64> {
    let (text, sign) = match text.strip_prefix('-') {
        Some(rest) => (rest, -1),
        None => (text, 1),
    };
    let (clock, half) = match text.split_once(' ') {
        Some((clock, half)) => (clock, Some(half.to_ascii_lowercase())),
        None => (text, None),
    };
    let is_afternoon = match half.as_deref() {
        None => None,
        Some("am") => Some(false),
        Some("pm") => Some(true),
        Some(_) => return None,
    };
    let parts: Vec<&str> = clock.split(':').collect();
    let (hours, minutes, seconds) = match (parts.as_slice(), is_afternoon) {
        ([hours, minutes, seconds], _) => (*hours, *minutes, *seconds),
        ([hours, minutes], Some(_)) => (*hours, *minutes, "00"),
        (_, Some(_) | None) => return None,
    };
    let fewest = if is_afternoon.is_some() { 1 } else { 2 };
    if hours.len() < fewest || minutes.len() != 2 || seconds.len() != 2 {
        return None;
    }
    let number = |digits: &str| {
        let is_number = digits.len() <= 6 && digits.chars().all(|sign| sign.is_ascii_digit());
        is_number.then(|| digits.parse::<i64>().ok()).flatten()
    };
    let (hours, minutes, seconds) = (number(hours)?, number(minutes)?, number(seconds)?);
    if minutes > 59 || seconds > 59 {
        return None;
    }
    let hours = match is_afternoon {
        Some(true) if hours < 12 => hours + 12,
        Some(false) if hours == 12 => 0,
        Some(_) | None => hours,
    };
    Some(sign * ((hours * 60 + minutes) * 60 + seconds) * 1000)
}

/// A date in the writings of spreadsheet programs, with the format code that shows so.
fn calendar_of(text: &str, year_set: i32) -> Option<(Calendar, &'static str)> {
    let text = text.strip_suffix(" 00:00:00").unwrap_or(text);
    let is_dotted = text.contains('.');
    let text = text.replace(". ", ".");
    let number = |digits: &str| digits.parse::<u32>().ok();
    let year = |digits: &str| {
        (digits.len() == 4)
            .then(|| digits.parse::<i32>().ok())
            .flatten()
    };
    let parts: Vec<&str> = text.split(['/', '-', '.']).collect();
    let day_first = if is_dotted { "dd.mm.yy" } else { "dd/mm/yy" };
    match parts.as_slice() {
        // ISO 8601, which LibreOffice and others write.
        [first, month, day] if year(first).is_some() && text.contains('-') => Some((
            calendar(year(first)?, number(month)?, number(day)?)?,
            "dd/mm/yy",
        )),
        [day, month, last] => {
            let year = year(last).or_else(|| {
                let year = full_year(last).filter(|_| is_of_two_digits(&text))?;
                // Three gears are written so too: only the year that a program makes up.
                (year_set..=year_set + YEARS_AFTER)
                    .contains(&year)
                    .then_some(year)
            })?;
            let (day, month) = (number(day)?, number(month)?);
            calendar(year, month, day)
                .map(|date| (date, day_first))
                .or_else(|| calendar(year, day, month).map(|date| (date, "mm/dd/yy")))
        }
        // `01-Mar`, `1. Mrz`, `Mar-36`.
        [first, second] => match (month_number(first), month_number(second)) {
            (None, Some(month)) => Some((calendar(year_set, month, number(first)?)?, day_first)),
            (Some(month), None) if second.len() == 2 => {
                Some((calendar(full_year(second)?, month, 1)?, "mmm-yy"))
            }
            (Some(_) | None, Some(_) | None) => None,
        },
        _ => None,
    }
}

/// Says whether a text is three parts of two digits each, as programs write a date:
/// `01/03/26`.
fn is_of_two_digits(text: &str) -> bool {
    let parts: Vec<&str> = text.split(['/', '-', '.']).collect();
    parts.len() == 3
        && parts
            .iter()
            .all(|part| part.len() == 2 && part.chars().all(|sign| sign.is_ascii_digit()))
}

/// The year that programs take two digits for: those from 30 on are of the last century.
fn full_year(digits: &str) -> Option<i32> {
    let short: i32 = digits.parse().ok()?;
    (0..100)
        .contains(&short)
        .then_some(short + if short < 30 { 2000 } else { 1900 })
}

fn calendar(year: i32, month: u32, day: u32) -> Option<Calendar> {
    ((1..=12).contains(&month) && (1..=31).contains(&day)).then_some(Calendar { year, month, day })
}

/// The number of a month by its name as programs shorten it, in English, German or
/// French; a full stop behind it does not count.
fn month_number(name: &str) -> Option<u32> {
    const SHORT: [&[&str]; 12] = [
        &["jan", "janv"],
        &["feb", "févr"],
        &["mar", "mär", "mrz", "mars"],
        &["apr", "avr"],
        &["may", "mai"],
        &["jun", "juin"],
        &["jul", "juil"],
        &["aug", "août"],
        &["sep", "sept"],
        &["oct", "okt"],
        &["nov"],
        &["dec", "dez", "déc"],
    ];
    let name = name.to_lowercase();
    let index = SHORT
        .iter()
        .position(|spelt| spelt.contains(&name.as_str()))?;
    u32::try_from(index + 1).ok()
}

/// Returns the date of a whole serial number of a spreadsheet program.
///
/// Source: Howard Hinnant, "chrono-Compatible Low-Level Date Algorithms",
/// `civil_from_days`, on days from 1 March of the year 0.
pub(super) fn date_of_serial(serial: i64) -> Option<Calendar> {
    let days = serial + DAY_ZERO + 719_468;
    let era = days.div_euclid(146_097);
    let day_of_era = days.rem_euclid(146_097);
    let year_of_era =
        (day_of_era - day_of_era / 1_460 + day_of_era / 36_524 - day_of_era / 146_096) / 365;
    let day_of_year = day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    let shifted_month = (5 * day_of_year + 2) / 153;
    let day = day_of_year - (153 * shifted_month + 2) / 5 + 1;
    let month = if shifted_month < 10 {
        shifted_month + 3
    } else {
        shifted_month - 9
    };
    let year = year_of_era + era * 400 + i64::from(month <= 2);
    Some(Calendar {
        year: i32::try_from(year).ok()?,
        month: u32::try_from(month).ok()?,
        day: u32::try_from(day).ok()?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn serial_numbers_become_dates() {
        for (serial, wanted) in [
            (36_951, (2001, 3, 1)),
            (46_025, (2026, 1, 3)),
            (46_082, (2026, 3, 1)),
            (45_351, (2024, 2, 29)),
        ] {
            let date = date_of_serial(serial).expect("a date");
            assert_eq!((date.year, date.month, date.day), wanted);
        }
    }
}
