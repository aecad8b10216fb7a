//! Saving: one strict transaction over the head of this device's thread and its new entries.

use super::db::{self, BESIDE, BESIDE_WAITING, DRAFTS, ENTRIES, META, WAITING};
use super::driver;
use super::mirror::Held;
use super::moment::{now_ms, random, stamp};
use super::phone::{HEAD, PERSON, Phone, current};
use super::tabs::{Word, post};
use super::trouble::Trouble;
use crate::device::held::HeldKey;
use crate::device::{Draft, SaveError, entry_allowed};
use leptos::prelude::{GetUntracked, Set, Update};
use pentally_domain::envelope::Entry;
use pentally_domain::fact::Fact;
use pentally_domain::id::{EntryId, PersonId};
use pentally_domain::outbox::Input;
use pentally_domain::sync::Beside;
use pentally_domain::writer::{Head, Moment};
use std::rc::Rc;
use std::sync::Arc;

/// Saves facts as entries; ends the unfinished work under `done`, if any, with them.
pub async fn save(drafts: Vec<Draft>, done: Option<&str>) -> Result<Vec<Entry>, SaveError> {
    let phone = writable()?;
    let minted = mint(&phone, drafts)?;
    let mut tried = None;
    let entries = phone
        .insist(async || write(&phone, &minted, done, &mut tried).await)
        .await?;
    if let Some(done) = done {
        phone.mirror.drafts.delete(&done.into());
    }
    let keys = entries.iter().map(|e| HeldKey::of(e).to_string()).collect();
    for entry in &entries {
        phone.show_saved(entry);
    }
    post(&phone, &Word::Saved { keys });
    driver::tell(&phone, Input::Saved);
    Ok(entries)
}

/// Keeps unfinished work, or ends it.
pub async fn put_draft(key: &str, text: Option<String>) -> Result<(), SaveError> {
    let phone = writable()?;
    let map = &phone.mirror.drafts;
    let write = async || {
        let db = phone.db().await?;
        let tx = db::writing(&db, &[DRAFTS])?;
        let store = tx.object_store(DRAFTS)?;
        match &text {
            Some(text) => db::put_text(&store, key, text)?,
            None => db::delete(&store, key)?,
        }
        db::commit(tx).await
    };
    phone.insist(write).await?;
    match &text {
        Some(text) => drop(map.set(&key.into(), &text.into())),
        None => drop(map.delete(&key.into())),
    }
    Ok(())
}

/// Sets the personal data of an entry.
pub async fn set_name(entry: EntryId, text: Option<String>) -> Result<(), SaveError> {
    let phone = writable()?;
    let beside = Beside {
        entry,
        text,
        set_at_ms: now_ms(),
    };
    let json = serde_json::to_string(&beside).map_err(Trouble::from)?;
    let key = entry.to_string();
    let write = async || {
        let db = phone.db().await?;
        let tx = db::writing(&db, &[BESIDE, BESIDE_WAITING])?;
        db::put_text(&tx.object_store(BESIDE)?, &key, &json)?;
        db::put_text(&tx.object_store(BESIDE_WAITING)?, &key, &json)?;
        db::commit(tx).await
    };
    phone.insist(write).await?;
    phone.mirror.beside.set(&key.into(), &json.into());
    phone.changes.set(phone.changes.get() + 1);
    post(
        &phone,
        &Word::Named {
            beside: beside.clone(),
        },
    );
    phone
        .feed
        .barn
        .update(|barn| Arc::make_mut(barn).put_beside(beside));
    driver::tell(&phone, Input::Saved);
    Ok(())
}

/// Says who works with this phone.
pub async fn pick_person(person: Option<PersonId>) -> Result<(), SaveError> {
    let phone = writable()?;
    let write = async || {
        let db = phone.db().await?;
        let tx = db::writing(&db, &[META])?;
        db::put(&tx.object_store(META)?, PERSON, &person)?;
        db::commit(tx).await
    };
    phone.insist(write).await?;
    phone.feed.person.set(person);
    post(&phone, &Word::Picked { person });
    Ok(())
}

fn writable() -> Result<Rc<Phone>, SaveError> {
    if !entry_allowed() {
        return Err(SaveError::NotHere);
    }
    current().ok_or(SaveError::NoFarm)
}

/// Checks the facts and gives each its moment, before the transaction and once for both attempts.
fn mint(phone: &Phone, drafts: Vec<Draft>) -> Result<Vec<(Fact, Moment)>, SaveError> {
    let person = phone.feed.person.get_untracked();
    let storage = |error| SaveError::Storage {
        detail: format!("{error}"),
    };
    let moment = |draft: Draft| {
        draft.fact.check()?;
        let (ms, random) = draft
            .id
            .map_or_else(|| (now_ms(), random()), |id| (id.now_ms, id.random));
        let now = stamp(ms).map_err(|e: pentally_domain::time::TimeError| storage(e))?;
        let occurred_at = draft.occurred_at.unwrap_or(now);
        Ok((
            draft.fact,
            Moment {
                now,
                occurred_at,
                random,
                person,
            },
        ))
    };
    drafts.into_iter().map(moment).collect()
}

/// One attempt. `tried` remembers what the attempt before wrote: if the store holds it, it was
/// committed although the browser did not say so in time, whatever another tab wrote on top since.
async fn write(
    phone: &Rc<Phone>,
    minted: &[(Fact, Moment)],
    done: Option<&str>,
    tried: &mut Option<Vec<Entry>>,
) -> Result<Vec<Entry>, Trouble> {
    let db = phone.db().await?;
    let tx = db::writing(&db, &[META, ENTRIES, WAITING, DRAFTS])?;
    let (store, waiting) = (tx.object_store(ENTRIES)?, tx.object_store(WAITING)?);
    // All of it or nothing was committed, so the first tells.
    if let Some(first) = tried.as_ref().and_then(|entries| entries.first()) {
        let held = db::raw(&store, &HeldKey::of(first).to_string()).await?;
        if held
            .map(Held::read)
            .transpose()?
            .is_some_and(|held| held.line() == Held::of(first).line())
        {
            return Ok(tried.take().unwrap_or_default());
        }
    }
    let meta = tx.object_store(META)?;
    let none = || Trouble::closed("the head of this device's thread is gone");
    let head: Head = db::read(&meta, HEAD).await?.ok_or_else(none)?;
    let (entries, after) = chain(&head, minted)?;
    for entry in &entries {
        let (key, value) = (HeldKey::of(entry).to_string(), Held::of(entry).stored());
        db::put_raw(&store, &key, value.clone())?;
        db::put_raw(&waiting, &key, value)?;
    }
    db::put(&meta, HEAD, &after)?;
    if let Some(done) = done {
        db::delete(&tx.object_store(DRAFTS)?, done)?;
    }
    *tried = Some(entries.clone());
    db::commit(tx).await?;
    Ok(entries)
}

fn chain(head: &Head, minted: &[(Fact, Moment)]) -> Result<(Vec<Entry>, Head), Trouble> {
    let mut head = *head;
    let mut entries = Vec::with_capacity(minted.len());
    for (fact, moment) in minted {
        let (entry, next) = head.write(fact, *moment)?;
        entries.push(entry);
        head = next;
    }
    Ok((entries, head))
}
