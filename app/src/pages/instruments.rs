//! The farm's instruments: which curve each has, whether it still holds, and a new curve.

use crate::feed::use_feed;
use crate::pages::rows;
use crate::parts::{Action, Drawing, Kind, Title};
use crate::paths;
use crate::words::{Key, Words, key, use_words};
use leptos::prelude::*;
use pentally_domain::barn::Barn;
use pentally_domain::curve::{Finding, InstrumentCurve, Shape, Standing, standing};
use pentally_domain::id::EntryId;
use pentally_domain::said::Label;

mod form;
mod one;
mod picture;
mod row;

pub use form::CurveFormPage;
pub use one::InstrumentPage;

/// Looks at the curve that holds for an instrument, with its entry; none where it has no curve.
pub fn with_standing<T>(
    barn: &Barn,
    instrument: &Label,
    look: impl FnOnce(EntryId, &Standing<'_>) -> T,
) -> Option<T> {
    let (curves, pairs) = (barn.instrument_curves(), barn.curve_pairs());
    let found = standing(
        curves.iter().map(|c| (c.at, &c.fact)),
        pairs.iter().map(|p| (p.at, &p.fact)),
        instrument,
    )?;
    let kept = curves
        .iter()
        .find(|c| std::ptr::eq(&raw const c.fact, found.kept))?;
    Some(look(kept.entry(), &found))
}

/// `/instruments`
#[component]
pub fn InstrumentsPage() -> impl IntoView {
    let w = use_words();
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    (move || {
        let list = feed.barn.with(|barn| {
            let instruments = barn.instruments();
            let row = |instrument: &Label| row(&w, barn, instrument);
            instruments.iter().filter_map(row).collect::<Vec<_>>()
        });
        let none = list.is_empty().then(|| w.tr(key::INSTRUMENTS_NONE));
        view! {
            <Title headline=w.tr(key::INSTRUMENTS_TITLE) why=w.tr(key::INSTRUMENTS_WHY)/>
            {none.map(|none| view! { <p class="words">{none}</p> })}
            <ul class="rows">{list}</ul>
            <div class="actions">
                <Action word=w.tr(key::INSTRUMENTS_NEW) kind=Kind::Quiet drawing=Drawing::ChamberGrid href=paths::INSTRUMENT_NEW/>
            </div>
            <div class="grow"></div>
        }
    })
    .into_any()
}

fn row(w: &Words, barn: &Barn, instrument: &Label) -> Option<AnyView> {
    with_standing(barn, instrument, |entry, standing| {
        let (drawing, word) = match (&standing.curve, &standing.drift) {
            (Err(_), _) | (_, None) => (Drawing::Bar, key::INSTRUMENT_NO_CURVE),
            (_, Some(drift)) => finding(drift.finding),
        };
        let small = format!("{} · {}", made_of(w, standing.kept), w.tr(word));
        rows::link(
            paths::instrument(entry),
            Some(drawing),
            instrument.as_str().to_owned(),
            small,
            String::new(),
        )
    })
}

/// A finding by shape and word.
const fn finding(finding: Finding) -> (Drawing, Key) {
    match finding {
        Finding::NoPairs => (Drawing::Ring, key::INSTRUMENT_UNCHECKED),
        Finding::Agrees => (Drawing::Disc, key::INSTRUMENT_AGREES),
        Finding::Disagrees => (Drawing::HalfDisc, key::INSTRUMENT_DISAGREES),
        Finding::Drifting => (Drawing::Bar, key::INSTRUMENT_DRIFTING),
    }
}

/// "line of 12 pairs"
fn made_of(w: &Words, kept: &InstrumentCurve) -> String {
    let key = match kept.shape {
        Shape::Linear => key::INSTRUMENT_LINE_OF,
        Shape::Quadratic => key::INSTRUMENT_BENT_OF,
    };
    w.tr_with(key, &[("n", kept.pairs.pairs().len().into())])
}
