//! From ejaculates to doses, and a semen batch kept with everything the decision rested on.

use crate::act::{Act, use_act};
use crate::device::{self, Draft};
use crate::feed::{Feed, use_feed};
use crate::keeping::Keeper;
use crate::pages::evaluate::find;
use crate::parts::{Action, Band, Caution, Drawing, Kind};
use crate::words::{Words, key, use_words};
use crate::{paths, tell};
use leptos::prelude::*;
use leptos::task::spawn_local;
use leptos_router::hooks::use_navigate;
use pentally_domain::barn::{Barn, BoarFacts};
use pentally_domain::code::Code;
use pentally_domain::envelope::Entry;
use pentally_domain::fact::Fact;
use pentally_domain::filling::{Chosen, Cup, Filling, fill};
use pentally_domain::id::EntryId;
use pentally_domain::reckon::Confirmed;
use pentally_domain::today::waiting;
use pentally_domain::units::TemperatureC;
use pentally_domain::verdict::{Overall, Verdict};
use serde::{Deserialize, Serialize};

/// The key under which the choice at the filling table is kept.
const FILLING: &str = "filling";

mod ask;
mod doubt;
pub mod how;
mod mix;
mod offer;
mod pool;
mod sows;
mod sure;
mod unknown;

use ask::Ask;
use offer::Offer;
pub(super) use offer::shared;
pub use sows::SowsStandPage;

/// `/bench/COLLECTION/doses`
#[component]
pub fn DosesPage(
    /// The collection's entry.
    id: EntryId,
) -> impl IntoView {
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    let act = use_act();
    let table = Table {
        w: use_words(),
        act,
        feed,
        id,
        choice: RwSignal::new(Choice::default()),
        asking: RwSignal::new(None),
        keeper: StoredValue::new(Keeper::new(FILLING, act)),
    };
    table.keeps_its_choice();
    let save = saver(table);
    // What is being typed must not follow the barn.
    (move || {
        if let Some(what) = table.asking.get() {
            return ask::screen(table, what);
        }
        let save = save.clone();
        (move || page(table, save.clone())).into_any()
    })
    .into_any()
}

/// The filling table of one ejaculate.
#[derive(Debug, Clone, Copy)]
struct Table {
    w: Words,
    act: Act,
    feed: Feed,
    id: EntryId,
    choice: RwSignal<Choice>,
    asking: RwSignal<Option<Ask>>,
    keeper: StoredValue<Keeper>,
}

impl Table {
    /// What is chosen here outlives a reload and a flat battery.
    fn keeps_its_choice(self) {
        Effect::new(move |before: Option<()>| {
            let work = Work {
                of: self.id,
                choice: self.choice.get(),
            };
            // A page that was only opened keeps nothing, and ends nobody's work.
            if before.is_some() {
                self.keeper.with_value(|k| k.keep(&work));
            }
        });
        spawn_local(async move {
            let open = device::draft_get::<Work>(FILLING).await;
            let is_untouched = self
                .choice
                .with_untracked(|choice| *choice == Choice::default());
            if let Ok(Some(work)) = open
                && work.of == self.id
                && is_untouched
            {
                self.choice.set(work.choice);
            }
        });
    }

    /// Asks for something, or shows the table again; either begins at its top.
    fn ask(self, what: Option<Ask>) {
        self.act.hush();
        self.asking.set(what);
        crate::act::to_top();
    }
}

/// The filling table that was worked at last.
#[derive(Serialize, Deserialize)]
struct Work {
    /// The collection.
    of: EntryId,
    choice: Choice,
}

/// What a person chose.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
struct Choice {
    chosen: Chosen,
    /// Collections poured together with the page's own.
    pool: Vec<EntryId>,
    /// Deep uterine was asked for.
    deep: bool,
}

/// An ejaculate with its boar's number.
#[derive(Debug, Clone)]
struct Named {
    number: String,
    cup: Cup,
}

impl Named {
    fn of(boar: &BoarFacts, collection: EntryId) -> Option<Self> {
        let found = boar.collections.iter().find(|c| c.entry() == collection)?;
        Some(Self {
            number: boar.number(),
            cup: Cup::of(boar, found),
        })
    }
}

fn page(table: Table, save: impl Fn(Filling) + Clone + Send + Sync + 'static) -> AnyView {
    let (w, barn, choice) = (table.w, table.feed.barn.get(), table.choice.get());
    let boars = barn.boars();
    let own = find(&boars, table.id).and_then(|(boar, c)| Named::of(boar, c.entry()));
    let Some(own) = own else {
        return view! { <p class="words quiet">{w.tr(key::BENCH_MISSING)}</p> }.into_any();
    };
    let holding = barn.standard();
    let verdict = own.cup.verdict(&holding.standard);
    if let Overall::DoNotUse { .. } = verdict.overall {
        return unfit(table, own.number, &verdict);
    }
    let others = others(table, &barn);
    let mut named = vec![own];
    let count_as = choice.chosen.count_as(&holding.standard);
    named.extend(
        others
            .iter()
            .filter(|o| choice.pool.contains(&o.cup.collection))
            .filter(|o| o.cup.barred(count_as, &holding.standard).is_none())
            .cloned(),
    );
    let cups: Vec<_> = named.iter().map(|n| n.cup.clone()).collect();
    let now_ms = table.feed.now_ms.get();
    let filled = fill(&cups, &holding, &choice.chosen, now_ms);
    let doubt = doubt::of(&w, &named, &holding, &choice.chosen, now_ms);
    let zone = barn.zone_at(now_ms);
    let moment = |ms| tell::moment(&w, &zone, ms, now_ms);
    let semen = choice.chosen.semen.map(TemperatureC::value);
    let offer = Offer::of(&w, &named, &holding, (filled, doubt, semen), moment);
    let hours = offer.filling.as_ref().map(|f| f.kept.hours);
    view! {
        {offered(table, &barn, offer, save)}
        {ask::rows(table, &choice, &barn, hours)}
        {choice.chosen.route.is_none().then(|| pool::rows(table, &others, &choice, &holding))}
        <div class="grow"></div>
    }
    .into_any()
}

/// The other ejaculates that wait.
fn others(table: Table, barn: &Barn) -> Vec<Named> {
    let now_ms = table.feed.now_ms.get();
    let waits = waiting(barn, now_ms).into_iter();
    waits
        .filter(|one| one.collection.entry() != table.id)
        .filter_map(|one| Named::of(&one.boar, one.collection.entry()))
        .collect()
}

fn unfit(table: Table, number: String, verdict: &Verdict) -> AnyView {
    let w = table.w;
    let told = tell::verdict_at_bench(&w, verdict, true);
    let href = paths::bench(table.id);
    view! {
        <Band role=told.role headline=told.headline why=told.why.join(" ")>{number}</Band>
        <div class="grow"></div>
        <div class="actions"><Action word=w.tr(key::DOSES_EVALUATE) kind=Kind::Quiet href=href/></div>
    }
    .into_any()
}

fn offered(
    table: Table,
    barn: &Barn,
    offer: Offer,
    save: impl Fn(Filling) + Send + Sync + 'static,
) -> AnyView {
    let (w, now_ms) = (table.w, table.feed.now_ms.get());
    let zone = barn.zone_at(now_ms);
    let lines = offer.lines(&w, |ms| tell::moment(&w, &zone, ms, now_ms));
    let lines: Vec<_> = lines
        .into_iter()
        .map(|line| view! { <p>{line}</p> })
        .collect();
    let use_by = offer.filling.as_ref().and_then(|f| f.kept.use_by);
    let over = use_by.filter(|at| at.ms() < now_ms).map(|at| {
        let when = tell::moment(&w, &zone, at.ms(), now_ms);
        w.tr_with(key::DOSES_OVER, &[("when", when.into())])
    });
    let made = made_before(&w, barn, table.id);
    let warned: Vec<_> = made
        .into_iter()
        .chain(over.clone())
        .chain(offer.cautions(&w))
        .map(|says| view! { <Caution says=says/> })
        .collect();
    let evaluate = offer.unmeasured.then(|| {
        let href = paths::bench(table.id);
        view! { <Action word=w.tr(key::DOSES_EVALUATE) kind=Kind::Quiet href=href/> }
    });
    let how = offer
        .filling
        .as_ref()
        .and_then(|f| how::reckoned(&w, f.reckoning, &f.asked));
    let sure = offer.filling.as_ref();
    let sure =
        sure.and_then(|f| sure::shown(&w, f.assured.as_ref()?, table.choice.get().chosen.target()));
    view! {
        <Band role=offer.role headline=offer.headline why=offer.why>{offer.numbers}</Band>
        <div class="words">{warned}{sure}{lines}{how}</div>
        {offer.filling.filter(|_| over.is_none()).map(|filling| keep(table, filling, offer.question, save))}
        {evaluate.map(|link| view! { <div class="actions">{link}</div> })}
    }
    .into_any()
}

/// Says that a batch holds this ejaculate already.
fn made_before(w: &Words, barn: &Barn, id: EntryId) -> Option<String> {
    let boars = barn.boars();
    let mut batches = boars.iter().flat_map(|b| &b.batches);
    let made = batches.find(|b| b.fact.sources.iter().any(|s| s.collection == id))?;
    let code = made.fact.code.to_string();
    Some(w.tr_with(key::DOSES_MADE_BEFORE, &[("code", code.into())]))
}

/// What is odd is asked about, once, where saving would stand.
fn keep(
    table: Table,
    filling: Filling,
    question: Option<String>,
    save: impl Fn(Filling) + Send + Sync + 'static,
) -> Option<AnyView> {
    let w = table.w;
    filling.fill.best()?;
    let Some(odd) = filling.odd.first().copied() else {
        return Some(
            view! {
                <div class="actions stays"><Action word=w.tr(key::DOSES_SAVE) drawing=Drawing::Dose on_tap=move |()| save(filling.clone())/></div>
            }
            .into_any(),
        );
    };
    let keep = move |()| table.choice.update(|c| c.chosen.kept.push(odd));
    let right = w.tr(match odd.what {
        Confirmed::Temperatures | Confirmed::Age => key::DOSES_APART_ANYWAY,
        _ => key::COLLECT_AMOUNT_RIGHT,
    });
    Some(
        view! {
            <div class="words"><p class="big">{question}</p></div>
            <div class="actions"><Action word=right kind=Kind::Quiet on_tap=keep/></div>
        }
        .into_any(),
    )
}

/// Saves the batch and opens its page.
fn saver(table: Table) -> impl Fn(Filling) + Clone + Send + Sync + 'static {
    let navigate = use_navigate();
    move |filling| {
        let id = device::new_id();
        let Some(batch) = fresh_code(table.feed, id.id()).and_then(|code| filling.batch(code))
        else {
            return;
        };
        let navigate = navigate.clone();
        let saved = Draft::of(Fact::SemenBatch(batch)).with_id(id);
        let then = move |entries: Vec<Entry>| {
            if let Some(entry) = entries.first() {
                navigate(&paths::batch(entry.envelope().id), Default::default());
            }
        };
        table.keeper.with_value(|k| k.finish(vec![saved], then));
    }
}

/// A code that no batch or pen known here has; taken from the identity's own chance.
fn fresh_code(feed: Feed, id: EntryId) -> Option<Code> {
    let taken: Vec<Code> = feed.barn.with_untracked(|barn| {
        let batches = barn.boars().into_iter().flat_map(|b| b.batches);
        let pens = barn.pens().into_iter().flat_map(|p| p.codes);
        batches.map(|b| b.fact.code).chain(pens).collect()
    });
    let chance = id.uuid().as_u128() % u128::from(Code::COUNT);
    let start = u32::try_from(chance).ok()?;
    (0..Code::COUNT)
        .filter_map(|step| Code::from_number((start + step) % Code::COUNT))
        .find(|code| !taken.contains(code))
}
