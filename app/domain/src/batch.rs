//! A semen batch: doses made together, with everything the decision rested on.

use crate::code::Code;
use crate::doses::Technique;
use crate::id::{BoarId, EntryId};
use crate::json;
use crate::reckon::{DosesAsked, KeepAsked, PlainAsked, answer};
use crate::time::Stamp;
use crate::units::VolumeMl;
use serde::{Deserialize, Serialize};
use serde_json::Value;

/// One ejaculate that went in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Source {
    /// Whose.
    pub boar: BoarId,
    /// The collection's entry.
    pub collection: EntryId,
    /// The evaluation it was judged by; none for doses that were not counted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub evaluation: Option<EntryId>,
}

/// A semen batch. `asked` and `answered` are the reckoning's own request and answer, letter for
/// letter as people acted on them; feeding `asked` to the same function must yield `answered`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SemenBatch {
    /// The short code on the bottles.
    pub code: Code,
    /// What went in.
    pub sources: Vec<Source>,
    /// The farm standard it was made under; none for the program's own defaults.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub standard: Option<EntryId>,
    /// Which reckoning was used: `doses` or `plain-doses`.
    pub reckoning: String,
    /// Its request, as JSON text.
    pub asked: String,
    /// Its answer, as JSON text.
    pub answered: String,
    /// Doses filled, 1 to 200.
    pub doses: u16,
    /// Volume of each.
    pub dose_volume: VolumeMl,
    /// Where it is to be placed.
    pub technique: Technique,
    /// False when nobody counted the sperm.
    pub counted: bool,
    /// To be used before.
    pub use_by: Stamp,
    /// Whether the extender holds an antibiotic; absent when nobody said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub antibiotic: Option<bool>,
    /// The mix of extender that went in; absent for undiluted semen and where nobody said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub extender_mix: Option<EntryId>,
}

impl SemenBatch {
    /// What was asked about how long it keeps; none where this program cannot read it.
    pub fn keep(&self) -> Option<KeepAsked> {
        if self.counted {
            return Some(json::read::<DosesAsked>(&self.asked).ok()?.keep);
        }
        Some(json::read::<PlainAsked>(&self.asked).ok()?.keep)
    }

    /// Whether its request, asked anew, is answered as people acted on it; none where this program
    /// cannot answer it. What a later program answers beside that changes nothing of it.
    pub fn answered_the_same(&self) -> Option<bool> {
        let again = answer(&self.reckoning, self.asked.as_bytes()).ok()?;
        let read = |text: &str| serde_json::from_str::<Value>(text).ok();
        Some(again == self.answered || holds(&read(&again)?, &read(&self.answered)?))
    }
}

/// Whether every field of `before` stands in `again` with an equal value.
fn holds(again: &Value, before: &Value) -> bool {
    match (again, before) {
        (Value::Object(again), Value::Object(before)) => before
            .iter()
            .all(|(name, was)| again.get(name).is_some_and(|is| holds(is, was))),
        (Value::Array(again), Value::Array(before)) => {
            again.len() == before.len() && again.iter().zip(before).all(|(is, was)| holds(is, was))
        }
        _ => again == before,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Value {
        serde_json::from_str(text).unwrap()
    }

    #[test]
    fn a_field_added_later_changes_nothing_and_a_figure_does() {
        let before = read(r#"{"making":{"made":{"doses":13}},"shares_percent":[60.5,39.5]}"#);
        for (again, same) in [
            (
                r#"{"making":{"made":{"doses":13,"new":1}},"shares_percent":[60.5,39.5],"more":[]}"#,
                true,
            ),
            (
                r#"{"shares_percent":[60.5,39.5],"making":{"made":{"doses":13}}}"#,
                true,
            ),
            (
                r#"{"making":{"made":{"doses":12}},"shares_percent":[60.5,39.5]}"#,
                false,
            ),
            (
                r#"{"making":{"made":{"doses":13}},"shares_percent":[60.5]}"#,
                false,
            ),
            (
                r#"{"making":{"made":{"doses":13}},"shares_percent":[39.5,60.5]}"#,
                false,
            ),
            (r#"{"making":{"made":{"doses":13}}}"#, false),
            (
                r#"{"making":{"thin":{"doses":13}},"shares_percent":[60.5,39.5]}"#,
                false,
            ),
        ] {
            assert_eq!(holds(&read(again), &before), same, "{again}");
        }
    }
}
