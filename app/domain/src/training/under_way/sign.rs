//! What the page says beside the clock of a session: go on, or enough.

use super::{Lesson, Sight, UnderWay};
use crate::farm::Standard;
use crate::time::MINUTE_MS;
use crate::units::Score;

/// What the page says beside the clock.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sign {
    /// Go on.
    GoOn,
    /// He is on the dummy: nobody interrupts him, whatever the clock says.
    Mounted,
    /// The shorter limit is over and nobody tapped what he does: enough, unless he shows interest.
    EnoughIfIdle,
    /// The limit is over and nobody tapped what he does: enough, unless he is mounted.
    EnoughIfDown,
    /// Enough for today.
    Enough,
}

impl UnderWay {
    /// What the page says beside the clock at `now_ms`, under the farm's limits.
    pub fn sign(&self, standard: &Standard, now_ms: i64) -> Sign {
        let Some(elapsed) = self.elapsed_ms(now_ms) else {
            return Sign::GoOn;
        };
        let over = |minutes: u8| elapsed >= i64::from(minutes) * MINUTE_MS;
        let long = over(standard.session_minutes);
        let idle = long || over(standard.session_minutes_without_interest);
        match (self.record.what, self.seen.last()) {
            (_, Some(Sight::Reached(score))) if score.mounted() => Sign::Mounted,
            (Lesson::Session, Some(Sight::Reached(score))) if score.value() == Score::LOW => {
                if idle { Sign::Enough } else { Sign::GoOn }
            }
            // It ends on a success.
            (_, Some(Sight::Down)) if self.reached().is_some_and(Score::is_success) => Sign::Enough,
            (_, Some(_)) if long => Sign::Enough,
            (Lesson::Visit, None) if long => Sign::Enough,
            (_, None) if long => Sign::EnoughIfDown,
            (Lesson::Session, None) if idle => Sign::EnoughIfIdle,
            _ => Sign::GoOn,
        }
    }

    /// Whether the phone shakes to say that it is enough: only if it was asked to, and where
    /// somebody tapped that he is not on the dummy, since nothing may startle a mounted boar.
    pub fn shakes(&self, standard: &Standard, now_ms: i64) -> bool {
        self.shake && self.sign(standard, now_ms) == Sign::Enough && !self.seen.is_empty()
    }
}
