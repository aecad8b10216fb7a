//! Another chamber than the improved Neubauer, described figure by figure.

use super::chamber::whole;
use super::open::{At, Desk};
use crate::parts::{Figure, Keypad, PadKey};
use crate::words::{Key, Words, key};
use leptos::prelude::*;
use pentally_domain::counting::Chamber;

const SIDE: Figure = Figure {
    low: 0.01,
    high: 5.0,
    decimals: 3,
};
const DEPTH: Figure = Figure {
    low: 0.005,
    high: 1.0,
    decimals: 3,
};
const SQUARES: Figure = Figure {
    low: 1.0,
    high: 1000.0,
    decimals: 0,
};
const GRIDS: Figure = Figure {
    low: 1.0,
    high: 100.0,
    decimals: 0,
};
/// What is asked, in this order.
const STEPS: [(Key, Key, Figure); 4] = [
    (key::CHAMBER_SIDE, key::UNIT_MM, SIDE),
    (key::CHAMBER_DEPTH, key::UNIT_MM, DEPTH),
    (key::CHAMBER_GRID_SQUARES, key::UNIT_SQUARES, SQUARES),
    (key::CHAMBER_GRIDS, key::UNIT_GRIDS, GRIDS),
];

/// What a chamber is called.
pub fn name(w: &Words, chamber: &Chamber) -> String {
    if chamber.is_improved_neubauer() {
        return w.tr(key::CHAMBER_NEUBAUER);
    }
    let args = [
        ("nl", w.num(chamber.square_nl(), 2).into()),
        ("squares", chamber.grid_squares().into()),
    ];
    w.tr_with(key::CHAMBER_OF, &args)
}

/// Asks for side, depth, squares of a grid and grids; then back to the dilution.
pub fn screen(desk: Desk, tally: bool) -> AnyView {
    let said = RwSignal::new(Vec::<f64>::new());
    view! { {move || one(desk, tally, said, said.with(Vec::len))} }.into_any()
}

fn one(desk: Desk, tally: bool, said: RwSignal<Vec<f64>>, at: usize) -> AnyView {
    let w = desk.w;
    let typed = RwSignal::new(String::new());
    let Some((title, unit, figure)) = STEPS.get(at).copied() else {
        return ().into_any();
    };
    let back = At::Dilution { tally };
    let is = move |chamber: Chamber| {
        let back = At::Dilution { tally };
        desk.change(|open| {
            open.chamber = chamber;
            open.at = back;
        });
    };
    let take = PadKey::take(w.tr(key::COLLECT_AMOUNT_OK), move |value| {
        let mut all = said.get_untracked();
        all.push(value);
        match all[..] {
            [side, depth, squares, grids] => {
                match Chamber::of_side(side, depth, whole(squares), whole(grids)) {
                    Ok(chamber) => is(chamber),
                    Err(error) => desk.act.say(error.to_string()),
                }
            }
            _ => said.set(all),
        }
    });
    let neubauer = PadKey::go(w.tr(key::CHAMBER_NEUBAUER), move |()| {
        is(Chamber::IMPROVED_NEUBAUER);
    });
    let back = move |()| desk.go(back.clone());
    view! {
        <Keypad asked=w.tr(title) why=w.tr(key::CHAMBER_WHY) typed=typed figure=figure unit=w.tr(unit)
            take=take other=neubauer on_back=back/>
        <div class="grow"></div>
    }
    .into_any()
}
