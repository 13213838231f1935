//! Ctrl-C, and being told to stop: what is half written goes, what is being put in its
//! place is finished, and then the program ends as it would have.
//!
//! A signal waits until nobody is [`undisturbed`]. What is only there in passing is
//! written down here, so that it can be taken away from another thread.

#[cfg(any(unix, test))]
use crate::commands::lock;
#[cfg(any(unix, test))]
use std::fs;
use std::path::Path;
use std::path::PathBuf;
use std::sync::Mutex;
use std::sync::MutexGuard;
use std::sync::PoisonError;

/// Files and folders that are only there in passing, in the order they were made.
static PASSING: Mutex<Vec<PathBuf>> = Mutex::new(Vec::new());

/// A while in which no signal ends the program.
pub struct Undisturbed(MutexGuard<'static, Vec<PathBuf>>);

/// Begins a while in which no signal ends the program; it lasts as long as what comes back.
#[must_use]
pub fn undisturbed() -> Undisturbed {
    // The list is whole whatever became of the thread that last held it.
    Undisturbed(PASSING.lock().unwrap_or_else(PoisonError::into_inner))
}

impl Undisturbed {
    /// Writes down a file, or a folder that is empty but for such files, that goes when a
    /// signal comes.
    pub fn add(&mut self, path: &Path) {
        self.0.push(path.to_owned());
    }

    /// Strikes it out again: it is there to stay, or gone.
    pub fn strike(&mut self, path: &Path) {
        self.0.retain(|passing| passing != path);
    }

    /// Takes away everything that is there in passing, the newest first.
    #[cfg(any(unix, test))]
    fn clear(&mut self) {
        for path in self.0.drain(..).rev() {
            let name = path.file_name().and_then(|name| name.to_str());
            if name.is_some_and(|name| name.starts_with(lock::PASSING)) && path.is_dir() {
                let _ = fs::remove_dir_all(&path);
            } else if fs::remove_file(&path).is_err() {
                // A folder with something in it stays.
                let _ = fs::remove_dir(&path);
            }
        }
    }
}

/// Has the program tidy up before SIGINT or SIGTERM end it, and be told of a file that
/// grows too large instead of being ended by it.
///
/// Where the system has no such signals, or will not pass them on, nothing is done: what
/// is left behind is taken away by the next run.
pub fn watch() {
    #[cfg(unix)]
    unix::watch();
}

#[cfg(unix)]
mod unix {
    use signal_hook::consts;
    use signal_hook::flag;
    use signal_hook::iterator;
    use signal_hook::low_level;
    use std::sync::Arc;
    use std::sync::atomic::AtomicBool;
    use std::thread;

    pub(super) fn watch() {
        // With somebody listening, writing fails with an error that can be told.
        let _ = flag::register(consts::SIGXFSZ, Arc::new(AtomicBool::new(false)));
        let Ok(mut signals) = iterator::Signals::new([consts::SIGINT, consts::SIGTERM]) else {
            return;
        };
        thread::spawn(move || {
            for signal in signals.forever() {
                let mut undisturbed = super::undisturbed();
                undisturbed.clear();
                // Ends the program, with the exit status that the signal usually gives.
                let _ = low_level::emulate_default_handler(signal);
            }
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_there_in_passing_goes_and_what_was_struck_out_stays() {
        let above = tempfile::tempdir().expect("a folder");
        let folder = above.path().join("made");
        fs::create_dir(&folder).expect("made");
        let (passing, stays) = (folder.join("passing"), above.path().join("stays"));
        let mut list = Vec::new();
        for path in [&folder, &passing, &stays] {
            if *path != folder {
                fs::write(path, b"").expect("written");
            }
            list.push(path.clone());
        }
        // A list of the test's own: other tests write files meanwhile.
        let own: &'static Mutex<Vec<PathBuf>> = Box::leak(Box::new(Mutex::new(list)));
        let mut undisturbed = Undisturbed(own.lock().expect("nobody else has it"));
        undisturbed.strike(&stays);
        undisturbed.clear();
        assert!(!passing.exists() && !folder.exists() && stays.exists());
    }
}
