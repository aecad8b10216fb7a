//! A reading entered by hand: which room, how warm, how damp. One question a screen, no keyboard
//! but for the name of a new room.

use super::rooms;
use crate::act::{Act, to_top, use_act};
use crate::device::Draft;
use crate::feed::Feed;
use crate::pages::fields::Line;
use crate::parts::{Action, Chips, Figure, Keypad, Kind, PadKey, Reading as Typed, Title};
use crate::words::{Words, key, use_words};
use leptos::prelude::*;
use pentally_domain::climate::{Climate, Reading};
use pentally_domain::fact::Fact;
use pentally_domain::said::Label;
use pentally_domain::time::MINUTE_MS;
use pentally_domain::units::{Percent, TemperatureC};

/// Above so many °C somebody may have read °F: a barn at 45 °C is rare, one at 45 °F is a winter's
/// day (common practice, no source). What is confirmed is kept.
const LOOKS_LIKE_F: f64 = 40.0;

#[derive(Debug, Clone, Copy, PartialEq)]
enum Step {
    Room,
    Air,
    /// The figure looks like °F.
    Unit(f64),
    Humidity,
}

#[derive(Debug, Clone, PartialEq, Eq)]
enum Room {
    Known(Label),
    New,
}

/// What is being entered. Cheap to copy.
#[derive(Clone, Copy)]
struct Entering {
    w: Words,
    act: Act,
    feed: Feed,
    asking: RwSignal<bool>,
    step: RwSignal<Step>,
    room: RwSignal<Option<Room>>,
    name: RwSignal<String>,
    wrong: RwSignal<Option<String>>,
    typed: RwSignal<String>,
    below: RwSignal<bool>,
    air: RwSignal<Option<TemperatureC>>,
}

/// Asks, saves one entry for today, and goes back to the page.
#[component]
pub(super) fn Asking(feed: Feed, asking: RwSignal<bool>) -> impl IntoView {
    let last = feed.barn.with_untracked(|b| rooms(b)).into_iter().next();
    let entering = Entering {
        w: use_words(),
        act: use_act(),
        feed,
        asking,
        step: RwSignal::new(Step::Room),
        room: RwSignal::new(Some(last.map_or(Room::New, Room::Known))),
        name: RwSignal::new(String::new()),
        wrong: RwSignal::new(None),
        typed: RwSignal::new(String::new()),
        below: RwSignal::new(false),
        air: RwSignal::new(None),
    };
    move || match entering.step.get() {
        Step::Room => entering.which_room(),
        Step::Air => entering.how_warm(),
        Step::Unit(read) => entering.which_unit(read),
        Step::Humidity => entering.how_damp(),
    }
}

impl Entering {
    fn to(self, step: Step) {
        self.act.hush();
        self.typed.set(String::new());
        self.step.set(step);
        to_top();
    }

    fn which_room(self) -> AnyView {
        let w = self.w;
        let known = self.feed.barn.with_untracked(|b| rooms(b));
        let is_first = known.is_empty();
        let known = known.into_iter().map(|room| {
            let word = room.as_str().to_owned();
            (Room::Known(room), word)
        });
        let options = known.chain([(Room::New, w.tr(key::CLIMATE_ROOM_NEW))]);
        let options: Vec<_> = options.collect();
        let go = move |()| match self.chosen() {
            Ok(_) => self.to(Step::Air),
            Err(why) => self.wrong.set(Some(why)),
        };
        let off = Signal::derive(move || self.room.with(Option::is_none));
        let stop = move |()| self.asking.set(false);
        view! {
            <Title headline=w.tr(key::CLIMATE_WHICH_ROOM)/>
            <div class="words">
                {(!is_first).then(|| view! { <Chips asked=w.tr(key::CLIMATE_ROOM) options=options chosen=self.room/> })}
                <Show when=move || self.room.with(|r| *r == Some(Room::New))>
                    <Line name=w.tr(key::CLIMATE_ROOM_NAME) value=self.name hint=w.tr(key::FIELD_LABEL) wrong=self.wrong/>
                </Show>
            </div>
            <div class="grow"></div>
            <div class="actions">
                <Action word=w.tr(key::CLIMATE_GO_ON) off=off on_tap=go/>
                <Action word=w.tr(key::CLIMATE_STOP) kind=Kind::Quiet on_tap=stop/>
            </div>
        }
        .into_any()
    }

    /// The room, or what is wrong with its name.
    fn chosen(self) -> Result<Label, String> {
        if let Some(Room::Known(room)) = self.room.get_untracked() {
            return Ok(room);
        }
        Label::parse(&self.name.get_untracked()).map_err(|e| {
            let args = [
                ("chars", e.chars.into()),
                ("low", e.low.into()),
                ("high", e.high.into()),
            ];
            self.w.tr_with(key::TEXT_LENGTH, &args)
        })
    }

    fn how_warm(self) -> AnyView {
        let w = self.w;
        let turn = move |()| {
            self.typed.set(String::new());
            self.below.update(|below| *below = !*below);
        };
        let back = move |()| self.to(Step::Room);
        let pad = move || {
            let below = self.below.get();
            let (asked, other) = if below {
                (key::CLIMATE_HOW_COLD, key::CLIMATE_ABOVE_ZERO)
            } else {
                (key::CLIMATE_HOW_WARM, key::CLIMATE_BELOW_ZERO)
            };
            let take = PadKey::go(w.tr(key::COLLECT_AMOUNT_OK), move |()| self.take_air());
            view! {
                <Keypad asked=w.tr(asked) typed=self.typed figure=degrees(below) unit=w.tr(key::UNIT_CELSIUS)
                    take=take other=PadKey::go(w.tr(other), turn) on_back=back/>
            }
        };
        view! { {pad} <div class="grow"></div> }.into_any()
    }

    fn take_air(self) {
        let below = self.below.get_untracked();
        let figure = degrees(below);
        let read = figure.read(&self.typed.get_untracked());
        match read {
            _ if below => {}
            Typed::Value(value) | Typed::TooHigh(value) if looks_like_fahrenheit(value) => {
                return self.to(Step::Unit(value));
            }
            _ => {}
        }
        let Typed::Value(value) = read else {
            let why = figure.fault(read, &self.w.tr(key::UNIT_CELSIUS), self.w);
            return self.act.say(why.unwrap_or_default());
        };
        self.take(TemperatureC::new(if below { -value } else { value }).ok());
    }

    fn take(self, air: Option<TemperatureC>) {
        self.air.set(air);
        self.to(Step::Humidity);
    }

    /// Asked once, where the figure looks like another unit.
    fn which_unit(self, read: f64) -> AnyView {
        let w = self.w;
        let Some(celsius) = from_fahrenheit(read) else {
            return ().into_any();
        };
        let args = || {
            [
                ("read", w.num(read, 1).into()),
                ("celsius", w.num(celsius.value(), 1).into()),
            ]
        };
        let as_read = TemperatureC::new(read).ok();
        let other = as_read.map(|air| {
            let take = move |()| self.take(Some(air));
            view! { <Action word=w.tr_with(key::CLIMATE_IS_C, &args()) kind=Kind::Quiet on_tap=take/> }
        });
        view! {
            <Title headline=w.tr_with(key::CLIMATE_UNIT, &args()) why=w.tr_with(key::CLIMATE_UNIT_WHY, &args())/>
            <div class="grow"></div>
            <div class="actions">
                <Action word=w.tr_with(key::CLIMATE_IS_F, &args()) on_tap=move |()| self.take(Some(celsius))/>
                {other}
                <Action word=w.tr(key::COLLECT_AMOUNT_AGAIN) kind=Kind::Quiet on_tap=move |()| self.to(Step::Air)/>
            </div>
        }
        .into_any()
    }

    fn how_damp(self) -> AnyView {
        let w = self.w;
        let take = PadKey::take(w.tr(key::COLLECT_AMOUNT_OK), move |value| {
            self.save(Percent::new(value).ok());
        });
        let skip = PadKey::go(w.tr(key::COLLECT_AMOUNT_SKIP), move |()| self.save(None));
        let back = move |()| self.to(Step::Air);
        view! {
            <Keypad asked=w.tr(key::CLIMATE_HOW_DAMP) why=w.tr(key::CLIMATE_HOW_DAMP_WHY) typed=self.typed
                figure=HUMIDITY unit=w.tr(key::UNIT_PERCENT) take=take other=skip on_back=back/>
            <div class="grow"></div>
        }
        .into_any()
    }

    fn save(self, humidity: Option<Percent>) {
        let (Ok(room), Some(air)) = (self.chosen(), self.air.get_untracked()) else {
            return self.to(Step::Room);
        };
        let now_ms = self.feed.now_ms.get_untracked();
        let zone = self.feed.barn.with_untracked(|b| b.zone_at(now_ms));
        let day = zone.day(now_ms);
        let minute = (now_ms - zone.day_start_ms(day)) / MINUTE_MS;
        let climate = Climate {
            room,
            day,
            readings: vec![Reading {
                minute: u16::try_from(minute).unwrap_or(Climate::MINUTE_MAX),
                air,
                humidity,
            }],
        };
        let asking = self.asking;
        let draft = Draft::of(Fact::Climate(climate));
        self.act.save(vec![draft], move |_| {
            asking.set(false);
            to_top();
        });
    }
}

const HUMIDITY: Figure = Figure {
    low: Percent::LOW,
    high: Percent::HIGH,
    decimals: 0,
};

/// The pad has no sign: below zero is asked for by its own button.
const fn degrees(below: bool) -> Figure {
    Figure {
        low: 0.0,
        high: if below {
            -TemperatureC::LOW
        } else {
            TemperatureC::HIGH
        },
        decimals: 1,
    }
}

/// Whether it is asked which unit was read.
fn looks_like_fahrenheit(read: f64) -> bool {
    read > LOOKS_LIKE_F && from_fahrenheit(read).is_some()
}

/// A figure in °F, where it is one that is taken in °C.
fn from_fahrenheit(read: f64) -> Option<TemperatureC> {
    TemperatureC::new(((read - 32.0) / 1.8 * 10.0).round() / 10.0).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: the scale's definition, 32 °F is 0 °C and 212 °F is 100 °C.
    #[test]
    fn what_looks_like_fahrenheit_is_read_as_that() {
        let read = |f| from_fahrenheit(f).map(TemperatureC::value);
        assert_eq!((read(86.0), read(95.0)), (Some(30.0), Some(35.0)));
        assert_eq!(read(300.0), None);
    }

    /// Source: common practice; 45 °F is 7.2 °C by the scale's definition.
    #[test]
    fn a_figure_that_no_barn_is_likely_to_have_in_celsius_is_asked_about() {
        let asked = [40.1, 45.0, 60.0, 95.0, 140.0];
        assert_eq!(asked.map(looks_like_fahrenheit), [true; 5]);
        let taken = [0.0, 28.0, 38.5, 40.0];
        assert_eq!(taken.map(looks_like_fahrenheit), [false; 4]);
        assert_eq!(from_fahrenheit(45.0).map(TemperatureC::value), Some(7.2));
        assert!(!looks_like_fahrenheit(300.0), "neither unit takes it");
    }
}
