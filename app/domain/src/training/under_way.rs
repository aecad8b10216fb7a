//! A visit or session under way: what has been tapped so far, and which screen comes next.
//!
//! Pure, as [`crate::collecting`] is: each tap yields the next state, which the phone stores before
//! it shows it. The clock is a stored start, so a reload or a flat battery loses nothing. Nothing
//! asks for a tap while somebody is in with him: one tap begins, one ends, and what a helper taps
//! in between is more exact, not needed. Who never started the clock enters it afterwards.

mod sign;

use super::{Early, Lesson, Lure, Mishap, Touch, Training};
use crate::id::{BoarId, PersonId};
use crate::said::Said;
use crate::time::{MINUTE_MS, Stamp, Zone};
use crate::units::{Score, SessionMinutes};
use chrono::Days;
use serde::{Deserialize, Serialize};

pub use sign::Sign;

/// Further back than this nobody remembers the minutes (common practice, no source).
pub const DAYS_BACK: u8 = 7;

/// Which question is on the screen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Screen {
    /// Cautions, a reason if he is young; then go.
    Prepare,
    /// The clock runs.
    Under,
    /// How far did he come?
    Score,
    /// How long was it, if the clock cannot say or says something improbable.
    Minutes,
    /// What went wrong, what helped; save.
    Finish,
}

/// What a helper sees as it happens.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Sight {
    /// He came as far as this score.
    Reached(Score),
    /// He is down from the dummy again.
    Down,
}

/// One tap.
#[derive(Debug, Clone, PartialEq)]
pub enum Tap {
    /// Gave the reason for beginning early; none takes it back.
    Early(Option<Early>),
    /// Whether the phone may shake when it is enough.
    Shake(bool),
    /// He goes in now, for a visit or a session.
    Begin(Lesson),
    /// It is over and is entered now.
    Afterwards(Lesson),
    /// Something happened.
    Sight(Sight),
    /// The last of it was a mistake.
    Undo,
    /// He is out again.
    Over,
    /// How far he came.
    Score(Score),
    /// How long it lasted.
    Minutes(SessionMinutes),
    /// Nobody looked at a clock.
    NotTimed,
    /// The improbable minutes are right.
    MinutesAreRight,
    /// The minutes are to be entered anew.
    MinutesAgain,
    /// On which day it was, so many days ago.
    DaysAgo(u8),
    /// Where he let himself be touched, all of it.
    Touch(Vec<Touch>),
    /// What was used to draw him, all of it.
    Lures(Vec<Lure>),
    /// What went wrong, all of it.
    Mishaps(Vec<Mishap>),
    /// Who helped; none takes the answer back.
    Helper(Option<PersonId>),
    /// To the screen before.
    Back,
}

/// Why a tap does not go through yet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Blocked {
    /// He is young, or nobody knows how old, and no reason was given.
    ReasonMissing,
}

/// The state; stored after every tap.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct UnderWay {
    /// Who.
    pub boar: BoarId,
    /// A reason is asked, since he is young or nobody knows how old.
    pub asks_reason: bool,
    /// The screen.
    pub screen: Screen,
    /// When it began, where the phone's clock ran.
    pub began_at: Option<Stamp>,
    /// When it was over.
    pub ended_at: Option<Stamp>,
    /// When it is entered, where it is entered afterwards.
    pub entered_at: Option<Stamp>,
    /// On which day it was, so many days before it is entered.
    #[serde(default)]
    pub days_ago: u8,
    /// Somebody asked the phone to shake when it is enough.
    #[serde(default)]
    pub shake: bool,
    /// What was seen, in order.
    #[serde(default)]
    pub seen: Vec<Sight>,
    /// The record so far.
    pub record: Training,
}

impl UnderWay {
    /// Begins with nothing said.
    pub const fn new(boar: BoarId, asks_reason: bool) -> Self {
        Self {
            boar,
            asks_reason,
            screen: Screen::Prepare,
            began_at: None,
            ended_at: None,
            entered_at: None,
            days_ago: 0,
            shake: false,
            seen: vec![],
            record: Training::new(boar, Lesson::Session),
        }
    }

    /// What still forbids to begin. A visit never asks: it is not the work that is disputed.
    pub fn blocked(&self, what: Lesson) -> Option<Blocked> {
        let missing = self.asks_reason && self.record.early.is_none();
        (missing && what == Lesson::Session).then_some(Blocked::ReasonMissing)
    }

    /// The state after a tap at the instant `now`.
    pub fn tap(mut self, tap: Tap, now: Stamp) -> Result<Self, Blocked> {
        match tap {
            Tap::Early(reason) => self.record.early = reason,
            Tap::Shake(shake) => self.shake = shake,
            Tap::Begin(what) => return self.begin(what, now),
            Tap::Afterwards(what) => return self.afterwards(what, now),
            Tap::Sight(sight) => self.see(sight),
            Tap::Undo => self.undo(),
            Tap::Over => self.over(now),
            Tap::Score(score) => {
                self.record.score = Said::Confirmed(score);
                self.screen = self.after_score();
            }
            Tap::Minutes(minutes) => {
                self.record.minutes = Said::Confirmed(minutes);
                self.record.minutes_confirmed = false;
                self.screen = self.after_minutes();
            }
            Tap::NotTimed => {
                self.record.minutes = Said::Unanswered;
                self.record.minutes_confirmed = false;
                self.screen = Screen::Finish;
            }
            Tap::MinutesAreRight => {
                self.record.minutes_confirmed = true;
                self.screen = Screen::Finish;
            }
            Tap::MinutesAgain => {
                self.record.minutes = Said::Unanswered;
                self.record.minutes_confirmed = false;
                self.screen = Screen::Minutes;
            }
            Tap::DaysAgo(days) => self.days_ago = days.min(DAYS_BACK),
            Tap::Touch(touch) => self.record.touch = touch,
            Tap::Lures(lures) => self.record.lures = lures,
            Tap::Mishaps(mishaps) => self.record.mishaps = mishaps,
            Tap::Helper(helper) => self.record.helper = helper,
            Tap::Back => match self.before() {
                Screen::Under => self.reopen(),
                screen => self.screen = screen,
            },
        }
        Ok(self)
    }

    /// Milliseconds since he went in, while the clock runs; never negative, should the clock have been set back.
    pub fn elapsed_ms(&self, now_ms: i64) -> Option<i64> {
        let end_ms = self.ended_at.map_or(now_ms, Stamp::ms);
        self.began_at.map(|began| (end_ms - began.ms()).max(0))
    }

    /// The highest score that was seen, if any.
    pub fn reached(&self) -> Option<Score> {
        let scores = self.seen.iter().filter_map(|s| match s {
            Sight::Reached(score) => Some(*score),
            Sight::Down => None,
        });
        scores.max()
    }

    /// Whether a helper saw that he was aggressive.
    pub fn was_aggressive(&self) -> bool {
        self.seen.contains(&Sight::Reached(Score::AGGRESSIVE))
    }

    /// What may be seen next: each score above the last while he is on the ground, and that he
    /// comes down once he is not.
    pub fn next_sights(&self) -> Vec<Sight> {
        let scores = |list: &[u32]| -> Vec<Sight> {
            let scores = list.iter().filter_map(|n| Score::new(*n).ok());
            scores.map(Sight::Reached).collect()
        };
        match self.seen.last() {
            None => scores(&[3, 1, 2, 0]),
            Some(Sight::Reached(score)) => match score.value() {
                0 => scores(&[3, 1, 2]),
                1 => scores(&[3, 2, 0]),
                2 => scores(&[3, 1, 0]),
                3 => [scores(&[4, 5]), vec![Sight::Down]].concat(),
                4 => [scores(&[5]), vec![Sight::Down]].concat(),
                _ => vec![Sight::Down],
            },
            Some(Sight::Down) => scores(&[3, 1, 2, 0]),
        }
    }

    /// When it happened, for the entry: when he went in. Entered afterwards, the minutes it lasted
    /// before it is entered, or at that time of the farm's day that was said.
    pub fn occurred_at(&self, zone: &Zone) -> Option<Stamp> {
        if self.began_at.is_some() {
            return self.began_at;
        }
        let entered_ms = self.entered_at?.ms();
        let minutes = self.record.minutes.value();
        let lasted_ms = minutes.map_or(0, |m| i64::from(m.value())) * MINUTE_MS;
        if self.days_ago == 0 {
            return zone.stamp(entered_ms - lasted_ms).ok();
        }
        let today = zone.day(entered_ms);
        let since_midnight_ms = entered_ms - zone.day_start_ms(today) - lasted_ms;
        let day = today.checked_sub_days(Days::new(self.days_ago.into()))?;
        zone.stamp(zone.day_start_ms(day) + since_midnight_ms.max(0))
            .ok()
    }

    /// The record to be written down.
    pub fn finished(&self) -> Training {
        self.record.clone()
    }

    fn begin(mut self, what: Lesson, now: Stamp) -> Result<Self, Blocked> {
        if let Some(blocked) = self.blocked(what) {
            return Err(blocked);
        }
        self.record.what = what;
        self.began_at = Some(self.began_at.unwrap_or(now));
        self.screen = Screen::Under;
        Ok(self)
    }

    fn afterwards(mut self, what: Lesson, now: Stamp) -> Result<Self, Blocked> {
        if let Some(blocked) = self.blocked(what) {
            return Err(blocked);
        }
        self.record.what = what;
        (self.began_at, self.ended_at) = (None, None);
        self.entered_at = Some(now);
        self.screen = if what == Lesson::Session {
            Screen::Score
        } else {
            Screen::Minutes
        };
        Ok(self)
    }

    fn see(&mut self, sight: Sight) {
        /// A helper who undoes and repeats stays far below.
        const SIGHTS_MAX: usize = 100;
        if self.seen.len() < SIGHTS_MAX {
            self.seen.push(sight);
        }
    }

    fn undo(&mut self) {
        if self.ended_at.is_none() {
            self.seen.pop();
            if !self.was_aggressive() {
                self.record.mishaps.retain(|m| *m != Mishap::Aggressive);
            }
        }
        self.reopen();
    }

    /// It is not over after all: the clock runs on from its stored start.
    fn reopen(&mut self) {
        self.ended_at = None;
        (self.record.score, self.record.minutes) = (Said::Unanswered, Said::Unanswered);
        self.record.minutes_confirmed = false;
        self.screen = Screen::Under;
    }

    fn over(&mut self, now: Stamp) {
        self.ended_at = Some(now);
        if let Some(score) = self
            .reached()
            .filter(|_| self.record.what == Lesson::Session)
        {
            self.record.score = Said::Confirmed(score);
            // A higher score would hide it.
            let hidden = self.was_aggressive() && score != Score::AGGRESSIVE;
            if hidden && !self.record.mishaps.contains(&Mishap::Aggressive) {
                self.record.mishaps.push(Mishap::Aggressive);
            }
        }
        let minutes = self.clocked().and_then(|m| SessionMinutes::new(m).ok());
        self.record.minutes = minutes.map_or(Said::Unanswered, Said::ByDefault);
        self.screen = match self.record.what {
            Lesson::Session if self.record.score.is_unanswered() => Screen::Score,
            _ => self.after_score(),
        };
    }

    /// The whole minutes between going in and out on the phone's clock, a begun one counted as one;
    /// they may be more than any session lasts, where nobody tapped that it was over.
    pub fn clocked(&self) -> Option<u32> {
        let ms = self.elapsed_ms(0).filter(|_| self.ended_at.is_some())?;
        u32::try_from((ms + MINUTE_MS - 1) / MINUTE_MS)
            .ok()
            .map(|m| m.max(1))
    }

    fn after_score(&self) -> Screen {
        if self.record.minutes.is_unanswered() {
            Screen::Minutes
        } else {
            self.after_minutes()
        }
    }

    fn after_minutes(&self) -> Screen {
        if self.record.asks_minutes() {
            Screen::Minutes
        } else {
            Screen::Finish
        }
    }

    fn before(&self) -> Screen {
        let clocked = self.began_at.is_some();
        let scored = self.record.what == Lesson::Session && self.reached().is_none();
        match self.screen {
            Screen::Prepare | Screen::Under => Screen::Prepare,
            Screen::Score if clocked => Screen::Under,
            Screen::Score => Screen::Prepare,
            Screen::Finish if !clocked => Screen::Minutes,
            Screen::Minutes | Screen::Finish if scored => Screen::Score,
            Screen::Minutes | Screen::Finish if clocked => Screen::Under,
            Screen::Minutes | Screen::Finish => Screen::Prepare,
        }
    }
}

#[cfg(test)]
mod tests;
