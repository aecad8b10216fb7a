//! What a person can set at the filling table: a row for each, and a screen of its own to ask it.

use super::{Choice, Table};
use crate::act::use_act;
use crate::parts::{Action, Drawing, Figure, Keypad, Kind, Reading, Title};
use crate::tell;
use crate::words::{Key, Words, key};
use leptos::prelude::*;
use pentally_domain::barn::Holding;
use pentally_domain::doses::Technique;
use pentally_domain::extender::ExtenderClass;
use pentally_domain::farm::CountAs;
use pentally_domain::filling::Chosen;
use pentally_domain::plain::PlainRoute;
use pentally_domain::serving::SERVICES_PER_HEAT;
use pentally_domain::time::HOUR_MS;
use pentally_domain::units::{DoseVolumeMl, ServicesPerHeat, Sows, SpermBillions, TemperatureC};

/// What is asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Ask {
    Technique,
    Target,
    CountAs,
    DoseVolume,
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
pub(super) fn rows(
    table: Table,
    choice: &Choice,
    holding: &Holding,
    hours: Option<u16>,
) -> AnyView {
    let w = table.w;
    let undiluted = choice.chosen.route == Some(PlainRoute::Undiluted);
    let counted = choice.chosen.route.is_none();
    let asked = [
        (Ask::Sows, true),
        (Ask::Services, choice.chosen.sows.is_some()),
        (Ask::Technique, counted),
        (Ask::Target, counted),
        (Ask::CountAs, counted),
        (Ask::DoseVolume, true),
        (Ask::SemenC, !undiluted),
        (Ask::ExtenderC, !undiluted),
        (Ask::Class, !undiluted),
        (Ask::Route, true),
    ];
    let row = |ask: Ask| {
        let value = match stands(&w, ask, choice, holding, hours) {
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
    match figure(ask, &table.choice.get_untracked().chosen) {
        Some(figure) => number(table, ask, figure),
        None => options(table, ask),
    }
}

fn number(table: Table, ask: Ask, figure: Figure) -> AnyView {
    let (w, act) = (table.w, use_act());
    let typed = RwSignal::new(String::new());
    let unit = w.tr(unit(ask));
    let named = unit.clone();
    let take = move |()| match figure.read(&typed.get_untracked()) {
        Reading::Value(value) => done(table, ask, Some(value)),
        other => act.say(figure.fault(other, &named, w).unwrap_or_default()),
    };
    view! {
        <Title headline=w.tr(title(ask))/>
        <Keypad typed=typed figure=figure unit=unit/>
        <div class="actions">
            <Action word=w.tr(key::COLLECT_AMOUNT_OK) on_tap=take/>
            <Action word=w.tr(forget(ask)) kind=Kind::Quiet on_tap=move |()| done(table, ask, None)/>
            <Action word=w.tr(key::COLLECT_BACK) kind=Kind::Quiet on_tap=move |()| table.ask(None)/>
        </div>
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

const fn title(ask: Ask) -> Key {
    match ask {
        Ask::Technique => key::DOSES_TECHNIQUE,
        Ask::Target => key::DOSES_TARGET,
        Ask::CountAs => key::DOSES_COUNT_AS,
        Ask::DoseVolume => key::DOSES_VOLUME,
        Ask::Class => key::DOSES_CLASS,
        Ask::SemenC => key::DOSES_SEMEN_C,
        Ask::ExtenderC => key::DOSES_EXTENDER_C,
        Ask::Sows => key::DOSES_SOWS,
        Ask::Services => key::DOSES_SERVICES,
        Ask::Route => key::DOSES_PLAIN,
    }
}

const fn forget(ask: Ask) -> Key {
    match ask {
        Ask::SemenC | Ask::ExtenderC => key::COLLECT_AMOUNT_SKIP,
        Ask::Sows | Ask::Route => key::DOSES_LEAVE_OPEN,
        _ => key::DOSES_TAKE_DEFAULT,
    }
}

const fn unit(ask: Ask) -> Key {
    match ask {
        Ask::Target => key::UNIT_BILLION,
        Ask::DoseVolume => key::UNIT_ML,
        Ask::Sows => key::UNIT_SOWS,
        _ => key::UNIT_CELSIUS,
    }
}

/// The bounds of a figure; none where answers are offered instead.
fn figure(ask: Ask, chosen: &Chosen) -> Option<Figure> {
    let (low, high, decimals) = match ask {
        Ask::Target => (SpermBillions::LOW, SpermBillions::HIGH, 2),
        Ask::DoseVolume => (chosen.dose_bounds().0, chosen.dose_bounds().1, 0),
        // Nothing at the bench is below freezing, and the pad has no minus.
        Ask::SemenC | Ask::ExtenderC => (0.0, TemperatureC::HIGH, 1),
        Ask::Sows => (Sows::LOW.into(), Sows::HIGH.into(), 0),
        _ => return None,
    };
    Some(Figure {
        low,
        high,
        decimals,
    })
}
