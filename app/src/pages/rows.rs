//! Rows between rules, as most pages list their records.

use crate::feed::RecordState;
use crate::parts::{Drawing, Mark};
use crate::words::{Words, key};
use leptos::prelude::*;

/// One record: what it says, small words below, where it stands, and what can be done with it.
pub fn record(
    w: &Words,
    title: String,
    small: &[String],
    state: RecordState,
    tail: Option<AnyView>,
) -> AnyView {
    let mark = match state {
        RecordState::OnThisPhone => Some((Drawing::DotTail, w.tr(key::RECORD_THIS_PHONE))),
        RecordState::NotAccepted => Some((Drawing::Bar, w.tr(key::RECORD_THIS_REFUSED))),
        RecordState::AtTheOffice => None,
    };
    let (drawing, said) = mark.map_or((None, None), |(d, s)| (Some(d), Some(s)));
    let small: Vec<String> = small
        .iter()
        .cloned()
        .chain(said)
        .filter(|s| !s.is_empty())
        .collect();
    view! {
        <li class="row">
            {drawing.map(|d| view! { <Mark drawing=d/> })}
            <div class="rest-of"><p class="name">{title}</p><p class="small quiet">{small.join(" · ")}</p></div>
            {tail}
        </li>
    }
    .into_any()
}

/// A row that leads somewhere.
pub fn link(
    href: String,
    drawing: Option<Drawing>,
    name: String,
    small: String,
    last: String,
) -> AnyView {
    view! {
        <li><a class="row" href=href>
            {drawing.map(|d| view! { <Mark drawing=d/> })}
            <span class="rest-of"><span class="name">{name}</span><br/><span class="small quiet">{small}</span></span>
            <span class="last">{last}</span>
        </a></li>
    }
    .into_any()
}

/// Rows under a heading; nothing at all where there are none.
pub fn section(heading: String, rows: Vec<AnyView>) -> Option<AnyView> {
    (!rows.is_empty()).then(|| {
        view! { <section><h2 class="heading">{heading}</h2><ul class="rows">{rows}</ul></section> }.into_any()
    })
}
