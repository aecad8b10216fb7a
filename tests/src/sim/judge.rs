//! What must hold after every history.

use super::office::Office;
use super::oracle::Oracle;
use super::phone::Phone;
use crate::naive;
use pentally_domain::barn::Barn;
use pentally_domain::envelope::Entry;
use pentally_domain::fact::{Fact, Subject};
use pentally_domain::id::{DeviceId, EntryId};
use pentally_domain::ledger::Ledger;
use std::collections::{BTreeMap, BTreeSet};

/// What does not hold.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Broken {
    /// Somebody was told "saved", and the office has it nowhere.
    Lost(EntryId),
    /// The office has it twice.
    Twice(EntryId),
    /// The office has an entry nobody wrote, or with other bytes.
    Invented(EntryId),
    /// A phone put another entry in the place of one that it held.
    Overwritten(usize, EntryId),
    /// Two entries of one device share a sequence.
    SameSequence(DeviceId, u64),
    /// What conflicted was written again under the identity that conflicted.
    SameIdentity(EntryId),
    /// Something still waits although the network healed.
    NotDrained(usize, usize),
    /// The phones never come to rest.
    NeverSettles,
    /// The office's own check failed.
    Check(String),
    /// The office's ledger is not what the log says.
    OfficeLedger(Subject),
    /// A phone shows something else than the office.
    PhoneLedger(usize, Subject),
}

/// Looks at everything.
pub fn judge(office: &Office, phones: &[Phone], oracle: &Oracle) -> Result<(), Broken> {
    for (index, phone) in phones.iter().enumerate() {
        if let Some(id) = phone.disk.overwritten.first() {
            return Err(Broken::Overwritten(index, *id));
        }
        if !phone.disk.waiting.is_empty() {
            return Err(Broken::NotDrained(index, phone.disk.waiting.len()));
        }
    }
    for (old, successors) in &oracle.again {
        let device = |id: &EntryId| oracle.written.get(id).map(|e| e.envelope().device);
        if let Some(id) = successors.iter().find(|new| device(new) == device(old)) {
            return Err(Broken::SameIdentity(*id));
        }
    }
    let log = office.log();
    each_once(&log, oracle)?;
    nothing_lost(&log, &office.aside(), oracle)?;
    office
        .store
        .check()
        .map_err(|finding| Broken::Check(finding.to_string()))?;
    let barn = office
        .store
        .barn()
        .map_err(|error| Broken::Check(error.to_string()))?;
    office_agrees(&barn, &log)?;
    phones
        .iter()
        .enumerate()
        .try_for_each(|(index, phone)| phone_agrees(index, &phone.shows(), &barn))
}

fn each_once(log: &[Entry], oracle: &Oracle) -> Result<(), Broken> {
    let (mut ids, mut places) = (BTreeSet::new(), BTreeSet::new());
    for entry in log {
        let e = entry.envelope();
        if !ids.insert(e.id) {
            return Err(Broken::Twice(e.id));
        }
        if !places.insert((e.device, e.seq)) {
            return Err(Broken::SameSequence(e.device, e.seq));
        }
        // The farm's own first entry is the office's; all others somebody is known to have written.
        if e.kind != "farm" && oracle.written.get(&e.id) != Some(entry) {
            return Err(Broken::Invented(e.id));
        }
    }
    Ok(())
}

fn nothing_lost(log: &[Entry], aside: &BTreeSet<String>, oracle: &Oracle) -> Result<(), Broken> {
    let ids: BTreeSet<EntryId> = log.iter().map(|e| e.envelope().id).collect();
    for id in &oracle.saved {
        let family = oracle.family(*id);
        let times = family.iter().filter(|member| ids.contains(member)).count();
        if times > 1
            && family
                .iter()
                .all(|member| !oracle.may_be_twice.contains(member))
        {
            return Err(Broken::Twice(*id));
        }
        if times == 0
            && !oracle.excused.contains(id)
            && !family
                .iter()
                .any(|member| unreadable_but_kept(member, aside, oracle))
        {
            return Err(Broken::Lost(*id));
        }
    }
    Ok(())
}

/// An entry whose body does not read belongs aside, letter for letter, and nowhere else.
fn unreadable_but_kept(id: &EntryId, aside: &BTreeSet<String>, oracle: &Oracle) -> bool {
    let unreadable = |entry: &Entry| Fact::of(entry.envelope()).is_err();
    oracle
        .written
        .get(id)
        .is_some_and(|entry| unreadable(entry) && aside.contains(&entry.to_line()))
}

fn office_agrees(barn: &Barn, log: &[Entry]) -> Result<(), Broken> {
    let readable: Vec<Entry> = log
        .iter()
        .filter(|e| matches!(Fact::of(e.envelope()), Ok(Some(_))))
        .cloned()
        .collect();
    let mut subjects = BTreeSet::new();
    for entry in &readable {
        if let Ok(Some(fact)) = Fact::of(entry.envelope()) {
            subjects.extend(fact.subjects(entry.envelope().id));
        }
    }
    for subject in subjects {
        let (rows, shown) = naive::fold(&readable, subject);
        let empty = Ledger::new(subject);
        let ledger = barn.ledger(subject).unwrap_or(&empty);
        let held: BTreeSet<EntryId> = ledger.rows().map(|row| row.order.id).collect();
        let live = ledger
            .live()
            .iter()
            .map(|l| (l.order, l.at.ms(), l.fact.clone(), l.corrected_by))
            .collect::<Vec<_>>();
        if held != rows || live != shown {
            return Err(Broken::OfficeLedger(subject));
        }
    }
    Ok(())
}

fn phone_agrees(index: usize, shows: &Barn, office: &Barn) -> Result<(), Broken> {
    let by_subject = |barn: &Barn| -> BTreeMap<Subject, Ledger> {
        barn.ledgers()
            .filter(|l| !l.is_empty())
            .map(|l| (l.subject(), l.clone()))
            .collect()
    };
    let (here, there) = (by_subject(shows), by_subject(office));
    let subjects: BTreeSet<_> = here.keys().chain(there.keys()).collect();
    match subjects
        .into_iter()
        .find(|subject| here.get(subject) != there.get(subject))
    {
        Some(subject) => Err(Broken::PhoneLedger(index, *subject)),
        None => Ok(()),
    }
}
