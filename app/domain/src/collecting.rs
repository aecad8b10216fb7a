//! A collection under way: what has been tapped so far, and which screen comes next.
//!
//! Pure: each tap yields the next state at once, which the phone stores while it shows it, so a reload or
//! a scan of another tag loses nothing, and a flat battery at most the last tap. Two ways lead through it, equal in
//! rank: a helper taps as it happens, or the handler enters it afterwards in one pass.

use crate::collection::{
    Amount, Collection, Despite, Glove, Mount, Outcome, Step, Taken, Temper, Trouble,
};
use crate::farm::Standard;
use crate::id::BoarId;
use crate::said::Said;
use crate::time::Stamp;
use serde::{Deserialize, Serialize};

/// Whose hands tap.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Way {
    /// A helper, as it happens.
    Helper,
    /// The handler, when the cup is safe.
    Afterwards,
}

/// Which question is on the screen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Screen {
    /// Glove, mount, what to prepare; then go.
    Prepare,
    /// He is being collected.
    Under,
    /// How much is in the cup.
    Amount,
    /// Mood, trouble, save.
    Finish,
}

/// What is to be ready before anybody goes in; ticked for the one who ticks, kept in no record.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Ready {
    /// The extender is warming.
    Extender,
    /// Cup and bag are warm.
    Cup,
    /// The filter is on.
    Filter,
    /// Fresh gloves, two on the gripping hand.
    Gloves,
    /// The board is in reach.
    Board,
    /// The way out is open.
    Exit,
    /// A second person is near.
    Second,
    /// The sow stands.
    SowStands,
    /// The sow is his size.
    SowSize,
    /// The sow is cornered or held.
    SowHeld,
}

/// One tap.
#[derive(Debug, Clone, PartialEq)]
pub enum Tap {
    /// Ticked on the list of what is to be ready, all of it.
    Ready(Vec<Ready>),
    /// Chose a glove; none takes the answer back.
    Glove(Option<Glove>),
    /// Chose the mount.
    Mount(Mount),
    /// Gave the reason against the advice of the page; none takes it back.
    Despite(Option<Despite>),
    /// Begins.
    Go(Way),
    /// Something happened.
    Step(Step),
    /// The last step was a mistake.
    Undo,
    /// The cup is safe, or there is nothing in it.
    Done(Outcome),
    /// This much is in the cup.
    Amount(Amount),
    /// Nobody measured it.
    NotMeasured,
    /// The improbable amount is wrong: it is entered again.
    AmountAgain,
    /// The improbable amount is right.
    AmountIsRight,
    /// Whether the sperm-poor fraction went into the cup.
    PoorIn(bool),
    /// His mood; none takes the answer back.
    Temper(Option<Temper>),
    /// What went wrong, all of it.
    Trouble(Vec<Trouble>),
    /// To the screen before.
    Back,
}

/// Why a tap does not go through yet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Blocked {
    /// Nobody said which glove.
    GloveUnanswered,
    /// Latex stops the work: change the glove first.
    Latex,
    /// His page advises against it and no reason was given.
    ReasonMissing,
}

/// The state; stored after every tap.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Collecting {
    /// Who.
    pub boar: BoarId,
    /// His page advised against it, so a reason is asked.
    pub against_advice: bool,
    /// The screen.
    pub screen: Screen,
    /// The way, once begun.
    pub way: Option<Way>,
    /// When it began.
    pub began_at: Option<Stamp>,
    /// How it ended, once it did.
    pub outcome: Option<Outcome>,
    /// What was ticked as ready.
    #[serde(default)]
    pub ready: Vec<Ready>,
    /// The record so far.
    pub record: Collection,
}

impl Collecting {
    /// Begins with what the farm and this person's day make likely: a glove already confirmed
    /// today stands as a default, the first of the day is asked.
    pub fn new(
        boar: BoarId,
        against_advice: bool,
        glove_today: Option<Glove>,
        standard: &Standard,
    ) -> Self {
        Self {
            boar,
            against_advice,
            screen: Screen::Prepare,
            way: None,
            began_at: None,
            outcome: None,
            ready: vec![],
            record: Collection {
                boar,
                outcome: Outcome::Collected,
                glove: glove_today
                    .filter(|g| *g != Glove::Latex)
                    .map_or(Said::Unanswered, Said::ByDefault),
                mount: Said::ByDefault(Mount::Dummy),
                steps: vec![],
                sperm_poor_in: Said::ByDefault(standard.sperm_poor_in),
                amount: None,
                amount_confirmed: false,
                temper: None,
                trouble: vec![],
                despite: None,
                note: None,
            },
        }
    }

    /// What still forbids to begin.
    pub fn blocked(&self) -> Option<Blocked> {
        match self.record.glove.value() {
            None => Some(Blocked::GloveUnanswered),
            Some(Glove::Latex) => Some(Blocked::Latex),
            Some(_) if self.against_advice && self.record.despite.is_none() => {
                Some(Blocked::ReasonMissing)
            }
            Some(_) => None,
        }
    }

    /// The state after a tap at the instant `now`.
    pub fn tap(mut self, tap: Tap, now: Stamp) -> Result<Self, Blocked> {
        match tap {
            Tap::Ready(ready) => self.ready = ready,
            Tap::Glove(glove) => {
                self.record.glove = glove.map_or(Said::Unanswered, Said::Confirmed);
            }
            Tap::Mount(mount) => self.record.mount = Said::Confirmed(mount),
            Tap::Despite(reason) => self.record.despite = reason,
            Tap::Go(way) => return self.go(way, now),
            Tap::Step(step) => self.step(step, now),
            Tap::Undo => self.undo(),
            Tap::Done(outcome) => self.done(outcome),
            Tap::Amount(amount) => {
                self.record.amount = Some(amount);
                self.record.amount_confirmed = false;
                self.screen = if self.asks_amount() {
                    Screen::Amount
                } else {
                    Screen::Finish
                };
            }
            Tap::NotMeasured => {
                self.record.amount = None;
                self.screen = Screen::Finish;
            }
            Tap::AmountAgain => self.record.amount = None,
            Tap::AmountIsRight => {
                self.record.amount_confirmed = true;
                self.screen = Screen::Finish;
            }
            Tap::PoorIn(went_in) => self.record.sperm_poor_in = Said::Confirmed(went_in),
            Tap::Temper(temper) => self.record.temper = temper,
            Tap::Trouble(trouble) => self.record.trouble = trouble,
            Tap::Back => self.screen = self.before(),
        }
        Ok(self)
    }

    /// What is to be ready before this collection.
    pub fn to_prepare(&self) -> &'static [Ready] {
        const ALL: [Ready; 10] = [
            Ready::Extender,
            Ready::Cup,
            Ready::Filter,
            Ready::Gloves,
            Ready::Board,
            Ready::Exit,
            Ready::Second,
            Ready::SowStands,
            Ready::SowSize,
            Ready::SowHeld,
        ];
        match self.record.mount.value() {
            Some(Mount::Sow(_)) => &ALL,
            _ => &ALL[..7],
        }
    }

    /// Whether the amount entered is outside what is printed for boars and nobody said it is right.
    pub fn asks_amount(&self) -> bool {
        !self.record.amount_confirmed
            && self
                .record
                .volume()
                .is_some_and(crate::units::VolumeMl::improbable)
    }

    /// The steps that make sense next, the likeliest first, fractions in the order they come in.
    pub fn next_steps(&self) -> &'static [Step] {
        match self.record.steps.last().map(|t| t.step) {
            None => &[Step::Mounts, Step::Enters],
            Some(Step::Enters) => &[Step::Mounts],
            Some(Step::Mounts) => &[Step::LockOn, Step::SpermRich],
            Some(Step::LockOn) => &[Step::PreSperm, Step::SpermRich, Step::Gel],
            Some(Step::PreSperm) => &[Step::SpermRich, Step::Gel],
            Some(Step::SpermRich) => &[Step::SpermPoor, Step::Gel],
            Some(Step::SpermPoor) => &[Step::SpermRich, Step::Gel],
            Some(Step::Gel) => &[Step::SpermRich, Step::SpermPoor],
            Some(Step::End) => &[],
        }
    }

    /// Whether a helper saw him mount, or anything that comes after it.
    pub fn mounted(&self) -> bool {
        self.record.steps.iter().any(|t| t.step >= Step::Mounts)
    }

    /// When it happened, for the entry: when it began.
    pub fn occurred_at(&self) -> Option<Stamp> {
        self.began_at
    }

    /// The record to be written down.
    pub fn finished(&self) -> Collection {
        let outcome = self.outcome.unwrap_or(Outcome::Collected);
        let semen = outcome == Outcome::Collected;
        Collection {
            outcome,
            amount: self.record.amount.filter(|_| semen),
            sperm_poor_in: if semen {
                self.record.sperm_poor_in
            } else {
                Said::Unanswered
            },
            ..self.record.clone()
        }
    }

    fn go(mut self, way: Way, now: Stamp) -> Result<Self, Blocked> {
        if let Some(blocked) = self.blocked() {
            return Err(blocked);
        }
        self.way = Some(way);
        self.began_at = Some(self.began_at.unwrap_or(now));
        self.screen = Screen::Under;
        Ok(self)
    }

    fn step(&mut self, step: Step, now: Stamp) {
        if self.record.steps.len() < Collection::STEPS_MAX {
            self.record.steps.push(Taken {
                step,
                at: (self.way == Some(Way::Helper)).then_some(now),
            });
        }
        if step == Step::SpermPoor && !matches!(self.record.sperm_poor_in, Said::Confirmed(_)) {
            // Seen to come, not said to have gone in: that stays a question.
            self.record.sperm_poor_in = Said::Unanswered;
        }
        if step == Step::End {
            self.done(Outcome::Collected);
        }
    }

    fn undo(&mut self) {
        self.record.steps.pop();
        self.outcome = None;
        self.screen = Screen::Under;
    }

    fn done(&mut self, outcome: Outcome) {
        self.outcome = Some(outcome);
        self.screen = if outcome == Outcome::Collected {
            Screen::Amount
        } else {
            Screen::Finish
        };
    }

    fn before(&self) -> Screen {
        match self.screen {
            Screen::Prepare | Screen::Under => Screen::Prepare,
            Screen::Amount => Screen::Under,
            Screen::Finish if self.outcome == Some(Outcome::Collected) => Screen::Amount,
            Screen::Finish => Screen::Under,
        }
    }
}

#[cfg(test)]
mod tests;
