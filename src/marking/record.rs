//! The record `marked.json`, written and read.
//!
//! What was added to the format since its first version may be missing, so that
//! every record of format 1 is read.

mod fingerprints;
pub(super) mod head;
mod second_look;
mod work;

use crate::answer;
use crate::date;
use crate::homework;
use crate::level;
use crate::marking;
use crate::marking::decision;
use crate::marking::handed_in;
use crate::marking::policy;
use crate::problem;
use serde::Deserialize;
use serde::Serialize;
use std::collections::BTreeMap;

/// The number of the format written here.
const FORMAT: u32 = 1;

/// `P` is the pupils: read into a list, written from one at a time.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct WireMarked<P> {
    format: u32,
    made_by: String,
    homework: String,
    title: String,
    set_on: String,
    marked_on: String,
    /// A day that the school chose, and not in records of version 0.1.0.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    keep_until: Option<String>,
    banks: Vec<WireBank>,
    policy: policy::Policy,
    notes: Vec<String>,
    pupils: P,
    decisions: Vec<WireDecision>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    second_looks: Vec<second_look::Wire>,
    /// Not in records of version 0.1.0.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    fingerprints: Option<fingerprints::Wire>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct WireBank {
    id: String,
    edition: String,
    fingerprint: String,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct WirePupil {
    id: String,
    name: String,
    class: String,
    year: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    level: Option<u8>,
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    groups: BTreeMap<String, String>,
    version: String,
    attendance: String,
    /// Left out where nothing was handed in, and in records of version 0.1.0.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    handed_in: Option<work::WireOrigin>,
    marks: Vec<WireMark>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct WireMark {
    question: String,
    bank: String,
    template: String,
    skill: String,
    level: u8,
    typed: String,
    /// What may have been typed before a spreadsheet program changed it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    undone: Vec<work::WireUndone>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    working: Option<work::WireTyped>,
    read_as: String,
    expected: String,
    marks: u8,
    out_of: u8,
    state: String,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    misconceptions: Vec<String>,
    reason: String,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    check: String,
    code: String,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    like: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    decided: Option<WireDecided>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct WireDecided {
    date: String,
    proposed: u8,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    by: String,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct WireDecision {
    /// The pupil it holds for; left out where it holds for all equal answers.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pupil: Option<String>,
    question: String,
    typed: String,
    code: String,
    marks: u8,
    proposed: u8,
    date: String,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    by: String,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    file: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    seen: Option<usize>,
}

/// Returns the record, pretty-printed, with a line break at the end.
pub(super) fn to_json(marked: &marking::Marked) -> String {
    let mut wire = WireMarked {
        format: FORMAT,
        made_by: marked.made_by.clone(),
        homework: marked.code.clone(),
        title: marked.title.clone(),
        set_on: marked.set_on.clone(),
        marked_on: marked.marked_on.clone(),
        keep_until: marked.keep_until.map(|day| day.to_string()),
        banks: marked
            .banks
            .iter()
            .map(|bank| WireBank {
                id: bank.id.clone(),
                edition: bank.edition.clone(),
                fingerprint: bank.fingerprint.clone(),
            })
            .collect(),
        policy: marked.policy.clone(),
        notes: marked.notes.clone(),
        pupils: OneAtATime(&marked.pupils),
        decisions: marked.decisions.iter().map(wire_decision).collect(),
        second_looks: marked.second_looks.iter().map(second_look::wire).collect(),
        fingerprints: None,
    };
    let policy = serde_json::to_value(&wire.policy).expect("switches are always JSON");
    let switches = serde_json::from_value(policy).expect("a policy is switches by name");
    let pupils = marked.pupils.iter().map(wire_pupil);
    let pupils = pupils.map(|pupil| fingerprints::of_pupil(&pupil)).collect();
    wire.fingerprints = Some(fingerprints::Wire::of(&wire, pupils, &switches));
    let mut text = serde_json::to_string_pretty(&wire).expect("texts and numbers are always JSON");
    text.push('\n');
    text
}

/// Pupils of which none is kept in the shape of the record longer than it takes to write
/// it: a large class would be held in memory twice.
struct OneAtATime<'a>(&'a [marking::MarkedPupil]);

impl Serialize for OneAtATime<'_> {
    /// Writes a list of the pupils.
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_seq(self.0.iter().map(wire_pupil))
    }
}

fn wire_pupil(entry: &marking::MarkedPupil) -> WirePupil {
    let pupil = &entry.pupil;
    WirePupil {
        id: pupil.id.clone(),
        name: pupil.name.clone(),
        class: pupil.class.clone(),
        year: pupil.year.clone(),
        level: pupil.level.map(level::Level::number),
        groups: pupil.groups.clone(),
        version: entry.version.clone(),
        attendance: attendance_text(entry.attendance).to_owned(),
        handed_in: entry
            .handed_in
            .as_ref()
            .map(|response| work::wire_origin(&response.origin)),
        marks: entry
            .marks
            .iter()
            .map(|mark| wire_mark(mark, entry.handed_in.as_ref()))
            .collect(),
    }
}

fn wire_mark(mark: &marking::Mark, handed_in: Option<&marking::Response>) -> WireMark {
    let answer = handed_in.and_then(|response| response.answers.get(&mark.question));
    let working = handed_in.and_then(|response| response.working.get(&mark.question));
    WireMark {
        question: mark.question.clone(),
        bank: mark.bank.clone(),
        template: mark.template.clone(),
        skill: mark.skill.text().to_owned(),
        level: mark.level.number(),
        typed: mark.typed.clone(),
        undone: answer.map_or_else(Vec::new, |typed| work::wire_undone(&typed.undone)),
        working: working.map(work::wire_typed),
        read_as: mark.read_as.clone(),
        expected: mark.expected.clone(),
        marks: mark.marks,
        out_of: mark.out_of,
        state: mark.state.text().to_owned(),
        misconceptions: mark.misconceptions.clone(),
        reason: mark.reason.clone(),
        check: mark.check.clone(),
        code: mark.code.clone(),
        like: mark.like.clone(),
        decided: mark.decided.as_ref().map(|decided| WireDecided {
            date: decided.date.clone(),
            proposed: decided.proposed,
            by: decided.by.clone(),
        }),
    }
}

fn wire_decision(decision: &decision::Decision) -> WireDecision {
    WireDecision {
        pupil: match &decision.scope {
            decision::Scope::Equal => None,
            decision::Scope::Pupil { pupil_id } => Some(pupil_id.clone()),
        },
        question: decision.question.clone(),
        typed: decision.typed.clone(),
        code: decision.code.clone(),
        marks: decision.marks,
        proposed: decision.proposed,
        date: decision.date.clone(),
        by: decision.by.clone(),
        file: decision.file.clone(),
        seen: decision.seen,
    }
}

fn attendance_text(attendance: marking::Attendance) -> &'static str {
    match attendance {
        marking::Attendance::Present => "present",
        marking::Attendance::Absent => "absent",
        marking::Attendance::Excused => "excused",
    }
}

/// Returns what a record holds, or every fault of it.
pub(super) fn from_json(text: &str, file: &str) -> Result<marking::Marked, Vec<problem::Problem>> {
    head::check_format(text, file).map_err(|problem| vec![problem])?;
    let broken = |error: &serde_json::Error| vec![head::broken(error, file)];
    let wire: WireMarked<Vec<WirePupil>> =
        serde_json::from_str(text).map_err(|error| broken(&error))?;
    let switches = fingerprints::switches(text).map_err(|error| broken(&error))?;
    let changed = wire
        .fingerprints
        .as_ref()
        .map_or_else(Vec::new, |fingerprints| {
            fingerprints.differing(&wire, &switches)
        });
    let mut reader = Reader {
        file,
        marked_on: wire.marked_on.clone(),
        problems: Vec::new(),
    };
    let pupils = wire
        .pupils
        .into_iter()
        .filter_map(|pupil| reader.pupil(pupil))
        .collect();
    let keep_until = wire
        .keep_until
        .as_deref()
        .and_then(|text| reader.day("keep_until", text));
    // What no record can have says more than that something was changed.
    if reader.problems.is_empty() {
        for (place, what) in changed {
            reader.fault(&place, what);
        }
    }
    if !reader.problems.is_empty() {
        return Err(reader.problems);
    }
    Ok(marking::Marked {
        made_by: wire.made_by,
        code: wire.homework,
        title: wire.title,
        set_on: wire.set_on,
        marked_on: wire.marked_on,
        keep_until,
        banks: wire
            .banks
            .into_iter()
            .map(|bank| homework::BankStamp {
                id: bank.id,
                edition: bank.edition,
                fingerprint: bank.fingerprint,
            })
            .collect(),
        policy: wire.policy,
        pupils,
        decisions: wire.decisions.into_iter().map(decision).collect(),
        second_looks: wire
            .second_looks
            .into_iter()
            .map(second_look::look)
            .collect(),
        notes: wire.notes,
    })
}

fn decision(wire: WireDecision) -> decision::Decision {
    decision::Decision {
        scope: match wire.pupil {
            None => decision::Scope::Equal,
            Some(pupil_id) => decision::Scope::Pupil { pupil_id },
        },
        question: wire.question,
        typed: wire.typed,
        code: wire.code,
        marks: wire.marks,
        proposed: wire.proposed,
        date: wire.date,
        by: wire.by,
        file: wire.file,
        seen: wire.seen,
    }
}

struct Reader<'a> {
    file: &'a str,
    marked_on: String,
    problems: Vec<problem::Problem>,
}

impl Reader<'_> {
    fn fault(&mut self, place: &str, what: String) {
        self.problems.push(problem::Problem::new(
            format!("{}: {place}", self.file),
            what,
            "mark the homework again, which writes the record anew",
        ));
    }

    fn pupil(&mut self, wire: WirePupil) -> Option<marking::MarkedPupil> {
        let place = format!("pupil {}", wire.id);
        let attendance = [
            marking::Attendance::Present,
            marking::Attendance::Absent,
            marking::Attendance::Excused,
        ]
        .into_iter()
        .find(|attendance| attendance_text(*attendance) == wire.attendance);
        if attendance.is_none() {
            self.fault(
                &place,
                format!(
                    "found attendance \"{}\", wanted present, absent or excused",
                    wire.attendance
                ),
            );
        }
        let level = wire.level.map(|number| self.level(&place, number));
        let handed_in = attendance.and_then(|attendance| self.handed_in(&wire, attendance));
        let marks: Vec<Option<marking::Mark>> = wire
            .marks
            .into_iter()
            .map(|mark| self.mark(&wire.id, mark))
            .collect();
        Some(marking::MarkedPupil {
            pupil: homework::Pupil {
                id: wire.id,
                name: wire.name,
                class: wire.class,
                year: wire.year,
                level: match level {
                    Some(level) => Some(level?),
                    None => None,
                },
                groups: wire.groups,
            },
            version: wire.version,
            attendance: attendance?,
            marks: marks.into_iter().collect::<Option<_>>()?,
            handed_in,
        })
    }

    /// Returns what a pupil handed in. A record of version 0.1.0 does not say where
    /// it came from, and holds the answers without working.
    fn handed_in(
        &self,
        wire: &WirePupil,
        attendance: marking::Attendance,
    ) -> Option<marking::Response> {
        let answers: BTreeMap<String, answer::Typed> = wire
            .marks
            .iter()
            .filter(|mark| !mark.typed.trim().is_empty())
            .map(|mark| {
                let typed = work::typed(&mark.typed, &mark.undone);
                (mark.question.clone(), typed)
            })
            .collect();
        let working = wire
            .marks
            .iter()
            .filter_map(|mark| {
                let typed = mark.working.as_ref()?;
                Some((mark.question.clone(), work::typed_of(typed)))
            })
            .collect();
        let origin = match &wire.handed_in {
            Some(origin) => work::origin(origin),
            // Who has no row counts as absent, and handed in nothing.
            None if answers.is_empty() && attendance != marking::Attendance::Excused => {
                return None;
            }
            None => handed_in::Origin {
                first_marked: self.marked_on.clone(),
                ..handed_in::Origin::default()
            },
        };
        Some(marking::Response {
            pupil_id: wire.id.clone(),
            attendance,
            answers,
            working,
            origin,
        })
    }

    fn day(&mut self, place: &str, text: &str) -> Option<date::Date> {
        match text.parse() {
            Ok(day) => Some(day),
            Err(error) => {
                self.fault(place, format!("found \"{text}\", {error}"));
                None
            }
        }
    }

    fn level(&mut self, place: &str, number: u8) -> Option<level::Level> {
        let level = level::Level::new(number);
        if level.is_none() {
            self.fault(place, format!("found level {number}, wanted 1 to 8"));
        }
        level
    }

    fn mark(&mut self, pupil_id: &str, wire: WireMark) -> Option<marking::Mark> {
        let place = format!("pupil {pupil_id}, {}", wire.question);
        let state = marking::State::parse(&wire.state);
        if state.is_none() {
            self.fault(&place, format!("found an unknown state \"{}\"", wire.state));
        }
        let skill = wire.skill.parse::<level::Skill>().ok();
        if skill.is_none() {
            self.fault(&place, format!("found an unknown skill \"{}\"", wire.skill));
        }
        let level = self.level(&place, wire.level);
        if wire.marks > wire.out_of {
            self.fault(
                &place,
                format!("found {} marks of {}", wire.marks, wire.out_of),
            );
        }
        Some(marking::Mark {
            pupil_id: pupil_id.to_owned(),
            question: wire.question,
            bank: wire.bank,
            template: wire.template,
            skill: skill?,
            level: level?,
            typed: wire.typed,
            read_as: wire.read_as,
            expected: wire.expected,
            marks: wire.marks,
            out_of: wire.out_of,
            state: state?,
            misconceptions: wire.misconceptions,
            reason: wire.reason,
            check: wire.check,
            code: wire.code,
            like: wire.like,
            decided: wire.decided.map(|decided| marking::Decided {
                date: decided.date,
                proposed: decided.proposed,
                by: decided.by,
            }),
        })
    }
}
