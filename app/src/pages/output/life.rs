//! His life in entries, and what of it bears on what he gives.

use super::Page;
use super::chart::Bar;
use crate::pages::rows;
use crate::tell;
use crate::words::key;
use leptos::prelude::*;
use pentally_domain::climate::{Level, spells};
use pentally_domain::fact::Fact;
use pentally_domain::output::Told;
use pentally_domain::rest::health::DaysOff;
use pentally_domain::training::Training;

/// So many events are told.
const TOLD: usize = 30;

impl Page<'_> {
    /// Hot spells and times off, in lanes under the picture.
    pub(super) fn bars(&self) -> Vec<Bar> {
        let zone = self.barn.zone_at(self.now_ms);
        let end = |day: chrono::NaiveDate| zone.day_start_ms(day.succ_opt().unwrap_or(day));
        let hot = spells(self.looker.days()).into_iter();
        let hot = hot.filter(|s| s.level > Level::Tolerated).map(|s| Bar {
            lane: 0,
            from_ms: zone.day_start_ms(s.first),
            to_ms: end(s.last),
        });
        let off = self.boar.offs.iter().filter_map(|off| {
            let days = DaysOff::held(self.boar, off, &zone).ok()?;
            Some(Bar {
                lane: 1,
                from_ms: zone.day_start_ms(days.from),
                to_ms: days.until.map_or(self.now_ms, end),
            })
        });
        hot.chain(off).collect()
    }

    /// What happened to him, latest first.
    pub(super) fn life(&self) -> Option<AnyView> {
        let w = &self.w;
        let zone = self.barn.zone_at(self.now_ms);
        let mut events: Vec<(i64, String, String)> = vec![];
        for off in &self.boar.offs {
            let until = off
                .fact
                .until
                .map(|d| w.tr_with(key::LIFE_UNTIL, &[("day", w.day_month_year(d).into())]));
            let cull = off.fact.cull.map(|c| w.tr(tell::cull(c)).to_lowercase());
            let small = until
                .into_iter()
                .chain(cull)
                .collect::<Vec<_>>()
                .join(" · ");
            events.push((off.at.ms(), w.tr(tell::off_reason(off.fact.reason)), small));
        }
        for moved in &self.boar.moves {
            let says =
                crate::pages::log::content(w, self.barn, &Fact::Move(moved.fact), moved.entry());
            events.push((moved.at.ms(), says, String::new()));
        }
        let first = self
            .boar
            .trainings
            .iter()
            .find(|t| Training::is_success(&t.fact));
        let sessions = self.boar.trainings.first().into_iter().chain(first);
        for session in sessions {
            let how = tell::trained_how(w, &session.fact).join(", ");
            events.push((session.at.ms(), tell::trained(w, &session.fact), how));
        }
        events.extend(self.told.iter().map(|told| self.signal_event(told)));
        events.sort_by_key(|(ms, ..)| std::cmp::Reverse(*ms));
        events.dedup();
        let row = |(ms, says, small): (i64, String, String)| {
            let day = w.day_month_year(zone.day(ms));
            view! {
                <li class="row"><div class="rest-of"><p class="name">{says}</p><p class="small quiet">{[day, small].join(" ")}</p></div></li>
            }
            .into_any()
        };
        let rows = events.into_iter().take(TOLD).map(row).collect();
        rows::section(w.tr(key::LIFE), rows)
    }

    fn signal_event(&self, told: &Told) -> (i64, String, String) {
        let answer = told.answer.as_ref().map(|a| tell::answer(&self.w, &a.fact));
        (
            told.signal.at_ms,
            self.signal_says(&told.signal),
            answer.unwrap_or_default(),
        )
    }
}
