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
    /// A phone's clock jumped one to ten years ahead.
    PhoneClockAhead,
    /// A phone's clock jumped one to ten years back.
    PhoneClockBehind,
    /// A phone's clock stepped minutes or hours back.
    PhoneClockSteppedBack,
    /// A phone's clock stood still.
    PhoneClockFroze,
    /// The office's clock jumped one to ten years ahead.
    OfficeClockAhead,
    /// The office's clock jumped one to ten years back.
    OfficeClockBehind,
    /// The office's clock stepped minutes or hours back.
    OfficeClockSteppedBack,
    /// The office's clock stood still.
    OfficeClockFroze,
    /// A phone died where it awaited something; see [`At`].
    PhoneDied,
    /// The office died over a request, and all its connections with it.
    OfficeDied,
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
    pub const ALL: [Self; 25] = [
        Self::RequestDropped,
        Self::RequestDuplicated,
        Self::AnswerDropped,
        Self::AnswerCut,
        Self::AnswerDuplicated,
        Self::DelayedHours,
        Self::DelayedDays,
        Self::Overtaken,
        Self::OfflineForDays,
        Self::PhoneClockAhead,
        Self::PhoneClockBehind,
        Self::PhoneClockSteppedBack,
        Self::PhoneClockFroze,
        Self::OfficeClockAhead,
        Self::OfficeClockBehind,
        Self::OfficeClockSteppedBack,
        Self::OfficeClockFroze,
        Self::PhoneDied,
        Self::OfficeDied,
        Self::PhoneRolledBack,
        Self::OfficeRestored,
        Self::OfficeFileCopied,
        Self::SetAside,
        Self::WrittenAgain,
        Self::LetGo,
    ];
}

/// Where the app awaits something and may therefore die.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum At {
    /// Before anything of a save was done.
    SaveBegins,
    /// A save is in its transaction and not committed.
    SaveInTransaction,
    /// A save is committed and the screen has not said so.
    SavedUnsaid,
    /// About to send or to ask.
    BeforeExchange,
    /// A receipt has come and nothing of it is committed.
    ReceiptInTransaction,
    /// A receipt is committed and its orders are not carried out.
    ReceiptTaken,
    /// Held entries are being marked to be sent again, and some are.
    Marking,
    /// All are marked; what said that the office went back is still there.
    Marked,
    /// All are marked, and that is noted.
    MarkingNoted,
    /// About to take a new identity.
    NewIdentityInTransaction,
    /// The new identity is taken, and nothing is written again.
    NewIdentityTaken,
    /// Conflicting entries are written again and not committed.
    AgainInTransaction,
    /// Conflicting entries are written again.
    AgainCommitted,
    /// A page has come and nothing of it is committed.
    PageInTransaction,
    /// A page is committed and nobody knows.
    PageTaken,
}

impl At {
    /// All of them.
    pub const ALL: [Self; 15] = [
        Self::SaveBegins,
        Self::SaveInTransaction,
        Self::SavedUnsaid,
        Self::BeforeExchange,
        Self::ReceiptInTransaction,
        Self::ReceiptTaken,
        Self::Marking,
        Self::Marked,
        Self::MarkingNoted,
        Self::NewIdentityInTransaction,
        Self::NewIdentityTaken,
        Self::AgainInTransaction,
        Self::AgainCommitted,
        Self::PageInTransaction,
        Self::PageTaken,
    ];

    /// How often in a thousand a phone dies here. Where it rarely passes, more often.
    const fn in_thousand(self) -> usize {
        match self {
            Self::BeforeExchange => 5,
            Self::SaveBegins
            | Self::SaveInTransaction
            | Self::SavedUnsaid
            | Self::ReceiptInTransaction
            | Self::ReceiptTaken
            | Self::PageInTransaction
            | Self::PageTaken => 15,
            Self::Marked | Self::MarkingNoted => 50,
            Self::Marking | Self::NewIdentityInTransaction | Self::NewIdentityTaken => 120,
            Self::AgainInTransaction | Self::AgainCommitted => 200,
        }
    }
}

/// A phone died.
#[derive(Debug, Clone, Copy)]
pub struct Crash;

/// How often what went wrong.
#[derive(Debug, Clone, Default)]
pub struct Counts {
    /// Misfortunes.
    pub faults: BTreeMap<Fault, u64>,
    /// Deaths of phones, by where.
    pub deaths: BTreeMap<At, u64>,
}

impl Counts {
    /// Adds those of another history.
    pub fn add(&mut self, other: &Self) {
        for (fault, n) in &other.faults {
            *self.faults.entry(*fault).or_default() += n;
        }
        for (at, n) in &other.deaths {
            *self.deaths.entry(*at).or_default() += n;
        }
    }
}

/// The counts, and whether misfortunes still happen.
#[derive(Debug, Clone, Default)]
pub struct Faults {
    /// No more misfortunes: the network heals and nobody dies.
    pub healed: bool,
    counts: Counts,
}

impl Faults {
    /// Counts one.
    pub fn count(&mut self, fault: Fault) {
        *self.counts.faults.entry(fault).or_default() += 1;
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
    pub fn awaits(&mut self, at: At, dice: &mut Dice) -> Result<(), Crash> {
        if self.strikes(Fault::PhoneDied, at.in_thousand(), dice) {
            *self.counts.deaths.entry(at).or_default() += 1;
            Err(Crash)
        } else {
            Ok(())
        }
    }

    /// What was counted.
    pub const fn counts(&self) -> &Counts {
        &self.counts
    }
}
