//! A fall that was noticed: what speaks for which cause, what to look at next, and the answer.

use super::Page;
use crate::parts::{Action, Kind};
use crate::words::key;
use crate::{paths, tell};
use leptos::prelude::*;
use pentally_domain::amend::Void;
use pentally_domain::fact::Fact;
use pentally_domain::output::{Herdwide, Told};
use pentally_domain::watch::{Answered, Reason, Signal, SignalAnswer};

/// So many causes are named.
const NAMED: usize = 4;

impl Page<'_> {
    pub(super) fn signals(&self) -> AnyView {
        self.told
            .iter()
            .map(|told| self.signal(told))
            .collect_view()
            .into_any()
    }

    /// "Total sperm: 31 % less than expected since 4 March".
    pub(super) fn signal_says(&self, signal: &Signal) -> String {
        let w = &self.w;
        let since = self.barn.zone_at(self.now_ms).day(signal.fall.since_ms);
        let args = [
            ("measure", w.tr(tell::measure(signal.measure)).into()),
            (
                "change",
                tell::changed(w, signal.measure, signal.fall.by).into(),
            ),
            ("day", w.day_month(since).into()),
        ];
        w.tr_with(key::OUTPUT_SIGNAL, &args)
    }

    fn signal(&self, told: &Told) -> AnyView {
        let w = &self.w;
        let unanswered = told.answer.is_none();
        let herd = self
            .herd
            .iter()
            .find(|h| unanswered && h.explains(&told.signal));
        let n = told.signal.fall.n;
        let counted = w.tr_with(key::SIGNAL_COUNTED, &[("n", n.into())]);
        let behind = herd.map_or_else(|| self.reasons(told), |herd| self.herds(herd));
        view! {
            <section class="words signal">
                <h2>{self.signal_says(&told.signal)}</h2>
                <p class="small quiet">{counted}</p>
                {behind}
            </section>
            {self.answering(told)}
        }
        .into_any()
    }

    /// What is his own since then.
    fn reasons(&self, told: &Told) -> AnyView {
        let w = &self.w;
        let named = told.reasons.iter().take(NAMED);
        let reasons: Vec<_> = named.map(|r| self.reason(r)).collect();
        let none = reasons.is_empty().then(|| w.tr(key::SIGNAL_NO_REASON));
        view! {
            {(!reasons.is_empty()).then(|| view! { <p>{w.tr(key::SIGNAL_SPEAKS)}</p> })}
            <ol class="reasons">{reasons}</ol>
            {none.map(|says| view! { <p>{says}</p> })}
            <p class="small quiet">{w.tr(key::SIGNAL_NO_PROOF)}</p>
        }
        .into_any()
    }

    /// The herd fell with him: what is otherwise with him explains nothing.
    fn herds(&self, herd: &Herdwide) -> AnyView {
        let w = &self.w;
        let next = w.tr(tell::look_next_herd(herd.fall.after_heat));
        view! {
            <p>{w.tr(key::SIGNAL_HERDS)}" "{next}</p>
            <Action word=w.tr(key::MORE_WATCH) kind=Kind::Quiet href=paths::WATCH/>
        }
        .into_any()
    }

    /// "Too little rest: 4 of 5 since then, 0 of 12 before. Give him a week, then compare."
    fn reason(&self, reason: &Reason) -> AnyView {
        let w = &self.w;
        let args = [
            ("during", reason.during.0.into()),
            ("fallen", reason.during.1.into()),
            ("before", reason.before.0.into()),
            ("earlier", reason.before.1.into()),
        ];
        let shares = w.tr_with(key::SIGNAL_SHARES, &args);
        let days = self.entry_days(reason);
        view! {
            <li><b>{w.tr(tell::cause(reason.cause))}</b><br/>{shares}" "{w.tr(tell::look_next(reason.cause))}
            <br/><span class="small quiet">{days}</span></li>
        }
        .into_any()
    }

    /// The days of the entries that speak for it.
    fn entry_days(&self, reason: &Reason) -> String {
        let w = &self.w;
        let zone = self.barn.zone_at(self.now_ms);
        let at = |entry| {
            let b = self.boar;
            let collected = b.collections.iter().find(|c| c.entry() == entry);
            let ms = collected.map(|c| c.at.ms());
            ms.or_else(|| {
                b.offs
                    .iter()
                    .find(|o| o.entry() == entry)
                    .map(|o| o.at.ms())
            })
        };
        let mut days: Vec<_> = reason
            .entries
            .iter()
            .filter_map(|e| at(*e))
            .map(|ms| zone.day(ms))
            .collect();
        days.sort_unstable();
        days.dedup();
        let days: Vec<_> = days.into_iter().map(|d| w.day_month(d)).collect();
        w.tr_with(key::SIGNAL_ENTRIES, &[("days", days.join(", ").into())])
    }

    fn answering(&self, told: &Told) -> AnyView {
        let (w, act, boar) = (self.w, self.act, self.boar.id);
        let signal = told.signal;
        if let Some(answer) = &told.answer {
            let void = Fact::Void(Void::of(
                answer.order,
                &Fact::SignalAnswer(answer.fact.clone()),
            ));
            return view! {
                <div class="words"><p>{tell::answer(&w, &answer.fact)}</p></div>
                <div class="actions two"><Action word=w.tr(key::UNDO) kind=Kind::Quiet on_tap=move |()| act.save_quietly(void.clone())/></div>
            }
            .into_any();
        }
        self.answering.ask(&SignalAnswer {
            boar: Some(boar),
            measure: signal.measure,
            collection: signal.collection,
            answer: Answered::Seen,
            cause: None,
            note: None,
        })
    }
}
