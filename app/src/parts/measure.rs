//! A figure with its unit, the reckoning behind it, and a word of caution.

use super::{Drawing, Mark};
use crate::words::{key, use_words};
use leptos::prelude::*;

/// How large a figure is written.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Size {
    /// As the text around it.
    #[default]
    Text,
    /// 44 px.
    Large,
    /// 72 px.
    Huge,
}

/// A figure and its unit, smaller and a thin space apart.
#[component]
pub fn Measure(
    #[prop(into)] figure: Signal<String>,
    #[prop(into)] unit: Signal<String>,
    #[prop(optional)] size: Size,
) -> impl IntoView {
    let class = match size {
        Size::Text => "figure",
        Size::Large => "figure large",
        Size::Huge => "figure huge",
    };
    view! {
        <span class=class>
            {figure}
            <span class="unit">{unit}</span>
        </span>
    }
}

/// "How?": opens the reckoning behind a figure.
#[component]
pub fn How(children: Children) -> impl IntoView {
    let words = use_words();
    view! {
        <details class="how">
            <summary>{move || words.tr(key::ASK_HOW)}</summary>
            {children()}
        </details>
    }
}

/// A caution where it matters, before the hand goes in; never a dialog.
#[component]
pub fn Caution(#[prop(into)] says: Signal<String>) -> impl IntoView {
    view! {
        <p class="caution">
            <Mark drawing=Drawing::Warning />
            <span>{says}</span>
        </p>
    }
}
