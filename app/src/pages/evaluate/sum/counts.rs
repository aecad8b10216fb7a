//! A count in the chamber: the concentration with its interval, and how much further to count.

use super::{Advice, Offers, actions, agreement, throw};
use crate::pages::evaluate::measure::Ask;
use crate::pages::evaluate::open::{At, Desk, Which};
use crate::pages::evaluate::{chamber, dilution, found};
use crate::parts::{Action, Chips, Kind, Title};
use crate::words::{Words, key};
use leptos::prelude::*;
use pentally_domain::agreement::{Agreement, last_agree};
use pentally_domain::counting::{
    Chamber, Counted, Dilution, ErrorAsked, Further, Interval, Replicate, further,
};
use pentally_domain::evaluation::ConcentrationBy;
use pentally_domain::explain::Origin;
use pentally_domain::tallying::{SpermTally, SpermTap};

/// Errors of counting that can be asked for, in %: 400, 200 and 100 sperm in all.
const ASKED: [f64; 3] = [5.0, 7.1, 10.0];

/// What stands there: sperm tapped, or fillings typed.
pub fn screen(desk: Desk, which: Which) -> AnyView {
    // Another error asked for makes the sentences anew.
    let anew = Memo::new(move |_| {
        desk.open
            .with(|o| (o.tallying.sperm.clone(), o.typed.len()))
    });
    (move || {
        anew.track();
        untrack(|| whole(desk, which))
    })
    .into_any()
}

fn whole(desk: Desk, which: Which) -> AnyView {
    let w = desk.w;
    let by = match which {
        Which::Sperm => desk
            .open
            .with(|open| open.tallying.sperm.as_ref().and_then(SpermTally::finished)),
        _ => chamber::counts(desk),
    };
    let Some((by, replicates)) = by.and_then(|by| match &by {
        ConcentrationBy::Counts { replicates, .. } => Some((by.clone(), replicates.clone())),
        _ => None,
    }) else {
        return nothing(desk, which);
    };
    let counted = by.counted(&Origin::Asked).and_then(Result::ok);
    let interval = by.interval().and_then(Result::ok);
    let headline = match &counted {
        Some(counted) => format!(
            "{} {}",
            w.num(counted.concentration.value(), 0),
            w.tr(key::UNIT_MILLION_PER_ML)
        ),
        None => w.tr(key::COUNTING_IMPOSSIBLE),
    };
    let agree = last_agree(&replicates);
    // A count that was typed can only be typed anew.
    let tally = desk.open.with(|open| open.tallying.sperm.clone());
    let tally = tally.filter(|_| which == Which::Sperm);
    let asked = tally.as_ref().map(SpermTally::error_asked);
    let further_by = |interval, asked| {
        further(
            chamber_of(&by),
            &replicates,
            interval,
            asked,
            &Origin::Asked,
        )
    };
    let more = interval
        .as_ref()
        .zip(asked)
        .map(|(i, asked)| further_by(i, asked));
    let advice = match (&agree, replicates.len()) {
        (_, 1) => Advice::Second,
        (Some(agree), _) if !agree.agree => Advice::Again,
        _ if more.as_ref().is_some_and(|more| more.sperm_more > 0) => Advice::On,
        _ => Advice::Take,
    };
    let lines = lines(&w, &by, &replicates, agree.as_ref(), counted.as_ref());
    let more = interval.map(|interval| errors(desk, which, &by, &replicates, &interval));
    let how = found::how_counted(&w, chamber_of(&by), &replicates, dilution_of(&by));
    view! {
        <Title headline=headline why=found::of_concentration(&w, &by)/>
        <div class="words">
            {lines.into_iter().map(|line| view! { <p>{line}</p> }).collect_view()}
            {more} {how}
        </div>
        {actions(desk, offers(desk, which, advice, by))}
        <div class="grow"></div>
    }
    .into_any()
}

fn chamber_of(by: &ConcentrationBy) -> &Chamber {
    match by {
        ConcentrationBy::Counts { chamber, .. } => chamber,
        _ => &Chamber::IMPROVED_NEUBAUER,
    }
}

fn dilution_of(by: &ConcentrationBy) -> &Dilution {
    static NONE: Dilution = Dilution::none();
    match by {
        ConcentrationBy::Counts { dilution, .. } => dilution,
        _ => &NONE,
    }
}

fn lines(
    w: &Words,
    by: &ConcentrationBy,
    replicates: &[Replicate],
    agree: Option<&Agreement>,
    counted: Option<&Counted>,
) -> Vec<String> {
    let filling = |(at, r): (usize, &Replicate)| {
        let args = [
            ("filling", (at + 1).into()),
            ("n", r.count.value().into()),
            ("squares", r.squares.value().into()),
        ];
        w.tr_with(key::SUM_FILLING, &args)
    };
    let mut lines = vec![w.tr_with(
        key::SUM_DILUTED,
        &[("dilution", dilution::told(w, dilution_of(by)).into())],
    )];
    lines.extend(replicates.iter().enumerate().map(filling));
    lines.push(match (agree, replicates.len()) {
        (Some(agree), _) => agreement(w, agree, key::SUM_FILL_AFRESH),
        (None, _) => w.tr(key::SUM_ONE_FILLING),
    });
    if let Some(counted) = counted {
        let remarks = [
            (counted.crowded, key::SUM_CROWDED),
            (counted.few, key::SUM_FEW),
            (counted.part_grids, key::SUM_PART_GRIDS),
        ];
        lines.extend(remarks.iter().filter(|r| r.0).map(|r| w.tr(r.1)));
    } else {
        lines.push(w.tr(key::COUNTING_CANNOT_BE));
    }
    lines
}

/// The parts of the error, and how far to count until counting has the one asked for.
fn errors(
    desk: Desk,
    which: Which,
    by: &ConcentrationBy,
    replicates: &[Replicate],
    interval: &Interval,
) -> AnyView {
    let w = desk.w;
    let tally = desk.open.with(|open| open.tallying.sperm.clone());
    let tally = tally.filter(|_| which == Which::Sperm);
    let asked = tally
        .as_ref()
        .map_or_else(ErrorAsked::default, SpermTally::error_asked);
    let more = further(chamber_of(by), replicates, interval, asked, &Origin::Asked);
    let parts = interval.counting_percent.map(|counting| {
        let args = [
            ("counting", w.num(counting, 1).into()),
            ("dilution", w.num(interval.dilution_percent, 1).into()),
            ("chamber", w.num(interval.chamber_percent, 1).into()),
        ];
        view! { <p class="small quiet">{w.tr_with(key::SUM_ERRORS, &args)}</p> }
    });
    let choice = tally.map(|tally| {
        let chosen = RwSignal::new(Some(near(asked)));
        Effect::new(move |first: Option<()>| {
            let now = chosen.get();
            let asked = now
                .and_then(|at| ASKED.get(at))
                .and_then(|p| ErrorAsked::new(*p).ok());
            if let (Some(asked), Some(())) = (asked, first) {
                let next = tally.clone().asking(asked);
                desk.change(|open| open.tallying.sperm = Some(next));
            }
        });
        let options = ASKED
            .iter()
            .enumerate()
            .map(|(at, p)| (at, format!("{} %", w.num(*p, 0))));
        view! { <Chips asked=w.tr(key::SUM_ERROR_ASKED) options=options.collect() chosen=chosen/> }
    });
    view! { {parts} <p>{further_words(&w, &more, asked, interval)}</p> {choice} }.into_any()
}

fn near(asked: ErrorAsked) -> usize {
    let apart = |at: &usize| {
        ASKED
            .get(*at)
            .map_or(f64::MAX, |p| (p - asked.percent()).abs())
    };
    (0..ASKED.len())
        .min_by(|a, b| apart(a).total_cmp(&apart(b)))
        .unwrap_or(0)
}

fn further_words(w: &Words, more: &Further, asked: ErrorAsked, interval: &Interval) -> String {
    let asked = w.num(asked.percent(), 0);
    let mut said = match (more.sperm_more, more.grids_more) {
        (0, _) => w.tr_with(key::SUM_ENOUGH, &[("asked", asked.clone().into())]),
        (n, None) => w.tr_with(
            key::SUM_COUNT_MORE_OF_NOTHING,
            &[("n", n.into()), ("asked", asked.clone().into())],
        ),
        (n, Some(grids)) => w.tr_with(
            key::SUM_COUNT_MORE,
            &[
                ("n", n.into()),
                ("grids", grids.into()),
                ("asked", asked.clone().into()),
            ],
        ),
    };
    if more.others_exceed {
        let other = w.num(interval.other_percent, 1);
        said.push(' ');
        said.push_str(&w.tr_with(
            key::SUM_OTHERS_EXCEED,
            &[("other", other.into()), ("asked", asked.into())],
        ));
    }
    said
}

fn nothing(desk: Desk, which: Which) -> AnyView {
    let w = desk.w;
    let begin = move |()| {
        desk.go(match which {
            Which::Sperm if desk.open.with_untracked(|o| o.tallying.sperm.is_some()) => {
                At::Tally(which)
            }
            Which::Sperm => At::Dilution { tally: true },
            _ => At::Filling,
        });
    };
    view! {
        <Title headline=w.tr(key::SUM_NOTHING)/>
        <div class="actions">
            <Action word=w.tr(key::SUM_COUNT_ON) on_tap=begin/>
            {super::bring_back(desk)}
            <Action word=w.tr(key::COLLECT_BACK) kind=Kind::Quiet on_tap=move |()| desk.go(At::Ways(Ask::Concentration))/>
        </div>
        <div class="grow"></div>
    }
    .into_any()
}

fn offers(desk: Desk, which: Which, advice: Advice, by: ConcentrationBy) -> Offers {
    let taps = which == Which::Sperm;
    let second = move |()| {
        let tally = desk.open.with_untracked(|o| o.tallying.sperm.clone());
        match (taps, tally.map(|t| t.tap(SpermTap::NextFilling))) {
            (true, Some(Ok(next))) => desk.change(|open| {
                open.tallying.sperm = Some(next);
                open.at = At::Tally(Which::Sperm);
            }),
            // A filling was begun already.
            (true, _) => desk.go(At::Tally(Which::Sperm)),
            (false, _) => desk.go(At::Filling),
        }
    };
    let again = move |()| {
        if taps {
            throw(desk, |tallying| {
                tallying.sperm = tallying
                    .sperm
                    .as_ref()
                    .map(|t| SpermTally::new(*t.chamber(), t.dilution().clone(), t.error_asked()));
            });
            desk.go(At::Tally(Which::Sperm));
        } else {
            desk.change(|open| {
                open.typed.clear();
                open.at = At::Filling;
            });
        }
    };
    let take = move |()| {
        let by = by.clone();
        // What cannot be is left out: the log would refuse it.
        if by
            .counted(&Origin::Asked)
            .is_some_and(|counted| counted.is_err())
        {
            return desk.act.say(desk.w.tr(key::COUNTING_CANNOT_BE));
        }
        desk.take(|v| v.concentration = Some(by));
    };
    let on = move |()| desk.go(At::Tally(Which::Sperm));
    Offers {
        advice,
        second: (key::SUM_SECOND_FILLING, Callback::new(second)),
        again: Callback::new(again),
        on: taps.then(|| Callback::new(on)),
        take: Callback::new(take),
        ask: Ask::Concentration,
    }
}
