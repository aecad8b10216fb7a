//! The first start: one page, three ways.

use crate::act::use_act;
use crate::device;
use crate::office::{self, Body};
use crate::pages::fields::Line;
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
    let missing = RwSignal::new(None);
    let navigate = use_navigate();
    let start = move |body: serde_json::Value, then: &'static str| {
        let navigate = navigate.clone();
        let busy = act.busy();
        spawn_local(async move {
            let _busy = busy;
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
            missing.set(Some(w.tr(key::FIRST_NAME_MISSING)));
        } else {
            missing.set(None);
            own(
                serde_json::json!({ "farm": farm.trim(), "zone": office::zone_name() }),
                then,
            );
        }
    };
    let list = begin.clone();
    view! {
        <Title headline=w.tr(key::FIRST_TITLE) why=w.tr(key::FIRST_WHY)/>
        <div class="words"><Line name=w.tr(key::FIRST_NAME) value=name hint=w.tr(key::FIELD_LABEL) wrong=missing/></div>
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
