//! What a count comes to so far, whether its replicates agree, and what to do next.

use super::measure::Ask;
use super::open::{At, Desk, Which};
use crate::parts::{Action, Kind};
use crate::words::{Key, Words, key};
use leptos::prelude::*;
use pentally_domain::agreement::{Agreement, AgreementBy};
use pentally_domain::tallying::Tallying;

mod cells;
mod counts;

/// What the replicates say, which decides what stands first.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Advice {
    /// One replicate shows nothing of its own errors.
    Second,
    /// They disagree.
    Again,
    /// Too few were counted for the error asked for.
    On,
    /// They agree, or were not alike enough to be compared.
    Take,
}

/// The screen after a count.
pub fn screen(desk: Desk, which: Which) -> AnyView {
    match which {
        Which::Sperm | Which::Typed => counts::screen(desk, which),
        Which::Motility | Which::Morphology => cells::screen(desk, which),
    }
}

/// Whether two replicates agree, as a sentence. `again` says what to do where they do not.
pub(super) fn agreement(w: &Words, found: &Agreement, again: Key) -> String {
    let figure = |at: usize| found.figures.get(at).map_or(0.0, |figure| figure.number());
    let (apart, allowed) = match found.by {
        AgreementBy::Sum => (w.num(figure(0), 0), w.num(figure(1), 0)),
        AgreementBy::Table => (percent(w, figure(0)), percent(w, figure(2))),
        AgreementBy::Exact => {
            let chance = w.num(figure(1) * 100.0, 0);
            let args = [
                ("apart", percent(w, figure(0)).into()),
                ("chance", chance.into()),
            ];
            return match found.agree {
                true => w.tr_with(key::SUM_AGREE_BY_CHANCE, &args),
                false => {
                    format!(
                        "{} {}",
                        w.tr_with(key::SUM_DISAGREE_BY_CHANCE, &args),
                        w.tr(again)
                    )
                }
            };
        }
    };
    let args = [("apart", apart.into()), ("allowed", allowed.into())];
    match found.agree {
        true => w.tr_with(key::SUM_AGREE, &args),
        false => format!("{} {}", w.tr_with(key::SUM_DISAGREE, &args), w.tr(again)),
    }
}

fn percent(w: &Words, points: f64) -> String {
    format!("{} %", w.num(points, u8::from(points.fract() != 0.0)))
}

/// What a screen of this kind offers.
pub(super) struct Offers {
    pub advice: Advice,
    /// One replicate more.
    pub second: (Key, Callback<()>),
    /// All of it anew.
    pub again: Callback<()>,
    /// Go on in this replicate; none where it was typed.
    pub on: Option<Callback<()>>,
    /// Take it as it is.
    pub take: Callback<()>,
    pub ask: Ask,
}

/// What to do next: the advice first and large, the rest quiet.
pub(super) fn actions(desk: Desk, offers: Offers) -> AnyView {
    let w = desk.w;
    let advice = offers.advice;
    let kind = move |first: Advice| match first == advice {
        true => Kind::Primary,
        false => Kind::Quiet,
    };
    let (second_word, second) = offers.second;
    let (take, again, ask) = (offers.take, offers.again, offers.ask);
    let one = move |is: Advice| match is {
        Advice::On => ().into_any(),
        Advice::Second => {
            view! { <Action word=w.tr(second_word) kind=kind(is) on_tap=second/> }.into_any()
        }
        Advice::Again => {
            view! { <Action word=w.tr(key::SUM_AGAIN) kind=kind(is) on_tap=again/> }.into_any()
        }
        Advice::Take => {
            view! { <Action word=w.tr(key::SUM_TAKE) kind=kind(is) on_tap=take/> }.into_any()
        }
    };
    let (first, others) = match advice {
        Advice::On => (None, vec![Advice::Take, Advice::Second, Advice::Again]),
        Advice::Second => (Some(Advice::Second), vec![Advice::Take, Advice::Again]),
        Advice::Again => (Some(Advice::Again), vec![Advice::Second, Advice::Take]),
        Advice::Take => (Some(Advice::Take), vec![Advice::Second, Advice::Again]),
    };
    let on_kind = match first {
        None => Kind::Primary,
        Some(_) => Kind::Quiet,
    };
    let on = offers.on.map(|on| {
        view! { <Action word=w.tr(key::SUM_COUNT_ON) kind=on_kind on_tap=on/> }
    });
    let (first, on, on_below) = match first {
        None => (None, on, None),
        Some(first) => (Some(one(first)), None, on),
    };
    view! {
        <div class="actions stays">{first} {on}</div>
        <div class="actions">
            {on_below} {others.into_iter().map(one).collect_view()} {bring_back(desk)}
            <Action word=w.tr(key::COLLECT_BACK) kind=Kind::Quiet on_tap=move |()| desk.go(At::Ways(ask))/>
        </div>
    }
    .into_any()
}

/// Throws a count away; it can be brought back until the next is.
pub(super) fn throw(desk: Desk, with: impl FnOnce(&mut Tallying)) {
    desk.change(|open| {
        let before = open.tallying.clone();
        with(&mut open.tallying);
        let now = &open.tallying;
        open.thrown = Some(Tallying {
            sperm: before.sperm.filter(|b| now.sperm.as_ref() != Some(b)),
            motility: before.motility.filter(|b| now.motility.as_ref() != Some(b)),
            morphology: before
                .morphology
                .filter(|b| now.morphology.as_ref() != Some(b)),
        });
    });
}

fn bring_back(desk: Desk) -> Option<AnyView> {
    let thrown = desk.open.with_untracked(|open| open.thrown.is_some());
    let back = move |()| {
        desk.change(|open| {
            let thrown = open.thrown.take().unwrap_or_default();
            let now = &mut open.tallying;
            now.sperm = thrown.sperm.or(now.sperm.take());
            now.motility = thrown.motility.or(now.motility.take());
            now.morphology = thrown.morphology.or(now.morphology.take());
            open.at = At::Form;
        });
    };
    thrown.then(|| {
        view! { <Action word=desk.w.tr(key::SUM_BRING_BACK) kind=Kind::Quiet on_tap=back/> }
            .into_any()
    })
}
