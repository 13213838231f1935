//! A folder that one run of the program writes into at a time.
//!
//! The lock is the operating system's own, on a hidden file in the folder: it goes with
//! the program that held it, however that ended, so that none is ever left over. The file
//! itself says who is at work; it is taken away at the end, and is harmless where it stays.

use crate::commands::console;
use crate::commands::files;
use crate::commands::interrupt;
use crate::problem;
use std::env;
use std::fs;
use std::io;
use std::io::Write;
use std::path::Path;
use std::path::PathBuf;
use std::process;
use std::thread;
use std::time::Duration;
use std::time::Instant;

/// The file that the lock is on.
pub const NAME: &str = ".toothmark-lock";
/// How files begin that are there only in passing.
pub const PASSING: &str = ".toothmark-";
/// How many letters and digits follow in the name of such a file.
pub const PASSING_SIGNS: usize = 6;
/// How long another run is waited for.
const PATIENCE: Duration = Duration::from_secs(10);
/// How often it is looked whether that has finished.
const PAUSE: Duration = Duration::from_millis(20);

/// A folder that nobody else writes into until this is dropped.
#[derive(Debug)]
pub struct Lock {
    /// Open as long as the lock is held; none where the drive knows no locks.
    file: Option<fs::File>,
    path: PathBuf,
    /// Folders that were made for it, the outermost first.
    made: Vec<PathBuf>,
}

/// Makes the folder where there is none, waits until nobody else writes into it, and takes
/// away what runs that were killed have left there.
///
/// A drive that knows no locks is told of on the console and written into all the same.
///
/// # Errors
///
/// When the folder cannot be made or written into, or somebody else is still at work after
/// ten seconds.
pub fn take(folder: &Path, console: &mut console::Console) -> Result<Lock, problem::Problem> {
    let folder = if folder.as_os_str().is_empty() {
        Path::new(".")
    } else {
        folder
    };
    let path = folder.join(NAME);
    let began = Instant::now();
    let mut made = Vec::new();
    let mut has_told = false;
    loop {
        make(folder, &mut made)?;
        match attempt(&path) {
            Ok(Attempt::Taken(file)) => {
                tidy(folder);
                return Ok(Lock {
                    file: Some(file),
                    path,
                    made,
                });
            }
            Ok(Attempt::Gone) => {}
            Ok(Attempt::Busy) if began.elapsed() >= PATIENCE => {
                return Err(problem::Problem::new(
                    folder.display().to_string(),
                    format!(
                        "another run of the program is still writing into this folder{}",
                        who(&path)
                    ),
                    "nothing was changed; when it has finished, do this again",
                ));
            }
            Ok(Attempt::Busy) => {
                if !has_told {
                    has_told = true;
                    console.warning(format_args!(
                        "{}: waiting for another run of the program that writes into this \
                         folder{}",
                        folder.display(),
                        who(&path)
                    ));
                }
                thread::sleep(PAUSE);
            }
            Ok(Attempt::Unknown) => {
                console.warning(format_args!(
                    "{}: this drive knows no locks, so let nobody else write into the folder \
                     meanwhile",
                    folder.display()
                ));
                return Ok(Lock {
                    file: None,
                    path,
                    made,
                });
            }
            // The folder went between making it and this: somebody else had made it.
            Err(error) if error.kind() == io::ErrorKind::NotFound && !folder.exists() => {}
            Err(error) => return Err(unwritable(folder, &error)),
        }
    }
}

/// What to say of a folder that cannot be written into.
fn unwritable(folder: &Path, error: &io::Error) -> problem::Problem {
    problem::Problem::new(
        folder.display().to_string(),
        format!("the folder cannot be written into: {error}"),
        files::remedy(error.kind()),
    )
}

/// Makes a folder and those above it, and writes down which there were not.
fn make(folder: &Path, made: &mut Vec<PathBuf>) -> Result<(), problem::Problem> {
    if folder.is_dir() {
        return Ok(());
    }
    let mut missing: Vec<PathBuf> = folder
        .ancestors()
        .filter(|above| !above.as_os_str().is_empty())
        .take_while(|above| !above.exists())
        .map(Path::to_owned)
        .collect();
    missing.reverse();
    let mut undisturbed = interrupt::undisturbed();
    fs::create_dir_all(folder).map_err(|error| {
        problem::Problem::new(
            folder.display().to_string(),
            format!("the folder could not be made: {error}"),
            files::remedy(error.kind()),
        )
    })?;
    for path in &missing {
        undisturbed.add(path);
    }
    made.extend(missing);
    Ok(())
}

/// What came of trying.
enum Attempt {
    /// It is held.
    Taken(fs::File),
    /// Somebody else holds it.
    Busy,
    /// The file was taken away meanwhile: whoever had it has finished.
    Gone,
    /// The drive knows no locks.
    Unknown,
}

fn attempt(path: &Path) -> io::Result<Attempt> {
    let mut undisturbed = interrupt::undisturbed();
    let mut file = open(path)?;
    match file.try_lock() {
        Ok(()) => {}
        Err(fs::TryLockError::WouldBlock) => return Ok(Attempt::Busy),
        Err(fs::TryLockError::Error(_)) => {
            let _ = fs::remove_file(path);
            return Ok(Attempt::Unknown);
        }
    }
    if !stands(&file, path) {
        return Ok(Attempt::Gone);
    }
    undisturbed.add(path);
    // Who is at work is a courtesy; the lock holds without it.
    let _ = file.set_len(0);
    let _ = writeln!(file, "{}", own_name());
    Ok(Attempt::Taken(file))
}

/// Opens the file, or makes it; one that another person left is only read.
fn open(path: &Path) -> io::Result<fs::File> {
    let mut options = fs::OpenOptions::new();
    options.read(true).write(true).create(true).truncate(false);
    #[cfg(unix)]
    {
        use std::os::unix::fs::OpenOptionsExt;
        options.mode(0o666);
    }
    #[cfg(windows)]
    {
        use std::os::windows::fs::OpenOptionsExt;
        /// `FILE_ATTRIBUTE_HIDDEN`: a dot hides nothing there.
        const HIDDEN: u32 = 2;
        options.attributes(HIDDEN);
    }
    match options.open(path) {
        Err(error) if error.kind() == io::ErrorKind::PermissionDenied && path.exists() => {
            fs::File::open(path)
        }
        opened => opened,
    }
}

/// Whether the file that is open is still the one that stands there.
#[cfg(unix)]
fn stands(file: &fs::File, path: &Path) -> bool {
    use std::os::unix::fs::MetadataExt;
    match (file.metadata(), fs::metadata(path)) {
        (Ok(open), Ok(there)) => open.dev() == there.dev() && open.ino() == there.ino(),
        (Ok(_) | Err(_), Ok(_) | Err(_)) => false,
    }
}

/// Where the file is never taken away it always stands.
#[cfg(not(unix))]
fn stands(_: &fs::File, _: &Path) -> bool {
    true
}

/// Who is at work here: the program's number, and whose it is.
fn own_name() -> String {
    let person = ["USER", "USERNAME", "LOGNAME"]
        .into_iter()
        .find_map(|name| env::var(name).ok())
        .filter(|name| !name.trim().is_empty());
    match person {
        Some(person) => format!("{person}, process {}", process::id()),
        None => format!("process {}", process::id()),
    }
}

/// Says who holds the lock and since when, as far as that can be found out.
fn who(path: &Path) -> String {
    let name: String = fs::read_to_string(path)
        .unwrap_or_default()
        .lines()
        .next()
        .unwrap_or_default()
        .chars()
        .filter(|sign| !sign.is_control())
        .take(80)
        .collect();
    // How long ago, not when: clocks and time zones may differ.
    let since = fs::metadata(path)
        .and_then(|data| data.modified())
        .ok()
        .and_then(|when| when.elapsed().ok())
        .map(|ago| format!("for {} s", ago.as_secs()));
    let said: Vec<String> = [Some(name).filter(|name| !name.is_empty()), since]
        .into_iter()
        .flatten()
        .collect();
    if said.is_empty() {
        String::new()
    } else {
        format!(" ({})", said.join(", "))
    }
}

/// Takes away files that are there in passing: only whoever holds the lock writes such,
/// so these were left by runs that were killed.
fn tidy(folder: &Path) {
    let Ok(entries) = fs::read_dir(folder) else {
        return;
    };
    for entry in entries.filter_map(Result::ok) {
        let name = entry.file_name();
        let is_passing = name
            .to_str()
            .and_then(|name| name.strip_prefix(PASSING))
            .is_some_and(|rest| {
                rest.chars().count() == PASSING_SIGNS
                    && rest.chars().all(|sign| sign.is_ascii_alphanumeric())
            });
        let kind = entry.file_type().ok().filter(|_| is_passing);
        // What cannot be taken away is in nobody's way.
        if kind.is_some_and(|kind| kind.is_file()) {
            let _ = fs::remove_file(entry.path());
        } else if kind.is_some_and(|kind| kind.is_dir()) {
            let _ = fs::remove_dir_all(entry.path());
        }
    }
}

impl Drop for Lock {
    fn drop(&mut self) {
        let mut undisturbed = interrupt::undisturbed();
        // Before the lock goes, so that whoever waits for it finds the file gone and makes
        // a new one. Elsewhere a file that others have open cannot be told from a new one.
        if cfg!(unix) && self.file.is_some() {
            let _ = fs::remove_file(&self.path);
        }
        undisturbed.strike(&self.path);
        for folder in self.made.iter().rev() {
            // Only where nothing was written into it.
            let _ = fs::remove_dir(folder);
            undisturbed.strike(folder);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn console() -> console::Console {
        console::Console::on(
            console::Loudness::Quiet,
            Box::new(io::sink()),
            Box::new(io::sink()),
        )
    }

    #[test]
    fn one_holds_a_folder_at_a_time_and_nothing_is_left() {
        let above = tempfile::tempdir().expect("a folder");
        let folder = above.path().join("autumn/week-12");
        let lock = take(&folder, &mut console()).expect("nobody has it");
        assert!(matches!(attempt(&folder.join(NAME)), Ok(Attempt::Busy)));
        let said = who(&folder.join(NAME));
        assert!(said.contains(&process::id().to_string()), "{said}");
        fs::write(folder.join("written"), b"").expect("written");
        drop(lock);
        let names = fs::read_dir(&folder).expect("it stays").count();
        assert_eq!(names, 1, "the lock's file is gone");
        drop(take(&folder, &mut console()).expect("it is free again"));
    }

    #[test]
    fn folders_into_which_nothing_was_written_go_again() {
        let above = tempfile::tempdir().expect("a folder");
        drop(take(&above.path().join("a/b"), &mut console()).expect("nobody has it"));
        assert!(!above.path().join("a").exists());
        fs::write(above.path().join("taken"), b"").expect("a file");
        let problem = take(&above.path().join("taken/out"), &mut console()).expect_err("a file");
        let what = problem.what.split(':').next();
        assert_eq!(what, Some("the folder could not be made"));
    }

    #[test]
    fn what_killed_runs_left_goes_and_nothing_else_does() {
        let folder = tempfile::tempdir().expect("a folder");
        let names = [
            ".toothmark-aB3dE9",
            ".toothmark-notes.txt",
            "marked.xlsx",
            ".toothmark-lock",
        ];
        for name in names {
            fs::write(folder.path().join(name), "left \u{1b}[31m").expect("written");
        }
        drop(take(folder.path(), &mut console()).expect("nobody has it"));
        let is_there = names.map(|name| folder.path().join(name).exists());
        assert_eq!(is_there, [false, true, true, !cfg!(unix)]);
    }

    #[test]
    fn who_holds_it_is_said_without_control_characters() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join(NAME);
        fs::write(&path, "ann\u{1b}[31m, process 7\nmore").expect("written");
        let said = who(&path);
        assert!(said.starts_with(" (ann[31m, process 7, for "), "{said}");
    }
}
