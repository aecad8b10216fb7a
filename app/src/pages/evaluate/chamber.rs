//! A filling of the chamber that was counted and is typed: sperm, then squares.

use super::measure::Ask;
use super::open::{At, Desk, Which};
use crate::parts::{Figure, Keypad, PadKey};
use crate::words::{Key, key};
use leptos::prelude::*;
use pentally_domain::counting::{Chamber, Dilution, Replicate, count_in};
use pentally_domain::evaluation::ConcentrationBy;
use pentally_domain::explain::Origin;
use pentally_domain::units::{BoundError, Count, Squares};

const COUNT: Figure = Figure {
    low: 0.0,
    high: Count::HIGH as f64,
    decimals: 0,
};

#[derive(Debug, Clone, Copy, PartialEq)]
enum Step {
    Count,
    Squares(f64),
}

/// One filling more.
pub fn screen(desk: Desk) -> AnyView {
    let step = RwSignal::new(Step::Count);
    let refused = RwSignal::new(None);
    view! { {move || match step.get() {
        Step::Count => asking(desk, step, refused, None),
        Step::Squares(count) => asking(desk, step, refused, Some(count)),
    }} }
    .into_any()
}

fn asking(
    desk: Desk,
    step: RwSignal<Step>,
    refused: RwSignal<Option<String>>,
    count: Option<f64>,
) -> AnyView {
    let w = desk.w;
    let chamber = desk.open.with_untracked(|open| open.chamber);
    let filling = desk.open.with_untracked(|open| open.typed.len()) + 1;
    let typed = RwSignal::new(String::new());
    let (title, unit, figure): (Key, Key, Figure) = match count {
        None => (key::MEASURE_COUNT, key::UNIT_SPERM, COUNT),
        Some(_) => (key::MEASURE_SQUARES, key::UNIT_SQUARES, squares(&chamber)),
    };
    let take = PadKey::take(w.tr(key::COLLECT_AMOUNT_OK), move |value| {
        let Some(count) = count else {
            return step.set(Step::Squares(value));
        };
        match filled(desk, count, value) {
            Ok(replicate) => desk.change(|open| {
                open.typed.push(replicate);
                open.at = At::Sum(Which::Typed);
            }),
            Err(most) => {
                let args = [("most", w.num(most, 0).into())];
                refused.set(Some(w.tr_with(key::COUNTING_TOO_MANY, &args)));
                step.set(Step::Count);
            }
        }
    });
    let back = move |()| match count {
        Some(_) => step.set(Step::Count),
        None => desk.go(At::Ways(Ask::Concentration)),
    };
    let number = w.tr_with(key::COUNTING_FILLING, &[("n", filling.into())]);
    let why = refused.get_untracked().filter(|_| count.is_none());
    view! {
        <Keypad asked=w.tr(title) why=why.unwrap_or(number) typed=typed figure=figure unit=w.tr(unit) take=take on_back=back/>
        <div class="grow"></div>
    }
    .into_any()
}

fn squares(chamber: &Chamber) -> Figure {
    Figure {
        low: 1.0,
        high: (f64::from(chamber.grid_squares()) * f64::from(chamber.grids()))
            .min(f64::from(Squares::HIGH)),
        decimals: 0,
    }
}

/// The filling, or the most sperm that its squares can show.
fn filled(desk: Desk, count: f64, squares: f64) -> Result<Replicate, f64> {
    let dilution = desk.open.with_untracked(|open| open.dilution.clone());
    let chamber = desk.open.with_untracked(|open| open.chamber);
    let made = |count, squares| -> Result<Replicate, BoundError> {
        let replicate = Replicate {
            count: Count::new(count)?,
            squares: Squares::new(squares)?,
        };
        // Undiluted, what the squares hold is all that can be wrong.
        count_in(&chamber, &[replicate], &Dilution::none(), &Origin::Asked)?;
        count_in(&chamber, &[replicate], &dilution, &Origin::Asked)?;
        Ok(replicate)
    };
    made(whole(count), whole(squares)).map_err(|error| match error.field {
        "count" => error.high,
        // What the concentration may be at most, as sperm in these squares.
        _ => (count * error.high / error.read).floor(),
    })
}

/// What was typed, as a figure of the evaluation.
pub fn counts(desk: Desk) -> Option<ConcentrationBy> {
    desk.open.with(|open| {
        let replicates = open.typed.clone();
        (!replicates.is_empty()).then(|| ConcentrationBy::Counts {
            chamber: open.chamber,
            replicates,
            dilution: open.dilution.clone(),
        })
    })
}

/// A figure of the keypad without decimals.
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "the keypad holds it to whole bounds"
)]
pub const fn whole(value: f64) -> u32 {
    value as u32
}
