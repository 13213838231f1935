//! Texts that come again and again (classes, years, templates), each kept once.

use std::collections::HashMap;
use std::sync::Arc;

/// The number of a text.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Name(u32);

/// Every text once.
#[derive(Debug, Clone, Default)]
pub(super) struct Names {
    texts: Vec<Arc<str>>,
    /// Looked up for every answer, and never gone through: its order is nobody's.
    numbers: HashMap<Arc<str>, Name>,
}

/// How the numbers of another [`Names`] are called here.
#[derive(Debug)]
pub(super) struct Renaming(Vec<Name>);

impl Names {
    /// Returns the number of a text.
    pub(super) fn name(&mut self, text: &str) -> Name {
        if let Some(name) = self.numbers.get(text) {
            return *name;
        }
        let number = u32::try_from(self.texts.len());
        let name = Name(number.expect("memory ends before there are four thousand million texts"));
        let text: Arc<str> = text.into();
        self.texts.push(Arc::clone(&text));
        self.numbers.insert(text, name);
        name
    }

    /// Returns the text of a number that was given here.
    pub(super) fn text(&self, name: Name) -> &str {
        &self.texts[place(name.0)]
    }

    /// Takes up all texts of another.
    pub(super) fn join(&mut self, other: &Self) -> Renaming {
        Renaming(other.texts.iter().map(|text| self.name(text)).collect())
    }
}

impl Renaming {
    /// Returns how a number of the other is called here.
    pub(super) fn here(&self, name: Name) -> Name {
        self.0[place(name.0)]
    }
}

/// A number as a place in a list.
fn place(number: u32) -> usize {
    usize::try_from(number).expect("lists of this length fit into memory")
}
