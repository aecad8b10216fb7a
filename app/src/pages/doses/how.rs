//! "How?": each figure with its formula, its numbers and its source; a batch's figures are worked
//! out anew from what was asked, and compared with what people acted on.

use crate::parts::How;
use crate::words::{Key, Words, key};
use leptos::prelude::*;
use pentally_domain::batch::SemenBatch;
use pentally_domain::explain::{Explained, Printed, Value};
use pentally_domain::json;
use pentally_domain::reckon::answer;

/// The reckoning behind a request that was answered in brief; nothing where it has no figures.
pub fn reckoned(w: &Words, reckoning: &str, asked: &str) -> Option<AnyView> {
    let mut asked: serde_json::Value = json::read(asked).ok()?;
    asked.as_object_mut()?.remove("brief");
    let full = answer(reckoning, asked.to_string().as_bytes()).ok()?;
    figures(w, &explained(&json::read(&full).ok()?))
}

/// Every figure of an answer.
pub fn of_answer(w: &Words, answer: &serde_json::Value) -> Option<AnyView> {
    figures(w, &explained(answer))
}

fn figures(w: &Words, figures: &[Explained]) -> Option<AnyView> {
    if figures.is_empty() {
        return None;
    }
    let lines = figures
        .iter()
        .map(|figure| view! { <p class="small">{line(w, figure)}</p> });
    let lines = lines.collect_view();
    Some(view! { <How>{lines}</How> }.into_any())
}

/// The reckoning of a batch, worked out anew.
pub fn of_batch(w: &Words, batch: &SemenBatch) -> Option<AnyView> {
    let says = w.tr(if batch.answered_the_same()? {
        key::HOW_SAME
    } else {
        key::HOW_DIFFERS
    });
    Some(
        view! { {reckoned(w, &batch.reckoning, &batch.asked)}<p class="small quiet">{says}</p> }
            .into_any(),
    )
}

/// Every figure of an answer, wherever it stands in it.
fn explained(answer: &serde_json::Value) -> Vec<Explained> {
    match answer {
        serde_json::Value::Array(list) => list.iter().flat_map(explained).collect(),
        serde_json::Value::Object(fields) => {
            let own = json::of::<Explained>(answer).ok();
            own.map_or_else(
                || fields.values().flat_map(explained).collect(),
                |one| vec![one],
            )
        }
        _ => vec![],
    }
}

/// The figure, its formula, the result with its unit, the numbers that went in, and the source.
fn line(w: &Words, figure: &Explained) -> String {
    let inputs: Vec<_> = figure
        .inputs
        .iter()
        .map(|input| format!("{} {}", input.name.name(), value(w, &input.value)))
        .collect();
    format!(
        "{} = {} = {} {} ({}). {}",
        figure.figure.name(),
        figure.formula,
        value(w, &figure.result),
        figure.unit,
        inputs.join(", "),
        w.tr(source(figure.source))
    )
}

fn value(w: &Words, value: &Value) -> String {
    match value {
        Value::Number(number) if number.fract() == 0.0 => w.num(*number, 0),
        Value::Number(number) => w.num(*number, decimals(*number)),
        Value::Day(day) => w.day_month_year(*day),
    }
}

/// As few as tell it to four digits, and two at least: a chance of 0.003 is not 0.
fn decimals(number: f64) -> u8 {
    let told = |decimals: &u8| {
        let scale = 10_f64.powi(i32::from(*decimals));
        ((number * scale).round() / scale - number).abs() <= number.abs() * 5e-5
    };
    (2..7).find(told).unwrap_or(7)
}

const fn source(source: Printed) -> Key {
    match source {
        Printed::Definition => key::SOURCE_DEFINITION,
        Printed::Who2010 => key::SOURCE_WHO,
        Printed::Przyborowski1940 => key::SOURCE_PRZYBOROWSKI,
        Printed::Wilson1927 => key::SOURCE_WILSON,
        Printed::Queensland => key::SOURCE_QUEENSLAND,
        Printed::CommonPractice => key::SOURCE_COMMON_PRACTICE,
        Printed::FarmStandard => key::SOURCE_FARM,
        Printed::ClopperPearson1934 => key::SOURCE_CLOPPER,
        Printed::Brown2001 => key::SOURCE_BROWN,
        Printed::Berkson1940 => key::SOURCE_BERKSON,
        Printed::ZouDonner2008 => key::SOURCE_ZOU,
    }
}
