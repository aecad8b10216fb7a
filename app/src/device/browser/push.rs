//! Handing over what waits, and doing what the receipt says.

use super::db::{self, ASIDE, BESIDE, BESIDE_WAITING, ENTRIES, META, WAITING};
use super::mirror::Held;
use super::moment::{now_ms, random, stamp};
use super::net::{self, Answer};
use super::phone::{HEAD, MILESTONES, PULLED, Phone, asides};
use super::tabs::{Word, post as tell_tabs};
use super::trouble::Trouble;
use super::{driver, load};
use crate::device::held::HeldKey;
use crate::device::hold::Milestones;
use crate::device::post::{self, Mark, PUSH_MAX_ENTRIES};
use crate::device::pulled::Pulled;
use crate::device::reissue::reissue;
use crate::device::show::SetAside;
use indexed_db_futures::KeyRange;
use indexed_db_futures::object_store::ObjectStore;
use indexed_db_futures::transaction::Transaction;
use js_sys::{Array, JsString};
use leptos::prelude::Update;
use pentally_domain::envelope::Entry;
use pentally_domain::id::{DeviceId, EntryId};
use pentally_domain::json;
use pentally_domain::outbox::Input;
use pentally_domain::sync::{Beside, Orders, Receipt};
use pentally_domain::writer::Head;
use std::collections::BTreeSet;
use std::rc::Rc;

/// The most held entries let go after one receipt, or marked in one transaction.
const AT_ONCE: u32 = 500;
/// The most names in one push.
const NAMES_MAX: u32 = 200;

/// What is sent in one go.
struct Load {
    head: Head,
    keys: Vec<HeldKey>,
    beside: Vec<Beside>,
    received_to: Option<u64>,
    body: JsString,
}

/// Hands over the next page of what waits.
pub async fn push(phone: &Rc<Phone>) -> Result<Input, Trouble> {
    let sent = pack(phone).await?;
    let text = match net::post(phone.feed, "/api/v1/sync", &sent.body).await {
        Answer::Text(text) => String::from(text),
        Answer::Status(code) => return Ok(post::status(code)),
        Answer::Nothing => return Ok(Input::Failed),
    };
    let Ok(receipt) = json::read::<Receipt>(&text) else {
        return Ok(Input::Outdated);
    };
    if receipt.farm != phone.farm {
        // Another office answers at this address now: what it said is not about this farm.
        phone.met.set(false);
        return Ok(Input::Failed);
    }
    // It took this in, so it knows this phone, and has room.
    phone.feed.link.update(|link| link.warning = None);
    let orders = take(phone, &sent, &receipt).await?;
    let left = u64::from(phone.mirror.waiting.size()) + phone.mirror.beside_count();
    Ok(Input::Received { left, orders })
}

async fn pack(phone: &Rc<Phone>) -> Result<Load, Trouble> {
    let db = phone.db().await?;
    let tx = db::reading(&db, &[META, ENTRIES, WAITING, BESIDE_WAITING])?;
    let meta = tx.object_store(META)?;
    let head: Head = db::read(&meta, HEAD)
        .await?
        .ok_or_else(|| Trouble::other(&"no head"))?;
    let pulled: Pulled = db::read(&meta, PULLED).await?.unwrap_or_default();
    let waiting = tx.object_store(WAITING)?;
    let unsent = db::count(&waiting).await?;
    let mut pairs = vec![];
    for (key, value) in db::pairs(&waiting, db::all(), PUSH_MAX_ENTRIES).await? {
        if let Some(key) = HeldKey::parse(&key) {
            pairs.push((key, Held::read(value)?));
        }
    }
    let (floor, received_to) = own_threads(&tx, &head).await?;
    let beside = db::pairs(&tx.object_store(BESIDE_WAITING)?, db::all(), NAMES_MAX).await?;
    let beside: Vec<Beside> = beside
        .iter()
        .filter_map(|(_, v)| json::read(&v.as_string()?).ok())
        .collect();
    if !pairs.is_empty() {
        pairs.truncate(post::fits(pairs.iter().map(|(_, held)| held.bytes())));
    }
    let lines: Array = pairs.iter().map(|(_, held)| held.line()).collect();
    let frame = post::frame(&post::push(
        head.device,
        pulled.believed(),
        floor,
        unsent,
        beside.clone(),
    ));
    let (before, after) = frame.ok_or_else(|| Trouble::other(&"a push could not be written"))?;
    let body = JsString::from(before)
        .concat(&lines.join(",").into())
        .concat(&after.into());
    Ok(Load {
        head,
        keys: pairs.into_iter().map(|(key, _)| key).collect(),
        beside,
        received_to,
        body,
    })
}

/// The first of its own entries that this phone holds, and up to where the office has them; see
/// [`post::received_to`]. Reads entries and waiting.
pub async fn own_threads(tx: &Transaction<'_>, head: &Head) -> Result<(u64, Option<u64>), Trouble> {
    let first = async |store| {
        let own = db::beginning(&format!("{}/", head.device));
        let keys = db::keys(&tx.object_store(store)?, own, 1).await?;
        let key = keys.first().and_then(|key| HeldKey::parse(key));
        Ok::<_, Trouble>(key.map(|key| key.seq))
    };
    let floor = first(ENTRIES).await?.unwrap_or(head.seq + 1);
    let waiting = first(WAITING).await?;
    Ok((floor, post::received_to(head.seq, floor, waiting)))
}

/// Takes in a receipt: what was received waits no longer, what was set aside is shown as such.
async fn take(phone: &Rc<Phone>, sent: &Load, receipt: &Receipt) -> Result<Orders, Trouble> {
    let own = sent.head.device;
    let resends = post::resends(receipt, own, sent.received_to);
    let marks = post::marks(&sent.keys, &receipt.fates, resends).map_err(|e| Trouble::other(&e))?;
    let db = phone.db().await?;
    let tx = db::writing(&db, &[META, ENTRIES, WAITING, ASIDE, BESIDE_WAITING])?;
    let aside = mark(&tx, &marks).await?;
    let named = forget_named(&tx.object_store(BESIDE_WAITING)?, &sent.beside).await?;
    let_go(&tx, own, receipt).await?;
    let meta = tx.object_store(META)?;
    let pulled: Pulled = db::read(&meta, PULLED).await?.unwrap_or_default();
    db::put(&meta, PULLED, &pulled.after_receipt(receipt))?;
    // Also what an earlier receipt set aside, if the phone died before it was written again.
    let stand = db::pairs(&tx.object_store(ASIDE)?, db::all(), db::NO_LIMIT).await?;
    let stand = asides(&stand)?;
    let wanting = stand.iter().any(|(_, set)| set.wants_reissue());
    // Read now: what was saved while the push was under way may have reached the office already.
    let head: Option<Head> = db::read(&meta, HEAD).await?;
    db::commit(tx).await?;
    for entry in &named {
        phone.mirror.beside.delete(&entry.to_string().into());
    }
    phone.show_received(&marks, &aside);
    tell_tabs(phone, &Word::Settled);
    let own_seq = head.filter(|h| h.device == own).map_or(u64::MAX, |h| h.seq);
    let orders = post::read_orders(receipt, own, own_seq, sent.received_to, &stand);
    if orders.new_device {
        phone.rolled_back.set(Some(own));
    } else if wanting {
        write_again(phone).await?;
    }
    Ok(orders)
}

/// Writes down what became of each entry.
async fn mark(
    tx: &Transaction<'_>,
    marks: &[(HeldKey, Mark)],
) -> Result<Vec<(HeldKey, SetAside)>, Trouble> {
    let (entries, waiting, store) = (
        tx.object_store(ENTRIES)?,
        tx.object_store(WAITING)?,
        tx.object_store(ASIDE)?,
    );
    let mut aside = vec![];
    for (key, mark) in marks {
        let text = key.to_string();
        db::delete(&waiting, &text)?;
        let Mark::Aside(why) = mark else { continue };
        if let Some(value) = db::raw(&entries, &text).await? {
            let entry = Held::read(value)?.entry()?.envelope().id;
            let set = SetAside {
                entry,
                why: why.clone(),
                again: None,
            };
            db::put(&store, &text, &set)?;
            aside.push((*key, set));
        }
    }
    Ok(aside)
}

/// Personal data that was sent waits no longer, unless it was set anew meanwhile.
async fn forget_named(store: &ObjectStore<'_>, sent: &[Beside]) -> Result<Vec<EntryId>, Trouble> {
    let mut gone = vec![];
    for beside in sent {
        let key = beside.entry.to_string();
        if db::read::<Beside>(store, &key).await?.as_ref() == Some(beside) {
            db::delete(store, &key)?;
            gone.push(beside.entry);
        }
    }
    Ok(gone)
}

/// Lets go of own entries that the office has had for long and a verified backup covers.
async fn let_go(tx: &Transaction<'_>, own: DeviceId, receipt: &Receipt) -> Result<(), Trouble> {
    let meta = tx.object_store(META)?;
    let mut milestones: Milestones = db::read(&meta, MILESTONES).await?.unwrap_or_default();
    milestones.pass(
        receipt.now_ms,
        receipt.contiguous.get(&own).copied().unwrap_or(0),
    );
    db::put(&meta, MILESTONES, &milestones)?;
    let upto = milestones.may_go(receipt.now_ms, receipt.backed_up);
    if upto == 0 {
        return Ok(());
    }
    let key = |seq| HeldKey { device: own, seq }.to_string();
    let range = KeyRange::Bound(key(0), false, key(upto), false);
    let entries = tx.object_store(ENTRIES)?;
    let old = db::keys(&entries, range.clone(), AT_ONCE).await?;
    let mut needed: BTreeSet<String> = BTreeSet::new();
    for store in [WAITING, ASIDE] {
        needed.extend(db::keys(&tx.object_store(store)?, range.clone(), db::NO_LIMIT).await?);
    }
    old.iter()
        .filter(|key| !needed.contains(*key))
        .try_for_each(|key| db::delete(&entries, key))
}

/// The office's history is another: everything held here waits again, but for what was written
/// again under another identity; names too. A cursor of that other history goes too.
pub async fn mark_all_unsent(phone: &Rc<Phone>, forget_cursor: bool) -> Result<(), Trouble> {
    let mut range = db::all();
    loop {
        let db = phone.db().await?;
        let tx = db::writing(
            &db,
            &[META, ENTRIES, WAITING, ASIDE, BESIDE, BESIDE_WAITING],
        )?;
        let page = db::pairs(&tx.object_store(ENTRIES)?, range, AT_ONCE).await?;
        let (waiting, aside) = (tx.object_store(WAITING)?, tx.object_store(ASIDE)?);
        for (key, value) in &page {
            let stands: Option<SetAside> = db::read(&aside, key).await?;
            if stands.is_none_or(|aside| aside.again.is_none()) {
                db::delete(&aside, key)?;
                db::put_raw(&waiting, key, value.clone())?;
            }
        }
        let Some((last, _)) = page.last() else {
            let meta = tx.object_store(META)?;
            let pulled: Pulled = db::read(&meta, PULLED).await?.unwrap_or_default();
            db::put(&meta, PULLED, &pulled.after_marking(forget_cursor))?;
            names_wait(&tx).await?;
            db::commit(tx).await?;
            break;
        };
        range = db::after(last);
        db::commit(tx).await?;
    }
    phone.settle().await?;
    tell_tabs(phone, &Word::Settled);
    Ok(())
}

/// The office keeps the latest of each name, so an old one does no harm.
async fn names_wait(tx: &Transaction<'_>) -> Result<(), Trouble> {
    let (known, waiting) = (tx.object_store(BESIDE)?, tx.object_store(BESIDE_WAITING)?);
    for (key, value) in db::pairs(&known, db::all(), db::NO_LIMIT).await? {
        db::put_raw(&waiting, &key, value)?;
    }
    Ok(())
}

/// This phone was rolled back: it goes on under a new identity.
pub async fn new_device(phone: &Rc<Phone>) -> Result<(), Trouble> {
    let db = phone.db().await?;
    let tx = db::writing(&db, &[META])?;
    let meta = tx.object_store(META)?;
    let head: Head = db::read(&meta, HEAD)
        .await?
        .ok_or_else(|| Trouble::other(&"no head"))?;
    // Another tab may have done it already.
    if Some(head.device) == phone.rolled_back.take() {
        let fresh = Head::new(head.farm, head.barn, DeviceId::v7(now_ms(), random()));
        db::put(
            &meta,
            HEAD,
            &Head {
                clock: head.clock,
                seen: head.seen,
                ..fresh
            },
        )?;
        db::delete(&meta, MILESTONES)?;
    }
    db::commit(tx).await?;
    write_again(phone).await
}

/// Writes again, under the identity of now, what conflicts under a former one; each once, because
/// the note that it was done is in the same transaction.
async fn write_again(phone: &Rc<Phone>) -> Result<(), Trouble> {
    let db = phone.db().await?;
    let tx = db::writing(
        &db,
        &[META, ENTRIES, WAITING, ASIDE, BESIDE, BESIDE_WAITING],
    )?;
    let (entries, aside) = (tx.object_store(ENTRIES)?, tx.object_store(ASIDE)?);
    let mut former = vec![];
    for (key, aside) in asides(&db::pairs(&aside, db::all(), db::NO_LIMIT).await?)? {
        if aside.wants_reissue() {
            let value = db::raw(&entries, &key.to_string()).await?;
            former.push((key, aside, Held::read(value.unwrap_or_default())?.entry()?));
        }
    }
    if former.is_empty() {
        return Ok(());
    }
    let old: Vec<Entry> = former.iter().map(|(_, _, entry)| entry.clone()).collect();
    let chance: Vec<_> = old.iter().map(|_| random()).collect();
    let head: Head = db::read(&tx.object_store(META)?, HEAD)
        .await?
        .ok_or_else(|| Trouble::other(&"no head"))?;
    let now = stamp(now_ms()).map_err(|e| Trouble::other(&e))?;
    let (new, after) = reissue(&head, &old, now, &chance)?;
    db::put(&tx.object_store(META)?, HEAD, &after)?;
    for ((key, set_aside, _), entry) in former.into_iter().zip(&new) {
        let (text, value) = (HeldKey::of(entry).to_string(), Held::of(entry).stored());
        db::put_raw(&entries, &text, value.clone())?;
        db::put_raw(&tx.object_store(WAITING)?, &text, value)?;
        rename(&tx, set_aside.entry, entry.envelope().id).await?;
        db::put(
            &aside,
            &key.to_string(),
            &SetAside {
                again: Some(entry.envelope().id),
                ..set_aside
            },
        )?;
    }
    db::commit(tx).await?;
    phone.changes.set(phone.changes.get() + 1);
    load::again(phone).await?;
    tell_tabs(phone, &Word::Anew);
    driver::tell(phone, Input::Saved);
    Ok(())
}

/// A name that stood beside the former entry stands beside its successor.
async fn rename(tx: &Transaction<'_>, old: EntryId, new: EntryId) -> Result<(), Trouble> {
    let store = tx.object_store(BESIDE)?;
    if let Some(beside) = db::read::<Beside>(&store, &old.to_string()).await? {
        let beside = Beside {
            entry: new,
            ..beside
        };
        db::put(&store, &new.to_string(), &beside)?;
        db::put(&tx.object_store(BESIDE_WAITING)?, &new.to_string(), &beside)?;
    }
    Ok(())
}
