//! The first start: one page, three ways.

use crate::act::use_act;
use crate::device;
use crate::office::{self, Body};
use crate::parts::{Action, Drawing, Kind, Title};
use crate::words::{key, use_words};
use leptos::prelude::*;
use leptos::task::spawn_local;
use leptos_router::hooks::use_navigate;

/// Shown while the office has no farm.
#[component]
pub fn FirstPage() -> impl IntoView {
    let w = use_words();
    let act = use_act();
    let name = RwSignal::new(String::new());
    let navigate = use_navigate();
    let start = move |body: serde_json::Value, then: &'static str| {
        let navigate = navigate.clone();
        spawn_local(async move {
            match office::ask("POST", "/api/v1/start", Some(Body::Json(body.to_string()))).await {
                Ok(_) => {
                    device::hello().await;
                    navigate(then, Default::default());
                }
                Err(error) => act.office_failed(&error),
            }
        });
    };
    let own = start.clone();
    let begin = move |then: &'static str| {
        let farm = name.get_untracked();
        if farm.trim().is_empty() {
            act.say(w.tr(key::FIRST_NAME_MISSING));
        } else {
            own(
                serde_json::json!({ "farm": farm.trim(), "zone": office::zone_name() }),
                then,
            );
        }
    };
    let list = begin.clone();
    view! {
        <Title headline=w.tr(key::FIRST_TITLE) why=w.tr(key::FIRST_WHY)/>
        <label class="words field">{w.tr(key::FIRST_NAME)}<input type="text" maxlength="40" autocomplete="off" bind:value=name/></label>
        <div class="actions">
            <Action word=w.tr(key::FIRST_EMPTY) drawing=Drawing::PenGate on_tap=move |()| begin(crate::paths::TODAY)/>
            <Action word=w.tr(key::FIRST_LIST) drawing=Drawing::Board kind=Kind::Quiet on_tap=move |()| list(crate::paths::IMPORT)/>
            <Action word=w.tr(key::FIRST_LOOK) drawing=Drawing::Boar kind=Kind::Quiet
                on_tap=move |()| start(serde_json::json!({ "invented": true }), crate::paths::TODAY)/>
        </div>
        <p class="words small quiet">{w.tr(key::FIRST_LOOK_WHY)}</p>
        <p class="words small quiet">{w.tr(key::MORE_CAUTION)}</p>
    }
}
