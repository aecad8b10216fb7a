//! What is coming, day by day, for the office's calendar: collections due, times off collection and
//! watches after a fever, sows' returns and farrowings. A view; nothing here is stored.

use crate::barn::{Barn, BoarFacts, SowFacts};
use crate::boar::OffReason;
use crate::explain::Origin;
use crate::gestation;
use crate::id::{BoarId, EntryId, SowId};
use crate::rest::health::{fever_watch, offs_on};
use crate::rest::week::{Planned, Recoveries, week};
use crate::time::Zone;
use crate::units::GestationDays;
use chrono::{Days, NaiveDate};

/// One thing that is coming, from a farm day to another, both included.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Coming {
    /// What.
    pub what: What,
    /// Its first day.
    pub from: NaiveDate,
    /// Its last day.
    pub to: NaiveDate,
}

/// What is coming.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum What {
    /// A boar is due to be collected.
    Collection(Planned),
    /// A boar is off collection, to a day that was entered.
    Off {
        /// Who.
        boar: BoarId,
        /// The entry.
        entry: EntryId,
        /// Why.
        reason: OffReason,
    },
    /// What a boar gives is watched after a fever.
    FeverWatch {
        /// Who.
        boar: BoarId,
        /// The entry that put him off.
        entry: EntryId,
    },
    /// A sow that did not hold comes back in heat.
    Return {
        /// Who.
        sow: SowId,
        /// The last service of her heat.
        service: EntryId,
    },
    /// A sow farrows.
    Farrowing {
        /// Who.
        sow: SowId,
        /// The last service of her heat.
        service: EntryId,
    },
}

/// What touches one of the `days` days from today on, at the instant `now_ms`: the earliest first,
/// and of one day in the order of [`What`], boars and sows by number. Times off without an end are
/// left out: nobody knows until when. So is a fever's watch while nobody knows its last day.
pub fn coming(barn: &Barn, own: &Recoveries, now_ms: i64, days: u16) -> Vec<Coming> {
    let zone = barn.zone_at(now_ms);
    let today = zone.day(now_ms);
    let due = week(barn, own, now_ms, today, days).into_iter();
    let due = due.flat_map(|(day, list)| list.into_iter().map(move |p| Coming::on(day, p)));
    let boars = barn.boars();
    let offs = boars.iter().flat_map(|boar| off_until(boar, &zone, today));
    let watches = boars.iter().filter_map(|boar| watch(boar, &zone, today));
    let gestation = GestationDays::new(barn.standard().standard.gestation_days.into()).ok();
    let sows = gestation.map(|length| of_sows(barn, length, now_ms));
    let sows = sows.into_iter().flatten();
    let mut list: Vec<_> = due.chain(offs).chain(watches).chain(sows).collect();
    let end = today.checked_add_days(Days::new(days.into()));
    list.retain(|c| today <= c.to && end.is_none_or(|end| c.from < end));
    list.sort_by_key(|c| c.from);
    list
}

impl Coming {
    fn on(day: NaiveDate, planned: Planned) -> Self {
        Self {
            what: What::Collection(planned),
            from: day,
            to: day,
        }
    }
}

fn off_until(boar: &BoarFacts, zone: &Zone, today: NaiveDate) -> Vec<Coming> {
    let offs = offs_on(boar, zone, today);
    let coming = offs.iter().filter_map(|o| {
        let what = What::Off {
            boar: boar.id,
            entry: o.off.entry(),
            reason: o.off.fact.reason,
        };
        let (from, to) = (o.days.from, o.days.until?);
        Some(Coming { what, from, to })
    });
    coming.collect()
}

fn watch(boar: &BoarFacts, zone: &Zone, today: NaiveDate) -> Option<Coming> {
    let watch = fever_watch(boar, zone, today)?;
    // While he is off with it and nobody said until when, its six weeks will be counted anew.
    let open = offs_on(boar, zone, today)
        .iter()
        .any(|o| o.off.entry() == watch.entry && o.days.until.is_none());
    let what = What::FeverWatch {
        boar: boar.id,
        entry: watch.entry,
    };
    (!open).then_some(Coming {
        what,
        from: watch.from,
        to: watch.until,
    })
}

/// Returns, and then farrowings, of the sows who were not seen back in heat.
fn of_sows(barn: &Barn, length: GestationDays, now_ms: i64) -> Vec<Coming> {
    let (mut returns, mut farrowings) = (vec![], vec![]);
    for sow in barn.sows() {
        let Some([back, farrows]) = after_service(barn, &sow, length, now_ms) else {
            continue;
        };
        returns.push(back);
        farrowings.push(farrows);
    }
    returns.append(&mut farrowings);
    returns
}

fn after_service(
    barn: &Barn,
    sow: &SowFacts,
    length: GestationDays,
    now_ms: i64,
) -> Option<[Coming; 2]> {
    let last = sow.services.last()?;
    let (at_ms, service) = (last.at.ms(), last.entry());
    let served_on = barn.zone_at(at_ms).day(at_ms);
    let origin = Origin::Stored(service.to_string());
    let expected = gestation::expected(served_on, length, &origin).ok()?;
    let zone = barn.zone_at(now_ms);
    let stood = sow.heats.iter().filter(|heat| heat.fact.standing);
    let back = stood
        .map(|heat| zone.day(heat.at.ms()))
        .any(|day| day >= expected.return_from);
    let sow = sow.id;
    (!back).then_some([
        Coming {
            what: What::Return { sow, service },
            from: expected.return_from,
            to: expected.return_to,
        },
        Coming {
            what: What::Farrowing { sow, service },
            from: expected.farrows_on,
            to: expected.farrows_on,
        },
    ])
}
