//! The farm's own thresholds, its name, and where its tags lead.

mod farm;
mod fields;

use crate::act::use_act;
use crate::feed::use_feed;
use crate::pages::fields::{Line, figure};
use crate::parts::{Action, Chips, Title};
use crate::tell;
use crate::words::{Words, key, use_words};
use fields::{FLOOR, NUMBERS, Number, Wrong};
use leptos::prelude::*;
use pentally_domain::barn::Barn;
use pentally_domain::fact::{Fact, Subject};
use pentally_domain::farm::{CountAs, Rhythm, Standard};
use pentally_domain::units::Assurance;

/// `/standard`
#[component]
pub fn StandardPage() -> impl IntoView {
    let w = use_words();
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    // A change that arrives from elsewhere shows the new standard; what was typed is then out of date.
    let holding = Memo::new(move |_| feed.barn.with(|b| b.standard()));
    let saved = RwSignal::new(false);
    let set_by = move || feed.barn.with(|b| set_by(&w, b, feed.now_ms.get()));
    view! {
        <Title headline=w.tr(key::MORE_STANDARD) why=Signal::derive(set_by)/>
        <p class="words">{w.tr(key::STANDARD_WHY)}</p>
        {move || view! { <Form standard=holding.get().standard saved/> }}
        <farm::FarmForm/>
        <div class="grow"></div>
    }
    .into_any()
}

/// Who set the standard that holds, and when.
fn set_by(w: &Words, barn: &Barn, now_ms: i64) -> String {
    let live = barn
        .ledger(Subject::Farm)
        .map(|l| l.live())
        .unwrap_or_default();
    let Some(last) = live.iter().rfind(|l| matches!(l.fact, Fact::Standard(_))) else {
        return w.tr(key::STANDARD_DEFAULTS);
    };
    let when = tell::moment(w, &barn.zone_at(last.at.ms()), last.at.ms(), now_ms);
    match last.person.and_then(|p| barn.name(p)) {
        Some(name) => w.tr_with(
            key::STANDARD_SET_BY,
            &[("name", name.into()), ("when", when.into())],
        ),
        None => w.tr_with(key::STANDARD_SET, &[("when", when.into())]),
    }
}

#[component]
fn Form(standard: Standard, saved: RwSignal<bool>) -> impl IntoView {
    let w = use_words();
    let act = use_act();
    let typed = NUMBERS
        .each_ref()
        .map(|n| RwSignal::new(plain((n.get)(&standard))));
    let wrong = NUMBERS.each_ref().map(|_| RwSignal::new(None::<String>));
    let rhythm = RwSignal::new(Some(standard.rhythm));
    let count_as = RwSignal::new(Some(standard.count_as));
    let sperm_poor = RwSignal::new(Some(standard.sperm_poor_in));
    let antibiotic = RwSignal::new(standard.antibiotic);
    let assurance = RwSignal::new(Some(standard.assurance_percent));
    let kept = standard.assurance_percent;
    let take = move |()| {
        let mut next = Standard {
            rhythm: rhythm.get_untracked().unwrap_or(standard.rhythm),
            count_as: count_as.get_untracked().unwrap_or(standard.count_as),
            sperm_poor_in: sperm_poor.get_untracked().unwrap_or(standard.sperm_poor_in),
            antibiotic: antibiotic.get_untracked(),
            assurance_percent: assurance
                .get_untracked()
                .unwrap_or(standard.assurance_percent),
            ..standard.clone()
        };
        let mut good = true;
        for ((number, typed), wrong) in NUMBERS.iter().zip(typed).zip(wrong) {
            let read = typed
                .with_untracked(|t| figure(t).ok_or_else(|| Wrong::NoFigure(t.trim().to_owned())));
            let set = read.and_then(|value| number.set(&mut next, value));
            good &= set.is_ok();
            wrong.set(set.err().map(|why| tell_wrong(&w, number, &why)));
        }
        if good && next.idle_clean_out_days < next.idle_check_days {
            good = false;
            act.say(w.tr(key::STANDARD_IDLE_ORDER));
        }
        if good {
            act.save(vec![Fact::Standard(next).into()], move |_| saved.set(true));
        }
    };
    let counts = [
        (CountAs::Total, key::COUNT_AS_TOTAL),
        (CountAs::Motile, key::COUNT_AS_MOTILE),
        (CountAs::MotileNormal, key::COUNT_AS_MOTILE_NORMAL),
    ];
    let counts = counts.map(|(as_what, key)| (as_what, w.tr(key))).to_vec();
    let rhythms = [
        (Rhythm::DaysRunning, key::RHYTHM_DAYS_RUNNING),
        (Rhythm::NextDayThenWeekly, key::RHYTHM_NEXT_DAY_THEN_WEEKLY),
    ];
    let rhythms = rhythms.map(|(rhythm, key)| (rhythm, w.tr(key))).to_vec();
    let yes_no = vec![(true, w.tr(key::YES)), (false, w.tr(key::NO))];
    let assurances = assurances(&w, kept);
    let lines = NUMBERS.iter().zip(typed).zip(wrong).map(|((number, typed), wrong)| {
        view! { <Line name=name(&w, number) value=typed wrong=wrong hint=hint(&w, number) figures=true/> }
    });
    view! {
        <div class="words fields">{lines.collect_view()}</div>
        <div class="words">
            <Chips asked=w.tr(key::STANDARD_RHYTHM) options=rhythms chosen=rhythm/>
            <p class="small quiet">{w.tr(key::STANDARD_RHYTHM_WHY)}</p>
            <Chips asked=w.tr(key::STANDARD_COUNT_AS) options=counts chosen=count_as/>
            <Chips asked=w.tr(key::STANDARD_ASSURANCE) options=assurances chosen=assurance/>
            <p class="small quiet">{w.tr(key::STANDARD_ASSURANCE_WHY)}</p>
            <Chips asked=w.tr(key::STANDARD_SPERM_POOR) options=yes_no.clone() chosen=sperm_poor/>
            <Chips asked=w.tr(key::STANDARD_ANTIBIOTIC) options=yes_no chosen=antibiotic/>
            <p class="small quiet">{w.tr(key::STANDARD_ANTIBIOTIC_WHY)}</p>
        </div>
        <div class="actions"><Action word=w.tr(key::STANDARD_SAVE) on_tap=take/></div>
        <Show when=move || saved.get()><p class="words" role="status">{w.tr(key::STANDARD_SAVED)}</p></Show>
    }
}

/// Off, the usual ones, and the farm's own where it is another.
fn assurances(w: &Words, kept: Option<Assurance>) -> Vec<(Option<Assurance>, String)> {
    let mut list: Vec<_> = [90.0, 95.0, 99.0]
        .into_iter()
        .filter_map(|percent| Assurance::new(percent).ok())
        .collect();
    list.extend(kept.filter(|own| !list.contains(own)));
    list.sort_by(|a, b| a.value().total_cmp(&b.value()));
    let told = |one: Assurance| {
        let decimals = u8::from(one.value().fract() != 0.0);
        (Some(one), format!("{} %", w.num(one.value(), decimals)))
    };
    let off = (None, w.tr(key::STANDARD_ASSURANCE_OFF));
    std::iter::once(off)
        .chain(list.into_iter().map(told))
        .collect()
}

fn name(w: &Words, number: &Number) -> String {
    format!("{} ({})", w.tr(number.name), w.tr(number.unit))
}

fn hint(w: &Words, number: &Number) -> String {
    let bounds = w.tr_with(
        key::FIELD_FROM_TO,
        &[
            ("low", plain(number.low).into()),
            ("high", plain(number.high).into()),
            ("unit", w.tr(number.unit).into()),
        ],
    );
    format!("{bounds} {}", w.tr(number.why))
}

fn tell_wrong(w: &Words, number: &Number, why: &Wrong) -> String {
    let args = |read: String| {
        [
            ("read", read.into()),
            ("low", plain(number.low).into()),
            ("high", plain(number.high).into()),
            ("unit", w.tr(number.unit).into()),
        ]
    };
    match why {
        Wrong::NoFigure(read) if read.is_empty() => {
            w.tr_with(key::FIELD_EMPTY, &args(String::new()))
        }
        Wrong::NoFigure(read) => w.tr_with(key::FIELD_NO_FIGURE, &args(read.clone())),
        Wrong::Outside(read) => w.tr_with(key::FIELD_OUTSIDE, &args(shown(w, *read))),
        Wrong::NotWhole(read) => w.tr_with(key::FIELD_NOT_WHOLE, &args(shown(w, *read))),
        Wrong::Floor(read) => w.tr_with(
            key::STANDARD_FLOOR,
            &[
                ("read", shown(w, *read).into()),
                ("floor", plain(FLOOR).into()),
            ],
        ),
    }
}

/// A figure as it was read: a decimal only where it has one.
fn shown(w: &Words, value: f64) -> String {
    w.num(value, u8::from(value.fract() != 0.0))
}

/// A figure as it is typed: no more decimals than it has.
fn plain(value: f64) -> String {
    value.to_string()
}
