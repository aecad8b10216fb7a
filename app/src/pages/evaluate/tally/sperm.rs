//! Sperm in the squares of the chamber.

use super::{Head, NEXT, REACHED, Tone, UNDO, blocked, foot, frame, gone, sound, zone};
use crate::pages::evaluate::open::{At, Desk, Which};
use crate::parts::Drawing;
use crate::words::{Words, key};
use leptos::prelude::*;
use pentally_domain::tallying::{SpermTally, SpermTap};

const SPERM: Tone = (880.0, 50);

/// One zone for sperm; undo and the next square below it.
pub fn screen(desk: Desk) -> AnyView {
    let w = desk.w;
    if desk.open.with_untracked(|o| o.tallying.sperm.is_none()) {
        return gone(desk, key::COUNTING_NOT_OPEN);
    }
    let head = Memo::new(move |_| {
        desk.open
            .with(|open| open.tallying.sperm.as_ref().map(|t| head(&w, t)))
            .unwrap_or_else(|| Head {
                count: String::new(),
                place: String::new(),
                reached: None,
            })
    });
    let ends = Memo::new(move |_| {
        desk.open
            .with(|o| o.tallying.sperm.as_ref().is_some_and(ends))
    });
    // Who counts on past the end of the filling is not asked again in the same square.
    let on = RwSignal::new(false);
    let here = Signal::derive(move || {
        let here = desk
            .open
            .with(|o| o.tallying.sperm.as_ref().map_or(0, SpermTally::in_square));
        w.tr_with(key::TALLY_IN_SQUARE, &[("n", here.into())])
    });
    let leaves = Signal::derive(move || ends.get() && !on.get());
    let next = Signal::derive(move || {
        w.tr(match leaves.get() {
            true => key::TALLY_FILLING_DONE,
            false => key::TALLY_NEXT_SQUARE,
        })
    });
    let tap_next = move || {
        if leaves.get_untracked() {
            on.set(true);
            desk.go(At::Sum(Which::Sperm));
        } else {
            tap(desk, SpermTap::NextSquare);
        }
    };
    let zones = view! {
        <div class="zones one">{zone(w.tr(key::TALLY_SPERM), "main", Some(here), move || tap(desk, SpermTap::Sperm))}</div>
    };
    let word = w.tr(key::UNDO);
    let below = view! {
        <div class="feet two">
            {foot(Signal::stored(word), Some(Drawing::Undo), Signal::stored(false), move || tap(desk, SpermTap::Undo))}
            {foot(next, None, leaves, tap_next)}
        </div>
    };
    frame(desk, Which::Sperm, head, zones.into_any(), below.into_any())
}

/// The target is reached at the end of a grid: stop here.
fn ends(tally: &SpermTally) -> bool {
    tally.reached() && tally.place().at_a_whole_grid
}

fn head(w: &Words, tally: &SpermTally) -> Head {
    let place = tally.place();
    let args = [
        ("filling", place.filling.into()),
        ("grid", place.grid.into()),
        ("square", place.square.into()),
    ];
    let reached = tally.reached().then(|| {
        w.tr(match ends(tally) {
            true => key::TALLY_AT_WHOLE_GRID,
            false => key::TALLY_TO_THE_GRIDS_END,
        })
    });
    let of = [
        ("n", tally.in_filling().into()),
        ("target", tally.target().into()),
    ];
    Head {
        count: w.tr_with(key::TALLY_OF, &of),
        place: w.tr_with(key::TALLY_PLACE, &args),
        reached,
    }
}

fn tap(desk: Desk, tap: SpermTap) {
    let Some(tally) = desk.open.with_untracked(|o| o.tallying.sperm.clone()) else {
        return;
    };
    let (reached, ended) = (tally.reached(), ends(&tally));
    match tally.tap(tap) {
        Ok(next) => {
            let signals = (next.reached() && !reached) || (ends(&next) && !ended);
            sound(
                desk,
                match tap {
                    SpermTap::Undo => UNDO,
                    _ if signals => REACHED,
                    SpermTap::Sperm => SPERM,
                    SpermTap::NextSquare | SpermTap::NextFilling => NEXT,
                },
            );
            desk.change(|open| open.tallying.sperm = Some(next));
        }
        Err(why) => blocked(desk, why),
    }
}
