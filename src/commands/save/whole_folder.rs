//! A folder of many files, written whole or not at all.
//!
//! It is filled under a passing name beside its place and then renamed. A folder that
//! stands there already stays where it is if it holds the same, and is kept with a date
//! in its name otherwise.

use crate::commands::interrupt;
use crate::commands::lock;
use crate::commands::save;
use crate::commands::save::dated;
use crate::problem;
use std::fs;
use std::io;
use std::path::Path;
use std::path::PathBuf;

/// Returns a folder to fill, beside the place that it is to take; it goes when dropped.
///
/// # Errors
///
/// When it cannot be made.
pub fn passing(beside: &Path) -> Result<tempfile::TempDir, problem::Problem> {
    let mut builder = tempfile::Builder::new();
    builder
        .prefix(lock::PASSING)
        .rand_bytes(lock::PASSING_SIGNS);
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        builder.permissions(fs::Permissions::from_mode(0o777));
    }
    let mut undisturbed = interrupt::undisturbed();
    let folder = builder
        .tempdir_in(beside)
        .map_err(|error| save::failed(beside, "no folder could be made in it", &error))?;
    undisturbed.add(folder.path());
    Ok(folder)
}

/// Puts a filled folder into its place; returns where an older one went.
///
/// # Errors
///
/// When one of the two cannot be renamed; the older one is in its place again then.
pub fn settle(
    filled: tempfile::TempDir,
    place: &Path,
    date: &str,
) -> Result<Option<PathBuf>, problem::Problem> {
    let failed = |error: io::Error| {
        save::at(
            place,
            format!("the folder could not be put in its place: {error}"),
            "close its files in other programs, and try again",
        )
    };
    let mut undisturbed = interrupt::undisturbed();
    let mut copy = None;
    if place.exists() {
        if is_same(filled.path(), place).map_err(failed)? {
            return Ok(None);
        }
        let name = dated::name(place, date, |path| !path.exists());
        fs::rename(place, &name).map_err(failed)?;
        copy = Some(name);
    }
    // From here on the folder is not to go when dropped.
    let filled = filled.keep();
    undisturbed.strike(&filled);
    let Err(error) = fs::rename(&filled, place) else {
        return Ok(copy);
    };
    let back = copy.map_or(Ok(()), |copy| fs::rename(copy, place));
    let gone = fs::remove_dir_all(&filled);
    Err(failed(back.and(gone).err().unwrap_or(error)))
}

/// Whether two folders hold the same files.
fn is_same(one: &Path, other: &Path) -> io::Result<bool> {
    if !one.is_dir() || !other.is_dir() {
        let lengths = (fs::metadata(one)?.len(), fs::metadata(other)?.len());
        return Ok(!one.is_dir()
            && !other.is_dir()
            && lengths.0 == lengths.1
            && fs::read(one)? == fs::read(other)?);
    }
    let names = |folder: &Path| -> io::Result<Vec<_>> {
        let entries = fs::read_dir(folder)?;
        let mut names: Vec<_> = entries
            .map(|entry| entry.map(|entry| entry.file_name()))
            .collect::<io::Result<_>>()?;
        names.sort();
        Ok(names)
    };
    let here = names(one)?;
    if here != names(other)? {
        return Ok(false);
    }
    for name in here {
        if !is_same(&one.join(&name), &other.join(&name))? {
            return Ok(false);
        }
    }
    Ok(true)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn filled(beside: &Path, text: &str) -> tempfile::TempDir {
        let folder = passing(beside).expect("it can be made");
        fs::create_dir(folder.path().join("inner")).expect("made");
        fs::write(folder.path().join("inner/part"), text).expect("written");
        folder
    }

    #[test]
    fn an_older_folder_is_kept_and_the_same_is_left_alone() {
        let out = tempfile::tempdir().expect("a folder");
        let place = out.path().join("marks");
        let settled = |text: &str| settle(filled(out.path(), text), &place, "2026-03-12");
        assert_eq!(settled("old"), Ok(None));
        assert_eq!(settled("old"), Ok(None));
        let copy = out.path().join("marks 2026-03-12");
        assert_eq!(settled("new"), Ok(Some(copy.clone())));
        let read = |folder: &Path| fs::read_to_string(folder.join("inner/part"));
        assert_eq!(read(&place).ok().as_deref(), Some("new"));
        assert_eq!(read(&copy).ok().as_deref(), Some("old"));
        let left = fs::read_dir(out.path()).expect("a folder").count();
        assert_eq!(left, 2, "no passing folder is left behind");
    }

    #[test]
    fn a_folder_that_is_dropped_leaves_nothing() {
        let out = tempfile::tempdir().expect("a folder");
        drop(filled(out.path(), "half"));
        assert_eq!(fs::read_dir(out.path()).expect("a folder").count(), 0);
    }
}
