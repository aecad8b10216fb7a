//! How the semen was diluted for the chamber: steps of parts and parts, with what they come to.

use super::describe;
use super::measure::Ask;
use super::open::{At, Desk, Which};
use crate::act::each_from_its_top;
use crate::parts::{Action, Drawing, Figure, Keypad, Kind, PadKey, Title};
use crate::words::{Words, key};
use leptos::prelude::*;
use pentally_domain::counting::{Dilution, ErrorAsked};
use pentally_domain::tallying::SpermTally;

/// Steps that are made often (common practice, no source), among them the two that are taken for
/// ×10 and ×20.
const USUAL: [f64; 8] = [4.0, 9.0, 10.0, 19.0, 20.0, 49.0, 99.0, 199.0];
const SEMEN: Figure = Figure {
    low: 0.001,
    high: 10_000.0,
    decimals: 3,
};
const DILUENT: Figure = Figure {
    low: 0.0,
    high: 10_000.0,
    decimals: 3,
};

#[derive(Debug, Clone, Copy, PartialEq)]
enum Step {
    List,
    Semen,
    Diluent(f64),
    /// The steps are easily taken for this factor.
    TakenFor(f64),
}

#[derive(Clone, Copy)]
struct Asking {
    desk: Desk,
    step: RwSignal<Step>,
    tally: bool,
}

/// Asks for the steps, once whether they are not taken for another factor, and goes on to count.
pub fn screen(desk: Desk, tally: bool) -> AnyView {
    let asking = Asking {
        desk,
        step: RwSignal::new(Step::List),
        tally,
    };
    each_from_its_top(Memo::new(move |_| asking.step.get()));
    view! {
        {move || match asking.step.get() {
            Step::List => asking.list(),
            Step::Semen => asking.parts(None),
            Step::Diluent(semen) => asking.parts(Some(semen)),
            Step::TakenFor(factor) => asking.taken_for(factor),
        }}
    }
    .into_any()
}

/// `1 + 19`
fn step(w: &Words, (semen, diluent): (f64, f64)) -> String {
    format!("{} + {}", plain(w, semen), plain(w, diluent))
}

/// `1 + 19, 1 + 9 = ×200`
pub fn told(w: &Words, dilution: &Dilution) -> String {
    if dilution.steps().is_empty() {
        return w.tr(key::DILUTION_NONE);
    }
    let steps: Vec<_> = dilution.steps().iter().map(|s| step(w, *s)).collect();
    format!("{} = {}", steps.join(", "), times(w, dilution.factor()))
}

fn times(w: &Words, factor: f64) -> String {
    format!("×{}", plain(w, (factor * 100.0).round() / 100.0))
}

fn plain(w: &Words, value: f64) -> String {
    let decimals = (0..3).find(|d| ((value * 10_f64.powi(*d)).fract()).abs() < 1e-9);
    w.num(
        value,
        decimals.and_then(|d| u8::try_from(d).ok()).unwrap_or(3),
    )
}

impl Asking {
    fn add(self, semen: f64, diluent: f64) {
        let mut steps = self
            .desk
            .open
            .with_untracked(|open| open.dilution.steps().to_vec());
        steps.push((semen, diluent));
        match Dilution::new(steps) {
            Ok(dilution) => {
                self.desk.change(|open| open.dilution = dilution);
                self.step.set(Step::List);
            }
            Err(_) => self.desk.act.say(self.desk.w.tr(key::DILUTION_TOO_MUCH)),
        }
    }

    fn list(self) -> AnyView {
        let (desk, w) = (self.desk, self.desk.w);
        let told = move || desk.open.with(|open| told(&w, &open.dilution));
        let none = Signal::derive(move || desk.open.with(|o| o.dilution.steps().is_empty()));
        let chip = move |diluent: f64| {
            view! {
                <button type="button" class="chip" on:click=move |_| self.add(1.0, diluent)>
                    {step(&w, (1.0, diluent))}
                </button>
            }
        };
        let go = move |()| match desk.open.with_untracked(|o| o.dilution.taken_for()) {
            Some(factor) => self.step.set(Step::TakenFor(factor)),
            None => self.on(),
        };
        let chamber = desk.open.with_untracked(|o| describe::name(&w, &o.chamber));
        let less = move |()| {
            let mut steps = desk.open.with_untracked(|o| o.dilution.steps().to_vec());
            steps.pop();
            // Fewer steps of a dilution that stood are one.
            desk.change(|open| open.dilution = Dilution::new(steps).unwrap_or_default());
        };
        let word = Signal::derive(move || {
            let factor = desk.open.with(|o| o.dilution.factor());
            match none.get() {
                true => w.tr(key::DILUTION_UNDILUTED),
                false => w.tr_with(key::DILUTION_GO, &[("factor", times(&w, factor).into())]),
            }
        });
        view! {
            <Title headline=w.tr(key::DILUTION_TITLE) why=w.tr(key::DILUTION_WHY)/>
            <p class="words big" aria-live="polite">{told}</p>
            <div class="words"><div class="chips three" role="group" aria-label=w.tr(key::DILUTION_TITLE)>
                {USUAL.map(chip).collect_view()}
                <button type="button" class="chip" on:click=move |_| self.step.set(Step::Semen)>{w.tr(key::DILUTION_OTHER)}</button>
            </div></div>
            <div class="grow"></div>
            <div class="actions">
                <Action word=word on_tap=go/>
                <Action word=w.tr(key::DILUTION_LESS) kind=Kind::Quiet drawing=Drawing::Undo off=none on_tap=less/>
                <Action word=chamber kind=Kind::Quiet drawing=Drawing::ChamberGrid on_tap=move |()| desk.go(At::Chamber { tally: self.tally })/>
                <Action word=w.tr(key::COLLECT_BACK) kind=Kind::Quiet on_tap=move |()| desk.go(At::Ways(Ask::Concentration))/>
            </div>
        }
        .into_any()
    }

    /// First the parts of semen, then those of diluent.
    fn parts(self, semen: Option<f64>) -> AnyView {
        let w = self.desk.w;
        let typed = RwSignal::new(String::new());
        let (title, figure) = match semen {
            None => (key::DILUTION_SEMEN_PARTS, SEMEN),
            Some(_) => (key::DILUTION_DILUENT_PARTS, DILUENT),
        };
        let take = PadKey::take(w.tr(key::COLLECT_AMOUNT_OK), move |parts| match semen {
            None => self.step.set(Step::Diluent(parts)),
            Some(semen) => self.add(semen, parts),
        });
        let back = move |()| self.step.set(Step::List);
        view! {
            <Keypad asked=w.tr(title) typed=typed figure=figure unit=w.tr(key::UNIT_PARTS) take=take on_back=back/>
            <div class="grow"></div>
        }
        .into_any()
    }

    /// 1 + 10 twice is ×121 and not ×100.
    fn taken_for(self, taken: f64) -> AnyView {
        let (desk, w) = (self.desk, self.desk.w);
        let dilution = desk.open.with_untracked(|open| open.dilution.clone());
        let found = times(&w, dilution.factor());
        let args = [
            ("found", found.clone().into()),
            ("taken", times(&w, taken).into()),
            ("steps", told(&w, &dilution).into()),
        ];
        view! {
            <Title headline=w.tr_with(key::DILUTION_TAKEN_FOR, &args) why=w.tr_with(key::DILUTION_TAKEN_FOR_WHY, &args)/>
            <div class="grow"></div>
            <div class="actions">
                <Action word=w.tr_with(key::DILUTION_GO, &[("factor", found.into())]) on_tap=move |()| self.on()/>
                <Action word=w.tr(key::DILUTION_CHANGE) kind=Kind::Quiet on_tap=move |()| self.step.set(Step::List)/>
            </div>
        }
        .into_any()
    }

    fn on(self) {
        let tally = self.tally;
        self.desk.change(|open| {
            if tally {
                let dilution = open.dilution.clone();
                let asked = ErrorAsked::default();
                open.tallying.sperm = Some(SpermTally::new(open.chamber, dilution, asked));
                open.at = At::Tally(Which::Sperm);
            } else {
                open.at = At::Filling;
            }
        });
    }
}
