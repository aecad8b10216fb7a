//! A figure that is typed: what an instrument says, or a share.

use super::open::{At, Desk, Which};
use crate::parts::{Action, Figure, Keypad, Kind, PadKey, Title};
use crate::words::{Key, key, use_words};
use leptos::prelude::*;
use pentally_domain::evaluation::{ConcentrationBy, Evaluation, Share};
use pentally_domain::units::{Concentration, Percent};
use pentally_domain::verdict::Reason;
use serde::{Deserialize, Serialize};

/// What is asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
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

/// Cells in a counted percentage: 200 (WHO manual, 5th ed. 2010), or half of them.
const CELLS: [u16; 2] = [200, 100];
const MILLIONS: Figure = Figure {
    low: Concentration::LOW,
    high: Concentration::HIGH,
    decimals: 0,
};
const PERCENT: Figure = Figure {
    low: Percent::LOW,
    high: Percent::HIGH,
    decimals: 0,
};

impl Ask {
    /// What it is called.
    pub const fn name(self) -> Key {
        match self {
            Self::Concentration => key::MEASURE_CONCENTRATION,
            Self::Motile => key::MEASURE_MOTILE,
            Self::Abnormal => key::MEASURE_ABNORMAL,
            Self::Droplets => key::MEASURE_DROPLETS,
        }
    }

    /// The rule it is held against.
    pub const fn rule(self) -> Option<Reason> {
        match self {
            Self::Concentration => None,
            Self::Motile => Some(Reason::Motility),
            Self::Abnormal => Some(Reason::Abnormal),
            Self::Droplets => Some(Reason::Droplets),
        }
    }

    /// What is counted by taps to find it.
    pub const fn tallied(self) -> Which {
        match self {
            Self::Concentration => Which::Sperm,
            Self::Motile => Which::Motility,
            Self::Abnormal | Self::Droplets => Which::Morphology,
        }
    }

    /// Its share; none of a concentration.
    pub const fn share(self, v: &Evaluation) -> Option<Share> {
        match self {
            Self::Concentration => None,
            Self::Motile => v.motile,
            Self::Abnormal => v.abnormal,
            Self::Droplets => v.droplets,
        }
    }
}

/// One figure on a keypad.
pub fn screen(desk: Desk, ask: Ask) -> AnyView {
    let w = desk.w;
    let typed = RwSignal::new(String::new());
    let by_share = ask != Ask::Concentration;
    let back = move |()| desk.go(At::Ways(ask));
    if by_share {
        let take = move |value, cells| desk.take(|v| set(v, ask, value, cells));
        return view! { <Shares asked=ask.name() take=take on_back=back/> }.into_any();
    }
    let take = PadKey::take(w.tr(key::COLLECT_AMOUNT_OK), move |value| {
        desk.take(|v| set(v, ask, value, None));
    });
    let chamber = PadKey::go(w.tr(key::MEASURE_CHAMBER), move |()| count(desk));
    view! {
        <Keypad asked=w.tr(ask.name()) typed=typed figure=MILLIONS unit=w.tr(key::UNIT_MILLION_PER_ML) take=take other=chamber on_back=back/>
        <div class="grow"></div>
    }
    .into_any()
}

/// A share that is typed, and then how it was found: of so many cells, or by eye. Nothing is claimed
/// that was not said.
#[component]
pub(in crate::pages) fn Shares(
    asked: Key,
    take: impl Fn(f64, Option<u16>) + Copy + Send + Sync + 'static,
    #[prop(into)] on_back: Callback<()>,
) -> impl IntoView {
    let w = use_words();
    let (typed, read) = (RwSignal::new(String::new()), RwSignal::new(None::<f64>));
    move || {
        let Some(value) = read.get() else {
            let next = PadKey::take(w.tr(key::COLLECT_AMOUNT_OK), move |v| read.set(Some(v)));
            return view! {
                <Keypad asked=w.tr(asked) typed=typed figure=PERCENT unit=w.tr(key::UNIT_PERCENT) take=next on_back=on_back/>
                <div class="grow"></div>
            }
            .into_any();
        };
        let counted = CELLS.map(|cells| {
            let word = w.tr_with(key::MEASURE_TAKE_COUNTED, &[("n", cells.into())]);
            view! { <Action word=word on_tap=move |()| take(value, Some(cells))/> }
        });
        let title = format!("{}: {} %", w.tr(asked), w.num(value, 0));
        view! {
            <Title headline=title why=w.tr(key::MEASURE_TYPED_WHY)/>
            <div class="actions">
                {counted.into_iter().collect_view()}
                <Action word=w.tr(key::MEASURE_TAKE_BY_EYE) on_tap=move |()| take(value, None)/>
                <Action word=w.tr(key::COLLECT_BACK) kind=Kind::Quiet on_tap=move |()| read.set(None)/>
            </div>
            <div class="grow"></div>
        }
        .into_any()
    }
}

/// Counted in a chamber and typed: what was begun goes on.
fn count(desk: Desk) {
    let begun = desk.open.with_untracked(|open| !open.typed.is_empty());
    desk.go(match begun {
        true => At::Sum(Which::Typed),
        false => At::Dilution { tally: false },
    });
}

fn set(v: &mut Evaluation, ask: Ask, value: f64, cells: Option<u16>) {
    let share = || {
        let percent = Percent::new(value).ok();
        percent.map(|percent| Share { percent, cells })
    };
    match ask {
        Ask::Concentration => {
            v.concentration = Concentration::new(value)
                .ok()
                .map(ConcentrationBy::Instrument);
        }
        Ask::Motile => v.motile = share(),
        Ask::Abnormal => v.abnormal = share(),
        Ask::Droplets => v.droplets = share(),
    }
    forget_tallied(v);
}

/// Takes a figure out again.
pub fn clear(v: &mut Evaluation, ask: Ask) {
    match ask {
        Ask::Concentration => v.concentration = None,
        Ask::Motile => v.motile = None,
        Ask::Abnormal => v.abnormal = None,
        Ask::Droplets => v.droplets = None,
    }
    forget_tallied(v);
}

/// A share put in by hand does not follow from what was tallied before.
fn forget_tallied(v: &mut Evaluation) {
    if !v.follows() {
        v.tallied = None;
    }
}
