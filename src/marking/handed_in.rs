//! What pupils handed in, gathered from the file being marked and from what an
//! earlier marking kept: late work joins the rest, and nobody is lost.
//!
//! Takes the responses of one file and the record of an earlier marking; gives
//! the responses to be marked now. Kept pupils are marked again from what they
//! handed in, as everybody is.

use crate::answer;
use crate::homework;
use crate::marking;
use crate::marking::decision;
use crate::marking::owners;
use crate::marking::roll;
use crate::wording;
use std::collections::BTreeMap;

/// Where a pupil's work came from, and what it took the place of.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Origin {
    /// The file; its name is empty where nothing is known.
    pub file: File,
    /// The date it was first marked, ISO 8601.
    pub first_marked: String,
    /// Work of the same pupil that was marked before and does not count any more,
    /// oldest first.
    pub replaced: Vec<Replaced>,
    /// What had been typed before, in the last file that was replaced, by question;
    /// only where it differs.
    pub before: BTreeMap<String, String>,
}

/// A file of answers.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct File {
    /// Its name.
    pub name: String,
    /// What tells it from another of this name: the folder, seen from the results.
    pub place: String,
}

/// Work that does not count any more.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Replaced {
    /// The file it came from.
    pub file: File,
    /// What tells whether it is still the same there.
    pub hash: String,
}

/// One file of answers, and what was there before.
#[derive(Debug, Clone, Copy)]
pub struct Gathering<'a> {
    /// The homework.
    pub homework: &'a homework::Homework,
    /// What stands in the file.
    pub responses: &'a [marking::Response],
    /// The file.
    pub file: &'a File,
    /// What an earlier marking kept.
    pub earlier: Option<&'a marking::Marked>,
}

/// What is to be marked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Gathered {
    /// What pupils handed in, in this file or before.
    pub responses: Vec<marking::Response>,
    /// What the person who marks should know about it.
    pub notes: Vec<String>,
    /// How many pupils' answers are gone from the file they stood in.
    pub cleared: usize,
}

/// Returns the place of a file outside the folder of results: the same for the
/// same path, without telling it.
#[must_use]
pub fn far_place(path: &str) -> String {
    format!("elsewhere {}", decision::short_hash(&[path.to_owned()]))
}

/// Returns what is to be marked: this file's work, and that of pupils who are not
/// in it and handed in with another file before.
///
/// A row that is empty in the very file that the pupil's work came from means that
/// it was cleared there. Where a pupil handed in with two files, the one marked
/// last counts; but a row that was replaced by later work before, and has not
/// changed since, does not come back.
#[must_use]
pub fn gather(gathering: &Gathering<'_>) -> Gathered {
    let homework = gathering.homework;
    let mut rows: Vec<Vec<&marking::Response>> = vec![Vec::new(); homework.pupils.len()];
    let mut nobodys = Vec::new();
    let owners = owners::Owners::of(homework);
    for response in gathering.responses {
        match owners.owner(&response.pupil_id) {
            Some(index) => rows
                .get_mut(index)
                .into_iter()
                .for_each(|own| own.push(response)),
            None => nobodys.push(response.clone()),
        }
    }
    let before: BTreeMap<&str, &marking::Response> = gathering
        .earlier
        .iter()
        .flat_map(|marked| &marked.pupils)
        .filter_map(|entry| Some((entry.pupil.id.as_str(), entry.handed_in.as_ref()?)))
        .collect();
    let mut counts = Counts::default();
    let mut notes = Vec::new();
    let mut responses = Vec::new();
    for (assignment, own) in homework.pupils.iter().zip(&rows) {
        let pupil = &assignment.pupil;
        let choice = choose(&Choosing {
            own,
            before: before.get(pupil.id.as_str()).copied(),
            file: gathering.file,
            is_first: gathering.earlier.is_none(),
        });
        counts.count(&choice);
        notes.extend(choice.note(&format!("{} ({})", pupil.name, pupil.id), gathering.file));
        responses.extend(choice.responses(own, gathering.file));
    }
    responses.append(&mut nobodys);
    let mut all = counts.notes(&gathering.file.name);
    all.append(&mut notes);
    Gathered {
        responses,
        notes: all,
        cleared: counts.cleared,
    }
}

/// One pupil's rows, and what the pupil handed in before.
struct Choosing<'a> {
    own: &'a [&'a marking::Response],
    before: Option<&'a marking::Response>,
    file: &'a File,
    is_first: bool,
}

/// Which work of a pupil is marked.
enum Choice<'a> {
    /// What stands in this file, and what it takes over from work before it.
    Now(Origin),
    /// The same, of a pupil whose answers are new in these results.
    Added,
    /// The same, where the pupil handed in other answers before.
    Replacing(Origin, &'a File),
    /// The same, where answers stood in this file before and are gone.
    Cleared,
    /// What the pupil handed in before, with another file.
    Kept(&'a marking::Response),
    /// The same, though this file says that the pupil was away.
    KeptThoughAway(&'a marking::Response),
}

fn choose<'a>(choosing: &Choosing<'a>) -> Choice<'a> {
    let filled = |response: &&&marking::Response| has_answers(response);
    let now = choosing
        .own
        .iter()
        .find(filled)
        .or_else(|| choosing.own.iter().find(|one| roll::has_content(one)))
        .copied();
    let now_answers = now.is_some_and(has_answers);
    let Some(before) = choosing.before else {
        return if now_answers && !choosing.is_first {
            Choice::Added
        } else {
            Choice::Now(Origin::default())
        };
    };
    let origin = &before.origin;
    if origin.file == *choosing.file {
        if has_answers(before) && !now_answers {
            return Choice::Cleared;
        }
        let mut origin = origin.clone();
        origin.before.retain(|question, typed| {
            now.is_none_or(|now| decision::plain(&text(typed)) != plain_of(&now.answers, question))
        });
        return Choice::Now(origin);
    }
    let Some(now) = now.filter(|now| roll::has_content(now)) else {
        return Choice::Kept(before);
    };
    if !has_answers(now) {
        return if has_answers(before) {
            Choice::KeptThoughAway(before)
        } else {
            Choice::Now(Origin::default())
        };
    }
    if !has_answers(before) {
        return Choice::Added;
    }
    // Who kept no file's name kept no working either: nothing can be compared.
    if origin.file.name.is_empty() || hash(now) == hash(before) {
        return Choice::Now(Origin {
            before: BTreeMap::new(),
            ..origin.clone()
        });
    }
    let here = Replaced {
        file: choosing.file.clone(),
        hash: hash(now),
    };
    if origin.replaced.contains(&here) {
        return Choice::Kept(before);
    }
    let mut replaced = origin.replaced.clone();
    replaced.retain(|one| one.file != origin.file && one.file != here.file);
    replaced.push(Replaced {
        file: origin.file.clone(),
        hash: hash(before),
    });
    let changed = Origin {
        file: File::default(),
        first_marked: origin.first_marked.clone(),
        replaced,
        before: differing(&before.answers, &now.answers),
    };
    Choice::Replacing(changed, &origin.file)
}

impl Choice<'_> {
    /// Returns the responses to be marked: the pupil's rows, or what is kept.
    fn responses(&self, own: &[&marking::Response], file: &File) -> Vec<marking::Response> {
        let rows = |origin: &Origin| {
            own.iter()
                .map(|response| marking::Response {
                    origin: Origin {
                        file: file.clone(),
                        ..origin.clone()
                    },
                    ..(*response).clone()
                })
                .collect()
        };
        match self {
            Self::Now(origin) | Self::Replacing(origin, _) => rows(origin),
            Self::Added | Self::Cleared => rows(&Origin::default()),
            Self::Kept(before) | Self::KeptThoughAway(before) => vec![(*before).clone()],
        }
    }

    fn note(&self, who: &str, file: &File) -> Option<String> {
        match self {
            Self::Replacing(_, before) => Some(format!(
                "{who} handed in other answers before, in {}; those in {} count. Look at the \
                 answers that changed.",
                before.name, file.name
            )),
            Self::KeptThoughAway(before) => Some(format!(
                "{who} is said to be away in {}, but handed in {}, which counts.",
                file.name,
                named(&before.origin.file)
            )),
            Self::Now(_) | Self::Added | Self::Cleared | Self::Kept(_) => None,
        }
    }
}

/// How many pupils of each kind there are.
#[derive(Default)]
struct Counts {
    added: usize,
    kept: usize,
    kept_from_nowhere: usize,
    cleared: usize,
}

impl Counts {
    fn count(&mut self, choice: &Choice<'_>) {
        match choice {
            Choice::Now(_) | Choice::Replacing(..) => {}
            Choice::Added => self.added += 1,
            Choice::Cleared => self.cleared += 1,
            Choice::Kept(before) | Choice::KeptThoughAway(before) => {
                self.kept += 1;
                self.kept_from_nowhere += usize::from(before.origin.file.name.is_empty());
            }
        }
    }

    fn notes(&self, file: &str) -> Vec<String> {
        let mut notes = Vec::new();
        if self.kept > 0 {
            notes.push(format!(
                "Added from {file}: {}. Kept from before, and marked again: {}.",
                wording::counted(self.added, "pupil"),
                wording::counted(self.kept, "pupil")
            ));
        }
        if self.kept_from_nowhere > 0 {
            notes.push(format!(
                "The record of an earlier version kept the answers of {} without working and \
                 without what a spreadsheet program changed; mark their own file again to be sure.",
                wording::counted(self.kept_from_nowhere, "pupil")
            ));
        }
        if self.cleared > 0 {
            notes.push(format!(
                "Answers that stood in {file} at the last marking are gone from it: {}.",
                wording::counted(self.cleared, "pupil")
            ));
        }
        notes
    }
}

/// A file's name, or that it is not known.
fn named(file: &File) -> &str {
    if file.name.is_empty() {
        "answers before"
    } else {
        &file.name
    }
}

/// Whether anything was typed besides the attendance.
fn has_answers(response: &marking::Response) -> bool {
    response
        .answers
        .values()
        .chain(response.working.values())
        .any(|typed| !typed.text.trim().is_empty())
}

/// Tells whether two responses hold the same: capitals, white space and empty
/// cells make no difference.
fn hash(response: &marking::Response) -> String {
    let mut parts = Vec::new();
    for (kind, texts) in [
        ("answer", &response.answers),
        ("working", &response.working),
    ] {
        for (question, typed) in texts {
            let plain = decision::plain(typed);
            if !plain.is_empty() {
                parts.extend([kind.to_owned(), question.clone(), plain]);
            }
        }
    }
    decision::short_hash(&parts)
}

/// What was typed before, by question, where it is something else now.
fn differing(
    before: &BTreeMap<String, answer::Typed>,
    now: &BTreeMap<String, answer::Typed>,
) -> BTreeMap<String, String> {
    before
        .keys()
        .chain(now.keys())
        .filter(|question| plain_of(before, question) != plain_of(now, question))
        .map(|question| {
            let typed = before.get(question);
            (
                question.clone(),
                typed.map_or_else(String::new, |typed| typed.text.clone()),
            )
        })
        .collect()
}

fn plain_of(texts: &BTreeMap<String, answer::Typed>, question: &str) -> String {
    texts
        .get(question)
        .map_or_else(String::new, decision::plain)
}

fn text(text: &str) -> answer::Typed {
    answer::Typed {
        text: text.to_owned(),
        undone: Vec::new(),
    }
}
