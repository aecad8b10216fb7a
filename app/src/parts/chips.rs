//! Answers to tap. None is chosen at first: what nobody answered stays unanswered.

use super::{Drawing, Mark, is_repeat};
use crate::words::{key, use_words};
use leptos::ev::MouseEvent;
use leptos::prelude::*;

/// One answer of several. A second tap on the chosen one makes it unanswered.
#[component]
pub fn Chips<T>(
    #[prop(into)] asked: Signal<String>,
    options: Vec<(T, String)>,
    chosen: RwSignal<Option<T>>,
) -> impl IntoView
where
    T: Clone + PartialEq + Send + Sync + 'static,
{
    let one = move |(value, word): (T, String)| {
        let compared = value.clone();
        let checked = Memo::new(move |_| chosen.get().as_ref() == Some(&compared));
        let tap = move |click: MouseEvent| {
            if !is_repeat(&click) {
                let value = (!checked.get_untracked()).then(|| value.clone());
                chosen.set(value);
            }
        };
        view! {
            <button
                type="button"
                class="chip"
                role="radio"
                aria-checked=move || checked.get().to_string()
                on:click=tap
            >
                <Mark drawing=Drawing::Tick />
                {word}
            </button>
        }
    };
    let unanswered = Signal::derive(move || chosen.with(Option::is_none));
    view! {
        <section class="ask">
            <Question asked=asked unanswered=unanswered />
            <div class="chips" role="radiogroup" aria-label=asked>
                {options.into_iter().map(one).collect_view()}
            </div>
        </section>
    }
}

/// Any number of answers.
#[component]
pub fn ManyChips<T>(
    #[prop(into)] asked: Signal<String>,
    options: Vec<(T, String)>,
    chosen: RwSignal<Vec<T>>,
) -> impl IntoView
where
    T: Clone + PartialEq + Send + Sync + 'static,
{
    let one = move |(value, word): (T, String)| {
        let compared = value.clone();
        let pressed = Memo::new(move |_| chosen.with(|all| all.contains(&compared)));
        let tap = move |click: MouseEvent| {
            if !is_repeat(&click) {
                chosen.update(|all| toggle(all, &value));
            }
        };
        view! {
            <button
                type="button"
                class="chip"
                aria-pressed=move || pressed.get().to_string()
                on:click=tap
            >
                <Mark drawing=Drawing::Tick />
                {word}
            </button>
        }
    };
    view! {
        <section class="ask">
            <h3>{asked}</h3>
            <div class="chips" role="group" aria-label=asked>
                {options.into_iter().map(one).collect_view()}
            </div>
        </section>
    }
}

#[component]
fn Question(asked: Signal<String>, unanswered: Signal<bool>) -> impl IntoView {
    let words = use_words();
    view! {
        <h3>
            {asked}
            <Show when=move || unanswered.get()>
                <span class="unanswered">{move || words.tr(key::NOT_ANSWERED)}</span>
            </Show>
        </h3>
    }
}

fn toggle<T: Clone + PartialEq>(all: &mut Vec<T>, value: &T) {
    match all.iter().position(|one| one == value) {
        Some(at) => drop(all.remove(at)),
        None => all.push(value.clone()),
    }
}
