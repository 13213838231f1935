//! Workbooks that somebody has open in a spreadsheet program, told by the small files such
//! programs put beside them.
//!
//! `LibreOffice` writes `.~lock.NAME#`, a line with who, which computer and when between
//! commas; Excel writes `~$NAME`, which begins with the length of the person's name and
//! the name. Source: `LibreOffice`'s as it writes them, looked at; Excel's from memory.

use crate::commands::files;
use crate::problem;
use std::fs;
use std::path::Path;
use std::path::PathBuf;
use std::time::Duration;

/// After so long such a file was more likely left by a program that stopped.
const A_DAY: Duration = Duration::from_hours(24);
/// No program's file is longer.
const MOST_BYTES: usize = 4096;

/// Says who has a workbook open, from what the file holds.
type Who = fn(&[u8]) -> String;

/// A workbook that seems to be open in another program.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Open {
    /// The workbook.
    workbook: PathBuf,
    /// The program.
    program: &'static str,
    /// Who has it open, and since when, as far as that is told.
    who: String,
    /// The file that says so.
    lock: PathBuf,
    /// Whether that was written within a day.
    age: Age,
}

/// How long ago the file was written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Age {
    /// Within a day: take it to be true.
    Fresh,
    /// Longer ago: it may have been left behind.
    Old,
}

/// Returns who has the workbook open elsewhere, if anybody seems to.
#[must_use]
pub fn of(workbook: &Path) -> Option<Open> {
    if !workbook.exists() {
        return None;
    }
    let name = files::name(workbook);
    let kinds: [(&str, String, Who); 2] = [
        ("LibreOffice", format!(".~lock.{name}#"), libreoffice),
        ("Excel", format!("~${name}"), excel),
    ];
    kinds.into_iter().find_map(|(program, name, who)| {
        let lock = workbook.with_file_name(name);
        let bytes = fs::read(&lock).ok()?;
        Some(Open {
            workbook: workbook.to_owned(),
            program,
            who: who(bytes.get(..MOST_BYTES).unwrap_or(&bytes)),
            age: age(&lock),
            lock,
        })
    })
}

impl Open {
    /// How long ago it was opened.
    #[must_use]
    pub fn age(&self) -> Age {
        self.age
    }

    /// What stands in the way, and what to do.
    #[must_use]
    pub fn to_problem(&self) -> problem::Problem {
        problem::Problem::new(
            files::shown(&self.workbook),
            format!("is open in {}{}", self.program, self.who),
            format!(
                "save and close it there, then do this again; if nobody has it open, delete {}",
                files::shown(&self.lock)
            ),
        )
    }

    /// What to say where the work goes on all the same.
    #[must_use]
    pub fn to_warning(&self, what_follows: &str) -> String {
        format!(
            "{}: may be open in {}{}; {what_follows}",
            files::shown(&self.workbook),
            self.program,
            self.who
        )
    }
}

fn age(lock: &Path) -> Age {
    let ago = fs::metadata(lock)
        .and_then(|data| data.modified())
        .ok()
        // A time to come is a clock that differs.
        .and_then(|when| when.elapsed().ok());
    if ago.is_some_and(|ago| ago > A_DAY) {
        Age::Old
    } else {
        Age::Fresh
    }
}

/// `,ann,office-pc,25.11.2026 20:57,file:///...;`
fn libreoffice(bytes: &[u8]) -> String {
    let text = String::from_utf8_lossy(bytes);
    let mut fields = text.split(',').map(plain);
    let mut next = || fields.next().unwrap_or_default();
    let (name, user, computer, when) = (next(), next(), next(), next());
    let person = if name.is_empty() { user } else { name };
    said([("by ", person), ("on ", computer), ("since ", when)])
}

/// A byte with the length of the name, then the name.
fn excel(bytes: &[u8]) -> String {
    let name = bytes
        .split_first()
        .map_or_else(String::new, |(length, rest)| {
            let name = rest.get(..usize::from(*length)).unwrap_or_default();
            plain(&String::from_utf8_lossy(name))
        });
    said([("by ", name), ("", String::new()), ("", String::new())])
}

fn said(parts: [(&str, String); 3]) -> String {
    let said: Vec<String> = parts
        .into_iter()
        .filter(|(_, what)| !what.is_empty())
        .map(|(before, what)| format!("{before}{what}"))
        .collect();
    if said.is_empty() {
        String::new()
    } else {
        format!(" ({})", said.join(" "))
    }
}

/// A text that somebody else's program wrote, fit for a message.
fn plain(text: &str) -> String {
    text.chars()
        .filter(|sign| !sign.is_control())
        .take(60)
        .collect::<String>()
        .trim()
        .to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::time::SystemTime;

    /// A workbook with such a file beside it.
    fn folder(name: &str, content: &[u8]) -> tempfile::TempDir {
        let folder = tempfile::tempdir().expect("a folder");
        fs::write(folder.path().join("marked.xlsx"), b"PK").expect("written");
        fs::write(folder.path().join(name), content).expect("written");
        folder
    }

    #[test]
    fn it_is_told_who_has_a_workbook_open_and_what_to_do() {
        let mut owner = vec![3];
        owner.extend(b"Ann   ");
        owner.resize(165, 0);
        let cases: [(&str, &[u8], &str); 4] = [
            (
                ".~lock.marked.xlsx#",
                b",ann,office-pc,25.11.2026 20:57,file:///home/ann/.config/libreoffice/4;",
                "is open in LibreOffice (by ann on office-pc since 25.11.2026 20:57)",
            ),
            (".~lock.marked.xlsx#", b"", "is open in LibreOffice"),
            ("~$marked.xlsx", &owner, "is open in Excel (by Ann)"),
            ("~$marked.xlsx", b"\xff\x1b\xfe", "is open in Excel"),
        ];
        for (name, content, what) in cases {
            let folder = folder(name, content);
            let open = of(&folder.path().join("marked.xlsx")).expect("it is open");
            assert_eq!(open.age(), Age::Fresh);
            let problem = open.to_problem();
            assert_eq!(problem.what, what);
            assert!(problem.hint.contains(name), "{problem}");
        }
    }

    #[test]
    fn one_that_is_older_than_a_day_may_be_left_over() {
        let folder = folder(".~lock.marked.xlsx#", b",ann,office-pc,,;");
        let lock = fs::File::options()
            .write(true)
            .open(folder.path().join(".~lock.marked.xlsx#"))
            .expect("it is there");
        let two_days_ago = SystemTime::now() - 2 * A_DAY;
        lock.set_modified(two_days_ago)
            .expect("the time can be set");
        let open = of(&folder.path().join("marked.xlsx")).expect("it is told of");
        assert_eq!(open.age(), Age::Old);
    }

    #[test]
    fn nobody_has_a_workbook_open_that_is_not_there_or_has_no_such_file() {
        let folder = folder(".~lock.other.xlsx#", b"");
        assert_eq!(of(&folder.path().join("marked.xlsx")), None);
        assert_eq!(of(&folder.path().join("other.xlsx")), None);
    }
}
