//! Fields of office forms: a word above, a line to write on, and below it what is right or,
//! once something was read that is not, what was read and what would be.

use crate::act::shows_fault;
#[cfg(feature = "office")]
use leptos::ev::Event;
use leptos::prelude::*;
#[cfg(feature = "office")]
use leptos::web_sys::Element;

/// Empties a line once what stood on it is saved. What was typed while that took its time stays.
pub fn empty(line: RwSignal<String>, saved: &str) {
    if line.with_untracked(|now| now == saved) {
        line.set(String::new());
    }
}

/// A line to write on.
#[component]
pub fn Line(
    /// The word above.
    #[prop(into)]
    name: String,
    /// What is written.
    value: RwSignal<String>,
    /// What is right.
    #[prop(optional, into)]
    hint: String,
    /// What is wrong with what was read.
    #[prop(optional, into)]
    wrong: Signal<Option<String>>,
    /// Shows a keyboard of figures on a phone.
    #[prop(optional)]
    figures: bool,
    /// Hides what is written.
    #[prop(optional)]
    secret: bool,
) -> impl IntoView {
    let mode = if figures { "decimal" } else { "text" };
    let kind = if secret { "password" } else { "text" };
    view! {
        <label class="field" class:wrong=move || wrong.with(Option::is_some)>
            <span class="name">{name}</span>
            <input type=kind autocomplete="off" inputmode=mode bind:value=value
                aria-invalid=move || wrong.with(Option::is_some).to_string()/>
            <Below hint wrong/>
        </label>
    }
}

#[cfg(feature = "office")]
/// A day. A date that is only half written gives no value; `half` says so, lest it be taken
/// for none.
#[component]
pub fn Day(
    /// The word above.
    #[prop(into)]
    name: String,
    /// `2026-03-01`, or nothing.
    value: RwSignal<String>,
    /// Something stands there that is no day.
    half: RwSignal<bool>,
    /// What is right.
    #[prop(optional, into)]
    hint: String,
    /// What is wrong with what was read.
    #[prop(optional, into)]
    wrong: Signal<Option<String>>,
) -> impl IntoView {
    let look = move |event: Event| {
        half.set(
            event_target::<Element>(&event)
                .matches(":invalid")
                .unwrap_or(false),
        )
    };
    view! {
        <label class="field" class:wrong=move || wrong.with(Option::is_some)>
            <span class="name">{name}</span>
            <input type="date" bind:value=value on:input=look on:blur=move |event| look(event.into())
                aria-invalid=move || wrong.with(Option::is_some).to_string()/>
            <Below hint wrong/>
        </label>
    }
}

#[cfg(feature = "office")]
/// One of a list that may be long.
#[component]
pub fn Choice(
    /// The word above.
    #[prop(into)]
    name: String,
    /// What can be chosen: value and word.
    #[prop(into)]
    options: Signal<Vec<(String, String)>>,
    /// The value chosen.
    value: RwSignal<String>,
    /// What is right.
    #[prop(optional, into)]
    hint: String,
) -> impl IntoView {
    let list = move || {
        let option = |(is, word): (String, String)| {
            let compared = is.clone();
            view! { <option value=is selected=move || value.with(|v| *v == compared)>{word}</option> }
        };
        options.get().into_iter().map(option).collect_view()
    };
    view! {
        <label class="field">
            <span class="name">{name}</span>
            <select on:change=move |event| value.set(event_target_value(&event))>{list}</select>
            <span class="bounds">{hint}</span>
        </label>
    }
}

/// Yes or not, with the word beside it.
#[cfg(feature = "office")]
#[component]
pub fn Tick(
    /// The word.
    #[prop(into)]
    name: String,
    /// Whether it is ticked.
    value: RwSignal<bool>,
) -> impl IntoView {
    view! { <label class="tickable"><input type="checkbox" bind:checked=value/><span>{name}</span></label> }
}

#[component]
fn Below(hint: String, wrong: Signal<Option<String>>) -> impl IntoView {
    shows_fault(wrong);
    let role = move || wrong.with(Option::is_some).then_some("alert");
    view! { <span class="bounds" aria-live="polite" role=role>{move || wrong.get().unwrap_or_else(|| hint.clone())}</span> }
}

#[cfg(feature = "office")]
/// A figure as people type it, with either decimal mark; none where it is no figure.
pub fn figure(typed: &str) -> Option<f64> {
    typed
        .trim()
        .replace(',', ".")
        .parse()
        .ok()
        .filter(|f: &f64| f.is_finite())
}

#[cfg(all(test, feature = "office"))]
mod tests {
    use super::figure;

    #[test]
    fn either_mark_makes_a_figure_and_nothing_else_does() {
        assert_eq!(figure(" 70 "), Some(70.0));
        assert_eq!(figure("70.5"), figure("70,5"));
        for bad in ["", "seventy", "NaN", "inf", "7 0", "1.2.3"] {
            assert_eq!(figure(bad), None, "{bad}");
        }
    }
}
