//! What an instrument shows, read off the farm's own curve; and the pair it makes with a count.

use super::measure::Ask;
use super::open::{At, Desk, Open, Read};
use crate::pages::instruments::with_standing;
use crate::parts::{Chips, Figure, Keypad, PadKey};
use crate::tell;
use crate::words::key;
use leptos::prelude::*;
use pentally_domain::barn::Barn;
use pentally_domain::curve::{CurvePair, Drift, Finding, ReadOff, Refusal};
use pentally_domain::evaluation::ConcentrationBy;
use pentally_domain::id::EntryId;
use pentally_domain::said::Label;
use pentally_domain::units::{InstrumentReading, RelativeError};
use pentally_domain::verdict::concentration;

const READING: Figure = Figure {
    low: InstrumentReading::LOW,
    high: InstrumentReading::HIGH,
    decimals: 3,
};

/// Asks for the reading; what the curve says of it goes into the form, a refusal is said.
pub fn screen(desk: Desk, instrument: Label) -> AnyView {
    let w = desk.w;
    let typed = RwSignal::new(String::new());
    let standing = desk
        .feed
        .barn
        .with_untracked(|barn| stands(barn, &instrument));
    let unit = standing.as_ref().and_then(|s| s.reads.clone());
    let unit = unit.unwrap_or_default();
    let caution = standing.and_then(|s| s.caution).map(|drift| {
        let says = tell::drift(&w, &drift);
        view! { <p class="words small">{says}</p> }
    });
    let on = w.tr_with(
        key::READING_WHY,
        &[("instrument", instrument.as_str().into())],
    );
    // A refusal stands where the question stood: below the keys nobody would look.
    let refused = RwSignal::new(None::<String>);
    let why = Signal::derive(move || refused.get().unwrap_or_else(|| on.clone()));
    let take = PadKey::take(w.tr(key::COLLECT_AMOUNT_OK), move |value| {
        read(desk, &instrument, value, refused);
    });
    let back = move |()| desk.go(At::Ways(Ask::Concentration));
    view! {
        <Keypad asked=w.tr(key::READING_TITLE) why=why typed=typed figure=READING unit=unit take=take on_back=back/>
        {caution}
        <div class="grow"></div>
    }
    .into_any()
}

struct Stands {
    reads: Option<String>,
    caution: Option<Drift>,
}

fn stands(barn: &Barn, instrument: &Label) -> Option<Stands> {
    with_standing(barn, instrument, |_, standing| Stands {
        reads: standing.kept.reads.as_ref().map(|r| r.as_str().to_owned()),
        caution: standing
            .drift
            .clone()
            .filter(|d| matches!(d.finding, Finding::Disagrees | Finding::Drifting)),
    })
}

/// Takes the reading; a count that stands already stays, because it is surer.
fn read(desk: Desk, instrument: &Label, value: f64, refused: RwSignal<Option<String>>) {
    let w = desk.w;
    let Ok(reading) = InstrumentReading::new(value) else {
        return;
    };
    let shown = Read {
        instrument: instrument.clone(),
        reading,
    };
    let counted = desk
        .open
        .with_untracked(|open| is_counted(open.values.concentration.as_ref()));
    let off = desk
        .feed
        .barn
        .with_untracked(|barn| off_curve(barn, instrument, reading));
    match off {
        Some(Ok((curve, read))) if !counted => desk.change(|open| {
            open.read = Some(shown);
            open.values.concentration = Some(ConcentrationBy::Curve {
                reading,
                curve,
                concentration: read.concentration,
                relative_error: read.relative_error,
            });
            open.at = At::Form;
        }),
        Some(Err(refusal)) if !counted => {
            // What an earlier reading said is not this one's.
            desk.change(|open| {
                open.read = Some(shown);
                open.values.concentration = None;
            });
            refused.set(Some(tell::refusal(&w, &refusal)));
        }
        None if !counted => refused.set(Some(w.tr(key::READING_NO_CURVE))),
        _ => desk.change(|open| {
            open.read = Some(shown);
            open.at = At::Form;
        }),
    }
}

fn off_curve(
    barn: &Barn,
    instrument: &Label,
    reading: InstrumentReading,
) -> Option<Result<(EntryId, ReadOff), Refusal>> {
    with_standing(barn, instrument, |entry, standing| {
        let curve = standing.curve.as_ref().ok()?;
        Some(curve.read(reading).map(|read| (entry, read)))
    })?
}

const fn is_counted(by: Option<&ConcentrationBy>) -> bool {
    matches!(
        by,
        Some(ConcentrationBy::Chamber { .. } | ConcentrationBy::Counts { .. })
    )
}

/// What was both read and counted.
pub fn kept(open: &Open) -> Option<CurvePair> {
    let read = open.read.as_ref()?;
    let by = open.values.concentration.as_ref();
    let by = by.filter(|by| is_counted(Some(by)))?;
    // A count of nothing makes no pair: it cannot be weighed.
    let whole = by.interval().and_then(Result::ok)?.whole_percent?;
    Some(CurvePair {
        instrument: read.instrument.clone(),
        reading: read.reading,
        concentration: concentration(&open.values)?,
        relative_error: RelativeError::new(whole).ok(),
        collection: Some(open.values.collection),
    })
}

/// Offers to keep reading and count as a pair of the instrument.
pub fn pair(desk: Desk) -> AnyView {
    let w = desk.w;
    let shown = move || {
        let pair = desk.open.with(kept)?;
        let args = [
            ("instrument", pair.instrument.as_str().into()),
            ("reading", tell::reading(&w, pair.reading.value()).into()),
            ("m", w.num(pair.concentration.value(), 0).into()),
        ];
        let asked = w.tr_with(key::READING_PAIR, &args);
        let options = vec![(true, w.tr(key::YES)), (false, w.tr(key::NO))];
        let before = desk.open.with_untracked(|open| open.pair);
        let chosen =
            super::looked::follow(before, move |pair| desk.change(|open| open.pair = pair));
        Some(view! { <Chips asked=asked options=options chosen=chosen/> })
    };
    // Whether there is a pair, and not every tap elsewhere, makes the question anew.
    let pair = Memo::new(move |_| desk.open.with(kept));
    view! { {move || { pair.track(); untrack(shown) }} }.into_any()
}
