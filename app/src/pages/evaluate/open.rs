//! The form of one ejaculate as it stands on this phone until it is saved.

use super::measure::Ask;
use crate::act::Act;
use crate::feed::Feed;
use crate::keeping::Keeper;
use crate::words::Words;
use leptos::prelude::*;
use pentally_domain::collection::Collection;
use pentally_domain::counting::{Chamber, Dilution, Replicate};
use pentally_domain::evaluation::Evaluation;
use pentally_domain::farm::Standard;
use pentally_domain::id::EntryId;
use pentally_domain::said::Label;
use pentally_domain::tallying::Tallying;
use pentally_domain::units::InstrumentReading;
use pentally_domain::verdict::{Judged, Reason, Verdict, judge};
use serde::{Deserialize, Serialize};

/// What is kept on the phone.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Open {
    /// What will be saved.
    pub values: Evaluation,
    /// What is being counted by taps.
    #[serde(default)]
    pub tallying: Tallying,
    /// What was being counted and was thrown away last.
    #[serde(default)]
    pub thrown: Option<Tallying>,
    /// How it was diluted for the chamber, while that is asked.
    #[serde(default)]
    pub dilution: Dilution,
    /// In which chamber it is counted.
    #[serde(default)]
    pub chamber: Chamber,
    /// Fillings that were counted and typed.
    #[serde(default)]
    pub typed: Vec<Replicate>,
    /// What an instrument showed.
    #[serde(default)]
    pub read: Option<Read>,
    /// Whether reading and count are kept as a pair of the instrument.
    #[serde(default)]
    pub pair: Option<bool>,
    /// Which screen.
    #[serde(default)]
    pub at: At,
    /// The evaluation it goes on from.
    #[serde(default)]
    pub after: Option<EntryId>,
}

/// What an instrument showed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Read {
    /// Which.
    pub instrument: Label,
    /// Its figure.
    pub reading: InstrumentReading,
}

/// The screens of the form.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum At {
    /// All of it.
    #[default]
    Form,
    /// How a figure is to be found.
    Ways(Ask),
    /// It is typed.
    Typed(Ask),
    /// How it was diluted for the chamber; then it is counted by taps, or typed.
    Dilution {
        /// By taps.
        tally: bool,
    },
    /// Another chamber is described.
    Chamber {
        /// Counted by taps, then.
        tally: bool,
    },
    /// A filling is typed.
    Filling,
    /// What an instrument shows.
    Reading(Label),
    /// Counting.
    Tally(Which),
    /// What the count comes to.
    Sum(Which),
}

/// What is counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Which {
    /// Sperm in the chamber, by taps.
    Sperm,
    /// The same, typed.
    Typed,
    /// Motile or not.
    Motility,
    /// Classes of morphology.
    Morphology,
}

/// What every screen of the form holds. Cheap to copy.
#[derive(Clone, Copy)]
pub struct Desk {
    pub w: Words,
    pub feed: Feed,
    pub act: Act,
    pub open: RwSignal<Open>,
    /// Taps sound.
    pub aloud: RwSignal<bool>,
    /// Something stands here that is not in the log.
    pub begun: RwSignal<bool>,
    pub keeper: StoredValue<Keeper>,
    pub record: StoredValue<(Collection, Standard)>,
}

impl Desk {
    /// Changes the form and keeps it.
    pub fn change(self, with: impl FnOnce(&mut Open)) {
        self.act.hush();
        self.open.update(with);
        self.begun.set(true);
        self.keeper
            .with_value(|k| self.open.with_untracked(|open| k.keep(open)));
    }

    /// To another screen.
    pub fn go(self, at: At) {
        self.change(|open| open.at = at);
    }

    /// Puts a figure in, and goes back to the form.
    pub fn take(self, with: impl FnOnce(&mut Evaluation)) {
        self.change(|open| {
            with(&mut open.values);
            open.at = At::Form;
        });
    }

    /// The verdict on what an evaluation says.
    pub fn judge(self, values: &Evaluation) -> Verdict {
        self.record
            .with_value(|(record, standard)| judge(record, Some(values), standard))
    }

    /// How one rule falls out.
    pub fn rule(self, values: &Evaluation, rule: Reason) -> Option<Judged> {
        let rules = self.judge(values).rules;
        rules.into_iter().find(|judged| judged.rule == rule)
    }
}

/// The key under which the form of a collection is kept.
pub fn key_of(collection: EntryId) -> String {
    format!("evaluating/{collection}")
}
