//! A curve in ink: the share who have learnt, rising in steps, its band beside it, and a small
//! upright where somebody's watch ended without success.

use leptos::prelude::*;
use pentally_domain::survival::{Curve, Point};
use std::fmt::Write;

/// The picture's own measure.
const WIDTH: f64 = 320.0;
const HEIGHT: f64 = 140.0;
/// Half the height of an upright.
const TICK: f64 = 5.0;

/// The curve up to `longest`, the same for all groups that are compared; `end` names that time.
#[component]
pub fn Plot(
    /// What is drawn.
    curve: Curve,
    /// The time at the right edge.
    longest: f64,
    /// For those who do not see it; the table says the rest.
    #[prop(into)]
    says: String,
    /// The time at the right edge, in words.
    #[prop(into)]
    end: String,
) -> impl IntoView {
    let share = steps(&curve.points, longest, |p| Some(p.waiting));
    let low = steps(&curve.points, longest, |p| p.band.map(|b| b[0]));
    let high = steps(&curve.points, longest, |p| p.band.map(|b| b[1]));
    let uprights = uprights(&curve.points, longest);
    view! {
        <figure class="plot">
            <svg viewBox=format!("-1 -2 {} {}", WIDTH + 3.0, HEIGHT + 4.0) role="img" aria-label=says>
                <path class="ground" d=format!("M0 0V{HEIGHT}H{WIDTH}M0 {0}H{WIDTH}M0 0H{WIDTH}", HEIGHT / 2.0)/>
                <path class="edge" d=low/>
                <path class="edge" d=high/>
                <path class="curve" d=share/>
                <path class="upright" d=uprights/>
            </svg>
            <figcaption><span>"0"</span><span>{end}</span></figcaption>
        </figure>
    }
}

fn x(time: f64, longest: f64) -> f64 {
    (time / longest * WIDTH * 10.0).round() / 10.0
}

/// All wait at the bottom, all have learnt at the top.
fn y(waiting: f64) -> f64 {
    (waiting * HEIGHT * 10.0).round() / 10.0
}

/// Steps of what `of` says of each point; it holds from there to the next. Where nothing is said,
/// the line breaks off.
fn steps(points: &[Point], longest: f64, of: impl Fn(&Point) -> Option<f64>) -> String {
    let mut d = String::new();
    let mut open = points
        .first()
        .is_none_or(|p| of(p).is_some() || p.waiting >= 1.0);
    if open {
        let _ = write!(d, "M0 {}", y(1.0));
    }
    for point in points {
        let at = x(point.time, longest);
        match of(point) {
            Some(share) if open => {
                let _ = write!(d, "H{at}V{}", y(share));
            }
            Some(share) => {
                let _ = write!(d, "M{at} {}", y(share));
                open = true;
            }
            None if open && point.waiting >= 1.0 => {
                let _ = write!(d, "H{at}");
            }
            None => {
                if open {
                    let _ = write!(d, "H{at}");
                }
                open = false;
            }
        }
    }
    d
}

fn uprights(points: &[Point], longest: f64) -> String {
    let censored = points.iter().filter(|p| p.censored > 0);
    let one = |p: &Point| {
        let (at, on) = (x(p.time, longest), y(p.waiting));
        format!("M{at} {}V{}", on - TICK, on + TICK)
    };
    censored.map(one).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use pentally_domain::survival::{Observed, curve};

    fn observed(time: f64, happened: bool) -> Observed {
        Observed::new(time, happened).unwrap()
    }

    /// Two of four learn at 5 and one waits at 10: half at 5, and an upright at the right edge.
    #[test]
    fn the_curve_rises_in_steps_and_marks_who_was_watched_no_longer() {
        let watched = [(5.0, true), (5.0, true), (10.0, false), (10.0, false)];
        let curve = curve(&watched.map(|(t, h)| observed(t, h)));
        let share = steps(&curve.points, 10.0, |p| Some(p.waiting));
        assert_eq!(share, "M0 140H160V70H320V70");
        assert_eq!(uprights(&curve.points, 10.0), "M320 65V75");
    }

    #[test]
    fn a_band_begins_with_the_first_event_and_ends_with_the_last() {
        let all = [1.0, 2.0].map(|t| observed(t, true));
        let curve = curve(&all);
        let low = steps(&curve.points, 2.0, |p| p.band.map(|b| b[0]));
        assert!(
            low.starts_with("M0 140H160V") && low.ends_with("H320"),
            "{low}"
        );
    }
}
