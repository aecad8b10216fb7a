//! Where the phone's half begins.

use leptos::prelude::*;
use wasm_bindgen::prelude::wasm_bindgen;

/// Clears what the server painted for reading and mounts the app in its place.
#[wasm_bindgen(start)]
pub fn mount() {
    std::panic::set_hook(Box::new(|why| leptos::logging::error!("{why}")));
    if let Some(body) = document().body() {
        body.set_inner_html("");
    }
    mount_to_body(Page);
}

/// Shows which address is open.
#[component]
fn Page() -> impl IntoView {
    let path = location().pathname().unwrap_or_default();
    view! { <main><p id="path">{path}</p></main> }
}
