//! Text with placeholders in braces, such as `Gear A has {a} teeth.`

use std::collections::BTreeMap;

/// Text with placeholders, taken apart once so that filling is quick.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pattern {
    pieces: Vec<Piece>,
}

#[derive(Debug, Clone, PartialEq, Eq)]
enum Piece {
    Plain(String),
    Slot(String),
}

/// What fills placeholders: the text for each name.
pub type Filling<'f> = BTreeMap<&'f str, &'f str>;

/// What is wrong with the braces of a text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PatternFault {
    /// Where, in bytes of the text.
    pub at: usize,
    /// What was found.
    pub what: String,
    /// What to do.
    pub hint: String,
}

impl Pattern {
    /// Returns the text taken apart.
    ///
    /// # Errors
    ///
    /// Every brace that stands alone and every name that is none.
    pub fn parse(text: &str) -> Result<Self, Vec<PatternFault>> {
        let mut pieces = Vec::new();
        let mut faults = Vec::new();
        let mut fault = |at: usize, what: String| {
            faults.push(PatternFault {
                at,
                what,
                hint: "write a placeholder as {name}: letters, digits and _ only".to_owned(),
            });
        };
        let mut plain = String::new();
        let mut open: Option<(usize, String)> = None;
        for (at, sign) in text.char_indices() {
            match (sign, &mut open) {
                ('{', None) => open = Some((at, String::new())),
                ('{', Some((start, _))) => {
                    fault(*start, "found { without its }".to_owned());
                    open = Some((at, String::new()));
                }
                ('}', None) => fault(at, "found } without its {".to_owned()),
                ('}', Some((start, name))) => {
                    if is_name(name) {
                        pieces.push(Piece::Plain(std::mem::take(&mut plain)));
                        pieces.push(Piece::Slot(std::mem::take(name)));
                    } else {
                        fault(*start, format!("{{{name}}} is no name of a placeholder"));
                    }
                    open = None;
                }
                (sign, None) => plain.push(sign),
                (sign, Some((_, name))) => name.push(sign),
            }
        }
        if let Some((start, _)) = open {
            fault(start, "found { without its }".to_owned());
        }
        pieces.push(Piece::Plain(plain));
        if faults.is_empty() {
            Ok(Self { pieces })
        } else {
            Err(faults)
        }
    }

    /// The names of its placeholders with where each stands in the text, in bytes.
    #[must_use]
    pub fn slots(&self) -> Vec<(&str, usize)> {
        let mut at = 0;
        let mut slots = Vec::new();
        for piece in &self.pieces {
            if let Piece::Slot(name) = piece {
                slots.push((name.as_str(), at));
            }
            at += piece.text_length();
        }
        slots
    }

    /// Whether this placeholder is in it.
    #[must_use]
    pub fn has(&self, name: &str) -> bool {
        self.slots().iter().any(|(slot, _)| *slot == name)
    }

    /// Returns the text with every placeholder filled.
    #[must_use]
    pub fn fill(&self, filling: &Filling) -> String {
        let mut text = String::new();
        for piece in &self.pieces {
            text.push_str(piece.filled(filling));
        }
        text
    }

    /// Returns which byte of the text a byte of the filled text comes from; for a
    /// placeholder, its opening brace.
    #[must_use]
    pub fn origin(&self, filling: &Filling, filled_at: usize) -> usize {
        let (mut text_at, mut rest) = (0, filled_at);
        for piece in &self.pieces {
            let length = piece.filled(filling).len();
            if rest < length {
                return match piece {
                    Piece::Plain(_) => text_at + rest,
                    Piece::Slot(_) => text_at,
                };
            }
            rest -= length;
            text_at += piece.text_length();
        }
        text_at
    }
}

impl std::fmt::Display for Pattern {
    /// Writes the text as it stands in the bank.
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        for piece in &self.pieces {
            match piece {
                Piece::Plain(text) => formatter.write_str(text)?,
                Piece::Slot(name) => write!(formatter, "{{{name}}}")?,
            }
        }
        Ok(())
    }
}

impl Piece {
    fn text_length(&self) -> usize {
        match self {
            Self::Plain(text) => text.len(),
            Self::Slot(name) => name.len() + 2,
        }
    }

    fn filled<'a>(&'a self, filling: &Filling<'a>) -> &'a str {
        match self {
            Self::Plain(text) => text,
            Self::Slot(name) => filling
                .get(name.as_str())
                .copied()
                .expect("a checked bank defines every placeholder it uses"),
        }
    }
}

/// Whether a text may name a placeholder.
#[must_use]
pub fn is_name(text: &str) -> bool {
    !text.is_empty()
        && text
            .chars()
            .all(|sign| sign.is_ascii_alphanumeric() || sign == '_')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn placeholders_are_filled_and_traced_back() {
        let text = "Gear A has {a} teeth, B {b_2}.";
        let pattern = Pattern::parse(text).expect("well formed");
        assert_eq!(pattern.to_string(), text);
        assert_eq!(pattern.slots(), [("a", 11), ("b_2", 24)]);
        let filling = Filling::from([("a", "120"), ("b_2", "8")]);
        assert_eq!(pattern.fill(&filling), "Gear A has 120 teeth, B 8.");
        for (filled_at, text_at) in [(0, 0), (10, 10), (11, 11), (13, 11), (14, 14), (25, 29)] {
            assert_eq!(
                pattern.origin(&filling, filled_at),
                text_at,
                "byte {filled_at}"
            );
        }
    }

    #[test]
    fn every_brace_that_stands_alone_is_found() {
        let faults = |text| {
            let faults = Pattern::parse(text).expect_err("a fault");
            faults.iter().map(|fault| fault.at).collect::<Vec<_>>()
        };
        assert_eq!(faults("a } b { c"), [2, 6]);
        assert_eq!(faults("{a{b}"), [0]);
        assert_eq!(faults("{} and {a b}"), [0, 7]);
    }
}
