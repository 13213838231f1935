//! Text as HTML, and the fingerprints by which a page allows its own script and style.
//!
//! What a person typed comes into a page through [`text`] alone.

use sha2::Digest as _;

/// Adds to a text; that cannot fail.
macro_rules! add {
    ($text:expr, $($rest:tt)*) => {{
        use std::fmt::Write as _;
        write!($text, $($rest)*).expect("text can always be added to");
    }};
}

/// Returns what a person typed as text of a page, or of an attribute in quotes.
///
/// Signs that steer the direction of writing are left out, so that a title cannot
/// turn what stands after it round.
pub(crate) fn text(typed: &str) -> String {
    let mut escaped = String::with_capacity(typed.len());
    for sign in typed.chars() {
        match sign {
            '&' => escaped.push_str("&amp;"),
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '"' => escaped.push_str("&quot;"),
            '\'' => escaped.push_str("&#39;"),
            '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' => {}
            '\n' | '\t' => escaped.push(' '),
            sign if sign.is_control() => {}
            sign => escaped.push(sign),
        }
    }
    escaped
}

/// Returns the source of a content security policy that allows exactly this script or
/// style.
///
/// Source: W3C, Content Security Policy Level 3, section 2.3.1: `sha256-` and the hash
/// in Base64 (RFC 4648, section 4).
pub(crate) fn fingerprint(content: &str) -> String {
    let hash = sha2::Sha256::digest(content.as_bytes());
    format!("'sha256-{}'", base64(&hash))
}

fn base64(bytes: &[u8]) -> String {
    const SIGNS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut text = String::new();
    for group in bytes.chunks(3) {
        let bits = group
            .iter()
            .chain(&[0, 0])
            .take(3)
            .fold(0_u32, |bits, byte| bits << 8 | u32::from(*byte));
        for place in 0..4_usize {
            if place > group.len() {
                text.push('=');
                continue;
            }
            let sign = bits >> (18 - 6 * place) & 63;
            let sign = usize::try_from(sign).expect("six bits");
            text.push(char::from(SIGNS[sign]));
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_typed_is_markup() {
        assert_eq!(
            text("<b title='x' lang=\"y\">\u{202e}R&D\n\u{0}"),
            "&lt;b title=&#39;x&#39; lang=&quot;y&quot;&gt;R&amp;D "
        );
    }

    #[test]
    fn base64_is_that_of_the_standard() {
        // RFC 4648, section 10.
        for (bytes, coded) in [
            ("", ""),
            ("f", "Zg=="),
            ("fo", "Zm8="),
            ("foo", "Zm9v"),
            ("foobar", "Zm9vYmFy"),
        ] {
            assert_eq!(base64(bytes.as_bytes()), coded);
        }
    }
}
