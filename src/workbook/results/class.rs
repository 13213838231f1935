//! Worksheet `Class`: a row a pupil, a column a question, totals.

use crate::item;
use crate::marking;
use crate::marking::overview;
use crate::workbook::results;
use crate::workbook::table::Column;
use crate::workbook::table::Kind;
use crate::workbook::table::Sign;
use crate::workbook::table::Value;
use std::collections::BTreeMap;

/// Returns the worksheet.
pub(super) fn page<'a>(
    marked: &'a marking::Marked,
    overview: &'a overview::Overview,
) -> results::Page<'a> {
    let questions = questions(marked);
    let has_versions = marked
        .pupils
        .iter()
        .any(|entry| Some(&entry.version) != marked.pupils.first().map(|first| &first.version));
    let mut columns = vec![
        Column::new(results::PUPIL_ID, 10, Kind::Text),
        Column::new("Pupil", 24, Kind::Text),
        Column::new("Class", 10, Kind::Text),
    ];
    if has_versions {
        columns.push(Column::new("Sheet", 7, Kind::Short));
    }
    for question in &questions {
        let heading = format!("{}\nof {}", question.number, question.out_of());
        columns.push(Column::new(heading, 8, Kind::Short));
    }
    for heading in ["Total", results::OUT_OF, "Percent"] {
        columns.push(Column::new(heading, 8, Kind::Short));
    }
    let numbers: Vec<&str> = questions.iter().map(|question| question.number).collect();
    let rows = marked
        .pupils
        .iter()
        .zip(&overview.pupils)
        .map(move |(entry, pupil)| {
            let mut row = vec![
                Value::text(&entry.pupil.id),
                Value::text(&entry.pupil.name),
                Value::text(&entry.pupil.class),
            ];
            if has_versions {
                row.push(Value::text(&entry.version));
            }
            for number in &numbers {
                let mark = entry.marks.iter().find(|mark| mark.question == *number);
                row.push(mark.map_or(Value::Nothing, value));
            }
            row.extend(totals(pupil.marks, pupil.out_of));
            row
        });
    let mut facility = vec![
        Value::text("Facility"),
        Value::text("Marks earned of those to be had"),
        Value::Nothing,
    ];
    if has_versions {
        facility.push(Value::Nothing);
    }
    for question in &questions {
        facility.push(Value::percent(question.counts.facility_percent()));
    }
    facility.extend([
        Value::Number(overview.counts.marks),
        Value::Number(overview.counts.out_of),
        Value::percent(overview.counts.facility_percent()),
    ]);
    results::Page {
        name: "Class",
        intro: intro(overview),
        columns,
        rows: results::Rows::made(marked.pupils.len(), rows),
        totals: vec![facility],
        notes: notes(marked),
        fixed: 2,
        entry: None,
    }
}

/// A question with its marks over all pupils.
struct Question<'a> {
    number: &'a str,
    least: u8,
    most: u8,
    counts: overview::Counts,
}

impl Question<'_> {
    /// Sheets at different levels may give different marks for one number.
    fn out_of(&self) -> String {
        if self.least == self.most {
            self.most.to_string()
        } else {
            format!("{}-{}", self.least, self.most)
        }
    }
}

fn questions(marked: &marking::Marked) -> Vec<Question<'_>> {
    let mut places: BTreeMap<&str, usize> = BTreeMap::new();
    let mut questions: Vec<Question<'_>> = Vec::new();
    for mark in marked.pupils.iter().flat_map(|entry| &entry.marks) {
        let place = *places.entry(&mark.question).or_insert_with(|| {
            questions.push(Question {
                number: &mark.question,
                least: mark.out_of,
                most: mark.out_of,
                counts: overview::Counts::default(),
            });
            questions.len() - 1
        });
        if let Some(question) = questions.get_mut(place) {
            question.least = question.least.min(mark.out_of);
            question.most = question.most.max(mark.out_of);
            question.counts.count(mark);
        }
    }
    questions.sort_by_key(|question| item::order(question.number));
    questions
}

fn value(mark: &marking::Mark) -> Value {
    let marks = u32::from(mark.marks);
    let sign = if mark.check.is_empty() {
        None
    } else {
        Some(Sign::ToCheck)
    };
    let sign = sign.or(mark.decided.as_ref().map(|_| Sign::Decided));
    if let Some(sign) = sign {
        return Value::Signed(marks, sign);
    }
    match mark.state {
        marking::State::Correct
        | marking::State::Partly
        | marking::State::Wrong
        | marking::State::Unreadable => Value::Number(marks),
        marking::State::Blank => Value::Signed(marks, Sign::Blank),
        marking::State::NotReached => Value::Signed(marks, Sign::NotReached),
        marking::State::Absent | marking::State::Excused => Value::text(mark.state.text()),
    }
}

/// A pupil who was away has no total.
fn totals(marks: u32, out_of: u32) -> [Value; 3] {
    if out_of == 0 {
        return [Value::Nothing, Value::Nothing, Value::Nothing];
    }
    [
        Value::Number(marks),
        Value::Number(out_of),
        Value::percent(results::percent(marks, out_of)),
    ]
}

fn intro(overview: &overview::Overview) -> String {
    let to_check = overview.counts.to_check;
    let there = overview
        .pupils
        .iter()
        .filter(|pupil| pupil.out_of > 0)
        .count();
    let pupils = overview.pupils.len();
    let look = match to_check {
        0 => "Every answer is settled.".to_owned(),
        1 => "1 answer needs a look: see To check.".to_owned(),
        more => format!("{more} answers need a look: see To check."),
    };
    format!("{there} of {pupils} pupils marked. {look}")
}

fn notes(marked: &marking::Marked) -> Vec<String> {
    let mut notes = vec![
        "Signs: 1? is a proposal that needs a look (see To check); 1* was decided by hand; \
         – nothing written; … not reached. Each counts as its number, – and … as 0."
            .to_owned(),
        "Facility leaves out pupils who were away and questions not reached.".to_owned(),
    ];
    if !marked.notes.is_empty() {
        notes.push(String::new());
        notes.extend(marked.notes.iter().cloned());
    }
    notes
}
