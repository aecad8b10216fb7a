//! A collection under way: what has been tapped so far, and which screen comes next.
//!
//! Pure: each tap yields the next state, which the phone stores before it shows it, so a reload,
//! a flat battery or a scan of another tag loses nothing. Two ways lead through it, equal in
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
    /// Chose a glove.
    Glove(Glove),
    /// Chose the mount.
    Mount(Mount),
    /// Gave the reason against the advice of the page.
    Despite(Despite),
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
            Tap::Glove(glove) => self.record.glove = Said::Confirmed(glove),
            Tap::Mount(mount) => self.record.mount = Said::Confirmed(mount),
            Tap::Despite(reason) => self.record.despite = Some(reason),
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

    /// The steps that make sense next, the likeliest first.
    pub fn next_steps(&self) -> &'static [Step] {
        match self.record.steps.last().map(|t| t.step) {
            None => &[Step::Mounts, Step::Enters],
            Some(Step::Enters) => &[Step::Mounts],
            Some(Step::Mounts) => &[Step::LockOn, Step::SpermRich],
            Some(Step::LockOn) => &[Step::SpermRich, Step::PreSperm, Step::Gel],
            Some(Step::PreSperm) => &[Step::SpermRich, Step::Gel],
            Some(Step::SpermRich) => &[Step::SpermPoor, Step::Gel],
            Some(Step::SpermPoor) => &[Step::SpermRich, Step::Gel],
            Some(Step::Gel) => &[Step::SpermRich, Step::SpermPoor],
            Some(Step::End) => &[],
        }
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
mod tests {
    use super::*;

    fn now(minute: i64) -> Stamp {
        Stamp::new(1_780_000_000_000 + minute * 60_000, 60).unwrap()
    }

    fn begun(way: Way) -> Collecting {
        let boar = BoarId::from_uuid(uuid::Uuid::from_u128(1));
        Collecting::new(boar, false, Some(Glove::Vinyl), &Standard::default())
            .tap(Tap::Go(way), now(0))
            .unwrap()
    }

    #[test]
    fn the_first_of_the_day_asks_for_the_glove_and_latex_stops() {
        let boar = BoarId::from_uuid(uuid::Uuid::from_u128(1));
        let first = Collecting::new(boar, false, None, &Standard::default());
        assert_eq!(
            first.clone().tap(Tap::Go(Way::Helper), now(0)),
            Err(Blocked::GloveUnanswered)
        );
        let latex = first.tap(Tap::Glove(Glove::Latex), now(0)).unwrap();
        assert_eq!(
            latex.clone().tap(Tap::Go(Way::Helper), now(0)),
            Err(Blocked::Latex)
        );
        let vinyl = latex.tap(Tap::Glove(Glove::Vinyl), now(1)).unwrap();
        let going = vinyl.tap(Tap::Go(Way::Helper), now(1)).unwrap();
        assert_eq!(going.record.glove, Said::Confirmed(Glove::Vinyl));
    }

    #[test]
    fn against_the_advice_a_reason_is_asked() {
        let boar = BoarId::from_uuid(uuid::Uuid::from_u128(1));
        let c = Collecting::new(boar, true, Some(Glove::Vinyl), &Standard::default());
        assert_eq!(c.blocked(), Some(Blocked::ReasonMissing));
        assert!(
            c.tap(Tap::Despite(Despite::SowsWait), now(0))
                .unwrap()
                .blocked()
                .is_none()
        );
    }

    #[test]
    fn a_helper_s_taps_bear_times_and_those_entered_afterwards_do_not() {
        let helped = begun(Way::Helper)
            .tap(Tap::Step(Step::LockOn), now(1))
            .unwrap();
        let helped = helped.tap(Tap::Step(Step::End), now(7)).unwrap();
        assert_eq!(helped.record.duration_ms(), Some(6 * 60_000));
        let later = begun(Way::Afterwards)
            .tap(Tap::Step(Step::LockOn), now(1))
            .unwrap();
        assert_eq!(later.record.steps[0].at, None);
    }

    #[test]
    fn undo_takes_back_the_last_step_even_the_end() {
        let ended = begun(Way::Helper)
            .tap(Tap::Step(Step::SpermRich), now(1))
            .unwrap();
        let ended = ended.tap(Tap::Step(Step::End), now(2)).unwrap();
        assert_eq!(ended.screen, Screen::Amount);
        let back = ended.tap(Tap::Undo, now(3)).unwrap();
        assert_eq!((back.screen, back.record.steps.len()), (Screen::Under, 1));
    }

    #[test]
    fn sperm_poor_that_came_is_not_sperm_poor_that_went_in() {
        let c = begun(Way::Helper)
            .tap(Tap::Step(Step::SpermPoor), now(1))
            .unwrap();
        assert!(c.record.sperm_poor_in.is_unanswered());
        let said = c
            .tap(Tap::PoorIn(true), now(2))
            .unwrap()
            .tap(Tap::Step(Step::SpermPoor), now(3))
            .unwrap();
        assert_eq!(said.record.sperm_poor_in, Said::Confirmed(true));
    }

    #[test]
    fn an_improbable_amount_is_asked_once_and_can_be_entered_again() {
        use crate::units::VolumeMl;
        let little = Amount::Volume(VolumeMl::new(20.0).unwrap());
        let cup = begun(Way::Afterwards)
            .tap(Tap::Done(Outcome::Collected), now(5))
            .unwrap();
        let asked = cup.tap(Tap::Amount(little), now(6)).unwrap();
        assert!(asked.asks_amount());
        assert_eq!(asked.screen, Screen::Amount);
        let again = asked.clone().tap(Tap::AmountAgain, now(7)).unwrap();
        assert_eq!((again.screen, again.record.amount), (Screen::Amount, None));
        let right = asked.tap(Tap::AmountIsRight, now(7)).unwrap();
        assert_eq!(
            (right.screen, right.record.amount),
            (Screen::Finish, Some(little))
        );
    }

    #[test]
    fn a_sow_has_three_lines_more_on_the_list() {
        let boar = BoarId::from_uuid(uuid::Uuid::from_u128(1));
        let dummy = Collecting::new(boar, false, None, &Standard::default());
        assert_eq!(dummy.to_prepare().len(), 7);
        let sow = dummy.tap(Tap::Mount(Mount::Sow(None)), now(0)).unwrap();
        assert!(sow.to_prepare().contains(&Ready::SowHeld));
        let ticked = sow.tap(Tap::Ready(vec![Ready::Cup]), now(1)).unwrap();
        assert_eq!(ticked.ready, [Ready::Cup]);
        assert_eq!(ticked.finished().note, None);
    }

    #[test]
    fn without_semen_there_is_no_amount() {
        let c = begun(Way::Afterwards)
            .tap(Tap::Done(Outcome::NoMount), now(5))
            .unwrap();
        assert_eq!(c.screen, Screen::Finish);
        assert_eq!(c.finished().amount, None);
        assert!(c.finished().sperm_poor_in.is_unanswered());
    }
}
