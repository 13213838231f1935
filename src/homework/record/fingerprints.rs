//! The fingerprints in `homework.json`: one of the heading, one of each question, one of
//! each pupil.
//!
//! The order of sheets and of pupils is in none of them: it changes no mark.

use crate::homework::fingerprint;
use crate::homework::record;
use serde::Deserialize;
use serde::Serialize;
use std::collections::BTreeMap;

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Wire {
    heading: String,
    /// The questions of each sheet, in order.
    sheets: BTreeMap<String, Vec<String>>,
    pupils: BTreeMap<String, String>,
}

impl Wire {
    /// Returns the fingerprints of a record as it stands.
    pub(super) fn of(wire: &record::Wire) -> Self {
        let heading = (
            (&wire.made_by, &wire.code, &wire.title),
            (&wire.date, &wire.seed, &wire.banks),
        );
        Self {
            heading: fingerprint::with_later(&heading, wire.keep_until.as_ref()),
            sheets: wire
                .sheets
                .iter()
                .map(|sheet| {
                    let items = sheet.items.iter().map(fingerprint::of).collect();
                    (sheet.version.clone(), items)
                })
                .collect(),
            pupils: wire
                .pupils
                .iter()
                .map(|pupil| (pupil.id.clone(), fingerprint::of(pupil)))
                .collect(),
        }
    }

    /// Returns what is not as it was written: the place, and what is wrong there.
    pub(super) fn differing(&self, wire: &record::Wire) -> Vec<(String, String)> {
        let found = Self::of(wire);
        let mut differing = Vec::new();
        if found.heading != self.heading {
            differing.push((
                "heading".to_owned(),
                "made_by, code, title, date, keep_until, seed or banks are not as they were \
                 written"
                    .to_owned(),
            ));
        }
        for sheet in &wire.sheets {
            let items = found.sheets.get(&sheet.version);
            let (Some(written), Some(items)) = (self.sheets.get(&sheet.version), items) else {
                continue;
            };
            if written.len() != items.len() {
                differing.push((
                    format!("sheet {}", sheet.version),
                    format!(
                        "has {} questions, and was written with {}",
                        items.len(),
                        written.len()
                    ),
                ));
                continue;
            }
            for ((item, written), found) in sheet.items.iter().zip(written).zip(items) {
                if written != found {
                    differing.push((
                        format!("sheet {}, {}", sheet.version, item.number),
                        format!("the question {}", fingerprint::CHANGED),
                    ));
                }
            }
        }
        let names = |sheets: &BTreeMap<String, Vec<String>>| -> BTreeMap<String, String> {
            sheets
                .keys()
                .map(|it| (it.clone(), String::new()))
                .collect()
        };
        for (written, found, kind) in [
            (&names(&self.sheets), &names(&found.sheets), "sheet"),
            (&self.pupils, &found.pupils, "pupil"),
        ] {
            for (name, what) in fingerprint::differing(written, found) {
                differing.push((format!("{kind} {name}"), format!("the {kind} {what}")));
            }
        }
        differing
    }
}
