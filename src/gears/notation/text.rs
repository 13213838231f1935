//! A line as tokens with their places, and a cursor that reads them.

use crate::gears::notation::NotationError;
use crate::number;
use std::iter::Peekable;
use std::ops::Range;
use std::str::CharIndices;

/// What is wrong with a line that does not know its number yet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Fault {
    pub(crate) span: Range<usize>,
    pub(crate) what: String,
    pub(crate) hint: String,
}

impl Fault {
    pub(crate) fn new(
        span: Range<usize>,
        what: impl Into<String>,
        hint: impl Into<String>,
    ) -> Self {
        Self {
            span,
            what: what.into(),
            hint: hint.into(),
        }
    }

    pub(crate) fn on_line(self, line: usize) -> NotationError {
        NotationError {
            line,
            span: self.span,
            what: self.what,
            hint: self.hint,
        }
    }
}

/// What a token is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Shape {
    /// Letters, and digits after them.
    Word,
    /// Digits with points and fraction bars among them.
    Number,
    /// One sign: comma, colon, question mark, percent, anything else.
    Sign,
}

/// A piece of a line.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Token {
    shape: Shape,
    text: String,
    span: Range<usize>,
}

/// Reads a line from left to right.
pub(crate) struct Cursor {
    tokens: Vec<Token>,
    at: usize,
    /// Just past the last token.
    end: usize,
}

impl Cursor {
    pub(crate) fn new(line: &str) -> Self {
        let tokens = tokens(line);
        let end = tokens.last().map_or(0, |token| token.span.end);
        Self { tokens, at: 0, end }
    }

    pub(crate) fn is_at_end(&self) -> bool {
        self.at >= self.tokens.len()
    }

    /// Where the next token stands; an empty place at the end of the line.
    pub(crate) fn place(&self) -> Range<usize> {
        self.tokens
            .get(self.at)
            .map_or(self.end..self.end, |token| token.span.clone())
    }

    /// From a place read earlier up to the last token read.
    pub(crate) fn since(&self, start: &Range<usize>) -> Range<usize> {
        let end = self
            .at
            .checked_sub(1)
            .and_then(|last| self.tokens.get(last))
            .map_or(start.end, |token| token.span.end);
        start.start..end.max(start.end)
    }

    /// The next token's text where it is a word.
    pub(crate) fn word(&self) -> Option<&str> {
        self.tokens
            .get(self.at)
            .filter(|token| token.shape == Shape::Word)
            .map(|token| token.text.as_str())
    }

    /// Whether a number or a `?` comes next.
    pub(crate) fn is_at_amount(&self) -> bool {
        self.tokens
            .get(self.at)
            .is_some_and(|token| token.shape == Shape::Number || token.text == "?")
    }

    /// Whether the next words are these, in any case.
    pub(crate) fn is_at(&self, words: &str) -> bool {
        words.split(' ').enumerate().all(|(offset, word)| {
            self.tokens
                .get(self.at + offset)
                .is_some_and(|token| token.text.eq_ignore_ascii_case(word))
        })
    }

    /// Reads these words if they come next.
    pub(crate) fn take(&mut self, words: &str) -> bool {
        let found = self.is_at(words);
        if found {
            self.at += words.split(' ').count();
        }
        found
    }

    /// Reads the first of these that comes next, as its index.
    pub(crate) fn take_one(&mut self, choices: &[&str]) -> Option<usize> {
        choices.iter().position(|words| self.take(words))
    }

    /// Steps over one token.
    pub(crate) fn step(&mut self) {
        self.at += 1;
    }

    /// Reads these words, or says that they are wanted here.
    pub(crate) fn expect(&mut self, words: &str) -> Result<(), Fault> {
        if self.take(words) {
            Ok(())
        } else {
            Err(self.wanted(&format!("\"{words}\""), &[words]))
        }
    }

    /// Says that nothing more is wanted, if something more is there.
    pub(crate) fn expect_end(&self, last: &str, also: &[&str]) -> Result<(), Fault> {
        if self.is_at_end() {
            return Ok(());
        }
        let mut wanted = format!("nothing more after {last}");
        for words in also {
            wanted = format!("{wanted}, or \"{words}\"");
        }
        Err(self.wanted(&wanted, also))
    }

    /// A fault at the next token: what is wanted, and words it may have been
    /// meant as.
    pub(crate) fn wanted(&self, wanted: &str, words: &[&str]) -> Fault {
        let span = self.place();
        let Some(token) = self.tokens.get(self.at) else {
            return Fault::new(span, format!("the line ends, wanted {wanted}"), "");
        };
        let hint = words
            .iter()
            .filter_map(|meant| {
                // A close word is compared with as many words as it has itself.
                let count = meant.split(' ').count();
                let found = self.tokens.get(self.at..)?.iter().take(count);
                let found: Vec<&str> = found.map(|token| token.text.as_str()).collect();
                let found = found.join(" ");
                closeness(&found, meant).map(|distance| (distance, *meant))
            })
            .min_by_key(|(distance, _)| *distance)
            .map_or(String::new(), |(_, meant)| {
                format!("did you mean \"{meant}\"?")
            });
        Fault::new(
            span,
            format!("found \"{}\", wanted {wanted}", token.text),
            hint,
        )
    }

    /// Reads a number: `12`, `2.5`, `5/2`, `2 1/2`.
    pub(crate) fn number(&mut self, wanted: &str) -> Result<number::Number, Fault> {
        let start = self.place();
        let Some(first) = self.number_text() else {
            return Err(self.wanted(wanted, &[]));
        };
        self.step();
        let whole = first.bytes().all(|byte| byte.is_ascii_digit());
        let part = self.number_text().filter(|text| text.contains('/'));
        let value = match part {
            Some(part) if whole => {
                self.step();
                let sum = |first: &str, part: &str| -> Result<_, number::NumberError> {
                    first.parse::<number::Number>()?.plus(part.parse()?)
                };
                sum(&first, &part)
            }
            Some(_) | None => first.parse(),
        };
        value.map_err(|error| {
            let hint = "write a number such as 12, 2.5, 5/2 or 2 1/2";
            Fault::new(
                self.since(&start),
                format!("{wanted}: {error}"),
                hint.to_owned(),
            )
        })
    }

    /// Reads a whole number that fits, such as a count of teeth.
    pub(crate) fn count(&mut self, wanted: &str, largest: u32) -> Result<u32, Fault> {
        let place = self.place();
        let Some(text) = self.number_text() else {
            return Err(self.wanted(wanted, &[]));
        };
        self.step();
        let whole = text.bytes().all(|byte| byte.is_ascii_digit());
        match text.parse::<u32>() {
            Ok(count) if whole && count <= largest => Ok(count),
            Ok(_) | Err(_) => Err(Fault::new(
                place,
                format!("found \"{text}\", wanted {wanted}"),
                format!("use a whole number up to {largest}"),
            )),
        }
    }

    fn number_text(&self) -> Option<String> {
        self.tokens
            .get(self.at)
            .filter(|token| token.shape == Shape::Number)
            .map(|token| token.text.clone())
    }
}

/// Returns how far a word is from what it may have been meant as, if it is near.
pub(crate) fn closeness(found: &str, meant: &str) -> Option<usize> {
    let distance = strsim::osa_distance(&found.to_lowercase(), &meant.to_lowercase());
    let most = match meant.chars().count() {
        0..=2 => 0,
        3..=4 => 1,
        5..=9 => 2,
        10.. => 3,
    };
    (distance <= most).then_some(distance)
}

/// Every word of a line that has the shape of a part's name.
pub(crate) fn names(line: &str) -> Vec<String> {
    tokens(line)
        .into_iter()
        .filter(|token| token.shape == Shape::Word && is_name(&token.text))
        .map(|token| token.text)
        .collect()
}

/// Whether a word is one capital letter with at most three digits after it.
pub(crate) fn is_name(word: &str) -> bool {
    let mut signs = word.chars();
    signs.next().is_some_and(|sign| sign.is_ascii_uppercase())
        && signs.all(|sign| sign.is_ascii_digit())
        && word.len() <= 4
}

fn tokens(line: &str) -> Vec<Token> {
    let mut found = Vec::new();
    let mut signs = line.char_indices().peekable();
    while let Some((start, sign)) = signs.next() {
        if sign.is_whitespace() {
            continue;
        }
        let mut text = String::from(sign);
        let shape = if sign.is_alphabetic() {
            gather(&mut signs, &mut text, char::is_alphanumeric);
            Shape::Word
        } else if sign.is_ascii_digit() {
            gather(&mut signs, &mut text, |sign| {
                sign.is_ascii_digit() || sign == '.' || sign == '/'
            });
            Shape::Number
        } else {
            Shape::Sign
        };
        let span = start..start + text.len();
        found.push(Token { shape, text, span });
    }
    found
}

fn gather(signs: &mut Peekable<CharIndices<'_>>, text: &mut String, belongs: fn(char) -> bool) {
    while let Some((_, sign)) = signs.next_if(|(_, sign)| belongs(*sign)) {
        text.push(sign);
    }
}
