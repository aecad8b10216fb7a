//! A boar served her himself.

use crate::act::use_act;
use crate::feed::Feed;
use crate::pages::which::WhichBoar;
use crate::parts::{Action, Caution, Kind};
use crate::tell;
use crate::words::{key, use_words};
use leptos::prelude::*;
use pentally_domain::barn::BoarFacts;
use pentally_domain::fact::Fact;
use pentally_domain::id::{BoarId, SowId};
use pentally_domain::rest::standing;
use pentally_domain::sow::{By, Service};

/// A natural service: his standing first, since it counts in his rest.
#[component]
pub fn Natural(
    /// What pages read.
    feed: Feed,
    /// Who was served.
    id: SowId,
    /// By whom, once chosen.
    boar: RwSignal<Option<BoarId>>,
) -> impl IntoView {
    let w = use_words();
    let act = use_act();
    let boars = Memo::new(move |_| {
        let here = |b: &BoarFacts| b.boar.is_some() && b.gone().is_none();
        feed.barn.with(|b| {
            b.boars()
                .iter()
                .filter(|b| here(b))
                .map(|b| (b.id, b.number()))
                .collect::<Vec<_>>()
        })
    });
    let stands = move || {
        let (chosen, now_ms) = (boar.get()?, feed.now_ms.get());
        feed.barn.with(|b| {
            let stands = standing(
                &b.boar(chosen)?,
                &b.standard().standard,
                &b.zone_at(now_ms),
                now_ms,
            );
            let told = tell::standing(&w, &stands, None);
            Some(view! { <Caution says=format!("{}. {}", told.headline, told.why.join(" "))/> })
        })
    };
    let take = move |()| {
        let Some(chosen) = boar.get_untracked() else {
            return;
        };
        act.save_quietly(Fact::Service(Service {
            sow: id,
            by: By::Boar(chosen),
        }));
        boar.set(None);
    };
    view! {
        <details class="words how">
            <summary>{w.tr(key::SOWS_NATURAL)}</summary>
            <WhichBoar asked=w.tr(key::SOWS_BY_WHICH) boars=boars chosen=boar/>
            {stands}
            <p class="small quiet">{w.tr(key::SOWS_NATURAL_WHY)}</p>
            <Action word=w.tr(key::SOWS_NATURAL_SAVE) kind=Kind::Quiet off=Signal::derive(move || boar.get().is_none()) on_tap=take/>
        </details>
    }
}
