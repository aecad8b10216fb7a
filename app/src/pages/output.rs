//! What a boar gives: beside what was expected, when it fell and what may be behind it, what he would
//! give on the days to come, and his life in entries.

mod chart;
mod life;
mod signals;

use crate::act::{Act, use_act};
use crate::feed::{Feed, use_feed};
use crate::pages::answering::Answering;
use crate::parts::{Band, Chips, Role};
use crate::tell;
use crate::words::{Words, key, use_words};
use chart::{Chart, Dot};
use leptos::prelude::*;
use pentally_domain::barn::{Barn, BoarFacts};
use pentally_domain::id::BoarId;
use pentally_domain::output::{Beside, Herdwide, Look, Looker, Measure, Told, outside};
use pentally_domain::watch::Answered;

/// So many days ahead are told.
const AHEAD: u64 = 8;
/// Fewer ejaculates say little of a boar.
const FEW: usize = 5;

/// `/boar/ID/output`
#[component]
pub fn OutputPage(
    /// Who.
    id: BoarId,
) -> impl IntoView {
    let w = use_words();
    let act = use_act();
    let answering = Answering::begun();
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    let measure = opened_on(feed, id);
    let page = move || {
        let (barn, now_ms) = (feed.barn.get(), feed.now_ms.get());
        let looker = Looker::of(&barn, now_ms);
        let Some(boar) = barn.boar(id) else {
            return view! { <p class="words quiet">{w.tr(key::BOAR_MISSING)}</p> }.into_any();
        };
        let Ok(look) = looker.look(&boar) else {
            return not_reckoned(w, &boar);
        };
        let told = looker.told(&boar, &look);
        let open = told.iter().filter(|t| t.answer.is_none());
        let open: Vec<_> = open.map(|t| t.signal).collect();
        let herd = looker.herd_behind(&barn, &open, now_ms);
        Page {
            w,
            act,
            barn: &barn,
            boar: &boar,
            looker: &looker,
            look: &look,
            told: &told,
            herd: &herd,
            now_ms,
            measure,
            answering,
        }
        .view()
    };
    view! { {page} }.into_any()
}

/// The office's fit and this program do not go together.
fn not_reckoned(w: Words, boar: &BoarFacts) -> AnyView {
    let title = w.tr_with(key::BOAR_TITLE, &[("number", boar.number().into())]);
    view! {
        <Band role=Role::Unknown headline=w.tr(key::OUTPUT_FAILED) why=w.tr(key::OUTPUT_FAILED_WHY)><b>{title}</b></Band>
        <div class="grow"></div>
    }
    .into_any()
}

/// The measure of the picture: at first that of a signal nobody answered, once the barn is there.
fn opened_on(feed: Feed, id: BoarId) -> RwSignal<Option<Measure>> {
    let measure = RwSignal::new(Some(Measure::Total));
    Effect::new(move |done: Option<bool>| {
        if done == Some(true) {
            return true;
        }
        let now_ms = feed.now_ms.get_untracked();
        let told = feed.barn.with(|barn| {
            let (boar, looker) = (barn.boar(id)?, Looker::of(barn, now_ms));
            Some(looker.told(&boar, &looker.look(&boar).ok()?))
        });
        let Some(told) = told else {
            return false;
        };
        if let Some(open) = told.iter().find(|t| t.answer.is_none()) {
            measure.set(Some(open.signal.measure));
        }
        true
    });
    measure
}

struct Page<'a> {
    w: Words,
    act: Act,
    barn: &'a Barn,
    boar: &'a BoarFacts,
    looker: &'a Looker,
    look: &'a Look,
    told: &'a [Told],
    /// Falls of the herd that an open signal may be part of.
    herd: &'a [Herdwide],
    now_ms: i64,
    measure: RwSignal<Option<Measure>>,
    answering: Answering,
}

impl Page<'_> {
    fn view(&self) -> AnyView {
        let w = self.w;
        let (role, headline, why) = self.answer();
        let title = w.tr_with(key::BOAR_TITLE, &[("number", self.boar.number().into())]);
        let measures = Measure::ALL.map(|m| (m, w.tr(tell::measure(m)))).to_vec();
        view! {
            <Band role=role headline=headline why=why><b>{title}</b></Band>
            {self.signals()}
            {self.boar.gone().is_none().then(|| self.ahead())}
            <section class="words">
                <h2>{w.tr(key::OUTPUT_SEEN)}</h2>
                <Chips asked=w.tr(key::OUTPUT_WHICH) options=measures chosen=self.measure/>
                {self.chart()}
                {self.table()}
            </section>
            {self.life()}
            <p class="words small quiet">{self.how()}</p>
            <div class="grow"></div>
        }
        .into_any()
    }

    fn answer(&self) -> (Role, String, String) {
        let w = &self.w;
        let open = self.told.iter().find(|t| t.answer.is_none());
        if let Some(told) = open {
            return (
                Role::Rest,
                w.tr(key::OUTPUT_FELL),
                self.signal_says(&told.signal),
            );
        }
        let stands = |t: &&Told| {
            let answer = t.answer.as_ref().map(|a| a.fact.answer);
            answer.is_some_and(|a| a != Answered::False)
        };
        if let Some(told) = self.told.iter().find(stands) {
            let answer = told.answer.as_ref().map(|a| tell::answer(w, &a.fact));
            let why = std::iter::once(self.signal_says(&told.signal)).chain(answer);
            let why = why.collect::<Vec<_>>().join(". ");
            return (Role::Rest, w.tr(key::OUTPUT_ANSWERED), why);
        }
        let seen = self.look.besides.iter();
        let seen = seen.filter(|b| b.given.value(Measure::Total).is_some());
        let n = seen.count();
        if n < FEW {
            let why = w.tr_with(key::OUTPUT_FEW_WHY, &[("n", n.into())]);
            return (Role::Unknown, w.tr(key::OUTPUT_FEW), why);
        }
        let (out, all) = outside(&self.look.besides);
        if out > 0 {
            let args = [("out", out.into()), ("n", all.into())];
            let why = w.tr_with(key::OUTPUT_NO_FALL_WHY, &args);
            return (Role::Ready, w.tr(key::OUTPUT_NO_FALL), why);
        }
        (
            Role::Ready,
            w.tr(key::OUTPUT_FINE),
            w.tr_with(key::OUTPUT_FINE_WHY, &[("n", n.into())]),
        )
    }

    /// What he would give on the days to come.
    fn ahead(&self) -> AnyView {
        let w = &self.w;
        let zone = self.barn.zone_at(self.now_ms);
        let today = zone.day(self.now_ms);
        // Whoever gave today is not asked again today.
        let gave = self.look.besides.last();
        let from = u64::from(gave.is_some_and(|b| b.given.day == today));
        let days = (from..AHEAD).filter_map(|n| today.checked_add_days(chrono::Days::new(n)));
        let row = |day| {
            let (expected, rest) = self.looker.forecast(self.look, day).ok()?;
            let rest = rest.map_or_else(String::new, |d| {
                w.tr_with(key::OUTPUT_RESTED, &[("n", d.into())])
            });
            let ranges = Measure::ALL.map(|measure| {
                let expected = expected.get(measure.place());
                view! { <td>{expected.map(|e| tell::range(w, measure, e))}</td> }
            });
            Some(view! {
                <tr class="over"><th scope="rowgroup" colspan="4">{w.near_day(day, today)}" "<span class="quiet">{rest}</span></th></tr>
                <tr>{Vec::from(ranges)}</tr>
            })
        };
        let rows: Vec<_> = days.filter_map(row).collect();
        let heads = [
            key::OUTPUT_VOLUME,
            key::OUTPUT_SPERM,
            key::OUTPUT_MOTILE,
            key::OUTPUT_ABNORMAL,
        ];
        let heads = heads.map(|head| view! { <th scope="col">{w.tr(head)}</th> });
        let recovery = self.looker.recovery(self.boar, self.look).map(|r| {
            let args = [("days", r.days.into()), ("n", r.by_collections.into())];
            w.tr_with(key::OUTPUT_RECOVERY, &args)
        });
        view! {
            <section class="words">
                <h2>{w.tr(key::OUTPUT_AHEAD)}</h2>
                <div class="sheet tight"><table>
                    <thead><tr>{Vec::from(heads)}</tr></thead>
                    <tbody>{rows}</tbody>
                </table></div>
                <p class="small quiet">{w.tr(key::OUTPUT_AHEAD_WHY)}</p>
                {recovery.map(|says| view! { <p>{says}</p> })}
            </section>
        }
        .into_any()
    }

    fn chart(&self) -> AnyView {
        let w = self.w;
        let measure = self.measure.get().unwrap_or(Measure::Total);
        let dots: Vec<Dot> = self
            .look
            .besides
            .iter()
            .filter_map(|b| dot(b, measure))
            .collect();
        if dots.is_empty() {
            return view! { <p class="quiet">{w.tr(key::NOT_MEASURED)}</p> }.into_any();
        }
        let signals = self.told.iter().filter(|t| t.signal.measure == measure);
        let zone = self.barn.zone_at(self.now_ms);
        let day = |ms| w.day_month(zone.day(ms));
        let ends = [dots.first(), dots.last()].map(|d| d.map(|d| day(d.at_ms)).unwrap_or_default());
        let name = w.tr(tell::measure(measure));
        let unit = move |value| tell::amount(&w, measure, value);
        let says = w.tr_with(key::OUTPUT_CHART, &[("measure", name.into())]);
        let signals: Vec<i64> = signals.map(|t| t.signal.at_ms).collect();
        let bars = self.bars();
        view! {
            <Chart dots bars signals unit says ends/>
            <p class="small quiet">{w.tr(key::OUTPUT_LEGEND)}</p>
        }
        .into_any()
    }

    /// The picture's figures.
    fn table(&self) -> AnyView {
        let w = &self.w;
        let measure = self.measure.get().unwrap_or(Measure::Total);
        let zone = self.barn.zone_at(self.now_ms);
        let row = |b: &Beside| {
            let seen = b.given.value(measure).map_or_else(
                || w.tr(key::NOT_MEASURED),
                |value| tell::amount(w, measure, value),
            );
            let expected = b.expected.get(measure.place());
            let expected = expected.map(|e| tell::range(w, measure, e));
            let rest = b.given.bearing.rest_days;
            view! {
                <tr><th scope="row">{w.day_month(zone.day(b.given.at_ms))}</th>
                <td>{rest.map(|d| d.to_string())}</td><td>{seen}</td><td>{expected}</td></tr>
            }
        };
        let rows: Vec<_> = self.look.besides.iter().rev().map(row).collect();
        view! {
            <details><summary>{w.tr(key::OUTPUT_TABLE)}</summary>
                <div class="sheet tight"><table>
                    <thead><tr><th></th><th>{w.tr(key::OUTPUT_REST)}</th><th>{w.tr(key::OUTPUT_WAS)}</th><th>{w.tr(key::OUTPUT_EXPECTED)}</th></tr></thead>
                    <tbody>{rows}</tbody>
                </table></div>
            </details>
        }
        .into_any()
    }

    fn how(&self) -> String {
        let w = &self.w;
        let outlook = self.looker.outlook();
        let Some(made_at_ms) = outlook.made_at_ms else {
            return w.tr(key::OUTPUT_HOW_NONE);
        };
        let measure = self.measure.get().unwrap_or(Measure::Total);
        let fit = outlook.fits.get(measure.place());
        if fit.is_none_or(|f| f.n == 0) {
            return w.tr(key::OUTPUT_HOW_ALONE);
        }
        let zone = self.barn.zone_at(self.now_ms);
        let args = [
            ("n", fit.map_or(0, |f| f.n).into()),
            ("boars", fit.map_or(0, |f| f.groups).into()),
            (
                "when",
                tell::moment(w, &zone, made_at_ms, self.now_ms).into(),
            ),
        ];
        w.tr_with(key::OUTPUT_HOW, &args)
    }
}

fn dot(beside: &Beside, measure: Measure) -> Option<Dot> {
    let expected = beside.expected.get(measure.place())?;
    let [low, high] = expected.interval().map(|e| measure.from_scale(e));
    Some(Dot {
        at_ms: beside.given.at_ms,
        seen: beside.given.value(measure),
        low,
        middle: measure.from_scale(expected.mean),
        high,
    })
}
