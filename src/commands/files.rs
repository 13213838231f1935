//! Reading a person's files, with the path in every message.

use crate::commands::apart;
use crate::problem;
use std::fs;
use std::io;
use std::io::Read;
use std::path::Path;

const MEGABYTE: u64 = 1024 * 1024;
/// The largest spreadsheet, as its reader has it too.
const MOST_OF_A_SPREADSHEET: u64 = 200 * MEGABYTE;
/// The largest file of those that people write themselves.
const MOST_OF_A_WRITTEN_FILE: u64 = 2 * MEGABYTE;
/// The largest record: a mark takes some 550 bytes, and two million marks must pass.
const MOST_OF_A_RECORD: u64 = 2 * 1024 * MEGABYTE;

/// Returns a path as it is shown to people.
#[must_use]
pub fn shown(path: &Path) -> String {
    path.display().to_string()
}

/// Returns a file's name without its folder.
#[must_use]
pub fn name(path: &Path) -> String {
    path.file_name()
        .map_or_else(|| shown(path), |name| name.to_string_lossy().into_owned())
}

/// Returns the cells of a spreadsheet, read apart, as bytes that every reader of the
/// workbook takes like those of the file.
///
/// # Errors
///
/// When it cannot be opened or read, with its path. What is wrong inside it, the reader
/// of the bytes says.
pub fn workbook(path: &Path) -> Result<Vec<u8>, problem::Problem> {
    let bytes = bytes(path, MOST_OF_A_SPREADSHEET)?;
    Ok(apart::read(bytes, apart::Wanted::Everything))
}

/// Returns the text of a file that people write: a bank, a policy, a calendar.
///
/// # Errors
///
/// As [`text`], and when it is larger than such files are.
pub fn written(path: &Path) -> Result<String, problem::Problem> {
    utf8(path, MOST_OF_A_WRITTEN_FILE)
}

/// Returns the text in a UTF-8 file.
///
/// # Errors
///
/// When it cannot be opened or read, or is not UTF-8 text, with its path.
pub fn text(path: &Path) -> Result<String, problem::Problem> {
    utf8(path, MOST_OF_A_RECORD)
}

/// Returns everything in a record, as it stands on the disk.
///
/// # Errors
///
/// When it cannot be opened or read, with its path.
pub fn raw_record(path: &Path) -> Result<Vec<u8>, problem::Problem> {
    bytes(path, MOST_OF_A_RECORD)
}

/// Returns everything in a spreadsheet, as it stands on the disk; not read yet.
///
/// # Errors
///
/// When it cannot be opened or read, with its path.
pub fn raw_workbook(path: &Path) -> Result<Vec<u8>, problem::Problem> {
    bytes(path, MOST_OF_A_SPREADSHEET)
}

fn utf8(path: &Path, most: u64) -> Result<String, problem::Problem> {
    text_in(path, &bytes(path, most)?)
}

/// Returns the text that these bytes of a file are.
///
/// # Errors
///
/// When they are not UTF-8 text, with the file's path.
pub fn text_in(path: &Path, bytes: &[u8]) -> Result<String, problem::Problem> {
    let bytes = bytes.strip_prefix("\u{feff}".as_bytes()).unwrap_or(bytes);
    String::from_utf8(bytes.to_vec()).map_err(|_| {
        problem::Problem::new(
            shown(path),
            "found bytes that are not UTF-8 text",
            "open it in a text editor and save it as UTF-8",
        )
    })
}

/// Returns everything in a file of at most so many bytes.
fn bytes(path: &Path, most: u64) -> Result<Vec<u8>, problem::Problem> {
    let failed = |error: io::Error| {
        problem::Problem::new(shown(path), unreadable(&error), hint(&error, path))
    };
    // Looked at before it is opened: opening a pipe waits for somebody to write into it.
    let kind = fs::metadata(path).map_err(failed)?;
    if !kind.is_file() && !kind.is_dir() {
        return Err(problem::Problem::new(
            shown(path),
            "is a device or a pipe, wanted a file",
            "save it as a file, and name that",
        ));
    }
    let file = fs::File::open(path).map_err(failed)?;
    let mut bytes = Vec::new();
    // A file that grows, or that hides its size, is held to the limit all the same.
    file.take(most.saturating_add(1))
        .read_to_end(&mut bytes)
        .map_err(failed)?;
    if u64::try_from(bytes.len()).is_ok_and(|found| found <= most) {
        return Ok(bytes);
    }
    Err(problem::Problem::new(
        shown(path),
        format!(
            "the file has more bytes than the limit of {} MB",
            most / MEGABYTE
        ),
        "use a smaller file; check that it is the one you mean",
    ))
}

/// Returns what to do where a file or folder cannot be written; nothing where there is no
/// saying.
#[must_use]
pub fn remedy(kind: io::ErrorKind) -> &'static str {
    if [
        io::ErrorKind::StorageFull,
        io::ErrorKind::QuotaExceeded,
        io::ErrorKind::FileTooLarge,
    ]
    .contains(&kind)
    {
        "make room there, then do this again; what stood there stands as before"
    } else if [
        io::ErrorKind::PermissionDenied,
        io::ErrorKind::ReadOnlyFilesystem,
    ]
    .contains(&kind)
    {
        "ask for the right to write there, or choose another folder"
    } else {
        ""
    }
}

fn unreadable(error: &io::Error) -> String {
    if error.kind() == io::ErrorKind::NotFound {
        "there is no such file".to_owned()
    } else if error.kind() == io::ErrorKind::PermissionDenied {
        "may not be read".to_owned()
    } else if error.kind() == io::ErrorKind::IsADirectory {
        "is a folder, wanted a file".to_owned()
    } else {
        format!("could not be read: {error}")
    }
}

fn hint(error: &io::Error, path: &Path) -> String {
    if error.kind() == io::ErrorKind::NotFound {
        nearest(path).map_or_else(
            || "check the folder and the spelling".to_owned(),
            |near| format!("is it \"{near}\"?"),
        )
    } else if error.kind() == io::ErrorKind::PermissionDenied {
        "close it in other programs, or ask for the right to read it".to_owned()
    } else if error.kind() == io::ErrorKind::IsADirectory {
        "name a file inside it".to_owned()
    } else {
        String::new()
    }
}

/// The name in the same folder that is nearest to the one typed.
fn nearest(path: &Path) -> Option<String> {
    let wanted = path.file_name()?.to_string_lossy().to_lowercase();
    let folder = path.parent().filter(|it| !it.as_os_str().is_empty());
    let entries = fs::read_dir(folder.unwrap_or(Path::new("."))).ok()?;
    let mut names: Vec<(usize, String)> = entries
        .filter_map(Result::ok)
        .map(|entry| entry.file_name().to_string_lossy().into_owned())
        .map(|name| (strsim::osa_distance(&name.to_lowercase(), &wanted), name))
        .collect();
    names.sort();
    let (distance, name) = names.into_iter().next()?;
    (distance <= 3).then_some(name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_beyond_its_limit_is_refused_with_the_limit() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("bank.toml");
        let file = fs::File::create(&path).expect("made");
        file.set_len(MOST_OF_A_WRITTEN_FILE).expect("long");
        assert!(written(&path).is_ok());
        file.set_len(MOST_OF_A_WRITTEN_FILE + 1).expect("longer");
        let problem = written(&path).expect_err("too long");
        assert_eq!(
            problem.what,
            "the file has more bytes than the limit of 2 MB"
        );
        assert!(text(&path).is_ok(), "a record may be as long");
    }

    #[test]
    fn a_folder_is_no_file() {
        let folder = tempfile::tempdir().expect("a folder");
        let problem = text(folder.path()).expect_err("a folder");
        assert_eq!(problem.what, "is a folder, wanted a file");
    }

    #[test]
    fn a_missing_file_is_told_with_the_nearest_name() {
        let folder = tempfile::tempdir().expect("a folder");
        fs::write(folder.path().join("maple.csv"), "x").expect("written");
        let problem = workbook(&folder.path().join("mapel.csv")).expect_err("not there");
        assert_eq!(problem.what, "there is no such file");
        assert_eq!(problem.hint, "is it \"maple.csv\"?");
    }

    #[test]
    fn text_is_utf_8_with_or_without_its_mark() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("bank.toml");
        fs::write(&path, "\u{feff}format = 1").expect("written");
        assert_eq!(text(&path).as_deref(), Ok("format = 1"));
        fs::write(&path, [0xff, 0xfe, 0x00]).expect("written");
        assert!(text(&path).expect_err("not text").what.contains("UTF-8"));
    }
}
