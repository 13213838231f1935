//! The word card: the trade's words that a sheet uses, with a drawing and what they mean.
//!
//! It says what a word means, never what is true of a question's own gears. A word that
//! one of the questions asks for, as the name of what is drawn, is not on it.

use crate::answer;
use crate::gears::ask;
use crate::gears::notation;
use crate::item;
use crate::paper::album;
use crate::paper::look;
use serde::Serialize;

/// One word on the card.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub(super) struct Word {
    name: &'static str,
    meaning: &'static str,
    drawing: Option<album::Place>,
}

/// A word with what it means.
struct Entry {
    word: &'static str,
    meaning: &'static str,
    /// What is drawn beside it; nothing where a drawing says nothing.
    drawn: &'static [&'static str],
    /// It is on the card where one of these stands on the sheet; always where there is
    /// none.
    used: &'static [&'static str],
}

/// The words in the order of the card.
///
/// Source: the words are the trade's; what they mean is said in our own words, short
/// enough for a beginning reader.
const ENTRIES: &[Entry] = &[
    Entry {
        word: "gear",
        meaning: "A wheel with teeth. Two gears mesh when their teeth fit together.",
        drawn: &["gear A 16 drives gear B 16"],
        used: &[],
    },
    Entry {
        word: "drive gear, driven gear",
        meaning: "The drive gear is turned first. Here it is A. It turns the driven gear. Here \
                  that is B.",
        drawn: &["gear A 12 drives gear B 20", "A turns clockwise"],
        used: &[],
    },
    Entry {
        word: "idler",
        meaning: "A gear between two others. Here it is B. It passes the turning on.",
        drawn: &["gear A 12 drives gear B 16", "B drives gear C 12"],
        used: &["idler"],
    },
    Entry {
        word: "clockwise",
        meaning: "Round the way the hands of a clock go.",
        drawn: &["gear A 20", "A turns clockwise"],
        used: &["clockwise"],
    },
    Entry {
        word: "anticlockwise",
        meaning: "Round the other way from the hands of a clock.",
        drawn: &["gear A 20", "A turns anticlockwise"],
        used: &["clockwise", "anticlockwise"],
    },
    Entry {
        word: "full turn",
        meaning: "Once all the way round.",
        drawn: &[],
        used: &["full turn", "turns", "turn"],
    },
    Entry {
        word: "turns a minute (rpm)",
        meaning: "How many full turns there are in one minute.",
        drawn: &[],
        used: &["rpm", "turns a minute", "minute"],
    },
    Entry {
        word: "axle",
        meaning: "The rod that a gear sits on. Here A and B are fixed on one axle.",
        drawn: &["gear A 24, gear B 12 on one axle"],
        used: &["axle"],
    },
    Entry {
        word: "ratio",
        meaning: "How many of one there are for how many of the other. 5 : 2 is said “five to \
                  two”.",
        drawn: &[],
        used: &["ratio"],
    },
    Entry {
        word: "turning force",
        meaning: "How hard something is turned.",
        drawn: &[],
        used: &["turning force"],
    },
    Entry {
        word: "rack and pinion",
        meaning: "The rack is a straight bar with teeth. Here it is R. The pinion is the gear on \
                  it.",
        drawn: &["gear P 16 drives rack R"],
        used: &["rack", "pinion"],
    },
    Entry {
        word: "worm and worm wheel",
        meaning: "The worm looks like a screw. Here it is W. It turns the worm wheel.",
        drawn: &["worm W 1 start drives gear B 24"],
        used: &["worm"],
    },
    Entry {
        word: "ring gear",
        meaning: "A gear with its teeth on the inside. Here it is R.",
        drawn: &["gear A 14 drives ring R 40"],
        used: &["ring gear", "gear ring"],
    },
    Entry {
        word: "bevel gears",
        meaning: "Gears with sloping teeth, for axles that point different ways.",
        drawn: &["bevel A 16 drives bevel B 24"],
        used: &["bevel", "bevel gear"],
    },
    Entry {
        word: "chain and sprockets",
        meaning: "Sprockets are wheels with teeth that hold a chain.",
        drawn: &["sprocket A 28 drives sprocket B 14 by chain"],
        used: &["chain", "sprocket"],
    },
    Entry {
        word: "belt and pulleys",
        meaning: "Pulleys are smooth wheels that a belt goes round.",
        drawn: &["pulley A 60 mm drives pulley B 30 mm by belt"],
        used: &["belt", "pulley"],
    },
    Entry {
        word: "drum",
        meaning: "A roller that a string winds on. Here it is D.",
        drawn: &["handle H 60 mm, drum D 40 mm on one axle"],
        used: &["drum", "winch"],
    },
];

/// Returns the words that a sheet uses; their drawings are asked of the album.
pub(super) fn words(
    items: &[item::Item],
    look: &look::Look,
    album: &mut album::Album,
) -> Vec<Word> {
    let said = said(items);
    let asked = asked_for(items);
    ENTRIES
        .iter()
        .filter(|entry| entry.used.is_empty() || entry.used.iter().any(|word| is_in(&said, word)))
        .filter(|entry| !entry.used.iter().any(|word| is_in(&asked, word)))
        .map(|entry| Word {
            name: entry.word,
            meaning: entry.meaning,
            drawing: (!entry.drawn.is_empty()).then(|| {
                let mechanism =
                    notation::read(entry.drawn).expect("the card's mechanisms are well formed");
                album.shown(mechanism, &look.room(look::Beside::Word))
            }),
        })
        .collect()
}

/// Everything that is printed on the sheet, as words with one space around each.
fn said(items: &[item::Item]) -> String {
    let mut texts = Vec::new();
    for item in items {
        texts.extend([item.story.clone(), item.question.clone()]);
        texts.extend(options(item));
        match &item.form {
            answer::Form::Ratio { first, second, .. } => {
                texts.extend([first.clone(), second.clone(), "ratio".to_owned()]);
            }
            answer::Form::Number { .. }
            | answer::Form::List { .. }
            | answer::Form::Gears { .. }
            | answer::Form::Explanation(_) => {}
        }
    }
    spaced(&texts)
}

/// The words among which questions ask for the name of what is drawn.
fn asked_for(items: &[item::Item]) -> String {
    let naming = items
        .iter()
        .filter(|item| matches!(item.ask, ask::Ask::Name(_)));
    spaced(&naming.flat_map(options).collect::<Vec<_>>())
}

fn options(item: &item::Item) -> Vec<String> {
    match &item.form {
        answer::Form::List { options, .. } => {
            options.iter().map(|option| option.text.clone()).collect()
        }
        answer::Form::Number { .. }
        | answer::Form::Ratio { .. }
        | answer::Form::Gears { .. }
        | answer::Form::Explanation(_) => Vec::new(),
    }
}

fn spaced(texts: &[String]) -> String {
    let all = texts.join(" ").to_lowercase();
    let words: Vec<&str> = all
        .split(|sign: char| !sign.is_alphabetic())
        .filter(|word| !word.is_empty())
        .collect();
    format!(" {} ", words.join(" "))
}

fn is_in(said: &str, word: &str) -> bool {
    ["", "s"]
        .iter()
        .any(|ending| said.contains(&format!(" {word}{ending} ")))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::need;
    use crate::paper::examples;

    fn card(homework: &crate::homework::Homework) -> Vec<&'static str> {
        let look = look::look(None, need::Needs::default());
        let items = &homework.sheets[0].items;
        words(items, &look, &mut album::Album::default())
            .iter()
            .map(|word| word.name)
            .collect()
    }

    #[test]
    fn every_word_that_is_drawn_can_be_drawn_for_every_print_size() {
        for print_size in [
            need::PrintSize::Usual,
            need::PrintSize::Point18,
            need::PrintSize::Point24,
            need::PrintSize::Point36,
        ] {
            let needs = need::Needs {
                print_size,
                ..need::Needs::default()
            };
            let look = look::look(None, needs);
            for entry in ENTRIES.iter().filter(|entry| !entry.drawn.is_empty()) {
                let mut album = album::Album::default();
                let mechanism = notation::read(entry.drawn).expect("well formed");
                album.shown(mechanism, &look.room(look::Beside::Word));
                let figures = album.draw().figures;
                assert!(figures[0].is_some(), "{}, {print_size:?}", entry.word);
            }
        }
    }

    #[test]
    fn the_card_has_the_words_of_the_sheet_and_no_name_that_is_asked() {
        let mut homework = examples::homework(&["Amina Cole"], 4);
        assert_eq!(
            card(&homework),
            [
                "gear",
                "drive gear, driven gear",
                "clockwise",
                "anticlockwise",
                "full turn",
                "ratio",
            ],
            "the rack is asked for"
        );
        homework.sheets[0].items.retain(|item| item.number != "Q4");
        homework.sheets[0].items[0].story = "A rack lies on a track.".to_owned();
        assert!(card(&homework).contains(&"rack and pinion"));
        homework.sheets[0].items[0].story = "A train on a track.".to_owned();
        assert!(!card(&homework).contains(&"rack and pinion"));
    }
}
