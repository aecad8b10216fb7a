//! Whose output fell: the whole herd first, then signals nobody answered yet, then the answered.

use crate::act::{Act, use_act};
use crate::feed::use_feed;
use crate::pages::rows;
use crate::parts::{Action, Band, Drawing, Kind, Role};
use crate::words::{Words, key, use_words};
use crate::{paths, tell};
use leptos::prelude::*;
use pentally_domain::barn::{Barn, BoarFacts};
use pentally_domain::fact::Fact;
use pentally_domain::output::{Herdwide, Looker, Told};
use pentally_domain::watch::{Answered, Cause, HERD_DAYS, SignalAnswer};

/// `/watch`
#[component]
pub fn WatchPage() -> impl IntoView {
    let w = use_words();
    let act = use_act();
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    let page = move || {
        let (barn, now_ms) = (feed.barn.get(), feed.now_ms.get());
        Watched::of(&barn, now_ms).view(w, act)
    };
    view! { {page} }.into_any()
}

struct Watched<'a> {
    barn: &'a Barn,
    now_ms: i64,
    herd: Vec<Herdwide>,
    open: Vec<(BoarFacts, Told)>,
    answered: Vec<(BoarFacts, Told)>,
    /// Nothing was given that could fall.
    nothing: bool,
}

impl<'a> Watched<'a> {
    fn of(barn: &'a Barn, now_ms: i64) -> Self {
        let looker = Looker::of(barn, now_ms);
        let here = barn.boars().into_iter().filter(|b| b.gone().is_none());
        let (mut looks, mut told) = (vec![], vec![]);
        for boar in here {
            let Ok(look) = looker.look(&boar) else {
                continue;
            };
            let signals = looker.told(&boar, &look).into_iter();
            told.extend(signals.map(|t| (boar.clone(), t)));
            looks.push((boar.id, look));
        }
        // What has gone on for longest costs most.
        told.sort_by_key(|(_, t)| t.signal.fall.since_ms);
        let (open, answered) = told.into_iter().partition(|(_, t)| t.answer.is_none());
        Self {
            nothing: looks.iter().all(|(_, look)| look.besides.is_empty()),
            barn,
            now_ms,
            herd: looker.herdwide(barn, &looks),
            open,
            answered,
        }
    }

    fn view(&self, w: Words, act: Act) -> AnyView {
        let (role, headline, why) = self.board(&w);
        let rows =
            |list: &[(BoarFacts, Told)]| list.iter().map(|(b, t)| self.row(&w, b, t)).collect();
        view! {
            <Band role=role headline=headline why=why/>
            {self.herd.iter().map(|fall| herdwide(w, act, fall)).collect_view()}
            {rows::section(w.tr(key::WATCH_OPEN), rows(&self.open))}
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
        let with_herd = self.herd.iter().any(|f| f.fall.covers(signal));
        let first = told.reasons.first().map(|r| w.tr(tell::cause(r.cause)));
        let answer = told
            .answer
            .as_ref()
            .map(|a| w.tr(tell::answered(a.fact.answer)));
        let small = with_herd.then(|| w.tr(key::WATCH_WITH_HERD));
        let noticed = w.day_month(zone.day(signal.at_ms));
        let small: Vec<_> = answer
            .or(small)
            .or(first)
            .into_iter()
            .chain([noticed])
            .collect();
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

fn herdwide(w: Words, act: Act, herd: &Herdwide) -> AnyView {
    let fall = herd.fall;
    let args = [
        ("measure", w.tr(tell::measure(fall.measure)).into()),
        ("boars", fall.boars.into()),
        ("worse", fall.worse.into()),
        ("days", HERD_DAYS.into()),
    ];
    let next = if fall.after_heat {
        key::WATCH_HERD_HEAT
    } else {
        key::WATCH_HERD_BENCH
    };
    let say = move |answer: Answered| {
        act.save_quietly(Fact::SignalAnswer(SignalAnswer {
            boar: None,
            measure: fall.measure,
            collection: fall.collection,
            answer,
            cause: (answer == Answered::CauseFound).then_some(Cause::Herd),
            note: None,
        }));
    };
    let answer = herd
        .answer
        .as_ref()
        .map(|a| w.tr(tell::answered(a.fact.answer)));
    let open = answer.is_none().then(|| {
        view! {
            <div class="actions two">
                <Action word=w.tr(key::ANSWERED_SEEN) kind=Kind::Quiet on_tap=move |()| say(Answered::Seen)/>
                <Action word=w.tr(key::ANSWERED_CAUSE_FOUND) kind=Kind::Quiet drawing=Drawing::Tick on_tap=move |()| say(Answered::CauseFound)/>
                <Action word=w.tr(key::ANSWERED_FALSE) kind=Kind::Quiet on_tap=move |()| say(Answered::False)/>
            </div>
        }
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
