//! The fingerprints in `marked.json`: one of the heading, one of the policy, one of each
//! pupil with their marks, of each decision and of each second look.

use crate::homework::fingerprint;
use crate::marking::record;
use serde::Deserialize;
use serde::Serialize;
use std::collections::BTreeMap;

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Wire {
    heading: String,
    policy: String,
    pupils: BTreeMap<String, String>,
    decisions: Vec<String>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    second_looks: Vec<String>,
}

/// The switches of a policy by name, as a record has them: one that is not in it yet must
/// not change its fingerprint.
pub(super) type Switches = BTreeMap<String, serde_json::Value>;

/// Returns the switches of a record's policy.
pub(super) fn switches(text: &str) -> Result<Switches, serde_json::Error> {
    /// All else is skipped.
    #[derive(Deserialize)]
    struct WirePolicy {
        policy: Switches,
    }
    serde_json::from_str::<WirePolicy>(text).map(|wire| wire.policy)
}

/// Returns the fingerprint of a pupil under their id.
pub(super) fn of_pupil(pupil: &record::WirePupil) -> (String, String) {
    (pupil.id.clone(), fingerprint::of(pupil))
}

impl Wire {
    /// Returns the fingerprints of a record as it stands, with those of its pupils and with
    /// these switches.
    pub(super) fn of<P>(
        wire: &record::WireMarked<P>,
        pupils: BTreeMap<String, String>,
        switches: &Switches,
    ) -> Self {
        let heading = (
            (&wire.made_by, &wire.homework, &wire.title, &wire.set_on),
            (&wire.marked_on, &wire.banks, &wire.notes),
        );
        Self {
            heading: fingerprint::with_later(&heading, wire.keep_until.as_ref()),
            policy: fingerprint::of(switches),
            pupils,
            decisions: wire.decisions.iter().map(fingerprint::of).collect(),
            second_looks: wire.second_looks.iter().map(fingerprint::of).collect(),
        }
    }

    /// Returns what is not as it was written: the place, and what is wrong there.
    pub(super) fn differing(
        &self,
        wire: &record::WireMarked<Vec<record::WirePupil>>,
        switches: &Switches,
    ) -> Vec<(String, String)> {
        let pupils = wire.pupils.iter().map(of_pupil).collect();
        let found = Self::of(wire, pupils, switches);
        let mut differing = Vec::new();
        for (place, written, found) in [
            ("heading", &self.heading, &found.heading),
            ("policy", &self.policy, &found.policy),
        ] {
            if written != found {
                differing.push((
                    place.to_owned(),
                    format!("the {place} {}", fingerprint::CHANGED),
                ));
            }
        }
        for (name, what) in fingerprint::differing(&self.pupils, &found.pupils) {
            differing.push((format!("pupil {name}"), format!("the pupil {what}")));
        }
        for (kind, written, found) in [
            ("decision", &self.decisions, &found.decisions),
            ("second look", &self.second_looks, &found.second_looks),
        ] {
            let (written, found) = (numbered(written), numbered(found));
            for (number, what) in fingerprint::differing(&written, &found) {
                let number = number.trim_start();
                differing.push((format!("{kind} {number}"), format!("the {kind} {what}")));
            }
        }
        differing
    }
}

/// Parts of a list by their number.
fn numbered(fingerprints: &[String]) -> BTreeMap<String, String> {
    (1..)
        .zip(fingerprints)
        .map(|(number, fingerprint): (u32, _)| (format!("{number:>9}"), fingerprint.clone()))
        .collect()
}
