//! Sending now, and what came of it.

use crate::device;
use crate::feed::{Feed, Link};
use crate::parts::{Action, Kind};
use crate::words::{Words, key, use_words};
use leptos::prelude::*;

/// Sends when tapped. Cheap to copy.
#[derive(Debug, Clone, Copy)]
pub struct SendNow {
    w: Words,
    feed: Option<Feed>,
    asked: RwSignal<bool>,
}

impl SendNow {
    /// Nothing was asked yet.
    pub fn new(feed: Option<Feed>) -> Self {
        Self {
            w: use_words(),
            feed,
            asked: RwSignal::new(false),
        }
    }

    /// The button.
    pub fn action(self) -> AnyView {
        let tap = move |()| {
            self.asked.set(true);
            device::wake();
        };
        let word = Signal::derive(move || self.w.tr(key::MORE_SEND));
        view! { <Action word=word kind=Kind::Quiet on_tap=tap/> }.into_any()
    }

    /// How it goes, once it was asked for.
    pub fn says(self) -> AnyView {
        let says = move || {
            let feed = self.feed.filter(|_| self.asked.get())?;
            let says = feed.link.with(|link| told(&self.w, link));
            Some(view! { <p class="words" role="status">{says}</p> })
        };
        view! { {says} }.into_any()
    }
}

fn told(w: &Words, link: &Link) -> String {
    let unsent = i64::try_from(link.unsent).unwrap_or(i64::MAX);
    match (link.busy, link.offline) {
        (true, _) => w.tr(key::MORE_SENDING),
        (false, true) => w.tr(key::OFFICE_NOT_REACHED),
        (false, false) => w.tr_with(key::RECORD_ON_PHONE, &[("n", unsent.into())]),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::words::Lang;

    #[test]
    fn what_came_of_it_is_said_in_each_case() {
        let w = Words::of(Lang::En);
        let said = |busy, offline, unsent| {
            let link = Link {
                unsent,
                busy,
                offline,
                ..Link::default()
            };
            told(&w, &link)
        };
        assert_eq!(said(false, false, 0), "All at the office");
        assert_eq!(said(false, false, 3), "3 on this phone");
        assert_eq!(said(false, true, 3), w.tr(key::OFFICE_NOT_REACHED));
        assert_eq!(said(true, true, 3), w.tr(key::MORE_SENDING));
    }
}
