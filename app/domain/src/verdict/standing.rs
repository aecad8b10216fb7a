//! How sure an outcome is: the chance that the true share misses the limit, and what follows.

use super::{Judged, Outcome, Reason};
use crate::evaluation::Share;
use crate::explain::{Explained, Origin, Printed, Term};
use crate::intervals::{chance_above, chance_below, normal_below};
use crate::units::{BoundError, Cells, Percent, within};
use serde::{Deserialize, Serialize};

/// Where a rule stands, once the chance is looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Standing {
    /// The chance that the true share misses the limit is small.
    Pass,
    /// It is neither small nor large: count more.
    Doubtful,
    /// It is large.
    Fail,
    /// Nobody measured it.
    NotMeasured,
}

/// When an outcome is doubtful.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "Written", into = "Written")]
pub struct Doubt(Written);

#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
struct Written {
    pass_chance: f64,
    fail_chance: f64,
    eye_points: f64,
}

/// Cells to count where a share was judged by eye: the 200 of the WHO manual, 5th ed. 2010.
pub const CELLS_AFTER_EYE: u16 = 200;

impl Doubt {
    /// It passes up to the chance `pass_chance` of a miss (0.001 to 0.5), fails from `fail_chance` on
    /// (0.5 to 0.999). A share judged by eye spreads about the true one with a deviation of
    /// `eye_points`, 1 to 20 points of percent.
    pub fn new(pass_chance: f64, fail_chance: f64, eye_points: f64) -> Result<Self, BoundError> {
        Ok(Self(Written {
            pass_chance: within("pass_chance", pass_chance, 0.001..=0.5, "")?,
            fail_chance: within("fail_chance", fail_chance, 0.5..=0.999, "")?,
            eye_points: within("eye_points", eye_points, 1.0..=20.0, "points")?,
        }))
    }

    /// It passes up to this chance of a miss.
    pub const fn pass_chance(&self) -> f64 {
        self.0.pass_chance
    }

    /// It fails from this chance on.
    pub const fn fail_chance(&self) -> f64 {
        self.0.fail_chance
    }

    /// How far a share judged by eye spreads, in points of percent.
    pub const fn eye_points(&self) -> f64 {
        self.0.eye_points
    }

    /// What a chance of missing the limit comes to.
    pub fn standing(&self, misses_chance: f64) -> Standing {
        if misses_chance <= self.0.pass_chance {
            Standing::Pass
        } else if misses_chance >= self.0.fail_chance {
            Standing::Fail
        } else {
            Standing::Doubtful
        }
    }
}

impl Default for Doubt {
    /// Pass up to 5 %, fail from 95 % on, and 5 points for the eye, which reads in steps of 5 to 10
    /// (all common practice, no source).
    fn default() -> Self {
        Self(Written {
            pass_chance: 0.05,
            fail_chance: 0.95,
            eye_points: 5.0,
        })
    }
}

impl TryFrom<Written> for Doubt {
    type Error = BoundError;
    fn try_from(w: Written) -> Result<Self, BoundError> {
        Self::new(w.pass_chance, w.fail_chance, w.eye_points)
    }
}

impl From<Doubt> for Written {
    fn from(doubt: Doubt) -> Self {
        doubt.0
    }
}

impl Judged {
    /// Where the rule stands. What was judged before chances were told is doubtful where the interval
    /// reached across the limit.
    pub fn standing(&self) -> Standing {
        let by_outcome = match self.outcome {
            Outcome::NotMeasured => Standing::NotMeasured,
            Outcome::Pass { close: true, .. } | Outcome::Fail { close: true, .. } => {
                Standing::Doubtful
            }
            Outcome::Pass { .. } => Standing::Pass,
            Outcome::Fail { .. } => Standing::Fail,
        };
        self.standing.unwrap_or(by_outcome)
    }
}

/// The chance that the true share misses its limit, from 0 to 1.
pub(super) fn misses(
    rule: Reason,
    share: Share,
    limit: Percent,
    doubt: &Doubt,
    (bench, standard): (&Origin, &Origin),
) -> Explained {
    let counted = counted(share);
    let (formula, printed) = match (counted.is_some(), rule == Reason::Motility) {
        (true, true) => (COUNTED_BELOW, Printed::Brown2001),
        (true, false) => (COUNTED_ABOVE, Printed::Brown2001),
        (false, true) => (SEEN_BELOW, Printed::CommonPractice),
        (false, false) => (SEEN_ABOVE, Printed::CommonPractice),
    };
    let figure = Explained::new(Term::MissesChance, "", formula, printed)
        .with(Term::Share, share.percent.value(), "%", bench.clone())
        .with(Term::Limit, limit.value(), "%", standard.clone());
    match counted {
        Some(cells) => figure
            .with(Term::Cells, cells.number(), "", bench.clone())
            .is(beyond(rule, share.percent, cells, limit)),
        None => figure
            .with(Term::EyeSpread, doubt.0.eye_points, "%", Origin::Default)
            .is(seen_beyond(rule, share.percent, limit, doubt.0.eye_points)),
    }
}

/// How many cells more would leave no doubt, if the share stayed as it is. None where there is no
/// doubt, and where even the most cells that are taken ([`Cells::HIGH`]) would leave one.
pub(super) fn more_cells(rule: Reason, share: Share, limit: Percent, doubt: &Doubt) -> Option<u16> {
    let Some(cells) = counted(share) else {
        let seen = seen_beyond(rule, share.percent, limit, doubt.0.eye_points);
        return (doubt.standing(seen) == Standing::Doubtful).then_some(CELLS_AFTER_EYE);
    };
    let settled = |cells: u16| {
        // Between what was counted and the most that is taken.
        Cells::new(cells.into()).is_ok_and(|cells| {
            let chance = beyond(rule, share.percent, cells, limit);
            doubt.standing(chance) != Standing::Doubtful
        })
    };
    let (mut low, mut high) = (cells.value(), Cells::HIGH);
    if settled(low) || !settled(high) {
        return None;
    }
    // More cells of the same share never bring the doubt back.
    while high - low > 1 {
        let middle = low + (high - low) / 2;
        if settled(middle) {
            high = middle;
        } else {
            low = middle;
        }
    }
    Some(high - cells.value())
}

fn counted(share: Share) -> Option<Cells> {
    share.cells.and_then(|cells| Cells::new(cells.into()).ok())
}

fn beyond(rule: Reason, share: Percent, cells: Cells, limit: Percent) -> f64 {
    if rule == Reason::Motility {
        chance_below(share, cells, limit)
    } else {
        chance_above(share, cells, limit)
    }
}

/// A normal spread about what was seen, of which only what lies from 0 to 100 % can be.
fn seen_beyond(rule: Reason, share: Percent, limit: Percent, spread: f64) -> f64 {
    let below = |at: f64| normal_below((at - share.value()) / spread);
    let all = below(100.0) - below(0.0);
    let miss = if rule == Reason::Motility {
        below(limit.value()) - below(0.0)
    } else {
        below(100.0) - below(limit.value())
    };
    (miss / all).clamp(0.0, 1.0)
}

const COUNTED_BELOW: &str = "beta_below(limit_percent / 100, share_percent * cells / 100 + 0.5, \
    cells - share_percent * cells / 100 + 0.5)";
const COUNTED_ABOVE: &str = "beta_below(1 - limit_percent / 100, \
    cells - share_percent * cells / 100 + 0.5, share_percent * cells / 100 + 0.5)";
const SEEN_BELOW: &str = "(normal_below((limit_percent - share_percent) / eye_spread_percent) \
    - normal_below((0 - share_percent) / eye_spread_percent)) \
    / (normal_below((100 - share_percent) / eye_spread_percent) \
    - normal_below((0 - share_percent) / eye_spread_percent))";
const SEEN_ABOVE: &str = "(normal_below((100 - share_percent) / eye_spread_percent) \
    - normal_below((limit_percent - share_percent) / eye_spread_percent)) \
    / (normal_below((100 - share_percent) / eye_spread_percent) \
    - normal_below((0 - share_percent) / eye_spread_percent))";
