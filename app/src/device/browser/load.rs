//! Filling the feed from the store.
//!
//! The first time, ledgers are merged into the barn in place as they are read, what the open page
//! needs before the rest: merging is order-free, so saves and pulls may come in between. When
//! ledgers must shrink, a new barn is built and takes the old one's place.

use super::db::{self, ASIDE, BESIDE, ENTRIES, META, SUMMARIES};
use super::mirror::Held;
use super::moment::sleep;
use super::phone::{OUTLOOK, PERSON, PULLED, Phone, asides};
use super::trouble::Trouble;
use crate::device::held::HeldKey;
use crate::device::pulled::Pulled;
use crate::device::show::{SetAside, first_needed, goes_on_top};
use leptos::prelude::{GetUntracked, Notify, Set, Update, UpdateUntracked, WithUntracked};
use pentally_domain::barn::Barn;
use pentally_domain::envelope::Entry;
use pentally_domain::fact::Subject;
use pentally_domain::json;
use pentally_domain::ledger::Ledger;
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;
use std::sync::Arc;
use wasm_bindgen::JsValue;

const BATCH: u32 = 48;

/// Fills the feed for the first time.
pub async fn first(phone: &Rc<Phone>) -> Result<(), Trouble> {
    phone.settle().await?;
    let pulled = settings(phone).await?;
    let farm = summaries_at(phone, &[Subject::Farm]).await?;
    let pens = summaries_of(phone, "pen/").await?;
    let on_top = on_top(phone, &pulled).await?;
    change(phone, |barn| {
        farm.iter().chain(&pens).for_each(|ledger| barn.put(ledger));
        put_on_top(phone, barn, &on_top);
    });
    names(phone).await?;
    let path = web_sys::window()
        .and_then(|w| w.location().pathname().ok())
        .unwrap_or_default();
    let needed = phone
        .feed
        .barn
        .with_untracked(|barn| first_needed(&path, barn));
    let needed = summaries_at(phone, &needed).await?;
    change(phone, |barn| {
        needed.iter().for_each(|ledger| barn.put(ledger))
    });
    phone.feed.barn.notify();
    each_batch(phone, |ledgers| {
        change(phone, |barn| {
            ledgers.iter().for_each(|ledger| barn.put(ledger))
        })
    })
    .await?;
    phone.feed.link.update(|link| link.whole = true);
    phone.feed.barn.notify();
    Ok(())
}

/// Builds the barn anew and puts it in the old one's place.
pub async fn again(phone: &Rc<Phone>) -> Result<(), Trouble> {
    loop {
        let changes = phone.changes.get();
        phone.settle().await?;
        let pulled = settings(phone).await?;
        let mut barn = Barn::default();
        each_batch(phone, |ledgers| {
            ledgers.iter().for_each(|ledger| barn.put(ledger))
        })
        .await?;
        let on_top = on_top(phone, &pulled).await?;
        if phone.changes.get() != changes {
            continue;
        }
        put_on_top(phone, &mut barn, &on_top);
        phone.feed.barn.set(Arc::new(barn));
        return names(phone).await;
    }
}

/// Takes in the ledgers of some subjects, such as those another tab pulled.
pub async fn some(phone: &Rc<Phone>, subjects: &[Subject]) -> Result<(), Trouble> {
    settings(phone).await?;
    let ledgers = summaries_at(phone, subjects).await?;
    change(phone, |barn| {
        ledgers.iter().for_each(|ledger| barn.put(ledger))
    });
    names(phone).await?;
    phone.feed.barn.notify();
    Ok(())
}

/// Entries of kinds that only a newer version reads are held and sent, and show on no page.
fn put_on_top(phone: &Phone, barn: &mut Barn, entries: &[Entry]) {
    for entry in entries {
        barn.apply(entry);
    }
    phone.mirror.for_each_entry(|entry| {
        barn.apply(&entry);
    });
}

/// Changes the barn in place; pages hear of it with the next notice.
fn change(phone: &Phone, with: impl FnOnce(&mut Barn)) {
    phone
        .feed
        .barn
        .update_untracked(|barn| with(Arc::make_mut(barn)));
}

/// Reads who is picked and how far the ledgers go.
async fn settings(phone: &Rc<Phone>) -> Result<Pulled, Trouble> {
    let db = phone.db().await?;
    let tx = db::reading(&db, &[META])?;
    let meta = tx.object_store(META)?;
    let pulled: Pulled = db::read(&meta, PULLED).await?.unwrap_or_default();
    let person = db::read(&meta, PERSON).await?.flatten();
    if phone.feed.person.get_untracked() != person {
        phone.feed.person.set(person);
    }
    phone.feed.link.update(|link| {
        link.as_of_ms = pulled.as_of_ms;
        link.role = pulled.role;
    });
    Ok(pulled)
}

/// The held entries that go on top of the ledgers, but for those that wait: the mirror has them.
async fn on_top(phone: &Rc<Phone>, pulled: &Pulled) -> Result<Vec<Entry>, Trouble> {
    let db = phone.db().await?;
    let tx = db::reading(&db, &[ENTRIES, ASIDE])?;
    let store = tx.object_store(ENTRIES)?;
    let aside: BTreeMap<HeldKey, SetAside> =
        asides(&db::pairs(&tx.object_store(ASIDE)?, db::all(), db::NO_LIMIT).await?)?
            .into_iter()
            .collect();
    let mut waiting = BTreeSet::new();
    phone.mirror.for_each_key(|key| {
        waiting.insert(key);
    });
    let mut entries = vec![];
    for text in db::keys(&store, db::all(), db::NO_LIMIT).await? {
        let Some(key) = HeldKey::parse(&text) else {
            continue;
        };
        if waiting.contains(&key) || !goes_on_top(key, &pulled.includes, aside.get(&key)) {
            continue;
        }
        if let Some(value) = db::raw(&store, &text).await? {
            entries.push(Held::read(value)?.entry()?);
        }
    }
    Ok(entries)
}

/// Takes in the personal data held here, and what each boar is expected to give.
async fn names(phone: &Rc<Phone>) -> Result<(), Trouble> {
    let db = phone.db().await?;
    let tx = db::reading(&db, &[BESIDE, META])?;
    let outlook = db::text(&tx.object_store(META)?, OUTLOOK).await?;
    let outlook = outlook.and_then(|text| json::read(&text).ok());
    let pairs = db::pairs(&tx.object_store(BESIDE)?, db::all(), db::NO_LIMIT).await?;
    let beside = pairs
        .iter()
        .filter_map(|(_, value)| json::read(&value.as_string()?).ok());
    phone.feed.barn.update(|barn| {
        let barn = Arc::make_mut(barn);
        beside.for_each(|b| barn.put_beside(b));
        if let Some(outlook) = outlook {
            barn.put_outlook(Arc::new(outlook));
        }
    });
    Ok(())
}

async fn summaries_at(phone: &Rc<Phone>, subjects: &[Subject]) -> Result<Vec<Ledger>, Trouble> {
    let db = phone.db().await?;
    let tx = db::reading(&db, &[SUMMARIES])?;
    let store = tx.object_store(SUMMARIES)?;
    let mut ledgers = vec![];
    for subject in subjects {
        if let Some(value) = db::raw(&store, &subject.to_string()).await? {
            ledgers.extend(ledger(&value));
        }
    }
    Ok(ledgers)
}

async fn summaries_of(phone: &Rc<Phone>, prefix: &str) -> Result<Vec<Ledger>, Trouble> {
    let db = phone.db().await?;
    let tx = db::reading(&db, &[SUMMARIES])?;
    let pairs = db::pairs(
        &tx.object_store(SUMMARIES)?,
        db::beginning(prefix),
        db::NO_LIMIT,
    )
    .await?;
    Ok(pairs
        .iter()
        .filter_map(|(_, value)| ledger(value))
        .collect())
}

/// All ledgers, a batch at a time, with a breath for the page in between.
async fn each_batch(phone: &Rc<Phone>, mut take: impl FnMut(&[Ledger])) -> Result<(), Trouble> {
    let mut range = db::all();
    loop {
        let db = phone.db().await?;
        let tx = db::reading(&db, &[SUMMARIES])?;
        let pairs = db::pairs(&tx.object_store(SUMMARIES)?, range, BATCH).await?;
        drop(tx);
        let Some((last, _)) = pairs.last() else {
            return Ok(());
        };
        range = db::after(last);
        let ledgers: Vec<Ledger> = pairs
            .iter()
            .filter_map(|(_, value)| ledger(value))
            .collect();
        take(&ledgers);
        sleep(0).await;
    }
}

/// A ledger a newer office wrote may hold what this version cannot read; it is kept and not shown.
pub fn ledger(value: &JsValue) -> Option<Ledger> {
    json::read(&value.as_string()?).ok()
}
