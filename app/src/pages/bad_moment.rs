//! The card for the bad moment: what to do first, one tap away from every boar.

use crate::pages::rows;
use crate::parts::{Caution, Drawing, Title};
use crate::words::{Key, key, use_words};
use leptos::prelude::*;

const MOMENTS: [(Key, Key); 3] = [
    (key::BAD_CHARGE, key::BAD_CHARGE_DO),
    (key::BAD_HURT, key::BAD_HURT_DO),
    (key::BAD_BLEED, key::BAD_BLEED_DO),
];

/// `/bad-moment`
#[component]
pub fn BadMomentPage() -> impl IntoView {
    let w = use_words();
    let card = move |(what, do_this): (Key, Key)| {
        view! { <section class="words"><p class="big">{w.tr(what)}</p><p>{w.tr(do_this)}</p></section> }
    };
    let last = use_context::<crate::screens::LastBoar>().and_then(|l| l.0.get_untracked());
    let off = last.map(|id| {
        let href = crate::paths::boar_do(id, "off");
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
    }
}
