//! Undo, not "are you sure".

use super::{Drawing, Mark, is_repeat};
use crate::words::{key, use_words};
use leptos::prelude::*;

/// Says what was done and offers to take it back.
#[component]
pub fn Undo(
    #[prop(into)] what: Signal<String>,
    #[prop(into)] on_undo: Callback<()>,
) -> impl IntoView {
    let words = use_words();
    view! {
        <div class="undo">
            <p role="status">{what}</p>
            <button
                type="button"
                on:click=move |click| {
                    if !is_repeat(&click) {
                        on_undo.run(());
                    }
                }
            >
                <Mark drawing=Drawing::Undo />
                {move || words.tr(key::UNDO)}
            </button>
        </div>
    }
}
