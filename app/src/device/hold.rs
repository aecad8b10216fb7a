//! How long a phone holds what the office has.

use pentally_domain::sync::HOLD_DAYS;
use pentally_domain::time::DAY_MS;
use serde::{Deserialize, Serialize};

/// Once a day, by the office's clock: up to where the office had this device's entries.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Milestones(Vec<(i64, u64)>);

impl Milestones {
    /// Takes a receipt's time (ms since 1970) and highest contiguous sequence.
    pub fn pass(&mut self, now_ms: i64, contiguous: u64) {
        // A restored office knows less than it once did: what it forgot is young again.
        self.0.retain(|(_, seq)| *seq <= contiguous);
        if self.0.last().is_none_or(|(ms, _)| now_ms - ms >= DAY_MS) {
            self.0.push((now_ms, contiguous));
        }
        let old = self
            .0
            .partition_point(|(ms, _)| now_ms - ms > HOLD_DAYS * DAY_MS);
        self.0.drain(..old.saturating_sub(1));
    }

    /// Up to which sequence this device's entries need not be held any longer: the office has
    /// had them for [`HOLD_DAYS`], and a verified backup covers them.
    pub fn may_go(&self, now_ms: i64, backed_up: u64) -> u64 {
        let aged = self
            .0
            .iter()
            .rev()
            .find(|(ms, _)| now_ms - ms > HOLD_DAYS * DAY_MS);
        aged.map_or(0, |(_, seq)| (*seq).min(backed_up))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn entries_go_when_they_are_old_and_backed_up() {
        let mut marks = Milestones::default();
        for day in 0..=100 {
            marks.pass(day * DAY_MS, u64::try_from(day * 10).unwrap());
        }
        assert_eq!(
            marks.may_go(100 * DAY_MS, 1_000),
            90,
            "day 9 is 91 days ago"
        );
        assert_eq!(marks.may_go(100 * DAY_MS, 40), 40);
        assert_eq!(marks.may_go(100 * DAY_MS, 0), 0);
        assert!(marks.0.len() <= 92, "{} kept", marks.0.len());
    }

    #[test]
    fn nothing_goes_before_its_time() {
        let mut marks = Milestones::default();
        marks.pass(0, 500);
        assert_eq!(marks.may_go(HOLD_DAYS * DAY_MS, 500), 0);
        assert_eq!(marks.may_go(HOLD_DAYS * DAY_MS + 1, 500), 500);
    }

    #[test]
    fn what_a_restored_office_forgot_is_held_anew() {
        let mut marks = Milestones::default();
        marks.pass(0, 500);
        marks.pass(50 * DAY_MS, 200);
        assert_eq!(marks.may_go(95 * DAY_MS, 500), 0);
    }
}
