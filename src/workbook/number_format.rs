//! What a number format code says of what was typed.
//!
//! A spreadsheet program that turns `50%` into 0.5 leaves the percent sign in
//! the cell's number format. Reads the first section of a code, such as
//! `# ?/?` or `[$£-809]#,##0.00`.

/// Whether a date or time format shows the clock or the calendar.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Clock {
    /// Hours, minutes or seconds, and no day or year.
    Time,
    /// A day, month or year.
    Date,
    /// The code does not tell.
    Unknown,
}

/// What a format shows of a number.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Shape {
    /// The digits, whatever their number.
    Plain,
    /// Hundredths with a percent sign.
    Percent,
    /// A fraction, whole part apart.
    Fraction {
        /// The largest denominator that is tried.
        largest: u32,
    },
    /// A power of ten apart.
    Scientific,
}

/// What stands around the number, and its shape.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Format {
    /// The shape of the number.
    pub shape: Shape,
    /// Text before the number, such as `£`.
    pub before: String,
    /// Text after the number, such as `:1`.
    pub after: String,
}

/// One sign of a code.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Sign {
    /// Shown as it stands.
    Literal(char),
    /// A sign with a meaning.
    Meaning(char),
    /// A letter of a length of time in brackets, such as `[h]`.
    Elapsed,
}

/// Returns whether a date or time code shows the clock or the calendar.
#[must_use]
pub fn clock(code: &str) -> Clock {
    let mut letters = Vec::new();
    let mut elapsed = false;
    for sign in signs(code) {
        match sign {
            Sign::Meaning(letter) => letters.push(letter.to_ascii_lowercase()),
            Sign::Elapsed => elapsed = true,
            Sign::Literal(_) => {}
        }
    }
    let has = |letter: char| letters.contains(&letter);
    if elapsed {
        Clock::Time
    } else if has('d') || has('y') {
        Clock::Date
    } else if has('h') || has('s') {
        Clock::Time
    } else if has('m') {
        Clock::Date
    } else {
        Clock::Unknown
    }
}

/// Says whether a date code shows month and year but no day, such as `mmm-yy`.
#[must_use]
pub fn is_month_and_year(code: &str) -> bool {
    let has = |wanted: char| {
        signs(code).iter().any(
            |sign| matches!(sign, Sign::Meaning(letter) if letter.eq_ignore_ascii_case(&wanted)),
        )
    };
    has('m') && has('y') && !has('d')
}

/// Says whether a date code shows the month before the day, such as `mm/dd/yy`.
///
/// The code `mm-dd-yy` stands for whatever order the computer is set to, so it
/// does not count.
#[must_use]
pub fn is_month_first(code: &str) -> bool {
    if code == "mm-dd-yy" {
        return false;
    }
    let place = |wanted: char| {
        signs(code).iter().position(
            |sign| matches!(sign, Sign::Meaning(letter) if letter.eq_ignore_ascii_case(&wanted)),
        )
    };
    match (place('m'), place('d')) {
        (Some(month), Some(day)) => month < day,
        (Some(_) | None, Some(_) | None) => false,
    }
}

/// Says whether a code shows a length of time, such as `[h]:mm`.
#[must_use]
pub fn is_elapsed(code: &str) -> bool {
    signs(code).contains(&Sign::Elapsed)
}

/// Says whether a code shows no hours, such as `mm:ss`.
#[must_use]
pub fn is_without_hours(code: &str) -> bool {
    clock(code) == Clock::Time
        && !signs(code)
            .iter()
            .any(|sign| matches!(sign, Sign::Meaning('h' | 'H') | Sign::Elapsed))
}

/// Returns what a number format shows.
#[must_use]
pub fn understand(code: &str) -> Format {
    let signs = signs(code);
    let is_placeholder = |sign: &Sign| matches!(sign, Sign::Meaning('0' | '#' | '?'));
    let mut format = Format {
        shape: Shape::Plain,
        before: String::new(),
        after: String::new(),
    };
    let (Some(first), Some(last)) = (
        signs.iter().position(is_placeholder),
        signs.iter().rposition(is_placeholder),
    ) else {
        return format;
    };
    let has = |wanted: char| signs.contains(&Sign::Meaning(wanted));
    let literals = |part: &[Sign]| -> String {
        part.iter()
            .filter_map(|sign| match sign {
                Sign::Literal(letter) => Some(*letter),
                Sign::Meaning(_) | Sign::Elapsed => None,
            })
            .collect::<String>()
            .trim()
            .to_owned()
    };
    format.before = literals(signs.get(..first).unwrap_or_default());
    format.after = literals(signs.get(last + 1..).unwrap_or_default());
    let slash = signs.iter().position(|sign| *sign == Sign::Meaning('/'));
    if has('%') {
        format.shape = Shape::Percent;
    } else if has('E') || has('e') {
        format.shape = Shape::Scientific;
    } else if let Some(slash) = slash {
        let below = signs.get(slash + 1..).unwrap_or_default();
        let fixed: String = below
            .iter()
            .filter_map(|sign| match sign {
                Sign::Literal(digit) | Sign::Meaning(digit) if digit.is_ascii_digit() => {
                    Some(*digit)
                }
                Sign::Literal(_) | Sign::Meaning(_) | Sign::Elapsed => None,
            })
            .collect();
        let width = below.iter().filter(|sign| is_placeholder(sign)).count();
        let largest = match (fixed.parse::<u32>(), width) {
            (Ok(fixed), _) if fixed > 0 => fixed,
            (_, 0 | 1) => 9,
            (_, 2) => 99,
            (_, _) => 999,
        };
        format.shape = Shape::Fraction { largest };
    }
    format
}

/// Returns the signs of the first section of a code.
fn signs(code: &str) -> Vec<Sign> {
    let mut signs = Vec::new();
    let mut letters = code.chars();
    while let Some(letter) = letters.next() {
        match letter {
            '\\' => signs.extend(letters.next().map(Sign::Literal)),
            // Room as wide as the next sign, or the next sign repeated: nothing typed.
            '_' | '*' => {
                letters.next();
            }
            '"' => signs.extend(
                letters
                    .by_ref()
                    .take_while(|sign| *sign != '"')
                    .map(Sign::Literal),
            ),
            '[' => {
                let inside: String = letters.by_ref().take_while(|sign| *sign != ']').collect();
                if let Some(currency) = inside.strip_prefix('$') {
                    let symbol = currency.split('-').next().unwrap_or_default();
                    signs.extend(symbol.chars().map(Sign::Literal));
                } else if !inside.is_empty() && inside.chars().all(|sign| "hmsHMS".contains(sign)) {
                    signs.push(Sign::Elapsed);
                }
            }
            '0'..='9'
            | '#'
            | '?'
            | '%'
            | '/'
            | 'E'
            | 'e'
            | '.'
            | ','
            | '@'
            | 'd'
            | 'm'
            | 'y'
            | 'h'
            | 's'
            | 'D'
            | 'M'
            | 'Y'
            | 'H'
            | 'S' => {
                signs.push(Sign::Meaning(letter));
            }
            // The end of the first section, and the word General.
            ';' | 'G' | 'g' => break,
            other => signs.push(Sign::Literal(other)),
        }
    }
    signs
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn formats_tell_what_stands_around_a_number() {
        let cases = [
            ("General", Shape::Plain, "", ""),
            ("0.00%", Shape::Percent, "", ""),
            ("# ?/?", Shape::Fraction { largest: 9 }, "", ""),
            ("#\\ ??/??", Shape::Fraction { largest: 99 }, "", ""),
            ("# ?/8", Shape::Fraction { largest: 8 }, "", ""),
            ("0.00E+00", Shape::Scientific, "", ""),
            ("#,##0", Shape::Plain, "", ""),
            (
                "[$£-809]#,##0.00;[RED]\\-[$£-809]#,##0.00",
                Shape::Plain,
                "£",
                "",
            ),
            ("\\£#,##0.00", Shape::Plain, "£", ""),
            ("0\":1\"", Shape::Plain, "", ":1"),
            ("0\" turns\"", Shape::Plain, "", "turns"),
        ];
        for (code, shape, before, after) in cases {
            let format = understand(code);
            assert_eq!(
                (format.shape, format.before.as_str(), format.after.as_str()),
                (shape, before, after),
                "{code}"
            );
        }
    }

    #[test]
    fn clock_and_calendar_are_told_apart() {
        for code in [
            "hh:mm:ss",
            "h:mm",
            "[h]:mm:ss",
            "mm:ss.00",
            "hh:mm:ss\\ AM/PM",
            "[mm]",
        ] {
            assert_eq!(clock(code), Clock::Time, "{code}");
        }
        for code in [
            "dd/mm/yy",
            "d\\-mmm",
            "mmm-yy",
            "mm-dd-yy",
            "mmm",
            "m/d/yy h:mm",
        ] {
            assert_eq!(clock(code), Clock::Date, "{code}");
        }
        assert_eq!(clock(""), Clock::Unknown);
        assert!(is_month_and_year("mmm-yy") && !is_month_and_year("d-mmm-yy"));
        assert!(is_month_first("mm/dd/yy") && !is_month_first("dd/mm/yy"));
        assert!(!is_month_first("mm-dd-yy"));
        assert!(is_without_hours("mm:ss.00") && !is_without_hours("[h]:mm:ss"));
        assert!(is_elapsed("[hh]:mm:ss") && !is_elapsed("hh:mm:ss"));
    }
}
