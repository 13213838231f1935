//! Files written whole or not at all, and none lost.
//!
//! Every output is first written beside its place under a passing name; only
//! when all are there do they take their places. What stands there already is
//! refused, replaced or kept as a dated copy, as the caller says.

use crate::problem;
use std::fs;
use std::io;
use std::io::Write;
use std::path::Path;
use std::path::PathBuf;
use tempfile::NamedTempFile;

pub mod whole_folder;

/// One file to write.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Output {
    /// Where.
    pub path: PathBuf,
    /// What.
    pub bytes: Vec<u8>,
    /// What becomes of another file that stands there.
    pub standing: Standing,
}

/// What becomes of a file that stands in the place of an output.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Standing {
    /// It stays, and nothing at all is written; the same bytes are no trouble.
    Refused,
    /// It is replaced: it was made from what is still there.
    Replaced,
    /// It is kept beside the new one, with this date (ISO 8601) in its name.
    Kept {
        /// The date.
        date: String,
    },
}

/// Makes a folder, and those above it, where there is none.
///
/// # Errors
///
/// When it cannot be made, or a file has its name.
pub fn folder(path: &Path) -> Result<(), problem::Problem> {
    if path.is_dir() {
        return Ok(());
    }
    fs::create_dir_all(path).map_err(|error| failed(path, "the folder could not be made", &error))
}

/// Writes all files, or none; returns the dated copies that were kept.
///
/// # Errors
///
/// Every problem at once: a folder that is not there, a file that must not be
/// replaced, a file that will not open. Where the last step fails for one file
/// (it is open in another program), the others may have taken their places
/// already, each whole.
pub fn all(outputs: &[Output]) -> Result<Vec<PathBuf>, Vec<problem::Problem>> {
    let mut problems = Vec::new();
    let mut ready = Vec::new();
    for output in outputs {
        match prepare(output) {
            Ok(Some(prepared)) => ready.push(prepared),
            Ok(None) => {}
            Err(problem) => problems.push(problem),
        }
    }
    let mut kept = Vec::new();
    if problems.is_empty() {
        for prepared in ready {
            match prepared.settle() {
                Ok(copy) => kept.extend(copy),
                Err(problem) => problems.push(problem),
            }
        }
    }
    if problems.is_empty() {
        Ok(kept)
    } else {
        Err(problems)
    }
}

/// A file written under a passing name.
struct Prepared {
    passing: NamedTempFile,
    target: PathBuf,
    /// Where the file that stands there goes first.
    copy: Option<PathBuf>,
}

/// Writes one output beside its place; none when the same bytes stand there.
fn prepare(output: &Output) -> Result<Option<Prepared>, problem::Problem> {
    let target = resolved(&output.path)?;
    let mut copy = None;
    // Opening a pipe to look into it would wait for somebody to write into it.
    if fs::metadata(&target).is_ok_and(|kind| !kind.is_file()) {
        return Err(at(
            &output.path,
            "something stands here that is no ordinary file",
            "choose another folder, or move it away first",
        ));
    }
    let standing = match fs::read(&target) {
        Ok(bytes) => Some(bytes),
        Err(error) if error.kind() == io::ErrorKind::NotFound => None,
        Err(error) => return Err(failed(&target, "the file there could not be read", &error)),
    };
    if let Some(standing) = standing {
        if standing == output.bytes {
            return Ok(None);
        }
        match &output.standing {
            Standing::Refused => {
                return Err(at(
                    &output.path,
                    "another file stands here already",
                    "choose another folder, or move that file away first",
                ));
            }
            Standing::Replaced => {}
            Standing::Kept { date } => copy = Some(free_copy_name(&target, date)),
        }
    }
    let folder = match target.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        Some(_) | None => Path::new("."),
    };
    if !folder.is_dir() {
        return Err(at(folder, "the folder is not there", "make it first"));
    }
    let mut passing = passing_file(folder, &target)
        .map_err(|error| failed(&target, "the file could not be made", &error))?;
    passing
        .write_all(&output.bytes)
        .and_then(|()| passing.as_file().sync_all())
        .map_err(|error| failed(&target, "the file could not be written", &error))?;
    Ok(Some(Prepared {
        passing,
        target,
        copy,
    }))
}

impl Prepared {
    /// Puts the file into its place; returns the copy of the one before where it is kept.
    fn settle(self) -> Result<Option<PathBuf>, problem::Problem> {
        if let Some(copy) = &self.copy {
            fs::copy(&self.target, copy)
                .map_err(|error| failed(copy, "the dated copy could not be written", &error))?;
        }
        self.passing.persist(&self.target).map_err(|error| {
            at(
                &self.target,
                format!("the file could not be put in its place: {}", error.error),
                "close it in other programs, and try again",
            )
        })?;
        Ok(self.copy)
    }
}

/// Returns where a path leads, through a symbolic link.
fn resolved(path: &Path) -> Result<PathBuf, problem::Problem> {
    if path.is_symlink() {
        fs::canonicalize(path)
            .map_err(|error| failed(path, "the link does not lead to a file", &error))
    } else {
        Ok(path.to_owned())
    }
}

/// Returns a file under a passing name with the permissions of the one it replaces,
/// or those of any new file.
fn passing_file(folder: &Path, target: &Path) -> io::Result<NamedTempFile> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(".toothmark-");
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        builder.permissions(fs::Permissions::from_mode(0o666));
    }
    let passing = builder.tempfile_in(folder)?;
    if let Ok(standing) = fs::metadata(target) {
        passing.as_file().set_permissions(standing.permissions())?;
    }
    Ok(passing)
}

/// Returns a name with a date that no file has yet: `marked 2026-03-02.xlsx`.
fn free_copy_name(target: &Path, date: &str) -> PathBuf {
    let stem = target
        .file_stem()
        .map_or_else(String::new, |stem| stem.to_string_lossy().into_owned());
    let ending = target.extension().map_or_else(String::new, |ending| {
        format!(".{}", ending.to_string_lossy())
    });
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
        .find(|path| !path.exists())
        .expect("there are more names than files")
}

pub(in crate::commands) fn at(
    path: &Path,
    what: impl Into<String>,
    hint: &str,
) -> problem::Problem {
    problem::Problem::new(path.display().to_string(), what, hint)
}

pub(in crate::commands) fn failed(path: &Path, what: &str, error: &io::Error) -> problem::Problem {
    at(path, format!("{what}: {error}"), "")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn output(path: PathBuf, bytes: &[u8], standing: Standing) -> Output {
        Output {
            path,
            bytes: bytes.to_vec(),
            standing,
        }
    }

    #[test]
    fn nothing_is_written_when_one_file_may_not_be_replaced() {
        let folder = tempfile::tempdir().expect("a folder");
        let (old, new) = (folder.path().join("old"), folder.path().join("new"));
        fs::write(&old, b"typed answers").expect("a file");
        let problems = all(&[
            output(new.clone(), b"1", Standing::Refused),
            output(old.clone(), b"2", Standing::Refused),
            output(folder.path().join("no/such"), b"3", Standing::Refused),
        ])
        .expect_err("two problems");
        assert_eq!(problems.len(), 2);
        assert!(!new.exists());
        assert_eq!(fs::read(&old).expect("a file"), b"typed answers");
        let left = fs::read_dir(folder.path()).expect("a folder").count();
        assert_eq!(left, 1, "no passing file is left behind");
    }

    #[test]
    fn the_same_bytes_are_no_trouble() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("a");
        let outputs = [output(path.clone(), b"same", Standing::Refused)];
        all(&outputs).expect("the first time");
        all(&outputs).expect("the second time");
        assert_eq!(fs::read(&path).expect("a file"), b"same");
    }

    #[test]
    fn a_kept_file_gets_a_dated_name_of_its_own() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("marked.xlsx");
        let kept = Standing::Kept {
            date: "2026-03-02".to_owned(),
        };
        fs::write(&path, b"1").expect("a file");
        for (bytes, name) in [
            (b"2", "marked 2026-03-02.xlsx"),
            (b"3", "marked 2026-03-02 (2).xlsx"),
        ] {
            let copies = all(&[output(path.clone(), bytes, kept.clone())]).expect("written");
            assert_eq!(copies, [folder.path().join(name)]);
        }
        assert_eq!(fs::read(&path).expect("the new file"), b"3");
        let second = fs::read(folder.path().join("marked 2026-03-02 (2).xlsx"));
        assert_eq!(second.expect("the second copy"), b"2");
    }

    #[cfg(unix)]
    #[test]
    fn a_link_stays_a_link_and_permissions_stay() {
        use std::os::unix::fs::PermissionsExt;
        let folder = tempfile::tempdir().expect("a folder");
        let (file, link) = (folder.path().join("file"), folder.path().join("link"));
        fs::write(&file, b"old").expect("a file");
        fs::set_permissions(&file, fs::Permissions::from_mode(0o640)).expect("permissions");
        std::os::unix::fs::symlink(&file, &link).expect("a link");
        all(&[output(link.clone(), b"new", Standing::Replaced)]).expect("written");
        assert!(link.is_symlink());
        assert_eq!(fs::read(&file).expect("the file"), b"new");
        let mode = fs::metadata(&file).expect("the file").permissions().mode();
        assert_eq!(mode & 0o777, 0o640);
    }

    #[cfg(unix)]
    #[test]
    fn a_new_file_can_be_read_like_any_other() {
        use std::os::unix::fs::PermissionsExt;
        let folder = tempfile::tempdir().expect("a folder");
        let (ours, plain) = (folder.path().join("ours"), folder.path().join("plain"));
        fs::write(&plain, b"").expect("a file");
        all(&[output(ours.clone(), b"x", Standing::Refused)]).expect("written");
        let mode = |path: &Path| fs::metadata(path).expect("a file").permissions().mode();
        assert_eq!(mode(&ours), mode(&plain));
    }

    #[test]
    fn a_folder_is_made_with_those_above_it() {
        let above = tempfile::tempdir().expect("a folder");
        let out = above.path().join("autumn/week-12");
        folder(&out).expect("made");
        folder(&out).expect("there already");
        fs::write(above.path().join("taken"), b"").expect("a file");
        let problem = folder(&above.path().join("taken/out")).expect_err("a file's name");
        assert_eq!(
            problem.what.split(':').next(),
            Some("the folder could not be made")
        );
    }
}
