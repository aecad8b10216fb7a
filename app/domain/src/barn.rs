//! The ledgers at hand, and what pages read from them.
//!
//! On the server these are the ledgers a page needs; on a phone all that was pulled, with the
//! phone's own entries applied on top. Both read through the same functions.

mod facts;
mod laboratory;
mod memo;
mod stored;
#[cfg(test)]
pub(crate) mod written;

use crate::batch::SemenBatch;
use crate::code::Code;
use crate::envelope::Entry;
use crate::fact::{Fact, Subject};
use crate::farm::Farm;
use crate::id::{BoarId, EntryId, PenId, PersonId, SowId};
use crate::ledger::Ledger;
use crate::output::Outlook;
use crate::sync::Beside;
use crate::time::Zone;
pub use facts::{BoarFacts, Holding, PenFacts, Seen, SowFacts};
pub use laboratory::Mixed;
use memo::Memo;
use std::borrow::Cow;
use std::collections::BTreeMap;
use std::sync::{Arc, OnceLock};
pub use stored::Stored;
use uuid::Uuid;

/// The ledgers at hand.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Barn {
    ledgers: BTreeMap<Subject, Ledger>,
    /// The farm's zones and since when (ms since 1970): every moment on a page is told by them.
    zones: Memo<Vec<(i64, Zone)>>,
    /// Which identities are one.
    roots: Memo<Roots>,
    beside: BTreeMap<EntryId, Beside>,
    outlook: Option<Arc<Outlook>>,
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

    /// Takes in what each boar is expected to give, as the office last fitted it.
    pub fn put_outlook(&mut self, outlook: Arc<Outlook>) {
        self.outlook = Some(outlook);
    }

    /// What each boar is expected to give: as last fitted, or what is known before any entry.
    pub fn outlook(&self) -> Arc<Outlook> {
        static START: OnceLock<Arc<Outlook>> = OnceLock::new();
        let start = || Arc::clone(START.get_or_init(|| Arc::new(Outlook::start())));
        self.outlook.clone().unwrap_or_else(start)
    }

    /// The same barn with the ledgers of some subjects only.
    #[must_use]
    pub fn of_those(mut self, holds: impl Fn(Subject) -> bool) -> Self {
        self.ledgers.retain(|subject, _| holds(*subject));
        self.zones.forget();
        self.roots.forget();
        self
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
        let zones = self.zones.get(|| {
            let farms = self.farm_facts(|f| {
                if let Fact::Farm(farm) = f {
                    Some(farm)
                } else {
                    None
                }
            });
            let since = farms.into_iter().map(|f| (f.at.ms(), f.fact.zone));
            since.collect()
        });
        let held = zones.iter().rev().find(|(since, _)| *since <= ms);
        let held = held.or(zones.first());
        held.map(|(_, zone)| zone.clone()).unwrap_or_default()
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

    /// The boars, by number; not those who were taken back.
    pub fn boars(&self) -> Vec<BoarFacts> {
        let roots = self.roots();
        let mut seen: Vec<BoarId> = self
            .ledgers
            .keys()
            .filter_map(|s| {
                if let Subject::Boar(id) = s {
                    Some(BoarId::from_uuid(root(roots, id.uuid())))
                } else {
                    None
                }
            })
            .collect();
        seen.sort_unstable();
        seen.dedup();
        let mut boars: Vec<_> = seen
            .into_iter()
            .filter_map(|id| self.boar(id))
            .filter(BoarFacts::is_known)
            .collect();
        boars.sort_by_key(|b| by_number(&b.number()));
        boars
    }

    /// Under which identity a boar's entries stand, if several are one.
    pub fn identity(&self) -> impl Fn(BoarId) -> BoarId + use<> {
        let roots = self.roots().clone();
        move |id| BoarId::from_uuid(root(&roots, id.uuid()))
    }

    /// One boar, under any of his identities.
    pub fn boar(&self, id: BoarId) -> Option<BoarFacts> {
        let roots = self.roots();
        let keep = root(roots, id.uuid());
        let one = BoarId::from_uuid(keep);
        let members = members(roots, keep).into_iter();
        let mut ledgers =
            members.filter_map(|m| self.ledgers.get(&Subject::Boar(BoarId::from_uuid(m))));
        let mut whole = Cow::Borrowed(ledgers.next()?);
        for other in ledgers {
            whole.to_mut().merge(other);
        }
        if whole.subject() != Subject::Boar(one) {
            let mut renamed = Ledger::new(Subject::Boar(one));
            renamed.merge(&whole);
            whole = Cow::Owned(renamed);
        }
        let same = |other: BoarId| root(roots, other.uuid()) == keep;
        (!whole.is_empty()).then(|| BoarFacts::of(one, &whole, same))
    }

    /// The sows, by number; not those who were taken back.
    pub fn sows(&self) -> Vec<SowFacts> {
        let ids = self.ledgers.keys().filter_map(|s| {
            if let Subject::Sow(id) = s {
                Some(*id)
            } else {
                None
            }
        });
        let mut sows: Vec<_> = ids
            .filter_map(|id| self.sow(id))
            .filter(SowFacts::is_known)
            .collect();
        sows.sort_by_key(|s| s.sow.as_ref().map(|s| by_number(s.fact.number.as_str())));
        sows
    }

    /// One sow.
    pub fn sow(&self, id: SowId) -> Option<SowFacts> {
        let ledger = self.ledgers.get(&Subject::Sow(id))?;
        Some(SowFacts::of(id, ledger))
    }

    /// The pens, by name; not those that were taken back.
    pub fn pens(&self) -> Vec<PenFacts> {
        let ids = self.ledgers.keys().filter_map(|s| {
            if let Subject::Pen(id) = s {
                Some(*id)
            } else {
                None
            }
        });
        let mut pens: Vec<_> = ids
            .filter_map(|id| self.pen(id))
            .filter(PenFacts::is_known)
            .collect();
        pens.sort_by_key(|p| p.pen.as_ref().map(|p| by_number(p.fact.name.as_str())));
        pens
    }

    /// One pen.
    pub fn pen(&self, id: PenId) -> Option<PenFacts> {
        let ledger = self.ledgers.get(&Subject::Pen(id))?;
        Some(PenFacts::of(id, ledger))
    }

    /// The pens a code leads to: one, unless two devices made the same code by chance.
    pub fn pens_of_code(&self, code: Code) -> Vec<PenFacts> {
        self.pens()
            .into_iter()
            .filter(|p| p.codes.contains(&code))
            .collect()
    }

    /// The boars in a pen now. Where a pen saw more moves than it keeps, every boar here is asked.
    pub fn boars_in(&self, pen: &PenFacts) -> Vec<BoarFacts> {
        if pen.perhaps_more {
            let mut boars = self.boars();
            boars.retain(|b| b.pen() == Some(pen.id));
            return boars;
        }
        let mut boars: Vec<BoarFacts> = vec![];
        for id in &pen.perhaps_in {
            let boar = self.boar(*id).filter(|b| b.pen() == Some(pen.id));
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
        if subject == Subject::Farm {
            self.zones.forget();
            self.roots.forget();
        }
        self.ledgers
            .entry(subject)
            .or_insert_with(|| Ledger::new(subject))
    }

    /// The facts about the farm that `pick` picks, in the order of business.
    pub(crate) fn farm_facts<T: Clone>(&self, pick: impl Fn(&Fact) -> Option<&T>) -> Vec<Seen<T>> {
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

    fn roots(&self) -> &Roots {
        self.roots.get(|| {
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
        })
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

/// Orders `A2` before `A10` and `9` before both: figures by their value, in whatever place.
pub(crate) fn by_number(text: &str) -> Vec<Piece> {
    let mut pieces: Vec<Piece> = vec![];
    for c in text.chars() {
        match (c.to_digit(10), pieces.last_mut()) {
            (Some(d), Some(Piece::Figure(n))) => {
                *n = n.saturating_mul(10).saturating_add(u64::from(d));
            }
            (Some(d), _) => pieces.push(Piece::Figure(u64::from(d))),
            (None, Some(Piece::Words(w))) => w.push(c),
            (None, _) => pieces.push(Piece::Words(c.into())),
        }
    }
    pieces
}

#[derive(PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Piece {
    Figure(u64),
    Words(String),
}

#[cfg(test)]
mod tests;
