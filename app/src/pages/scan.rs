//! To a boar by his pen's tag: through the camera, or its code on the keypad.

use crate::parts::{CodePad, Title};
use crate::paths;
use crate::words::{key, use_words};
use leptos::prelude::*;
use leptos_router::hooks::use_navigate;
use pentally_domain::code::Code;

/// Digits of a code.
const DIGITS: usize = 6;

/// `/scan`
#[component]
pub fn ScanPage() -> impl IntoView {
    let w = use_words();
    let typed = RwSignal::new(String::new());
    let navigate = use_navigate();
    let wrong =
        Memo::new(move |_| typed.with(|t| (t.len() == DIGITS).then(|| Code::parse(t).is_err())));
    Effect::new(move |_| {
        let read = typed.with(|t| (t.len() == DIGITS).then(|| Code::parse(t).ok()).flatten());
        if let Some(code) = read {
            navigate(&paths::tag(code), Default::default());
        }
    });
    let says = move || {
        let bad = wrong.get() == Some(true);
        bad.then(|| w.tr_with(key::TAG_BAD_WHY, &[("read", typed.get().into())]))
    };
    view! {
        <Title headline=w.tr(key::SCAN_TITLE) why=w.tr(key::SCAN_WHY)/>
        <div class="grow"></div>
        {move || says().map(|words| view! { <p class="words mend" role="alert">{words}</p> })}
        <CodePad typed=typed length=DIGITS/>
    }
}
