//! Text made safe to print: what a name or title may hold that a page cannot.
//!
//! One control character or one sign without a glyph would make the whole
//! export fail, and an override of the writing direction would make a name read
//! as another. So every text goes through here on its way to a template.

use crate::paper::fonts;
use serde_json::Value;
use unicode_normalization::UnicodeNormalization;

/// What stands for a sign that the typeface does not have.
const STAND_IN: char = '?';

/// Returns the text in composed form, on one line, with only printable signs.
///
/// Line ends and tabs become spaces; marks that only steer the display
/// (direction overrides, joiners, variation selectors) are dropped; a sign
/// that the typeface lacks becomes a question mark.
pub(super) fn text(raw: &str) -> String {
    let mut printable = String::with_capacity(raw.len());
    for sign in raw.nfc() {
        if sign.is_whitespace() && sign != '\u{A0}' {
            printable.push(' ');
        } else if sign.is_control() || steers_the_display(sign) {
            // Dropped: it has nothing to show.
        } else if !is_private(sign) && fonts::can_print(sign) {
            printable.push(sign);
        } else {
            printable.push(STAND_IN);
        }
    }
    printable
}

/// Returns the text cut to so many characters, with `…` where it was cut.
pub(super) fn shortened(raw: &str, most: usize) -> String {
    if raw.chars().count() <= most {
        return raw.to_owned();
    }
    let mut short: String = raw.chars().take(most.saturating_sub(1)).collect();
    short.push('…');
    short
}

/// Returns the data with every text in it made printable.
pub(super) fn data(value: Value) -> Value {
    match value {
        Value::String(raw) => Value::String(text(&raw)),
        Value::Array(entries) => Value::Array(entries.into_iter().map(data).collect()),
        Value::Object(fields) => Value::Object(
            fields
                .into_iter()
                .map(|(name, field)| (name, data(field)))
                .collect(),
        ),
        Value::Null | Value::Bool(_) | Value::Number(_) => value,
    }
}

/// Whether the sign only steers how its neighbours are shown.
fn steers_the_display(sign: char) -> bool {
    matches!(
        sign,
        '\u{AD}'
            | '\u{34F}'
            | '\u{61C}'
            | '\u{180B}'..='\u{180E}'
            | '\u{200B}'..='\u{200F}'
            | '\u{202A}'..='\u{202E}'
            | '\u{2060}'..='\u{206F}'
            | '\u{FE00}'..='\u{FE0F}'
            | '\u{FEFF}'
            | '\u{FFF9}'..='\u{FFFB}'
            | '\u{1F3FB}'..='\u{1F3FF}'
            | '\u{E0000}'..='\u{E0FFF}'
    )
}

/// Whether the sign has a meaning only by private agreement.
fn is_private(sign: char) -> bool {
    matches!(sign, '\u{E000}'..='\u{F8FF}' | '\u{F0000}'..='\u{10FFFF}')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_keeps_what_can_be_printed_and_replaces_the_rest() {
        for (raw, printed) in [
            ("Zoë Šimková", "Zoë Šimková"),
            ("Nguyễn Thị Ánh", "Nguyễn Thị Ánh"),
            ("e\u{301}", "é"),
            ("a\u{0}b\u{7}c", "abc"),
            ("two\nlines\tand a tab", "two lines and a tab"),
            ("abc\u{202E}fed", "abcfed"),
            ("hi \u{1F600}!", "hi ?!"),
            ("#read(\"x\") $y$ [z] @w", "#read(\"x\") $y$ [z] @w"),
            ("\u{E123}", "?"),
            ("", ""),
        ] {
            assert_eq!(text(raw), printed, "{raw:?}");
        }
    }

    #[test]
    fn every_text_of_the_data_is_cleaned() {
        let raw = serde_json::json!({"a": ["x\u{0}y", {"b": "\u{202E}z"}], "n": 3});
        let clean = serde_json::json!({"a": ["xy", {"b": "z"}], "n": 3});
        assert_eq!(data(raw), clean);
    }

    #[test]
    fn long_texts_are_cut_with_a_sign() {
        assert_eq!(shortened("abcdef", 6), "abcdef");
        assert_eq!(shortened("abcdefg", 6), "abcde…");
    }
}
