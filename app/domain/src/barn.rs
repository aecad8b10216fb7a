//! The ledgers at hand, and what pages read from them.
//!
//! On the server these are the ledgers a page needs; on a phone all that was pulled, with the
//! phone's own entries applied on top. Both read through the same functions.

use crate::batch::SemenBatch;
use crate::boar::{Boar, Move, OffCollection, Pen};
use crate::code::Code;
use crate::collection::Collection;
use crate::envelope::{Entry, Order};
use crate::evaluation::Evaluation;
use crate::fact::{Fact, Subject};
use crate::farm::{Farm, Standard};
use crate::id::{BoarId, DeviceId, EntryId, PenId, PersonId, SowId};
use crate::ledger::{Ledger, Live};
use crate::said::Remark;
use crate::sow::{By, Heat, Service, Sow};
use crate::sync::Beside;
use crate::time::{Stamp, Zone};
use std::collections::BTreeMap;
use uuid::Uuid;

/// The ledgers at hand.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Barn {
    ledgers: BTreeMap<Subject, Ledger>,
    beside: BTreeMap<EntryId, Beside>,
}

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
    fn of(live: &Live<'_>, fact: &T) -> Self
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
    /// Services by him or with his semen.
    pub services: Vec<Seen<Service>>,
    /// What the bench found.
    pub evaluations: Vec<Seen<Evaluation>>,
    /// Semen batches with his semen.
    pub batches: Vec<Seen<SemenBatch>>,
    /// Times off collection.
    pub offs: Vec<Seen<OffCollection>>,
    /// When he was put back.
    pub ons: Vec<Order>,
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

    fn of(id: BoarId, ledger: &Ledger, same: impl Fn(BoarId) -> bool) -> Self {
        let mut facts = Self {
            id,
            boar: None,
            moves: vec![],
            collections: vec![],
            services: vec![],
            evaluations: vec![],
            batches: vec![],
            offs: vec![],
            ons: vec![],
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
                Fact::Service(f) => facts.services.push(Seen::of(&live, f)),
                Fact::Evaluation(f) => facts.evaluations.push(Seen::of(&live, f)),
                Fact::SemenBatch(f) => facts.batches.push(Seen::of(&live, f)),
                Fact::OffCollection(f) => facts.offs.push(Seen::of(&live, f)),
                Fact::OnCollection(_) => facts.ons.push(live.order),
                Fact::Note(f) => facts.notes.push(Seen::of(&live, &f.text)),
                _ => {}
            }
        }
        facts
    }
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
}

/// The standard that holds, and the entry that set it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Holding {
    /// The thresholds.
    pub standard: Standard,
    /// Who set them; none for the program's own defaults.
    pub entry: Option<EntryId>,
}

impl Barn {
    /// Takes in an entry. Says whether it was understood: kinds of a newer version are not.
    pub fn apply(&mut self, entry: &Entry) -> bool {
        let Ok(Some(fact)) = Fact::of(entry.envelope()) else {
            return false;
        };
        for subject in fact.subjects(entry.envelope().id) {
            self.ledger_mut(subject).apply(entry, fact.clone());
        }
        true
    }

    /// Takes in a ledger.
    pub fn put(&mut self, ledger: &Ledger) {
        self.ledger_mut(ledger.subject()).merge(ledger);
    }

    /// Takes in personal data; the latest holds.
    pub fn put_beside(&mut self, beside: Beside) {
        let newer = self
            .beside
            .get(&beside.entry)
            .is_none_or(|b| b.set_at_ms < beside.set_at_ms);
        if newer {
            self.beside.insert(beside.entry, beside);
        }
    }

    /// The ledger of a subject, if anything is known.
    pub fn ledger(&self, subject: Subject) -> Option<&Ledger> {
        self.ledgers.get(&subject)
    }

    /// Every ledger.
    pub fn ledgers(&self) -> impl Iterator<Item = &Ledger> {
        self.ledgers.values()
    }

    /// The farm's settings that hold now.
    pub fn farm(&self) -> Option<Seen<Farm>> {
        self.farm_facts(|f| {
            if let Fact::Farm(farm) = f {
                Some(farm)
            } else {
                None
            }
        })
        .pop()
    }

    /// The farm's zone as it held at an instant (ms since 1970); UTC before there is a farm.
    pub fn zone_at(&self, ms: i64) -> Zone {
        let farms = self.farm_facts(|f| {
            if let Fact::Farm(farm) = f {
                Some(farm)
            } else {
                None
            }
        });
        let held = farms
            .iter()
            .rev()
            .find(|f| f.at.ms() <= ms)
            .or(farms.first());
        held.map(|f| f.fact.zone.clone()).unwrap_or_default()
    }

    /// The farm standard that holds now.
    pub fn standard(&self) -> Holding {
        let last = self
            .farm_facts(|f| {
                if let Fact::Standard(s) = f {
                    Some(s)
                } else {
                    None
                }
            })
            .pop();
        last.map_or_else(Holding::default, |s| Holding {
            entry: Some(s.entry()),
            standard: s.fact,
        })
    }

    /// The people who can be picked, with their names; without one when it was erased.
    pub fn people(&self) -> Vec<(PersonId, Option<String>)> {
        let people = self.farm_facts(|f| {
            if let Fact::Person(p) = f {
                Some(p)
            } else {
                None
            }
        });
        let here = people.into_iter().filter(|p| !p.fact.left);
        here.map(|p| (p.entry().as_person(), self.text_beside(p.entry())))
            .collect()
    }

    /// The name of a person, unless unknown or erased.
    pub fn name(&self, person: PersonId) -> Option<String> {
        self.text_beside(EntryId::from_uuid(person.uuid()))
    }

    /// The boars, by number.
    pub fn boars(&self) -> Vec<BoarFacts> {
        let roots = self.roots();
        let mut seen: Vec<BoarId> = self
            .ledgers
            .keys()
            .filter_map(|s| {
                if let Subject::Boar(id) = s {
                    Some(BoarId::from_uuid(root(&roots, id.uuid())))
                } else {
                    None
                }
            })
            .collect();
        seen.sort_unstable();
        seen.dedup();
        let mut boars: Vec<_> = seen
            .into_iter()
            .filter_map(|id| self.boar_of(id, &roots))
            .collect();
        boars.sort_by_key(|b| by_number(&b.number()));
        boars
    }

    /// One boar, under any of his identities.
    pub fn boar(&self, id: BoarId) -> Option<BoarFacts> {
        self.boar_of(id, &self.roots())
    }

    fn boar_of(&self, id: BoarId, roots: &Roots) -> Option<BoarFacts> {
        let keep = root(roots, id.uuid());
        let mut whole = Ledger::new(Subject::Boar(BoarId::from_uuid(keep)));
        for member in members(roots, keep) {
            if let Some(ledger) = self.ledgers.get(&Subject::Boar(BoarId::from_uuid(member))) {
                whole.merge(ledger);
            }
        }
        let same = |other: BoarId| root(roots, other.uuid()) == keep;
        (!whole.is_empty()).then(|| BoarFacts::of(BoarId::from_uuid(keep), &whole, same))
    }

    /// The sows, by number.
    pub fn sows(&self) -> Vec<SowFacts> {
        let ids = self.ledgers.keys().filter_map(|s| {
            if let Subject::Sow(id) = s {
                Some(*id)
            } else {
                None
            }
        });
        let mut sows: Vec<_> = ids.filter_map(|id| self.sow(id)).collect();
        sows.sort_by_key(|s| s.sow.as_ref().map(|s| by_number(s.fact.number.as_str())));
        sows
    }

    /// One sow.
    pub fn sow(&self, id: SowId) -> Option<SowFacts> {
        let ledger = self.ledgers.get(&Subject::Sow(id))?;
        let mut facts = SowFacts {
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
        Some(facts)
    }

    /// The pens, by name.
    pub fn pens(&self) -> Vec<PenFacts> {
        let ids = self.ledgers.keys().filter_map(|s| {
            if let Subject::Pen(id) = s {
                Some(*id)
            } else {
                None
            }
        });
        let mut pens: Vec<_> = ids.filter_map(|id| self.pen(id)).collect();
        pens.sort_by_key(|p| p.pen.as_ref().map(|p| by_number(p.fact.name.as_str())));
        pens
    }

    /// One pen.
    pub fn pen(&self, id: PenId) -> Option<PenFacts> {
        let ledger = self.ledgers.get(&Subject::Pen(id))?;
        let mut facts = PenFacts {
            id,
            pen: None,
            codes: vec![],
            perhaps_in: vec![],
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
        Some(facts)
    }

    /// The pens a code leads to: one, unless two devices made the same code by chance.
    pub fn pens_of_code(&self, code: Code) -> Vec<PenFacts> {
        self.pens()
            .into_iter()
            .filter(|p| p.codes.contains(&code))
            .collect()
    }

    /// The boars in a pen now.
    pub fn boars_in(&self, pen: &PenFacts) -> Vec<BoarFacts> {
        let roots = self.roots();
        let mut boars: Vec<BoarFacts> = vec![];
        for id in &pen.perhaps_in {
            let boar = self
                .boar_of(*id, &roots)
                .filter(|b| b.pen() == Some(pen.id));
            if let Some(boar) = boar.filter(|b| boars.iter().all(|known| known.id != b.id)) {
                boars.push(boar);
            }
        }
        boars
    }

    /// A semen batch by its entry, wherever it is held.
    pub fn batch(&self, entry: EntryId) -> Option<Seen<SemenBatch>> {
        self.ledgers
            .values()
            .flat_map(Ledger::live)
            .find_map(|live| match live.fact {
                Fact::SemenBatch(batch) if live.order.id == entry => Some(Seen::of(&live, batch)),
                _ => None,
            })
    }

    fn ledger_mut(&mut self, subject: Subject) -> &mut Ledger {
        self.ledgers
            .entry(subject)
            .or_insert_with(|| Ledger::new(subject))
    }

    fn farm_facts<T: Clone>(&self, pick: impl Fn(&Fact) -> Option<&T>) -> Vec<Seen<T>> {
        let live = self
            .ledgers
            .get(&Subject::Farm)
            .map(Ledger::live)
            .unwrap_or_default();
        live.iter()
            .filter_map(|l| pick(l.fact).map(|fact| Seen::of(l, fact)))
            .collect()
    }

    fn text_beside(&self, entry: EntryId) -> Option<String> {
        self.beside.get(&entry)?.text.clone()
    }

    fn roots(&self) -> Roots {
        let same = self.farm_facts(|f| {
            if let Fact::SameAs(s) = f {
                Some(s)
            } else {
                None
            }
        });
        let mut roots = Roots::new();
        for s in same {
            let (keep, other) = (
                root(&roots, s.fact.keep.uuid()),
                root(&roots, s.fact.other.uuid()),
            );
            if keep != other {
                roots.insert(other, keep);
            }
        }
        roots
    }
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

type Roots = BTreeMap<Uuid, Uuid>;

fn root(roots: &Roots, mut id: Uuid) -> Uuid {
    while let Some(keep) = roots.get(&id) {
        id = *keep;
    }
    id
}

fn members(roots: &Roots, keep: Uuid) -> Vec<Uuid> {
    let others = roots.keys().copied().filter(|id| root(roots, *id) == keep);
    std::iter::once(keep).chain(others).collect()
}

/// Orders `9` before `10` and `B2` after both.
fn by_number(text: &str) -> (u64, String) {
    let digits: String = text.chars().take_while(char::is_ascii_digit).collect();
    (digits.parse().unwrap_or(u64::MAX), text.to_owned())
}
