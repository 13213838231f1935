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
use std::io::Write;
use std::path::Path;
use std::path::PathBuf;
use tempfile::NamedTempFile;
use tempfile::PersistError;

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
                put_new(passing, &path).map_err(|error| {
                    failed(&path, "the dated copy could not be written", &error.error)
                })?;
                sync(&path);
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
            None => put_new(passing, &prepared.target),
            Some(_) => passing.persist(&prepared.target),
        };
        put.map_err(|error| {
            at(
                &prepared.target,
                format!("the file could not be put in its place: {}", error.error),
                "close it in other programs, and do this again",
            )
        })?;
        sync(&prepared.target);
    }
    Ok(kept)
}

/// Gives a file its name, which no other file has.
fn put_new(passing: NamedTempFile, path: &Path) -> Result<fs::File, PersistError> {
    match passing.persist_noclobber(path) {
        // Some shared drives can only rename, and that takes the place of another file.
        Err(error) if error.error.kind() != io::ErrorKind::AlreadyExists && !path.exists() => {
            error.file.persist(path)
        }
        put => put,
    }
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
    let passing = written(folder, &target, &output.bytes)?;
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
    let path = copy_name(target, standing, date);
    if path.exists() {
        return Ok(Copy::There(path));
    }
    let passing = written(folder, target, standing)?;
    Ok(Copy::New { passing, path })
}

/// Returns a file under a passing name with these bytes, brought to the disk.
fn written(folder: &Path, target: &Path, bytes: &[u8]) -> Result<NamedTempFile, problem::Problem> {
    let mut undisturbed = interrupt::undisturbed();
    let mut passing = passing_file(folder, target)
        .map_err(|error| failed(target, "the file could not be made", &error))?;
    undisturbed.add(passing.path());
    drop(undisturbed);
    passing
        .write_all(bytes)
        .and_then(|()| passing.as_file().sync_all())
        .map_err(|error| failed(target, "the file could not be written", &error))?;
    Ok(passing)
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

/// Brings a name in its folder to the disk, where the system can: what takes its place
/// later must not be there before it, however the computer stops.
fn sync(path: &Path) {
    #[cfg(unix)]
    {
        let folder = match path.parent() {
            Some(folder) if !folder.as_os_str().is_empty() => folder,
            Some(_) | None => Path::new("."),
        };
        // A drive that cannot do it says so; there is nothing else to try.
        let _ = fs::File::open(folder).and_then(|folder| folder.sync_all());
    }
    #[cfg(not(unix))]
    let _ = path;
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
    builder
        .prefix(lock::PASSING)
        .rand_bytes(lock::PASSING_SIGNS);
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

/// Returns a name with a date, such as `marked 2026-03-02.xlsx`, that no file has yet or
/// that a copy with the same bytes has.
fn copy_name(target: &Path, bytes: &[u8], date: &str) -> PathBuf {
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
        .find(|path| !path.exists() || fs::read(path).is_ok_and(|there| there == bytes))
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
    at(
        path,
        format!("{what}: {error}"),
        files::remedy(error.kind()),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::commands::console;

    /// Writes into the test's own folder, held for so long.
    fn all_into(
        folder: &tempfile::TempDir,
        outputs: &[Output],
        seen: &[Seen],
    ) -> Result<Vec<PathBuf>, Vec<problem::Problem>> {
        let quiet = console::Loudness::Quiet;
        let mut console = console::Console::on(quiet, Box::new(io::sink()), Box::new(io::sink()));
        let lock = lock::take(folder.path(), &mut console).expect("nobody has it");
        all(&lock, outputs, seen)
    }

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
        let outputs = [
            output(new.clone(), b"1", Standing::Refused),
            output(old.clone(), b"2", Standing::Refused),
            output(folder.path().join("no/such"), b"3", Standing::Refused),
        ];
        let problems = all_into(&folder, &outputs, &[]).expect_err("two problems");
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
        all_into(&folder, &outputs, &[]).expect("the first time");
        all_into(&folder, &outputs, &[]).expect("the second time");
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
            let outputs = [output(path.clone(), bytes, kept.clone())];
            let copies = all_into(&folder, &outputs, &[]).expect("written");
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
        let outputs = [output(link.clone(), b"new", Standing::Replaced)];
        all_into(&folder, &outputs, &[]).expect("written");
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
        one(output(ours.clone(), b"x", Standing::Refused)).expect("written");
        let mode = |path: &Path| fs::metadata(path).expect("a file").permissions().mode();
        assert_eq!(mode(&ours), mode(&plain));
    }

    #[test]
    fn a_copy_that_a_killed_run_has_kept_is_not_kept_twice() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("marked.xlsx");
        let copy = folder.path().join("marked 2026-03-02.xlsx");
        fs::write(&path, b"1").expect("a file");
        fs::write(&copy, b"1").expect("the copy");
        let kept = Standing::Kept {
            date: "2026-03-02".to_owned(),
        };
        let copies = all_into(&folder, &[output(path, b"2", kept)], &[]).expect("written");
        assert_eq!(copies, [copy]);
        let files = fs::read_dir(folder.path()).expect("a folder").count();
        assert_eq!(files, 2);
    }

    #[test]
    fn what_was_saved_since_it_was_read_is_not_overwritten() {
        let folder = tempfile::tempdir().expect("a folder");
        let (read, new) = (folder.path().join("read"), folder.path().join("new"));
        let outputs = [
            output(new.clone(), b"1", Standing::Replaced),
            output(read.clone(), b"2", Standing::Replaced),
        ];
        for (before, now) in [
            (Some(&b"a"[..]), Some(&b"b"[..])),
            (None, Some(b"b")),
            (Some(b"a"), None),
        ] {
            if let Some(now) = now {
                fs::write(&read, now).expect("saved");
            } else {
                fs::remove_file(&read).expect("deleted");
            }
            let seen = [Seen::new(&read, before)];
            let problems = all_into(&folder, &outputs, &seen).expect_err("it has changed");
            assert!(problems[0].what.contains("saved this file"), "{problems:?}");
            assert_eq!(fs::read(&read).ok().as_deref(), now);
            assert!(!new.exists(), "nothing is written");
        }
    }

    #[test]
    fn a_file_that_is_open_in_a_spreadsheet_program_is_not_overwritten() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("marked.xlsx");
        fs::write(&path, b"1").expect("a file");
        fs::write(folder.path().join(".~lock.marked.xlsx#"), b",ann,pc,,;").expect("written");
        let outputs = |bytes| [output(path.clone(), bytes, Standing::Replaced)];
        let problems = all_into(&folder, &outputs(b"2"), &[]).expect_err("it is open");
        assert!(
            problems[0].what.contains("open in LibreOffice (by ann"),
            "{problems:?}"
        );
        assert_eq!(fs::read(&path).expect("the file"), b"1");
        all_into(&folder, &outputs(b"1"), &[]).expect("nothing is to be written");
    }

    #[test]
    fn nothing_is_written_where_one_name_is_a_folders() {
        let folder = tempfile::tempdir().expect("a folder");
        let (first, last) = (folder.path().join("first"), folder.path().join("last"));
        fs::create_dir(&last).expect("a folder of that name");
        fs::write(&first, b"old").expect("a file");
        let outputs = [
            output(first.clone(), b"new", Standing::Replaced),
            output(last, b"new", Standing::Replaced),
        ];
        all_into(&folder, &outputs, &[]).expect_err("a folder is no file");
        assert_eq!(fs::read(&first).expect("the file"), b"old");
        let left = fs::read_dir(folder.path()).expect("a folder").count();
        assert_eq!(left, 2, "no passing file is left behind");
    }
}
