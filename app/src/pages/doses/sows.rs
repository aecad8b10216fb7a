//! From the other end: so many sows stand. What do they take, what is kept and what waits, who may be collected?

use super::offer::served;
use super::{Choice, FILLING, Named, Work};
use crate::act::use_act;
use crate::device;
use crate::feed::use_feed;
use crate::pages::rows;
use crate::parts::{Action, Kind, Stepper, Title};
use crate::words::{Words, key, use_words};
use crate::{paths, tell};
use leptos::prelude::*;
use leptos::task::spawn_local;
use leptos_router::hooks::use_navigate;
use pentally_domain::barn::{Barn, BoarFacts};
use pentally_domain::explain::Origin;
use pentally_domain::filling::{Chosen, fill};
use pentally_domain::heat::heat_now;
use pentally_domain::id::EntryId;
use pentally_domain::rest::Standing;
use pentally_domain::serving::{SERVICES_PER_HEAT, serve};
use pentally_domain::today::{today, waiting};
use pentally_domain::units::{ServicesPerHeat, Sows};

/// How many boars are offered where doses are short.
const OFFERED: usize = 6;

/// An ejaculate that waits, and the doses it gives; none while something is not measured.
struct Gives {
    named: Named,
    doses: Option<u32>,
}

/// `/bench/sows`
#[component]
pub fn SowsStandPage() -> impl IntoView {
    let w = use_words();
    let act = use_act();
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    let stand = feed
        .barn
        .with_untracked(|barn| standing(barn, feed.now_ms.get_untracked()));
    let sows = RwSignal::new((stand > 0).then_some(stand));
    let services = RwSignal::new(Some(i64::from(SERVICES_PER_HEAT)));
    let go = use_navigate();
    let open = move |id: EntryId, chosen: Chosen| {
        let go = go.clone();
        spawn_local(async move {
            let choice = Choice {
                chosen,
                ..Choice::default()
            };
            let kept = device::draft_put(FILLING, &Work { of: id, choice }).await;
            act.told(kept, move |()| go(&paths::doses(id), Default::default()));
        });
    };
    let answer = move || {
        let (barn, now_ms) = (feed.barn.get(), feed.now_ms.get());
        let sows = asked(sows.get()).and_then(|n| Sows::new(n).ok())?;
        let services = asked(services.get()).and_then(|n| ServicesPerHeat::new(n).ok())?;
        let chosen = Chosen {
            sows: Some(sows),
            services: Some(services),
            ..Chosen::default()
        };
        let gives = gives(&barn, &chosen, now_ms);
        let stored = barn.stored_after(now_ms, now_ms);
        let kept: u32 = stored.iter().map(|s| s.usable(now_ms)).sum();
        let doses = kept + gives.iter().filter_map(|g| g.doses).sum::<u32>();
        let serving = serve(sows, services, Origin::Asked, Some(doses));
        let is_short = serving.reach.is_some_and(|reach| reach.short > 0);
        let waits: Vec<_> = gives
            .into_iter()
            .map(|g| {
                let (open, chosen, id) = (open.clone(), chosen.clone(), g.named.cup.collection);
                view! { <Action word=told(&w, &g) kind=Kind::Quiet on_tap=move |()| open(id, chosen.clone())/> }
            })
            .collect();
        let more = is_short.then(|| rows::section(w.tr(key::NEED_COLLECT), may(&barn, now_ms)));
        Some(view! {
            <p class="words big" role="status">{served(&w, &serving)}</p>
            <p class="words">{w.tr_with(key::NEED_KEPT, &[("n", kept.into())])}</p>
            {waits.is_empty().then(|| view! { <p class="words quiet">{w.tr(key::BENCH_EMPTY)}</p> })}
            <div class="actions">{waits}</div>
            {more}
        })
    };
    view! {
        <Title headline=w.tr(key::NEED_TITLE) why=w.tr(key::NEED_WHY)/>
        <Stepper asked=w.tr(key::DOSES_SOWS) value=sows start=1 low=Sows::LOW.into() high=Sows::HIGH.into()/>
        <Stepper asked=w.tr(key::DOSES_SERVICES) value=services start=i64::from(SERVICES_PER_HEAT)
            low=ServicesPerHeat::LOW.into() high=ServicesPerHeat::HIGH.into()/>
        {answer}
        <div class="grow"></div>
    }
    .into_any()
}

fn asked(value: Option<i64>) -> Option<u32> {
    value.and_then(|n| u32::try_from(n).ok())
}

/// How many sows stand now.
fn standing(barn: &Barn, now_ms: i64) -> i64 {
    let sows = barn.sows();
    let stand = sows.iter().filter(|s| heat_now(&s.heats, now_ms).is_some());
    i64::try_from(stand.count()).unwrap_or(0)
}

/// What waits at the bench, oldest first; without what may not be used.
fn gives(barn: &Barn, chosen: &Chosen, now_ms: i64) -> Vec<Gives> {
    let holding = barn.standard();
    let waits = waiting(barn, now_ms).into_iter().filter_map(|one| {
        let named = Named::of(&one.boar, one.collection.entry())?;
        let filling = fill(std::slice::from_ref(&named.cup), &holding, chosen, now_ms).ok()?;
        let doses = filling.fill.best().map(|filled| filled.doses);
        Some(Gives { named, doses })
    });
    waits.collect()
}

fn told(w: &Words, gives: &Gives) -> String {
    let number = ("number", gives.named.number.as_str().into());
    match gives.doses {
        Some(n) => w.tr_with(key::NEED_GIVES, &[number, ("n", n.into())]),
        None => w.tr_with(key::NEED_UNMEASURED, &[number]),
    }
}

/// The boars who may be collected, those who waited longest first.
fn may(barn: &Barn, now_ms: i64) -> Vec<AnyView> {
    let boars = today(barn, now_ms).may.into_iter().take(OFFERED);
    let row = |(boar, standing): (BoarFacts, Standing)| {
        let why = tell::standing(&use_words(), &standing, None).why.join(" ");
        rows::link(
            paths::boar(boar.id),
            None,
            boar.number(),
            why,
            String::new(),
        )
    };
    boars.map(row).collect()
}
