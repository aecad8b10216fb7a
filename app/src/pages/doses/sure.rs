//! How sure the doses are: what each holds, beside its target, which error weighs most, and what
//! would help.

use super::offer::one;
use crate::words::{Key, Words, key};
use leptos::prelude::*;
use pentally_domain::assured::{Assured, Dosed, Source};
use pentally_domain::units::SpermBillions;

/// The picture's own measure.
const WIDTH: f64 = 320.0;
const HEIGHT: f64 = 44.0;
/// An error that makes less of the whole than this, in %, is not worth a word.
const WEIGHS: f64 = 10.0;
/// How many errors are told.
const TOLD: usize = 3;

/// "Each holds it with 95 %. The plain formula says 13."
pub(super) fn beside(w: &Words, assured: &Assured) -> String {
    let asked = w.num(assured.assurance_percent, 0);
    let plain = assured.plain.map_or(0, |plain| plain.doses);
    let args = [("asked", asked.into()), ("plain", plain.into())];
    w.tr_with(key::SURE_BESIDE, &args)
}

/// Not one dose is sure, where the plain formula knew some.
pub(super) fn none(w: &Words, assured: &Assured) -> Option<String> {
    let plain = assured.plain.filter(|_| assured.doses.is_none())?;
    let args = [
        ("asked", w.num(assured.assurance_percent, 0).into()),
        ("plain", plain.doses.into()),
        ("one", w.num(assured.one_dose_percent, 0).into()),
    ];
    Some(w.tr_with(key::SURE_NONE, &args))
}

/// What one dose holds, as words and as a picture, and which error weighs most.
pub(super) fn shown(w: &Words, assured: &Assured, target: SpermBillions) -> Option<AnyView> {
    let holds = assured.doses.map(|dosed| each(w, &dosed, target.value()));
    let weighs = weighs(w, assured);
    let figures = figures(w, assured);
    (holds.is_some() || weighs.is_some()).then(|| {
        view! {
            {holds}
            {weighs.map(|says| view! { <p>{says}</p> })}
            {figures}
        }
        .into_any()
    })
}

fn billions(w: &Words, millions: f64) -> String {
    w.num(millions / 1000.0, 2)
}

fn each(w: &Words, dosed: &Dosed, target: f64) -> AnyView {
    let says = w.tr_with(
        key::SURE_EACH,
        &[
            ("low", billions(w, dosed.low_m).into()),
            ("middle", billions(w, dosed.median_m).into()),
            ("high", billions(w, dosed.high_m).into()),
            ("target", w.num(target, 2).into()),
        ],
    );
    let most = (dosed.high_m / 1000.0).max(target) * 1.1;
    let x = |billions: f64| (billions / most).clamp(0.0, 1.0) * WIDTH;
    let (low, middle, high) = (
        x(dosed.low_m / 1000.0),
        x(dosed.median_m / 1000.0),
        x(dosed.high_m / 1000.0),
    );
    let goal = x(target);
    let (bar, across) = (
        format!("M{low:.1} 12H{high:.1}V32H{low:.1}Z"),
        format!("M{middle:.1} 8V36"),
    );
    view! {
        <figure class="plot holds">
            <svg viewBox=format!("-2 0 {} {HEIGHT}", WIDTH + 4.0) role="img" aria-label=says.clone()>
                <path class="ground" d=format!("M0 {}H{WIDTH}", HEIGHT - 2.0)/>
                <path class="sure" d=bar/>
                <path class="curve" d=across/>
                <path class="edge" d=format!("M{goal:.1} 0V{HEIGHT}")/>
            </svg>
            <figcaption><span>"0"</span><span>{format!("{} {}", w.num(most, 1), w.tr(key::UNIT_BILLION))}</span></figcaption>
        </figure>
        <p>{says}</p>
        <p class="small quiet">{w.tr(key::SURE_PICTURE)}</p>
    }
    .into_any()
}

/// "What weighs most: the count, 62 %. Count on."
fn weighs(w: &Words, assured: &Assured) -> Option<String> {
    let first = assured.sources.first()?;
    let args = [
        ("what", w.tr(source(first.source)).into()),
        ("share", w.num(first.share_percent, 0).into()),
        ("helps", w.tr(helps(first.source)).into()),
    ];
    let most = w.tr_with(key::SURE_WEIGHS, &args);
    let others = assured.sources.iter().skip(1).take(TOLD - 1);
    let others = others.filter(|part| part.share_percent >= WEIGHS);
    let then = others.map(|part| {
        let args = [
            ("what", w.tr(source(part.source)).into()),
            ("share", w.num(part.share_percent, 0).into()),
            ("helps", w.tr(helps(part.source)).into()),
        ];
        w.tr_with(key::SURE_THEN, &args)
    });
    let all: Vec<_> = std::iter::once(most).chain(then).collect();
    Some(all.join(" "))
}

/// The picture's figures, those of the plain formula beside them, and every error.
fn figures(w: &Words, assured: &Assured) -> AnyView {
    let percent = |value: f64| format!("{}\u{202f}%", w.num(value, 1));
    let row = |name: String, dosed: &Dosed| {
        view! {
            <tr><th scope="row">{name}</th><td class="number">{dosed.doses}</td>
            <td class="number">{percent(dosed.reached_percent)}</td>
            <td class="number">{billions(w, dosed.low_m)}</td><td class="number">{billions(w, dosed.median_m)}</td>
            <td class="number">{billions(w, dosed.high_m)}</td></tr>
        }
    };
    let sure = w.tr_with(
        key::SURE_ASKED,
        &[("asked", w.num(assured.assurance_percent, 0).into())],
    );
    let rows: Vec<_> = [
        assured.doses.map(|d| row(sure, &d)),
        assured.plain.map(|d| row(w.tr(key::SURE_PLAIN), &d)),
    ]
    .into_iter()
    .flatten()
    .collect();
    let parts = assured.sources.iter().map(|part| {
        let assumed = assured.assumed.contains(&part.source);
        let guessed = assumed.then(|| w.tr(key::SURE_ASSUMED));
        let says = [Some(w.tr(source(part.source))), guessed];
        let says: Vec<_> = says.into_iter().flatten().collect();
        view! { <tr><th scope="row">{says.join(", ")}</th><td class="number">{percent(part.share_percent)}</td></tr> }
    });
    view! {
        <details class="how"><summary>{w.tr(key::SURE_FIGURES)}</summary>
            <div class="sheet tight"><table>
                <thead><tr><th></th><th class="number">{w.tr(key::SERVE_DOSES)}</th><th class="number">{w.tr(key::SURE_REACHED)}</th>
                <th class="number">"5 %"</th><th class="number">"50 %"</th><th class="number">"95 %"</th></tr></thead>
                <tbody>{rows}</tbody>
            </table></div>
            <div class="sheet tight"><table>
                <thead><tr><th>{w.tr(key::SURE_ERROR)}</th><th class="number">{w.tr(key::SURE_SHARE)}</th></tr></thead>
                <tbody>{parts.collect_view()}</tbody>
            </table></div>
            <p class="small quiet">{one(w, key::SURE_FILLING, "filling", w.num(assured.filling_error_percent, 1))}</p>
        </details>
    }
    .into_any()
}

const fn source(source: Source) -> Key {
    match source {
        Source::Volume => key::SURE_VOLUME,
        Source::Count => key::SURE_COUNT,
        Source::Dilution => key::SURE_DILUTION,
        Source::Chamber => key::SURE_CHAMBER,
        Source::Instrument => key::SURE_INSTRUMENT,
        Source::Motile => key::SURE_MOTILE,
        Source::Abnormal => key::SURE_ABNORMAL,
        Source::Filling => key::SURE_OF_FILLING,
    }
}

const fn helps(source: Source) -> Key {
    match source {
        Source::Volume => key::SURE_HELPS_VOLUME,
        Source::Count => key::SURE_HELPS_COUNT,
        Source::Dilution => key::SURE_HELPS_DILUTION,
        Source::Chamber => key::SURE_HELPS_CHAMBER,
        Source::Instrument => key::SURE_HELPS_INSTRUMENT,
        Source::Motile | Source::Abnormal => key::SURE_HELPS_CELLS,
        Source::Filling => key::SURE_HELPS_FILLING,
    }
}
