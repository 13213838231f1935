//! Files come whole or not at all, and what stood there is not lost.

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
