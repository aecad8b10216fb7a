//! The views: what is folded from the log within the transaction that grows it, and can be
//! thrown away and rebuilt.

use super::error::StoreError;
use super::tables::{
    Stored, Tables, changed_key, code_key, drop_views, entry_at, of_subject_key, subject_key,
};
use pentally_domain::code::Code;
use pentally_domain::envelope::Entry;
use pentally_domain::fact::{Fact, Subject};
use pentally_domain::ledger::{Folded, Row};
use redb::{ReadableTable, WriteTransaction};
use std::collections::HashMap;

/// The ledgers touched by one transaction: each read once, written once.
#[derive(Default)]
pub(super) struct Views {
    touched: HashMap<Subject, Touched>,
}

struct Touched {
    ledger: Folded,
    stored_n: Option<u64>,
    n: u64,
}

impl Views {
    /// Takes in the entry stored as `n`.
    pub(super) fn take_in(
        &mut self,
        t: &mut Tables<'_>,
        n: u64,
        entry: &Entry,
        fact: &Fact,
    ) -> Result<(), StoreError> {
        let row = Row::of(entry.envelope(), fact.clone(), entry.order());
        for subject in fact.subjects(entry.envelope().id) {
            let key = subject_key(subject);
            t.of_subject.insert(&of_subject_key(&key, n), ())?;
            let touched = self.touch(t, subject)?;
            touched.n = touched.n.max(n);
            touched.ledger.insert(&row)?;
        }
        for (code, subject) in codes(fact) {
            t.codes.insert(
                code_key(code, Some(&subject_key(subject))).as_slice(),
                entry.envelope().id.uuid().as_bytes(),
            )?;
        }
        Ok(())
    }

    /// Writes what was touched.
    pub(super) fn write(self, t: &mut Tables<'_>) -> Result<(), StoreError> {
        for (subject, touched) in self.touched {
            let key = subject_key(subject);
            if let Some(before) = touched.stored_n {
                t.changed.remove(&changed_key(before, &key))?;
            }
            t.changed.insert(&changed_key(touched.n, &key), ())?;
            let value = Stored::value(touched.n, &touched.ledger)?;
            t.ledgers.insert(&key, value.as_slice())?;
        }
        Ok(())
    }

    fn touch(&mut self, t: &Tables<'_>, subject: Subject) -> Result<&mut Touched, StoreError> {
        use std::collections::hash_map::Entry::{Occupied, Vacant};
        match self.touched.entry(subject) {
            Occupied(known) => Ok(known.into_mut()),
            Vacant(place) => Ok(place.insert(load(t, subject)?)),
        }
    }
}

/// Folds the whole log anew. The rows of a ledger do not depend on the order, so neither do the bytes.
pub(super) fn rebuild(txn: &WriteTransaction) -> Result<(), StoreError> {
    /// Ledgers are written out after so many entries, so that memory stays bounded.
    const AT_ONCE: u64 = 50_000;
    drop_views(txn)?;
    let mut t = Tables::open(txn)?;
    let (end, _) = super::tables::end(&t.log)?;
    let mut views = Views::default();
    for n in 1..=end {
        let entry = entry_at(&t.log, n)?;
        // An entry whose body no longer reads stays in the log, as one of an unknown kind does.
        if let Ok(Some(fact)) = Fact::of(entry.envelope()) {
            views.take_in(&mut t, n, &entry, &fact)?;
        }
        if n % AT_ONCE == 0 {
            std::mem::take(&mut views).write(&mut t)?;
        }
    }
    views.write(&mut t)
}

/// The codes a fact gives out and where they lead; those of a correction too, since a reader
/// looks the code up in the ledger anyway.
pub(super) fn codes(fact: &Fact) -> Vec<(Code, Subject)> {
    match fact {
        Fact::PenTag(tag) => vec![(tag.code, Subject::Pen(tag.pen))],
        Fact::SemenBatch(batch) => batch
            .sources
            .iter()
            .map(|s| (batch.code, Subject::Boar(s.boar)))
            .collect(),
        Fact::Correction(correction) => codes(&correction.fact),
        _ => vec![],
    }
}

fn load(t: &Tables<'_>, subject: Subject) -> Result<Touched, StoreError> {
    let Some(value) = t.ledgers.get(&subject_key(subject))? else {
        return Ok(Touched {
            ledger: Folded::new(subject),
            stored_n: None,
            n: 0,
        });
    };
    let stored = Stored::of(value.value())?;
    let json = std::str::from_utf8(stored.json).unwrap_or_default();
    let ledger = Folded::read(subject, stored.index, json).ok_or_else(|| {
        StoreError::damaged(format!("the ledger of {subject} and its index differ"))
    })?;
    Ok(Touched {
        ledger,
        stored_n: Some(stored.n),
        n: stored.n,
    })
}
