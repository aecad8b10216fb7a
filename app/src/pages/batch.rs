//! A semen batch: what was made, of what, until when, what is left, and how it was reckoned.

use crate::act::use_act;
use crate::feed::use_feed;
use crate::pages::{doses, rows};
use crate::parts::{Action, Band, Caution, Drawing, Kind, Role};
use crate::words::{Words, key, use_words};
use crate::{paths, tell};
use leptos::prelude::*;
use pentally_domain::amend::Void;
use pentally_domain::barn::{Barn, Seen};
use pentally_domain::batch::SemenBatch;
use pentally_domain::fact::Fact;
use pentally_domain::id::EntryId;
use pentally_domain::json;
use pentally_domain::reckon::DosesAnswer;
use pentally_domain::sow::By;

/// `/batch/ENTRY`
#[component]
pub fn BatchPage(
    /// Its entry.
    id: EntryId,
) -> impl IntoView {
    let w = use_words();
    let act = use_act();
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    (move || {
        let (barn, now_ms) = (feed.barn.get(), feed.now_ms.get());
        let Some(batch) = barn.batch(id) else {
            return view! { <p class="words quiet">{w.tr(key::BATCH_MISSING)}</p> }.into_any();
        };
        let zone = barn.zone_at(now_ms);
        let (left, over) = (left(&barn, &batch), batch.fact.use_by.ms() < now_ms);
        let when = tell::moment(&w, &zone, batch.fact.use_by.ms(), now_ms);
        let why = w.tr_with(if over { key::BATCH_OVER } else { key::BATCH_USE_BY }, &[("when", when.into())]);
        let role = if over { Role::Stop } else if left == 0 { Role::Unknown } else { Role::Ready };
        let void = Fact::Void(Void::of(batch.order, &Fact::SemenBatch(batch.fact.clone())));
        let code = batch.fact.code.to_string();
        view! {
            <Band role=role headline=w.tr_with(key::BATCH_LEFT, &[("n", left.into())]) why=why>{code}</Band>
            <div class="words">
                {(!batch.fact.counted).then(|| view! { <p class="big">{w.tr(key::NOT_COUNTED)}</p> })}
                <p>{made(&w, &batch.fact)}</p>
                <p class="quiet">{of(&w, &barn, &batch.fact)}</p>
                {(batch.fact.antibiotic != Some(false)).then(|| view! { <Caution says=w.tr(key::BATCH_WITHDRAWAL)/> })}
            </div>
            <div class="actions">
                {(left > 0 && !over).then(|| view! { <Action word=w.tr(key::BATCH_USE) drawing=Drawing::Sow href=paths::serve(id)/> })}
                <Action word=w.tr(key::UNDO) kind=Kind::Quiet on_tap=move |()| act.save_quietly(void.clone())/>
            </div>
            {rows::section(w.tr(key::BATCH_USED), used(&w, &barn, &batch, now_ms))}
            <div class="words">{doses::how::of_batch(&w, &batch.fact)}</div>
            <div class="grow"></div>
        }
        .into_any()
    })
    .into_any()
}

/// The doses that no service has used yet.
pub fn left(barn: &Barn, batch: &Seen<SemenBatch>) -> u32 {
    let used: u32 = uses(barn, batch)
        .iter()
        .map(|(_, doses)| u32::from(*doses))
        .sum();
    u32::from(batch.fact.doses).saturating_sub(used)
}

type Use = (Seen<pentally_domain::sow::Service>, u8);

/// Every service with this batch, once, though it stands with each boar of a pool.
fn uses(barn: &Barn, batch: &Seen<SemenBatch>) -> Vec<Use> {
    let id = batch.entry();
    let boars = batch.fact.sources.iter().filter_map(|s| barn.boar(s.boar));
    let mut list: Vec<Use> = boars
        .flat_map(|b| b.services)
        .filter_map(|s| match s.fact.by {
            By::Doses { batch, doses, .. } if batch == id => Some((s, doses)),
            _ => None,
        })
        .collect();
    list.sort_by_key(|(s, _)| s.order);
    list.dedup_by_key(|(s, _)| s.order);
    list
}

fn used(w: &Words, barn: &Barn, batch: &Seen<SemenBatch>, now_ms: i64) -> Vec<AnyView> {
    let zone = barn.zone_at(now_ms);
    let row = |(service, doses): &Use| {
        let sow = barn.sow(service.fact.sow).and_then(|s| s.sow);
        let name = sow.map_or_else(
            || w.tr(key::NOT_KNOWN),
            |s| s.fact.number.as_str().to_owned(),
        );
        let small = tell::moment(w, &zone, service.at.ms(), now_ms);
        let last = w.tr_with(key::BATCH_DOSES, &[("n", (*doses).into())]);
        rows::link(
            paths::sow(service.fact.sow),
            Some(Drawing::Sow),
            name,
            small,
            last,
        )
    };
    uses(barn, batch).iter().map(row).collect()
}

fn made(w: &Words, batch: &SemenBatch) -> String {
    w.tr_with(
        key::BATCH_MADE,
        &[
            ("n", batch.doses.into()),
            ("ml", w.num(batch.dose_volume.value(), 0).into()),
            (
                "technique",
                w.tr(tell::technique(batch.technique)).to_lowercase().into(),
            ),
        ],
    )
}

/// Whose semen it is; of a pool that was counted, with each boar's share.
fn of(w: &Words, barn: &Barn, batch: &SemenBatch) -> String {
    let numbers: Vec<_> = batch
        .sources
        .iter()
        .map(|s| barn.boar(s.boar).map_or_else(String::new, |b| b.number()))
        .collect();
    let shares = json::read::<DosesAnswer>(&batch.answered)
        .map(|answer| answer.shares_percent)
        .unwrap_or_default();
    let boars = match shares.is_empty() {
        true => numbers.join(", "),
        false => doses::shared(w, &numbers, &shares),
    };
    w.tr_with(key::BATCH_OF, &[("boars", boars.into())])
}
