//! Where the phone's half begins.

use crate::feed::Feed;
use crate::screens::App;
use crate::words::{Lang, provide_words};
use crate::{device, office};
use leptos::prelude::*;
use leptos::task::spawn_local;
use wasm_bindgen::prelude::wasm_bindgen;

/// Where a browser keeps the language a person chose.
const LANGUAGE: &str = "pentally-language";

/// Clears what the server painted for reading and mounts the app in its place.
#[wasm_bindgen(start)]
pub fn mount() {
    std::panic::set_hook(Box::new(|why| leptos::logging::error!("{why}")));
    if let Some(body) = document().body() {
        body.set_inner_html("");
    }
    mount_to_body(|| {
        let lang = provide_words(first_language());
        Effect::new(move |_| remember(lang.get()));
        let feed = Feed::unread(office::now_ms());
        feed.provide();
        spawn_local(device::start(feed));
        view! { <App/> }
    });
}

fn first_language() -> Lang {
    let kept = window()
        .local_storage()
        .ok()
        .flatten()
        .and_then(|s| s.get_item(LANGUAGE).ok().flatten());
    let wished = window().navigator().language();
    kept.or(wished)
        .and_then(|tag: String| Lang::from_tag(&tag))
        .unwrap_or_default()
}

fn remember(lang: Lang) {
    if let Ok(Some(store)) = window().local_storage() {
        // A browser without room for five letters still shows the page in this language.
        let _ = store.set_item(LANGUAGE, lang.tag());
    }
    if let Some(root) = document().document_element() {
        let _ = root.set_attribute("lang", lang.tag());
    }
}
