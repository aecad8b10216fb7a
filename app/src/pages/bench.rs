//! The bench: what waits, oldest first.

use crate::feed::use_feed;
use crate::pages::rows;
use crate::parts::{Action, Drawing, Kind, Title};
use crate::words::{Words, key, use_words};
use crate::{paths, tell};
use leptos::prelude::*;
use pentally_domain::barn::{Barn, Stored};
use pentally_domain::retained::pulled::State;
use pentally_domain::time::DAY_MS;
use pentally_domain::today::{Waiting, waiting};
use pentally_domain::verdict::judge;

/// Semen batches are listed below what waits until so long past their use: time to see that
/// they are thrown away.
const OVER_MS: i64 = 2 * DAY_MS;

/// `/bench`
#[component]
pub fn BenchPage() -> impl IntoView {
    let w = use_words();
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    (move || {
        let (barn, now_ms) = (feed.barn.get(), feed.now_ms.get());
        let waits = waiting(&barn, now_ms);
        let why = if waits.is_empty() {
            w.tr(key::BENCH_EMPTY)
        } else {
            w.tr_with(key::TODAY_WAITS, &[("n", waits.len().into())])
        };
        let rows: Vec<_> = waits
            .iter()
            .map(|one| row(&w, &barn, one, now_ms))
            .collect();
        let sows = feed.holds_sows().then(|| {
            view! { <div class="actions"><Action word=w.tr(key::NEED_TITLE) kind=Kind::Quiet drawing=Drawing::Sow href=paths::SOWS_STAND/></div> }
        });
        let mixes = barn.mixes_after(now_ms).len();
        let extender = rows::link(
            paths::EXTENDER.to_owned(),
            Some(Drawing::Drop),
            w.tr(key::MORE_EXTENDER),
            w.tr_with(key::MIX_AT_HAND, &[("n", mixes.into())]),
            String::new(),
        );
        let instruments = rows::link(
            paths::INSTRUMENTS.to_owned(),
            Some(Drawing::ChamberGrid),
            w.tr(key::MORE_INSTRUMENTS),
            String::new(),
            String::new(),
        );
        view! {
            <Title headline=w.tr(key::PLACE_BENCH) why=why/>
            <ul class="rows">{rows}</ul>
            {sows}
            <ul class="rows">{extender}{instruments}</ul>
            {batches(&w, &barn, now_ms)}
            <div class="grow"></div>
        }
    })
    .into_any()
}

fn row(w: &Words, barn: &Barn, one: &Waiting, now_ms: i64) -> AnyView {
    let verdict = judge(
        &one.collection.fact,
        one.evaluation.as_ref().map(|e| &e.fact),
        &barn.standard().standard,
    );
    let told = tell::verdict_at_bench(w, &verdict, one.evaluation.is_some());
    let small = format!(
        "{} · {}",
        tell::collected(w, &one.collection.fact),
        told.headline
    );
    let age = w.span(now_ms - one.collection.at.ms());
    rows::link(
        paths::bench(one.collection.entry()),
        Some(told.role.drawing()),
        one.boar.number(),
        small,
        age,
    )
}

/// What may be used, and apart from it what is pulled.
fn batches(w: &Words, barn: &Barn, now_ms: i64) -> AnyView {
    let all = barn.stored_after(now_ms - OVER_MS, now_ms);
    let (pulled, kept): (Vec<_>, Vec<_>) = all.into_iter().partition(Stored::is_pulled);
    let zone = barn.zone_at(now_ms);
    let row = |s: &Stored| {
        let name = format!(
            "{} · {}",
            s.batch.fact.code,
            w.tr_with(key::BATCH_LEFT, &[("n", s.left().into())])
        );
        let (key, drawing, ms) = match &s.state {
            State::Pulled(pulled) => (key::PULLED_SINCE, Drawing::Bar, pulled.since.ms()),
            _ if s.is_over(now_ms) => (key::BATCH_OVER, Drawing::Bar, s.batch.fact.use_by.ms()),
            State::LookAgain { .. } => (
                key::LOOK_AGAIN_BY,
                Drawing::HalfDisc,
                s.batch.fact.use_by.ms(),
            ),
            _ => (key::BATCH_USE_BY, Drawing::Dose, s.batch.fact.use_by.ms()),
        };
        let when = tell::moment(w, &zone, ms, now_ms);
        let small = w.tr_with(key, &[("when", when.into())]);
        rows::link(
            paths::batch(s.batch.entry()),
            Some(drawing),
            name,
            small,
            String::new(),
        )
    };
    view! {
        {rows::section(w.tr(key::BENCH_BATCHES), kept.iter().map(row).collect())}
        {rows::section(w.tr(key::BENCH_PULLED), pulled.iter().map(row).collect())}
    }
    .into_any()
}
