//! Fetching the ledgers that changed.
//!
//! A page is taken apart by the browser's own JSON, so that only one ledger at a time crosses
//! into this program's memory.

use super::db::{self, BESIDE, ENTRIES, META, SUMMARIES, WAITING};
use super::moment::now_ms;
use super::net::{self, Answer};
use super::phone::{HEAD, OUTLOOK, PULLED, Phone};
use super::tabs::{Word, post as tell_tabs};
use super::trouble::Trouble;
use super::{driver, load, push};
use crate::device::post;
use crate::device::pulled::Pulled;
use indexed_db_futures::object_store::ObjectStore;
use js_sys::{Array, Function, JSON, JsString, Reflect};
use leptos::prelude::{Notify, Update, UpdateUntracked, WithUntracked};
use pentally_domain::fact::Subject;
use pentally_domain::json;
use pentally_domain::outbox::{Input, Warning};
use pentally_domain::sync::{Beside, Page};
use pentally_domain::time::Clock;
use pentally_domain::writer::Head;
use std::rc::Rc;
use std::sync::Arc;
use wasm_bindgen::{JsCast, JsValue};

/// More subjects than this, and the other tabs read everything anew.
const TELL_AT_MOST: usize = 300;

/// A page and its ledgers as the browser holds them.
struct Parts {
    page: Page,
    ledgers: Vec<(String, JsValue)>,
}

/// Fetches the next page of ledgers.
pub async fn pull(phone: &Rc<Phone>) -> Result<Input, Trouble> {
    let before = phone.pulled().await?;
    let outlook = phone
        .feed
        .barn
        .with_untracked(|barn| barn.outlook().made_at_ms);
    let path = post::summaries_path(before.cursor.as_ref(), before.known.as_ref(), outlook);
    let text = match net::get(phone.feed, &path).await {
        Answer::Text(text) => text,
        Answer::Status(code) => return Ok(post::status(code)),
        Answer::Nothing => return Ok(Input::Failed),
    };
    let Some(parts) = parts(&text) else {
        return Ok(Input::Outdated);
    };
    if before.is_another_part(&parts.page) {
        phone
            .set_pulled(&before.of_another_part(&parts.page))
            .await?;
        return Ok(Input::Pulled { more: true });
    }
    let lacks = !parts.page.more && office_lacks(phone, &parts.page).await?;
    let restored = lacks || before.sees_office_went_back(&parts.page);
    if restored {
        if !still_this_farm(phone).await {
            return Ok(Input::Failed);
        }
        push::mark_all_unsent(phone, false).await?;
    }
    take(phone, &before, &parts).await?;
    if restored {
        // The machine is pulling; this lets it push when it is through.
        driver::tell(phone, Input::Saved);
    }
    Ok(Input::Pulled {
        more: parts.page.more,
    })
}

/// Whether the office has less of this phone's own entries than it once said.
async fn office_lacks(phone: &Rc<Phone>, page: &Page) -> Result<bool, Trouble> {
    let db = phone.db().await?;
    let tx = db::reading(&db, &[META, ENTRIES, WAITING])?;
    let head: Option<Head> = db::read(&tx.object_store(META)?, HEAD).await?;
    let Some(head) = head else { return Ok(false) };
    let (_, received_to) = push::own_threads(&tx, &head).await?;
    Ok(post::lacks(&page.includes, head.device, received_to))
}

/// Another history may also be another farm's.
async fn still_this_farm(phone: &Rc<Phone>) -> bool {
    phone.met.set(false);
    driver::meet(phone).await
}

fn parts(text: &JsString) -> Option<Parts> {
    let object = parse(text)?;
    let ledgers: Array = Reflect::get(&object, &"ledgers".into())
        .ok()?
        .dyn_into()
        .ok()?;
    Reflect::set(&object, &"ledgers".into(), &Array::new()).ok()?;
    let page = json::read(&String::from(JSON::stringify(&object).ok()?)).ok()?;
    let named = |ledger: JsValue| {
        let subject = Reflect::get(&ledger, &"subject".into()).ok()?.as_string()?;
        Some((subject, JSON::stringify(&ledger).ok()?.into()))
    };
    let ledgers = ledgers.iter().map(named).collect::<Option<_>>()?;
    Some(Parts { page, ledgers })
}

/// `JSON.parse` on the browser's own string; the binding would copy it through this program.
fn parse(text: &JsString) -> Option<JsValue> {
    let json = Reflect::get(&js_sys::global(), &"JSON".into()).ok()?;
    let parse: Function = Reflect::get(&json, &"parse".into()).ok()?.dyn_into().ok()?;
    parse.call1(&json, text).ok()
}

/// Shows a page and stores it. What the office says is true whether or not it can be stored.
async fn take(phone: &Rc<Phone>, before: &Pulled, parts: &Parts) -> Result<(), Trouble> {
    let page = &parts.page;
    let replacing = before.is_replaced_by(page);
    let (latest, unread) = show(phone, parts);
    let expects = page.outlook.is_some();
    let pulled = before.after_page(page);
    store(phone, parts, &pulled, before.begins_anew(page), latest).await?;
    phone.feed.link.update(|link| {
        link.as_of_ms = pulled.as_of_ms;
        link.role = pulled.role;
        link.full = false;
        link.warning = if unread > 0 {
            Some(Warning::Outdated)
        } else {
            link.warning
        };
    });
    if replacing && !page.more {
        load::again(phone).await?;
        tell_tabs(phone, &Word::Anew);
    } else if expects {
        phone.feed.barn.notify();
        tell_tabs(phone, &Word::Anew);
    } else if !parts.ledgers.is_empty() || !page.beside.is_empty() {
        phone.feed.barn.notify();
        tell_others(phone, parts);
    }
    Ok(())
}

/// Merges a page into the barn, one ledger at a time. Answers with the latest clock in it, and
/// with how many ledgers this version cannot read.
fn show(phone: &Phone, parts: &Parts) -> (Clock, usize) {
    let (mut latest, mut unread) = (Clock::default(), 0);
    phone.feed.barn.update_untracked(|barn| {
        let barn = Arc::make_mut(barn);
        for (_, value) in &parts.ledgers {
            let Some(ledger) = load::ledger(value) else {
                unread += 1;
                continue;
            };
            latest = ledger
                .rows()
                .map(|row| row.order.clock)
                .fold(latest, Clock::max);
            barn.put(&ledger);
        }
        parts
            .page
            .beside
            .iter()
            .for_each(|beside| barn.put_beside(beside.clone()));
        let outlook = parts.page.outlook.as_deref();
        if let Some(outlook) = outlook.and_then(|text| json::read(text).ok()) {
            barn.put_outlook(Arc::new(outlook));
        }
    });
    (latest, unread)
}

async fn store(
    phone: &Rc<Phone>,
    parts: &Parts,
    pulled: &Pulled,
    anew: bool,
    latest: Clock,
) -> Result<(), Trouble> {
    let db = phone.db().await?;
    let tx = db::writing(&db, &[META, SUMMARIES, BESIDE])?;
    let (meta, summaries) = (tx.object_store(META)?, tx.object_store(SUMMARIES)?);
    if anew {
        drop(summaries.clear()?);
    }
    for (subject, value) in &parts.ledgers {
        db::put_raw(&summaries, subject, value.clone())?;
    }
    keep_latest(&tx.object_store(BESIDE)?, &parts.page.beside).await?;
    db::put(&meta, PULLED, pulled)?;
    if let Some(outlook) = &parts.page.outlook {
        db::put_text(&meta, OUTLOOK, outlook)?;
    }
    if let Some(head) = db::read::<Head>(&meta, HEAD).await? {
        let clock = head.clock.witness(latest, now_ms());
        db::put(
            &meta,
            HEAD,
            &Head {
                clock,
                seen: parts.page.cursor.n,
                ..head
            },
        )?;
    }
    db::commit(tx).await
}

async fn keep_latest(store: &ObjectStore<'_>, told: &[Beside]) -> Result<(), Trouble> {
    for beside in told {
        let key = beside.entry.to_string();
        let held: Option<Beside> = db::read(store, &key).await?;
        if held.is_none_or(|held| held.set_at_ms < beside.set_at_ms) {
            db::put(store, &key, beside)?;
        }
    }
    Ok(())
}

fn tell_others(phone: &Phone, parts: &Parts) {
    let subjects: Vec<Subject> = parts
        .ledgers
        .iter()
        .filter_map(|(subject, _)| Subject::parse(subject))
        .collect();
    let word = if subjects.len() > TELL_AT_MOST {
        Word::Anew
    } else {
        Word::Pulled { subjects }
    };
    tell_tabs(phone, &word);
}
