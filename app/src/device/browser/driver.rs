//! Carries out what the outbox says. Only the tab that sends has work here.

use super::moment::{now_ms, within};
use super::page::is_visible;
use super::phone::{Phone, make_current};
use super::tabs::{Word, post as tell_tabs};
use super::trouble::Trouble;
use super::{farm, load, net, pull, push, rescue, tabs};
use crate::device::post;
use crate::feed::{Feed, Hello};
use leptos::prelude::{GetUntracked, Set, Update};
use pentally_domain::barn::Barn;
use pentally_domain::id::{BarnId, FarmId};
use pentally_domain::json;
use pentally_domain::outbox::{Effect, Input, Warning};
use pentally_domain::sync::{Aside, PROTOCOL};
use std::collections::VecDeque;
use std::rc::Rc;
use std::sync::Arc;
use wasm_bindgen_futures::spawn_local;

/// After this long without contact a visible page asks for news.
const NEWS_AFTER_MS: i64 = 55_000;
/// How long one exchange may take with all that is stored for it, on the slowest phone and line.
const PATIENCE_MS: i32 = 150_000;

/// Send and fetch now. Another tab is asked where this one does not send.
pub fn wake(phone: &Rc<Phone>) {
    if !phone.tabs.sender.get() {
        return tell_tabs(phone, &Word::Wake);
    }
    phone.feed.link.update(|link| link.warning = None);
    let link = phone.feed.link.get_untracked();
    // What a rolled-back phone has yet to write again: the next receipt makes it do so, and where
    // nothing else waits this asks for one.
    let again = link
        .not_accepted
        .iter()
        .filter(|refused| refused.reason == Aside::SameSequence)
        .count() as u64;
    let unsent = link.unsent + phone.mirror.beside_count() + again;
    tell(phone, Input::Wake { unsent });
}

/// Asks for news once a minute while the page can be seen and nothing stands in the way.
pub fn minute(phone: &Rc<Phone>) {
    let link = phone.feed.link.get_untracked();
    let stale = link
        .last_contact_ms
        .is_none_or(|ms| now_ms() - ms > NEWS_AFTER_MS);
    if phone.tabs.sender.get() && stale && !link.offline && link.warning.is_none() {
        wake(phone);
    }
}

/// Tells the outbox, and carries out what it says.
pub fn tell(phone: &Rc<Phone>, input: Input) {
    if !phone.tabs.sender.get() {
        return;
    }
    let effects = phone.outbox.borrow_mut().on(input);
    if effects.is_empty() {
        return;
    }
    show(phone);
    let phone = phone.clone();
    spawn_local(async move { carry_out(&phone, effects).await });
}

async fn carry_out(phone: &Rc<Phone>, effects: Vec<Effect>) {
    let term = phone.tabs.term.get();
    let mut queue = VecDeque::from(effects);
    while let Some(effect) = queue.pop_front() {
        let silent = || Err(Trouble::closed("it did not answer"));
        let done = within(PATIENCE_MS, act(phone, effect))
            .await
            .unwrap_or_else(silent);
        if !phone.tabs.sender.get() || phone.tabs.term.get() != term {
            return;
        }
        let input = done.unwrap_or_else(|trouble| {
            leptos::logging::warn!("the outbox rests: {trouble}");
            match trouble {
                Trouble::Closed { .. } => phone.lose(),
                Trouble::Full => phone.feed.link.update(|link| link.full = true),
                _ => {}
            }
            queue.clear();
            Some(Input::Failed)
        });
        if let Some(input) = input {
            queue.extend(phone.outbox.borrow_mut().on(input));
        }
        show(phone);
    }
}

async fn act(phone: &Rc<Phone>, effect: Effect) -> Result<Option<Input>, Trouble> {
    match effect {
        Effect::Push if meet(phone).await => return Ok(Some(push::push(phone).await?)),
        Effect::Pull if meet(phone).await => return Ok(Some(pull::pull(phone).await?)),
        Effect::Push | Effect::Pull => return Ok(Some(not_met(phone))),
        Effect::Rest { ms } => rest(phone, ms),
        Effect::MarkAllUnsent => push::mark_all_unsent(phone, true).await?,
        Effect::NewDevice => push::new_device(phone).await?,
        Effect::Warn(warning) => phone.feed.link.update(|link| link.warning = Some(warning)),
    }
    Ok(None)
}

/// An office that does not know this device is asked again once the person asks.
fn not_met(phone: &Phone) -> Input {
    match phone.feed.link.get_untracked().warning {
        Some(Warning::Refused) => Input::Refused,
        _ => Input::Failed,
    }
}

fn rest(phone: &Rc<Phone>, ms: i64) {
    let (phone, term) = (phone.clone(), phone.tabs.term.get());
    spawn_local(async move {
        super::moment::sleep(i32::try_from(ms).unwrap_or(i32::MAX)).await;
        // Out of sight nothing is tried again; coming into sight wakes.
        if phone.tabs.term.get() == term && is_visible() {
            tell(&phone, Input::Rested);
        }
    });
}

/// Makes sure, after every time out of reach, that the office still holds this farm.
pub async fn meet(phone: &Rc<Phone>) -> bool {
    if phone.feed.link.get_untracked().offline {
        phone.met.set(false);
    }
    if !phone.met.get() {
        let told = ask(phone.feed).await;
        phone
            .met
            .set(told.as_ref().and_then(|h| h.farm) == Some(phone.farm));
        if let Some(told) = told {
            // In a task of its own: opening another farm ends the task of this one.
            let feed = phone.feed;
            spawn_local(async move { follow(feed, &told).await });
        }
    }
    if phone.met.get() {
        rescue::keep_offline(phone).await;
    }
    phone.met.get() && phone.is_current()
}

/// Asks the office what it holds.
pub async fn ask(feed: Feed) -> Option<Hello> {
    let text = match net::get(feed, &format!("/api/v1/hello?protocol={PROTOCOL}")).await {
        net::Answer::Text(text) => text,
        net::Answer::Status(code) => {
            if post::status(code) == Input::Refused {
                feed.link
                    .update(|link| link.warning = Some(Warning::Refused));
            }
            return None;
        }
        net::Answer::Nothing => return None,
    };
    let hello: Hello = json::read(&String::from(text)).ok()?;
    feed.link.update(|link| link.hello = Some(hello.clone()));
    Some(hello)
}

/// Opens the store of the farm the office holds, if it is not the one that is open.
pub async fn follow(feed: Feed, hello: &Hello) {
    let Some(farm) = hello.farm else { return };
    let open = super::phone::current().map(|p| p.farm);
    if open == Some(farm) {
        return;
    }
    let barn = hello.barn.unwrap_or(BarnId::from_uuid(farm.uuid()));
    if open.is_some() {
        feed.barn.set(Arc::new(Barn::default()));
        feed.person.set(None);
        feed.link.update(|link| link.whole = false);
    }
    // Where even this small note does not fit, the next start asks the office again.
    let _ = farm::remember(farm, barn).await;
    open_farm(feed, farm, barn, true).await;
}

/// Opens a farm's store in this page and begins to send and fetch. `met`: the office has just
/// said that it holds this farm.
pub async fn open_farm(feed: Feed, farm: FarmId, barn: BarnId, met: bool) {
    let phone = Phone::new(feed, farm, barn);
    phone.met.set(met);
    make_current(&phone);
    feed.link.update(|link| {
        // Until the office says so again: a phone that knows its farm is past the first start.
        link.hello.get_or_insert_with(|| Hello {
            farm: Some(farm),
            barn: Some(barn),
            ..Hello::default()
        });
    });
    if let Err(trouble) = load::first(&phone).await {
        leptos::logging::error!("the store of this phone does not open: {trouble}");
    }
    tabs::join(&phone, is_visible());
}

fn show(phone: &Phone) {
    let busy = phone.outbox.borrow().is_busy();
    phone.feed.link.update(|link| link.busy = busy);
    let link = phone.feed.link.get_untracked();
    let (warning, offline, last_contact_ms) = (link.warning, link.offline, link.last_contact_ms);
    let full = link.full;
    tell_tabs(
        phone,
        &Word::Status {
            busy,
            offline,
            full,
            last_contact_ms,
            warning,
        },
    );
}
