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
            .all(|token| token.sign().is_some_and(|sign| "?-_/.🤷♂♀".contains(sign)));
    }
    let said = words.join(" ");
    let trimmed = ["sorry ", "um ", "erm ", "err "]
        .iter()
        .find_map(|start| said.strip_prefix(start))
        .unwrap_or(&said);
    let trimmed = trimmed.strip_suffix(" sorry").unwrap_or(trimmed);
    SAYINGS.split(", ").any(|saying| saying == trimmed) || has_core(&words)
}

/// What says it in a longer sentence, with nothing in it but words that add nothing.
const CORES: &str = "\
    dont know, do not know, didnt know, dont no, dont understand, do not understand, \
    didnt understand, dont get, didnt get, cant remember, dont remember, cant do, couldnt do, \
    cant work, idk, dunno, no idea, no clue, not sure, unsure, forgot, forget, forgotten, \
    need help, help me, left blank, left it blank, blank, havent learnt, havent learned, \
    havent done, didnt do, did not do, not answered, no answer, skipped, run out, ran out";

const ADDS_NOTHING: &str = "\
    i im am is it its this that the one ones question q what which how why to do of a so really \
    very too hard sorry lol um erm err hmm hm miss mr mrs sir please because name names job means \
    mean at all yet just bit out time on any thing anything here in answer work about with and we \
    for my";

fn has_core(words: &[&str]) -> bool {
    let is_idle = |word: &&str| ADDS_NOTHING.split_whitespace().any(|known| known == *word);
    CORES.split(", ").any(|core| {
        let length = core.split(' ').count();
        words
            .windows(length)
            .position(|window| window.iter().copied().eq(core.split(' ')))
            .is_some_and(|start| {
                let (before, rest) = words.split_at(start);
                let after = rest.get(length..).unwrap_or_default();
                // "A, not sure" names a gear.
                if before.last() == Some(&"a") || after.last() == Some(&"a") {
                    return false;
                }
                before.iter().all(is_idle) && (after.iter().all(is_idle) || asks_whether(after))
            })
    })
}

/// Whether only what is not known follows: `if it jams`.
fn asks_whether(words: &[&str]) -> bool {
    let turns = |word: &&str| ["but", "yes", "no", "maybe", "so"].contains(word);
    matches!(words, ["if" | "whether", behind @ ..] if !behind.iter().any(turns))
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
            "idk lol",
            "i can't do this one",
            "i forgot the name",
            "dunno how to do it",
            "hmm not sure",
            "(blank)",
            "🤷",
            "i don't know if it jams",
        ] {
            assert!(says_so(&token::tokens(text)), "{text}");
        }
        for text in [
            "3",
            "no",
            "no idea 3",
            "clockwise",
            "idk 3",
            "A not sure",
            "not sure, A",
            "i don't know if it jams but yes",
            "3?",
            "not sure maybe clockwise",
        ] {
            assert!(!says_so(&token::tokens(text)), "{text}");
        }
    }
}
