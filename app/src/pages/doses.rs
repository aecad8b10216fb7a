//! From an ejaculate to doses, and a semen batch kept with everything the decision rested on.

use crate::act::use_act;
use crate::device::{self, Draft};
use crate::feed::{Feed, use_feed};
use crate::pages::evaluate::find;
use crate::parts::{Action, Band, Caution, Chips, Drawing, Kind, Role, Stepper};
use crate::words::{Words, key, use_words};
use crate::{paths, tell};
use leptos::prelude::*;
use leptos_router::hooks::use_navigate;
use pentally_domain::barn::{Barn, BoarFacts, Holding, Seen};
use pentally_domain::batch::{SemenBatch, Source};
use pentally_domain::code::Code;
use pentally_domain::collection::Collection;
use pentally_domain::doses::Technique;
use pentally_domain::evaluation::Evaluation;
use pentally_domain::fact::Fact;
use pentally_domain::id::EntryId;
use pentally_domain::plain::PlainRoute;
use pentally_domain::today::evaluation_of;
use pentally_domain::units::VolumeMl;
use pentally_domain::verdict::{Overall, judge};

pub mod how;
mod offer;

use offer::{Offer, offer};

/// The most sows that can be tapped.
const SOWS_MOST: i64 = 50;

/// `/bench/COLLECTION/doses`
#[component]
pub fn DosesPage(
    /// The collection's entry.
    id: EntryId,
) -> impl IntoView {
    let w = use_words();
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    let choice = Choice {
        technique: RwSignal::new(Some(Technique::default())),
        route: RwSignal::new(None),
        sows: RwSignal::new(None),
    };
    let save = saver(feed);
    let shown = move || {
        let barn = feed.barn.get();
        let boars = barn.boars();
        let Some((boar, collection)) = find(&boars, id) else {
            return view! { <p class="words quiet">{w.tr(key::BENCH_MISSING)}</p> }.into_any();
        };
        let have = Have::of(&barn, boar, collection);
        if let Overall::DoNotUse { .. } = have.verdict() {
            return unfit(&w, &have);
        }
        let made = offer(&have, choice);
        page(w, feed, &made, save.clone())
    };
    view! {
        {shown}
        {asks(w, choice)}
        <div class="grow"></div>
    }
    .into_any()
}

/// What a person chose.
#[derive(Debug, Clone, Copy)]
struct Choice {
    technique: RwSignal<Option<Technique>>,
    route: RwSignal<Option<PlainRoute>>,
    sows: RwSignal<Option<i64>>,
}

/// What there is to make doses of.
#[derive(Debug, Clone)]
struct Have {
    boar: pentally_domain::id::BoarId,
    number: String,
    collection: Seen<Collection>,
    evaluation: Option<Seen<Evaluation>>,
    holding: Holding,
}

impl Have {
    fn of(barn: &Barn, boar: &BoarFacts, collection: &Seen<Collection>) -> Self {
        Self {
            boar: boar.id,
            number: boar.number(),
            collection: collection.clone(),
            evaluation: evaluation_of(boar, collection),
            holding: barn.standard(),
        }
    }

    fn verdict(&self) -> Overall {
        let evaluation = self.evaluation.as_ref().map(|e| &e.fact);
        judge(&self.collection.fact, evaluation, &self.holding.standard).overall
    }
}

fn unfit(w: &Words, have: &Have) -> AnyView {
    let evaluation = have.evaluation.as_ref().map(|e| &e.fact);
    let verdict = judge(&have.collection.fact, evaluation, &have.holding.standard);
    let told = tell::verdict(w, &verdict, true);
    let number = have.number.clone();
    view! { <Band role=told.role headline=told.headline why=told.why.join(" ")>{number}</Band> }
        .into_any()
}

fn asks(w: Words, choice: Choice) -> AnyView {
    let techniques = [Technique::Intracervical, Technique::PostCervical]
        .map(|t| (t, w.tr(tell::technique(t))))
        .to_vec();
    let routes = vec![
        (PlainRoute::Undiluted, w.tr(key::PLAIN_UNDILUTED)),
        (PlainRoute::Extended, w.tr(key::PLAIN_EXTENDED)),
    ];
    view! {
        <Chips asked=w.tr(key::DOSES_TECHNIQUE) options=techniques chosen=choice.technique/>
        <Stepper asked=w.tr(key::DOSES_SOWS) value=choice.sows start=1 low=1 high=SOWS_MOST/>
        <Chips asked=w.tr(key::DOSES_PLAIN) options=routes chosen=choice.route/>
    }
    .into_any()
}

fn page(
    w: Words,
    feed: Feed,
    made: &Offer,
    save: impl Fn(SemenBatchDraft) + 'static + Send + Sync,
) -> AnyView {
    let now_ms = feed.now_ms.get();
    let zone = feed.barn.with(|b| b.zone_at(now_ms));
    let (role, headline, lines) = made.told(&w, |ms| tell::moment(&w, &zone, ms, now_ms));
    let first = lines.first().cloned().unwrap_or_default();
    let rest = lines
        .into_iter()
        .skip(1)
        .map(|line| view! { <p>{line}</p> });
    let (batch, number) = (made.batch.clone(), made.number.clone());
    let keep = batch.map(|batch| {
        view! { <Action word=w.tr(key::DOSES_SAVE) drawing=Drawing::Dose on_tap=move |()| save(batch.clone())/> }
    });
    let evaluate = (role == Role::Unknown).then(|| {
        let href = paths::bench(made.collection);
        view! { <Action word=w.tr(key::DOSES_EVALUATE) kind=Kind::Quiet href=href/> }
    });
    view! {
        <Band role=role headline=headline why=first>{number}</Band>
        <div class="words">
            {rest.collect_view()}
            {made.uncounted.then(|| view! { <Caution says=w.tr(key::DOSES_UNCOUNTED)/> })}
            {how::figures(&w, &made.figures)}
        </div>
        <div class="actions">{keep}{evaluate}</div>
    }
    .into_any()
}

/// A batch but for its code, which is given out when it is saved.
#[derive(Debug, Clone, PartialEq)]
struct SemenBatchDraft {
    source: Source,
    standard: Option<EntryId>,
    reckoning: &'static str,
    asked: String,
    answered: String,
    doses: u16,
    dose_volume: VolumeMl,
    technique: Technique,
    use_by: pentally_domain::time::Stamp,
    antibiotic: Option<bool>,
}

/// Saves the batch and opens its page.
fn saver(feed: Feed) -> impl Fn(SemenBatchDraft) + Clone + Send + Sync + 'static {
    let act = use_act();
    let navigate = use_navigate();
    move |draft| {
        let id = device::new_id();
        let Some(code) = fresh_code(feed, id.id()) else {
            return;
        };
        let batch = SemenBatch {
            code,
            sources: vec![draft.source],
            standard: draft.standard,
            reckoning: draft.reckoning.to_owned(),
            asked: draft.asked,
            answered: draft.answered,
            doses: draft.doses,
            dose_volume: draft.dose_volume,
            technique: draft.technique,
            counted: draft.reckoning == "doses",
            use_by: draft.use_by,
            antibiotic: draft.antibiotic,
        };
        let navigate = navigate.clone();
        let saved = Draft::of(Fact::SemenBatch(batch)).with_id(id);
        act.save(vec![saved], move |entries| {
            if let Some(entry) = entries.first() {
                navigate(&paths::batch(entry.envelope().id), Default::default());
            }
        });
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
