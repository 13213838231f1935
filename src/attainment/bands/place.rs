//! Where each pupil stands on the scale, for bands on it.
//!
//! A pupil's place is the mean of the places that their sheets give (Warm's), each with
//! the weight of what it tells.
//!
//! Source: the mean of estimates weighted by the inverses of their squared errors (common
//! practice, no source). Sheets without a question on the scale are left out.

use crate::attainment::fold;
use crate::attainment::fold::sheet;
use crate::attainment::growth::pupils;
use crate::attainment::names;
use crate::statistics::interval;
use crate::statistics::rasch;
use std::collections::BTreeMap;

/// The places of every score on every sheet that occurs.
pub(super) struct Places(BTreeMap<(names::Name, u16), interval::Estimate>);

impl Places {
    /// Returns them; none where there is no scale.
    pub(super) fn of(fold: &fold::Fold, scale: Option<&rasch::Scale>) -> Self {
        let mut places = BTreeMap::new();
        let Some(scale) = scale else {
            return Self(places);
        };
        for (sheet, scores) in &fold.sheets {
            let mut scores = scores
                .keys()
                .map(|score| (sheet.questions, *score))
                .filter(|key| !places.contains_key(key))
                .peekable();
            if scores.peek().is_none() {
                continue;
            }
            let scores: Vec<_> = scores.collect();
            let questions = sheet::questions(fold.names.text(sheet.questions));
            if let Ok(seated) = scale.seat(&questions) {
                for key in scores {
                    places.extend(seated.place(u32::from(key.1)).map(|place| (key, place)));
                }
            }
        }
        Self(places)
    }

    /// Returns one pupil's place, in logits, if some sheet gives one.
    pub(super) fn of_pupil(&self, done: &[sheet::Done]) -> Option<f64> {
        let mut places: Vec<interval::Estimate> = done
            .iter()
            .filter_map(|it| self.0.get(&(it.questions, it.score)).copied())
            .collect();
        // In an order that no order of the records changes.
        places.sort_by(|one, other| {
            (one.value.total_cmp(&other.value)).then(one.error.total_cmp(&other.error))
        });
        Some(pupils::weighted(places.into_iter())?.value)
    }
}
