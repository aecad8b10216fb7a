//! One instrument: its curve as a picture and as a table, what was counted since, and one pair more.

use super::row::Typed;
use super::{finding, form, made_of, picture::Picture, with_standing};
use crate::act::{Act, use_act};
use crate::feed::{Feed, use_feed};
use crate::pages::doses::how;
use crate::pages::fields::Line;
use crate::parts::{Action, Band, Kind, Role};
use crate::words::{Words, key, use_words};
use crate::{paths, tell};
use leptos::prelude::*;
use pentally_domain::barn::Barn;
use pentally_domain::curve::{
    AgainstCurve, Curve, CurvePair, Finding, InstrumentCurve, Pair, Standing, Weighing,
};
use pentally_domain::fact::Fact;
use pentally_domain::id::EntryId;
use pentally_domain::reckon::CurveAsked;
use pentally_domain::said::Label;

/// `/instruments/CURVE`
#[component]
pub fn InstrumentPage(
    /// The entry of any of its curves.
    id: EntryId,
) -> impl IntoView {
    let (w, act) = (use_words(), use_act());
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    let typed = form::Row::new(&Typed::default());
    (move || {
        let page = feed.barn.with(|barn| {
            let instrument = instrument_of(barn, id)?;
            with_standing(barn, &instrument, |entry, standing| {
                page(&w, barn, entry, standing)
            })
        });
        let Some(page) = page else {
            return view! { <p class="words quiet">{w.tr(key::INSTRUMENT_MISSING)}</p> }.into_any();
        };
        view! { {page} {another(w, act, feed, id, typed)} <div class="grow"></div> }.into_any()
    })
    .into_any()
}

/// The instrument of a curve's entry.
pub fn instrument_of(barn: &Barn, id: EntryId) -> Option<Label> {
    let curves = barn.instrument_curves().into_iter();
    let mut own = curves.filter(|c| c.entry() == id);
    own.next().map(|c| c.fact.instrument)
}

fn page(w: &Words, barn: &Barn, entry: EntryId, standing: &Standing<'_>) -> AnyView {
    let kept = standing.kept;
    let now_ms = crate::office::now_ms();
    let since = tell::moment(w, &barn.zone_at(now_ms), standing.since.ms(), now_ms);
    let since = w.tr_with(key::INSTRUMENT_SINCE, &[("when", since.into())]);
    let made = made_of(w, kept);
    let (headline, role, why) = match (&standing.curve, &standing.drift) {
        (Err(why), _) => (
            w.tr(key::INSTRUMENT_NO_CURVE),
            Role::Stop,
            tell::curve_error(w, why),
        ),
        (_, Some(drift)) => {
            let role = match drift.finding {
                Finding::NoPairs => Role::Unknown,
                Finding::Agrees => Role::Ready,
                Finding::Disagrees => Role::Rest,
                Finding::Drifting => Role::Stop,
            };
            let word = w.tr(finding(drift.finding).1);
            (word, role, tell::drift(w, drift))
        }
        (Ok(_), None) => (String::new(), Role::Unknown, String::new()),
    };
    let name = kept.instrument.as_str().to_owned();
    let curve = standing.curve.as_ref().ok();
    let found = curve.map(|curve| found(w, curve, kept.pairs.pairs(), &standing.later));
    let against = standing
        .drift
        .as_ref()
        .map(|drift| later(w, &standing.later, &drift.pairs));
    let how = reckoned(w, kept, &standing.later);
    view! {
        <Band role=role headline=headline why=why>{name}</Band>
        <p class="words small quiet">{format!("{made} · {since}")}</p>
        {found}
        {against}
        <div class="words">{how}</div>
        <div class="actions">
            <Action word=w.tr(key::INSTRUMENT_ANEW) kind=Kind::Quiet href=paths::instrument_curve(entry)/>
        </div>
    }
    .into_any()
}

/// The picture, the scatter and the table of a fitted curve.
pub fn found(w: &Words, curve: &Curve, pairs: &[Pair], later: &[Pair]) -> AnyView {
    let words = *w;
    let unit = move |m: f64| format!("{} {}", words.num(m, 0), words.tr(key::UNIT_MILLION_PER_ML));
    let (low, high) = curve.range();
    let all = pairs.iter().chain(later).map(|p| p.reading.value());
    let (left, right) = all.fold((low, high), |(a, b), x| (a.min(x), b.max(x)));
    let ends = [tell::reading(w, left), tell::reading(w, right)];
    let range = [
        ("low", tell::reading(w, low).into()),
        ("high", tell::reading(w, high).into()),
    ];
    let row = |pair: &Pair| {
        let says = curve.read(pair.reading).ok();
        let apart = says.map(|says| {
            let says = says.concentration.value();
            100.0 * (pair.concentration.value() - says) / says
        });
        view! {
            <tr>
                <td class="number">{tell::reading(w, pair.reading.value())}</td>
                <td class="number">{w.num(pair.concentration.value(), 0)}</td>
                <td class="number">{says.map(|s| w.num(s.concentration.value(), 0))}</td>
                <td class="number">{apart.map(|a| signed(w, a))}</td>
            </tr>
        }
    };
    let rows = pairs.iter().map(row).collect_view();
    view! {
        <div class="words">
            <Picture curve=curve.clone() pairs=pairs.to_vec() later=later.to_vec() unit=unit says=w.tr(key::CURVE_PICTURE) ends=ends/>
            <p>{scatter(w, curve)}" "{w.tr_with(key::CURVE_RANGE, &range)}</p>
            <details class="how"><summary>{w.tr(key::CURVE_TABLE)}</summary>
                <div class="sheet tight"><table>
                    <thead><tr>
                        <th class="number">{w.tr(key::PAIR_READING)}</th>
                        <th class="number">{w.tr(key::PAIR_COUNTED)}</th>
                        <th class="number">{w.tr(key::CURVE_SAYS)}</th>
                        <th class="number">{w.tr(key::CURVE_APART)}</th>
                    </tr></thead>
                    <tbody>{rows}</tbody>
                </table></div>
            </details>
        </div>
    }
    .into_any()
}

fn signed(w: &Words, percent: f64) -> String {
    let sign = match percent {
        p if p > 0.0 => "+",
        p if p < 0.0 => "−",
        _ => "",
    };
    format!("{sign}{} %", w.num(percent.abs(), 0))
}

/// How far counts lie from it.
fn scatter(w: &Words, curve: &Curve) -> String {
    let sd = curve.residual_sd();
    let (key, figure) = match curve.weighing() {
        Weighing::Plain => (key::CURVE_SCATTER_PLAIN, w.num(sd, 1)),
        Weighing::BySize => (key::CURVE_SCATTER_SIZE, w.num(sd * 100.0, 1)),
        Weighing::ByError => (key::CURVE_SCATTER_ERROR, w.num(sd, 2)),
    };
    let args = [
        ("sd", figure.into()),
        ("explained", w.num(curve.r_squared() * 100.0, 1).into()),
    ];
    w.tr_with(key, &args)
}

/// What was counted since, against the curve.
fn later(w: &Words, pairs: &[Pair], against: &[AgainstCurve]) -> Option<AnyView> {
    if pairs.is_empty() {
        return None;
    }
    let row = |(pair, against): (&Pair, &AgainstCurve)| {
        let says = match against {
            AgainstCurve::Held {
                within, outside, ..
            } => {
                let ends = [
                    ("low", w.num(within.low, 0).into()),
                    ("high", w.num(within.high, 0).into()),
                ];
                let key = match outside {
                    true => key::PAIR_OUTSIDE,
                    false => key::PAIR_WITHIN,
                };
                w.tr_with(key, &ends)
            }
            AgainstCurve::Off(_) => w.tr(key::PAIR_OFF),
        };
        view! {
            <tr>
                <td class="number">{tell::reading(w, pair.reading.value())}</td>
                <td class="number">{w.num(pair.concentration.value(), 0)}</td>
                <td>{says}</td>
            </tr>
        }
    };
    let rows = pairs.iter().zip(against).map(row).collect_view();
    Some(
        view! {
            <div class="words"><h2>{w.tr(key::INSTRUMENT_LATER)}</h2>
                <div class="sheet tight"><table>
                    <thead><tr>
                        <th class="number">{w.tr(key::PAIR_READING)}</th>
                        <th class="number">{w.tr(key::PAIR_COUNTED)}</th>
                        <th>{w.tr(key::PAIR_AGAINST)}</th>
                    </tr></thead>
                    <tbody>{rows}</tbody>
                </table></div>
            </div>
        }
        .into_any(),
    )
}

fn reckoned(w: &Words, kept: &InstrumentCurve, later: &[Pair]) -> Option<AnyView> {
    let asked = CurveAsked::of(kept, later);
    how::reckoned(w, "curve", &serde_json::to_string(&asked).ok()?)
}

/// One ejaculate more that was read and counted.
fn another(w: Words, act: Act, feed: Feed, id: EntryId, typed: form::Row) -> AnyView {
    let wrong = RwSignal::new(None);
    let save = move |()| {
        let read = typed.typed().read(&w);
        let pair = match read {
            Ok(pair) => pair,
            Err(why) => return wrong.set(Some(why)),
        };
        let Some(instrument) = feed.barn.with_untracked(|barn| instrument_of(barn, id)) else {
            return;
        };
        let fact = Fact::CurvePair(CurvePair {
            instrument,
            reading: pair.reading,
            concentration: pair.concentration,
            relative_error: pair.relative_error,
            collection: None,
        });
        act.save(vec![fact.into()], move |_| typed.set(&Typed::default()));
    };
    view! {
        <div class="words"><h2>{w.tr(key::INSTRUMENT_CHECK)}</h2><p class="small quiet">{w.tr(key::INSTRUMENT_CHECK_WHY)}</p></div>
        <div class="words fields">
            <Line name=w.tr(key::PAIR_READING) value=typed.reading figures=true wrong=wrong/>
            <Line name=w.tr(key::PAIR_COUNTED_UNIT) value=typed.counted figures=true/>
            <Line name=w.tr(key::PAIR_ERROR) value=typed.error hint=w.tr(key::PAIR_ERROR_HINT) figures=true/>
        </div>
        <div class="actions"><Action word=w.tr(key::INSTRUMENT_SAVE_PAIR) on_tap=save/></div>
    }
    .into_any()
}
