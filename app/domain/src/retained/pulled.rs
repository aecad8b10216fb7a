//! What the looks at a batch's retained samples mean for its doses: those at hand, and those out.

use super::{Floor, Retained, Standing};
use crate::barn::Seen;
use crate::batch::SemenBatch;
use crate::gestation::RETURN_DAYS;
use crate::id::{EntryId, SowId};
use crate::sow::{By, Service};
use crate::time::{Stamp, Zone};
use chrono::{Days, NaiveDate};
use serde::Serialize;

/// Where a batch stands by its retained samples.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum State {
    /// Nobody looked.
    NotLooked,
    /// The last look was at the floor or above.
    Holds {
        /// When.
        at: Stamp,
        /// Which look.
        by: EntryId,
    },
    /// The last look leaves it open: look again before the next dose.
    LookAgain {
        /// When it was left open first.
        since: Stamp,
        /// By which look.
        by: EntryId,
    },
    /// Its doses are not used any more.
    Pulled(Pulled),
}

/// A batch that is pulled.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Pulled {
    /// When the look failed.
    pub since: Stamp,
    /// Which look; voiding it, where it was wrong, brings the doses back.
    pub by: EntryId,
    /// Doses still at hand, to be discarded.
    pub left: u32,
    /// Doses already out, earliest first.
    pub out: Vec<Out>,
    /// Sows to watch for returns, the next to come back first.
    pub watch: Vec<Watch>,
}

/// Doses that went into a sow.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Out {
    /// The service.
    pub service: EntryId,
    /// Which sow.
    pub sow: SowId,
    /// When.
    pub at: Stamp,
    /// How many.
    pub doses: u8,
    /// After the look that failed: somebody did not know.
    pub after: bool,
}

/// A sow to watch, and the days on which she would come back in heat.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Watch {
    /// Which sow.
    pub sow: SowId,
    /// First day to look, 18 days after her first service with it.
    pub from: NaiveDate,
    /// Last day, 24 days after her last.
    pub to: NaiveDate,
}

/// The services with doses of a batch, each once, earliest first.
pub fn out(batch: EntryId, services: &[Seen<Service>]) -> Vec<Out> {
    let mut list: Vec<Out> = services
        .iter()
        .filter_map(|s| match s.fact.by {
            By::Doses {
                batch: of, doses, ..
            } if of == batch => Some(Out {
                service: s.entry(),
                sow: s.fact.sow,
                at: s.at,
                doses,
                after: false,
            }),
            _ => None,
        })
        .collect();
    list.sort_by_key(|out| (out.at.ms(), out.service));
    list.dedup_by_key(|out| out.service);
    list
}

/// Doses that no service has used yet.
pub fn left(batch: &SemenBatch, out: &[Out]) -> u32 {
    let used: u32 = out.iter().map(|out| u32::from(out.doses)).sum();
    u32::from(batch.doses).saturating_sub(used)
}

/// Where a batch stands on a day, by all that is recorded and not voided; looks and services of
/// other batches are passed over. A failed look pulls it, and so does a second one in doubt with no
/// passing one between. What passes later does not bring it back: the sample may have been another
/// tube. A void does.
pub fn state(
    batch: &Seen<SemenBatch>,
    looks: &[Seen<Retained>],
    services: &[Seen<Service>],
    floor: Floor,
    (zone, today): (&Zone, NaiveDate),
) -> State {
    let id = batch.entry();
    let mut of_it: Vec<_> = looks.iter().filter(|l| l.fact.batch == id).collect();
    of_it.sort_by_key(|l| (l.at.ms(), l.order));
    let mut now = State::NotLooked;
    // One in doubt that no passing one followed. Judged cold, a look leaves it open and says nothing.
    let mut doubted = false;
    for look in of_it {
        let (at, by) = (look.at, look.entry());
        let open = |now| match now {
            open @ State::LookAgain { .. } => open,
            _ => State::LookAgain { since: at, by },
        };
        now = match look.fact.standing(floor) {
            Standing::Doubtful if !doubted => {
                doubted = true;
                open(now)
            }
            Standing::Fails | Standing::Doubtful => {
                let out = out(id, services);
                return State::Pulled(pulled(&batch.fact, (at, by), out, zone, today));
            }
            Standing::Holds { .. } => {
                doubted = false;
                State::Holds { at, by }
            }
            Standing::Cold => open(now),
        };
    }
    now
}

fn pulled(
    batch: &SemenBatch,
    (since, by): (Stamp, EntryId),
    mut out: Vec<Out>,
    zone: &Zone,
    today: NaiveDate,
) -> Pulled {
    for one in &mut out {
        one.after = one.at.ms() > since.ms();
    }
    Pulled {
        since,
        by,
        left: left(batch, &out),
        watch: watch(&out, zone, today),
        out,
    }
}

fn watch(out: &[Out], zone: &Zone, today: NaiveDate) -> Vec<Watch> {
    let later = |at: Stamp, days: u8| {
        let day = zone.day(at.ms());
        day.checked_add_days(Days::new(days.into())).unwrap_or(day)
    };
    let mut list: Vec<Watch> = vec![];
    for one in out {
        let (from, to) = (later(one.at, RETURN_DAYS.0), later(one.at, RETURN_DAYS.1));
        match list.iter_mut().find(|w| w.sow == one.sow) {
            Some(seen) => (seen.from, seen.to) = (seen.from.min(from), seen.to.max(to)),
            None => list.push(Watch {
                sow: one.sow,
                from,
                to,
            }),
        }
    }
    list.retain(|w| w.to >= today);
    list.sort_by_key(|w| (w.from, w.to, w.sow));
    list
}
