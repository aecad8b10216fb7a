//! The card for the bad moment: what to do first, one tap away from every boar and all work with him.

use crate::act::{open_collection, open_training};
use crate::pages::rows;
use crate::parts::{Action, Caution, Drawing, Mark, Title};
use crate::paths;
use crate::words::{Key, key, use_words};
use leptos::prelude::*;
use pentally_domain::id::BoarId;

const MOMENTS: [(Key, Key); 3] = [
    (key::BAD_CHARGE, key::BAD_CHARGE_DO),
    (key::BAD_HURT, key::BAD_HURT_DO),
    (key::BAD_BLEED, key::BAD_BLEED_DO),
];

/// The way to it from the head of a screen where work is under way.
#[component]
pub fn BadMoment() -> impl IntoView {
    let w = use_words();
    // Never held back: whatever was tapped before, and while something is being saved.
    view! {
        <a class="bad" href=paths::BAD_MOMENT>
            <Mark drawing=Drawing::Warning/>{w.tr(key::BOAR_BAD_MOMENT)}
        </a>
    }
}

/// `/bad-moment`
#[component]
pub fn BadMomentPage() -> impl IntoView {
    let w = use_words();
    let card = move |(what, do_this): (Key, Key)| {
        view! { <section class="words"><p class="big">{w.tr(what)}</p><p>{w.tr(do_this)}</p></section> }
    };
    // Back to the work from which it was opened.
    let on = move |open: RwSignal<Option<BoarId>>, work, word| {
        move || {
            let href = paths::boar_do(open.get()?, work);
            Some(view! { <Action word=w.tr(word) href=href/> })
        }
    };
    let last = use_context::<crate::screens::LastBoar>().and_then(|l| l.0.get_untracked());
    let off = last.map(|id| {
        let href = paths::boar_do(id, "off");
        rows::link(
            href,
            Some(Drawing::Bar),
            w.tr(key::BAD_TAKE_OFF),
            String::new(),
            String::new(),
        )
    });
    view! {
        <Title headline=w.tr(key::BAD_TITLE)/>
        {MOMENTS.map(card).collect_view()}
        <div class="words"><Caution says=w.tr(key::BAD_NOTE)/></div>
        {rows::section(w.tr(key::BAD_THEN), off.into_iter().collect())}
        <div class="grow"></div>
        <div class="actions">
            {on(open_collection(), "collect", key::BOAR_GO_ON)}
            {on(open_training(), "train", key::BOAR_TRAIN_GO_ON)}
        </div>
    }
}
