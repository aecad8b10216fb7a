//! Labels of a semen batch: which paper, how many, what of a started sheet is gone; drawn on the
//! phone, printed by the browser at true size.

mod draw;
mod own;
mod paper;

use crate::act::{Act, use_act};
use crate::device;
use crate::feed::{Feed, use_feed};
use crate::pages::fields::{Choice, Line, figure};
use crate::parts::{Action, Caution, Kind, Title};
use crate::paths;
use crate::words::{Words, key, use_words};
use leptos::prelude::*;
use leptos::task::spawn_local;
use own::Own;
use pentally_domain::id::EntryId;
use pentally_domain::label::BatchLabel;
use pentally_domain::label::sheet::Stock;
use pentally_domain::label::symbol::Fit;

/// The key under which the paper is kept on this phone.
const PAPER: &str = "label-paper";
/// Labels printed at once, at most.
const MOST: u16 = 400;

/// `/batch/ENTRY/labels`
#[component]
pub fn LabelsPage(
    /// The batch's entry.
    id: EntryId,
) -> impl IntoView {
    let w = use_words();
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    // What is being chosen must not follow the barn; the batch may still have to be read.
    let doses = Memo::new(move |_| feed.barn.with(|b| b.batch(id)).map(|b| b.fact.doses));
    let shown = move || match doses.get() {
        Some(doses) => view! { <Sheets feed id doses/> }.into_any(),
        None => view! { <p class="words quiet">{w.tr(key::BATCH_MISSING)}</p> }.into_any(),
    };
    view! { {shown} }.into_any()
}

#[component]
fn Sheets(feed: Feed, id: EntryId, doses: u16) -> impl IntoView {
    let (w, act) = (use_words(), use_act());
    let usual = Stock::usual();
    let choices = StoredValue::new(usual.clone());
    let stock = RwSignal::new(usual.first().copied());
    let chosen = RwSignal::new("0".to_owned());
    let many = RwSignal::new(doses.to_string());
    let gone = RwSignal::new(Vec::<u16>::new());
    let own = RwSignal::new(false);
    kept_paper(stock, chosen, own);
    let options = move || paper::options(&w, &choices.get_value());
    Effect::new(move |before: Option<String>| {
        let now = chosen.get();
        if before.is_some_and(|before| before != now) {
            gone.set(vec![]);
            own.set(now == paper::OWN);
            if let Some(one) = now
                .parse()
                .ok()
                .and_then(|at: usize| choices.with_value(|c| c.get(at).copied()))
            {
                stock.set(Some(one));
                keep_paper(act, one);
            }
        }
        now
    });
    let set_own = move |one: Stock| {
        gone.set(vec![]);
        stock.set(Some(one));
        keep_paper(act, one);
    };
    let count = Signal::derive(move || many.with(|m| how_many(m)));
    let wrong = Signal::derive(move || count.get().is_none().then(|| says_many(&w, &many.get())));
    let label = Memo::new(move |_| feed.barn.with(|b| draw::label(&w, b, id)));
    let sheet = move || {
        let (stock, label) = (stock.get()?, label.get()?);
        let n = count.get()?;
        Some(preview(&w, feed, &stock, &label, n, &gone.get()))
    };
    let print = move |()| {
        if count.get_untracked().is_none() || stock.get_untracked().is_none() {
            return act.say(says_many(&w, &many.get_untracked()));
        }
        window().print().unwrap_or_default();
    };
    view! {
        <div class="screen-only"><Title headline=w.tr(key::LABELS_TITLE) why=w.tr(key::LABELS_WHY)/></div>
        <div class="words fields screen-only">
            <Choice name=w.tr(key::LABELS_PAPER) options=Signal::derive(options) value=chosen/>
            <Show when=move || own.get()><Own take=set_own/></Show>
            <Line name=w.tr(key::LABELS_MANY) value=many figures=true wrong=wrong hint=w.tr_with(key::LABELS_MANY_WHY, &[("n", MOST.into())])/>
        </div>
        <div class="words screen-only">{move || stock.get().map(|stock| paper::places(&w, &stock, gone))}</div>
        {sheet}
        <div class="grow"></div>
        <div class="actions">
            <Action word=w.tr(key::LABELS_PRINT) on_tap=print/>
            <Action word=w.tr(key::COLLECT_BACK) kind=Kind::Quiet href=paths::batch(id)/>
        </div>
    }
    .into_any()
}

/// The paper used last on this phone.
fn kept_paper(stock: RwSignal<Option<Stock>>, chosen: RwSignal<String>, own: RwSignal<bool>) {
    spawn_local(async move {
        if let Ok(Some(kept)) = device::draft_get::<Stock>(PAPER).await {
            let at = Stock::usual().iter().position(|one| *one == kept);
            own.set(at.is_none());
            stock.set(Some(kept));
            chosen.set(at.map_or_else(|| paper::OWN.to_owned(), |at| at.to_string()));
        }
    });
}

fn keep_paper(act: Act, stock: Stock) {
    spawn_local(async move { act.told(device::draft_put(PAPER, &stock).await, |()| ()) });
}

fn how_many(typed: &str) -> Option<u16> {
    let read = figure(typed)?;
    let whole: u16 = read.to_string().parse().ok()?;
    (1..=MOST).contains(&whole).then_some(whole)
}

fn says_many(w: &Words, typed: &str) -> String {
    let args = [
        ("read", typed.trim().into()),
        ("low", "1".into()),
        ("high", MOST.to_string().into()),
        ("unit", w.tr(key::LABELS_UNIT).into()),
    ];
    match figure(typed) {
        Some(read) if read.fract() != 0.0 => w.tr_with(key::FIELD_NOT_WHOLE, &args),
        Some(_) => w.tr_with(key::FIELD_OUTSIDE, &args),
        None => w.tr_with(key::FIELD_NO_FIGURE, &args),
    }
}

/// The pages as they print, with what a person should know before.
fn preview(
    w: &Words,
    feed: Feed,
    stock: &Stock,
    (label, code_path): &(draw::Text, String),
    many: u16,
    gone: &[u16],
) -> AnyView {
    let chosen = feed.barn.with(|b| b.farm()).and_then(|f| f.fact.origin);
    let trial = chosen.is_none();
    let origin = chosen.or_else(here).unwrap_or_default();
    let address = format!("{origin}{code_path}").to_uppercase();
    let symbol = draw::symbol(&address, stock.symbol_mm());
    let caution = match &symbol {
        Ok(_) if trial => Some(w.tr_with(key::LABELS_TRIAL, &[("origin", origin.into())])),
        Ok(_) => None,
        Err(Fit::TooSmall { needs_mm }) => {
            let needs = w.num(*needs_mm, 1);
            Some(w.tr_with(key::LABELS_SMALL, &[("needs", needs.into())]))
        }
        Err(_) => Some(w.tr(key::LABELS_LONG)),
    };
    let places = stock.places(many, gone);
    let pages = draw::pages(stock, label, symbol.as_ref().ok(), &places);
    view! {
        <div class="words screen-only">{caution.map(|says| view! { <Caution says=says/> })}</div>
        {pages}
    }
    .into_any()
}

/// What stands on the label of a batch.
fn of_batch(barn: &pentally_domain::barn::Barn, id: EntryId) -> Option<BatchLabel> {
    let batch = barn.batch(id)?;
    Some(BatchLabel::of(&batch, |boar| {
        Some(barn.boar(boar)?.boar?.fact.number)
    }))
}

#[cfg(target_arch = "wasm32")]
fn here() -> Option<String> {
    window().location().origin().ok()
}

#[cfg(not(target_arch = "wasm32"))]
const fn here() -> Option<String> {
    None
}
