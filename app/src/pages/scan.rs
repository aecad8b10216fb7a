//! To a boar by his pen's tag: through the camera, or its code on the keypad.

use crate::device::camera::{self, Fault, Told};
use crate::parts::{Action, CodePad, Drawing, Kind, Mark, Title, is_repeat};
use crate::paths;
use crate::words::{Key, key, use_words};
use leptos::html::Video;
use leptos::prelude::*;
use leptos_router::hooks::use_navigate;
use pentally_domain::code::{Code, Symbol};
use std::cell::Cell;

/// Digits of a code.
const DIGITS: usize = 6;

thread_local! {
    /// The camera failed here last: the next scan begins on the keypad.
    static FAILED: Cell<bool> = const { Cell::new(false) };
}

/// `/scan`
#[component]
pub fn ScanPage() -> impl IntoView {
    let typing = RwSignal::new(FAILED.get());
    move || {
        if typing.get() {
            view! { <Typed typing/> }.into_any()
        } else {
            view! { <Picture typing/> }.into_any()
        }
    }
}

/// What the camera said last.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Seen {
    NotYet,
    Picture,
    Foreign,
    Nothing(Fault),
}

#[component]
fn Picture(typing: RwSignal<bool>) -> impl IntoView {
    let w = use_words();
    let video = NodeRef::<Video>::new();
    let seen = RwSignal::new(Seen::NotYet);
    let attempt = watch(video, seen);
    let fails = Signal::derive(move || matches!(seen.get(), Seen::Nothing(_)));
    let again = move |()| {
        seen.set(Seen::NotYet);
        attempt.update(|n| *n += 1);
    };
    let headline = move || {
        w.tr(if fails.get() {
            key::SCAN_NO_CAMERA
        } else {
            key::SCAN_TITLE
        })
    };
    view! {
        <video class="sight" hidden=fails node_ref=video aria-hidden="true"></video>
        <Title headline=Signal::derive(headline) why=Signal::derive(move || w.tr(says(seen.get())))/>
        <Show when=move || fails.get()><div class="grow"></div></Show>
        <div class="actions">
            <Action word=w.tr(key::SCAN_TYPE) drawing=Drawing::Tag on_tap=move |()| typing.set(true)/>
            <Show when=move || fails.get()>
                <Action word=w.tr(key::SCAN_AGAIN) kind=Kind::Quiet on_tap=again/>
            </Show>
        </div>
    }
}

/// Watches for a tag with each attempt, and goes where it leads. Leaving the screen ends it.
fn watch(video: NodeRef<Video>, seen: RwSignal<Seen>) -> RwSignal<u32> {
    let navigate = use_navigate();
    let attempt = RwSignal::new(0);
    let watching = StoredValue::new_local(None);
    Effect::new(move |_| {
        attempt.track();
        let Some(video) = video.get() else { return };
        let navigate = navigate.clone();
        let told = move |told| match told {
            Told::Looking => {
                FAILED.set(false);
                seen.set(Seen::Picture);
            }
            Told::Read(text) => match Symbol::scanned(&text) {
                Ok(symbol) => {
                    watching.set_value(None);
                    let to = match symbol {
                        Symbol::Pen(code) => paths::tag(code),
                        Symbol::Batch(code) => paths::batch_code(code),
                    };
                    navigate(&to, Default::default());
                }
                Err(_) => seen.set(Seen::Foreign),
            },
            Told::Fault(fault) => {
                FAILED.set(true);
                seen.set(Seen::Nothing(fault));
                watching.set_value(None);
            }
        };
        watching.set_value(camera::watch(&video, told));
    });
    attempt
}

const fn says(seen: Seen) -> Key {
    match seen {
        Seen::NotYet => key::SCAN_ASKS,
        Seen::Picture => key::SCAN_HOLD,
        Seen::Foreign => key::SCAN_FOREIGN,
        Seen::Nothing(Fault::Refused) => key::SCAN_REFUSED,
        Seen::Nothing(Fault::Missing) => key::SCAN_MISSING,
        Seen::Nothing(Fault::Busy) => key::SCAN_BUSY,
        Seen::Nothing(Fault::NotSecure) => key::SCAN_NOT_SECURE,
        Seen::Nothing(Fault::NotLoaded) => key::SCAN_NOT_LOADED,
    }
}

#[component]
fn Typed(typing: RwSignal<bool>) -> impl IntoView {
    let w = use_words();
    let typed = RwSignal::new(String::new());
    let navigate = use_navigate();
    let read = Memo::new(move |_| typed.with(|t| (t.len() == DIGITS).then(|| Code::parse(t))));
    Effect::new(move |_| {
        if let Some(Ok(code)) = read.get() {
            navigate(&paths::tag(code), Default::default());
        }
    });
    let says = move || {
        w.tr(match read.get() {
            Some(Err(_)) => key::SCAN_NO_CODE,
            _ => key::SCAN_DIGITS,
        })
    };
    let look = move |click| {
        if !is_repeat(&click) {
            typing.set(false);
        }
    };
    view! {
        <h1 class="say" aria-live="polite">{says}</h1>
        <div class="grow"></div>
        <CodePad typed=typed length=DIGITS>
            <button type="button" class="key word" on:click=look>
                <Mark drawing=Drawing::Scan/>
                {w.tr(key::SCAN_CAMERA)}
            </button>
        </CodePad>
    }
}
