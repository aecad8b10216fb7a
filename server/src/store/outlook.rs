//! Fitting what each boar is expected to give, and keeping it for phones.
//!
//! A fit is a cache: nothing rests on it that the log could not bring back, so it is made outside
//! of the transactions that take entries in, and a restored or copied store simply makes another.

use super::error::StoreError;
use super::tables::{
    LEDGERS, META, OF_SUBJECT, PairKey, Stored, entry_at, log, of_subject_key, of_subject_of,
    subject_key, subject_of,
};
use super::{Store, meta};
use pentally_domain::barn::Barn;
use pentally_domain::climate::{FarmDay, carried, days, load};
use pentally_domain::fact::{Fact, Subject};
use pentally_domain::id::BoarId;
use pentally_domain::ledger::{Ledger, Row};
use pentally_domain::mixed::FitError;
use pentally_domain::output::{Herd, History, Outlook, Sees};
use pentally_domain::said::Label;
use redb::{ReadTransaction, ReadableTable};
use serde::{Deserialize, Serialize};
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::sync::{Arc, PoisonError};

/// Why there is no fit.
#[derive(Debug, thiserror::Error)]
pub enum OutlookError {
    /// See [`StoreError`].
    #[error(transparent)]
    Store(#[from] StoreError),
    /// See [`FitError`].
    #[error("what boars are expected to give could not be fitted: {0}")]
    Fit(#[from] FitError),
}

/// Which fit is kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct MadeOutlook {
    /// When it was made, in ms since 1970.
    pub made_at_ms: i64,
    /// How many entries the log had.
    pub n: u64,
}

/// A fit as pages read it.
#[derive(Debug)]
pub(super) struct Read {
    made: MadeOutlook,
    outlook: Arc<Outlook>,
}

impl Store {
    /// Which fit is kept; none before the first.
    pub fn outlook_made(&self) -> Result<Option<MadeOutlook>, StoreError> {
        self.read(|txn| meta::get(&txn.open_table(META)?, meta::OUTLOOK_MADE_KEY))
    }

    /// The text of the last fit, for phones.
    pub fn outlook_text(&self) -> Result<Option<String>, StoreError> {
        self.read(|txn| meta::get(&txn.open_table(META)?, meta::OUTLOOK_KEY))
    }

    /// The last fit, for pages painted here. It is read once and kept.
    pub fn outlook(&self) -> Result<Option<Arc<Outlook>>, StoreError> {
        let Some(made) = self.outlook_made()? else {
            return Ok(None);
        };
        let held = self.outlook.read().unwrap_or_else(PoisonError::into_inner);
        if let Some(read) = held.as_ref().filter(|read| read.made == made) {
            return Ok(Some(Arc::clone(&read.outlook)));
        }
        drop(held);
        let Some(text) = self.outlook_text()? else {
            return Ok(None);
        };
        let outlook = Arc::new(serde_json::from_str(&text)?);
        let mut held = self.outlook.write().unwrap_or_else(PoisonError::into_inner);
        *held = Some(Read {
            made,
            outlook: Arc::clone(&outlook),
        });
        Ok(Some(outlook))
    }

    /// Fits all that the log holds, and keeps it.
    pub fn fit_outlook(&self, now_ms: i64) -> Result<MadeOutlook, OutlookError> {
        let n = self.standing()?.cursor.n;
        let fitted = self.read(|txn| match fit(txn, now_ms) {
            Err(OutlookError::Store(error)) => Err(error),
            other => Ok(other),
        })??;
        let made = MadeOutlook {
            made_at_ms: now_ms,
            n,
        };
        let text = serde_json::to_string(&fitted.rounded()).map_err(StoreError::from)?;
        self.write(|t| {
            meta::put(&mut t.meta, meta::OUTLOOK_KEY, &text)?;
            meta::put(&mut t.meta, meta::OUTLOOK_MADE_KEY, &made)
        })?;
        Ok(made)
    }
}

fn fit(txn: &ReadTransaction, now_ms: i64) -> Result<Outlook, OutlookError> {
    let mut farm = Barn::default();
    let whole = whole(txn, &[Subject::Farm])?;
    farm.put(&whole);
    let zone = farm.zone_at(now_ms);
    let standard = farm.standard().standard;
    let climate = whole.live();
    let climate = climate.iter().filter_map(|live| match live.fact {
        Fact::Climate(climate) => Some((live.order, climate)),
        _ => None,
    });
    let days: Vec<FarmDay> = days(climate, &standard, &zone);
    // Boars are collected on the same days: each day's load is added up once.
    let loads = RefCell::new(BTreeMap::new());
    let hot_days = |day| {
        let told = || {
            let load = load(&days, day);
            (load.days_known > 0).then_some(load.hot_days)
        };
        *loads.borrow_mut().entry(day).or_insert_with(told)
    };
    let fitted = Outlook::fitted(&InStore { txn, farm: &farm }, &zone, &hot_days, now_ms)?;
    Ok(Outlook {
        heat: carried(&days, zone.day(now_ms)),
        ..fitted
    })
}

/// The herd, read from the store one boar at a time: a barn's years are larger than memory.
struct InStore<'a> {
    txn: &'a ReadTransaction,
    farm: &'a Barn,
}

impl InStore<'_> {
    /// Each boar's identities, by the one that stays.
    fn boars(&self) -> Result<BTreeMap<BoarId, Vec<Subject>>, StoreError> {
        let identity = self.farm.identity();
        let mut boars: BTreeMap<BoarId, Vec<Subject>> = BTreeMap::new();
        for item in self.txn.open_table(LEDGERS)?.iter()? {
            let subject = subject_of(item?.0.value())?;
            if let Subject::Boar(id) = subject {
                boars.entry(identity(id)).or_default().push(subject);
            }
        }
        Ok(boars)
    }
}

impl Herd for InStore<'_> {
    type Error = OutlookError;

    fn lines(&self) -> Result<Vec<Label>, OutlookError> {
        let ledgers = self.txn.open_table(LEDGERS).map_err(StoreError::from)?;
        let mut lines = vec![];
        for (id, subjects) in self.boars()? {
            for subject in subjects {
                let stored = ledgers
                    .get(&subject_key(subject))
                    .map_err(StoreError::from)?;
                let Some(value) = stored else { continue };
                let stored = Stored::of(value.value())?;
                let ledger: Ledger =
                    serde_json::from_slice(stored.json).map_err(StoreError::from)?;
                lines.extend(History::of_ledger(id, &ledger).line().cloned());
            }
        }
        Ok(lines)
    }

    fn each(&self, see: &mut Sees<'_, OutlookError>) -> Result<(), OutlookError> {
        for (id, subjects) in self.boars()? {
            let ledger = whole(self.txn, &subjects)?;
            see(id, &History::of_ledger(id, &ledger))?;
        }
        Ok(())
    }
}

/// Every entry about subjects that are one, in a ledger that drops nothing.
pub(super) fn whole(txn: &ReadTransaction, subjects: &[Subject]) -> Result<Ledger, StoreError> {
    let (log, of_subject) = (log(txn)?, txn.open_table(OF_SUBJECT)?);
    let mut ledger = Ledger::whole(subjects.first().copied().unwrap_or(Subject::Farm));
    for subject in subjects {
        let key = subject_key(*subject);
        let (low, high) = (of_subject_key(&key, 0), of_subject_key(&key, u64::MAX));
        for item in of_subject.range::<&PairKey>(&low..=&high)? {
            let (_, n) = of_subject_of(item?.0.value());
            let entry = entry_at(&log, n)?;
            if let Ok(Some(fact)) = Fact::of(entry.envelope()) {
                ledger.insert(Row::of(entry.envelope(), fact, entry.order()));
            }
        }
    }
    Ok(ledger)
}
