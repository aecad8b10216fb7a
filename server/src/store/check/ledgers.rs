//! Every stored ledger against a fold of its own.

use super::fold::{fold, read};
use super::{Finding, wrong};
use crate::store::error::StoreError;
use crate::store::tables::{
    Bytes, CHANGED, LEDGERS, OF_SUBJECT, Read, Stored, changed_key, entry_at, of_subject_of,
    subject_key, subject_of,
};
use pentally_domain::envelope::Entry;
use pentally_domain::fact::{Fact, Subject};
use pentally_domain::ledger::{Folded, Ledger, Row};
use redb::{ReadTransaction, ReadableTable, ReadableTableMetadata};

/// Compares all ledgers, one subject's history at a time; says how many.
pub(super) fn check(txn: &ReadTransaction, log: &Read<u64, Bytes>) -> Result<u64, Finding> {
    let mut history: Option<(Subject, Vec<u64>)> = None;
    let mut count = 0;
    for item in txn.open_table(OF_SUBJECT)?.iter()? {
        let (key, n) = of_subject_of(item?.0.value());
        let subject = subject_of(&key)?;
        match &mut history {
            Some((same, list)) if *same == subject => list.push(n),
            _ => {
                count += one(txn, log, history.replace((subject, vec![n])))?;
            }
        }
    }
    count += one(txn, log, history)?;
    if txn.open_table(LEDGERS)?.len()? != count || txn.open_table(CHANGED)?.len()? != count {
        return wrong("there are ledgers of subjects that the log does not know");
    }
    Ok(count)
}

fn one(
    txn: &ReadTransaction,
    log: &Read<u64, Bytes>,
    history: Option<(Subject, Vec<u64>)>,
) -> Result<u64, Finding> {
    let Some((subject, numbers)) = history else {
        return Ok(0);
    };
    let key = subject_key(subject);
    let value = txn.open_table(LEDGERS)?.get(&key)?;
    let Some(value) = value else {
        return wrong(format!("the ledger of {subject} is missing"));
    };
    let Stored { n, index, json } = Stored::of(value.value())?;
    if numbers.last() != Some(&n)
        || txn
            .open_table(CHANGED)?
            .get(&changed_key(n, &key))?
            .is_none()
    {
        return wrong(format!(
            "the ledger of {subject} does not say which entry changed it last"
        ));
    }
    let stored: Ledger = serde_json::from_slice(json).map_err(StoreError::from)?;
    let rows = numbers
        .iter()
        .map(|n| Ok(row(&entry_at(log, *n)?)))
        .collect::<Result<Vec<_>, StoreError>>()?;
    let own = fold(rows.into_iter().flatten().collect());
    compare(subject, &stored, &own)?;
    let mut folded = Folded::new(subject);
    for row in &own {
        folded.insert(row).map_err(StoreError::from)?;
    }
    match folded.written() {
        Some((right, _)) if right == index => Ok(1),
        _ => wrong(format!(
            "the index of the ledger of {subject} is not what the log says"
        )),
    }
}

fn compare(subject: Subject, stored: &Ledger, own: &[Row]) -> Result<(), Finding> {
    let mut theirs: Vec<&Row> = stored.rows().collect();
    theirs.sort_by_key(|row| row.order);
    if stored.subject() != subject || !theirs.iter().copied().eq(own) {
        return wrong(format!("the ledger of {subject} is not what the log says"));
    }
    let theirs = stored
        .live()
        .into_iter()
        .map(|l| (l.order, l.at, l.fact.clone(), l.corrected_by));
    if !theirs.eq(read(subject, own)) {
        return wrong(format!(
            "the ledger of {subject} reads otherwise than the log says"
        ));
    }
    Ok(())
}

fn row(entry: &Entry) -> Option<Row> {
    Some(Row::of(
        entry.envelope(),
        Fact::of(entry.envelope()).ok()??,
        entry.order(),
    ))
}
