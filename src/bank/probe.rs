//! A few ways to fill a template's placeholders, enough to find every fault.

use crate::bank::pattern;
use crate::bank::values;
use crate::table;

/// One filling, and which value was tried in it.
pub(super) struct Probe<'p> {
    pub(super) filling: pattern::Filling<'p>,
    /// The value tried; `None` for the filling of first values.
    tried: Option<&'p table::Found<String>>,
    placeholders: &'p [values::Listed],
}

impl Probe<'_> {
    /// Returns where a value of the mechanism stands: at the one tried, or at a
    /// first value, or else at `elsewhere`. Nothing where another probe tells it.
    pub(super) fn place_of(&self, value: &str, elsewhere: usize) -> Option<usize> {
        if let Some(tried) = self.tried {
            return (tried.value == value).then_some(tried.at.start);
        }
        let first = self
            .placeholders
            .iter()
            .filter_map(|placeholder| placeholder.values.first())
            .find(|first| first.value == value);
        Some(first.map_or(elsewhere, |first| first.at.start))
    }
}

/// Returns the filling of every placeholder's first value, and then one for each
/// other value with the rest kept; of a range only its ends are tried. Empty
/// where a placeholder has no value.
pub(super) fn probes(placeholders: &[values::Listed]) -> Vec<Probe<'_>> {
    let first: Option<pattern::Filling> = placeholders
        .iter()
        .map(|placeholder| {
            let value = placeholder.values.first()?;
            Some((placeholder.name.as_str(), value.value.as_str()))
        })
        .collect();
    let Some(first) = first else {
        return Vec::new();
    };
    let mut probes = vec![Probe {
        filling: first.clone(),
        tried: None,
        placeholders,
    }];
    for placeholder in placeholders {
        let mut tried = placeholder.values.iter().skip(1).peekable();
        while let Some(value) = tried.next() {
            // The values of a range all stand at one place.
            let inside_a_range = tried.peek().is_some_and(|next| next.at == value.at);
            if inside_a_range {
                continue;
            }
            let mut filling = first.clone();
            filling.insert(&placeholder.name, &value.value);
            probes.push(Probe {
                filling,
                tried: Some(value),
                placeholders,
            });
        }
    }
    probes
}
