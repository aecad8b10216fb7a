//! What to do next.

use super::{Drawing, Mark, is_repeat};
use leptos::either::Either;
use leptos::ev::MouseEvent;
use leptos::prelude::*;

/// How loud an action is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Kind {
    /// The thing to do next: the largest of the screen.
    #[default]
    Primary,
    /// What else can be done.
    Quiet,
}

/// Throws away what is not in the log: quiet, apart from the rest, and only when asked twice.
#[component]
pub fn Drop(
    word: String,
    /// What the second tap does.
    sure: String,
    #[prop(into)] on_drop: Callback<()>,
) -> impl IntoView {
    let asked = RwSignal::new(false);
    let said = move || match asked.get() {
        true => sure.clone(),
        false => word.clone(),
    };
    let tap = move |()| {
        if asked.get_untracked() {
            on_drop.run(());
        } else {
            asked.set(true);
        }
    };
    view! { <div class="actions apart"><Action word=Signal::derive(said) kind=Kind::Quiet on_tap=tap/></div> }
}

/// A large button, or a link where `href` is given. A repeat of the same tap
/// within 400 ms is one tap.
#[component]
pub fn Action(
    #[prop(into)] word: Signal<String>,
    #[prop(optional)] kind: Kind,
    #[prop(optional)] drawing: Option<Drawing>,
    #[prop(optional, into)] href: Option<String>,
    #[prop(optional, into)] on_tap: Option<Callback<()>>,
    #[prop(optional, into)] off: Signal<bool>,
    /// What it waits for while it is off.
    #[prop(optional, into)]
    waits: String,
) -> impl IntoView {
    let class = match kind {
        Kind::Primary => "action",
        Kind::Quiet => "action quiet",
    };
    let tap = move |click: MouseEvent| {
        if let Some(on_tap) = on_tap.filter(|_| !is_repeat(&click)) {
            on_tap.run(());
        }
    };
    let inner = move || {
        (
            drawing.map(|drawing| view! { <Mark drawing=drawing /> }),
            word,
        )
    };
    match href {
        Some(href) => {
            let follow = move |click: MouseEvent| {
                is_repeat(&click);
            };
            Either::Left(view! { <a class=class href=href on:click=follow>{inner()}</a> })
        }
        None => Either::Right(view! {
            <button type="button" class=class disabled=off on:click=tap>
                {inner()} {(!waits.is_empty()).then(|| waiting(off, waits))}
            </button>
        }),
    }
}

fn waiting(off: Signal<bool>, waits: String) -> impl IntoView {
    view! { <Show when=move || off.get()><span class="waits">{waits.clone()}</span></Show> }
}
