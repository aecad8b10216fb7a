//! The bench: what waits, oldest first.

use crate::feed::use_feed;
use crate::pages::rows;
use crate::parts::{Action, Drawing, Kind, Title};
use crate::words::{Words, key, use_words};
use crate::{paths, tell};
use leptos::prelude::*;
use pentally_domain::barn::{Barn, Seen};
use pentally_domain::batch::SemenBatch;
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
        view! {
            <Title headline=w.tr(key::PLACE_BENCH) why=why/>
            <ul class="rows">{rows}</ul>
            {sows}
            {rows::section(w.tr(key::BENCH_BATCHES), batches(&w, &barn, now_ms))}
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
    let told = tell::verdict(w, &verdict, one.evaluation.is_some());
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

/// The batches that are to be used after `since_ms`; each once, though it stands with every boar of a
/// pool, the latest first.
pub fn batches_after(barn: &Barn, since_ms: i64) -> Vec<Seen<SemenBatch>> {
    let all = barn.boars().into_iter().flat_map(|b| b.batches);
    let mut list: Vec<_> = all.filter(|b| b.fact.use_by.ms() > since_ms).collect();
    list.sort_by_key(|b| std::cmp::Reverse((b.at.ms(), b.order)));
    list.dedup_by_key(|b| b.entry());
    list
}

fn batches(w: &Words, barn: &Barn, now_ms: i64) -> Vec<AnyView> {
    let list = batches_after(barn, now_ms - OVER_MS);
    let zone = barn.zone_at(now_ms);
    let row = |b: &Seen<SemenBatch>| {
        let over = b.fact.use_by.ms() < now_ms;
        let name = format!(
            "{} · {}",
            b.fact.code,
            w.tr_with(key::BATCH_DOSES, &[("n", b.fact.doses.into())])
        );
        let key = if over {
            key::BATCH_OVER
        } else {
            key::BATCH_USE_BY
        };
        let small = w.tr_with(
            key,
            &[(
                "when",
                tell::moment(w, &zone, b.fact.use_by.ms(), now_ms).into(),
            )],
        );
        let drawing = if over { Drawing::Bar } else { Drawing::Dose };
        rows::link(
            paths::batch(b.entry()),
            Some(drawing),
            name,
            small,
            String::new(),
        )
    };
    list.iter().map(row).collect()
}
