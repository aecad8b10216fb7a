//! Numbers by gloved hand.

use super::{Action, Drawing, Figure, Kind, Mark, Press, Reading, is_repeat};
use crate::act::to_top;
use crate::words::{Words, key, use_words};
use leptos::prelude::*;

/// Questions up to this many characters stand in one line at 28 px.
const SHORT: usize = 12;
/// Figures of more characters than this are written at 28 px.
const LONG: usize = 5;

/// A word beside the digits, and what it does.
#[derive(Clone, Debug)]
pub struct PadKey {
    word: String,
    then: Then,
}

#[derive(Clone, Copy, Debug)]
enum Then {
    Take(Callback<f64>),
    Go(Callback<()>),
}

impl PadKey {
    /// Takes the figure, once it reads.
    pub fn take(word: String, take: impl Fn(f64) + Send + Sync + 'static) -> Self {
        let then = Then::Take(Callback::new(take));
        Self { word, then }
    }

    /// Goes on whatever was typed.
    pub fn go(word: String, go: impl Fn(()) + Send + Sync + 'static) -> Self {
        let then = Then::Go(Callback::new(go));
        Self { word, then }
    }
}

/// A pad for a figure with its unit and bounds: question, figure, keys, and what takes it stand above
/// the places of a phone of 360×640. `typed` holds the digits with `.` as mark. Each tap on a digit
/// counts: nothing is taken for a repeat there. What does not read is said above the keys.
#[component]
pub fn Keypad(
    /// The question.
    #[prop(optional, into)]
    asked: Signal<String>,
    /// One line below it.
    #[prop(optional, into)]
    why: Signal<String>,
    typed: RwSignal<String>,
    figure: Figure,
    #[prop(into)] unit: Signal<String>,
    /// The last key.
    #[prop(optional, into)]
    take: Option<PadKey>,
    /// Another answer: the first key of the last row, or below the keys where the mark stands there.
    #[prop(optional, into)]
    other: Option<PadKey>,
    #[prop(optional, into)] on_back: Option<Callback<()>>,
) -> impl IntoView {
    let words = use_words();
    Effect::new(|_| to_top());
    let fault = RwSignal::new(None::<String>);
    let press = Callback::new(move |press| {
        fault.set(None);
        typed.update(|t| *t = figure.after(t, press));
    });
    let tap = Callback::new(move |then| match then {
        Then::Go(go) => go.run(()),
        Then::Take(take) => match figure.read(&typed.get_untracked()) {
            Reading::Value(value) => take.run(value),
            other => fault.set(figure.fault(other, &unit.get_untracked(), words)),
        },
    });
    let (corner, below) = if figure.decimals > 0 {
        (mark_key(words, press), other)
    } else {
        let other = other.map(|key| word_key("key word", key, tap));
        (other.unwrap_or_else(no_key), None)
    };
    let last = take.map_or_else(no_key, |key| word_key("key word take", key, tap));
    let below = below.map(|PadKey { word, then }| {
        view! { <div class="actions"><Action word=word kind=Kind::Quiet on_tap=move |()| tap.run(then)/></div> }
    });
    view! {
        <div class="keypad">
            <Asked asked why on_back/>
            <div class="head"><Shown typed figure unit fault/><Erase press/></div>
            <Keys press=press corner=corner last=last/>
        </div>
        {below}
    }
}

/// The figure so far, and below it its bounds or what is wrong with it.
#[component]
fn Shown(
    typed: RwSignal<String>,
    figure: Figure,
    unit: Signal<String>,
    fault: RwSignal<Option<String>>,
) -> impl IntoView {
    let words = use_words();
    let shown = move || {
        typed
            .get()
            .replace('.', &words.lang().decimal_mark().to_string())
    };
    let long = move || typed.with(String::len) > LONG;
    let says = move || {
        let fault = fault.get();
        fault.unwrap_or_else(|| said(words, figure, figure.read(&typed.get()), &unit.get()))
    };
    let wrong = move || {
        fault.with(Option::is_some) || matches!(figure.read(&typed.get()), Reading::TooHigh(_))
    };
    view! {
        <p class="typed" class:long=long aria-live="polite">{shown} <span class="unit">{unit}</span></p>
        <p class="bounds" class:wrong=wrong role=move || wrong().then_some("alert")>{says}</p>
    }
}

fn mark_key(words: Words, press: Callback<Press>) -> AnyView {
    let mark = move || words.lang().decimal_mark().to_string();
    view! { <button type="button" class="key" on:click=move |_| press.run(Press::Mark)>{mark}</button> }
        .into_any()
}

fn no_key() -> AnyView {
    view! { <span class="key none"></span> }.into_any()
}

#[component]
fn Asked(
    asked: Signal<String>,
    why: Signal<String>,
    on_back: Option<Callback<()>>,
) -> impl IntoView {
    let words = use_words();
    let back = on_back.map(|back| {
        let tap = move |click| {
            if !is_repeat(&click) {
                back.run(());
            }
        };
        view! { <button type="button" class="back" on:click=tap>{words.tr(key::COLLECT_BACK)}</button> }
    });
    let short = move || asked.with(|a| a.chars().count() <= SHORT) && why.with(String::is_empty);
    asked.with_untracked(|a| !a.is_empty()).then(|| {
        view! {
            <header class="asked">
                {back}
                <div class="what" class:short=short><h1>{asked}</h1><p class="small">{why}</p></div>
            </header>
        }
    })
}

fn word_key(class: &'static str, key: PadKey, tap: Callback<Then>) -> AnyView {
    let PadKey { word, then } = key;
    let tap = move |click| {
        if !is_repeat(&click) {
            tap.run(then);
        }
    };
    view! { <button type="button" class=class on:click=tap>{word}</button> }.into_any()
}

#[component]
fn Erase(press: Callback<Press>) -> impl IntoView {
    let words = use_words();
    view! {
        <button
            type="button"
            class="erase"
            aria-label=move || words.tr(key::KEYPAD_ERASE)
            on:click=move |_| press.run(Press::Erase)
        >
            <Mark drawing=Drawing::Erase />
        </button>
    }
}

/// Codes of more digits are written four by four.
const READ_AT_ONCE: usize = 6;

/// A long code as it is read aloud: `1234 5678`.
pub fn in_fours(code: &str) -> String {
    let mut out = String::new();
    for (at, character) in code.chars().enumerate() {
        if at > 0 && at % 4 == 0 {
            out.push(' ');
        }
        out.push(character);
    }
    out
}

/// A pad for a code of `length` digits, zeros in front included, below what it asks for. The child,
/// if any, is the key where a figure has its mark.
#[component]
pub fn CodePad(
    typed: RwSignal<String>,
    length: usize,
    /// The last key.
    #[prop(optional, into)]
    last: Option<AnyView>,
    #[prop(optional)] children: Option<Children>,
) -> impl IntoView {
    let press = Callback::new(move |press| {
        typed.update(|typed| match press {
            Press::Erase => drop(typed.pop()),
            Press::Digit(digit) if typed.len() < length => typed.push(char::from(b'0' + digit)),
            _ => {}
        });
    });
    let shown = move || {
        let typed = typed.get();
        let shown = format!("{typed}{}", "·".repeat(length.saturating_sub(typed.len())));
        if length > READ_AT_ONCE {
            in_fours(&shown)
        } else {
            shown
        }
    };
    view! {
        <div class="keypad">
            <div class="head">
                <p class="typed code" aria-live="polite">{shown}</p>
                <Erase press/>
            </div>
            <Keys press=press corner=children.map_or_else(no_key, |key| key()) last=last.unwrap_or_else(no_key)/>
        </div>
    }
}

#[component]
fn Keys(press: Callback<Press>, corner: AnyView, last: AnyView) -> impl IntoView {
    let digit = move |digit: u8| {
        view! {
            <button type="button" class="key" on:click=move |_| press.run(Press::Digit(digit))>
                {digit}
            </button>
        }
    };
    view! { <div class="keys">{(1..=9).map(digit).collect_view()} {corner} {digit(0)} {last}</div> }
}

impl Figure {
    /// Why a reading cannot be taken, as a sentence; none where it can. For the
    /// moment a person goes on; while typing only "too high" is said.
    pub fn fault(&self, reading: Reading, unit: &str, words: Words) -> Option<String> {
        let sentence = |key, read: f64, bound: (&'static str, f64)| {
            let args = [
                ("read", words.num(read, self.decimals).into()),
                (
                    bound.0,
                    words.num(bound.1, self.bound_decimals(bound.1)).into(),
                ),
                ("unit", unit.into()),
            ];
            words.tr_with(key, &args)
        };
        match reading {
            Reading::Value(_) => None,
            Reading::Empty => Some(words.tr(key::KEYPAD_EMPTY)),
            Reading::Unfinished => Some(words.tr(key::KEYPAD_UNFINISHED)),
            Reading::TooLow(read) => Some(sentence(key::KEYPAD_TOO_LOW, read, ("low", self.low))),
            Reading::TooHigh(read) => {
                Some(sentence(key::KEYPAD_TOO_HIGH, read, ("high", self.high)))
            }
        }
    }

    /// A whole bound is written whole.
    fn bound_decimals(&self, bound: f64) -> u8 {
        if bound.fract() == 0.0 {
            0
        } else {
            self.decimals
        }
    }
}

fn said(words: Words, figure: Figure, reading: Reading, unit: &str) -> String {
    if let (Reading::TooHigh(_), Some(fault)) = (reading, figure.fault(reading, unit, words)) {
        return fault;
    }
    let bound = |bound: f64| words.num(bound, figure.bound_decimals(bound)).into();
    let args = [
        ("low", bound(figure.low)),
        ("high", bound(figure.high)),
        ("unit", unit.into()),
    ];
    words.tr_with(key::KEYPAD_BOUNDS, &args)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::words::Lang;

    const VOLUME: Figure = Figure {
        low: 5.0,
        high: 1000.0,
        decimals: 1,
    };

    #[test]
    fn a_fault_names_what_was_read_and_what_would_be_right() {
        let fault = |typed, lang| VOLUME.fault(VOLUME.read(typed), "mL", Words::of(lang));
        assert_eq!(
            fault("4.5", Lang::En).unwrap(),
            "4.5 mL was read; the least is 5 mL."
        );
        assert_eq!(
            fault("1200", Lang::Es).unwrap(),
            "Se leyó 1200,0 mL; lo máximo es 1000 mL."
        );
        assert_eq!(fault("250", Lang::En), None);
    }
}
