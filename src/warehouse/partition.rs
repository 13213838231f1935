//! The folders that the answers are shared out to.

use std::fmt::Write as _;

/// The most signs of a label in a folder's name; file systems end at 255 bytes.
const LONGEST: usize = 120;

/// Returns the folder of an academic year and a year group, with `/` between its two
/// names: `academic_year=2025-26/year_group=5`.
///
/// A label is written in small letters, with `-` for `/`, and every sign that is no
/// ASCII letter, digit or `-` as `%` and its two hexadecimal digits, byte by byte; a
/// very long one is cut. So labels that some file system takes to be the same, or
/// refuses, share a folder; the columns have them as they are.
#[must_use]
pub fn folder(academic_year: &str, year: &str) -> String {
    format!(
        "academic_year={}/year_group={}",
        safe(academic_year),
        safe(year)
    )
}

/// A label as part of a folder's name.
fn safe(label: &str) -> String {
    let mut safe = String::new();
    for sign in label.to_lowercase().chars() {
        let before = safe.len();
        match sign {
            '/' => safe.push('-'),
            '-' | '0'..='9' | 'a'..='z' => safe.push(sign),
            _ => {
                let mut bytes = [0; 4];
                for byte in sign.encode_utf8(&mut bytes).bytes() {
                    write!(safe, "%{byte:02X}").expect("a text takes all that is written");
                }
            }
        }
        if safe.len() > LONGEST {
            safe.truncate(before);
            break;
        }
    }
    safe
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_make_names_that_every_file_system_takes() {
        for (label, name) in [
            ("5", "5"),
            ("2026/27", "2026-27"),
            ("Reception", "reception"),
            ("no year given", "no%20year%20given"),
            ("../../etc", "%2E%2E-%2E%2E-etc"),
            (
                "a=b%20:*?\"<>|\\\0",
                "a%3Db%2520%3A%2A%3F%22%3C%3E%7C%5C%00",
            ),
            ("Blwyddyn ŷ", "blwyddyn%20%C5%B7"),
            ("", ""),
        ] {
            assert_eq!(safe(label), name, "{label:?}");
        }
        assert_eq!(folder("2025-26", "5"), "academic_year=2025-26/year_group=5");
        let long = safe(&format!("a{}", "ŷ".repeat(200)));
        assert_eq!(long.len(), 115);
        assert!(long.ends_with("%B7"), "no sign is cut in two: {long}");
    }
}
