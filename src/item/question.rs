//! Items gathered into questions: what stands together on paper and on the screen.

use crate::gears::mechanism;
use crate::item;

/// One question: an item, or several that are its parts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Question<'a> {
    /// Its number without a letter, such as `3`.
    pub number: String,
    /// Its parts with their letters; one without a letter where it has no parts.
    pub parts: Vec<(String, &'a item::Item)>,
}

impl Question<'_> {
    /// Returns what every part is about.
    #[must_use]
    pub fn story(&self) -> &str {
        self.parts
            .first()
            .map_or("", |(_, item)| item.story.as_str())
    }
}

/// Gathers the items that are parts of one question.
#[must_use]
pub fn questions(items: &[item::Item]) -> Vec<Question<'_>> {
    let mut questions: Vec<Question<'_>> = Vec::new();
    for item in items {
        let (number, letter) = number_and_letter(&item.number);
        match questions.last_mut() {
            Some(question) if question.number == number && !letter.is_empty() => {
                question.parts.push((letter, item));
            }
            Some(_) | None => questions.push(Question {
                number,
                parts: vec![(letter, item)],
            }),
        }
    }
    questions
}

/// `Q3a` is question `3`, part `a`.
#[must_use]
pub fn number_and_letter(number: &str) -> (String, String) {
    let bare = number.strip_prefix('Q').unwrap_or(number);
    let digits: String = bare.chars().take_while(char::is_ascii_digit).collect();
    let letter: String = bare.chars().skip(digits.chars().count()).collect();
    (digits, letter)
}

/// Returns the mechanism that is drawn for a question's parts: of the part that says
/// most of it, with the directions that any part tells.
#[must_use]
pub fn drawn_mechanism(items: &[&item::Item]) -> Option<mechanism::Mechanism> {
    let mut fullest = items.first()?.mechanism.clone();
    for item in items {
        if item.mechanism.parts.len() > fullest.parts.len() {
            fullest = item.mechanism.clone();
        }
    }
    for item in items {
        let is_part_of_it = fullest.parts.starts_with(&item.mechanism.parts);
        let told = item.mechanism.givens.iter().filter(|given| {
            matches!(given, mechanism::Given::Motion { sense: Some(_), .. }) && is_part_of_it
        });
        for given in told {
            if !fullest.givens.contains(given) {
                fullest.givens.push(given.clone());
            }
        }
    }
    Some(fullest)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_is_taken_apart_from_its_letter() {
        for (number, parts) in [("Q3a", ("3", "a")), ("Q12", ("12", "")), ("7", ("7", ""))] {
            let (digits, letter) = number_and_letter(number);
            assert_eq!((digits.as_str(), letter.as_str()), parts, "{number}");
        }
    }
}
