//! The ways of saying "I do not know".

use crate::answer::reading::token;

/// Whole answers that say it, without apostrophes and points.
const SAYINGS: &str = "\
    idk, i dk, dk, dunno, dno, i dunno, dont know, i dont know, do not know, i do not know, \
    dont no, i dont no, dont now, i dont now, dontknow, i dont kno, dont kno, \
    dont know this one, i dont know this one, dont know how, i dont know how, not sure, \
    im not sure, i am not sure, unsure, im unsure, no idea, i have no idea, no clue, \
    havent a clue, i have no clue, pass, skip, skipped, na, n a, cant do it, i cant do it, \
    cant do, cant do this, i cant do this, too hard, its too hard, it is too hard, \
    this is too hard, to hard, its to hard, forgot, i forgot, i forget, dont get it, \
    i dont get it, dont understand, i dont understand, i do not understand, \
    dont understand it, help, im stuck, havent learnt this, we havent done this, \
    did not do, didnt do, didnt do it, no answer, not done, not answered, who knows";

/// Whether the whole answer says so, or is nothing but a question mark or a stroke.
pub(super) fn says_so(tokens: &[token::Token]) -> bool {
    let words: Vec<&str> = tokens.iter().filter_map(token::Token::word).collect();
    let has_numeral = tokens
        .iter()
        .any(|token| token.word().is_none() && token.sign().is_none());
    if has_numeral {
        return false;
    }
    if words.is_empty() {
        return tokens
            .iter()
            .all(|token| token.sign().is_some_and(|sign| "?-_/.".contains(sign)));
    }
    let said = words.join(" ");
    let trimmed = ["sorry ", "um ", "erm ", "err "]
        .iter()
        .find_map(|start| said.strip_prefix(start))
        .unwrap_or(&said);
    let trimmed = trimmed.strip_suffix(" sorry").unwrap_or(trimmed);
    SAYINGS.split(", ").any(|saying| saying == trimmed)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn not_knowing_is_heard() {
        for text in [
            "?",
            "???",
            "-",
            "--",
            "idk",
            "i don't know",
            "don't know.",
            "dunno",
            "n/a",
            "pass",
            "sorry, not sure",
        ] {
            assert!(says_so(&token::tokens(text)), "{text}");
        }
        for text in ["3", "no", "no idea 3", "clockwise", "idk 3", "3?"] {
            assert!(!says_so(&token::tokens(text)), "{text}");
        }
    }
}
