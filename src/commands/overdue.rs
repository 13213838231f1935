//! Records that are kept longer than they say.

use crate::commands::files;
use crate::date;
use std::path::Path;
use std::path::PathBuf;

/// A record that was read, with the last day on which it may be kept, where that is known.
#[derive(Debug, Clone)]
pub struct Kept {
    /// Its file.
    pub path: PathBuf,
    /// The day.
    pub until: Option<date::Date>,
}

/// Returns a line about the records that could be deleted, where there are any; `today` is
/// ISO 8601. A record without a day is never among them.
#[must_use]
pub fn said(records: &[Kept], today: &str) -> Option<String> {
    let today: date::Date = today.parse().ok()?;
    let over = records.iter().filter_map(|record| {
        let until = record.until.filter(|until| *until < today)?;
        Some((until, record.path.as_path()))
    });
    let over: Vec<(date::Date, &Path)> = over.collect();
    let (until, path) = over.iter().min()?;
    let (file, day) = (files::shown(path), until.in_words());
    let which = match (over.len(), records.len()) {
        (1, 1) => format!("{file} was to be kept until {day}"),
        (1, all) => format!("1 of {all} records, {file}, was to be kept until {day}"),
        (many, all) => format!(
            "{many} of {all} records were to be kept until days that have passed, the first of \
             them, {file}, until {day}"
        ),
    };
    Some(format!(
        "{which}: delete what is no longer needed, or take a pupil out with `toothmark forget`."
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn records_past_their_day_are_told_in_one_line() {
        let record = |path, until: &str| Kept {
            path: PathBuf::from(path),
            until: until.parse().ok(),
        };
        let old = || record("b.json", "2025-08-31");
        let older = || record("a.json", "2024-08-31");
        let open = || record("c.json", "2026-08-31");
        let unknown = || record("d.json", "");
        let cases: [(&[Kept], &str, Option<&str>); 6] = [
            (&[], "2026-01-01", None),
            (&[open(), unknown()], "2026-08-31", None),
            (&[old(), open()], "2025-08-31", None),
            (
                &[old()],
                "2025-09-01",
                Some("b.json was to be kept until 31 August 2025: "),
            ),
            (
                &[open(), old()],
                "2025-09-01",
                Some("1 of 2 records, b.json, was to be kept until 31 August 2025: "),
            ),
            (
                &[old(), open(), older(), unknown()],
                "2026-01-01",
                Some(
                    "2 of 4 records were to be kept until days that have passed, the first of \
                     them, a.json, until 31 August 2024: ",
                ),
            ),
        ];
        for (records, today, wanted) in cases {
            let found = said(records, today);
            match wanted {
                None => assert_eq!(found, None, "{records:?}"),
                Some(wanted) => {
                    let found = found.expect("something is said");
                    assert!(found.starts_with(wanted), "{found}");
                    assert!(found.contains("toothmark forget"), "{found}");
                }
            }
        }
    }
}
