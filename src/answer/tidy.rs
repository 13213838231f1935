//! The many characters of typed text made few, before anything is read.
//!
//! A table of ours and not a compatibility normal form: that would turn `2²` into
//! `22` and `2½` into `21/2`.

use unicode_normalization::UnicodeNormalization;

/// How many characters of an answer are read.
const LIMIT: usize = 400;

/// Text fit to be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Tidied {
    /// Lower case, plain digits and signs.
    pub(super) text: String,
    /// Whether there was more than is read.
    pub(super) cut: bool,
}

/// Returns the text in lower case with plain digits, signs and spaces.
pub(super) fn tidy(text: &str) -> Tidied {
    let mut tidied = String::new();
    let whole = with_crosses(text);
    let mut signs = whole.chars().take(LIMIT).nfc().peekable();
    while let Some(sign) = signs.next() {
        if let Some(fraction) = raised_fraction(sign, &mut signs) {
            tidied.push_str(&fraction);
            continue;
        }
        let is_between_digits =
            tidied.ends_with(is_digit) && signs.peek().is_some_and(|next| next.is_numeric());
        if sign == '·' && is_between_digits {
            // The raised point of British handwriting: 2·5.
            tidied.push('.');
        } else {
            push_plain(&mut tidied, sign);
        }
    }
    Tidied {
        text: tidied,
        cut: text.chars().nth(LIMIT).is_some(),
    }
}

/// Returns the text with a cross behind whatever is struck through: by a stroke over
/// each letter, or between two tildes as chat programs write it.
fn with_crosses(text: &str) -> String {
    let mut crossed = String::new();
    let mut pieces = text.split("~~");
    crossed.push_str(pieces.next().unwrap_or_default());
    let rest: Vec<&str> = pieces.collect();
    for (index, piece) in rest.iter().enumerate() {
        crossed.push_str(piece);
        let closes = index.is_multiple_of(2) && index + 1 < rest.len();
        crossed.push_str(if closes { " ✗ " } else { "" });
    }
    if !crossed.chars().any(is_stroke) {
        return crossed;
    }
    let mut marked = String::new();
    let mut signs = crossed.chars().peekable();
    let mut crossing = false;
    while let Some(sign) = signs.next() {
        if is_stroke(sign) {
            continue;
        }
        let is_struck = signs.peek().copied().is_some_and(is_stroke);
        if crossing && !is_struck && !sign.is_whitespace() {
            marked.push_str(" ✗ ");
            crossing = false;
        }
        crossing |= is_struck;
        marked.push(sign);
    }
    if crossing {
        marked.push_str(" ✗ ");
    }
    marked
}

/// A stroke laid over the letter before it.
fn is_stroke(sign: char) -> bool {
    ('\u{0334}'..='\u{0338}').contains(&sign)
}

/// Reads `¹⁄₂`: raised digits before a fraction stroke. A raised digit elsewhere is a
/// power.
fn raised_fraction(
    first: char,
    rest: &mut std::iter::Peekable<impl Iterator<Item = char> + Clone>,
) -> Option<String> {
    let mut top = String::new();
    top.push(raised(first)?);
    let mut ahead = rest.clone();
    while let Some(digit) = ahead.peek().copied().and_then(raised) {
        top.push(digit);
        ahead.next();
    }
    if !matches!(ahead.next(), Some('⁄' | '/' | '∕')) {
        return None;
    }
    *rest = ahead;
    Some(format!(" {top}/"))
}

fn raised(sign: char) -> Option<char> {
    "⁰¹²³⁴⁵⁶⁷⁸⁹"
        .chars()
        .position(|known| known == sign)
        .and_then(|value| char::from_digit(u32::try_from(value).ok()?, 10))
}

fn is_digit(sign: char) -> bool {
    sign.is_ascii_digit()
}

fn push_plain(text: &mut String, sign: char) {
    if let Some(digit) = digit(sign) {
        text.push(digit);
    } else if let Some(plain) = plain_text(sign) {
        text.push_str(plain);
    } else if let Some(full) = full_width(sign) {
        push_plain(text, full);
    } else if sign == '\n' || sign == '\r' {
        // A line ends a thing said, as a semicolon does.
        text.push_str(" ; ");
    } else if sign.is_whitespace() || sign.is_control() {
        text.push(' ');
    } else {
        text.extend(sign.to_lowercase());
    }
}

/// The plain form of a full-width letter or sign.
fn full_width(sign: char) -> Option<char> {
    let code = u32::from(sign);
    if (0xFF01..=0xFF5E).contains(&code) {
        char::from_u32(code - 0xFEE0)
    } else {
        None
    }
}

/// The first digit (nought) of the decimal digits of other scripts.
///
/// Source: Unicode character database, general category Nd, from memory.
const NOUGHTS: [u32; 25] = [
    0x0660, 0x06F0, 0x07C0, 0x0966, 0x09E6, 0x0A66, 0x0AE6, 0x0B66, 0x0BE6, 0x0C66, 0x0CE6, 0x0D66,
    0x0E50, 0x0ED0, 0x0F20, 0x1040, 0x17E0, 0x1810, 0xFF10, 0x1D7CE, 0x1D7D8, 0x1D7E2, 0x1D7EC,
    0x1D7F6, 0x1FBF0,
];

/// The plain digit that a digit of any script means.
fn digit(sign: char) -> Option<char> {
    let code = u32::from(sign);
    if (0x2080..=0x2089).contains(&code) {
        return char::from_digit(code - 0x2080, 10);
    }
    if (0x2460..=0x2468).contains(&code) {
        return char::from_digit(code - 0x245F, 10);
    }
    NOUGHTS
        .iter()
        .filter_map(|nought| code.checked_sub(*nought))
        .find_map(|value| char::from_digit(value, 10))
}

/// Characters that stand for others. Fractions get a space before them, so that
/// `2½` is two and a half.
fn plain_text(sign: char) -> Option<&'static str> {
    Some(match sign {
        '½' => " 1/2 ",
        '¼' => " 1/4 ",
        '¾' => " 3/4 ",
        '⅓' => " 1/3 ",
        '⅔' => " 2/3 ",
        '⅕' => " 1/5 ",
        '⅖' => " 2/5 ",
        '⅗' => " 3/5 ",
        '⅘' => " 4/5 ",
        '⅙' => " 1/6 ",
        '⅚' => " 5/6 ",
        '⅐' => " 1/7 ",
        '⅛' => " 1/8 ",
        '⅜' => " 3/8 ",
        '⅝' => " 5/8 ",
        '⅞' => " 7/8 ",
        '⅑' => " 1/9 ",
        '⅒' => " 1/10 ",
        '⁄' | '∕' | '／' => "/",
        '−' | '‐' | '‑' | '‒' | '–' | '—' | '―' | '﹣' => "-",
        '∶' | '：' | 'ː' | '꞉' => ":",
        '×' | '✕' | '✖' | '⨯' | '∗' | '⋅' | '·' | '∙' | '•' | '*' => "×",
        '≈' | '≅' | '≃' | '∼' | '˜' | '≐' | '≒' => "~",
        '‘' | '’' | '‛' | '′' | '`' | '´' | 'ʼ' => "'",
        '“' | '”' | '„' | '″' | '«' | '»' => "\"",
        '、' | '،' | '٫' => ",",
        '。' => ".",
        '…' => "...",
        // A dot above the last digit.
        '\u{0307}' => " recurring ",
        'π' | 'Π' => " pi ",
        '㎜' => "mm",
        '㎝' => "cm",
        '㎞' => "km",
        '㎏' => "kg",
        '→' | '⇒' | '➔' | '➜' | '➡' | '⟶' | '⟹' | '▶' | '►' | '👉' => "→",
        '←' | '⇐' | '⬅' | '⟵' | '◀' | '◄' | '👈' => "←",
        '↻' | '⟳' | '⤵' | '↷' | '🔃' | '🗘' | '⥁' => "↻",
        '↺' | '⟲' | '⤴' | '↶' | '🔄' | '⥀' => "↺",
        '✓' | '✔' | '☑' | '✅' | '👍' => "✓",
        '✗' | '✘' | '☒' | '❌' | '👎' => "✗",
        '\u{200B}'..='\u{200F}'
        | '\u{2060}'
        | '\u{FEFF}'
        | '\u{00AD}'
        | '\u{FE0E}'
        | '\u{FE0F}'
        | '\u{202A}'..='\u{202E}'
        | '\u{2066}'..='\u{2069}' => "",
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn odd_characters_become_plain() {
        for (typed, plain) in [
            ("２．５", "2.5"),
            ("2½", "2 1/2 "),
            ("3∶1", "3:1"),
            ("٣", "3"),
            ("३", "3"),
            ("③", "3"),
            ("−3", "-3"),
            ("Clockwise\u{200B}", "clockwise"),
            ("3\u{a0}turns", "3 turns"),
            ("2²", "2²"),
            ("2·5", "2.5"),
            ("2 · 5", "2 × 5"),
            ("9 × 4", "9 × 4"),
            ("don’t", "don't"),
            ("15㎜", "15mm"),
            ("¹⁄₂", " 1/2"),
            ("²⁄₃ turns", " 2/3 turns"),
            ("~~27~~ 3", "27 ✗  3"),
            ("2\u{336}7\u{336} 3", "27  ✗ 3"),
            ("3\nturns", "3 ; turns"),
        ] {
            assert_eq!(tidy(typed).text, plain, "{typed}");
        }
    }

    #[test]
    fn only_so_much_is_read() {
        assert!(!tidy(&"a".repeat(LIMIT)).cut);
        let long = tidy(&"a".repeat(LIMIT + 1));
        assert!(long.cut);
        assert_eq!(long.text.len(), LIMIT);
    }
}
