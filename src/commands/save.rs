//! Files written whole or not at all, and none lost.
//!
//! Every output is first written beside its place under a passing name; only
//! when all are there do they take their places. What stands there already is
//! refused, replaced or kept as a dated copy, as the caller says.

use crate::commands::files;
use crate::commands::interrupt;
use crate::commands::lock;
use crate::commands::open_elsewhere;
use crate::problem;
use sha2::Digest;
use sha2::Sha256;
use std::fs;
use std::io;
use std::path::Path;
use std::path::PathBuf;
use tempfile::NamedTempFile;

pub mod dated;
mod passing;
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

/// A file as it was read, from which outputs are made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Seen {
    path: PathBuf,
    /// A hash of its bytes; none where there was no such file.
    hash: Option<[u8; 32]>,
}

impl Seen {
    /// Returns a file with what was read in it, or that it was not there.
    #[must_use]
    pub fn new(path: &Path, bytes: Option<&[u8]>) -> Self {
        Self {
            path: path.to_owned(),
            hash: bytes.map(hash),
        }
    }

    /// Tells where the file is not as it was read.
    fn check(&self) -> Result<(), problem::Problem> {
        let now = standing_at(&self.path)?;
        if now.as_deref().map(hash) == self.hash {
            Ok(())
        } else {
            Err(changed(&self.path))
        }
    }
}

/// Writes one file that hangs together with no other.
///
/// # Errors
///
/// As for [`all`].
pub fn one(output: Output) -> Result<(), Vec<problem::Problem>> {
    write(&[output], &[]).map(|_| ())
}

/// Writes all files into a folder that is held, or none; returns the dated copies that
/// were kept.
///
/// First everything is written under passing names and brought to the disk, dated copies
/// too. Then it is seen that no file has changed since it was read, none is open in a
/// spreadsheet program, and each may be written. Only then do the files take their places,
/// the dated copies first and then in the order given, each in one step: a run that is
/// killed has put so many of the first in their places, and no file is ever half there.
/// The caller gives the order, so that any first few of the files are sound by themselves.
///
/// # Errors
///
/// Every problem at once: a folder that is not there, a file that must not be replaced, a
/// file that will not open, a full disk. Nothing has changed then. Where the last step
/// fails for one file, those before it have taken their places already, each whole.
pub fn all(
    _held: &lock::Lock,
    outputs: &[Output],
    seen: &[Seen],
) -> Result<Vec<PathBuf>, Vec<problem::Problem>> {
    write(outputs, seen)
}

fn write(outputs: &[Output], seen: &[Seen]) -> Result<Vec<PathBuf>, Vec<problem::Problem>> {
    let mut problems = Vec::new();
    let mut ready = Vec::new();
    for output in outputs {
        match prepare(output) {
            Ok(Some(prepared)) => ready.push(prepared),
            Ok(None) => {}
            Err(problem) => problems.push(problem),
        }
    }
    let mut undisturbed = interrupt::undisturbed();
    if problems.is_empty() {
        problems.extend(seen.iter().filter_map(|seen| seen.check().err()));
        for prepared in &ready {
            // A file that has changed may have been told already.
            problems.extend(prepared.check().err().filter(|it| !problems.contains(it)));
        }
    }
    let outcome = if problems.is_empty() {
        settle(&mut ready, &mut undisturbed).map_err(|problem| vec![problem])
    } else {
        Err(problems)
    };
    for prepared in ready {
        prepared.drop_passing(&mut undisturbed);
    }
    outcome
}

/// Puts the files into their places; returns the dated copies.
///
/// Whatever fails, nothing after it is touched: the order is what keeps the files sound.
fn settle(
    ready: &mut [Prepared],
    undisturbed: &mut interrupt::Undisturbed,
) -> Result<Vec<PathBuf>, problem::Problem> {
    let mut kept = Vec::new();
    for prepared in ready.iter_mut() {
        match prepared.copy.take() {
            None => {}
            Some(Copy::There(path)) => kept.push(path),
            Some(Copy::New { passing, path }) => {
                undisturbed.strike(passing.path());
                passing::put_new(passing, &path).map_err(|error| {
                    failed(&path, "the dated copy could not be written", &error.error)
                })?;
                passing::sync(&path);
                kept.push(path);
            }
        }
    }
    for prepared in ready {
        let Some(passing) = prepared.passing.take() else {
            continue;
        };
        undisturbed.strike(passing.path());
        let put = match prepared.stood {
            None => passing::put_new(passing, &prepared.target),
            Some(_) => passing.persist(&prepared.target),
        };
        put.map_err(|error| {
            at(
                &prepared.target,
                format!("the file could not be put in its place: {}", error.error),
                "close it in other programs, and do this again",
            )
        })?;
        passing::sync(&prepared.target);
    }
    Ok(kept)
}

/// A file written under a passing name.
struct Prepared {
    /// None once it has taken its place.
    passing: Option<NamedTempFile>,
    target: PathBuf,
    /// A hash of the file that stood there; none where there was none.
    stood: Option<[u8; 32]>,
    /// Where the file that stands there goes first.
    copy: Option<Copy>,
}

/// A dated copy of the file that stands there.
enum Copy {
    /// A run that was killed has kept it already.
    There(PathBuf),
    /// It is written, and takes its place before anything else does.
    New {
        passing: NamedTempFile,
        path: PathBuf,
    },
}

/// Writes one output beside its place; none when the same bytes stand there.
fn prepare(output: &Output) -> Result<Option<Prepared>, problem::Problem> {
    let target = resolved(&output.path)?;
    // Opening a pipe to look into it would wait for somebody to write into it.
    if fs::metadata(&target).is_ok_and(|kind| !kind.is_file()) {
        return Err(at(
            &output.path,
            "something stands here that is no ordinary file",
            "choose another folder, or move it away first",
        ));
    }
    let folder = match target.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        Some(_) | None => Path::new("."),
    };
    if !folder.is_dir() {
        return Err(at(folder, "the folder is not there", "make it first"));
    }
    let mut copy = None;
    let standing = standing_at(&target)?;
    if let Some(standing) = &standing {
        if *standing == output.bytes {
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
            Standing::Kept { date } => copy = Some(kept(folder, &target, standing, date)?),
        }
    }
    let passing = passing::written(folder, &target, &output.bytes)?;
    Ok(Some(Prepared {
        passing: Some(passing),
        stood: standing.as_deref().map(hash),
        target,
        copy,
    }))
}

/// Returns the dated copy of a file, written under a passing name.
fn kept(
    folder: &Path,
    target: &Path,
    standing: &[u8],
    date: &str,
) -> Result<Copy, problem::Problem> {
    let is_free_or_the_same =
        |path: &Path| !path.exists() || fs::read(path).is_ok_and(|there| there == standing);
    let path = dated::name(target, date, is_free_or_the_same);
    if path.exists() {
        return Ok(Copy::There(path));
    }
    let passing = passing::written(folder, target, standing)?;
    Ok(Copy::New { passing, path })
}

impl Prepared {
    /// Tells what stands in the way of the file's taking its place.
    fn check(&self) -> Result<(), problem::Problem> {
        if standing_at(&self.target)?.as_deref().map(hash) != self.stood {
            return Err(changed(&self.target));
        }
        if self.stood.is_none() {
            return Ok(());
        }
        if let Some(open) = open_elsewhere::of(&self.target) {
            match open.age() {
                open_elsewhere::Age::Fresh => return Err(open.to_problem()),
                open_elsewhere::Age::Old => {}
            }
        }
        // A file that is held by another program, or that somebody protected, is found
        // before any other takes its place.
        fs::OpenOptions::new()
            .write(true)
            .open(&self.target)
            .map(|_| ())
            .map_err(|error| failed(&self.target, "the file may not be replaced", &error))
    }

    /// Takes the passing files away.
    fn drop_passing(self, undisturbed: &mut interrupt::Undisturbed) {
        let copy = match self.copy {
            Some(Copy::New { passing, .. }) => Some(passing),
            Some(Copy::There(_)) | None => None,
        };
        for passing in [self.passing, copy].into_iter().flatten() {
            let path = passing.path().to_owned();
            drop(passing);
            undisturbed.strike(&path);
        }
    }
}

/// Returns what stands in a place, if anything does.
fn standing_at(target: &Path) -> Result<Option<Vec<u8>>, problem::Problem> {
    match fs::read(target) {
        Ok(bytes) => Ok(Some(bytes)),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
        Err(error) => Err(failed(target, "the file there could not be read", &error)),
    }
}

fn hash(bytes: &[u8]) -> [u8; 32] {
    Sha256::digest(bytes).into()
}

fn changed(path: &Path) -> problem::Problem {
    at(
        path,
        "somebody saved this file while the command was at work",
        "nothing was changed; do this again, and it goes by what was saved",
    )
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

pub(in crate::commands) fn at(
    path: &Path,
    what: impl Into<String>,
    hint: &str,
) -> problem::Problem {
    problem::Problem::new(path.display().to_string(), what, hint)
}

pub(in crate::commands) fn failed(path: &Path, what: &str, error: &io::Error) -> problem::Problem {
    at(
        path,
        format!("{what}: {error}"),
        files::remedy(error.kind()),
    )
}

#[cfg(test)]
mod tests;
