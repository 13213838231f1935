//! The one builder through which tests run the program.

use std::ffi::OsString;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::thread;
use std::time::{Duration, Instant};

/// A run of the program in a folder of its own.
pub(crate) struct Program {
    folder: tempfile::TempDir,
    arguments: Vec<OsString>,
}

/// What a run gave.
#[derive(Debug)]
pub(crate) struct Run {
    /// The exit code.
    pub(crate) code: i32,
    /// What it wrote to its output.
    pub(crate) stdout: String,
    /// What it wrote to its error stream.
    pub(crate) stderr: String,
}

impl Program {
    /// Returns the program, to be run in an empty folder without arguments.
    pub(crate) fn new() -> Self {
        Self {
            folder: tempfile::tempdir().expect("a temporary folder can be made"),
            arguments: Vec::new(),
        }
    }

    /// Adds one argument.
    pub(crate) fn argument(mut self, argument: impl Into<OsString>) -> Self {
        self.arguments.push(argument.into());
        self
    }

    /// Adds arguments.
    pub(crate) fn arguments<I: Into<OsString>>(
        mut self,
        arguments: impl IntoIterator<Item = I>,
    ) -> Self {
        self.arguments.extend(arguments.into_iter().map(Into::into));
        self
    }

    /// Takes all arguments back, to run again in the same folder.
    #[allow(dead_code, reason = "not every command needs two runs in one folder")]
    pub(crate) fn anew(mut self) -> Self {
        self.arguments.clear();
        self
    }

    /// Writes a file into the folder.
    #[allow(dead_code, reason = "not every command reads files")]
    pub(crate) fn file(self, name: &str, content: impl AsRef<[u8]>) -> Self {
        let path = self.path(name);
        if let Some(parent) = path.parent() {
            fs::create_dir_all(parent).expect("the folder can be made");
        }
        fs::write(path, content).expect("the file can be written");
        self
    }

    /// The path of a file in the folder.
    pub(crate) fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// The text of a file in the folder.
    #[allow(dead_code, reason = "not every command writes files")]
    pub(crate) fn read(&self, name: &str) -> String {
        fs::read_to_string(self.path(name)).expect("the file can be read")
    }

    /// Runs it in its folder; the folder stays for looking into and for running again.
    pub(crate) fn run(&self) -> Run {
        let output = self.command().output();
        Run::from(output.expect("the program can be started"))
    }

    /// Returns the run as a command, to be started otherwise: stopped, or with another
    /// environment.
    pub(crate) fn command(&self) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_toothmark"));
        command
            .args(&self.arguments)
            .current_dir(self.folder.path())
            .env("COLUMNS", "100")
            .env_remove("CLICOLOR_FORCE");
        command
    }
}

impl Program {
    /// Runs it under another program, such as one that watches it.
    pub(crate) fn run_under(&self, wrapper: &[String]) -> Run {
        let (first, others) = wrapper.split_first().expect("a program");
        let output = Command::new(first)
            .args(others)
            .arg(env!("CARGO_BIN_EXE_toothmark"))
            .args(&self.arguments)
            .current_dir(self.folder.path())
            .env("COLUMNS", "100")
            .output()
            .expect("the program can be started");
        Run::from(output)
    }
}

/// What a run may take at the most.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Bounds {
    /// Seconds of the clock, for the whole run.
    pub(crate) seconds: u64,
    /// Megabytes of address space, for each process of it (where the system has `ulimit`).
    pub(crate) megabytes: u64,
}

impl Program {
    /// Runs it like [`Program::run`], held to bounds; panics where it takes longer.
    pub(crate) fn run_within(&self, bounds: Bounds) -> Run {
        let mut command = if cfg!(unix) {
            let mut shell = Command::new("sh");
            let script = "ulimit -v $1 && shift && exec \"$@\"";
            shell.args(["-c", script, "sh", &(bounds.megabytes * 1024).to_string()]);
            shell.arg(env!("CARGO_BIN_EXE_toothmark"));
            shell
        } else {
            Command::new(env!("CARGO_BIN_EXE_toothmark"))
        };
        // Into files: a pipe that nobody empties would stop a program that says much.
        let said = tempfile::tempdir().expect("a temporary folder can be made");
        let stream = |name: &str| fs::File::create(said.path().join(name)).expect("a file");
        let mut child = command
            .args(&self.arguments)
            .current_dir(self.folder.path())
            .env("COLUMNS", "100")
            .env_remove("CLICOLOR_FORCE")
            .stdin(Stdio::null())
            .stdout(stream("out"))
            .stderr(stream("err"))
            .spawn()
            .expect("the program can be started");
        let begun = Instant::now();
        let status = loop {
            if let Some(status) = child.try_wait().expect("it can be waited for") {
                break status;
            }
            if begun.elapsed() > Duration::from_secs(bounds.seconds) {
                child.kill().expect("it can be ended");
                panic!("{:?} takes longer than {bounds:?}", self.arguments);
            }
            thread::sleep(Duration::from_millis(5));
        };
        Run::from(Output {
            status,
            stdout: fs::read(said.path().join("out")).expect("its output"),
            stderr: fs::read(said.path().join("err")).expect("its messages"),
        })
    }

    /// Every file and folder below its folder, with `/` between.
    pub(crate) fn everything(&self) -> Vec<String> {
        let mut found = Vec::new();
        let mut folders = vec![self.folder.path().to_owned()];
        while let Some(folder) = folders.pop() {
            for entry in fs::read_dir(&folder).expect("the folder can be read") {
                let entry = entry.expect("the entry can be read");
                let inside = entry.path();
                let inside = inside.strip_prefix(self.folder.path()).expect("inside");
                found.push(inside.to_string_lossy().replace('\\', "/"));
                if entry.file_type().is_ok_and(|kind| kind.is_dir()) {
                    folders.push(entry.path());
                }
            }
        }
        found.sort();
        found
    }
}

impl From<Output> for Run {
    fn from(output: Output) -> Self {
        Self {
            code: output.status.code().expect("it ends by itself"),
            stdout: String::from_utf8(output.stdout).expect("its output is text"),
            stderr: String::from_utf8(output.stderr).expect("its messages are text"),
        }
    }
}

impl Run {
    /// Returns itself after a check that it was done without a problem.
    #[allow(dead_code, reason = "commands that are not built yet fail")]
    pub(crate) fn succeeded(self) -> Self {
        assert_eq!(self.code, 0, "{}\n{}", self.stdout, self.stderr);
        self
    }

    /// Returns itself after a check of its exit code.
    pub(crate) fn ended_with(self, code: i32) -> Self {
        assert_eq!(self.code, code, "{}\n{}", self.stdout, self.stderr);
        self
    }
}
/// Returns a line-by-line comparison of two texts, for a test that failed.
pub(crate) fn difference(wanted: &str, found: &str) -> String {
    let (wanted, found): (Vec<&str>, Vec<&str>) =
        (wanted.lines().collect(), found.lines().collect());
    let mut shown = Vec::new();
    for index in 0..wanted.len().max(found.len()) {
        let (want, have) = (wanted.get(index), found.get(index));
        if want == have {
            shown.push(format!("  {}", want.unwrap_or(&"")));
        } else {
            shown.extend(want.map(|line| format!("- {line}")));
            shown.extend(have.map(|line| format!("+ {line}")));
        }
    }
    shown.join("\n")
}

/// The project's folder.
pub(crate) fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}
