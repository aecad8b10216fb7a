//! A semen batch: what was made, of what, until when, what is left, where it stands by its retained
//! samples, and how it was reckoned.

mod keeps;
mod look;
mod pulled;
mod taken_back;

use crate::act::{Act, to_top, use_act};
use crate::feed::{Feed, use_feed};
use crate::pages::{doses, rows};
use crate::parts::{Action, Band, Caution, Drawing, Kind, Role};
use crate::words::{Words, key, use_words};
use crate::{paths, tell};
use leptos::prelude::*;
use pentally_domain::barn::{Barn, Stored};
use pentally_domain::batch::SemenBatch;
use pentally_domain::code::Code;
use pentally_domain::id::EntryId;
use pentally_domain::json;
use pentally_domain::reckon::DosesAnswer;
use pentally_domain::retained::pulled::{Out, State};

/// What the page was asked for.
#[derive(Clone, Copy)]
struct Asked {
    /// A look at a sample.
    looking: RwSignal<bool>,
    /// To take the batch back, once.
    back: RwSignal<bool>,
}

/// `/batch/ENTRY`
#[component]
pub fn BatchPage(
    /// Its entry.
    id: EntryId,
) -> impl IntoView {
    let (w, act) = (use_words(), use_act());
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    let asked = Asked {
        looking: RwSignal::new(false),
        back: RwSignal::new(false),
    };
    let keeps = keeps::Keeps::of(feed, id);
    (move || {
        if asked.looking.get() {
            return view! { <look::Looking feed id looking=asked.looking/> }.into_any();
        }
        (move || shown(w, act, feed, id, asked, keeps)).into_any()
    })
    .into_any()
}

/// `/B/CODE`: the batch that bears the code, whichever device made it.
#[component]
pub fn BatchOfCodePage(
    /// As it stands in the address.
    code: String,
) -> impl IntoView {
    let w = use_words();
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    let Ok(read) = Code::parse(&code) else {
        let why = w.tr_with(key::TAG_BAD_WHY, &[("read", code.into())]);
        return missing(&w, w.tr(key::TAG_BAD), why);
    };
    let found = Memo::new(move |_| {
        let whole = feed.link.with(|l| l.whole);
        let batches = feed.barn.with(|b| b.batches_of_code(read));
        (whole, batches.iter().map(|b| b.entry()).collect::<Vec<_>>())
    });
    (move || match found.get() {
        (_, found) if found.len() == 1 => {
            let id = found.first().copied();
            id.map(|id| view! { <BatchPage id/> }).into_any()
        }
        (false, _) => view! { <p class="words big">{w.tr(key::READING)}</p> }.into_any(),
        (true, found) if found.is_empty() => {
            if let Some(id) = feed.barn.with(|b| taken_back::of_code(b, read)) {
                return view! { <BatchPage id/> }.into_any();
            }
            let why = w.tr_with(key::BATCH_UNKNOWN_WHY, &[("code", read.to_string().into())]);
            missing(&w, w.tr(key::BATCH_UNKNOWN), why)
        }
        (true, found) => which(w, feed, &found),
    })
    .into_any()
}

fn missing(w: &Words, headline: String, why: String) -> AnyView {
    view! {
        <Band role=Role::Unknown headline=headline why=why/>
        <div class="grow"></div>
        <div class="actions">
            <Action word=w.tr(key::SCAN_TITLE) drawing=Drawing::Scan href=paths::SCAN/>
            <Action word=w.tr(key::PLACE_BENCH) kind=Kind::Quiet href=paths::BENCH/>
        </div>
    }
    .into_any()
}

/// Two devices gave out the same code before they knew of each other.
fn which(w: Words, feed: Feed, found: &[EntryId]) -> AnyView {
    let (barn, now_ms) = (feed.barn.get(), feed.now_ms.get());
    let zone = barn.zone_at(now_ms);
    let row = |id: &EntryId| {
        let made = barn.batch(*id)?;
        let when = tell::moment(&w, &zone, made.at.ms(), now_ms);
        Some(rows::link(
            paths::batch(*id),
            Some(Drawing::Dose),
            of(&w, &barn, &made.fact),
            w.tr_with(key::BATCH_MADE_AT, &[("when", when.into())]),
            w.tr_with(key::BATCH_DOSES, &[("n", made.fact.doses.into())]),
        ))
    };
    view! {
        <Band role=Role::Unknown headline=w.tr(key::BATCH_WHICH) why=w.tr(key::BATCH_WHICH_WHY)/>
        <ul class="rows">{found.iter().filter_map(row).collect_view()}</ul>
        <div class="grow"></div>
    }
    .into_any()
}

fn shown(
    w: Words,
    act: Act,
    feed: Feed,
    id: EntryId,
    asked: Asked,
    keeps: keeps::Keeps,
) -> AnyView {
    let (barn, now_ms) = (feed.barn.get(), feed.now_ms.get());
    let Some(stored) = barn.stored(id, now_ms) else {
        let missing = || view! { <p class="words quiet">{w.tr(key::BATCH_MISSING)}</p> }.into_any();
        return taken_back::shown(&w, act, &barn, id).unwrap_or_else(missing);
    };
    let batch = &stored.batch;
    let (role, headline, why) = answer(&w, &barn, &stored, now_ms);
    let code = batch.fact.code.to_string();
    let look = move |()| {
        act.hush();
        asked.looking.set(true);
        to_top();
    };
    let used: Vec<_> = stored
        .out
        .iter()
        .map(|out| used(&w, &barn, out, now_ms))
        .collect();
    view! {
        <Band role=role headline=headline why=why>{code}</Band>
        {pulled::shown(&w, &barn, &stored, now_ms)}
        <div class="words">
            {(!stored.out_whole).then(|| view! { <Caution says=w.tr(key::BATCH_NOT_ALL)/> })}
            {(!batch.fact.counted).then(|| view! { <p class="big">{w.tr(key::NOT_COUNTED)}</p> })}
            <p>{made(&w, &batch.fact)}</p>
            <p class="quiet">{of(&w, &barn, &batch.fact)}</p>
            {mix(&w, &barn, &batch.fact, now_ms).map(|says| view! { <p class="quiet">{says}</p> })}
            {(batch.fact.antibiotic != Some(false)).then(|| view! { <Caution says=w.tr(key::BATCH_WITHDRAWAL)/> })}
        </div>
        {(stored.usable(now_ms) > 0).then(|| view! {
            <div class="actions stays"><Action word=w.tr(key::BATCH_USE) drawing=Drawing::Sow href=paths::serve(id)/></div>
        })}
        <div class="actions">
            <Action word=w.tr(key::LOOK_TITLE) kind=Kind::Quiet drawing=Drawing::ColdStore on_tap=look/>
            <Action word=w.tr(key::LABELS_TITLE) kind=Kind::Quiet drawing=Drawing::Tag href=paths::labels(id)/>
        </div>
        {(!stored.is_pulled()).then(|| rows::section(w.tr(key::BATCH_USED), used))}
        {look::list(&w, act, feed, &barn, &stored, now_ms)}
        {move || keeps.shown(&w)}
        {doses::how::of_batch(&w, &batch.fact).map(|how| view! { <section class="words"><h2>{w.tr(key::HOW_DOSES)}</h2>{how}</section> })}
        {taken_back::offer(&w, act, &stored, asked.back)}
        <div class="grow"></div>
    }
    .into_any()
}

/// What comes before everything: pulled, past use, look again, none left, or until when.
fn answer(w: &Words, barn: &Barn, stored: &Stored, now_ms: i64) -> (Role, String, String) {
    let zone = barn.zone_at(now_ms);
    let when = |ms| tell::moment(w, &zone, ms, now_ms);
    let left = w.tr_with(key::BATCH_LEFT, &[("n", stored.left().into())]);
    let use_by = when(stored.batch.fact.use_by.ms());
    match &stored.state {
        State::Pulled(pulled) => {
            let args = [
                ("when", when(pulled.since.ms()).into()),
                ("n", pulled.left.into()),
            ];
            let why = w.tr_with(key::PULLED_WHY, &args);
            (Role::Stop, w.tr(key::PULLED_HEADLINE), why)
        }
        _ if stored.is_over(now_ms) => {
            let why = w.tr_with(key::BATCH_OVER, &[("when", use_by.into())]);
            (Role::Stop, left, why)
        }
        State::LookAgain { .. } => {
            let why = w.tr_with(key::LOOK_AGAIN_WHY, &[("when", use_by.into())]);
            (Role::Rest, left, why)
        }
        _ => {
            let why = w.tr_with(key::BATCH_USE_BY, &[("when", use_by.into())]);
            let role = if stored.left() == 0 {
                Role::Unknown
            } else {
                Role::Ready
            };
            (role, left, why)
        }
    }
}

fn used(w: &Words, barn: &Barn, out: &Out, now_ms: i64) -> AnyView {
    let zone = barn.zone_at(now_ms);
    let when = tell::moment(w, &zone, out.at.ms(), now_ms);
    let small = match out.after {
        true => w.tr_with(key::PULLED_AFTER, &[("when", when.into())]),
        false => when,
    };
    let last = w.tr_with(key::BATCH_DOSES, &[("n", out.doses.into())]);
    let name = sow_name(w, barn, out.sow);
    rows::link(paths::sow(out.sow), Some(Drawing::Sow), name, small, last)
}

fn sow_name(w: &Words, barn: &Barn, sow: pentally_domain::id::SowId) -> String {
    let sow = barn.sow(sow).and_then(|s| s.sow);
    sow.map_or_else(
        || w.tr(key::NOT_KNOWN),
        |s| s.fact.number.as_str().to_owned(),
    )
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

/// The mix of extender that went in.
fn mix(w: &Words, barn: &Barn, batch: &SemenBatch, now_ms: i64) -> Option<String> {
    let entry = batch.extender_mix?;
    let mixes = barn.extender_mixes();
    let mix = mixes.iter().find(|m| m.entry() == entry)?;
    let lot = barn.extender_lot(mix.fact.lot)?;
    let when = tell::moment(w, &barn.zone_at(now_ms), mix.at.ms(), now_ms);
    let args = [
        ("product", lot.fact.product.as_str().into()),
        ("lot", lot.fact.lot.as_str().into()),
        ("when", when.into()),
    ];
    Some(w.tr_with(key::BATCH_MIX, &args))
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
