//! When the browser deletes the store under a live page, or ends the connection.
//!
//! A new database gets a new device identity: the old thread's head went with the old one. What
//! this page still holds in memory and the office is not known to have is put back with its
//! original bytes, as held entries of the former device, which travel like any other.

use super::db::{self, BESIDE_WAITING, DRAFTS, ENTRIES, META, WAITING};
use super::mirror::texts_and_values;
use super::moment::{now_ms, random};
use super::phone::{HEAD, PERSON, Phone};
use super::trouble::Trouble;
use super::{driver, farm};
use indexed_db_futures::database::Database;
use indexed_db_futures::internals::SystemRepr;
use indexed_db_futures::object_store::ObjectStore;
use js_sys::{Function, Map, Promise, Reflect};
use leptos::prelude::GetUntracked;
use pentally_domain::id::DeviceId;
use pentally_domain::writer::Head;
use std::rc::Rc;
use wasm_bindgen::JsCast;
use wasm_bindgen::prelude::Closure;
use wasm_bindgen_futures::{JsFuture, spawn_local};

/// Gives a new database its head, and puts back what only memory holds.
pub async fn ensure(phone: &Rc<Phone>, database: &Database) -> Result<(), Trouble> {
    if !phone.lost.get() && has_head(database).await? {
        return Ok(());
    }
    let tx = db::writing(database, &[META, ENTRIES, WAITING, DRAFTS, BESIDE_WAITING])?;
    let meta = tx.object_store(META)?;
    if db::text(&meta, HEAD).await?.is_none() {
        let device = DeviceId::v7(now_ms(), random());
        db::put(&meta, HEAD, &Head::new(phone.farm, phone.barn, device))?;
    }
    if db::text(&meta, PERSON).await?.is_none() {
        db::put(&meta, PERSON, &phone.feed.person.get_untracked())?;
    }
    put_missing(&tx.object_store(ENTRIES)?, &phone.mirror.waiting).await?;
    put_missing(&tx.object_store(WAITING)?, &phone.mirror.waiting).await?;
    put_missing(&tx.object_store(DRAFTS)?, &phone.mirror.drafts).await?;
    put_missing(&tx.object_store(BESIDE_WAITING)?, &phone.mirror.beside).await?;
    db::commit(tx).await?;
    phone.lost.set(false);
    Ok(())
}

/// Notices when the browser ends the connection.
pub fn watch(phone: &Rc<Phone>, database: &Database) {
    let lose = {
        let phone = phone.clone();
        Closure::<dyn FnMut()>::new(move || lost(&phone)).into_js_value()
    };
    let lose: &Function = lose.unchecked_ref();
    database.as_sys().set_onclose(Some(lose));
    // Another page deletes the database or is about to change its stores: let it.
    database.as_sys().set_onversionchange(Some(lose));
}

fn lost(phone: &Rc<Phone>) {
    phone.lose();
    if !phone.is_current() {
        return;
    }
    let phone = phone.clone();
    spawn_local(async move {
        // What fails here is tried again by whoever next needs the store.
        let _ = phone
            .insist(async || farm::remember(phone.farm, phone.barn).await)
            .await;
        let _ = phone.insist(async || phone.settle().await).await;
        phone.unkept.set(true);
        phone.met.set(false);
        driver::wake(&phone);
    });
}

async fn has_head(database: &Database) -> Result<bool, Trouble> {
    let tx = db::reading(database, &[META])?;
    Ok(db::text(&tx.object_store(META)?, HEAD).await?.is_some())
}

async fn put_missing(store: &ObjectStore<'_>, from: &Map) -> Result<(), Trouble> {
    for (key, value) in texts_and_values(from) {
        if db::raw(store, &key).await?.is_none() {
            db::put_raw(store, &key, value)?;
        }
    }
    Ok(())
}

/// Registers the service worker that went with the store: without it the next start needs a
/// network. Its script must be fetched, so the office must be in reach.
pub async fn keep_offline(phone: &Phone) {
    if phone.unkept.take() && register().await.is_none() {
        phone.unkept.set(true);
    }
}

/// None where it failed; where there are no service workers there is nothing to do.
async fn register() -> Option<()> {
    let navigator = web_sys::window()?.navigator();
    let workers = Reflect::get(&navigator, &"serviceWorker".into()).ok()?;
    if !workers.is_object() {
        return Some(());
    }
    let register: Function = Reflect::get(&workers, &"register".into())
        .ok()?
        .dyn_into()
        .ok()?;
    let options = js_sys::Object::new();
    Reflect::set(&options, &"updateViaCache".into(), &"none".into()).ok()?;
    let asked: Promise = register
        .call2(&workers, &"/sw.js".into(), &options)
        .ok()?
        .dyn_into()
        .ok()?;
    JsFuture::from(asked).await.ok().map(drop)
}
