//! A fall that was noticed: what speaks for which cause, what to look at next, and the answer.

use super::Page;
use crate::parts::{Action, Chips, Drawing, Kind};
use crate::tell;
use crate::words::key;
use leptos::prelude::*;
use pentally_domain::amend::Void;
use pentally_domain::fact::Fact;
use pentally_domain::output::Told;
use pentally_domain::watch::{Answered, CAUSES, Cause, Reason, Signal, SignalAnswer};

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

    pub(super) fn answer_says(&self, answer: &SignalAnswer) -> String {
        let w = &self.w;
        let cause = answer.cause.map(|c| w.tr(tell::cause(c)));
        let words = std::iter::once(w.tr(tell::answered(answer.answer))).chain(cause);
        words.collect::<Vec<_>>().join(": ")
    }

    fn signal(&self, told: &Told) -> AnyView {
        let w = &self.w;
        let n = told.signal.fall.n;
        let counted = w.tr_with(key::SIGNAL_COUNTED, &[("n", n.into())]);
        let reasons: Vec<_> = told
            .reasons
            .iter()
            .take(NAMED)
            .map(|r| self.reason(r))
            .collect();
        let none = reasons.is_empty().then(|| w.tr(key::SIGNAL_NO_REASON));
        view! {
            <section class="words signal">
                <h2>{self.signal_says(&told.signal)}</h2>
                <p class="small quiet">{counted}</p>
                {(!reasons.is_empty()).then(|| view! { <p>{w.tr(key::SIGNAL_SPEAKS)}</p> })}
                <ol class="reasons">{reasons}</ol>
                {none.map(|says| view! { <p>{says}</p> })}
                <p class="small quiet">{w.tr(key::SIGNAL_NO_PROOF)}</p>
            </section>
            {self.answering(told)}
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
                <div class="words"><p>{self.answer_says(&answer.fact)}</p></div>
                <div class="actions two"><Action word=w.tr(key::UNDO) kind=Kind::Quiet on_tap=move |()| act.save_quietly(void.clone())/></div>
            }
            .into_any();
        }
        let finding = self.finding;
        let this = (signal.collection, signal.measure);
        let say = move |answer: Answered, cause: Option<Cause>| {
            finding.set(None);
            act.save_quietly(Fact::SignalAnswer(SignalAnswer {
                boar: Some(boar),
                measure: signal.measure,
                collection: signal.collection,
                answer,
                cause,
                note: None,
            }));
        };
        if self.finding.get() == Some(this) {
            let chosen = RwSignal::new(None);
            let found = CAUSES.into_iter().chain([Cause::Age, Cause::Other]);
            let options = found.map(|c| (c, w.tr(tell::cause(c)))).collect();
            Effect::new(move |_| {
                if let Some(cause) = chosen.get() {
                    say(Answered::CauseFound, Some(cause));
                }
            });
            return view! { <div class="words"><Chips asked=w.tr(key::SIGNAL_WHICH_CAUSE) options chosen/></div> }.into_any();
        }
        view! {
            <div class="actions two">
                <Action word=w.tr(key::ANSWERED_SEEN) kind=Kind::Quiet on_tap=move |()| say(Answered::Seen, None)/>
                <Action word=w.tr(key::ANSWERED_CAUSE_FOUND) kind=Kind::Quiet drawing=Drawing::Tick on_tap=move |()| finding.set(Some(this))/>
                <Action word=w.tr(key::ANSWERED_FALSE) kind=Kind::Quiet on_tap=move |()| say(Answered::False, None)/>
            </div>
        }
        .into_any()
    }
}
