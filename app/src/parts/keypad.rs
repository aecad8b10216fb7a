//! Numbers by gloved hand.

use super::{Drawing, Figure, Mark, Press, Reading};
use crate::words::{Words, key, use_words};
use leptos::prelude::*;

/// More characters than this are written at 44 px instead of 72.
const LONG: usize = 3;

/// A pad for a figure with its unit and bounds. `typed` holds the digits with `.`
/// as mark; read it with [`Figure::read`]. Each tap counts: nothing is taken for
/// a repeat here.
#[component]
pub fn Keypad(
    typed: RwSignal<String>,
    figure: Figure,
    #[prop(into)] unit: Signal<String>,
) -> impl IntoView {
    let words = use_words();
    let shown = move || {
        typed
            .get()
            .replace('.', &words.lang().decimal_mark().to_string())
    };
    let reading = move || figure.read(&typed.get());
    let long = move || typed.with(String::len) > LONG;
    let wrong = move || matches!(reading(), Reading::TooHigh(_));
    let press = Callback::new(move |press| typed.update(|t| *t = figure.after(t, press)));
    let mark = move || words.lang().decimal_mark().to_string();
    let mark = (figure.decimals > 0).then(|| {
        view! {
            <button type="button" class="key" on:click=move |_| press.run(Press::Mark)>
                {mark}
            </button>
        }
        .into_any()
    });
    view! {
        <div class="keypad">
            <div class="head">
                <p class="bounds" class:wrong=wrong>
                    {move || said(words, figure, reading(), &unit.get())}
                </p>
                <p class="typed" class:long=long aria-live="polite">
                    {shown} <span class="unit">{unit}</span>
                </p>
            </div>
            <Keys press=press corner=mark />
        </div>
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

/// A pad for a code of `length` digits, zeros in front included. The child, if any, is the key
/// where a figure has its mark.
#[component]
pub fn CodePad(
    typed: RwSignal<String>,
    length: usize,
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
                <p class="typed long code" aria-live="polite">{shown}</p>
            </div>
            <Keys press=press corner=children.map(|key| key()) />
        </div>
    }
}

#[component]
fn Keys(press: Callback<Press>, corner: Option<AnyView>) -> impl IntoView {
    let words = use_words();
    let digit = move |digit: u8| {
        view! {
            <button type="button" class="key" on:click=move |_| press.run(Press::Digit(digit))>
                {digit}
            </button>
        }
    };
    let none = corner
        .is_none()
        .then(|| view! { <span class="key none"></span> });
    view! {
        <div class="keys">
            {(1..=9).map(digit).collect_view()} {corner} {none} {digit(0)}
            <button
                type="button"
                class="key"
                aria-label=move || words.tr(key::KEYPAD_ERASE)
                on:click=move |_| press.run(Press::Erase)
            >
                <Mark drawing=Drawing::Erase />
            </button>
        </div>
    }
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
