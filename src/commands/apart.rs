//! Spreadsheets read apart: in a process of their own, with a clock and a cap on memory.
//!
//! Whatever a file makes the reader do (stop, run for ever, ask for all the memory of the
//! computer), this process goes on and has something to say. The other process is this
//! program again, started with [`WORD`]; it gets the file through its input, opens nothing,
//! and hands back plain cells through its output.

use crate::workbook::cells;
use crate::workbook::decisions;
use std::env;
use std::ffi::OsString;
use std::io;
use std::io::Read;
use std::io::Write;
use std::path::PathBuf;
use std::process::Child;
use std::process::Command;
use std::process::Stdio;
use std::sync::OnceLock;
use std::sync::mpsc;
use std::thread;
use std::time::Duration;

/// The first argument of a process that reads for another; what it reads is the second.
pub const WORD: &str = "read-a-spreadsheet-apart";
/// The most memory that reading one spreadsheet may take, in megabytes.
pub const MOST_MEGABYTES: usize = 1_536;
/// The longest that reading a small spreadsheet may take, in seconds: generous, since a
/// computer may have much else to do.
const MOST_SECONDS: u64 = 60;
/// How many seconds more for each megabyte of the file.
const SECONDS_A_MEGABYTE: u64 = 10;
const MEGABYTE: usize = 1024 * 1024;
/// How much is kept of what the other process says of its end.
const MOST_LAST_WORDS: u64 = 16 * 1024;

/// What is read of a spreadsheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wanted {
    /// All its cells.
    Everything,
    /// The rows of a results workbook in which something may be decided.
    Decisions,
}

impl Wanted {
    /// Returns the argument that says so.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Everything => "everything",
            Self::Decisions => "decisions",
        }
    }

    fn cells(self, bytes: &[u8]) -> Result<cells::Book, cells::Fault> {
        match self {
            Self::Everything => cells::read(bytes),
            Self::Decisions => decisions::book(bytes),
        }
    }
}

/// Returns what is to be read where these are the arguments of a process that reads for
/// another.
#[must_use]
pub fn wanted(arguments: impl Iterator<Item = OsString>) -> Option<Wanted> {
    let arguments: Vec<OsString> = arguments.take(3).collect();
    [Wanted::Everything, Wanted::Decisions]
        .into_iter()
        .find(|wanted| arguments == [WORD, wanted.word()])
}

/// The program that reads apart; none where this process belongs to another program.
static PROGRAM: OnceLock<PathBuf> = OnceLock::new();

/// Says that this program, started with [`WORD`], calls [`serve`]; until that is said
/// spreadsheets are read in this process.
pub fn offer() {
    if let Ok(program) = env::current_exe() {
        PROGRAM.get_or_init(|| program);
    }
}

/// Reads the spreadsheet that stands in the input and writes its cells to the output.
///
/// # Errors
///
/// When the streams fail: the other process has gone.
pub fn serve(wanted: Wanted, mut input: impl Read, mut output: impl Write) -> io::Result<()> {
    let mut bytes = Vec::new();
    input.read_to_end(&mut bytes)?;
    let found = wanted.cells(&bytes);
    drop(bytes);
    output.write_all(&cells::to_plain(&found))?;
    output.flush()
}

/// Returns the cells of a spreadsheet, or its fault, as plain bytes for [`cells::read`].
#[must_use]
pub fn read(bytes: Vec<u8>, wanted: Wanted) -> Vec<u8> {
    let longest = longest(bytes.len());
    let Some(program) = PROGRAM.get() else {
        return read_here(bytes, wanted, longest);
    };
    let mut command = Command::new(program);
    command.args([WORD, wanted.word()]);
    match start(&mut command) {
        Ok(child) => read_there(child, bytes, longest),
        // A computer that lets no second process start still gets its guards and its clock.
        Err(_) => read_here(bytes, wanted, longest),
    }
}

/// Returns how long a file of so many bytes may take.
fn longest(bytes: usize) -> Duration {
    let megabytes = u64::try_from(bytes / MEGABYTE).unwrap_or(u64::MAX);
    Duration::from_secs(MOST_SECONDS.saturating_add(megabytes.saturating_mul(SECONDS_A_MEGABYTE)))
}

fn start(command: &mut Command) -> io::Result<Child> {
    command
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
}

/// Reads in another process: feeds it, listens to it, and ends it when its time is over.
fn read_there(mut child: Child, bytes: Vec<u8>, longest: Duration) -> Vec<u8> {
    let input = child.stdin.take();
    let output = child.stdout.take();
    let last_words = child.stderr.take();
    let (sender, receiver) = mpsc::channel();
    // All three streams at once: a pipe that nobody empties stops who fills it.
    thread::spawn(move || {
        // Where it went away early, its output says why.
        let _ = input.map(|mut input| input.write_all(&bytes));
    });
    let words = thread::spawn(move || {
        let mut words = Vec::new();
        if let Some(mut stream) = last_words {
            let _ = (&mut stream).take(MOST_LAST_WORDS).read_to_end(&mut words);
            let _ = io::copy(&mut stream, &mut io::sink());
        }
        String::from_utf8_lossy(&words).into_owned()
    });
    thread::spawn(move || {
        let mut plain = Vec::new();
        let _ = output.map(|mut output| output.read_to_end(&mut plain));
        let _ = sender.send(plain);
    });
    let plain = receiver.recv_timeout(longest);
    // It has nothing more to say, or its time is over.
    let is_late = plain.is_err();
    if is_late {
        let _ = child.kill();
    }
    let ended = child.wait();
    if is_late {
        return late(longest);
    }
    match (plain, ended) {
        (Ok(plain), Ok(status)) if status.success() => plain,
        (Ok(_) | Err(_), Ok(_) | Err(_)) => {
            let words = words.join().unwrap_or_default();
            cells::to_plain(&Err(ended_badly(&words)))
        }
    }
}

/// Returns why a process ended otherwise than it should.
fn ended_badly(words: &str) -> cells::Fault {
    if words.contains("memory allocation of") || words.contains("capacity overflow") {
        cells::Fault::TooLarge {
            what: "reading the file takes very much memory".to_owned(),
            limit: format!("{MOST_MEGABYTES} MB of memory"),
        }
    } else {
        cells::Fault::Damaged {
            detail: "no sense can be made of it".to_owned(),
        }
    }
}

fn late(longest: Duration) -> Vec<u8> {
    cells::to_plain(&Err(cells::Fault::TooLarge {
        what: "reading the file takes very long".to_owned(),
        limit: format!("{} seconds for a file of its size", longest.as_secs()),
    }))
}

/// Reads in this process, in a thread that is left alone when its time is over.
fn read_here(bytes: Vec<u8>, wanted: Wanted, longest: Duration) -> Vec<u8> {
    let (sender, receiver) = mpsc::channel();
    thread::spawn(move || {
        // Nobody listens any more where the time was over.
        let _ = sender.send(cells::to_plain(&wanted.cells(&bytes)));
    });
    match receiver.recv_timeout(longest) {
        Ok(plain) => plain,
        Err(mpsc::RecvTimeoutError::Timeout) => late(longest),
        Err(mpsc::RecvTimeoutError::Disconnected) => cells::to_plain(&Err(ended_badly(""))),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_served_is_what_would_be_read_here() {
        for bytes in [&b"id,Q1\nP1,3:1\n"[..], b"", b"PK nothing", b"%PDF-1.7"] {
            let mut output = Vec::new();
            for wanted in [Wanted::Everything, Wanted::Decisions] {
                output.clear();
                serve(wanted, bytes, &mut output).expect("the streams are in memory");
                assert_eq!(cells::read(&output), wanted.cells(bytes));
                assert_eq!(read(bytes.to_vec(), wanted), output);
            }
        }
    }

    #[cfg(unix)]
    #[test]
    fn a_process_that_ends_badly_or_never_has_its_message() {
        let cases = [
            ("kill -ABRT $$", "the file is damaged: no sense can be made"),
            ("cat > /dev/null", "the file is empty"),
            (
                "echo memory allocation of 9 bytes failed >&2; kill -ABRT $$",
                "reading the file takes very much memory, more than the limit of 1536 MB",
            ),
            // Fills its streams before it fails, and reads nothing.
            (
                "head -c 300000 /dev/zero | tr '\\0' x >&2; exit 3",
                "the file is damaged",
            ),
            (
                "exec sleep 600",
                "reading the file takes very long, more than the limit of 1 seconds",
            ),
        ];
        for (script, wanted) in cases {
            let child = start(Command::new("sh").args(["-c", script])).expect("a shell");
            let longest = Duration::from_secs(if script.contains("sleep") { 1 } else { 90 });
            let plain = read_there(child, vec![b'x'; 300_000], longest);
            let fault = cells::read(&plain).expect_err(script);
            assert!(fault.to_string().starts_with(wanted), "{script}: {fault}");
        }
    }

    #[test]
    fn large_files_have_more_time() {
        assert_eq!(longest(0), Duration::from_mins(1));
        assert_eq!(longest(10 * MEGABYTE), Duration::from_secs(160));
    }
}
