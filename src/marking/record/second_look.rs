//! Second looks in the record.

use crate::marking::second_look;
use serde::Deserialize;
use serde::Serialize;

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Wire {
    seed: String,
    share: String,
    drawn_on: String,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    given_back_on: String,
    rows: Vec<WireRow>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct WireRow {
    pupil: String,
    question: String,
    code: String,
    first: u8,
    reason: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    second: Option<u8>,
}

/// Returns what is written of a look.
pub(super) fn wire(look: &second_look::Look) -> Wire {
    Wire {
        seed: look.seed.clone(),
        share: look.share.clone(),
        drawn_on: look.drawn_on.clone(),
        given_back_on: look.given_back_on.clone(),
        rows: look
            .rows
            .iter()
            .map(|row| WireRow {
                pupil: row.pupil_id.clone(),
                question: row.question.clone(),
                code: row.code.clone(),
                first: row.first,
                reason: row.reason.clone(),
                second: row.second,
            })
            .collect(),
    }
}

/// Returns the look that was written so.
///
/// A row of an answer that is not there any more stays: the report says so.
pub(super) fn look(wire: Wire) -> second_look::Look {
    second_look::Look {
        seed: wire.seed,
        share: wire.share,
        drawn_on: wire.drawn_on,
        given_back_on: wire.given_back_on,
        rows: wire
            .rows
            .into_iter()
            .map(|row| second_look::Row {
                pupil_id: row.pupil,
                question: row.question,
                code: row.code,
                first: row.first,
                reason: row.reason,
                second: row.second,
            })
            .collect(),
    }
}
