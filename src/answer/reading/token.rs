//! Tidied text as numerals, words and signs.

use crate::number;
use winnow::Parser;
use winnow::ascii::digit1;
use winnow::combinator::alt;
use winnow::combinator::opt;
use winnow::combinator::repeat;
use winnow::token::any;
use winnow::token::one_of;
use winnow::token::take_while;

/// One piece of an answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Token {
    /// What it is.
    pub(super) kind: Kind,
    /// Whether it follows the piece before without a space.
    pub(super) glued: bool,
}

/// What a piece of an answer is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Kind {
    /// A number in digits.
    Numeral(Numeral),
    /// Digits and points that make no number, such as `3.1.2`.
    Odd(String),
    /// Letters, without apostrophes.
    Word(String),
    /// Any other sign.
    Sign(char),
}

/// A number in digits.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Numeral {
    /// The digits as written.
    pub(super) text: String,
    /// Its value.
    pub(super) value: number::Number,
    /// How many decimal places were written.
    pub(super) places: u8,
    /// Whether the letter o was typed for a nought.
    pub(super) has_letter: bool,
}

impl Numeral {
    /// Whether it is written with digits alone.
    pub(super) fn is_plain(&self) -> bool {
        self.text.bytes().all(|byte| byte.is_ascii_digit())
    }
}

impl Token {
    /// The word it is, if it is one.
    pub(super) fn word(&self) -> Option<&str> {
        match &self.kind {
            Kind::Word(word) => Some(word),
            Kind::Numeral(_) | Kind::Odd(_) | Kind::Sign(_) => None,
        }
    }

    /// The sign it is, if it is one.
    pub(super) fn sign(&self) -> Option<char> {
        match &self.kind {
            Kind::Sign(sign) => Some(*sign),
            Kind::Numeral(_) | Kind::Odd(_) | Kind::Word(_) => None,
        }
    }

    /// The numeral it is, if it is one.
    pub(super) fn numeral(&self) -> Option<&Numeral> {
        match &self.kind {
            Kind::Numeral(numeral) => Some(numeral),
            Kind::Odd(_) | Kind::Word(_) | Kind::Sign(_) => None,
        }
    }
}

/// Returns the pieces of a tidied text.
pub(super) fn tokens(text: &str) -> Vec<Token> {
    let mut rest = text;
    let mut found: Vec<Token> = Vec::new();
    let mut glued = false;
    while !rest.is_empty() {
        let spaces: winnow::Result<&str> =
            take_while(1.., |sign: char| sign == ' ').parse_next(&mut rest);
        if spaces.is_ok() {
            glued = false;
            continue;
        }
        let after_piece = glued && found.last().is_some_and(|token| token.sign().is_none());
        let piece: winnow::Result<Kind> = if after_piece {
            alt((numeral, word, sign)).parse_next(&mut rest)
        } else {
            alt((bare_decimal, numeral, word, sign)).parse_next(&mut rest)
        };
        // Any character is at least a sign, so that the loop always moves on.
        let Ok(kind) = piece else { break };
        found.push(Token { kind, glued });
        glued = true;
    }
    join_initials(without_hyphens(&with_noughts(found)))
}

/// `3o`, `1o8`: the letter o right behind digits is a nought.
fn with_noughts(tokens: Vec<Token>) -> Vec<Token> {
    let mut found: Vec<Token> = Vec::new();
    for token in tokens {
        let before = found.last_mut().filter(|_| token.glued);
        let before = before.and_then(|before| match &mut before.kind {
            Kind::Numeral(numeral) if numeral.is_plain() => Some(numeral),
            Kind::Numeral(_) | Kind::Odd(_) | Kind::Word(_) | Kind::Sign(_) => None,
        });
        let joined = before.and_then(|numeral| {
            let behind = match &token.kind {
                Kind::Word(word) if word.chars().all(|sign| sign == 'o') => {
                    "0".repeat(word.chars().count())
                }
                Kind::Numeral(digits) if numeral.has_letter && digits.is_plain() => {
                    digits.text.clone()
                }
                Kind::Numeral(_) | Kind::Odd(_) | Kind::Word(_) | Kind::Sign(_) => return None,
            };
            let Some(Kind::Numeral(whole)) = read_numeral(&format!("{}{behind}", numeral.text))
            else {
                return None;
            };
            *numeral = Numeral {
                has_letter: true,
                ..whole
            };
            Some(())
        });
        if joined.is_none() {
            found.push(token);
        }
    }
    found
}

/// `two-thirds`: a hyphen between two words joins them as a space does.
fn without_hyphens(tokens: &[Token]) -> Vec<Token> {
    let is_hyphen = |index: usize| {
        let word = |index: usize| tokens.get(index).and_then(Token::word).is_some();
        let glued = |index: usize| tokens.get(index).is_some_and(|token| token.glued);
        index > 0
            && tokens.get(index).and_then(Token::sign) == Some('-')
            && glued(index)
            && glued(index + 1)
            && word(index - 1)
            && word(index + 1)
    };
    let kept: Vec<usize> = (0..tokens.len())
        .filter(|index| !is_hyphen(*index))
        .collect();
    kept.into_iter()
        .filter_map(|index| {
            let mut token = tokens.get(index)?.clone();
            token.glued &= index == 0 || !is_hyphen(index - 1);
            Some(token)
        })
        .collect()
}

/// `r.p.m.` and `a.c.w` become one word, `n.cm` too.
fn join_initials(tokens: Vec<Token>) -> Vec<Token> {
    let mut joined: Vec<Token> = Vec::new();
    for mut token in tokens {
        if let (Kind::Word(word), Some(before)) = (&token.kind, joined.last())
            && token.glued
            && before.glued
            && before.sign() == Some('.')
            && word.chars().count() <= 2
        {
            let initials = joined
                .len()
                .checked_sub(2)
                .and_then(|index| joined.get(index))
                .and_then(Token::word)
                .filter(|initials| INITIALS.iter().any(|known| known.starts_with(initials)))
                .map(|initials| format!("{initials}{word}"));
            if let Some(both) = initials
                && INITIALS.iter().any(|known| known.starts_with(&both))
            {
                joined.pop();
                if let Some(before) = joined.pop() {
                    token = Token {
                        kind: Kind::Word(both),
                        glued: before.glued,
                    };
                }
            }
        }
        joined.push(token);
    }
    joined
}

/// What people write with points between the letters.
const INITIALS: [&str; 9] = ["rpm", "acw", "ccw", "cw", "ncm", "nm", "tpm", "dp", "sf"];

fn word(rest: &mut &str) -> winnow::Result<Kind> {
    let letter = |sign: char| sign.is_alphabetic();
    (
        take_while(1.., letter),
        repeat::<_, _, (), _, _>(0.., ('\'', take_while(1.., letter))),
    )
        .take()
        .map(|text: &str| Kind::Word(text.replace('\'', "")))
        .parse_next(rest)
}

fn sign(rest: &mut &str) -> winnow::Result<Kind> {
    any.map(Kind::Sign).parse_next(rest)
}

/// `.5`
fn bare_decimal(rest: &mut &str) -> winnow::Result<Kind> {
    ('.', digit1)
        .take()
        .verify_map(|text: &str| read_numeral(&format!("0{text}")))
        .parse_next(rest)
}

fn numeral(rest: &mut &str) -> winnow::Result<Kind> {
    let digits = (
        digit1,
        repeat::<_, _, (), _, _>(0.., (one_of(['.', ',', '\'']), digit1)),
        opt((one_of(['e', 'E']), opt(one_of(['+', '-'])), digit1)),
    );
    digits.take().verify_map(read_numeral).parse_next(rest)
}

/// Returns digits with points and commas as a number, or as an odd piece.
fn read_numeral(text: &str) -> Option<Kind> {
    let odd = || Kind::Odd(text.to_owned());
    let (digits, power) = match text.split_once('e') {
        Some((digits, power)) => (digits, power.parse::<i8>().ok()?),
        None => (text, 0),
    };
    let Some(plain) = plain_decimal(digits) else {
        return Some(odd());
    };
    let places = plain.split_once('.').map_or(0, |(_, part)| part.len());
    let value = plain.parse().ok().and_then(|value| times_ten(value, power));
    Some(match (value, u8::try_from(places)) {
        (Some(value), Ok(places)) if text.len() <= LONGEST => Kind::Numeral(Numeral {
            text: text.to_owned(),
            value,
            places: if power == 0 { places } else { 0 },
            has_letter: false,
        }),
        (Some(_) | None, Ok(_) | Err(_)) => odd(),
    })
}

/// The longest numeral that is taken for one.
const LONGEST: usize = 24;

fn times_ten(value: number::Number, power: i8) -> Option<number::Number> {
    if power.unsigned_abs() > 9 {
        return None;
    }
    let tens = number::Number::whole(10_i64.checked_pow(power.unsigned_abs().into())?);
    if power < 0 {
        value.divided_by(tens).ok()
    } else {
        value.times(tens).ok()
    }
}

/// Returns the digits with a point for the decimals and no other sign.
///
/// A comma before exactly three digits parts thousands, as in `1,200`; before any
/// other number of digits it is a decimal comma, as in `2,5`.
fn plain_decimal(digits: &str) -> Option<String> {
    let digits = digits.replace('\'', ",");
    let points = digits.matches('.').count();
    let commas = digits.matches(',').count();
    match (points, commas) {
        (0 | 1, 0) => Some(digits),
        (0, 1) if !is_grouped(&digits, ',') => Some(digits.replace(',', ".")),
        (0, _) => is_grouped(&digits, ',').then(|| digits.replace(',', "")),
        (1, _) => {
            let (before, after) = digits.split_once('.')?;
            if after.contains(',') {
                // 1.200,50 as written on the Continent.
                let (whole, part) = digits.rsplit_once(',')?;
                let fits = !part.contains('.') && is_grouped(whole, '.') && commas == 1;
                return fits.then(|| format!("{}.{part}", whole.replace('.', "")));
            }
            is_grouped(before, ',').then(|| format!("{}.{after}", before.replace(',', "")))
        }
        (_, 0) => is_grouped(&digits, '.').then(|| digits.replace('.', "")),
        (_, _) => None,
    }
}

/// Whether the sign parts groups of three digits, the first of one to three and
/// not beginning with nought.
fn is_grouped(digits: &str, sign: char) -> bool {
    let mut groups = digits.split(sign);
    let first = groups.next().unwrap_or_default();
    !first.starts_with('0')
        && (1..=3).contains(&first.len())
        && groups.all(|group| group.len() == 3)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str) -> String {
        let shown: Vec<String> = tokens(text)
            .iter()
            .map(|token| match &token.kind {
                Kind::Numeral(numeral) => format!("{}~{}", numeral.value, numeral.places),
                Kind::Odd(text) => format!("odd {text}"),
                Kind::Word(word) => word.clone(),
                Kind::Sign(sign) => sign.to_string(),
            })
            .collect();
        shown.join(" ")
    }

    #[test]
    fn digits_are_read_with_points_and_commas() {
        for (text, shown) in [
            ("27", "27~0"),
            ("2.50", "5/2~2"),
            (".5", "1/2~1"),
            ("27.", "27~0 ."),
            ("2,5", "5/2~1"),
            ("1,200", "1200~0"),
            ("0,125", "1/8~3"),
            ("1,234.5", "2469/2~1"),
            ("1.234.567", "1234567~0"),
            ("1.200,50", "2401/2~2"),
            ("1'200", "1200~0"),
            ("3.1.2", "odd 3.1.2"),
            ("1e3", "1000~0"),
            ("2.5e-1", "1/4~0"),
            ("007", "7~0"),
            (
                "99999999999999999999999999",
                "odd 99999999999999999999999999",
            ),
        ] {
            assert_eq!(check(text), shown, "{text}");
        }
    }

    #[test]
    fn words_and_signs_are_kept_apart() {
        for (text, shown) in [
            ("3rpm", "3~0 rpm"),
            ("20 r.p.m.", "20~0 rpm ."),
            ("don't know", "dont know"),
            ("a.c.w", "acw"),
            ("5 n.cm", "5~0 ncm"),
            ("ans.5", "ans . 5~0"),
            ("x3", "x 3~0"),
            ("3:1", "3~0 : 1~0"),
            ("3o turns", "30~0 turns"),
            ("1o8", "108~0"),
            ("3 o", "3~0 o"),
            ("2.5o", "5/2~1 o"),
        ] {
            assert_eq!(check(text), shown, "{text}");
        }
    }
}
