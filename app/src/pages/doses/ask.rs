//! What a person can set at the filling table: a row for each, and a screen of its own to ask it.

mod named;

use super::{Choice, Table, mix};
use crate::parts::{Action, Drawing, Figure, Keypad, Kind, PadKey, Title};
use crate::tell;
use crate::words::{Key, Words, key};
use leptos::prelude::*;
use named::{figure, forget, title, unit};
use pentally_domain::barn::{Barn, Holding};
use pentally_domain::doses::Technique;
use pentally_domain::extender::ExtenderClass;
use pentally_domain::farm::CountAs;
use pentally_domain::filling::{Chosen, HowSure};
use pentally_domain::plain::PlainRoute;
use pentally_domain::serving::SERVICES_PER_HEAT;
use pentally_domain::time::HOUR_MS;
use pentally_domain::units::{
    Assurance, DoseVolumeMl, ServicesPerHeat, Sows, SpermBillions, TemperatureC,
};

/// What is asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Ask {
    Technique,
    Target,
    CountAs,
    Sure,
    DoseVolume,
    Mix,
    Class,
    SemenC,
    ExtenderC,
    Sows,
    Services,
    Route,
}

const TECHNIQUES: [Technique; 3] = [
    Technique::Intracervical,
    Technique::PostCervical,
    Technique::DeepUterine,
];
const WAYS: [(CountAs, Key); 3] = [
    (CountAs::Total, key::COUNT_AS_TOTAL),
    (CountAs::Motile, key::COUNT_AS_MOTILE),
    (CountAs::MotileNormal, key::COUNT_AS_MOTILE_NORMAL),
];
const CLASSES: [(ExtenderClass, Key); 3] = [
    (ExtenderClass::Short, key::EXTENDER_SHORT),
    (ExtenderClass::Medium, key::EXTENDER_MEDIUM),
    (ExtenderClass::Long, key::EXTENDER_LONG),
];
/// The assurances to choose from in %; 0 is the plain formula.
const SURE: [u8; 4] = [0, 90, 95, 99];
const ROUTES: [(PlainRoute, Key); 2] = [
    (PlainRoute::Undiluted, key::PLAIN_UNDILUTED),
    (PlainRoute::Extended, key::PLAIN_EXTENDED),
];

/// How a value stands.
enum Stands {
    /// A person chose it.
    Chosen(String),
    /// Nobody did, and this holds.
    Default(String),
    /// Nobody did, and nothing holds.
    Open(Key),
}

/// A row for each thing that can be set; `hours` is how long the doses keep.
pub(super) fn rows(table: Table, choice: &Choice, barn: &Barn, hours: Option<u16>) -> AnyView {
    let (w, now_ms) = (table.w, table.feed.now_ms.get());
    let holding = &barn.standard();
    let undiluted = choice.chosen.route == Some(PlainRoute::Undiluted);
    let counted = choice.chosen.route.is_none();
    let asked = [
        (Ask::Sows, true),
        (Ask::Services, choice.chosen.sows.is_some()),
        (Ask::Technique, counted),
        (Ask::Target, counted),
        (Ask::CountAs, counted),
        (Ask::Sure, counted),
        (Ask::DoseVolume, true),
        (Ask::SemenC, !undiluted),
        (Ask::ExtenderC, !undiluted),
        (Ask::Mix, !undiluted),
        (
            Ask::Class,
            !undiluted && choice.chosen.extender_mix.is_none(),
        ),
        (Ask::Route, true),
    ];
    let row = |ask: Ask| {
        let mix = (ask == Ask::Mix).then(|| mix::chosen(&w, barn, choice, now_ms));
        let stands = match mix {
            Some(mix) => mix.map_or(Stands::Open(key::DOSES_NO_MIX), Stands::Chosen),
            None => stands(&w, ask, choice, holding, hours),
        };
        let value = match stands {
            Stands::Chosen(value) => value,
            Stands::Default(value) => format!("{value} · {}", w.tr(key::DOSES_BY_DEFAULT)),
            Stands::Open(word) => w.tr(word),
        };
        view! {
            <li><button type="button" class="row" on:click=move |_| table.ask(Some(ask))>
                <span class="rest-of"><span class="small quiet">{w.tr(title(ask))}</span><br/><span class="name">{value}</span></span>
            </button></li>
        }
        .into_any()
    };
    let list: Vec<_> = asked
        .into_iter()
        .filter(|(_, shown)| *shown)
        .map(|(ask, _)| row(ask))
        .collect();
    view! { <ul class="rows">{list}</ul> }.into_any()
}

fn stands(w: &Words, ask: Ask, choice: &Choice, holding: &Holding, hours: Option<u16>) -> Stands {
    let (chosen, standard) = (&choice.chosen, &holding.standard);
    let said = |is_chosen: bool, value: String| match is_chosen {
        true => Stands::Chosen(value),
        false => Stands::Default(value),
    };
    let number = |value: f64, unit: Key| format!("{} {}", figure_text(w, value), w.tr(unit));
    let measured = |read: Option<TemperatureC>| {
        read.map_or(Stands::Open(key::NOT_MEASURED), |t| {
            Stands::Chosen(number(t.value(), key::UNIT_CELSIUS))
        })
    };
    match ask {
        Ask::Technique => said(
            chosen.technique.is_some(),
            w.tr(tell::technique(chosen.technique())),
        ),
        Ask::Target => said(
            chosen.target.is_some(),
            number(chosen.target().value(), key::UNIT_BILLION),
        ),
        Ask::CountAs => said(
            chosen.count_as.is_some(),
            word(w, &WAYS, chosen.count_as(standard)),
        ),
        Ask::Sure => said(
            chosen.how_sure.is_some(),
            sure(w, chosen.assurance(standard).map_or(0.0, Assurance::value)),
        ),
        Ask::Mix => Stands::Open(key::DOSES_NO_MIX),
        Ask::DoseVolume => said(
            chosen.dose_volume.is_some(),
            number(chosen.dose_volume().value(), key::UNIT_ML),
        ),
        Ask::Class => said(
            chosen.extender.is_some(),
            // The farm may trust its extender for less than the class allows.
            match hours {
                Some(hours) => w.span(i64::from(hours) * HOUR_MS),
                None => word(w, &CLASSES, chosen.extender(standard)),
            },
        ),
        Ask::SemenC => measured(chosen.semen),
        Ask::ExtenderC => measured(chosen.extender_is),
        Ask::Sows => chosen.sows.map_or(Stands::Open(key::NOT_ANSWERED), |sows| {
            Stands::Chosen(w.num(sows.number(), 0))
        }),
        Ask::Services => said(chosen.services.is_some(), w.num(services(chosen).into(), 0)),
        Ask::Route => chosen.route.map_or(Stands::Open(key::NO), |route| {
            Stands::Chosen(word(w, &ROUTES, route))
        }),
    }
}

/// "95 % of each dose", or the plain formula.
fn sure(w: &Words, percent: f64) -> String {
    if percent == 0.0 {
        return w.tr(key::SURE_PLAIN);
    }
    let decimals = u8::from(percent.fract() != 0.0);
    w.tr_with(
        key::SURE_ASKED,
        &[("asked", w.num(percent, decimals).into())],
    )
}

fn services(chosen: &Chosen) -> u8 {
    chosen
        .services
        .map_or(SERVICES_PER_HEAT, ServicesPerHeat::value)
}

fn word<T: PartialEq>(w: &Words, list: &[(T, Key)], value: T) -> String {
    let found = list.iter().find(|(one, _)| *one == value);
    found.map_or_else(String::new, |(_, word)| w.tr(*word))
}

fn figure_text(w: &Words, value: f64) -> String {
    let tenths = (value * 10.0).fract() == 0.0;
    w.num(
        value,
        if value.fract() == 0.0 {
            0
        } else if tenths {
            1
        } else {
            2
        },
    )
}

/// Asks for one thing.
pub(super) fn screen(table: Table, ask: Ask) -> AnyView {
    if ask == Ask::Mix {
        return mix::screen(table);
    }
    match figure(ask, &table.choice.get_untracked().chosen) {
        Some(figure) => number(table, ask, figure),
        None => options(table, ask),
    }
}

fn number(table: Table, ask: Ask, figure: Figure) -> AnyView {
    let w = table.w;
    let typed = RwSignal::new(String::new());
    let take = PadKey::take(w.tr(key::COLLECT_AMOUNT_OK), move |value| {
        done(table, ask, Some(value));
    });
    let forget = PadKey::go(w.tr(forget(ask)), move |()| done(table, ask, None));
    view! {
        <Keypad asked=w.tr(title(ask)) typed=typed figure=figure unit=w.tr(unit(ask))
            take=take other=forget on_back=move |()| table.ask(None)/>
        <div class="grow"></div>
    }
    .into_any()
}

fn options(table: Table, ask: Ask) -> AnyView {
    let (w, choice) = (table.w, table.choice.get_untracked());
    let (words, chosen) = offered(&w, ask, &choice);
    let list: Vec<_> = words
        .into_iter()
        .enumerate()
        .map(|(at, word)| {
            let value = at as f64;
            let tap = move |()| done(table, ask, Some(value));
            match chosen == Some(at) {
                true => view! { <Action word=word drawing=Drawing::Tick on_tap=tap/> }.into_any(),
                false => view! { <Action word=word on_tap=tap/> }.into_any(),
            }
        })
        .collect();
    let deep = (ask == Ask::Technique && !choice.deep).then(|| {
        let more = move |()| {
            table.choice.update(|c| c.deep = true);
            table.ask(Some(ask));
        };
        view! { <Action word=w.tr(key::DOSES_DEEP) kind=Kind::Quiet on_tap=more/> }
    });
    view! {
        <Title headline=w.tr(title(ask))/>
        <div class="actions">
            {list}
            {deep}
            <Action word=w.tr(forget(ask)) kind=Kind::Quiet on_tap=move |()| done(table, ask, None)/>
            <Action word=w.tr(key::COLLECT_BACK) kind=Kind::Quiet on_tap=move |()| table.ask(None)/>
        </div>
        <div class="grow"></div>
    }
    .into_any()
}

/// The answers in order, and which of them a person chose.
fn offered(w: &Words, ask: Ask, choice: &Choice) -> (Vec<String>, Option<usize>) {
    fn listed<T: PartialEq>(
        w: &Words,
        list: &[(T, Key)],
        chosen: Option<T>,
    ) -> (Vec<String>, Option<usize>) {
        let at = chosen.and_then(|c| list.iter().position(|(one, _)| *one == c));
        (list.iter().map(|(_, word)| w.tr(*word)).collect(), at)
    }
    let chosen = &choice.chosen;
    match ask {
        Ask::CountAs => listed(w, &WAYS, chosen.count_as),
        Ask::Class => listed(w, &CLASSES, chosen.extender),
        Ask::Route => listed(w, &ROUTES, chosen.route),
        Ask::Sure => {
            let percent = chosen.how_sure.map(|how| match how {
                HowSure::Plain => 0.0,
                HowSure::Assured(assurance) => assurance.value(),
            });
            let at = SURE.iter().position(|s| Some(f64::from(*s)) == percent);
            (SURE.map(|s| sure(w, s.into())).to_vec(), at)
        }
        Ask::Services => {
            let all = ServicesPerHeat::LOW..=ServicesPerHeat::HIGH;
            let at = chosen.services.map(|s| usize::from(s.value() - 1));
            (all.map(|n| w.num(n.into(), 0)).collect(), at)
        }
        _ => {
            let shown = TECHNIQUES
                .into_iter()
                .filter(|t| choice.deep || !t.hidden())
                .map(|t| w.tr(tell::technique(t)));
            let at = |chosen| TECHNIQUES.iter().position(|t| *t == chosen);
            (shown.collect(), chosen.technique.and_then(at))
        }
    }
}

/// Takes the answer, or takes it back, and shows the table again.
fn done(table: Table, ask: Ask, value: Option<f64>) {
    table.choice.update(|choice| set(choice, ask, value));
    table.ask(None);
}

fn set(choice: &mut Choice, ask: Ask, value: Option<f64>) {
    let chosen = &mut choice.chosen;
    let at = value.map(place);
    match ask {
        Ask::Technique => place_by(chosen, at.and_then(|at| TECHNIQUES.get(at).copied())),
        Ask::CountAs => chosen.count_as = at.and_then(|at| Some(WAYS.get(at)?.0)),
        Ask::Class => chosen.extender = at.and_then(|at| Some(CLASSES.get(at)?.0)),
        Ask::Sure => chosen.how_sure = at.and_then(|at| how_sure(*SURE.get(at)?)),
        // It has a screen of its own.
        Ask::Mix => {}
        Ask::Services => {
            let services = at.and_then(|at| ServicesPerHeat::new(u32::try_from(at).ok()? + 1).ok());
            chosen.services = services;
        }
        Ask::Route => {
            let route = at.and_then(|at| Some(ROUTES.get(at)?.0));
            // What is not counted is not for another technique than the default.
            if route.is_some() {
                place_by(chosen, None);
            }
            chosen.route = route;
            chosen.dose_volume = None;
            if chosen.route.is_some() {
                choice.pool.clear();
            }
        }
        Ask::Sows => chosen.sows = at.and_then(|n| Sows::new(u32::try_from(n).ok()?).ok()),
        Ask::Target => chosen.target = value.and_then(|v| SpermBillions::new(v).ok()),
        Ask::DoseVolume => chosen.dose_volume = value.and_then(|v| DoseVolumeMl::new(v).ok()),
        Ask::SemenC => chosen.semen = value.and_then(|v| TemperatureC::new(v).ok()),
        Ask::ExtenderC => chosen.extender_is = value.and_then(|v| TemperatureC::new(v).ok()),
    }
}

fn how_sure(percent: u8) -> Option<HowSure> {
    match percent {
        0 => Some(HowSure::Plain),
        asked => Some(HowSure::Assured(Assurance::new(asked.into()).ok()?)),
    }
}

/// Target and volume are the technique's own until they are chosen for it.
fn place_by(chosen: &mut Chosen, technique: Option<Technique>) {
    let before = chosen.technique();
    chosen.technique = technique;
    if chosen.technique() != before {
        chosen.target = None;
        chosen.dose_volume = None;
    }
}

#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "places in short lists, and what the keypad holds to whole bounds"
)]
const fn place(value: f64) -> usize {
    value as usize
}
