//! The work step by step: one step a screen, with our own drawings, the caution before the hand
//! goes in, and a voice for whoever asks for it. Nothing here writes into the log.

mod steps;
mod voice;

use crate::act::to_top;
use crate::feed::use_feed;
use crate::pages::collect::CollectPage;
use crate::parts::{Action, Band, Drawing, Kind, Mark, Role, Title};
use crate::paths;
use crate::tell;
use crate::words::{Words, key, use_words};
use leptos::prelude::*;
use pentally_domain::id::BoarId;
use pentally_domain::teaching::Work;
use std::sync::atomic::{AtomicUsize, Ordering};
use steps::{Step, steps};
use voice::ReadAloud;

/// Where each work was left, till the app is loaded anew. Only effects write it, so never a server.
static LEFT: [AtomicUsize; 2] = [const { AtomicUsize::new(0) }; 2];

/// `/learn`
#[component]
pub fn LearnPage() -> impl IntoView {
    let w = use_words();
    view! {
        <Title headline=w.tr(key::LEARN) why=w.tr(key::LEARN_WHY)/>
        <div class="actions">
            <Action word=w.tr(key::LEARN_COLLECTION) drawing=Drawing::Cup href=paths::learn("collection")/>
            <Action word=w.tr(key::LEARN_TRAINING) drawing=Drawing::Dummy href=paths::learn("training")/>
            <Action word=w.tr(key::LEARN_PRACTICE) drawing=Drawing::Phone kind=Kind::Quiet href=paths::learn("practice")/>
        </div>
        <p class="words quiet">{w.tr(key::LEARN_PRACTICE_WHY)}</p>
        <p class="words small quiet">{w.tr(key::MORE_CAUTION)}</p>
        <div class="grow"></div>
    }
}

/// `/learn/practice`: the screens of a collection, without a boar.
#[component]
pub fn PracticePage() -> impl IntoView {
    // Nobody's identity: no boar was entered before 1970.
    let nobody = BoarId::v7(0, [0; 10]);
    view! { <CollectPage boar=nobody practice=true/> }
}

/// `/learn/collection` and `/learn/training`
#[component]
pub fn StepsPage(
    /// Which work.
    work: Work,
) -> impl IntoView {
    let w = use_words();
    let all = steps(work);
    let left = match work {
        Work::Collection => &LEFT[0],
        Work::Training => &LEFT[1],
    };
    // Who had come to the end begins anew.
    let at = RwSignal::new(left.load(Ordering::Relaxed) % all.len());
    Effect::new(move |_| {
        left.store(at.get(), Ordering::Relaxed);
        to_top();
    });
    let poor_in = Memo::new(move |_| {
        use_feed().map(|f| f.barn.with(|b| b.standard().standard.sperm_poor_in))
    });
    move || match all.get(at.get()) {
        Some(step) => {
            let count = [("n", (at.get() + 1).into()), ("all", all.len().into())];
            let heading = tell::work(work);
            let place = format!("{}. {}", w.tr(heading), w.tr_with(key::LEARN_STEP, &count));
            one(&w, step, place, says(&w, step, poor_in.get()), at)
        }
        None => over(&w, at),
    }
}

/// What a step says, with the farm's own word where there is one.
fn says(w: &Words, step: &Step, poor_in: Option<bool>) -> String {
    let said = w.tr(step.says);
    let here = poor_in.filter(|_| step.asks_farm).map(|poor_in| {
        w.tr(if poor_in {
            key::LEARN_HERE_POOR
        } else {
            key::LEARN_HERE_RICH
        })
    });
    std::iter::once(said)
        .chain(here)
        .collect::<Vec<_>>()
        .join(" ")
}

fn one(
    w: &Words,
    step: &'static Step,
    place: String,
    says: String,
    at: RwSignal<usize>,
) -> AnyView {
    let title = w.tr(step.title);
    let aloud = format!("{title}. {says}");
    let drawings = step.drawings.iter().map(|d| view! { <Mark drawing=*d/> });
    let body = if step.stops {
        view! { <Band role=Role::Stop headline=title why=says><span>{place}</span></Band> }
            .into_any()
    } else {
        view! {
            <header class="words"><p class="small quiet">{place}</p><h1 class="big">{title}</h1></header>
            <div class="lesson">{drawings.collect_view()}</div>
            <p class="words">{says}</p>
        }
        .into_any()
    };
    let first = Signal::derive(move || at.get() == 0);
    view! {
        {body}
        <div class="grow"></div>
        <div class="actions two">
            <Action word=w.tr(key::LEARN_BEFORE) kind=Kind::Quiet off=first on_tap=move |()| at.update(|n| *n -= 1)/>
            <Action word=w.tr(key::LEARN_NEXT) on_tap=move |()| at.update(|n| *n += 1)/>
        </div>
        <ReadAloud text=aloud/>
    }
    .into_any()
}

fn over(w: &Words, at: RwSignal<usize>) -> AnyView {
    view! {
        <Band role=Role::Ready headline=w.tr(key::LEARN_OVER) why=w.tr(key::LEARN_OVER_WHY)/>
        <div class="grow"></div>
        <div class="actions">
            <Action word=w.tr(key::LEARN_PRACTICE) href=paths::learn("practice")/>
            <Action word=w.tr(key::LEARN_AGAIN) kind=Kind::Quiet on_tap=move |()| at.set(0)/>
            <Action word=w.tr(key::LEARN) kind=Kind::Quiet href=paths::LEARN/>
        </div>
    }
    .into_any()
}
