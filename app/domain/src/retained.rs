//! Retained samples: tubes of a semen batch that are kept and looked at on later days, and what
//! they say about how long the batch, and the boar's next one, stay good.
//!
//! Motile cells of those looked at are binomial, and the logit of their share falls in a straight
//! line with the days since collection: logit(p) = intercept + slope × days. [`plain`] fits that
//! line to one batch or one boar alone. [`herd`] fits the lines of all boars and batches of one
//! class of extender together, and [`lines`] says what follows for each: few looks lean on the herd,
//! many speak for themselves. [`day`] turns a line into the day on which motility is down at the
//! floor, and [`pulled`] says what a failed look means for doses at hand and doses already out.
//!
//! Logarithm and exponential are those of `libm`, the rest is `+ − × ÷ √`: the same bits everywhere.

pub mod asked;
pub mod day;
pub mod herd;
pub mod lines;
pub mod plain;
pub mod pulled;
pub mod square;

use crate::counting::wilson;
use crate::evaluation::Share;
use crate::explain::{Explained, Origin};
use crate::id::{BoarId, EntryId};
use crate::time::{DAY_MS, Stamp};
use crate::units::{BoundError, Cells, MotilityLimit, Percent, TemperatureC, within};
use serde::{Deserialize, Serialize};

/// One look at a retained sample of a batch; when is the entry's own time.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Retained {
    /// The batch it was kept of.
    pub batch: EntryId,
    /// Whose semen is in it, 1 to 50 boars, so that their pages are touched.
    pub boars: Vec<BoarId>,
    /// Motile, counted or judged by eye.
    pub motile: Share,
    /// Whether it was warmed to 37 °C before it was judged; absent when nobody said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub warmed: Option<bool>,
    /// What the store read.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stored_c: Option<TemperatureC>,
}

/// The share below which doses are not used: the hard 60 % (use needs more than that; common
/// practice, no source), or more where the farm asks for more in store.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "f64", into = "f64")]
pub struct Floor(f64);

/// How many cells a share judged by eye is worth, 1 to 200. 20 to start from: two people seldom agree
/// within ten points, which is what 20 cells leave open at 75 % (common practice, no source).
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "f64", into = "f64")]
pub struct EyeCells(f64);

/// One look as the fits read it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Look {
    day: f64,
    hits: f64,
    cells: f64,
}

/// What one look says about its batch.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Standing {
    /// At or above the floor; `close` when the 95 % interval of the count holds the floor too.
    Holds {
        /// Whether chance alone may have put it there.
        close: bool,
    },
    /// Below the floor, but so few cells or so close that it may be chance: look again.
    Doubtful,
    /// Below the floor, and judged cold: warm it to 37 °C and look again.
    Cold,
    /// Below the floor.
    Fails,
}

impl Floor {
    /// 60 %.
    pub const HARD: Self = Self(60.0);
    /// The most a farm may ask of stored semen.
    pub const HIGH: f64 = 95.0;

    /// From 60 to 95 %: no farm lowers it.
    pub fn new(percent: f64) -> Result<Self, BoundError> {
        within("floor_percent", percent, Self::HARD.0..=Self::HIGH, "%").map(Self)
    }

    /// What a farm asks of fresh semen, taken as the floor of stored semen too.
    pub fn of(limit: MotilityLimit) -> Self {
        Self(limit.value().min(Self::HIGH))
    }

    /// In %.
    pub const fn percent(self) -> f64 {
        self.0
    }

    /// ln(p ÷ (1 − p)).
    pub fn logit(self) -> f64 {
        libm::log(self.0 / (100.0 - self.0))
    }

    /// Whether semen of that motility may be used: above 60 %, and no less than the farm asks.
    pub fn holds(self, motile: Percent) -> bool {
        motile.value() > Self::HARD.0 && motile.value() >= self.0
    }
}

impl Default for Floor {
    fn default() -> Self {
        Self::HARD
    }
}

impl TryFrom<f64> for Floor {
    type Error = BoundError;
    fn try_from(percent: f64) -> Result<Self, BoundError> {
        Self::new(percent)
    }
}

impl From<Floor> for f64 {
    fn from(floor: Floor) -> Self {
        floor.0
    }
}

impl EyeCells {
    /// See the type.
    pub const USUAL: Self = Self(20.0);

    /// From 1 to 200.
    pub fn new(cells: f64) -> Result<Self, BoundError> {
        within("eye_cells", cells, 1.0..=200.0, "cells").map(Self)
    }

    /// As many cells.
    pub const fn cells(self) -> f64 {
        self.0
    }
}

impl Default for EyeCells {
    fn default() -> Self {
        Self::USUAL
    }
}

impl TryFrom<f64> for EyeCells {
    type Error = BoundError;
    fn try_from(cells: f64) -> Result<Self, BoundError> {
        Self::new(cells)
    }
}

impl From<EyeCells> for f64 {
    fn from(cells: EyeCells) -> Self {
        cells.0
    }
}

impl Retained {
    /// Boars behind one batch, at most: as many as it may have sources.
    pub const BOARS_MAX: usize = 50;

    /// What it says about its batch; see [`standing`].
    pub fn standing(&self, floor: Floor) -> Standing {
        standing(self.motile, self.warmed, floor, &Origin::Asked).0
    }
}

impl Look {
    /// No semen is stored longer: beyond it is a typing error.
    pub const DAYS_MAX: f64 = 60.0;

    /// A share of so many cells, or one judged by eye, so many days after collection, 0 to 60.
    pub fn new(day: f64, motile: Share, eye: EyeCells) -> Result<Self, BoundError> {
        within("days", day, 0.0..=Self::DAYS_MAX, "d")?;
        let cells = match motile.cells {
            Some(cells) => Cells::new(cells.into())?.number(),
            None => eye.cells(),
        };
        Ok(Self {
            day: day + 0.0,
            hits: motile.percent.proportion() * cells,
            cells,
        })
    }

    /// Of a look at a sample of semen collected then; none where it was judged cold, since cold
    /// semen moves less than it can.
    pub fn of(
        looked: &Retained,
        at: Stamp,
        collected_at: Stamp,
        eye: EyeCells,
    ) -> Option<Result<Self, BoundError>> {
        let day = (at.ms() - collected_at.ms()) as f64 / DAY_MS as f64;
        (looked.warmed != Some(false)).then(|| Self::new(day, looked.motile, eye))
    }

    /// Days since collection.
    pub const fn day(self) -> f64 {
        self.day
    }

    /// Cells, or what a judgement by eye is worth.
    pub const fn cells(self) -> f64 {
        self.cells
    }

    /// Motile among them.
    pub const fn hits(self) -> f64 {
        self.hits
    }
}

/// What one look says, with Wilson's 95 % interval where cells were counted. A look below the floor
/// that was judged by eye fails: an eye has no interval that could excuse it. One that nobody said
/// was warm counts as warm.
pub fn standing(
    motile: Share,
    warmed: Option<bool>,
    floor: Floor,
    from: &Origin,
) -> (Standing, Vec<Explained>) {
    let cells = motile.cells.and_then(|cells| Cells::new(cells.into()).ok());
    let figures: Vec<_> = cells
        .into_iter()
        .flat_map(|cells| wilson(motile.percent, cells, from))
        .collect();
    let open = matches!(&figures[..], [low, high]
        if low.number() < floor.percent() && floor.percent() < high.number());
    let standing = match (floor.holds(motile.percent), warmed) {
        (true, _) => Standing::Holds { close: open },
        (false, Some(false)) => Standing::Cold,
        (false, _) if open => Standing::Doubtful,
        (false, _) => Standing::Fails,
    };
    (standing, figures)
}

#[cfg(test)]
mod tests;
