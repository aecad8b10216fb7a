//! Where the records are: on this phone, at the office, not accepted.

use super::{Drawing, Mark};
use crate::words::{Arg, key, use_words};
use leptos::prelude::*;

/// The three states in words, with count and the age of the oldest unsent. What
/// was not accepted leads to `look`.
#[component]
pub fn RecordState(
    /// Entries that only this phone holds.
    #[prop(into)]
    on_phone: Signal<u64>,
    /// Milliseconds since the oldest of them was recorded.
    #[prop(into)]
    oldest_ms: Signal<Option<i64>>,
    /// Entries that the office set aside.
    #[prop(into)]
    not_accepted: Signal<u64>,
    /// Where those are shown.
    #[prop(into)]
    look: String,
) -> impl IntoView {
    let words = use_words();
    let unsent = move || on_phone.get() > 0;
    let any_refused = move || not_accepted.get() > 0;
    let class = move || if unsent() { "unsent" } else { "home" };
    let drawing = move || {
        if unsent() {
            Drawing::DotTail
        } else {
            Drawing::Office
        }
    };
    let held = move || words.tr_with(key::RECORD_ON_PHONE, &[("n", count(on_phone.get()))]);
    let oldest = move || {
        let age = oldest_ms
            .get()
            .filter(|_| unsent())
            .map(|ms| words.span(ms))?;
        Some(words.tr_with(key::RECORD_OLDEST, &[("age", age.into())]))
    };
    let refused = move || {
        words.tr_with(
            key::RECORD_NOT_ACCEPTED,
            &[("n", count(not_accepted.get()))],
        )
    };
    view! {
        <div class="record" role="status">
            <p class=class>
                <Mark drawing=Signal::derive(drawing) />
                <span>{held}{move || oldest().map(|oldest| format!(", {oldest}"))}</span>
            </p>
            <Show when=any_refused>
                <a class="refused" href=look.clone()>
                    <Mark drawing=Drawing::Bar />
                    {refused}
                </a>
            </Show>
        </div>
    }
}

fn count(number: u64) -> Arg {
    Arg::Count(i64::try_from(number).unwrap_or(i64::MAX))
}
