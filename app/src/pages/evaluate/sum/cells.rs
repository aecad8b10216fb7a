//! Cells by zone: the shares with their intervals, against the farm's limits.

use super::{Advice, Offers, actions, agreement, throw};
use crate::pages::evaluate::found;
use crate::pages::evaluate::measure::Ask;
use crate::pages::evaluate::open::{At, Desk, Which};
use crate::pages::evaluate::tally::class_name;
use crate::parts::{Action, Kind, Title};
use crate::words::{Words, key};
use leptos::prelude::*;
use pentally_domain::agreement::{Agreement, Tally};
use pentally_domain::evaluation::{Class, Evaluation, Morphology, Tallied};
use pentally_domain::tallying::{CellTally, CellTap, Tallying};

/// What was tallied comes to.
pub fn screen(desk: Desk, which: Which) -> AnyView {
    let w = desk.w;
    let open = desk.open.get_untracked();
    let alone = alone(&open.tallying, which);
    let (lines, replicates, agree) = replicates(&w, &open.tallying, which);
    let values = alone.put_into(open.values);
    let ask = match which {
        Which::Motility => Ask::Motile,
        _ => Ask::Abnormal,
    };
    let values = match (replicates, values) {
        (0, _) => return nothing(desk, which, ask),
        (_, Ok(values)) => values,
        (_, Err(_)) => return refused(desk, which, ask),
    };
    let advice = match (&agree, replicates) {
        (_, 1) => Advice::Second,
        (Some(agree), _) if !agree.agree => Advice::Again,
        _ => Advice::Take,
    };
    let agreed = match (&agree, which) {
        (Some(agree), Which::Motility) => agreement(&w, agree, key::SUM_COUNT_AFRESH),
        (Some(agree), _) => agreement(&w, agree, key::SUM_SMEAR_AFRESH),
        (None, _) => w.tr(key::SUM_ONE_REPLICATE),
    };
    let shares: &[Ask] = match which {
        Which::Motility => &[Ask::Motile],
        _ => &[Ask::Abnormal, Ask::Droplets],
    };
    let shares = shares.iter().map(|ask| share(desk, &values, *ask));
    let headline = found::value(&w, &values, ask);
    view! {
        <Title headline=headline why=w.tr(ask.name())/>
        <div class="words">
            {lines.into_iter().map(|line| view! { <p>{line}</p> }).collect_view()}
            <p>{agreed}</p>
            {shares.collect_view()}
        </div>
        {actions(desk, offers(desk, which, ask, advice))}
        <div class="grow"></div>
    }
    .into_any()
}

/// A share in words, with its reckoning.
fn share(desk: Desk, values: &Evaluation, ask: Ask) -> Option<AnyView> {
    let w = desk.w;
    let share = ask.share(values)?;
    let judged = desk.rule(values, ask.rule()?)?;
    let said = found::of_share(&w, share, &judged).join(" ");
    let what = format!("{}: {}", w.tr(ask.name()), found::value(&w, values, ask));
    Some(view! { <h3>{what}</h3><p>{said}</p>{found::how(desk, values, ask)} }.into_any())
}

/// Only this of all that is tallied.
fn alone(tallying: &Tallying, which: Which) -> Tallying {
    let motility = tallying
        .motility
        .clone()
        .filter(|_| which == Which::Motility);
    let morphology = tallying.morphology.clone();
    Tallying {
        sperm: None,
        motility,
        morphology: morphology.filter(|_| which == Which::Morphology),
    }
}

/// Each replicate in a line, how many there are, and whether the last two agree.
fn replicates(
    w: &Words,
    tallying: &Tallying,
    which: Which,
) -> (Vec<String>, usize, Option<Agreement>) {
    if which == Which::Motility {
        let tally = tallying.motility.clone().unwrap_or_default();
        let line = |(at, t): (usize, &Tally)| {
            let args = [
                ("replicate", (at + 1).into()),
                ("hits", t.hits().value().into()),
                ("n", t.cells().value().into()),
            ];
            w.tr_with(key::SUM_MOTILE_OF, &args)
        };
        let all = tally.tallies();
        let lines = all.iter().enumerate().map(line).collect();
        return (lines, all.len(), tally.agreement());
    }
    let tally = tallying.morphology.clone().unwrap_or_default();
    let line = |(at, m): (usize, &Morphology)| {
        let class = |class: Class| {
            let name = w.tr(class_name(class)).to_lowercase();
            format!("{name} {}", m.of(class))
        };
        let args = [
            ("replicate", (at + 1).into()),
            ("classes", Class::ALL.map(class).join(", ").into()),
        ];
        w.tr_with(key::SUM_CLASSES, &args)
    };
    let all = tally.classes();
    let lines = all.iter().enumerate().map(line).collect();
    (lines, all.len(), tally.agreement())
}

fn nothing(desk: Desk, which: Which, ask: Ask) -> AnyView {
    let w = desk.w;
    view! {
        <Title headline=w.tr(key::SUM_NOTHING)/>
        <div class="actions">
            <Action word=w.tr(key::SUM_COUNT_ON) on_tap=move |()| desk.go(At::Tally(which))/>
            {super::bring_back(desk)}
            <Action word=w.tr(key::COLLECT_BACK) kind=Kind::Quiet on_tap=move |()| desk.go(At::Ways(ask))/>
        </div>
        <div class="grow"></div>
    }
    .into_any()
}

/// More cells than an evaluation takes.
fn refused(desk: Desk, which: Which, ask: Ask) -> AnyView {
    let offers = offers(desk, which, ask, Advice::Again);
    view! {
        <Title headline=desk.w.tr(key::COUNTING_IMPOSSIBLE) why=desk.w.tr(key::TALLY_ENOUGH)/>
        {actions(desk, offers)}
        <div class="grow"></div>
    }
    .into_any()
}

fn next<Zone: Copy + PartialEq>(tally: Option<CellTally<Zone>>) -> CellTally<Zone> {
    let tally = tally.unwrap_or_default();
    let before = tally.clone();
    // One that was begun already is gone on with.
    tally.tap(CellTap::NextReplicate).unwrap_or(before)
}

fn offers(desk: Desk, which: Which, ask: Ask, advice: Advice) -> Offers {
    let motility = which == Which::Motility;
    let full = desk.open.with_untracked(|open| {
        let t = &open.tallying;
        let cells = t
            .motility
            .as_ref()
            .filter(|_| motility)
            .map(CellTally::replicate);
        let classes = t
            .morphology
            .as_ref()
            .filter(|_| !motility)
            .map(CellTally::replicate);
        cells.or(classes).unwrap_or(1) >= Tallied::REPLICATES_HIGH
    });
    let second = move |()| {
        if full {
            return desk.act.say(desk.w.tr(key::TALLY_NO_MORE));
        }
        desk.change(|open| {
            let t = &mut open.tallying;
            if motility {
                t.motility = Some(next(t.motility.take()));
            } else {
                t.morphology = Some(next(t.morphology.take()));
            }
            open.at = At::Tally(which);
        });
    };
    let again = move |()| {
        throw(desk, |tallying| match motility {
            true => tallying.motility = None,
            false => tallying.morphology = None,
        });
        desk.go(At::Tally(which));
    };
    let take = move |()| {
        let open = desk.open.get_untracked();
        match alone(&open.tallying, which).put_into(open.values) {
            Ok(values) => desk.take(|v| *v = values),
            Err(_) => desk.act.say(desk.w.tr(key::TALLY_ENOUGH)),
        }
    };
    Offers {
        advice,
        second: (key::SUM_SECOND_REPLICATE, Callback::new(second)),
        again: Callback::new(again),
        on: Some(Callback::new(move |()| desk.go(At::Tally(which)))),
        take: Callback::new(take),
        ask,
    }
}
