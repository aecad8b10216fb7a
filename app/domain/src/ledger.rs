//! A subject's ledger: the facts a page about it rests on.
//!
//! A ledger is *order-free*: applying entries in any order, any number of times, yields the same
//! ledger, so the server, a phone that heard of them late and a phone that made them agree by
//! construction. It is *bounded*: of each kind it keeps the latest few in the order of business
//! ([`keeps`]), and the amendments of what it keeps. It holds facts, never answers.

mod acts;
mod folded;
mod window;

pub use acts::Acts;
pub use folded::Folded;

use crate::amend::Target;
use crate::envelope::{Entry, Envelope, Order};
use crate::fact::{Fact, Kind, Subject};
use crate::id::{DeviceId, EntryId, PersonId};
use crate::time::Stamp;
use serde::{Deserialize, Serialize};
use window::{Kept, Window};

/// One entry as a page needs it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Row {
    /// The entry and its place in the order of business.
    pub order: Order,
    /// When it happened, with the writer's local offset.
    pub occurred_at: Stamp,
    /// When it was written down.
    pub recorded_at: Stamp,
    /// Who had been picked.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub person: Option<PersonId>,
    /// Who wrote it.
    pub device: DeviceId,
    /// Its number on that device.
    pub seq: u64,
    /// What it says.
    pub fact: Fact,
}

impl Row {
    /// The row of an entry whose fact was read.
    pub fn of(envelope: &Envelope, fact: Fact, order: Order) -> Self {
        Self {
            order,
            occurred_at: envelope.occurred_at,
            recorded_at: envelope.recorded_at,
            person: envelope.person,
            device: envelope.device,
            seq: envelope.seq,
            fact,
        }
    }
}

/// How many of a kind a ledger keeps: what its pages show, and what its rules look back on.
pub const fn keeps(kind: Kind) -> usize {
    match kind {
        Kind::Person | Kind::SameAs => 2_000,
        Kind::Boar | Kind::Pen | Kind::Sow => 2,
        Kind::Farm | Kind::PenTag | Kind::Move => 8,
        Kind::Standard | Kind::OffCollection | Kind::OnCollection | Kind::Note | Kind::Heat => 12,
        Kind::SemenBatch => 16,
        // As many evaluations as collections: what was seen is shown beside what was expected.
        Kind::Evaluation
        | Kind::SignalAnswer
        | Kind::Collection
        | Kind::Service
        | Kind::Correction
        | Kind::Void => 24,
        // Three months of a room or two. Where a logger reads more of them, what each day was before
        // these is carried with the fit (`climate::carried`).
        Kind::Climate => 128,
        // The mixes of two months, where one is made each day; a look a day at each batch at hand.
        Kind::ExtenderMix | Kind::Retained => 60,
        Kind::ExtenderLot => 24,
        // Some instruments, each with the pairs that show whether its curve still holds.
        Kind::InstrumentCurve => 12,
        Kind::CurvePair => 128,
        // Two to four weeks of daily sessions, and as many again for the slow.
        Kind::Training => 60,
        // At the intervals to start from about two looks a day: four months of them. A farm that
        // looks oftener loses sight of its rarest checks, which then read as never looked at: the
        // safe side.
        Kind::Check => 256,
        // Ten times for each of forty learners; whoever is signed off needs no count any more.
        Kind::Supervised | Kind::SignOff => 400,
    }
}

/// See the module's words.
#[derive(Debug, Clone, PartialEq)]
pub struct Ledger {
    subject: Subject,
    window: Window<Row>,
}

impl Kept for Row {
    fn order(&self) -> Order {
        self.order
    }

    fn kind(&self) -> Kind {
        self.fact.kind()
    }

    fn amends(&self) -> Option<(Kind, Order)> {
        target(&self.fact).map(|t| (t.kind, t.record))
    }
}

/// A row as it reads after all amendments.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Live<'a> {
    /// The record's identity and order.
    pub order: Order,
    /// When it happened, corrected if it was.
    pub at: Stamp,
    /// Who recorded it.
    pub person: Option<PersonId>,
    /// The device that wrote the record.
    pub device: DeviceId,
    /// Its number there.
    pub seq: u64,
    /// The fact, corrected if it was.
    pub fact: &'a Fact,
    /// The correction that holds, if any.
    pub corrected_by: Option<EntryId>,
}

impl Ledger {
    /// A ledger without entries.
    pub const fn new(subject: Subject) -> Self {
        Self {
            subject,
            window: Window::new(),
        }
    }

    /// One that drops nothing, for whoever looks back on all of a subject's entries; it is neither
    /// stored nor sent.
    pub const fn whole(subject: Subject) -> Self {
        Self {
            subject,
            window: Window::whole(),
        }
    }

    /// Whose it is.
    pub const fn subject(&self) -> Subject {
        self.subject
    }

    /// Whether nothing is known.
    pub fn is_empty(&self) -> bool {
        self.rows().next().is_none()
    }

    /// Whether older ones of a kind may have been dropped.
    pub fn is_full_of(&self, kind: Kind) -> bool {
        self.rows().filter(|r| r.fact.kind() == kind).count() >= keeps(kind)
    }

    /// Takes in an entry whose fact was read. Entries about other subjects must not be given.
    pub fn apply(&mut self, entry: &Entry, fact: Fact) {
        self.insert(Row::of(entry.envelope(), fact, entry.order()));
    }

    /// Takes in one row.
    pub fn insert(&mut self, row: Row) {
        self.window.insert(row);
    }

    /// Takes in another ledger of the same subject, or of one that is the same as it.
    pub fn merge(&mut self, other: &Self) {
        for row in other.rows() {
            self.insert(row.clone());
        }
    }

    /// Every row held, amendments included, as they were written.
    pub fn rows(&self) -> impl Iterator<Item = &Row> {
        self.window.all()
    }

    /// All records that count, as they read after amendments, in the order of business.
    pub fn live(&self) -> Vec<Live<'_>> {
        let acts = self.acts();
        let mut list: Vec<_> = self
            .window
            .rows
            .values()
            .filter_map(|row| self.read(row, &acts))
            .collect();
        list.extend(self.moved_here(&acts));
        list.sort_by_key(|l| (l.at.ms(), l.order));
        list
    }

    /// Whether a record was voided, and stays so.
    pub fn is_void(&self, record: EntryId) -> bool {
        self.acts().voids.contains(&record)
    }

    fn acts(&self) -> Acts<'_> {
        Acts::of(self.window.amendments.values())
    }

    fn read<'a>(&self, row: &'a Row, acts: &Acts<'a>) -> Option<Live<'a>> {
        let live = acts.read(row)?;
        let corrected = live.corrected_by.is_some();
        let here = !corrected || live.fact.subjects(row.order.id).contains(&self.subject);
        here.then_some(live)
    }

    /// Records that were written for another subject and corrected to be about this one.
    fn moved_here<'a>(&'a self, acts: &Acts<'a>) -> Vec<Live<'a>> {
        let moved = |by: &&'a Row| {
            let Fact::Correction(c) = &by.fact else {
                return None;
            };
            let record = c.target.record;
            let elsewhere = !self.window.rows.contains_key(&(c.target.kind, record));
            let here = c.fact.subjects(record.id).contains(&self.subject);
            let counts = !acts.voids.contains(&record.id);
            let at = c
                .occurred_at
                .or_else(|| Stamp::new(record.at_ms, by.occurred_at.offset_min()).ok())?;
            (elsewhere && here && counts).then_some(Live {
                order: record,
                at,
                person: by.person,
                device: by.device,
                seq: by.seq,
                fact: &c.fact,
                corrected_by: Some(by.order.id),
            })
        };
        acts.corrections.values().filter_map(moved).collect()
    }
}

fn target(fact: &Fact) -> Option<Target> {
    match fact {
        Fact::Void(v) => Some(v.target),
        Fact::Correction(c) => Some(c.target),
        _ => None,
    }
}

#[derive(Serialize, Deserialize)]
struct Written {
    subject: Subject,
    rows: Vec<Row>,
}

impl Serialize for Ledger {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        #[derive(Serialize)]
        struct Borrowed<'a> {
            subject: Subject,
            rows: Vec<&'a Row>,
        }
        Borrowed {
            subject: self.subject,
            rows: self.rows().collect(),
        }
        .serialize(serializer)
    }
}

impl<'de> Deserialize<'de> for Ledger {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let written = Written::deserialize(deserializer)?;
        let mut ledger = Self::new(written.subject);
        written.rows.into_iter().for_each(|row| ledger.insert(row));
        Ok(ledger)
    }
}
