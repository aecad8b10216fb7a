//! Several tabs of one farm: what one did the others hear of, and one of them sends.
//!
//! The sender holds a Web Lock while it lives; the others stand in line, so that a killed one is
//! replaced. A page that becomes visible takes the lock over: a hidden tab may be asleep.

use super::driver;
use super::load;
use super::phone::{self, Phone};
use js_sys::{Function, Object, Promise, Reflect};
use leptos::prelude::{Set, Update};
use pentally_domain::fact::Subject;
use pentally_domain::id::{FarmId, PersonId};
use pentally_domain::json;
use pentally_domain::outbox::{Input, Outbox, Warning};
use pentally_domain::sync::Beside;
use serde::{Deserialize, Serialize};
use std::cell::{Cell, RefCell};
use std::rc::Rc;
use std::sync::Arc;
use wasm_bindgen::prelude::Closure;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::{JsFuture, spawn_local};
use web_sys::{BroadcastChannel, MessageEvent};

/// What tabs tell each other.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub enum Word {
    /// Entries were saved under these keys.
    Saved {
        /// Their keys in the store.
        keys: Vec<String>,
    },
    /// The office answered: what waits and what stands aside is another.
    Settled,
    /// Ledgers of these subjects were pulled.
    Pulled {
        /// Whose.
        subjects: Vec<Subject>,
    },
    /// Ledgers shrank: everything must be read anew.
    Anew,
    /// Personal data was set.
    Named {
        /// It.
        beside: Beside,
    },
    /// A person was picked.
    Picked {
        /// Who.
        person: Option<PersonId>,
    },
    /// The sender should send and fetch now.
    Wake,
    /// How the sender fares.
    Status {
        /// An exchange is under way.
        busy: bool,
        /// The office is out of reach.
        offline: bool,
        /// This phone is full.
        full: bool,
        /// When it last answered.
        last_contact_ms: Option<i64>,
        /// What the sender has to tell.
        warning: Option<Warning>,
    },
}

/// This tab among the others.
pub struct Tabs {
    channel: Option<BroadcastChannel>,
    /// Whether this tab sends.
    pub sender: Cell<bool>,
    /// Which term as the sender this is; work of a former term stops.
    pub term: Cell<u32>,
    lock: String,
    in_line: Cell<bool>,
    left: Cell<bool>,
    release: RefCell<Option<Function>>,
}

impl Tabs {
    /// The tabs of one farm.
    pub fn of(farm: FarmId) -> Self {
        Self {
            channel: BroadcastChannel::new(&format!("pentally-{farm}")).ok(),
            sender: Cell::new(false),
            term: Cell::new(0),
            lock: format!("pentally-uploader-{farm}"),
            in_line: Cell::new(false),
            left: Cell::new(false),
            release: RefCell::new(None),
        }
    }
}

/// Tells the other tabs.
pub fn post(phone: &Phone, word: &Word) {
    if let (Some(channel), Ok(text)) = (&phone.tabs.channel, serde_json::to_string(word)) {
        // A channel that was closed has nobody left to hear.
        let _ = channel.post_message(&text.into());
    }
}

/// Begins to listen to the other tabs, and asks to be the one that sends.
pub fn join(phone: &Rc<Phone>, visible: bool) {
    if let Some(channel) = &phone.tabs.channel {
        let phone = phone.clone();
        let hear = Closure::<dyn FnMut(MessageEvent)>::new(move |event: MessageEvent| {
            let text = event.data().as_string().unwrap_or_default();
            if let Ok(word) = json::read(&text) {
                hear(&phone, word);
            }
        });
        channel.set_onmessage(Some(hear.into_js_value().unchecked_ref()));
    }
    if visible {
        take_over(phone)
    } else {
        stand_in_line(phone)
    }
}

/// Leaves for another farm.
pub fn leave(phone: &Phone) {
    phone.tabs.left.set(true);
    phone.tabs.sender.set(false);
    if let Some(channel) = &phone.tabs.channel {
        channel.set_onmessage(None);
        channel.close();
    }
    if let Some(release) = phone.tabs.release.take() {
        let _ = release.call0(&JsValue::UNDEFINED);
    }
}

/// This page can be seen: it sends from now on.
pub fn take_over(phone: &Rc<Phone>) {
    if !phone.tabs.sender.get() {
        request(phone, true);
    }
}

fn stand_in_line(phone: &Rc<Phone>) {
    if !phone.tabs.in_line.replace(true) {
        request(phone, false);
    }
}

fn request(phone: &Rc<Phone>, steal: bool) {
    let Some(asked) = ask_lock(phone, steal) else {
        // Without Web Locks every tab sends; the office takes a second copy for what it is.
        return began(phone);
    };
    let phone = phone.clone();
    spawn_local(async move {
        // Over when released, or when another tab took the lock.
        let _ = JsFuture::from(asked).await;
        if phone.tabs.left.get() {
            return;
        }
        phone.tabs.sender.set(false);
        stand_in_line(&phone);
    });
}

fn ask_lock(phone: &Rc<Phone>, steal: bool) -> Option<Promise> {
    let navigator = web_sys::window()?.navigator();
    let locks = Reflect::get(&navigator, &"locks".into())
        .ok()
        .filter(JsValue::is_object)?;
    let request: Function = Reflect::get(&locks, &"request".into())
        .ok()?
        .dyn_into()
        .ok()?;
    let options = Object::new();
    Reflect::set(&options, &"steal".into(), &steal.into()).ok()?;
    let granted = {
        let phone = phone.clone();
        Closure::once_into_js(move || -> JsValue {
            if !steal {
                phone.tabs.in_line.set(false);
            }
            if phone.tabs.left.get() {
                return JsValue::UNDEFINED;
            }
            let held =
                Promise::new(&mut |resolve, _| drop(phone.tabs.release.replace(Some(resolve))));
            began(&phone);
            held.into()
        })
    };
    request
        .call3(&locks, &phone.tabs.lock.as_str().into(), &options, &granted)
        .ok()?
        .dyn_into()
        .ok()
}

fn began(phone: &Rc<Phone>) {
    phone.tabs.term.set(phone.tabs.term.get() + 1);
    phone.tabs.sender.set(true);
    phone.outbox.replace(Outbox::default());
    driver::wake(phone);
}

fn hear(phone: &Rc<Phone>, word: Word) {
    match word {
        Word::Wake => driver::wake(phone),
        Word::Picked { person } => phone.feed.person.set(person),
        Word::Named { beside } => {
            if let Ok(json) = serde_json::to_string(&beside) {
                phone
                    .mirror
                    .beside
                    .set(&beside.entry.to_string().into(), &json.into());
            }
            phone
                .feed
                .barn
                .update(|barn| Arc::make_mut(barn).put_beside(beside));
            driver::tell(phone, Input::Saved);
        }
        Word::Status {
            busy,
            offline,
            full,
            last_contact_ms,
            warning,
        } => phone.feed.link.update(|link| {
            link.busy = busy;
            link.offline = offline;
            link.full = full;
            link.last_contact_ms = last_contact_ms;
            link.warning = warning;
        }),
        word => follow(phone.clone(), word),
    }
}

/// What needs a look into the store.
fn follow(phone: Rc<Phone>, word: Word) {
    spawn_local(async move {
        // What cannot be read now is read at the next start; nothing is written here.
        let _ = match word {
            Word::Saved { keys } => saved_elsewhere(&phone, &keys).await,
            Word::Pulled { subjects } => load::some(&phone, &subjects).await,
            Word::Anew => load::again(&phone).await,
            _ => phone.settle().await,
        };
    });
}

async fn saved_elsewhere(
    phone: &Rc<Phone>,
    keys: &[String],
) -> Result<(), super::trouble::Trouble> {
    for entry in phone::waiting_under(phone, keys).await? {
        phone.show_saved(&entry);
    }
    driver::tell(phone, Input::Saved);
    Ok(())
}
