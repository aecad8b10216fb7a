//! The four places of the barn, by word.

use super::is_repeat;
use crate::words::{Key, key, use_words};
use leptos::prelude::*;

/// A place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// The boar whose pen was scanned last.
    Boar,
    /// What is due.
    Today,
    /// Evaluating and doses.
    Bench,
    /// All else.
    More,
}

impl Place {
    /// All four, in their order on the screen.
    pub const ALL: [Self; 4] = [Self::Boar, Self::Today, Self::Bench, Self::More];

    const fn word(self) -> Key {
        match self {
            Self::Boar => key::PLACE_BOAR,
            Self::Today => key::PLACE_TODAY,
            Self::Bench => key::PLACE_BENCH,
            Self::More => key::PLACE_MORE,
        }
    }
}

/// The way to the four places; `address` gives each its path.
#[component]
pub fn Places(
    #[prop(into)] here: Signal<Option<Place>>,
    #[prop(into)] address: Callback<Place, String>,
) -> impl IntoView {
    let words = use_words();
    let link = move |place: Place| {
        view! {
            <a
                href=move || address.run(place)
                aria-current=move || (here.get() == Some(place)).then_some("page")
                on:click=move |click| {
                    is_repeat(&click);
                }
            >
                {move || words.tr(place.word())}
            </a>
        }
    };
    view! {
        <nav class="places" aria-label=move || words.tr(key::PLACE_NAV)>
            {Place::ALL.map(link).collect_view()}
        </nav>
    }
}
