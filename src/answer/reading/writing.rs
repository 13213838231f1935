//! How an answer is written, apart from what it means.

use crate::answer::Form;
use crate::answer::Oddity;
use crate::answer::Typed;
use crate::answer::reading::number_words;
use crate::answer::reading::token;
use crate::answer::reading::vocabulary;
use crate::answer::tidy;

/// Returns what is out of the ordinary in the writing of an answer, in a fixed order.
pub(in crate::answer) fn oddities(typed: &Typed, form: &Form) -> Vec<Oddity> {
    let tidied = tidy::tidy(&typed.text);
    let tokens = token::tokens(&tidied.text);
    let mut found = Vec::new();
    let numbers = tokens.iter().filter(|token| is_number(token)).count();
    match form {
        Form::Number { .. } if !is_one_numeral(&tokens) => found.push(Oddity::OtherForm),
        Form::Ratio { .. } if numbers == 1 => found.push(Oddity::NumberForRatio),
        Form::Ratio { .. } if !is_ratio_with_colon(&tokens) => found.push(Oddity::OtherForm),
        // A person reads an explanation anyway.
        Form::Explanation(_) => return found,
        Form::Number { .. } | Form::Ratio { .. } | Form::List { .. } | Form::Gears { .. } => {}
    }
    let misspelt = tokens
        .iter()
        .filter_map(token::Token::word)
        .find(|word| !is_spelt(word, form));
    found.extend(misspelt.map(|word| Oddity::Misspelt {
        word: word.to_owned(),
    }));
    found
}

fn is_number(token: &token::Token) -> bool {
    token.numeral().is_some() || token.word().is_some_and(is_number_word)
}

fn is_number_word(word: &str) -> bool {
    number_words::small(word).is_some()
        || number_words::tens(word).is_some()
        || number_words::multiplier(word).is_some()
        || number_words::fraction_bottom(word).is_some()
        || number_words::how_often(word).is_some()
}

/// `3`, `-3.5 turns`: one number in digits, and words.
fn is_one_numeral(tokens: &[token::Token]) -> bool {
    let numerals = tokens.iter().filter(|token| token.numeral().is_some());
    numerals.count() == 1
        && tokens.iter().all(|token| {
            !token.word().is_some_and(is_number_word)
                && token.sign().is_none_or(|sign| ".!?,-+".contains(sign))
        })
}

/// `3 : 1`, with words or without.
fn is_ratio_with_colon(tokens: &[token::Token]) -> bool {
    let numerals = tokens.iter().filter(|token| token.numeral().is_some());
    let signs: Vec<char> = tokens.iter().filter_map(token::Token::sign).collect();
    numerals.count() == 2 && signs == [':']
}

/// Whether the word is spelt as a dictionary or the question has it.
fn is_spelt(word: &str, form: &Form) -> bool {
    let is_printed = match form {
        Form::List { options, .. } => options
            .iter()
            .any(|option| option.text.to_lowercase().split(' ').any(|it| it == word)),
        Form::Number { .. } | Form::Ratio { .. } | Form::Gears { .. } | Form::Explanation(_) => {
            false
        }
    };
    let is_listed = |list: &str| list.split_whitespace().any(|known| known == word);
    is_printed
        || vocabulary::is_label(word)
        || vocabulary::is_known_as_spelt(word)
        || [NUMBERS, UNITS, OTHERS].into_iter().any(is_listed)
}

/// Words for numbers, as a dictionary has them.
const NUMBERS: &str = "\
    zero nought naught nil nothing none one two three four five six seven eight nine ten \
    eleven twelve dozen thirteen fourteen fifteen sixteen seventeen eighteen nineteen twenty \
    thirty forty fifty sixty seventy eighty ninety hundred hundreds thousand thousands half \
    halves third thirds quarter quarters fourth fourths fifth fifths sixth sixths seventh \
    sevenths eighth eighths ninth ninths tenth tenths twelfth twelfths twentieth hundredth \
    hundredths thousandths once twice thrice double triple treble point";

/// Words for units, as a dictionary has them.
const UNITS: &str = "\
    turn turns revolution revolutions rotation rotations revs rev rpm tooth teeth start starts \
    stage stages mm millimetre millimetres cm centimetre centimetres m metre metres n newton \
    newtons nm ncm kn degree degrees minute minutes second seconds hour hours per kg g grams";

/// Words of directions and comparisons, as a dictionary has them.
const OTHERS: &str = "\
    clockwise anticlockwise counterclockwise cw acw ccw left right up down same opposite \
    different reverse other way ways direction directions neither both equal equally faster \
    slower fastest slowest quicker stronger weaker strongest weakest force turning more less \
    jam jams jammed lock locks locked stuck stop stops move moves no yes not cannot because \
    but wait sorry actually mean meant answer bevel ring";
