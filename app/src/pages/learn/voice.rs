//! The browser's own voice, where it has one of this language, and only for whoever taps.

use crate::device;
use crate::parts::{Action, Kind};
use crate::words::{key, use_words};
use leptos::prelude::*;
use leptos::task::spawn_local;

/// A browser may find its voices only after the page has begun.
const VOICES_COME_MS: i32 = 1_000;

/// "Read aloud"; nothing where no voice speaks this language. Falls silent when the step is left.
#[component]
pub fn ReadAloud(
    /// What is read.
    text: String,
) -> impl IntoView {
    let w = use_words();
    let can = RwSignal::new(false);
    let reads = RwSignal::new(false);
    // Only a browser has voices, and effects run there alone.
    Effect::new(move |_| {
        let lang = w.lang().tag();
        can.set(device::has_voice(lang));
        if !can.get_untracked() {
            spawn_local(async move {
                device::pause(VOICES_COME_MS).await;
                can.try_set(device::has_voice(lang));
            });
        }
    });
    on_cleanup(|| device::read_aloud("", ""));
    let tap = Callback::new(move |()| {
        let now = !reads.get_untracked();
        reads.set(now);
        device::read_aloud(w.lang().tag(), if now { &text } else { "" });
    });
    let word = Signal::derive(move || {
        w.tr(if reads.get() {
            key::LEARN_QUIET
        } else {
            key::LEARN_READ
        })
    });
    view! {
        <Show when=move || can.get()>
            <div class="actions"><Action word=word kind=Kind::Quiet on_tap=tap/></div>
        </Show>
    }
}
