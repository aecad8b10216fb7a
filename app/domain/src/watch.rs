//! When a boar's output falls: the signal, what speaks for which reason, and what people answered.

mod chart;
mod herd;
mod reasons;

use crate::id::{BoarId, EntryId};
use crate::output::Measure;
use crate::said::Remark;
use serde::{Deserialize, Serialize};

pub use chart::{Chart, Fall, LAMBDA, LIMIT, cusum, ewma, ewma_limit};
pub use herd::{HERD_DAYS, HerdFall, herd_falls};
pub use reasons::{CAUSES, Reason, reasons};

/// A measure of one boar has become worse.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Signal {
    /// Which.
    pub measure: Measure,
    /// The collection at which it was noticed.
    pub collection: EntryId,
    /// When that was, in ms since 1970.
    pub at_ms: i64,
    /// How it fell.
    pub fall: Fall,
}

/// What people found when they looked after a signal.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct SignalAnswer {
    /// Whose output fell; absent where the whole herd's did.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub boar: Option<BoarId>,
    /// What fell, or rose.
    pub measure: Measure,
    /// The collection at which it was told.
    pub collection: EntryId,
    /// The answer.
    pub answer: Answered,
    /// The cause, where one was found.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cause: Option<Cause>,
    /// Words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<Remark>,
}

impl SignalAnswer {
    /// The version of the body it is written as: 2 where it names a cause that version 1 did not know.
    pub fn version(&self) -> u16 {
        if self.cause == Some(Cause::Filter) {
            2
        } else {
            1
        }
    }
}

/// How a signal was answered.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Answered {
    /// Somebody knows of it, and keeps an eye on him.
    Seen,
    /// The cause was found.
    CauseFound,
    /// Nothing is the matter.
    False,
}

/// What may be behind a fall.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Cause {
    /// He was used too soon after the time before.
    ShortRest,
    /// He had not been used for long.
    LongIdle,
    /// Hot days, three to five weeks before.
    Heat,
    /// Fever in the six weeks before.
    Fever,
    /// Another illness, injury, lameness or treatment.
    Ill,
    /// Another person collected him than before.
    Handler,
    /// Another glove.
    Glove,
    /// Dirt, urine or gel in the cup: look at filter and hygiene.
    Dirt,
    /// The filter tore or slid in. Since version 2.
    Filter,
    /// Counted another way than before.
    Instrument,
    /// Other fractions went into the cup.
    Fractions,
    /// His age.
    Age,
    /// The bench or the heat: the whole herd fell.
    Herd,
    /// Something else.
    Other,
}
