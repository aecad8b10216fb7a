//! A boar's training on his page: where he stands, what his sessions suggest, and what was held.

use super::{LISTED, Page, TAKE_BACK_MS, by_entry};
use crate::pages::{rows, training};
use crate::parts::{Action, Caution, Drawing, Kind, Role};
use crate::words::key;
use crate::{paths, tell};
use leptos::prelude::*;
use pentally_domain::amend::Void;
use pentally_domain::barn::Seen;
use pentally_domain::fact::Fact;
use pentally_domain::rest::Standing;
use pentally_domain::training::Training;
use pentally_domain::training::advice::{Advice, advice, two_people as danger};
use pentally_domain::training::group::{Turn, turn};
use pentally_domain::training::state::{Progress, State, progress};

/// His training as it stands now.
pub(super) fn of(p: &Page<'_>) -> Progress {
    let zone = p.barn.zone_at(p.now_ms);
    progress(p.boar, &p.barn.standard().standard, &zone, p.now_ms)
}

/// The board of one who is not collected yet: training answers before rest does.
pub(super) fn board(
    p: &Page<'_>,
    standing: &Standing,
    lessons: &Progress,
) -> Option<(Role, String, String)> {
    let (role, headline, why) = tell::pupil_first(&p.w, standing.answer, lessons)?;
    let by = lessons.by.and_then(|by| by_entry(p, by));
    let why: Vec<_> = [Some(why), by].into_iter().flatten().collect();
    Some((role, headline, why.join(" ")))
}

/// The action that begins a session, whether training comes before collecting with him, and whether a
/// session is what to do next. Who
/// practises may have one too; who is in regular use has it at the foot of the page.
pub(super) fn action(p: &Page<'_>, lessons: &Progress) -> (Option<AnyView>, bool, bool) {
    let (w, id, trains) = (p.w, p.boar.id, p.trains);
    let taught = matches!(
        lessons.state,
        State::Acclimatising { .. }
            | State::InTraining { .. }
            | State::Retraining { .. }
            | State::Settling { .. }
    );
    let young = matches!(lessons.state, State::TooYoung(_));
    let practises = matches!(lessons.state, State::Repeating { .. });
    let zone = p.barn.zone_at(p.now_ms);
    let turn = turn(lessons, &advice(p.boar, lessons, &zone));
    let next = taught && matches!(turn, Turn::Planned | Turn::Free);
    let word = move || {
        w.tr(if trains.get() == Some(id) {
            key::BOAR_TRAIN_GO_ON
        } else {
            key::BOAR_TRAIN
        })
    };
    let kind = if next { Kind::Primary } else { Kind::Quiet };
    let action = (taught || young || practises).then(|| {
        view! { <Action word=Signal::derive(word) kind=kind drawing=Drawing::Dummy href=paths::boar_do(id, "train")/> }.into_any()
    });
    (action, taught || young, next)
}

/// What stands before everything else: two people, where the line above says why.
pub(super) fn two_people(p: &Page<'_>, lessons: &Progress) -> Option<AnyView> {
    let zone = p.barn.zone_at(p.now_ms);
    danger(p.boar, &zone, lessons.today)
        .map(|_| view! { <Caution says=p.w.tr(key::BOAR_TWO_PEOPLE)/> }.into_any())
}

/// The words and the picture below the board.
pub(super) fn words(p: &Page<'_>, lessons: &Progress, on_board: bool) -> Option<AnyView> {
    let zone = p.barn.zone_at(p.now_ms);
    let young = matches!(lessons.state, State::TooYoung(_));
    // That he is too young the board says already.
    let told = tell::pupil(&p.w, lessons).filter(|_| !on_board && !young);
    let by = lessons.by.and_then(|by| by_entry(p, by));
    let by = by.unwrap_or_default();
    let told = told.map(|(_, headline, why)| format!("{headline}. {why} {by}"));
    let mut lines: Vec<String> = told.into_iter().collect();
    let list = advice(p.boar, lessons, &zone);
    let said = list
        .iter()
        .filter(|a| !matches!(a, Advice::TwoPeople { .. }));
    lines.extend(said.map(|a| tell::advice(&p.w, a, lessons.today)));
    lines.extend((!lessons.doubles.is_empty()).then(|| p.w.tr(key::TRAINING_DOUBLE)));
    lines.extend(lessons.ahead.map(|_| p.w.tr(key::STAND_UNKNOWN_CLOCK)));
    lines.extend(young.then(|| p.w.tr(key::TRAIN_EARLY_WHY)));
    let pupil = lessons.is_pupil() && !lessons.sessions.is_empty();
    let picture = pupil.then(|| {
        let says = p.w.tr(key::TRAINING_PICTURE);
        view! { <p class="small quiet">{says}</p>{training::picture(&p.w, lessons)} }
    });
    let shown = lessons.state != State::Gone && (pupil || !lines.is_empty());
    shown.then(|| {
        view! {
            <section class="words">
                {lines.into_iter().map(|line| view! { <p>{line}</p> }).collect_view()}
                {picture}
            </section>
        }
        .into_any()
    })
}

/// What was held, latest first.
pub(super) fn list(p: &Page<'_>) -> Option<AnyView> {
    let rows = p.boar.trainings.iter().rev().take(LISTED);
    rows::section(
        p.w.tr(key::BOAR_TRAININGS),
        rows.map(|t| row(p, t)).collect(),
    )
}

fn row(p: &Page<'_>, t: &Seen<Training>) -> AnyView {
    let (w, act) = (p.w, p.act);
    let zone = p.barn.zone_at(t.at.ms());
    let mut small = tell::trained_how(&w, &t.fact);
    small.extend(t.fact.helper.and_then(|h| p.barn.name(h)));
    small.extend(tell::by(&w, p.barn, t));
    small.extend(t.corrected_by.map(|_| w.tr(key::COLLECTED_CORRECTED)));
    let fresh = p.now_ms - t.order.clock.ms < TAKE_BACK_MS;
    let fact = Fact::Void(Void::of(t.order, &Fact::Training(t.fact.clone())));
    let undo = fresh.then(|| {
        view! { <Action word=w.tr(key::UNDO) kind=Kind::Quiet on_tap=move |()| act.save_quietly(fact.clone())/> }.into_any()
    });
    let when = tell::moment(&w, &zone, t.at.ms(), p.now_ms);
    let title = format!("{when} · {}", tell::trained(&w, &t.fact));
    rows::record(&w, title, &small, p.feed.state_of(t), undo)
}
