//! Training: those who are in it, in today's order, each with his progress as a small picture.

use crate::feed::use_feed;
use crate::pages::rows;
use crate::parts::{Drawing, Mark, Scores, Title};
use crate::words::{Key, Words, key, use_words};
use crate::{paths, tell};
use leptos::prelude::*;
use pentally_domain::barn::Barn;
use pentally_domain::training::advice::Advice;
use pentally_domain::training::group::{Pupil, Turn, order};
use pentally_domain::training::state::{Progress, State};
use pentally_domain::units::Score;

/// `/training`
#[component]
pub fn TrainingPage() -> impl IntoView {
    let w = use_words();
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    (move || {
        let (barn, now_ms) = (feed.barn.get(), feed.now_ms.get());
        let pupils = order(&barn, now_ms);
        let due = pupils.iter().filter(|p| p.is_due()).count();
        let why = w.tr_with(key::TRAINING_SUMMARY, &[("n", due.into())]);
        let none = pupils.is_empty();
        let group = |heading: Key, is: fn(&Pupil) -> bool| {
            let of: Vec<_> = pupils.iter().filter(|p| is(p)).collect();
            group(&w, &barn, heading, &of)
        };
        view! {
            <Title headline=w.tr(key::TRAINING_TITLE) why=why/>
            {none.then(|| view! { <p class="words">{w.tr(key::TRAINING_NOBODY)}</p> })}
            {group(key::TRAINING_DUE, Pupil::is_due)}
            {group(key::TRAINING_WAITING, |p| !p.is_due() && !is_not_yet(p))}
            {group(key::TRAINING_NOT_YET, is_not_yet)}
            <ul class="rows">{rows::link(paths::EVIDENCE.to_owned(), None, w.tr(key::MORE_EVIDENCE), String::new(), String::new())}</ul>
            <div class="grow"></div>
        }
    })
    .into_any()
}

const fn is_not_yet(pupil: &Pupil) -> bool {
    matches!(pupil.turn, Turn::NotYet(_))
}

fn group(w: &Words, barn: &Barn, heading: Key, pupils: &[&Pupil]) -> Option<AnyView> {
    (!pupils.is_empty()).then(|| {
        let heading = format!("{} ({})", w.tr(heading), pupils.len());
        let rows = pupils.iter().map(|p| row(w, barn, p)).collect_view();
        view! { <section><h2 class="heading">{heading}</h2><ul class="rows">{rows}</ul></section> }
            .into_any()
    })
}

fn row(w: &Words, barn: &Barn, pupil: &Pupil) -> AnyView {
    let p = &pupil.progress;
    let pen = pupil.boar.pen().and_then(|pen| barn.pen(pen)?.pen);
    let pen = pen.map(|p| w.tr_with(key::BOAR_OF_PEN, &[("pen", p.fact.name.as_str().into())]));
    let two = pupil
        .advice
        .iter()
        .any(|a| matches!(a, Advice::TwoPeople { .. }));
    let mut small = vec![tell::turn(w, pupil.turn, p.today)];
    small.extend(two.then(|| w.tr(key::TRAINING_TWO)));
    small.extend(stands(w, p));
    small.extend(pen);
    let danger = two.then(|| view! { <Mark drawing=Drawing::TwoPeople/> });
    view! {
        <li><a class="row" href=paths::boar(pupil.boar.id)>
            {danger}
            <span class="rest-of"><span class="name">{pupil.boar.number()}</span><br/>
                <span class="small quiet">{small.join(" · ")}</span></span>
            <span class="last">{picture(w, p)}</span>
        </a></li>
    }
    .into_any()
}

/// Where he stands, in a few words.
fn stands(w: &Words, p: &Progress) -> Option<String> {
    let week = [("n", p.in_seven_days().into())];
    match &p.state {
        State::InTraining { .. } | State::Retraining { .. } => {
            Some(w.tr_with(key::TRAINING_IN_SEVEN, &week))
        }
        State::Isolated(_) => Some(w.tr(key::OFF_ISOLATION).to_lowercase()),
        _ => tell::pupil(w, p).map(|(_, headline, _)| headline.to_lowercase()),
    }
}

/// His sessions as strokes; nothing before the first.
pub(super) fn picture(w: &Words, p: &Progress) -> Option<AnyView> {
    let scores: Vec<_> = p
        .sessions
        .iter()
        .map(|h| h.score.map(Score::value))
        .collect();
    let read: Vec<_> = scores
        .iter()
        .map(|s| s.map_or_else(|| "?".to_owned(), |s| s.to_string()))
        .collect();
    let says = w.tr_with(key::TRAINING_SCORES, &[("scores", read.join(", ").into())]);
    (!scores.is_empty()).then(|| view! { <Scores scores=scores says=says/> }.into_any())
}
