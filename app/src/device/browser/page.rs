//! What the browser tells the page: seen or not, online, a newer version waits.

use super::driver;
use super::moment::now_ms;
use super::phone::current;
use super::tabs;
use crate::feed::Feed;
use js_sys::{Function, Promise, Reflect};
use leptos::prelude::{Set, Update};
use std::cell::Cell;
use wasm_bindgen::prelude::Closure;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{
    EventTarget, ScrollIntoViewOptions, ScrollLogicalPosition, StorageManager, VisibilityState,
};

const MINUTE_MS: i32 = 60_000;

thread_local! {
    static TICK: Cell<Option<i32>> = const { Cell::new(None) };
}

/// Whether the page can be seen.
pub fn is_visible() -> bool {
    web_sys::window()
        .and_then(|w| w.document())
        .is_some_and(|d| d.visibility_state() == VisibilityState::Visible)
}

/// Begins to listen.
pub fn listen(feed: Feed) {
    let Some(window) = web_sys::window() else {
        return;
    };
    on(&window, "online", || {
        current().inspect(driver::wake);
    });
    on(&window, "pentally:newer", move || {
        feed.link.update(|link| link.update_ready = true)
    });
    if let Some(document) = window.document() {
        on(&document, "visibilitychange", move || seen(feed));
    }
    let waits = house()
        .and_then(|h| Reflect::get(&h, &"waiting".into()).ok())
        .is_some_and(|w| w.is_object());
    feed.link.update(|link| link.update_ready = waits);
    tick(feed);
}

/// Whether the browser promised to keep the store, without asking it to.
pub async fn persisted() -> Option<bool> {
    answer(storage()?.persisted().ok()?).await
}

/// Asks the browser to keep the store.
pub async fn ask_persist(feed: Feed) -> Option<bool> {
    let answer = answer(storage()?.persist().ok()?).await;
    feed.link.update(|link| link.persisted = answer);
    answer
}

/// Whether what is written here is kept safe: on https, or on this very machine.
pub fn is_secure() -> bool {
    web_sys::window().is_some_and(|w| w.is_secure_context())
}

/// Lets the waiting version take over; the page loads again when it has.
pub fn take_update() {
    ask_house("takeOver", "");
}

/// Scrolls as little as shows the first element of a selector.
pub fn bring_into_view(selector: &str) {
    let document = web_sys::window().and_then(|w| w.document());
    if let Some(found) = document.and_then(|d| d.query_selector(selector).ok()?) {
        let near = ScrollIntoViewOptions::new();
        near.set_block(ScrollLogicalPosition::Nearest);
        found.scroll_into_view_with_scroll_into_view_options(&near);
    }
}

/// Opens an address with the office's screens.
pub fn to_office(address: &str) {
    ask_house("toOffice", address);
}

/// Whether the office's screens were asked for and did not come.
pub fn office_missing() -> bool {
    house()
        .and_then(|h| Reflect::get(&h, &"officeMissing".into()).ok())
        .is_some_and(|missing| missing.is_truthy())
}

/// Whether the browser lets this address keep a service worker.
pub async fn is_trusted() -> bool {
    let asked = house()
        .and_then(|h| Reflect::get(&h, &"isTrusted".into()).ok())
        .and_then(|offered| offered.dyn_into::<Function>().ok())
        .and_then(|offered| offered.call0(&JsValue::NULL).ok())
        .and_then(|asked| asked.dyn_into::<Promise>().ok());
    match asked {
        Some(asked) => answer(asked).await == Some(true),
        None => false,
    }
}

/// Whether the browser can read a language aloud.
#[cfg(feature = "office")]
pub fn has_voice(lang: &str) -> bool {
    let asked = |house: JsValue| {
        let offered: Function = Reflect::get(&house, &"hasVoice".into())
            .ok()?
            .dyn_into()
            .ok()?;
        offered.call1(&house, &lang.into()).ok()
    };
    house()
        .and_then(asked)
        .is_some_and(|answer| answer.is_truthy())
}

/// Reads a text aloud; an empty one falls silent.
#[cfg(feature = "office")]
pub fn read_aloud(lang: &str, text: &str) {
    let asked = |house: JsValue| {
        let offered: Function = Reflect::get(&house, &"readAloud".into())
            .ok()?
            .dyn_into()
            .ok()?;
        offered.call2(&house, &lang.into(), &text.into()).ok()
    };
    let _ = house().and_then(asked);
}

/// Sounds a tone and touches the hand, where the phone can.
#[cfg(feature = "office")]
pub fn signal(hz: f64, ms: u32, aloud: bool) {
    let asked = |house: JsValue| {
        let offered: Function = Reflect::get(&house, &"signal".into())
            .ok()?
            .dyn_into()
            .ok()?;
        offered
            .call3(&house, &hz.into(), &ms.into(), &aloud.into())
            .ok()
    };
    let _ = house().and_then(asked);
}

/// Holds the screen lit, or lets go of it.
#[cfg(feature = "office")]
pub fn keep_lit(on: bool) {
    ask_house("keepLit", if on { "on" } else { "" });
}

/// Only Apple's browsers say whether they are the Home Screen's.
pub fn is_beside_home_screen() -> bool {
    let says = |w: web_sys::Window| Reflect::get(&w.navigator(), &"standalone".into()).ok();
    web_sys::window().and_then(says) == Some(JsValue::FALSE)
}

/// Not every browser has it.
pub fn can_shake() -> bool {
    let has = |w: web_sys::Window| Reflect::has(&w.navigator(), &"vibrate".into()).ok();
    web_sys::window().and_then(has) == Some(true)
}

pub fn shake() {
    /// Felt through a coat, and over before anybody looks for the phone.
    const SHAKES_MS: u32 = 600;
    if let Some(window) = web_sys::window().filter(|_| can_shake()) {
        // A browser that refuses leaves the board to say it.
        let _ = window.navigator().vibrate_with_duration(SHAKES_MS);
    }
}

/// Opens an address, or this one, anew and in place of this page.
pub fn load_page(address: Option<&str>) {
    let Some(window) = web_sys::window() else {
        return;
    };
    // A browser that does not go leaves the page as it is; the person taps again.
    let _ = match address {
        Some(address) => window.location().replace(address),
        None => window.location().reload(),
    };
}

/// Calls what the page's own script offers under a name; without that script nothing happens.
fn ask_house(name: &str, word: &str) {
    let call = |house: JsValue| {
        let offered: Function = Reflect::get(&house, &name.into()).ok()?.dyn_into().ok()?;
        offered.call1(&house, &word.into()).ok()
    };
    let _ = house().and_then(call);
}

fn seen(feed: Feed) {
    tick(feed);
    if is_visible() {
        current().inspect(tabs::take_over).inspect(driver::wake);
    }
}

/// The minute runs only while somebody can see it.
fn tick(feed: Feed) {
    let Some(window) = web_sys::window() else {
        return;
    };
    if let Some(running) = TICK.take() {
        window.clear_interval_with_handle(running);
    }
    if !is_visible() {
        return;
    }
    feed.now_ms.set(now_ms());
    let minute = Closure::<dyn FnMut()>::new(move || {
        feed.now_ms.set(now_ms());
        current().inspect(driver::minute);
    });
    let minute = minute.into_js_value();
    let every = window
        .set_interval_with_callback_and_timeout_and_arguments_0(minute.unchecked_ref(), MINUTE_MS);
    TICK.set(every.ok());
}

fn on(target: &EventTarget, event: &str, then: impl FnMut() + 'static) {
    let then = Closure::<dyn FnMut()>::new(then).into_js_value();
    // Registering a function under a name cannot fail.
    let _ = target.add_event_listener_with_callback(event, then.unchecked_ref());
}

/// What the page's own script offers.
fn house() -> Option<JsValue> {
    Reflect::get(&js_sys::global(), &"pentally".into())
        .ok()
        .filter(JsValue::is_object)
}

/// Absent on plain http.
fn storage() -> Option<StorageManager> {
    let navigator = web_sys::window()?.navigator();
    let storage = Reflect::get(&navigator, &"storage".into())
        .ok()
        .filter(JsValue::is_object)?;
    Some(storage.unchecked_into())
}

async fn answer(asked: Promise) -> Option<bool> {
    JsFuture::from(asked).await.ok()?.as_bool()
}
