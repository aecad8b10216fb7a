//! An address of the office, met by a phone that carries only the barn's screens.

use crate::device;
use crate::pages::rows;
use crate::parts::Title;
use crate::paths;
use crate::words::{key, use_words};
use leptos::prelude::*;
use leptos_router::hooks::use_location;

/// Fetches the office's screens, or says that they need the office.
#[component]
pub fn ElsewherePage() -> impl IntoView {
    let w = use_words();
    if !device::office_missing() {
        let address = use_location().pathname;
        Effect::new(move |_| address.with_untracked(|a| device::to_office(a)));
        return view! { <p class="words big">{w.tr(key::READING)}</p><div class="grow"></div> }
            .into_any();
    }
    view! {
        <Title headline=w.tr(key::ELSEWHERE) why=w.tr(key::ELSEWHERE_WHY)/>
        <ul class="rows">{rows::link(paths::TODAY.to_owned(), None, w.tr(key::PLACE_TODAY), String::new(), String::new())}</ul>
        <div class="grow"></div>
    }
    .into_any()
}
