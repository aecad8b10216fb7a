//! Writing a boar: a new one, or what is known of one.

use super::form::{Fields, Form};
use super::typed::Typed;
use crate::act::use_act;
use crate::device::{self, Draft};
use crate::feed::{Feed, use_feed};
use crate::pages::fields::Choice;
use crate::parts::{Action, Chips, Title};
use crate::paths;
use crate::words::{key, use_words};
use chrono::{Days, NaiveDate};
use leptos::prelude::*;
use leptos_router::hooks::use_navigate;
use pentally_domain::amend::Correction;
use pentally_domain::barn::Seen;
use pentally_domain::boar::{Boar, Move, OffCollection, OffReason};
use pentally_domain::fact::Fact;
use pentally_domain::id::{BoarId, PenId};

/// `/boars/new`
#[component]
pub fn NewBoarPage() -> impl IntoView {
    let w = use_words();
    let act = use_act();
    let navigate = use_navigate();
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    let form = Form::of(Typed::default());
    let pen = RwSignal::new(String::new());
    let apart = RwSignal::new(None::<bool>);
    let yes_no = vec![(true, w.tr(key::YES)), (false, w.tr(key::NO))];
    let pens = Signal::derive(move || {
        let pens = feed.barn.with(|b| b.pens());
        let named = pens
            .into_iter()
            .filter_map(|p| Some((p.id.to_string(), p.pen?.fact.name.as_str().to_owned())));
        std::iter::once((String::new(), w.tr(key::NOT_KNOWN)))
            .chain(named)
            .collect::<Vec<_>>()
    });
    let take = move |()| {
        let Some(boar) = form.check(&w, feed, None) else {
            return;
        };
        let new = device::new_id();
        let id = new.id().as_boar();
        let to = PenId::parse(&pen.get_untracked()).ok();
        let here = to.map(|to| {
            Draft::of(Fact::Move(Move {
                boar: id,
                from: None,
                to: Some(to),
                gone: false,
            }))
        });
        let apart = apart.get_untracked() == Some(true);
        let apart = apart.then(|| Draft::of(Fact::OffCollection(isolation(feed, id))));
        let drafts = std::iter::once(Draft::of(Fact::Boar(boar)).with_id(new))
            .chain(here)
            .chain(apart)
            .collect();
        let navigate = navigate.clone();
        act.save(drafts, move |_| {
            navigate(&paths::boar(id), Default::default())
        });
    };
    view! {
        <Title headline=w.tr(key::BOARS_NEW)/>
        <Fields form/>
        <div class="words">
            <Choice name=w.tr(key::BOARS_PEN) options=pens value=pen/>
            <Chips asked=w.tr(key::BOARS_APART) options=yes_no chosen=apart/>
            <p class="small quiet">{move || w.tr_with(key::BOARS_APART_WHY, &[("day", apart_until(feed).map(|d| w.day_month_year(d)).unwrap_or_default().into())])}</p>
        </div>
        <div class="actions"><Action word=w.tr(key::SAVE) on_tap=take/></div>
        <div class="grow"></div>
    }
    .into_any()
}

/// The last day on which a boar who arrives today is kept apart.
fn apart_until(feed: Feed) -> Option<NaiveDate> {
    let now_ms = feed.now_ms.get_untracked();
    feed.barn.with_untracked(|barn| {
        let days = barn.standard().standard.isolation_days;
        let today = barn.zone_at(now_ms).day(now_ms);
        today.checked_add_days(Days::new(days.into()))
    })
}

fn isolation(feed: Feed, boar: BoarId) -> OffCollection {
    OffCollection {
        boar,
        reason: OffReason::Isolation,
        until: apart_until(feed),
        cull: None,
    }
}

/// `/boar/ID/edit`
#[component]
pub fn EditBoarPage(
    /// Who.
    id: BoarId,
) -> impl IntoView {
    let w = use_words();
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    // What others change meanwhile must not empty the form: only his arrival builds it.
    let known = Memo::new(move |_| {
        feed.barn
            .with(|b| b.boar(id))
            .is_some_and(|b| b.boar.is_some())
    });
    let page = move || {
        let seen = known
            .get()
            .then(|| {
                feed.barn
                    .with_untracked(|b| b.boar(id))
                    .and_then(|b| b.boar)
            })
            .flatten();
        match seen {
            Some(seen) => view! { <Edit id feed seen/> }.into_any(),
            None => view! { <p class="words quiet">{w.tr(key::BOAR_MISSING)}</p><div class="grow"></div> }.into_any(),
        }
    };
    page.into_any()
}

#[component]
fn Edit(id: BoarId, feed: Feed, seen: Seen<Boar>) -> impl IntoView {
    let w = use_words();
    let act = use_act();
    let navigate = use_navigate();
    let title = w.tr_with(
        key::BOAR_TITLE,
        &[("number", seen.fact.number.as_str().into())],
    );
    let form = Form::of(Typed::of(&seen.fact));
    let take = move |()| {
        let Some(boar) = form.check(&w, feed, Some((id, &seen.fact))) else {
            return;
        };
        let before = Fact::Boar(seen.fact.clone());
        let changed =
            (boar != seen.fact).then(|| Correction::of(seen.order, &before, Fact::Boar(boar)));
        let navigate = navigate.clone();
        let back = move |_| navigate(&paths::boar(id), Default::default());
        match changed {
            Some(correction) => act.save(vec![Draft::of(Fact::Correction(correction))], back),
            None => back(vec![]),
        }
    };
    view! {
        <Title headline=w.tr(key::BOAR_EDIT) why=title/>
        <Fields form/>
        <div class="actions"><Action word=w.tr(key::SAVE) on_tap=take/></div>
        <div class="grow"></div>
    }
}
