//! A file under a passing name, until it takes its place.

use crate::commands::interrupt;
use crate::commands::lock;
use crate::commands::save;
use crate::problem;
use std::fs;
use std::io;
use std::io::Write;
use std::path::Path;
use tempfile::NamedTempFile;
use tempfile::PersistError;

/// Returns a file under a passing name with these bytes, brought to the disk.
pub(super) fn written(
    folder: &Path,
    target: &Path,
    bytes: &[u8],
) -> Result<NamedTempFile, problem::Problem> {
    let mut undisturbed = interrupt::undisturbed();
    let mut passing = passing_file(folder, target)
        .map_err(|error| save::failed(target, "the file could not be made", &error))?;
    undisturbed.add(passing.path());
    drop(undisturbed);
    passing
        .write_all(bytes)
        .and_then(|()| passing.as_file().sync_all())
        .map_err(|error| save::failed(target, "the file could not be written", &error))?;
    Ok(passing)
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

/// Gives a file its name, which no other file has.
pub(super) fn put_new(passing: NamedTempFile, path: &Path) -> Result<fs::File, PersistError> {
    match passing.persist_noclobber(path) {
        // Some shared drives can only rename, and that takes the place of another file.
        Err(error) if error.error.kind() != io::ErrorKind::AlreadyExists && !path.exists() => {
            error.file.persist(path)
        }
        put => put,
    }
}

/// Brings a name in its folder to the disk, where the system can: what takes its place
/// later must not be there before it, however the computer stops.
pub(super) fn sync(path: &Path) {
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
