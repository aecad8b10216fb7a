//! One ejaculate at the bench: what was measured, and the verdict. What is not measured reads
//! "not measured" and cannot pass a rule.

use crate::act::use_act;
use crate::device::Draft;
use crate::feed::{Feed, use_feed};
use crate::parts::{Action, Band, Chips};
use crate::words::{Key, Words, key, use_words};
use crate::{paths, tell};
use leptos::prelude::*;
use pentally_domain::barn::{BoarFacts, Seen};
use pentally_domain::boar::{OffCollection, OffReason};
use pentally_domain::collection::Collection;
use pentally_domain::evaluation::{Colour, Evaluation, Smell};
use pentally_domain::fact::Fact;
use pentally_domain::id::EntryId;
use pentally_domain::today::evaluation_of;
use pentally_domain::verdict::{Overall, Verdict, judge};

mod measure;

use measure::{Ask, Asking};

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
            |(boar, collection)| form(w, feed, boar, collection),
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

#[derive(Clone, Copy)]
struct Form {
    w: Words,
    values: RwSignal<Evaluation>,
    ask: RwSignal<Option<Ask>>,
}

fn form(w: Words, feed: Feed, boar: &BoarFacts, collection: &Seen<Collection>) -> AnyView {
    let before = evaluation_of(boar, collection);
    let values = RwSignal::new(
        before
            .as_ref()
            .map_or_else(|| empty(boar, collection), |e| e.fact.clone()),
    );
    let form = Form {
        w,
        values,
        ask: RwSignal::new(None),
    };
    let standard = feed.barn.with_untracked(|b| b.standard()).standard;
    let record = collection.fact.clone();
    let verdict = Signal::derive(move || judge(&record, Some(&values.get()), &standard));
    let title = w.tr_with(
        key::BENCH_OF,
        &[
            ("number", boar.number().into()),
            ("what", tell::collected(&w, &collection.fact).into()),
        ],
    );
    let age = move |ms: i64| {
        w.tr_with(
            key::BENCH_AGE,
            &[("span", w.span(feed.now_ms.get() - ms).into())],
        )
    };
    let (at_ms, number) = (collection.at.ms(), title.clone());
    let save = saver(form, boar, collection.entry(), verdict);
    (move || match form.ask.get() {
        Some(ask) => {
            view! { <Asking ask=ask values=values done=move |()| form.ask.set(None)/> }.into_any()
        }
        None => view! {
            {head(form, verdict, number.clone())}
            <p class="words small quiet">{move || age(at_ms)}</p>
            {measured(form)}
            {looked(form)}
            <div class="actions"><Action word=w.tr(key::SAVE) on_tap=save.clone()/></div>
            <div class="grow"></div>
        }
        .into_any(),
    })
    .into_any()
}

fn empty(boar: &BoarFacts, collection: &Seen<Collection>) -> Evaluation {
    Evaluation {
        collection: collection.entry(),
        boar: boar.id,
        concentration: None,
        motile: None,
        abnormal: None,
        droplets: None,
        colour: None,
        smell: None,
        blood: None,
        pus: None,
        urine: None,
    }
}

fn head(form: Form, verdict: Signal<Verdict>, number: String) -> AnyView {
    let told = Signal::derive(move || verdict.with(|v| tell::verdict(&form.w, v, true)));
    view! {
        <Band
            role=Signal::derive(move || told.with(|t| t.role))
            headline=Signal::derive(move || told.with(|t| t.headline.clone()))
            why=Signal::derive(move || told.with(|t| t.why.join(" ")))
        >{number}</Band>
    }
    .into_any()
}

fn measured(form: Form) -> AnyView {
    let w = form.w;
    let row = move |ask: Ask, name: Key| {
        let value = move || form.values.with(|v| measure::value(&w, v, ask));
        view! {
            <li><button type="button" class="row" on:click=move |_| form.ask.set(Some(ask))>
                <span class="rest-of name">{w.tr(name)}</span><span class="last">{value}</span>
            </button></li>
        }
    };
    view! {
        <ul class="rows">
            {row(Ask::Concentration, key::MEASURE_CONCENTRATION)}
            {row(Ask::Motile, key::MEASURE_MOTILE)}
            {row(Ask::Abnormal, key::MEASURE_ABNORMAL)}
            {row(Ask::Droplets, key::MEASURE_DROPLETS)}
        </ul>
    }
    .into_any()
}

const COLOURS: [(Colour, Key); 6] = [
    (Colour::Milky, key::COLOUR_MILKY),
    (Colour::Cream, key::COLOUR_CREAM),
    (Colour::Watery, key::COLOUR_WATERY),
    (Colour::Yellow, key::COLOUR_YELLOW),
    (Colour::Pink, key::COLOUR_PINK),
    (Colour::Brown, key::COLOUR_BROWN),
];
const SMELLS: [(Smell, Key); 3] = [
    (Smell::Normal, key::SMELL_NORMAL),
    (Smell::Urine, key::SMELL_URINE),
    (Smell::Foul, key::SMELL_FOUL),
];

fn looked(form: Form) -> AnyView {
    let w = form.w;
    let before = form.values.get_untracked();
    let colour = follow(before.colour, move |c| form.values.update(|v| v.colour = c));
    let smell = follow(before.smell, move |s| form.values.update(|v| v.smell = s));
    let blood = follow(before.blood, move |b| form.values.update(|v| v.blood = b));
    let pus = follow(before.pus, move |b| form.values.update(|v| v.pus = b));
    let urine = follow(before.urine, move |b| form.values.update(|v| v.urine = b));
    let colours = COLOURS.map(|(c, k)| (c, w.tr(k))).to_vec();
    let smells = SMELLS.map(|(s, k)| (s, w.tr(k))).to_vec();
    let yes_no = || vec![(false, w.tr(key::NO)), (true, w.tr(key::YES))];
    view! {
        <Chips asked=w.tr(key::MEASURE_COLOUR) options=colours chosen=colour/>
        <Chips asked=w.tr(key::MEASURE_SMELL) options=smells chosen=smell/>
        <Chips asked=w.tr(key::MEASURE_BLOOD) options=yes_no() chosen=blood/>
        <Chips asked=w.tr(key::MEASURE_PUS) options=yes_no() chosen=pus/>
        <Chips asked=w.tr(key::MEASURE_URINE) options=yes_no() chosen=urine/>
    }
    .into_any()
}

fn follow<T: Copy + PartialEq + Send + Sync + 'static>(
    before: Option<T>,
    set: impl Fn(Option<T>) + 'static,
) -> RwSignal<Option<T>> {
    let signal = RwSignal::new(before);
    Effect::new(move |first: Option<()>| {
        let now = signal.get();
        if first.is_some() {
            set(now);
        }
    });
    signal
}

/// Saves the evaluation; blood or pus also takes the boar off collection, in the same transaction.
fn saver(
    form: Form,
    boar: &BoarFacts,
    collection: EntryId,
    verdict: Signal<Verdict>,
) -> impl Fn(()) + Clone + Send + Sync + 'static {
    let act = use_act();
    let boar = boar.id;
    let go = use_go();
    move |()| {
        let verdict = verdict.get_untracked();
        let mut drafts = vec![Draft::of(Fact::Evaluation(form.values.get_untracked()))];
        if verdict.off_collection_and_veterinarian {
            let off = OffCollection {
                boar,
                reason: OffReason::BloodOrPus,
                until: None,
                cull: None,
            };
            drafts.push(Draft::of(Fact::OffCollection(off)));
        }
        let fit = !matches!(verdict.overall, Overall::DoNotUse { .. });
        let then = if fit {
            paths::doses(collection)
        } else {
            paths::boar(boar)
        };
        let go = go.clone();
        act.save(drafts, move |_| go(then));
    }
}

/// Opens another screen after saving.
fn use_go() -> impl Fn(String) + Clone + Send + Sync + 'static {
    let navigate = leptos_router::hooks::use_navigate();
    move |path: String| navigate(&path, leptos_router::NavigateOptions::default())
}
