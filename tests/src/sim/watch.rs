//! The clock of a phone or of the office, which may be wrong.

use super::dice::Dice;
use pentally_domain::time::{DAY_MS, MINUTE_MS};

const YEAR_DAYS: i64 = 365;
const TEN_YEARS_DAYS: i64 = 3_652;

/// See the module's words.
#[derive(Debug, Clone, Copy, Default)]
pub struct Watch {
    off_ms: i64,
    /// The true time at which it stopped.
    stopped_ms: Option<i64>,
}

/// How it went wrong.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wrong {
    /// Years ahead.
    Ahead,
    /// Years back.
    Behind,
    /// Minutes or hours back from what it showed.
    SteppedBack,
    /// It stands still.
    Froze,
}

impl Watch {
    /// What it shows.
    pub fn shows(&self, true_ms: i64) -> i64 {
        self.stopped_ms.unwrap_or(true_ms) + self.off_ms
    }

    /// Somebody sets it right, or it goes wrong in one of four ways.
    pub fn changes(&mut self, now_ms: i64, dice: &mut Dice) -> Option<Wrong> {
        let (next, wrong) = match dice.below(6) {
            0 | 1 => (Self::default(), None),
            2 => {
                let off_ms = dice.between(YEAR_DAYS, TEN_YEARS_DAYS + 1) * DAY_MS;
                (Self::off(off_ms), Some(Wrong::Ahead))
            }
            3 => {
                let off_ms = -dice.between(YEAR_DAYS, TEN_YEARS_DAYS + 1) * DAY_MS;
                (Self::off(off_ms), Some(Wrong::Behind))
            }
            4 => {
                let back_ms = dice.between(1, 300) * MINUTE_MS;
                let stepped = Self {
                    off_ms: self.off_ms - back_ms,
                    ..*self
                };
                (stepped, Some(Wrong::SteppedBack))
            }
            _ => {
                let stopped = Self {
                    stopped_ms: Some(self.stopped_ms.unwrap_or(now_ms)),
                    ..*self
                };
                (stopped, Some(Wrong::Froze))
            }
        };
        *self = next;
        wrong
    }

    const fn off(off_ms: i64) -> Self {
        Self {
            off_ms,
            stopped_ms: None,
        }
    }
}
