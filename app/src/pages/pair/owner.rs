//! The owner comes in by a passphrase.

use super::{Asking, wrong_name};
use crate::device;
use crate::office;
use crate::pages::fields::Line;
use crate::parts::{Action, Drawing, Kind};
use crate::words::key;
use leptos::prelude::*;
use leptos::task::spawn_local;
use pentally_domain::pairing::Login;
use pentally_domain::said::Label;

/// A browser whose person knows the owner's passphrase becomes an office.
#[component]
pub(super) fn Owner(
    /// What this browser asks.
    asking: Asking,
) -> impl IntoView {
    let w = asking.w;
    let passphrase = RwSignal::new(String::new());
    let name = RwSignal::new(w.tr(key::ROLE_OFFICE));
    let (no_passphrase, no_name) = (RwSignal::new(None), RwSignal::new(None));
    let enter = move |()| {
        let said = passphrase.get_untracked();
        let label = Label::parse(&name.get_untracked());
        no_passphrase.set(said.is_empty().then(|| w.tr(key::OWNER_PASSPHRASE_MISSING)));
        no_name.set(label.as_ref().err().map(|e| wrong_name(&w, e)));
        let Some(name) = label.ok().filter(|_| !said.is_empty()) else {
            return;
        };
        let login = Login {
            passphrase: said,
            name,
        };
        asking.act.hush();
        asking.busy.set(true);
        spawn_local(async move {
            match office::post("/api/v1/login", &login).await {
                Ok(_) => device::load_page(Some("/")),
                Err(error) => asking.act.office_failed(&error),
            }
            asking.busy.set(false);
        });
    };
    view! {
        <details class="words how">
            <summary>{w.tr(key::OWNER_IS_ME)}</summary>
            <p>{w.tr(key::OWNER_WHY)}</p>
            <Line name=w.tr(key::OWNER_PASSPHRASE) value=passphrase secret=true wrong=no_passphrase/>
            <Line name=w.tr(key::OWNER_BROWSER) value=name hint=w.tr(key::FIELD_LABEL) wrong=no_name/>
            <div class="actions">
                <Action word=w.tr(key::OWNER_ENTER) kind=Kind::Quiet drawing=Drawing::Office on_tap=enter off=asking.busy/>
            </div>
        </details>
    }
}
