//! What he gave beside what was expected of him, in a word on his page.

use super::Page;
use crate::pages::rows;
use crate::parts::Drawing;
use crate::words::{Words, key};
use crate::{paths, tell};
use leptos::prelude::*;
use pentally_domain::climate::expectation;
use pentally_domain::id::EntryId;
use pentally_domain::output::{Beside, Herdwide, Look, Looker, Measure, Told};
use pentally_domain::rest::recovery::Recovery;

/// His output; nothing where it could not be read.
pub(super) struct Gives {
    look: Option<Look>,
    /// Signals that nobody answered yet.
    told: Vec<Told>,
    /// Falls of the herd that an open signal may be part of.
    herd: Vec<Herdwide>,
    lower: Option<String>,
    /// How long he takes to recover, if enough of his collections tell.
    pub(super) recovery: Option<Recovery>,
}

impl Gives {
    pub(super) fn of(p: &Page<'_>) -> Self {
        let looker = Looker::of(p.barn, p.now_ms);
        let look = looker.look(p.boar).ok();
        let told = look.as_ref().map(|look| looker.told(p.boar, look));
        let mut told = told.unwrap_or_default();
        told.retain(|t| t.answer.is_none());
        let open: Vec<_> = told.iter().map(|t| t.signal).collect();
        let today = p.barn.zone_at(p.now_ms).day(p.now_ms);
        let recovery = look.as_ref().and_then(|look| looker.recovery(p.boar, look));
        Self {
            recovery,
            lower: tell::lower(&p.w, &expectation(looker.days(), today)),
            herd: looker.herd_behind(p.barn, &open, p.now_ms),
            told,
            look,
        }
    }

    /// Signals that nobody answered yet; each leads to what he gives, or to the herd's fall.
    pub(super) fn signals(&self, p: &Page<'_>) -> Option<AnyView> {
        let w = &p.w;
        let row = |told: &Told| {
            let since = p.barn.zone_at(p.now_ms).day(told.signal.fall.since_ms);
            let says = w.tr_with(
                key::OUTPUT_SIGNAL,
                &[
                    ("measure", w.tr(tell::measure(told.signal.measure)).into()),
                    (
                        "change",
                        tell::changed(w, told.signal.measure, told.signal.fall.by).into(),
                    ),
                    ("day", w.day_month(since).into()),
                ],
            );
            let herds = self.herd.iter().any(|h| h.explains(&told.signal));
            let (to, small) = if herds {
                (paths::WATCH.to_owned(), key::OUTPUT_SIGNAL_HERDS)
            } else {
                let to = paths::boar_do(p.boar.id, "output");
                (to, key::OUTPUT_SIGNAL_LOOK)
            };
            let warning = Some(Drawing::Warning);
            rows::link(to, warning, says, w.tr(small), String::new())
        };
        let rows: Vec<_> = self.told.iter().map(row).collect();
        (!rows.is_empty()).then(|| view! { <ul class="rows">{rows}</ul> }.into_any())
    }

    /// When hot days will show, or do, in what he gives.
    pub(super) fn lower(&self) -> Option<AnyView> {
        let says = self.lower.clone()?;
        Some(view! { <p class="words quiet">{says}</p> }.into_any())
    }

    /// What one collection gave, beside what was expected: total sperm where it was counted, else volume.
    pub(super) fn of_expected(&self, w: &Words, collection: EntryId) -> Option<String> {
        let besides = &self.look.as_ref()?.besides;
        let beside = besides.iter().find(|b| b.given.collection == collection)?;
        let told = |measure| told(w, beside, measure);
        told(Measure::Total).or_else(|| told(Measure::Volume))
    }
}

fn told(w: &Words, beside: &Beside, measure: Measure) -> Option<String> {
    let seen = beside.given.value(measure)?;
    let expected = beside.expected.get(measure.place())?;
    let args = [
        ("seen", tell::amount(w, measure, seen).into()),
        ("range", tell::expected(w, measure, expected).into()),
    ];
    Some(w.tr_with(key::OUTPUT_OF_EXPECTED, &args))
}
