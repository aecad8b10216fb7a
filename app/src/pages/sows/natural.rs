//! A boar served her himself.

use super::ago;
use crate::act::use_act;
use crate::device::Draft;
use crate::feed::Feed;
use crate::pages::which::WhichBoar;
use crate::parts::{Action, Caution, Chips, Kind};
use crate::tell;
use crate::words::{key, use_words};
use leptos::prelude::*;
use pentally_domain::barn::BoarFacts;
use pentally_domain::fact::Fact;
use pentally_domain::id::{BoarId, SowId};
use pentally_domain::rest::standing;
use pentally_domain::sow::{By, Service};
use pentally_domain::time::HOUR_MS;

/// How long ago he may have served her, in hours, as it can be tapped.
const SERVED_HOURS: [i64; 6] = [0, 3, 6, 12, 24, 48];

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
    let hours = RwSignal::new(Some(0));
    let take = move |()| {
        let (Some(chosen), Some(hours)) = (boar.get_untracked(), hours.get_untracked()) else {
            return;
        };
        let ms = feed.now_ms.get_untracked() - hours * HOUR_MS;
        let at = feed.barn.with_untracked(|b| b.zone_at(ms).stamp(ms));
        let served = Draft::of(Fact::Service(Service {
            sow: id,
            by: By::Boar(chosen),
        }));
        let served = match at {
            Ok(at) if hours > 0 => served.at(at),
            _ => served,
        };
        act.save(vec![served], move |_| boar.set(None));
    };
    let off = Signal::derive(move || boar.get().is_none() || hours.get().is_none());
    view! {
        <details class="words how">
            <summary>{w.tr(key::SOWS_NATURAL)}</summary>
            <WhichBoar asked=w.tr(key::SOWS_BY_WHICH) boars=boars chosen=boar/>
            {stands}
            <Chips asked=w.tr(key::SOWS_NATURAL_WHEN) options=SERVED_HOURS.map(|h| (h, ago(&w, h))).to_vec() chosen=hours/>
            <p class="small quiet">{w.tr(key::SOWS_NATURAL_WHY)}</p>
            <Action word=w.tr(key::SOWS_NATURAL_SAVE) kind=Kind::Quiet off=off on_tap=take/>
        </details>
    }
}
