//! Does training work? Curves with the figures behind them, whether groups differ, and what
//! followed a bad event. Said as it was seen, never as a proof.

mod plot;

use crate::feed::use_feed;
use crate::parts::{Caution, Chips, Title};
use crate::tell;
use crate::words::{Key, Words, key, use_words};
use leptos::prelude::*;
use pentally_domain::barn::Barn;
use pentally_domain::survival::{Compared, Curve, Median, Middle, TooFew};
use pentally_domain::training::evidence::{
    Aftermath, By, Evidence, Group, Measure, Pupil, aftermath, evidence, pupils,
};
use plot::Plot;

/// `/training/evidence`
#[component]
pub fn EvidencePage() -> impl IntoView {
    let w = use_words();
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    let by = RwSignal::new(Some(By::All));
    let measure = RwSignal::new(Some(Measure::Days));
    let measures = [
        (Measure::Days, key::EVIDENCE_DAYS),
        (Measure::Sessions, key::EVIDENCE_SESSIONS),
    ];
    let bys = [
        (By::All, key::EVIDENCE_ALL),
        (By::Age, key::EVIDENCE_AGE),
        (By::Lure, key::EVIDENCE_LURE),
        (By::Handler, key::EVIDENCE_HANDLER),
        (By::Line, key::EVIDENCE_LINE),
        (By::Pen, key::EVIDENCE_PEN),
    ];
    let worded = |(value, key): (By, Key)| (value, w.tr(key));
    let bys = bys.map(worded).to_vec();
    let measures = measures.map(|(value, key)| (value, w.tr(key))).to_vec();
    let found = Memo::new(move |_| {
        let now_ms = feed.now_ms.get();
        feed.barn.with(|b| pupils(b, now_ms))
    });
    let answer = move || {
        let measure = measure.get().unwrap_or(Measure::Days);
        let by = by.get().unwrap_or(By::All);
        let barn = feed.barn.get();
        let all = found.get();
        let standard = barn.standard().standard;
        let told = evidence(&all, by, measure, &standard);
        Telling {
            w,
            barn: &barn,
            measure,
        }
        .page(&told, &all)
    };
    let events = move || {
        let (barn, now_ms) = (feed.barn.get(), feed.now_ms.get());
        after(&w, &aftermath(&barn, now_ms))
    };
    view! {
        <Title headline=w.tr(key::MORE_EVIDENCE) why=w.tr(key::EVIDENCE_WHY)/>
        <div class="words">
            <Chips asked=w.tr(key::EVIDENCE_COUNT) options=measures chosen=measure/>
            <Chips asked=w.tr(key::EVIDENCE_BY) options=bys chosen=by/>
        </div>
        {answer}
        {events}
        <p class="words small quiet">{w.tr(key::EVIDENCE_HOW)}</p>
        <div class="grow"></div>
    }
    .into_any()
}

struct Telling<'a> {
    w: Words,
    barn: &'a Barn,
    measure: Measure,
}

impl Telling<'_> {
    fn page(&self, told: &Evidence, all: &[Pupil]) -> AnyView {
        let w = &self.w;
        let count = |key, n: usize| (n > 0).then(|| w.tr_with(key, &[("n", n.into())]));
        let stands_in = all.iter().filter(|p| p.day_stands_in).count();
        let stands_in = if self.measure == Measure::Days {
            count(key::EVIDENCE_STANDS_IN, stands_in)
        } else {
            None
        };
        let notes = [count(key::EVIDENCE_NOT_SAID, told.not_said), stands_in];
        let notes: Vec<_> = notes.into_iter().flatten().collect();
        let none = all.is_empty().then(|| w.tr(key::EVIDENCE_NONE));
        let compared = (told.groups.len() > 1).then(|| self.compared(told));
        let longest = told.groups.iter().flat_map(|(_, c)| &c.points);
        let longest = longest.map(|p| p.time).fold(1.0, f64::max);
        let groups = told.groups.iter();
        let groups = groups.map(|(group, curve)| self.group(group, curve, longest));
        view! {
            {none.map(|says| view! { <p class="words">{says}</p> })}
            {compared.map(|says| view! { <section class="words"><p class="big">{says}</p><Caution says=w.tr(key::EVIDENCE_NO_PROOF)/></section> })}
            {groups.collect_view()}
            <div class="words small quiet">{notes.into_iter().map(|says| view! { <p>{says}</p> }).collect_view()}</div>
        }
        .into_any()
    }

    fn group(&self, group: &Group, curve: &Curve, longest: f64) -> AnyView {
        let w = &self.w;
        let args = [("n", curve.happened.into()), ("all", curve.watched.into())];
        let learnt = w.tr_with(key::EVIDENCE_LEARNT, &args);
        view! {
            <section class="words">
                <h2>{self.name(group)}</h2>
                <p>{learnt}" "{self.middle(curve)}</p>
                <Plot curve=curve.clone() longest says=w.tr(key::EVIDENCE_PLOT) end=self.time(longest)/>
                {self.table(curve)}
            </section>
        }
        .into_any()
    }

    /// "Half within 9 days (6 to 14)", or that it is too few to say.
    fn middle(&self, curve: &Curve) -> String {
        let w = &self.w;
        match curve.middle() {
            Middle::Reached(Median { time, from, to }) => {
                let half = [("time", self.time(time).into())];
                let half = w.tr_with(key::EVIDENCE_HALF, &half);
                let figure = |t: f64| w.num(t, 0);
                let sure = match (from, to) {
                    (Some(from), Some(to)) => {
                        let args = [("from", figure(from).into()), ("to", figure(to).into())];
                        w.tr_with(key::EVIDENCE_SURE, &args)
                    }
                    (Some(from), None) => {
                        w.tr_with(key::EVIDENCE_SURE_FROM, &[("from", figure(from).into())])
                    }
                    _ => String::new(),
                };
                format!("{half} {sure}")
            }
            Middle::NotReached => w.tr(key::EVIDENCE_NOT_HALF),
            Middle::TooFew { at_least, .. } => {
                w.tr_with(key::EVIDENCE_TOO_FEW, &[("n", at_least.into())])
            }
        }
    }

    fn compared(&self, told: &Evidence) -> String {
        let w = &self.w;
        match &told.compared {
            Compared::Test { test, left_out } => {
                let args = [("chance", percent(w, test.chance).into())];
                let says = w.tr_with(key::EVIDENCE_CHANCE, &args);
                let names = left_out.iter().filter_map(|l| told.groups.get(l.group));
                let names: Vec<_> = names.map(|(group, _)| self.name(group)).collect();
                if names.is_empty() {
                    return says;
                }
                let args = [("names", names.join(", ").into())];
                format!("{says} {}", w.tr_with(key::EVIDENCE_LEFT_OUT, &args))
            }
            Compared::TooFew(TooFew::Expected { at_least, .. }) => {
                let args = [("n", w.num(*at_least, 0).into())];
                w.tr_with(key::EVIDENCE_TOO_FEW_APART, &args)
            }
            Compared::TooFew(TooFew::Groups | TooFew::AllAtOnce) => w.tr(key::EVIDENCE_NO_TELLING),
        }
    }

    /// The curve's points as a table.
    fn table(&self, curve: &Curve) -> AnyView {
        let w = &self.w;
        let row = |p: &pentally_domain::survival::Point| {
            let band = p
                .band
                .map(|[low, high]| format!("{}–{}", percent(w, 1.0 - high), percent(w, 1.0 - low)));
            view! { <tr>
                <td class="number">{w.num(p.time, 0)}</td>
                <td class="number">{p.at_risk}</td>
                <td class="number">{p.happened}</td>
                <td class="number">{p.censored}</td>
                <td class="number">{percent(w, 1.0 - p.waiting)}" "{band}</td>
            </tr> }
        };
        let time = w.tr(match self.measure {
            Measure::Days => key::EVIDENCE_DAYS,
            Measure::Sessions => key::EVIDENCE_SESSIONS,
        });
        let heads = [
            key::EVIDENCE_AT_RISK,
            key::EVIDENCE_NOW,
            key::EVIDENCE_LEFT,
            key::EVIDENCE_SHARE,
        ];
        let heads = heads.map(|k| view! { <th class="number">{w.tr(k)}</th> });
        view! {
            <details class="how"><summary>{w.tr(key::EVIDENCE_FIGURES)}</summary>
                <div class="sheet tight"><table>
                    <thead><tr><th class="number">{time}</th>{heads.collect_view()}</tr></thead>
                    <tbody>{curve.points.iter().map(row).collect_view()}</tbody>
                </table></div>
            </details>
        }
        .into_any()
    }

    fn time(&self, time: f64) -> String {
        let w = &self.w;
        let key = match self.measure {
            Measure::Days => key::EVIDENCE_N_DAYS,
            Measure::Sessions => key::EVIDENCE_N_SESSIONS,
        };
        w.tr_with(key, &[("n", w.num(time, 0).into())])
    }

    fn name(&self, group: &Group) -> String {
        let (w, barn) = (&self.w, self.barn);
        let young = barn.standard().standard.young_days;
        let age = |key| w.tr_with(key, &[("n", young.into())]);
        match group {
            Group::All => w.tr(key::EVIDENCE_ALL),
            Group::Early => w.tr(key::EVIDENCE_EARLY),
            Group::Younger => age(key::EVIDENCE_YOUNGER),
            Group::Grown => age(key::EVIDENCE_GROWN),
            Group::NoLure => w.tr(key::EVIDENCE_NO_LURE),
            Group::Lure(lure) => w.tr(tell::lure(*lure)),
            Group::SeveralLures => w.tr(key::EVIDENCE_SEVERAL),
            Group::Handler(person) => {
                let name = barn.name(*person);
                name.unwrap_or_else(|| w.tr(key::PEOPLE_NO_NAME))
            }
            Group::Line(line) => line.as_str().to_owned(),
            Group::Pen(pen) => {
                let pen = barn.pen(*pen).and_then(|p| p.pen);
                let name = pen.map(|p| p.fact.name.as_str().to_owned());
                let args = [("pen", name.unwrap_or_default().into())];
                w.tr_with(key::BOAR_OF_PEN, &args)
            }
        }
    }
}

/// What followed: a row for each event, beside sessions in which nothing went wrong.
fn after(w: &Words, all: &[Aftermath]) -> Option<AnyView> {
    let row = |a: &Aftermath| {
        let what = a.what.map_or(key::EVIDENCE_NOTHING, tell::mishap);
        let mean = a.mean_change.map_or_else(
            || w.tr(key::EVIDENCE_FEW),
            |change| {
                format!(
                    "{}{}",
                    if change > 0.0 { "+" } else { "" },
                    w.num(change, 1)
                )
            },
        );
        view! { <tr>
            <td>{w.tr(what)}</td>
            <td class="number">{a.less}</td>
            <td class="number">{a.same}</td>
            <td class="number">{a.farther}</td>
            <td class="number">{mean}</td>
        </tr> }
    };
    let heads = [
        key::EVIDENCE_LESS,
        key::EVIDENCE_SAME,
        key::EVIDENCE_FARTHER,
        key::EVIDENCE_MEAN,
    ];
    let heads = heads.map(|k| view! { <th class="number">{w.tr(k)}</th> });
    let rows = all.iter().map(row).collect_view();
    let some = all.iter().any(|a| a.times() > 0);
    some.then(|| {
        view! {
            <section class="words">
                <h2>{w.tr(key::EVIDENCE_AFTER)}</h2>
                <p>{w.tr(key::EVIDENCE_AFTER_WHY)}</p>
                <div class="sheet tight"><table>
                    <thead><tr><th>{w.tr(key::EVIDENCE_EVENT)}</th>{heads.collect_view()}</tr></thead>
                    <tbody>{rows}</tbody>
                </table></div>
            </section>
        }
        .into_any()
    })
}

/// A share from 0 to 1 in whole percent; what is not quite nothing says so.
fn percent(w: &Words, share: f64) -> String {
    if share > 0.0 && share < 0.01 {
        return format!("< {}", w.tr_with(key::EVIDENCE_PERCENT, &[("n", 1.into())]));
    }
    let n = w.num(100.0 * share, 0);
    w.tr_with(key::EVIDENCE_PERCENT, &[("n", n.into())])
}
