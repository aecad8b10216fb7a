//! A picture of what was given: the band that was expected in quiet, what was seen in ink.

use leptos::prelude::*;
use std::fmt::Write;

/// The picture's own measure.
const WIDTH: f64 = 320.0;
const HEIGHT: f64 = 160.0;
/// Below it, the lanes of heat and of times off.
const LANE: f64 = 10.0;

/// One ejaculate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dot {
    /// When, in ms since 1970.
    pub at_ms: i64,
    /// What was measured, if it was.
    pub seen: Option<f64>,
    /// Nine of ten were expected from here …
    pub low: f64,
    /// … about here …
    pub middle: f64,
    /// … to here.
    pub high: f64,
}

/// A time that bears on what was given.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Bar {
    /// Its lane, from 0.
    pub lane: u8,
    /// When it began, in ms since 1970.
    pub from_ms: i64,
    /// When it ended.
    pub to_ms: i64,
}

/// The picture. Its figures stand in a table beside it.
#[component]
pub fn Chart(
    /// What is drawn, oldest first; not empty.
    dots: Vec<Dot>,
    /// Times that bear on it.
    bars: Vec<Bar>,
    /// When a signal was told.
    signals: Vec<i64>,
    /// A value with its unit.
    unit: impl Fn(f64) -> String,
    /// For those who do not see it.
    #[prop(into)]
    says: String,
    /// The days at both ends.
    ends: [String; 2],
) -> impl IntoView {
    let scale = Scale::of(&dots);
    let band = band(&dots, &scale);
    let middle = line(&dots, &scale, |dot| dot.middle);
    let seen = seen(&dots, &scale);
    let bars: String = bars.iter().filter_map(|b| bar(b, &scale)).collect();
    let signals: String = signals.iter().map(|ms| arrow(scale.x(*ms))).collect();
    let [first, last] = ends;
    let foot = HEIGHT + 3.0 * LANE;
    view! {
        <figure class="plot gives">
            <p class="top">{unit(scale.top)}</p>
            <svg viewBox=format!("-6 -6 {} {}", WIDTH + 12.0, foot + 8.0) role="img" aria-label=says>
                <path class="band" d=band/>
                <path class="edge" d=middle/>
                <path class="ground" d=format!("M0 {HEIGHT}H{WIDTH}")/>
                <path class="seen" d=seen/>
                <path class="bars" d=bars/>
                <path class="signal" d=signals/>
            </svg>
            <figcaption><span>{first}</span><span>{last}</span></figcaption>
        </figure>
    }
}

struct Scale {
    from_ms: i64,
    to_ms: i64,
    top: f64,
}

impl Scale {
    fn of(dots: &[Dot]) -> Self {
        let from_ms = dots.first().map_or(0, |d| d.at_ms);
        let to_ms = dots.last().map_or(1, |d| d.at_ms).max(from_ms + 1);
        let all = dots.iter().flat_map(|d| d.seen.into_iter().chain([d.high]));
        Self {
            from_ms,
            to_ms,
            top: all.fold(f64::MIN_POSITIVE, f64::max),
        }
    }

    #[expect(
        clippy::cast_precision_loss,
        reason = "a pixel is coarser than what is lost of milliseconds"
    )]
    fn x(&self, at_ms: i64) -> f64 {
        let share = (at_ms - self.from_ms) as f64 / (self.to_ms - self.from_ms) as f64;
        tenth(share.clamp(0.0, 1.0) * WIDTH)
    }

    fn y(&self, value: f64) -> f64 {
        tenth(HEIGHT - value / self.top * HEIGHT)
    }
}

fn tenth(value: f64) -> f64 {
    (value * 10.0).round() / 10.0
}

/// Up one side and back along the other.
fn band(dots: &[Dot], scale: &Scale) -> String {
    let mut d = line(dots, scale, |dot| dot.high);
    for dot in dots.iter().rev() {
        let _ = write!(d, "L{} {}", scale.x(dot.at_ms), scale.y(dot.low));
    }
    d.push('z');
    d
}

fn line(dots: &[Dot], scale: &Scale, of: impl Fn(&Dot) -> f64) -> String {
    let mut d = String::new();
    for (at, dot) in dots.iter().enumerate() {
        let go = if at == 0 { 'M' } else { 'L' };
        let _ = write!(d, "{go}{} {}", scale.x(dot.at_ms), scale.y(of(dot)));
    }
    d
}

/// A filled disc within what was expected, a hollow one outside: shape tells as well as place.
fn seen(dots: &[Dot], scale: &Scale) -> String {
    let mut d = String::new();
    for dot in dots {
        let Some(seen) = dot.seen else { continue };
        let (x, y) = (scale.x(dot.at_ms), scale.y(seen));
        let within = (dot.low..=dot.high).contains(&seen);
        let _ = write!(d, "M{} {y}a4 4 0 1 0 8 0a4 4 0 1 0-8 0", x - 4.0);
        if !within {
            let _ = write!(d, "m2 0a2 2 0 1 1 4 0a2 2 0 1 1-4 0");
        }
    }
    d
}

fn bar(bar: &Bar, scale: &Scale) -> Option<String> {
    if bar.to_ms < scale.from_ms || bar.from_ms > scale.to_ms {
        return None;
    }
    let (from, to) = (
        scale.x(bar.from_ms),
        scale.x(bar.to_ms).max(scale.x(bar.from_ms) + 2.0),
    );
    let y = HEIGHT + 6.0 + f64::from(bar.lane) * LANE;
    Some(format!("M{from} {y}H{to}v6H{from}z"))
}

fn arrow(x: f64) -> String {
    format!("M{x} {}l-5-9h10z", HEIGHT - 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn dot(at_ms: i64, seen: Option<f64>) -> Dot {
        Dot {
            at_ms,
            seen,
            low: 30.0,
            middle: 50.0,
            high: 80.0,
        }
    }

    #[test]
    fn what_was_seen_stands_at_its_height_and_outside_is_hollow() {
        let dots = [dot(0, Some(40.0)), dot(10, None), dot(20, Some(20.0))];
        let scale = Scale::of(&dots);
        assert_eq!(
            (scale.x(10), scale.y(80.0), scale.y(0.0)),
            (160.0, 0.0, 160.0)
        );
        let d = seen(&dots, &scale);
        assert_eq!(d.matches('M').count(), 2);
        assert_eq!(d.matches('m').count(), 1, "the second lies below: {d}");
        let outside = Bar {
            lane: 0,
            from_ms: 30,
            to_ms: 40,
        };
        assert_eq!(bar(&outside, &scale), None);
        let one = Bar {
            lane: 1,
            from_ms: 0,
            to_ms: 10,
        };
        assert_eq!(bar(&one, &scale).unwrap(), "M0 176H160v6H0z");
    }
}
