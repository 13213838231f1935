//! Text as a terminal may show it: signs that would steer it stand written out.
//!
//! What pupils typed and what files hold is quoted in messages. An escape sequence in it
//! could colour, move or erase what is on the screen, and a sign that turns the direction
//! of writing could make a message say something else.

use std::borrow::Cow;

/// The most signs of one text of a message.
const MOST: usize = 4_000;

/// Returns a text with every sign that steers a terminal or the direction of writing
/// written out, such as `\u{1b}`; tabs and line breaks stay.
#[must_use]
pub(super) fn text(text: &str) -> Cow<'_, str> {
    if !text.chars().any(steers) {
        return Cow::Borrowed(text);
    }
    let mut shown = String::with_capacity(text.len());
    for sign in text.chars() {
        if steers(sign) {
            shown.extend(sign.escape_unicode());
        } else {
            shown.push(sign);
        }
    }
    Cow::Owned(shown)
}

/// Returns a text as part of a message: as [`text`] does, no longer than a page, and
/// without line breaks of others, so that nothing in it can pose as a line of ours; our
/// own lines inside a message are indented.
#[must_use]
pub(super) fn in_message(message: &str) -> String {
    let mut shown = String::new();
    let mut signs = message.chars().peekable();
    let mut count = 0;
    while let Some(sign) = signs.next() {
        count += 1;
        if count > MOST {
            shown.push_str(" ...");
            break;
        }
        if sign == '\n' && signs.peek() != Some(&' ') {
            shown.push_str("\\n");
        } else {
            shown.push(sign);
        }
    }
    text(&shown).into_owned()
}

/// Says whether a sign does something to a terminal, or to the signs after it, instead of
/// being seen: control signs (Unicode's class Cc) but for tab and line feed, marks of
/// direction, line and paragraph separators, signs of no width, and tags.
///
/// The joiners U+200C and U+200D stay: several scripts and emoji need them.
fn steers(sign: char) -> bool {
    if matches!(sign, '\n' | '\t') {
        return false;
    }
    sign.is_control()
        || matches!(
            sign,
            '\u{61c}'
                | '\u{180e}'
                | '\u{200b}'
                | '\u{200e}'..='\u{200f}'
                | '\u{2028}'..='\u{202e}'
                | '\u{2060}'..='\u{206f}'
                | '\u{feff}'
                | '\u{fff9}'..='\u{fffb}'
                | '\u{e0000}'..='\u{e007f}'
        )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn signs_that_steer_are_written_out_and_others_stay() {
        let cases = [
            ("\u{1b}[31mred", "\\u{1b}[31mred"),
            ("\u{9b}2J", "\\u{9b}2J"),
            ("gnp\u{202e}.xslx", "gnp\\u{202e}.xslx"),
            ("\u{2066}a\u{2069}\u{feff}", "\\u{2066}a\\u{2069}\\u{feff}"),
            ("a\rb\u{7}\u{7f}\0", "a\\u{d}b\\u{7}\\u{7f}\\u{0}"),
            (
                "½ ٣ \u{1f468}\u{200d}\u{1f467}\tå\n",
                "½ ٣ \u{1f468}\u{200d}\u{1f467}\tå\n",
            ),
        ];
        for (typed, shown) in cases {
            assert_eq!(text(typed), shown);
        }
    }

    #[test]
    fn nothing_in_a_message_poses_as_a_line_of_ours() {
        assert_eq!(in_message("a\nproblem: b"), "a\\nproblem: b");
        assert_eq!(in_message("a\n    b"), "a\n    b");
        assert_eq!(in_message(&"x".repeat(9_000)).len(), MOST + 4);
    }
}
