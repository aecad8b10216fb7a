//! How warm it is where the boars stand: hot today or not, the last days, and what hot days do
//! weeks later.

mod ask;
mod chart;
mod load;
mod table;

use crate::act::{Act, to_top, use_act};
use crate::feed::{Feed, use_feed};
use crate::pages::rows;
use crate::parts::{Action, Band, Caution, Drawing, Kind, Role};
use crate::tell;
use crate::words::{Words, key, use_words};
use ask::Asking;
use chrono::NaiveDate;
use leptos::prelude::*;
use pentally_domain::amend::Void;
use pentally_domain::barn::{Barn, Seen};
use pentally_domain::climate::{
    Climate, FarmDay, Reading, RoomDay, Spell, cooling_due, days_of, entries_of, expectation,
    spells,
};
use pentally_domain::fact::Fact;
use pentally_domain::farm::Standard;
use pentally_domain::said::Label;
use pentally_domain::time::{HOUR_MS, MINUTE_MS, Zone};
use std::collections::BTreeMap;

/// Till then an entry can be taken back here; later in the log.
const TAKE_BACK_MS: i64 = 12 * HOUR_MS;
/// So many spells are told.
const TOLD: usize = 8;

/// `/climate`
#[component]
pub fn ClimatePage() -> impl IntoView {
    let act = use_act();
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    let asking = RwSignal::new(false);
    let shown = move || {
        if asking.get() {
            return view! { <Asking feed asking/> }.into_any();
        }
        view! { <Known feed act asking/> <load::Load feed/> <Why/> <div class="grow"></div> }
            .into_any()
    };
    view! { {shown} }.into_any()
}

/// The rooms anybody read, the one read last first.
fn rooms(barn: &Barn) -> Vec<Label> {
    let mut latest = BTreeMap::new();
    for seen in entries_of(barn) {
        let name = seen.fact.room.as_str().to_lowercase();
        let known = latest
            .entry(name)
            .or_insert((seen.order, seen.fact.room.clone()));
        if seen.order >= known.0 {
            *known = (seen.order, seen.fact.room);
        }
    }
    let mut rooms: Vec<_> = latest.into_values().collect();
    rooms.sort_by_key(|(order, _)| std::cmp::Reverse(*order));
    rooms.into_iter().map(|(_, room)| room).collect()
}

/// What is known, anew with each entry.
#[component]
fn Known(feed: Feed, act: Act, asking: RwSignal<bool>) -> impl IntoView {
    let w = use_words();
    move || {
        let (barn, now_ms) = (feed.barn.get(), feed.now_ms.get());
        let zone = barn.zone_at(now_ms);
        Page {
            w,
            act,
            feed,
            asking,
            days: days_of(&barn, now_ms),
            standard: barn.standard().standard,
            today: zone.day(now_ms),
            zone,
            now_ms,
            barn: &barn,
        }
        .view()
    }
}

struct Page<'a> {
    w: Words,
    act: Act,
    feed: Feed,
    asking: RwSignal<bool>,
    barn: &'a Barn,
    days: Vec<FarmDay>,
    standard: Standard,
    zone: Zone,
    today: NaiveDate,
    now_ms: i64,
}

impl Page<'_> {
    fn view(&self) -> AnyView {
        let w = self.w;
        let (role, headline, why) = self.answer();
        let asking = self.asking;
        let enter = move |()| {
            asking.set(true);
            to_top();
        };
        view! {
            <Band role=role headline=headline why=why><b>{w.tr(key::CLIMATE_HOT_TODAY)}</b></Band>
            {self.cooling()}
            <div class="actions">
                <Action word=w.tr(key::CLIMATE_ENTER) drawing=Drawing::Thermometer on_tap=enter/>
            </div>
            {self.fresh()}
            {self.spells()}
            {(!self.days.is_empty()).then(|| view! {
                <section class="words">
                    <h2>{w.tr(key::CLIMATE_LAST_DAYS)}</h2>
                    {chart::picture(&w, &self.days, &self.standard, self.today)}
                    {table::table(&w, &self.days, self.today)}
                </section>
            })}
        }
        .into_any()
    }

    /// Hot, not hot, or nobody knows.
    fn answer(&self) -> (Role, String, String) {
        let w = &self.w;
        let Some(day) = self.days.iter().find(|d| d.day == self.today) else {
            return (
                Role::Unknown,
                w.tr(key::CLIMATE_NOBODY),
                w.tr(key::CLIMATE_NOBODY_WHY),
            );
        };
        let warmest = warmest(&day.rooms);
        let why = warmest.map(|(room, reading)| {
            let air = tell::air(w, &reading);
            w.tr_with(
                key::CLIMATE_WARMEST,
                &[
                    ("room", room.room.as_str().into()),
                    ("air", air.into()),
                    ("when", self.moment(&reading).into()),
                ],
            )
        });
        let why = why.unwrap_or_default();
        match day.hot {
            Some(share) if share > 0.0 => (Role::Rest, w.tr(key::HEAT_HOT), why),
            Some(_) => (Role::Ready, w.tr(key::HEAT_NOT_HOT), why),
            None => {
                let why = format!("{why} {}", w.tr(key::CLIMATE_NOT_KNOWN_WHY));
                (Role::Unknown, w.tr(key::HEAT_NOT_KNOWN), why)
            }
        }
    }

    /// When a reading of today was taken.
    fn moment(&self, reading: &Reading) -> String {
        let at_ms = self.zone.day_start_ms(self.today) + i64::from(reading.minute) * MINUTE_MS;
        tell::moment(&self.w, &self.zone, at_ms, self.now_ms)
    }

    fn cooling(&self) -> Option<AnyView> {
        let w = &self.w;
        let due = cooling_due(&self.days, self.today, &self.standard);
        let says = |c: &_| view! { <Caution says=tell::cool(w, c)/> };
        let how = || view! { <p class="small">{w.tr(key::CLIMATE_COOL_HOW)}</p> };
        (!due.is_empty()).then(|| {
            view! { <section class="words">{due.iter().map(says).collect_view()}{how()}</section> }
                .into_any()
        })
    }

    /// What was read in the last hours, to be taken back.
    fn fresh(&self) -> Option<AnyView> {
        let read = entries_of(self.barn).into_iter().rev();
        let fresh =
            read.filter(|s| s.fact.day <= self.today && self.now_ms - s.at.ms() < TAKE_BACK_MS);
        let rows = fresh.map(|seen| self.entry(&seen)).collect();
        rows::section(self.w.tr(key::CLIMATE_FRESH), rows)
    }

    fn entry(&self, seen: &Seen<Climate>) -> AnyView {
        let (w, act) = (self.w, self.act);
        let room = seen.fact.room.as_str();
        let title = match &seen.fact.readings[..] {
            [one] => format!("{room}: {}", tell::air(&w, one)),
            many => w.tr_with(
                key::CLIMATE_MANY,
                &[("room", room.into()), ("n", many.len().into())],
            ),
        };
        let mut small = vec![tell::moment(&w, &self.zone, seen.at.ms(), self.now_ms)];
        small.extend(tell::by(&w, self.barn, seen));
        let void = Fact::Void(Void::of(seen.order, &Fact::Climate(seen.fact.clone())));
        let back = move |()| act.save_quietly(void.clone());
        let undo = view! { <Action word=w.tr(key::UNDO) kind=Kind::Quiet on_tap=back/> };
        rows::record(
            &w,
            title,
            &small,
            self.feed.state_of(seen),
            Some(undo.into_any()),
        )
    }

    /// Hot spells, latest first, and what each does; the times that are here or ahead stand out.
    fn spells(&self) -> Option<AnyView> {
        let w = &self.w;
        let row = |spell: &Spell| {
            let (name, small) = tell::spell(w, spell);
            let drawing = if spell.is_expected(self.today) {
                Drawing::HalfDisc
            } else {
                Drawing::Disc
            };
            view! {
                <li class="row">
                    <crate::parts::Mark drawing/>
                    <div class="rest-of"><p class="name">{name}</p><p class="small quiet">{small}</p></div>
                </li>
            }
            .into_any()
        };
        let rows = spells(&self.days)
            .iter()
            .rev()
            .take(TOLD)
            .map(row)
            .collect();
        let expected = expectation(&self.days, self.today);
        let lower = tell::lower(w, &expected).map(|says| view! { <p class="words">{says}</p> });
        let list = rows::section(w.tr(key::CLIMATE_SPELLS), rows);
        list.map(|list| view! { {lower}{list} }.into_any())
    }
}

/// The warmest reading, and its room.
fn warmest(rooms: &[RoomDay]) -> Option<(&RoomDay, Reading)> {
    let readings = rooms
        .iter()
        .flat_map(|r| r.readings.iter().map(move |x| (r, *x)));
    readings.max_by(|(_, a), (_, b)| a.air.value().total_cmp(&b.air.value()))
}

/// Where the limits come from.
#[component]
fn Why() -> impl IntoView {
    let w = use_words();
    let feed = use_feed();
    let limits = move || {
        let standard = feed.map(|f| f.barn.with(|b| b.standard().standard));
        let standard = standard.unwrap_or_default();
        w.tr_with(
            key::CLIMATE_LIMITS,
            &[
                ("index", standard.hot_thi.into()),
                ("air", standard.hot_celsius.into()),
                ("hours", standard.hot_hours.into()),
            ],
        )
    };
    view! {
        <section class="words">
            <h2>{w.tr(key::CLIMATE_HOW)}</h2>
            <p class="small">{limits}</p>
            <p class="small quiet">{w.tr(key::CLIMATE_BANDS)}</p>
            <p class="small quiet">{w.tr(key::CLIMATE_SOURCES)}</p>
        </section>
    }
}
