//! What a copy with a date in its name is called: `marked 2026-03-02.xlsx`.

use crate::commands::files;
use crate::date;
use std::path::Path;
use std::path::PathBuf;

/// Returns the first name with this date that may be had, such as `marked 2026-03-02.xlsx`
/// and then `marked 2026-03-02 (2).xlsx`; a folder's name likewise.
pub(super) fn name(target: &Path, date: &str, may_be_had: impl Fn(&Path) -> bool) -> PathBuf {
    let (stem, ending) = parts(&files::name(target));
    let name = |count: u32| {
        let count = if count > 1 {
            format!(" ({count})")
        } else {
            String::new()
        };
        target.with_file_name(format!("{stem} {date}{count}{ending}"))
    };
    (1..=u32::MAX)
        .map(name)
        .find(|path| may_be_had(path))
        .expect("there are more names than files")
}

/// Whether a file has this name, or that of a dated copy of it; capitals do not count.
#[must_use]
pub fn is_of(path: &Path, name: &str) -> bool {
    let (stem, ending) = parts(name);
    let (found, found_ending) = parts(&files::name(path).to_lowercase());
    let Some(rest) = found
        .strip_prefix(stem.as_str())
        .filter(|_| found_ending == ending)
    else {
        return false;
    };
    let Some(rest) = rest.strip_prefix(' ') else {
        return rest.is_empty();
    };
    let (date, count) = rest.split_once(' ').unwrap_or((rest, "(2)"));
    let count = count.strip_prefix('(').and_then(|it| it.strip_suffix(')'));
    date.parse::<date::Date>().is_ok() && count.is_some_and(|it| it.parse::<u32>().is_ok())
}

/// A name without its ending, and the ending with its point.
fn parts(name: &str) -> (String, String) {
    match name.rsplit_once('.') {
        Some((stem, ending)) if !stem.is_empty() => (stem.to_owned(), format!(".{ending}")),
        Some(_) | None => (name.to_owned(), String::new()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_copy_is_known_by_its_date_and_no_other_file_is_taken_for_one() {
        let is = |path: &str, name: &str| is_of(Path::new(path), name);
        for copy in [
            "hw/marked.xlsx",
            "hw/Marked 2026-03-02.XLSX",
            "hw/marked 2026-03-02 (3).xlsx",
        ] {
            assert!(is(copy, "marked.xlsx"), "{copy}");
        }
        for other in [
            "hw/marked for parents.xlsx",
            "hw/marked 2026-03-02 final.xlsx",
            "hw/marked 2026-13-02.xlsx",
            "hw/marked.csv",
            "hw/marked-2026-03-02.xlsx",
            "hw/remarked.xlsx",
        ] {
            assert!(!is(other, "marked.xlsx"), "{other}");
        }
        assert!(is("marks 2026-03-02", "marks"), "a folder");
    }

    #[test]
    fn names_are_counted_on_until_one_may_be_had() {
        let target = Path::new("hw/marked.xlsx");
        let free = |path: &Path| path.ends_with("marked 2026-03-02 (3).xlsx");
        let found = name(target, "2026-03-02", free);
        assert_eq!(found, Path::new("hw/marked 2026-03-02 (3).xlsx"));
        assert!(is_of(&found, "marked.xlsx"));
        let folder = name(Path::new("out/marks"), "2026-03-02", |_| true);
        assert_eq!(folder, Path::new("out/marks 2026-03-02"));
    }
}
