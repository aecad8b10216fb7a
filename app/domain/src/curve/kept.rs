//! What is written down about an instrument, and which curve holds.

use super::drift::Drift;
use super::fit::{Curve, CurveError};
use super::{PAIRS_HIGH, Pair, Shape, Weighing};
use crate::id::EntryId;
use crate::said::Label;
use crate::time::Stamp;
use crate::units::{BoundError, Concentration, InstrumentReading, RelativeError, so_many};
use serde::{Deserialize, Serialize};

/// A new curve of an instrument. It holds from then on.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct InstrumentCurve {
    /// Which instrument, as it is called on the farm.
    pub instrument: Label,
    /// What it shows: absorbance, say, or its own digits.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub reads: Option<Label>,
    /// Line or parabola.
    pub shape: Shape,
    /// How pairs are weighed.
    pub weighing: Weighing,
    /// The pairs, 4 to 100. Kept, rather than coefficients: from them anyone can fit again.
    pub pairs: KeptPairs,
}

/// One ejaculate, read and counted, to see whether the curve still holds.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct CurvePair {
    /// Which instrument.
    pub instrument: Label,
    /// What it showed.
    pub reading: InstrumentReading,
    /// What was counted, in M/mL.
    pub concentration: Concentration,
    /// The count's standard error in % of it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub relative_error: Option<RelativeError>,
    /// The collection it is of.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub collection: Option<EntryId>,
}

/// 4 to 100 pairs.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "Vec<Pair>", into = "Vec<Pair>")]
pub struct KeptPairs(Vec<Pair>);

/// The curve of an instrument that holds, and what was counted since.
#[derive(Debug, Clone, PartialEq)]
pub struct Standing<'a> {
    /// Since when.
    pub since: Stamp,
    /// What was written down.
    pub kept: &'a InstrumentCurve,
    /// The curve fitted from it, or why there is none.
    pub curve: Result<Curve, CurveError>,
    /// The pairs since then, oldest first.
    pub later: Vec<Pair>,
    /// What they say; none without a curve.
    pub drift: Option<Drift>,
}

impl KeptPairs {
    /// The fewest, for a line; a parabola asks for one more when it is fitted.
    pub const LOW: usize = Shape::Linear.pairs_least();
    /// The most.
    pub const HIGH: usize = PAIRS_HIGH;

    /// So many pairs.
    pub fn new(pairs: Vec<Pair>) -> Result<Self, BoundError> {
        so_many("pairs", pairs.len(), Self::LOW..=Self::HIGH, "pairs").map(|()| Self(pairs))
    }

    /// The pairs.
    pub fn pairs(&self) -> &[Pair] {
        &self.0
    }
}

impl TryFrom<Vec<Pair>> for KeptPairs {
    type Error = BoundError;
    fn try_from(pairs: Vec<Pair>) -> Result<Self, BoundError> {
        Self::new(pairs)
    }
}

impl From<KeptPairs> for Vec<Pair> {
    fn from(kept: KeptPairs) -> Self {
        kept.0
    }
}

impl InstrumentCurve {
    /// The curve.
    pub fn fitted(&self) -> Result<Curve, CurveError> {
        Curve::fit(self.pairs.pairs(), self.shape, self.weighing)
    }
}

impl CurvePair {
    /// What the curve is held against.
    pub const fn pair(&self) -> Pair {
        Pair {
            reading: self.reading,
            concentration: self.concentration,
            relative_error: self.relative_error,
        }
    }
}

/// The latest curve of `instrument` and what pairs after it say, in whatever order they are given;
/// none where it has no curve. Of two curves of one instant the one given later holds.
pub fn standing<'a>(
    curves: impl IntoIterator<Item = (Stamp, &'a InstrumentCurve)>,
    pairs: impl IntoIterator<Item = (Stamp, &'a CurvePair)>,
    instrument: &Label,
) -> Option<Standing<'a>> {
    let own = curves
        .into_iter()
        .filter(|(_, c)| c.instrument == *instrument);
    let (since, kept) = own.max_by_key(|(stamp, _)| stamp.ms())?;
    let after = |(stamp, pair): &(Stamp, &CurvePair)| {
        pair.instrument == *instrument && stamp.ms() > since.ms()
    };
    let mut later: Vec<_> = pairs.into_iter().filter(after).collect();
    later.sort_by_key(|(stamp, _)| stamp.ms());
    let later: Vec<_> = later.into_iter().map(|(_, pair)| pair.pair()).collect();
    let curve = kept.fitted();
    let drift = curve.as_ref().ok().map(|curve| curve.drift(&later));
    Some(Standing {
        since,
        kept,
        curve,
        later,
        drift,
    })
}
