//! What pages read of one subject: its facts as they hold now.

use crate::batch::SemenBatch;
use crate::boar::{Boar, Move, OffCollection, Pen};
use crate::code::Code;
use crate::collection::Collection;
use crate::envelope::Order;
use crate::evaluation::Evaluation;
use crate::fact::{Fact, Kind};
use crate::farm::Standard;
use crate::id::{BoarId, DeviceId, EntryId, PenId, PersonId, SowId};
use crate::ledger::{Ledger, Live, keeps};
use crate::retained::Retained;
use crate::said::Remark;
use crate::sow::{By, Heat, Service, Sow};
use crate::time::Stamp;
use crate::training::Training;
use crate::watch::SignalAnswer;
use std::collections::BTreeMap;

/// A fact as it reads now, with what a page shows of its making.
#[derive(Debug, Clone, PartialEq)]
pub struct Seen<T> {
    /// The record.
    pub order: Order,
    /// When it happened.
    pub at: Stamp,
    /// Who recorded it.
    pub person: Option<PersonId>,
    /// On which device.
    pub device: DeviceId,
    /// With which sequence there.
    pub seq: u64,
    /// The correction that holds, if any.
    pub corrected_by: Option<EntryId>,
    /// What it says.
    pub fact: T,
}

impl<T> Seen<T> {
    pub(super) fn of(live: &Live<'_>, fact: &T) -> Self
    where
        T: Clone,
    {
        Self {
            order: live.order,
            at: live.at,
            person: live.person,
            device: live.device,
            seq: live.seq,
            corrected_by: live.corrected_by,
            fact: fact.clone(),
        }
    }

    /// The record's identity.
    pub const fn entry(&self) -> EntryId {
        self.order.id
    }
}

/// What is known of a boar, latest last.
#[derive(Debug, Clone, PartialEq)]
pub struct BoarFacts {
    /// Who: the identity that stays, if several are one.
    pub id: BoarId,
    /// His particulars; none while only records about him have arrived.
    pub boar: Option<Seen<Boar>>,
    /// His moves.
    pub moves: Vec<Seen<Move>>,
    /// His collections and attempts.
    pub collections: Vec<Seen<Collection>>,
    /// Nothing older than these collections can have been dropped. Those that were taken back stand
    /// in the ledger too: their number alone does not tell.
    pub collections_whole: bool,
    /// His training: visits and sessions.
    pub trainings: Vec<Seen<Training>>,
    /// Services by him or with his semen.
    pub services: Vec<Seen<Service>>,
    /// None older was dropped: a pool of sixty doses is more than a ledger keeps.
    pub services_whole: bool,
    /// What the bench found.
    pub evaluations: Vec<Seen<Evaluation>>,
    /// Semen batches with his semen.
    pub batches: Vec<Seen<SemenBatch>>,
    /// Looks at retained samples of such batches.
    pub retained: Vec<Seen<Retained>>,
    /// Times off collection.
    pub offs: Vec<Seen<OffCollection>>,
    /// When he was put back.
    pub ons: Vec<Order>,
    /// What people answered to signals about him.
    pub answers: Vec<Seen<SignalAnswer>>,
    /// Words about him.
    pub notes: Vec<Seen<Remark>>,
}

impl BoarFacts {
    /// The pen he is in, as far as moves tell.
    pub fn pen(&self) -> Option<PenId> {
        self.moves.last()?.fact.to
    }

    /// Whether he left for good.
    pub fn gone(&self) -> Option<&Seen<Move>> {
        self.moves.last().filter(|m| m.fact.gone)
    }

    /// What he is called; the end of his identity while nobody said.
    pub fn number(&self) -> String {
        self.boar.as_ref().map_or_else(
            || {
                self.id
                    .to_string()
                    .chars()
                    .rev()
                    .take(4)
                    .collect::<Vec<_>>()
                    .into_iter()
                    .rev()
                    .collect()
            },
            |b| b.fact.number.as_str().to_owned(),
        )
    }

    /// Not one who was taken back, with nothing else known of him.
    pub const fn is_known(&self) -> bool {
        self.boar.is_some()
            || !self.moves.is_empty()
            || !self.collections.is_empty()
            || !self.trainings.is_empty()
    }

    pub(super) fn of(id: BoarId, ledger: &Ledger, same: impl Fn(BoarId) -> bool) -> Self {
        let mut facts = Self {
            id,
            boar: None,
            moves: vec![],
            collections: vec![],
            collections_whole: of_kind(ledger, Kind::Collection) < keeps(Kind::Collection),
            trainings: vec![],
            services: vec![],
            services_whole: of_kind(ledger, Kind::Service) < keeps(Kind::Service),
            evaluations: vec![],
            batches: vec![],
            retained: vec![],
            offs: vec![],
            ons: vec![],
            answers: vec![],
            notes: vec![],
        };
        for live in ledger.live() {
            match live.fact {
                // Of two entries that are one boar, the particulars of the identity that stays hold.
                Fact::Boar(f) if facts.boar.is_none() || live.order.id.as_boar() == id => {
                    facts.boar = Some(Seen::of(&live, f));
                }
                Fact::Move(f) if same(f.boar) => facts.moves.push(Seen::of(&live, f)),
                Fact::Collection(f) => facts.collections.push(Seen::of(&live, f)),
                Fact::Training(f) => facts.trainings.push(Seen::of(&live, f)),
                Fact::Service(f) => facts.services.push(Seen::of(&live, f)),
                Fact::Evaluation(f) => facts.evaluations.push(Seen::of(&live, f)),
                Fact::Retained(f) => facts.retained.push(Seen::of(&live, f)),
                Fact::SemenBatch(f) => facts.batches.push(Seen::of(&live, f)),
                Fact::OffCollection(f) => facts.offs.push(Seen::of(&live, f)),
                Fact::OnCollection(_) => facts.ons.push(live.order),
                Fact::SignalAnswer(f) => facts.answers.push(Seen::of(&live, f)),
                Fact::Note(f) => facts.notes.push(Seen::of(&live, &f.text)),
                _ => {}
            }
        }
        facts
    }
}

fn of_kind(ledger: &Ledger, kind: Kind) -> usize {
    ledger.rows().filter(|r| r.fact.kind() == kind).count()
}

/// What is known of a sow, latest last.
#[derive(Debug, Clone, PartialEq)]
pub struct SowFacts {
    /// Who.
    pub id: SowId,
    /// Her particulars.
    pub sow: Option<Seen<Sow>>,
    /// Looks for heat.
    pub heats: Vec<Seen<Heat>>,
    /// Services.
    pub services: Vec<Seen<Service>>,
    /// Words about her.
    pub notes: Vec<Seen<Remark>>,
}

/// What is known of a pen.
#[derive(Debug, Clone, PartialEq)]
pub struct PenFacts {
    /// Which.
    pub id: PenId,
    /// Its particulars.
    pub pen: Option<Seen<Pen>>,
    /// The codes that lead here, latest last.
    pub codes: Vec<Code>,
    /// Boars whose latest move seen here was into this pen.
    pub perhaps_in: Vec<BoarId>,
    /// Older moves were dropped here: others may be in it too, and only their own ledgers know.
    pub perhaps_more: bool,
}

/// The standard that holds, and the entry that set it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Holding {
    /// The thresholds.
    pub standard: Standard,
    /// Who set them; none for the program's own defaults.
    pub entry: Option<EntryId>,
}

impl SowFacts {
    /// The services by a boar or with doses, latest last, with the boars behind them.
    pub fn served_by(service: &Service) -> &[BoarId] {
        match &service.by {
            By::Boar(boar) => std::slice::from_ref(boar),
            By::Doses { boars, .. } => boars,
        }
    }
}

impl SowFacts {
    pub(super) fn of(id: SowId, ledger: &Ledger) -> Self {
        let mut facts = Self {
            id,
            sow: None,
            heats: vec![],
            services: vec![],
            notes: vec![],
        };
        for live in ledger.live() {
            match live.fact {
                Fact::Sow(f) => facts.sow = Some(Seen::of(&live, f)),
                Fact::Heat(f) => facts.heats.push(Seen::of(&live, f)),
                Fact::Service(f) => facts.services.push(Seen::of(&live, f)),
                Fact::Note(f) => facts.notes.push(Seen::of(&live, &f.text)),
                _ => {}
            }
        }
        facts
    }

    /// What she is called; nothing while nobody said.
    pub fn number(&self) -> String {
        let number = |s: &Seen<Sow>| s.fact.number.as_str().to_owned();
        self.sow.as_ref().map(number).unwrap_or_default()
    }

    /// Not one who was taken back, with nothing else known of her.
    pub const fn is_known(&self) -> bool {
        self.sow.is_some() || !self.heats.is_empty() || !self.services.is_empty()
    }
}

impl PenFacts {
    pub(super) fn of(id: PenId, ledger: &Ledger) -> Self {
        let mut facts = Self {
            id,
            pen: None,
            codes: vec![],
            perhaps_in: vec![],
            perhaps_more: ledger.is_full_of(Kind::Move),
        };
        let mut last: BTreeMap<BoarId, bool> = BTreeMap::new();
        for live in ledger.live() {
            match live.fact {
                Fact::Pen(f) => facts.pen = Some(Seen::of(&live, f)),
                Fact::PenTag(f) => facts.codes.push(f.code),
                Fact::Move(f) => {
                    last.insert(f.boar, f.to == Some(id));
                }
                _ => {}
            }
        }
        facts.perhaps_in = last
            .into_iter()
            .filter_map(|(boar, inside)| inside.then_some(boar))
            .collect();
        facts
    }

    /// Not one that was taken back, with nobody in it.
    pub const fn is_known(&self) -> bool {
        self.pen.is_some() || !self.perhaps_in.is_empty()
    }
}
