//! The barn's arithmetic as the phone, the office and scripts all ask for it: a JSON request
//! in, a JSON answer out, one pure function for each name under `POST /api/v1/reckon/`.
//!
//! A field nobody filled in was not measured; an unknown field is refused, because a misspelt
//! measurement would otherwise pass for one that nobody made.

use crate::curve::CurveError;
use crate::gestation::DayError;
use crate::json;
use crate::retained::lines::NotSettled;
use crate::units::BoundError;
use serde::{Serialize, de::DeserializeOwned};

mod around;
mod bench;
mod calendar;
mod extender;
mod fill;
mod instrument;
mod keeping;
mod sure;
mod tally;
mod waits;

pub use around::{Confirmed, KeepAsked, Kept, SowsAsked, Temperatures, TemperaturesAsked};
pub use bench::{
    AgreementAnswer, AgreementAsked, CountAnswer, CountAsked, LimitsAsked, ReplicateAsked,
    ShareAsked, TallyAsked, VerdictAsked, agreement, count, verdict,
};
pub use calendar::{AgeAsked, GestationAnswer, GestationAsked, age, gestation};
pub use extender::{ExtenderAnswer, ExtenderAsked, extender};
pub use fill::{
    DosesAnswer, DosesAsked, EjaculateAsked, PlainAnswer, PlainAsked, doses, plain_doses,
};
pub use instrument::{CurveAnswer, CurveAsked, PairAsked, ReadAnswer, curve};
pub use keeping::{
    BatchAsked, BatchKept, BoarKept, HerdFrom, KeepingAnswer, KeepingAsked, LookAsked, PlainLine,
    keeping,
};
pub(crate) use keeping::{LOOKS_HIGH, OTHERS_HIGH};
pub use sure::SureAsked;
pub use tally::{
    ChamberAsked, DoubtAsked, ErrorsAsked, FurtherAnswer, IntervalAnswer, ShareAnswer,
    ShareTallied, share,
};
pub use waits::{GroupAnswer, GroupAsked, ObservedAsked, SurvivalAnswer, SurvivalAsked, survival};

/// One reckoning: the request's bytes in, the answer's JSON text out.
pub type Reckoning = fn(&[u8]) -> Result<String, ReckonError>;

/// Every reckoning by its name in the address.
pub const TABLE: &[(&str, Reckoning)] = &[
    ("count", |bytes| run(bytes, count)),
    ("agreement", |bytes| run(bytes, agreement)),
    ("verdict", |bytes| run(bytes, verdict)),
    ("doses", |bytes| run(bytes, doses)),
    ("plain-doses", |bytes| run(bytes, plain_doses)),
    ("gestation", |bytes| run(bytes, gestation)),
    ("age", |bytes| run(bytes, age)),
    ("survival", |bytes| run(bytes, survival)),
    ("curve", |bytes| run(bytes, curve)),
    ("share", |bytes| run(bytes, share)),
    ("keeping", |bytes| run(bytes, keeping)),
    ("extender", |bytes| run(bytes, extender)),
];

/// Why there is no answer.
#[derive(Debug, Clone, PartialEq, Serialize, thiserror::Error)]
#[serde(rename_all = "snake_case")]
pub enum ReckonError {
    /// Not the JSON of such a request.
    #[error("the request does not read: {detail}")]
    Unreadable {
        /// What is wrong and what would be right.
        detail: String,
    },
    /// A figure outside what can be.
    #[error(transparent)]
    Bound(#[from] BoundError),
    /// A day that cannot be.
    #[error(transparent)]
    Day(#[from] DayError),
    /// Pairs that make no curve.
    #[error(transparent)]
    Curve(#[from] CurveError),
    /// A time that cannot be counted on from.
    #[error("collected_at is {read}; it must be before the year 9999")]
    Time {
        /// What was read.
        read: String,
    },
    /// Another time that cannot be counted on from.
    #[error("{field} is {read}; it must be before the year 9999")]
    Moment {
        /// Which.
        field: &'static str,
        /// What was read.
        read: String,
    },
    /// Looks that no herd could have given.
    #[error(transparent)]
    NotSettled(#[from] NotSettled),
    /// Nothing to reckon from.
    #[error("the request holds nothing to reckon from; it must hold {needs}")]
    Nothing {
        /// One of which would do.
        needs: &'static str,
    },
    /// No such reckoning.
    #[error(
        "there is no reckoning '{read}'; there are: count, agreement, verdict, doses, plain-doses, gestation, age, survival, curve, share, keeping, extender"
    )]
    Name {
        /// What was read.
        read: String,
    },
    /// An answer that JSON cannot write.
    #[error("the answer cannot be written: {detail}")]
    Unwritable {
        /// Why.
        detail: String,
    },
}

/// Answers the reckoning of that name.
pub fn answer(name: &str, bytes: &[u8]) -> Result<String, ReckonError> {
    match TABLE.iter().find(|row| row.0 == name) {
        Some((_, reckoning)) => reckoning(bytes),
        None => Err(ReckonError::Name {
            read: name.to_owned(),
        }),
    }
}

/// Reads a request, answers it, writes the answer.
pub fn run<A: DeserializeOwned, B: Serialize>(
    bytes: &[u8],
    reckon: fn(&A) -> Result<B, ReckonError>,
) -> Result<String, ReckonError> {
    let unreadable = |e: serde_json::Error| ReckonError::Unreadable {
        detail: e.to_string(),
    };
    let asked = json::parse(bytes).map_err(unreadable)?;
    let asked = json::of(&asked).map_err(unreadable)?;
    let answer = reckon(&asked)?;
    serde_json::to_string(&answer).map_err(|e| ReckonError::Unwritable {
        detail: e.to_string(),
    })
}

/// A figure that may be absent, checked under its field's name.
fn checked<R, Q>(
    field: &'static str,
    read: Option<R>,
    check: fn(R) -> Result<Q, BoundError>,
) -> Result<Option<Q>, BoundError> {
    read.map(check).transpose().map_err(|e| e.named(field))
}

#[cfg(test)]
mod tests;
