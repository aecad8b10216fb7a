//! The figures of the bench, each asked on a screen of its own.

use crate::act::use_act;
use crate::parts::{Action, Figure, Keypad, Kind, Reading, Title};
use crate::words::{Key, Words, key, use_words};
use leptos::prelude::*;
use pentally_domain::counting::Dilution;
use pentally_domain::evaluation::{ConcentrationBy, Evaluation, Share};
use pentally_domain::units::{Concentration, Count, Percent};
use pentally_domain::verdict::concentration;

/// What is asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ask {
    /// M/mL, from an instrument or a chamber.
    Concentration,
    /// Motile share.
    Motile,
    /// Abnormal share.
    Abnormal,
    /// Share with droplets.
    Droplets,
}

/// Cells in a counted percentage (WHO manual, 5th ed. 2010).
const CELLS: u16 = 200;
/// Squares of 4 nL in the chamber's central grid.
const SQUARES_MOST: u16 = 225;

/// The value as it stands, in words.
pub fn value(w: &Words, v: &Evaluation, ask: Ask) -> String {
    match ask {
        Ask::Concentration => concentration(v).map_or_else(
            || w.tr(key::NOT_MEASURED),
            |c| format!("{} {}", w.num(c.value(), 0), w.tr(key::UNIT_MILLION_PER_ML)),
        ),
        Ask::Motile => share(w, v.motile),
        Ask::Abnormal => share(w, v.abnormal),
        Ask::Droplets => share(w, v.droplets),
    }
}

fn share(w: &Words, share: Option<Share>) -> String {
    let Some(share) = share else {
        return w.tr(key::NOT_MEASURED);
    };
    let how = if share.cells.is_some() {
        key::MEASURE_COUNTED
    } else {
        key::MEASURE_BY_EYE
    };
    format!("{} % {}", w.num(share.percent.value(), 0), w.tr(how))
}

/// One step of asking: a title, a figure, a unit.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Step {
    Instrument,
    Count,
    Squares,
    Diluent,
    Percent,
}

/// Asks for one figure, and hands it back.
#[component]
pub fn Asking(
    /// Which.
    ask: Ask,
    /// Where it goes.
    values: RwSignal<Evaluation>,
    /// Called when it stands, or was taken back.
    #[prop(into)]
    done: Callback<()>,
) -> impl IntoView {
    let w = use_words();
    let act = use_act();
    let first = if ask == Ask::Concentration {
        Step::Instrument
    } else {
        Step::Percent
    };
    let step = RwSignal::new(first);
    let typed = RwSignal::new(String::new());
    let chamber = RwSignal::new((0_u32, 0_u16));
    let read = move || {
        let (now, figure) = (step.get_untracked(), figure(step.get_untracked()));
        match figure.read(&typed.get_untracked()) {
            Reading::Value(value) => Some(value),
            other => {
                act.say(figure.fault(other, &w.tr(unit(now)), w).unwrap_or_default());
                None
            }
        }
    };
    let next = move |to: Step| {
        typed.set(String::new());
        step.set(to);
    };
    let take = move |counted: bool| {
        let Some(value) = read() else { return };
        match step.get_untracked() {
            Step::Count => {
                chamber.update(|c| c.0 = whole(value));
                next(Step::Squares);
            }
            Step::Squares => {
                chamber.update(|c| c.1 = u16::try_from(whole(value)).unwrap_or(SQUARES_MOST));
                next(Step::Diluent);
            }
            Step::Instrument | Step::Diluent | Step::Percent => {
                let at = step.get_untracked();
                values.update(|v| set(v, ask, at, value, counted, chamber.get_untracked()));
                done.run(());
            }
        }
    };
    let forget = move |()| {
        values.update(|v| clear(v, ask));
        done.run(());
    };
    let by_share = ask != Ask::Concentration;
    view! {
        <Title headline=Signal::derive(move || w.tr(title(ask, step.get())))/>
        {move || view! { <Keypad typed=typed figure=figure(step.get()) unit=w.tr(unit(step.get()))/> }}
        <div class="actions">
            <Action word=w.tr(if by_share { key::MEASURE_TAKE_COUNTED } else { key::COLLECT_AMOUNT_OK }) on_tap=move |()| take(true)/>
            {by_share.then(|| view! { <Action word=w.tr(key::MEASURE_TAKE_BY_EYE) kind=Kind::Quiet on_tap=move |()| take(false)/> })}
            <Show when=move || step.get() == Step::Instrument>
                <Action word=w.tr(key::MEASURE_CHAMBER) kind=Kind::Quiet on_tap=move |()| next(Step::Count)/>
            </Show>
            <Action word=w.tr(key::COLLECT_AMOUNT_SKIP) kind=Kind::Quiet on_tap=forget/>
        </div>
    }
}

#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "the keypad holds it to whole bounds"
)]
const fn whole(value: f64) -> u32 {
    value as u32
}

fn set(
    v: &mut Evaluation,
    ask: Ask,
    step: Step,
    value: f64,
    counted: bool,
    (count, squares): (u32, u16),
) {
    let share = || {
        Percent::new(value).ok().map(|percent| Share {
            percent,
            cells: counted.then_some(CELLS),
        })
    };
    match (ask, step) {
        (Ask::Concentration, Step::Instrument) => {
            v.concentration = Concentration::new(value)
                .ok()
                .map(ConcentrationBy::Instrument);
        }
        (Ask::Concentration, _) => {
            let dilution = Dilution::new(vec![(1.0, value)]);
            v.concentration = Count::new(count)
                .ok()
                .zip(dilution.ok())
                .map(|(count, dilution)| ConcentrationBy::Chamber {
                    count,
                    squares,
                    dilution,
                });
        }
        (Ask::Motile, _) => v.motile = share(),
        (Ask::Abnormal, _) => v.abnormal = share(),
        (Ask::Droplets, _) => v.droplets = share(),
    }
}

fn clear(v: &mut Evaluation, ask: Ask) {
    match ask {
        Ask::Concentration => v.concentration = None,
        Ask::Motile => v.motile = None,
        Ask::Abnormal => v.abnormal = None,
        Ask::Droplets => v.droplets = None,
    }
}

const fn title(ask: Ask, step: Step) -> Key {
    match (ask, step) {
        (_, Step::Count) => key::MEASURE_COUNT,
        (_, Step::Squares) => key::MEASURE_SQUARES,
        (_, Step::Diluent) => key::MEASURE_DILUENT,
        (Ask::Concentration, _) => key::MEASURE_CONCENTRATION,
        (Ask::Motile, _) => key::MEASURE_MOTILE,
        (Ask::Abnormal, _) => key::MEASURE_ABNORMAL,
        (Ask::Droplets, _) => key::MEASURE_DROPLETS,
    }
}

const fn unit(step: Step) -> Key {
    match step {
        Step::Instrument => key::UNIT_MILLION_PER_ML,
        Step::Count => key::UNIT_SPERM,
        Step::Squares => key::UNIT_SQUARES,
        Step::Diluent => key::UNIT_PARTS,
        Step::Percent => key::UNIT_PERCENT,
    }
}

fn figure(step: Step) -> Figure {
    let (low, high, decimals) = match step {
        Step::Instrument => (Concentration::LOW, Concentration::HIGH, 0),
        Step::Count => (1.0, f64::from(Count::HIGH), 0),
        Step::Squares => (1.0, f64::from(SQUARES_MOST), 0),
        Step::Diluent => (0.0, 999.0, 1),
        Step::Percent => (Percent::LOW, Percent::HIGH, 0),
    };
    Figure {
        low,
        high,
        decimals,
    }
}
