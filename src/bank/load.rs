//! Reading load: sentences and words, one question to a part, the view stated.

use crate::bank::draft;
use crate::bank::pattern;
use crate::gears::ask;
use crate::level;
use crate::table;

/// Ways of saying from which side the gears are looked at.
const VIEWS: [&str; 2] = ["seen from", "from the front"];

/// The part of a question whose wording is looked at.
pub(super) struct Part<'a, 't> {
    pub(super) question: &'a draft::Line<'t>,
    /// What is asked, where it could be read.
    pub(super) ask: Option<&'a ask::Ask>,
    /// The lines of the mechanism that hold for it.
    pub(super) mechanism: &'a [&'a draft::Line<'t>],
}

/// Notes what is too long for the levels, and questions and views that are missing.
pub(super) fn check(
    reader: &mut table::Reader,
    stories: &[draft::Line],
    parts: &[Part],
    levels: &[level::Level],
    filling: &pattern::Filling,
) {
    for story in stories {
        if let Some(offset) = story.text.value.find('?') {
            let at = reader.inside(&story.text, offset);
            reader.fault(
                at,
                "the story holds a question mark",
                "a story sets the scene: put what is asked into `question`",
            );
        }
        sentences(reader, story, levels, filling);
    }
    for part in parts {
        question(reader, part.question);
        sentences(reader, part.question, levels, filling);
        for story in stories {
            in_all(reader, story, part.question, levels, filling);
            view(reader, story, part, filling);
        }
    }
}

fn question(reader: &mut table::Reader, question: &draft::Line) {
    let text = question.text.value;
    let mut marks = text.match_indices('?').skip(1);
    if let Some((offset, _)) = marks.next() {
        let at = reader.inside(&question.text, offset);
        reader.fault(
            at,
            "this part asks more than one question",
            "make a part of each: [[template.part]]",
        );
    }
    if !text.trim_end().ends_with(['?', '.']) {
        reader.fault(
            question.text.at.start,
            "the question does not end with a question mark or a full stop",
            "end the sentence",
        );
    }
}

/// Notes each sentence that is too long for the lowest level.
fn sentences(
    reader: &mut table::Reader,
    line: &draft::Line,
    levels: &[level::Level],
    filling: &pattern::Filling,
) {
    let Some(level) = levels.iter().min() else {
        return;
    };
    let most = level.rule().words_a_sentence;
    let text = line.pattern.fill(filling);
    for (start, sentence) in sentences_of(&text) {
        let count = word_count(sentence);
        if count > most {
            let at = reader.inside(&line.text, line.pattern.origin(filling, start));
            reader.fault(
                at,
                format!("this sentence has {count} words; level {level} allows {most}"),
                "make two sentences of it",
            );
        }
    }
}

fn in_all(
    reader: &mut table::Reader,
    story: &draft::Line,
    question: &draft::Line,
    levels: &[level::Level],
    filling: &pattern::Filling,
) {
    let Some(level) = levels.iter().min() else {
        return;
    };
    let most = level.rule().words_in_all;
    let count =
        word_count(&story.pattern.fill(filling)) + word_count(&question.pattern.fill(filling));
    if count > most {
        reader.fault(
            story.text.at.start,
            format!("the story and its question have {count} words; level {level} allows {most}"),
            "leave out what the question does not need",
        );
    }
}

/// Notes a story that does not say from where the gears are seen though clockwise
/// and anticlockwise, or left and right, depend on it.
fn view(reader: &mut table::Reader, story: &draft::Line, part: &Part, filling: &pattern::Filling) {
    let told = [story, part.question]
        .into_iter()
        .chain(part.mechanism.iter().copied())
        .any(|line| {
            line.pattern
                .fill(filling)
                .to_lowercase()
                .contains("clockwise")
        });
    let asked = matches!(
        part.ask,
        Some(ask::Ask::Direction(_) | ask::Ask::Why(ask::Explained::Direction(_)))
    );
    if !told && !asked {
        return;
    }
    let stated = [story, part.question].into_iter().any(|line| {
        let text = line.text.value.to_lowercase();
        VIEWS.iter().any(|view| text.contains(view))
    });
    if !stated {
        reader.fault(
            story.text.at.start,
            "a direction is told or asked, and the view is not stated",
            "say it in the story or the question, such as \"Look at the gears from the front.\"",
        );
    }
}

/// The sentences of a text with where each begins, in bytes. A point inside a
/// number ends none.
fn sentences_of(text: &str) -> Vec<(usize, &str)> {
    let mut ends: Vec<usize> = text
        .match_indices(['.', '?', '!'])
        .map(|(at, sign)| at + sign.len())
        .filter(|&end| {
            text.get(end..)
                .is_some_and(|rest| rest.is_empty() || rest.starts_with(char::is_whitespace))
        })
        .collect();
    if ends.last() != Some(&text.len()) {
        ends.push(text.len());
    }
    let mut sentences = Vec::new();
    let mut start = 0;
    for end in ends {
        let sentence = text.get(start..end).unwrap_or_default();
        let lead = sentence.len() - sentence.trim_start().len();
        sentences.push((start + lead, sentence.trim()));
        start = end;
    }
    sentences
}

/// Words are what white space parts, if a letter or digit is in it.
fn word_count(text: &str) -> usize {
    text.split_whitespace()
        .filter(|word| word.chars().any(char::is_alphanumeric))
        .count()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_point_inside_a_number_ends_no_sentence() {
        assert_eq!(
            sentences_of("A turns 2.5 times.  B turns! How far? no end"),
            [
                (0, "A turns 2.5 times."),
                (20, "B turns!"),
                (29, "How far?"),
                (38, "no end")
            ]
        );
    }

    #[test]
    fn words_are_counted_without_lonely_signs() {
        assert_eq!(word_count("Gear A turns 2.5 times - how far?"), 7);
        assert_eq!(word_count(""), 0);
    }
}
