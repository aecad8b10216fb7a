//! Whose output fell: the whole herd first, then signals nobody answered yet, then the answered.

use crate::feed::use_feed;
use crate::pages::answering::Answering;
use crate::pages::rows;
use crate::parts::{Band, Drawing, Role};
use crate::words::{Words, key, use_words};
use crate::{paths, tell};
use leptos::prelude::*;
use pentally_domain::barn::{Barn, BoarFacts, Seen};
use pentally_domain::output::{Herdwide, Looker, Told};
use pentally_domain::watch::{Answered, HERD_DAYS, SignalAnswer};

/// `/watch`
#[component]
pub fn WatchPage() -> impl IntoView {
    let w = use_words();
    let answering = Answering::begun();
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    let page = move || {
        let (barn, now_ms) = (feed.barn.get(), feed.now_ms.get());
        Watched::of(&barn, now_ms).view(w, answering)
    };
    view! { {page} }.into_any()
}

struct Watched<'a> {
    barn: &'a Barn,
    now_ms: i64,
    herd: Vec<Herdwide>,
    open: Vec<(BoarFacts, Told)>,
    /// Not answered, and part of a fall of the herd.
    with_herd: Vec<(BoarFacts, Told)>,
    answered: Vec<(BoarFacts, Told)>,
    /// Nothing was given that could fall.
    nothing: bool,
    /// So many boars could not be looked at.
    failed: usize,
}

impl<'a> Watched<'a> {
    fn of(barn: &'a Barn, now_ms: i64) -> Self {
        let looker = Looker::of(barn, now_ms);
        let here = barn.boars().into_iter().filter(|b| b.gone().is_none());
        let (mut looks, mut told, mut failed) = (vec![], vec![], 0_usize);
        for boar in here {
            let Ok(look) = looker.look(&boar) else {
                failed += 1;
                continue;
            };
            let signals = looker.told(&boar, &look).into_iter();
            told.extend(signals.map(|t| (boar.clone(), t)));
            looks.push((boar.id, look));
        }
        // What has gone on for longest costs most.
        told.sort_by_key(|(_, t)| t.signal.fall.since_ms);
        let herd = looker.herdwide(barn, &looks);
        let is_herds = |t: &Told| herd.iter().any(|h| h.explains(&t.signal));
        let (open, answered): (Vec<_>, Vec<_>) =
            told.into_iter().partition(|(_, t)| t.answer.is_none());
        let (with_herd, open) = open.into_iter().partition(|(_, t)| is_herds(t));
        Self {
            nothing: failed == 0 && looks.iter().all(|(_, look)| look.besides.is_empty()),
            failed,
            barn,
            now_ms,
            herd,
            open,
            with_herd,
            answered,
        }
    }

    fn view(&self, w: Words, answering: Answering) -> AnyView {
        let (role, headline, why) = self.board(&w);
        let failed = self.failed;
        let failed = (failed > 0).then(|| w.tr_with(key::WATCH_FAILED, &[("n", failed.into())]));
        let rows =
            |list: &[(BoarFacts, Told)]| list.iter().map(|(b, t)| self.row(&w, b, t)).collect();
        view! {
            <Band role=role headline=headline why=why/>
            {failed.map(|says| view! { <p class="words mend">{says}</p> })}
            {self.herd.iter().map(|fall| herdwide(w, answering, fall)).collect_view()}
            {rows::section(w.tr(key::WATCH_OPEN), rows(&self.open))}
            {rows::section(w.tr(key::WATCH_WITH_HERD), rows(&self.with_herd))}
            {rows::section(w.tr(key::WATCH_ANSWERED), rows(&self.answered))}
            <p class="words small quiet">{w.tr(key::WATCH_HOW)}</p>
            <div class="grow"></div>
        }
        .into_any()
    }

    fn board(&self, w: &Words) -> (Role, String, String) {
        let herd = self.herd.iter().filter(|f| f.answer.is_none()).count();
        let n = self.open.len() + herd;
        if self.nothing {
            let why = w.tr(key::WATCH_NOTHING_WHY);
            return (Role::Unknown, w.tr(key::WATCH_NOTHING), why);
        }
        let stands = |a: &Option<Seen<SignalAnswer>>| {
            a.as_ref().is_some_and(|a| a.fact.answer != Answered::False)
        };
        let answered = self.answered.iter().any(|(_, t)| stands(&t.answer));
        if n == 0 && (answered || self.herd.iter().any(|f| stands(&f.answer))) {
            let why = w.tr(key::WATCH_ANSWERED_ALL_WHY);
            return (Role::Ready, w.tr(key::WATCH_ANSWERED_ALL), why);
        }
        if n == 0 && self.failed > 0 {
            return (
                Role::Unknown,
                w.tr(key::OUTPUT_FAILED),
                w.tr(key::OUTPUT_FAILED_WHY),
            );
        }
        if n == 0 {
            return (
                Role::Ready,
                w.tr(key::WATCH_NONE),
                w.tr(key::WATCH_NONE_WHY),
            );
        }
        let headline = w.tr_with(key::WATCH_SOME, &[("n", n.into())]);
        (Role::Rest, headline, w.tr(key::WATCH_SOME_WHY))
    }

    fn row(&self, w: &Words, boar: &BoarFacts, told: &Told) -> AnyView {
        let signal = &told.signal;
        let zone = self.barn.zone_at(self.now_ms);
        let args = [
            ("measure", w.tr(tell::measure(signal.measure)).into()),
            (
                "change",
                tell::changed(w, signal.measure, signal.fall.by).into(),
            ),
            ("day", w.day_month(zone.day(signal.fall.since_ms)).into()),
        ];
        let says = w.tr_with(key::OUTPUT_SIGNAL, &args);
        // What speaks for a cause of his own says little where all fell.
        let own = !self.herd.iter().any(|h| h.explains(signal));
        let first = told.reasons.first().filter(|_| own);
        let first = first.map(|r| w.tr(tell::cause(r.cause)));
        let answer = told.answer.as_ref().map(|a| tell::answer(w, &a.fact));
        let noticed = w.day_month(zone.day(signal.at_ms));
        let small: Vec<_> = answer.or(first).into_iter().chain([noticed]).collect();
        let title = w.tr_with(key::BOAR_TITLE, &[("number", boar.number().into())]);
        rows::link(
            paths::boar_do(boar.id, "output"),
            told.answer.is_none().then_some(Drawing::Warning),
            format!("{title} · {says}"),
            small.join(" · "),
            String::new(),
        )
    }
}

fn herdwide(w: Words, answering: Answering, herd: &Herdwide) -> AnyView {
    let fall = herd.fall;
    let args = [
        ("measure", w.tr(tell::measure(fall.measure)).into()),
        ("boars", fall.boars.into()),
        ("worse", fall.worse.into()),
        ("days", HERD_DAYS.into()),
    ];
    let next = tell::look_next_herd(fall.after_heat);
    let answer = herd.answer.as_ref().map(|a| tell::answer(&w, &a.fact));
    let open = answer.is_none().then(|| {
        answering.ask(&SignalAnswer {
            boar: None,
            measure: fall.measure,
            collection: fall.collection,
            answer: Answered::Seen,
            cause: None,
            note: None,
        })
    });
    view! {
        <section class="words">
            <h2>{w.tr(key::WATCH_HERD_HEAD)}</h2>
            <p>{w.tr_with(key::WATCH_HERD, &args)}" "{w.tr(next)}</p>
            {answer.map(|says| view! { <p class="quiet">{says}</p> })}
        </section>
        {open}
    }
    .into_any()
}
