//! How long the batch holds, by the looks at its samples and at those of others in the same extender.

use crate::feed::Feed;
use crate::pages::doses;
use crate::tell;
use crate::words::{Words, key};
use leptos::prelude::*;
use pentally_domain::id::EntryId;
use pentally_domain::reckon::{HerdFrom, KeepingAnswer, KeepingAsked, keeping};
use pentally_domain::retained::asked::keeping_of;
use pentally_domain::retained::day::{HORIZON_DAYS, UseByFrom};
use pentally_domain::time::Stamp;

/// The herd is fitted when the page opens and when a look comes in, not with every minute.
#[derive(Clone, Copy)]
pub(super) struct Keeps {
    feed: Feed,
    id: EntryId,
    asked: Memo<Option<KeepingAsked>>,
    answer: Memo<Option<KeepingAnswer>>,
}

impl Keeps {
    pub(super) fn of(feed: Feed, id: EntryId) -> Self {
        let asked = Memo::new(move |_| {
            let now_ms = feed.now_ms.get_untracked();
            let asked = |b: &std::sync::Arc<pentally_domain::barn::Barn>| {
                keeping_of(b, &b.stored(id, now_ms)?)
            };
            feed.barn.with(asked)
        });
        let answer = Memo::new(move |_| asked.with(|a| keeping(a.as_ref()?).ok()));
        Self {
            feed,
            id,
            asked,
            answer,
        }
    }

    /// The day with its interval, the use-by it suggests where that is sooner than the batch's own, and how.
    pub(super) fn shown(self, w: &Words) -> Option<AnyView> {
        let answer = self.answer.get()?;
        let batch = answer.batches.first()?;
        let looked = self.asked.with(|a| {
            let own = a.as_ref().and_then(|a| a.batches.first());
            // What was judged cold is left out of every fit.
            let warm = own.iter().flat_map(|b| &b.looks);
            warm.filter(|l| l.warmed != Some(false)).count()
        });
        let (barn, now_ms) = (self.feed.barn.get(), self.feed.now_ms.get());
        let zone = barn.zone_at(now_ms);
        let number = |days: Option<f64>| {
            days.map_or_else(
                || w.tr_with(key::KEEPS_BEYOND, &[("n", w.num(HORIZON_DAYS, 0).into())]),
                |days| w.num(days, 1),
            )
        };
        let day = &batch.day;
        let args = [
            ("floor", w.num(answer.floor_percent, 0).into()),
            ("middle", number(day.middle).into()),
            ("from", number(day.from).into()),
            ("to", number(day.to).into()),
        ];
        let rests = match (answer.herd_from, looked) {
            (HerdFrom::Printed, 0) => w.tr(key::KEEPS_PRINTED),
            (_, 0) => w.tr(key::KEEPS_OTHERS),
            (_, n) => w.tr_with(key::KEEPS_LOOKS, &[("n", n.into())]),
        };
        let label = barn.batch(self.id).map(|b| b.fact.use_by.ms());
        let sooner = |at: &Stamp| {
            batch.use_by.from == UseByFrom::Looks && label.is_some_and(|label| at.ms() < label)
        };
        let suggests = batch.use_by_at.filter(sooner).map(|at| {
            let when = tell::moment(w, &zone, at.ms(), now_ms);
            w.tr_with(key::KEEPS_SOONER, &[("when", when.into())])
        });
        let alone = barn
            .batch(self.id)
            .is_some_and(|b| b.fact.sources.len() == 1);
        let next = alone.then(|| {
            let day = &answer.boar.day;
            let args = [
                ("middle", number(day.middle).into()),
                ("from", number(day.from).into()),
                ("to", number(day.to).into()),
            ];
            view! { <p class="small quiet">{w.tr_with(key::KEEPS_NEXT, &args)}</p> }
        });
        let figures = serde_json::to_value(batch).ok();
        let figures = figures.and_then(|batch| doses::how::of_answer(w, &batch));
        Some(
            view! {
                <section class="words">
                    <h2>{w.tr(key::KEEPS_TITLE)}</h2>
                    <p>{w.tr_with(key::KEEPS_DAY, &args)}</p>
                    <p class="small quiet">{rests}</p>
                    {suggests.map(|says| view! { <p>{says}</p> })}
                    {next}
                    {figures}
                </section>
            }
            .into_any(),
        )
    }
}
