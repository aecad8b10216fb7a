//! What a boar gives and what was expected, in words.

use crate::words::{Key, Words, key};
use pentally_domain::boar::CullFor;
use pentally_domain::mixed::Predicted;
use pentally_domain::output::Measure;
#[cfg(feature = "office")]
use pentally_domain::watch::{Answered, Cause, SignalAnswer};

/// A measure's name.
pub const fn measure(measure: Measure) -> Key {
    match measure {
        Measure::Volume => key::GIVES_VOLUME,
        Measure::Total => key::GIVES_TOTAL,
        Measure::Motile => key::GIVES_MOTILE,
        Measure::Abnormal => key::GIVES_ABNORMAL,
    }
}

/// A value with its unit.
pub fn amount(w: &Words, measure: Measure, value: f64) -> String {
    let figure = w.num(value, decimals(measure, value));
    format!("{figure}{}", unit(measure))
}

/// Where nine of ten are expected, with the unit.
pub fn expected(w: &Words, measure: Measure, of: &Predicted) -> String {
    format!("{}{}", range(w, measure, of), unit(measure))
}

/// The same without its unit, for a table whose head has it.
pub fn range(w: &Words, measure: Measure, of: &Predicted) -> String {
    let [low, high] = of.interval().map(|scaled| {
        let value = measure.from_scale(scaled);
        w.num(value, decimals(measure, value))
    });
    format!("{low}–{high}")
}

/// By how much a measure fell or rose: an amount by a share of it, a share from what to what.
pub fn changed(w: &Words, measure: Measure, by: f64) -> String {
    if measure.is_share() {
        // On the scale of log odds a change has no one size in points; told at the middle it would lie.
        return w.tr(if by < 0.0 {
            key::OUTPUT_LOWER
        } else {
            key::OUTPUT_HIGHER
        });
    }
    let percent = ((by.exp() - 1.0) * 100.0).abs();
    let n = [("n", w.num(percent, 0).into())];
    w.tr_with(
        if by < 0.0 {
            key::OUTPUT_LESS
        } else {
            key::OUTPUT_MORE
        },
        &n,
    )
}

const fn unit(measure: Measure) -> &'static str {
    match measure {
        Measure::Volume => "\u{202f}mL",
        Measure::Total => "\u{202f}×10⁹",
        Measure::Motile | Measure::Abnormal => "\u{202f}%",
    }
}

fn decimals(measure: Measure, value: f64) -> u8 {
    u8::from(measure == Measure::Total && value < 10.0)
}

/// What speaks for replacing a boar.
pub const fn cull(cull: CullFor) -> Key {
    match cull {
        CullFor::Output => key::CULL_OUTPUT,
        CullFor::Quality => key::CULL_QUALITY,
        CullFor::Temper => key::CULL_TEMPER,
        CullFor::Legs => key::CULL_LEGS,
        CullFor::Fertility => key::CULL_FERTILITY,
        CullFor::Age => key::CULL_AGE,
        CullFor::Replaced => key::CULL_REPLACED,
    }
}

/// How a signal was answered.
#[cfg(feature = "office")]
const fn answered(answer: Answered) -> Key {
    match answer {
        Answered::Seen => key::ANSWERED_SEEN,
        Answered::CauseFound => key::ANSWERED_CAUSE_FOUND,
        Answered::False => key::ANSWERED_FALSE,
    }
}

/// An answer with the cause and the words, where it has any.
#[cfg(feature = "office")]
pub fn answer(w: &Words, answer: &SignalAnswer) -> String {
    let cause = answer.cause.map(|c| w.tr(cause(c)));
    let said = std::iter::once(w.tr(answered(answer.answer))).chain(cause);
    let said = said.collect::<Vec<_>>().join(": ");
    let note = answer.note.as_ref().map(|n| n.as_str().to_owned());
    std::iter::once(said)
        .chain(note)
        .collect::<Vec<_>>()
        .join(" · ")
}

/// What may be behind a fall.
#[cfg(feature = "office")]
pub const fn cause(cause: Cause) -> Key {
    match cause {
        Cause::ShortRest => key::CAUSE_SHORT_REST,
        Cause::LongIdle => key::CAUSE_LONG_IDLE,
        Cause::Heat => key::CAUSE_HEAT,
        Cause::Fever => key::CAUSE_FEVER,
        Cause::Ill => key::CAUSE_ILL,
        Cause::Handler => key::CAUSE_HANDLER,
        Cause::Glove => key::CAUSE_GLOVE,
        Cause::Dirt => key::CAUSE_DIRT,
        Cause::Filter => key::CAUSE_FILTER,
        Cause::Instrument => key::CAUSE_INSTRUMENT,
        Cause::Fractions => key::CAUSE_FRACTIONS,
        Cause::Age => key::CAUSE_AGE,
        Cause::Herd => key::CAUSE_HERD,
        Cause::Other => key::CAUSE_OTHER,
    }
}

/// What to look at next where the whole herd fell.
#[cfg(feature = "office")]
pub const fn look_next_herd(after_heat: bool) -> Key {
    if after_heat {
        key::WATCH_HERD_HEAT
    } else {
        key::WATCH_HERD_BENCH
    }
}

/// What to look at next where that may be the cause.
#[cfg(feature = "office")]
pub const fn look_next(cause: Cause) -> Key {
    match cause {
        Cause::ShortRest => key::NEXT_SHORT_REST,
        Cause::LongIdle => key::NEXT_LONG_IDLE,
        Cause::Heat => key::NEXT_HEAT,
        Cause::Fever => key::NEXT_FEVER,
        Cause::Ill => key::NEXT_ILL,
        Cause::Handler => key::NEXT_HANDLER,
        Cause::Glove => key::NEXT_GLOVE,
        Cause::Dirt => key::NEXT_DIRT,
        Cause::Filter => key::NEXT_FILTER,
        Cause::Instrument => key::NEXT_INSTRUMENT,
        Cause::Fractions => key::NEXT_FRACTIONS,
        Cause::Age => key::NEXT_AGE,
        Cause::Herd => key::NEXT_HERD,
        Cause::Other => key::NEXT_OTHER,
    }
}
