//! What went wrong, counted.

use super::dice::Dice;
use std::collections::BTreeMap;

/// One kind of misfortune.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Fault {
    /// A request never arrived.
    RequestDropped,
    /// A request arrived twice.
    RequestDuplicated,
    /// An answer never arrived.
    AnswerDropped,
    /// An answer broke off in the middle.
    AnswerCut,
    /// An answer arrived twice.
    AnswerDuplicated,
    /// A message took hours.
    DelayedHours,
    /// A message took days.
    DelayedDays,
    /// A message overtook another of the same phone.
    Overtaken,
    /// A phone had no network for days.
    OfflineForDays,
    /// A phone's clock jumped by years.
    ClockOfPhoneJumped,
    /// The office's clock jumped by years.
    ClockOfOfficeJumped,
    /// A phone died where it awaited something.
    Crashed,
    /// A phone came back from an older copy of its storage.
    PhoneRolledBack,
    /// The office was restored from its last backup.
    OfficeRestored,
    /// The office's file was replaced by an older copy.
    OfficeFileCopied,
    /// An entry was no good and was set aside.
    SetAside,
    /// A phone wrote again what conflicted.
    WrittenAgain,
    /// A phone let go of what is old and backed up.
    LetGo,
}

impl Fault {
    /// All of them.
    pub const ALL: [Self; 18] = [
        Self::RequestDropped,
        Self::RequestDuplicated,
        Self::AnswerDropped,
        Self::AnswerCut,
        Self::AnswerDuplicated,
        Self::DelayedHours,
        Self::DelayedDays,
        Self::Overtaken,
        Self::OfflineForDays,
        Self::ClockOfPhoneJumped,
        Self::ClockOfOfficeJumped,
        Self::Crashed,
        Self::PhoneRolledBack,
        Self::OfficeRestored,
        Self::OfficeFileCopied,
        Self::SetAside,
        Self::WrittenAgain,
        Self::LetGo,
    ];
}

/// A phone died.
#[derive(Debug, Clone, Copy)]
pub struct Crash;

/// The counts, and whether misfortunes still happen.
#[derive(Debug, Clone, Default)]
pub struct Faults {
    /// No more misfortunes: the network heals and nobody dies.
    pub healed: bool,
    counts: BTreeMap<Fault, u64>,
}

impl Faults {
    /// Counts one.
    pub fn count(&mut self, fault: Fault) {
        *self.counts.entry(fault).or_default() += 1;
    }

    /// Whether it happens now, so many times in a thousand; then it is counted.
    pub fn strikes(&mut self, fault: Fault, in_thousand: usize, dice: &mut Dice) -> bool {
        let strikes = !self.healed && dice.in_thousand(in_thousand);
        if strikes {
            self.count(fault);
        }
        strikes
    }

    /// A point where the app awaits: the phone may die here.
    pub fn awaits(&mut self, dice: &mut Dice) -> Result<(), Crash> {
        if self.strikes(Fault::Crashed, 6, dice) {
            Err(Crash)
        } else {
            Ok(())
        }
    }

    /// What was counted.
    pub const fn counts(&self) -> &BTreeMap<Fault, u64> {
        &self.counts
    }
}
