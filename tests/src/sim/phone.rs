//! A phone: what it keeps, what it has in mind while it lives, and how it saves.

use super::bug::Bug;
use super::dice::Dice;
use super::disk::{Disk, Write};
use super::events::Ask;
use super::faults::{At, Crash, Faults};
use super::oracle::Oracle;
use super::said::{Saying, Seen, UNREADABLE, saying};
use super::watch::Watch;
use pentally_app::device::held::HeldKey;
use pentally_domain::envelope::Entry;
use pentally_domain::fact::Fact;
use pentally_domain::id::{DeviceId, EntryId};
use pentally_domain::outbox::Outbox;
use pentally_domain::time::{HOUR_MS, Stamp};
use pentally_domain::writer::{Head, Moment};
use std::collections::{BTreeMap, BTreeSet};

/// What every step of a phone gets into its hands.
pub struct Hands<'a> {
    /// Chance.
    pub dice: &'a mut Dice,
    /// Misfortune.
    pub faults: &'a mut Faults,
    /// Truth.
    pub oracle: &'a mut Oracle,
    /// The true time.
    pub now_ms: i64,
    /// The planted mistake.
    pub bug: Option<Bug>,
}

impl Hands<'_> {
    /// Whether this mistake is planted.
    pub fn has(&self, bug: Bug) -> bool {
        self.bug == Some(bug)
    }

    /// A point where the app awaits.
    pub fn awaits(&mut self, at: At) -> Result<(), Crash> {
        self.faults.awaits(at, self.dice)
    }
}

/// An exchange under way.
#[derive(Debug, Clone)]
pub struct Flight {
    /// Its number.
    pub exchange: u64,
    /// What was sent; none in a pull.
    pub sent: Option<(DeviceId, Vec<HeldKey>)>,
}

/// What dies with the process.
#[derive(Debug, Default)]
pub struct Mind {
    /// When to send.
    pub outbox: Outbox,
    /// The exchange under way.
    pub flight: Option<Flight>,
    /// The identity under which this phone was found to be rolled back.
    pub rolled_back: Option<DeviceId>,
    /// Counts the pauses, so that an old one does not end a new one.
    pub pause: u64,
}

/// See the module's words.
pub struct Phone {
    /// What survives.
    pub disk: Disk,
    /// What does not; none while the phone is dead.
    pub mind: Option<Mind>,
    /// Its clock.
    pub watch: Watch,
    /// Its screen is lit until then; in the dark nothing is tried again.
    pub lit_until_ms: i64,
    /// Without a network until then.
    pub offline_until_ms: i64,
    /// An older copy of its storage, with the entries the copy must hold.
    pub copy: Option<(Disk, BTreeSet<EntryId>)>,
    /// The entries it must hold.
    pub holds: BTreeSet<EntryId>,
    /// Records its people have seen.
    pub seen: BTreeMap<EntryId, Seen>,
    exchanges: u64,
}

impl Phone {
    /// A phone that was just set up and is switched on.
    pub fn new(head: Head) -> Self {
        Self {
            disk: Disk::new(head),
            mind: Some(Mind::default()),
            watch: Watch::default(),
            lit_until_ms: 0,
            offline_until_ms: 0,
            copy: None,
            holds: BTreeSet::new(),
            seen: BTreeMap::new(),
            exchanges: 0,
        }
    }

    /// Now, as this phone believes.
    pub fn now(&self, now_ms: i64) -> Stamp {
        Stamp::new(self.watch.shows(now_ms), 60).unwrap()
    }

    /// A number for the next exchange.
    pub fn next_exchange(&mut self, sent: Option<(DeviceId, Vec<HeldKey>)>) -> u64 {
        self.exchanges += 1;
        if let Some(mind) = &mut self.mind {
            mind.flight = Some(Flight {
                exchange: self.exchanges,
                sent,
            });
        }
        self.exchanges
    }

    /// A person writes some things down: one transaction over the head and the entries.
    pub fn save(&mut self, hands: &mut Hands<'_>) -> Result<(), Crash> {
        hands.awaits(At::SaveBegins)?;
        let seen: Vec<Seen> = self.seen.values().cloned().collect();
        let unreadable = hands.dice.in_thousand(60);
        let sayings: Vec<_> = (0..hands.dice.between(1, 4))
            .map(|_| match unreadable {
                true => UNREADABLE,
                false => saying(&seen, hands.dice),
            })
            .collect();
        let (entries, head) = self.chain(&sayings, hands);
        if hands.has(Bug::SavedBeforeCommit) {
            entries.iter().for_each(|entry| self.claim(entry, hands));
        }
        let mut writes: Vec<_> = entries.iter().flat_map(Write::new_entry).collect();
        if hands.has(Bug::HeadApart) {
            self.commit_saved(std::mem::take(&mut writes), &entries, hands);
            // Often enough that the next save comes before a receipt tells the phone of the gap.
            (0..6).try_for_each(|_| hands.awaits(At::SaveInTransaction))?;
        }
        writes.push(Write::Head(head));
        hands.awaits(At::SaveInTransaction)?;
        self.commit_saved(writes, &entries, hands);
        // Committed; the process may die before the screen says so.
        hands.awaits(At::SavedUnsaid)?;
        entries.iter().for_each(|entry| self.claim(entry, hands));
        Ok(())
    }

    fn commit_saved(&mut self, writes: Vec<Write>, entries: &[Entry], hands: &mut Hands<'_>) {
        self.disk.commit(writes);
        for entry in entries {
            hands.oracle.wrote(entry);
            self.holds.insert(entry.envelope().id);
            if let Ok(Some(fact)) = Fact::of(entry.envelope()) {
                self.seen.insert(entry.envelope().id, (entry.order(), fact));
            }
        }
        while self.seen.len() > 60 {
            self.seen.pop_first();
        }
    }

    /// The screen says "saved".
    fn claim(&mut self, entry: &Entry, hands: &mut Hands<'_>) {
        hands.oracle.wrote(entry);
        hands.oracle.saved.insert(entry.envelope().id);
        self.holds.insert(entry.envelope().id);
    }

    fn chain(&self, sayings: &[Saying], hands: &mut Hands<'_>) -> (Vec<Entry>, Head) {
        let (mut head, mut entries) = (self.disk.head, vec![]);
        for saying in sayings {
            let back_ms = if hands.dice.in_thousand(300) {
                hands.dice.between(0, 48) * HOUR_MS
            } else {
                0
            };
            let occurred_at = Stamp::new(self.watch.shows(hands.now_ms) - back_ms, 60).unwrap();
            let moment = Moment {
                now: self.now(hands.now_ms),
                occurred_at,
                random: hands.dice.ten(),
                person: None,
            };
            let written = match saying {
                Saying::Fact(fact) => head.write(fact, moment),
                Saying::Raw(kind, version, body) => {
                    head.write_raw(kind, *version, (*body).to_owned(), moment)
                }
            };
            let (entry, next) = written.unwrap();
            entries.push(entry);
            head = next;
        }
        (entries, head)
    }

    /// The storage is replaced by the older copy.
    pub fn roll_back(&mut self, oracle: &mut Oracle) -> bool {
        let Some((disk, kept)) = self.copy.clone() else {
            return false;
        };
        oracle.rolled_back(&self.holds, &kept);
        (self.disk, self.holds) = (disk, kept);
        self.mind = None;
        true
    }

    /// How many entries wait, with those that are yet to be written again: only a receipt makes
    /// the phone do that.
    pub fn unsent(&self) -> u64 {
        let again = self.disk.aside.values().filter(|set| set.wants_reissue());
        (self.disk.waiting.len() + again.count()) as u64
    }

    /// What it asks when it pulls.
    pub fn pull_request(&mut self, hands: &Hands<'_>) -> (u64, Ask) {
        let pulled = &self.disk.pulled;
        let seen = pulled.known.filter(|_| !hands.has(Bug::PullForgetsSeen));
        let asked = serde_json::to_string(&(pulled.cursor, seen)).unwrap();
        (self.next_exchange(None), Ask::Pull(asked))
    }
}
