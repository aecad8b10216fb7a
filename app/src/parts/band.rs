//! The board at the top of a screen.

use super::{Drawing, Mark};
use leptos::prelude::*;

/// What the board says by colour, shape and word.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    /// Go on: disc.
    Ready,
    /// Wait: half disc.
    Rest,
    /// Do not: bar.
    Stop,
    /// Nobody knows: ring.
    Unknown,
}

/// Headlines up to this many characters are written at 72 px.
const SHORT_CHARS: usize = 5;
/// Headlines from this many characters on run over two lines.
const LONG_CHARS: usize = 10;

impl Role {
    /// Its shape.
    pub const fn drawing(self) -> Drawing {
        match self {
            Self::Ready => Drawing::Disc,
            Self::Rest => Drawing::HalfDisc,
            Self::Stop => Drawing::Bar,
            Self::Unknown => Drawing::Ring,
        }
    }

    const fn class(self) -> &'static str {
        match self {
            Self::Ready => "ready",
            Self::Rest => "rest",
            Self::Stop => "stop",
            Self::Unknown => "unknown",
        }
    }
}

/// Answers the screen's question: one or two words, and one sentence of why. The
/// children, if any, say who it is about.
#[component]
pub fn Band(
    #[prop(into)] role: Signal<Role>,
    #[prop(into)] headline: Signal<String>,
    #[prop(into)] why: Signal<String>,
    #[prop(optional)] children: Option<Children>,
) -> impl IntoView {
    let class = move || format!("band {}{}", role.get().class(), length(&headline.get()));
    view! {
        <header class=class>
            {children.map(|who| view! { <p class="who">{who()}</p> })}
            <div class="answer">
                <Mark drawing=Signal::derive(move || role.get().drawing()) />
                <h1>{headline}</h1>
            </div>
            <p class="why">{why}</p>
        </header>
    }
}

/// The head of a screen that asks or lists, without a verdict. The child, if any, stands beside it.
#[component]
pub fn Title(
    #[prop(into)] headline: Signal<String>,
    #[prop(optional, into)] why: Signal<String>,
    #[prop(optional)] children: Option<Children>,
) -> impl IntoView {
    view! {
        <header class="band plain">
            {children.map(|beside| beside())}
            <h1>{headline}</h1>
            <Show when=move || !why.get().is_empty()>
                <p class="why">{why}</p>
            </Show>
        </header>
    }
}

fn length(headline: &str) -> &'static str {
    match headline.chars().count() {
        ..=SHORT_CHARS => " short",
        LONG_CHARS.. => " long",
        _ => "",
    }
}
