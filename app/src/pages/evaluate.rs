//! One ejaculate at the bench: what was measured, and the verdict. What is not measured reads
//! "not measured" and cannot pass a rule. The form stays on the phone until it is saved.

use crate::act::{each_from_its_top, once_whole, use_act};
use crate::device::{self, Draft};
use crate::feed::{Feed, use_feed};
use crate::keeping::{Keeper, kept};
use crate::parts::{Action, Band, Caution, Drawing, Drop};
use crate::words::{key, use_words};
use crate::{paths, tell};
use leptos::prelude::*;
use leptos::task::spawn_local;
use pentally_domain::barn::{BoarFacts, Seen};
use pentally_domain::boar::{OffCollection, OffReason};
use pentally_domain::collection::Collection;
use pentally_domain::counting::Chamber;
use pentally_domain::evaluation::Evaluation;
use pentally_domain::fact::Fact;
use pentally_domain::id::{BoarId, EntryId};
use pentally_domain::today::evaluation_of;
use pentally_domain::verdict::{Overall, Verdict};

mod chamber;
mod describe;
mod dilution;
mod found;
mod looked;
mod measure;
mod open;
mod reading;
mod sum;
mod tally;
mod ways;

pub(super) use measure::Shares;

use measure::Ask;
use open::{At, Desk, Open, key_of};

/// The key under which it is kept whether taps sound.
const SILENT: &str = "tally-silent";

/// `/bench/COLLECTION`
#[component]
pub fn EvaluatePage(
    /// The collection's entry.
    id: EntryId,
) -> impl IntoView {
    let w = use_words();
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    // The form follows the barn only until the first figure is typed.
    let found = Memo::new(move |_| feed.barn.with(|barn| find(&barn.boars(), id).is_some()));
    (move || {
        if !found.get() {
            return view! { <p class="words quiet">{w.tr(key::BENCH_MISSING)}</p> }.into_any();
        }
        let boars = feed.barn.with_untracked(|barn| barn.boars());
        find(&boars, id).map_or_else(
            || ().into_any(),
            |(boar, collection)| evaluating(feed, boar, collection),
        )
    })
    .into_any()
}

pub(super) fn find(boars: &[BoarFacts], id: EntryId) -> Option<(&BoarFacts, &Seen<Collection>)> {
    boars.iter().find_map(|b| {
        b.collections
            .iter()
            .find(|c| c.entry() == id)
            .map(|c| (b, c))
    })
}

fn evaluating(feed: Feed, boar: &BoarFacts, collection: &Seen<Collection>) -> AnyView {
    let before = evaluation_of(boar, collection);
    let latest = before.as_ref().map(Seen::entry);
    let logged = before.as_ref().map(|e| e.fact.clone());
    let values = before.map_or_else(
        || Evaluation::begun(collection.entry(), boar.id),
        |e| e.fact,
    );
    let standard = feed.barn.with_untracked(|b| b.standard()).standard;
    let act = use_act();
    let desk = Desk {
        w: use_words(),
        feed,
        act,
        open: RwSignal::new(fresh(values, latest)),
        aloud: RwSignal::new(true),
        begun: RwSignal::new(false),
        keeper: StoredValue::new(Keeper::new(&key_of(collection.entry()), act)),
        record: StoredValue::new((collection.fact.clone(), standard)),
    };
    // What is painted for reading only shows the form at once.
    let loaded = RwSignal::new(!device::entry_allowed());
    once_whole(feed, move || spawn_local(load(desk, loaded)));
    let at = Memo::new(move |_| desk.open.with(|open| open.at.clone()));
    each_from_its_top(at);
    let verdict = Signal::derive(move || desk.open.with(|open| desk.judge(&open.values)));
    let head = Head {
        title: desk.w.tr_with(
            key::BENCH_OF,
            &[
                ("number", boar.number().into()),
                ("what", tell::collected(&desk.w, &collection.fact).into()),
            ],
        ),
        collection: collection.entry(),
        at_ms: collection.at.ms(),
        latest,
        logged,
    };
    let save = saver(desk, boar.id, collection.entry(), verdict);
    (move || {
        if !loaded.get() {
            return ().into_any();
        }
        match at.get() {
            At::Form => form(desk, &head, verdict, save.clone()),
            At::Ways(ask) => ways::screen(desk, ask),
            At::Typed(ask) => measure::screen(desk, ask),
            At::Dilution { tally } => dilution::screen(desk, tally),
            At::Chamber { tally } => describe::screen(desk, tally),
            At::Filling => chamber::screen(desk),
            At::Reading(instrument) => reading::screen(desk, instrument),
            At::Tally(which) => tally::screen(desk, which),
            At::Sum(which) => sum::screen(desk, which),
        }
    })
    .into_any()
}

fn fresh(values: Evaluation, after: Option<EntryId>) -> Open {
    Open {
        values,
        after,
        tallying: Default::default(),
        thrown: None,
        dilution: Default::default(),
        typed: vec![],
        chamber: Chamber::IMPROVED_NEUBAUER,
        read: None,
        pair: None,
        at: At::Form,
    }
}

/// What was begun on this phone goes on.
async fn load(desk: Desk, loaded: RwSignal<bool>) {
    let key = desk.keeper.with_value(|k| k.key().to_owned());
    let open = kept::<Open>(&key).await;
    let silent = device::draft_get::<bool>(SILENT).await;
    if desk.open.is_disposed() {
        return;
    }
    desk.aloud.set(!matches!(silent, Ok(Some(true))));
    desk.act.told(open, |open| {
        if let Some(open) = open {
            desk.open.set(open);
            desk.begun.set(true);
        }
    });
    loaded.set(true);
}

/// What stands above the form.
struct Head {
    title: String,
    collection: EntryId,
    at_ms: i64,
    /// The evaluation that is in the log.
    latest: Option<EntryId>,
    /// What it says.
    logged: Option<Evaluation>,
}

fn form(
    desk: Desk,
    head: &Head,
    verdict: Signal<Verdict>,
    save: impl Fn(()) + Clone + Send + Sync + 'static,
) -> AnyView {
    let w = desk.w;
    let at_ms = head.at_ms;
    let age = move || {
        let span = w.span(desk.feed.now_ms.get() - at_ms);
        w.tr_with(key::BENCH_AGE, &[("span", span.into())])
    };
    view! {
        {band(desk, verdict, head.title.clone())}
        <p class="words small quiet">{age}</p>
        {begun(desk, head.latest)}
        {measured(desk)}
        {reading::pair(desk)}
        {looked::looked(desk)}
        {next(desk, head, verdict, save)}
        {drop_it(desk)}
        <div class="grow"></div>
    }
    .into_any()
}

/// Saving, where something is not in the log; after that the doses.
fn next(
    desk: Desk,
    head: &Head,
    verdict: Signal<Verdict>,
    save: impl Fn(()) + Clone + Send + Sync + 'static,
) -> AnyView {
    let (w, doses, logged) = (desk.w, paths::doses(head.collection), head.logged.clone());
    let saved = Memo::new(move |_| {
        desk.open.with(|open| {
            let pair = open.pair == Some(true) && reading::kept(open).is_some();
            logged.as_ref() == Some(&open.values) && !pair
        })
    });
    let action = move || match saved.get() {
        true if verdict.with(|v| matches!(v.overall, Overall::DoNotUse { .. })) => ().into_any(),
        true => {
            view! { <Action word=w.tr(key::SERVE_DOSES) drawing=Drawing::Dose href=doses.clone()/> }
                .into_any()
        }
        false => view! { <Action word=w.tr(key::SAVE) on_tap=save.clone()/> }.into_any(),
    };
    view! { <div class="actions stays">{action}</div> }.into_any()
}

/// What was begun and is not in the log.
fn begun(desk: Desk, latest: Option<EntryId>) -> AnyView {
    let w = desk.w;
    let other = move || desk.open.with(|open| open.after != latest);
    view! {
        <Show when=move || desk.begun.get()>
            <p class="words small">{w.tr(key::COUNTING_KEPT)}</p>
            <Show when=other>
                <div class="words"><Caution says=w.tr(key::COUNTING_OTHER_SAVED)/></div>
            </Show>
        </Show>
    }
    .into_any()
}

/// The way to drop what was begun: at the end, and asked about, for a quarter of an hour at the
/// microscope may be in it.
fn drop_it(desk: Desk) -> AnyView {
    let w = desk.w;
    let tap = move |()| {
        desk.keeper
            .with_value(|k| k.drop_it(|| device::load_page(None)));
    };
    view! {
        <Show when=move || desk.begun.get()>
            <Drop word=w.tr(key::COUNTING_DROP) sure=w.tr(key::COUNTING_DROP_SURE) on_drop=tap/>
        </Show>
    }
    .into_any()
}

fn band(desk: Desk, verdict: Signal<Verdict>, number: String) -> AnyView {
    let told = Signal::derive(move || verdict.with(|v| tell::verdict_at_bench(&desk.w, v, true)));
    view! {
        <Band
            role=Signal::derive(move || told.with(|t| t.role))
            headline=Signal::derive(move || told.with(|t| t.headline.clone()))
            why=Signal::derive(move || told.with(|t| t.why.join(" ")))
        >{number}</Band>
    }
    .into_any()
}

fn measured(desk: Desk) -> AnyView {
    let w = desk.w;
    let row = move |ask: Ask| {
        let value = move || desk.open.with(|open| found::value(&w, &open.values, ask));
        let sure = move || {
            desk.open
                .with(|open| found::sure(desk, open, ask).join(" "))
        };
        view! {
            <li><button type="button" class="row" on:click=move |_| desk.go(At::Ways(ask))>
                <span class="rest-of"><span class="name">{w.tr(ask.name())}</span>
                    <span class="small quiet below">{sure}</span></span>
                <span class="last">{value}</span>
            </button></li>
        }
    };
    view! {
        <ul class="rows">
            {row(Ask::Concentration)} {row(Ask::Motile)} {row(Ask::Abnormal)} {row(Ask::Droplets)}
        </ul>
    }
    .into_any()
}

/// Saves the evaluation and ends its draft; blood or pus also takes the boar off collection, in the
/// same transaction, and a pair that was read and counted goes to its instrument.
fn saver(
    desk: Desk,
    boar: BoarId,
    collection: EntryId,
    verdict: Signal<Verdict>,
) -> impl Fn(()) + Clone + Send + Sync + 'static {
    let go = use_go();
    move |()| {
        let verdict = verdict.get_untracked();
        let open = desk.open.get_untracked();
        let mut drafts = vec![Draft::of(Fact::Evaluation(open.values.clone()))];
        if verdict.off_collection_and_veterinarian {
            let off = OffCollection {
                boar,
                reason: OffReason::BloodOrPus,
                until: None,
                cull: None,
            };
            drafts.push(Draft::of(Fact::OffCollection(off)));
        }
        let pair = reading::kept(&open).filter(|_| open.pair == Some(true));
        drafts.extend(pair.map(|pair| Draft::of(Fact::CurvePair(pair))));
        let fit = !matches!(verdict.overall, Overall::DoNotUse { .. });
        let then = if fit {
            paths::doses(collection)
        } else {
            paths::boar(boar)
        };
        let go = go.clone();
        desk.keeper
            .with_value(|k| k.finish(drafts, move |_| go(then)));
    }
}

/// Opens another screen after saving.
fn use_go() -> impl Fn(String) + Clone + Send + Sync + 'static {
    let navigate = leptos_router::hooks::use_navigate();
    move |path: String| navigate(&path, leptos_router::NavigateOptions::default())
}
