//! A picture of a curve: pairs as discs, the curve in ink, and where a count of one ejaculate lies
//! as a band.

use leptos::prelude::*;
use pentally_domain::curve::{Curve, Pair};
use pentally_domain::units::InstrumentReading;
use std::fmt::Write;

/// The picture's own measure.
const WIDTH: f64 = 320.0;
const HEIGHT: f64 = 200.0;
/// Points along the curve.
const STEPS: u32 = 40;

/// The curve with its pairs, and hollow discs for those counted since. Its figures stand in a table
/// beside it.
#[component]
pub fn Picture(
    /// The curve.
    curve: Curve,
    /// Its pairs.
    pairs: Vec<Pair>,
    /// Pairs since.
    later: Vec<Pair>,
    /// A concentration with its unit.
    unit: impl Fn(f64) -> String,
    /// For those who do not see it.
    #[prop(into)]
    says: String,
    /// The readings at both ends.
    ends: [String; 2],
) -> impl IntoView {
    let along = along(&curve);
    let all = pairs.iter().chain(&later);
    let scale = Scale::of(&along, all);
    let (first, last) = (ends[0].clone(), ends[1].clone());
    view! {
        <figure class="plot gives">
            <p class="top">{unit(scale.top)}</p>
            <svg viewBox=format!("-6 -6 {} {}", WIDTH + 12.0, HEIGHT + 12.0) role="img" aria-label=says>
                <path class="band" d=band(&along, &scale)/>
                <path class="curve" d=line(&along, &scale)/>
                <path class="ground" d=format!("M0 0V{HEIGHT}H{WIDTH}")/>
                <path class="seen" d=discs(&pairs, &scale, false)/>
                <path class="seen" d=discs(&later, &scale, true)/>
            </svg>
            <figcaption><span>{first}</span><span>{last}</span></figcaption>
        </figure>
    }
}

/// A reading, and what the curve says there: low, middle, high.
type At = (f64, [f64; 3]);

fn along(curve: &Curve) -> Vec<At> {
    let (low, high) = curve.range();
    let at = |step| {
        let reading = low + (high - low) * f64::from(step) / f64::from(STEPS);
        // Rounding must not step off the end.
        let read = curve.read(InstrumentReading::new(reading.clamp(low, high)).ok()?);
        let read = read.ok()?;
        Some((
            reading,
            [read.one.low, read.concentration.value(), read.one.high],
        ))
    };
    (0..=STEPS).filter_map(at).collect()
}

struct Scale {
    low: f64,
    high: f64,
    top: f64,
}

impl Scale {
    fn of<'a>(along: &[At], pairs: impl Iterator<Item = &'a Pair>) -> Self {
        let (mut low, mut high, mut top) = (f64::MAX, f64::MIN, f64::MIN_POSITIVE);
        let seen = pairs.map(|p| (p.reading.value(), p.concentration.value()));
        let all = along.iter().map(|(x, y)| (*x, y[2])).chain(seen);
        for (x, y) in all {
            (low, high, top) = (low.min(x), high.max(x), top.max(y));
        }
        let high = if high > low { high } else { low + 1.0 };
        Self { low, high, top }
    }

    fn x(&self, reading: f64) -> f64 {
        tenth((reading - self.low) / (self.high - self.low) * WIDTH)
    }

    fn y(&self, value: f64) -> f64 {
        tenth(HEIGHT - value / self.top * HEIGHT)
    }
}

fn tenth(value: f64) -> f64 {
    (value * 10.0).round() / 10.0
}

/// Up one side and back along the other.
fn band(along: &[At], scale: &Scale) -> String {
    let mut d = String::new();
    let back = along.iter().rev().map(|(x, y)| (*x, y[0]));
    for (at, (x, y)) in along
        .iter()
        .map(|(x, y)| (*x, y[2]))
        .chain(back)
        .enumerate()
    {
        let go = if at == 0 { 'M' } else { 'L' };
        let _ = write!(d, "{go}{} {}", scale.x(x), scale.y(y));
    }
    if !d.is_empty() {
        d.push('z');
    }
    d
}

fn line(along: &[At], scale: &Scale) -> String {
    let mut d = String::new();
    for (at, (x, y)) in along.iter().enumerate() {
        let go = if at == 0 { 'M' } else { 'L' };
        let _ = write!(d, "{go}{} {}", scale.x(*x), scale.y(y[1]));
    }
    d
}

fn discs(pairs: &[Pair], scale: &Scale, hollow: bool) -> String {
    let mut d = String::new();
    for pair in pairs {
        let x = scale.x(pair.reading.value());
        let y = scale.y(pair.concentration.value());
        let _ = write!(d, "M{} {y}a4 4 0 1 0 8 0a4 4 0 1 0-8 0", tenth(x - 4.0));
        if hollow {
            let _ = write!(d, "m2 0a2 2 0 1 1 4 0a2 2 0 1 1-4 0");
        }
    }
    d
}

#[cfg(test)]
mod tests {
    use super::*;
    use pentally_domain::curve::{Shape, Weighing};
    use pentally_domain::units::Concentration;

    fn pair(reading: f64, m_per_ml: f64) -> Pair {
        Pair {
            reading: InstrumentReading::new(reading).unwrap(),
            concentration: Concentration::new(m_per_ml).unwrap(),
            relative_error: None,
        }
    }

    #[test]
    fn the_picture_reaches_from_the_lowest_reading_to_the_highest_count() {
        let pairs = [
            pair(10.0, 100.0),
            pair(20.0, 210.0),
            pair(30.0, 290.0),
            pair(40.0, 410.0),
        ];
        let curve = Curve::fit(&pairs, Shape::Linear, Weighing::Plain).unwrap();
        let along = along(&curve);
        assert_eq!(along.len(), 41);
        let scale = Scale::of(&along, pairs.iter());
        assert_eq!((scale.x(10.0), scale.x(40.0)), (0.0, WIDTH));
        assert!(scale.top >= 410.0);
        assert_eq!(discs(&pairs, &scale, false).matches('M').count(), 4);
        let hollow = discs(&[pair(50.0, 0.0)], &scale, true);
        assert_eq!(hollow.matches('m').count(), 1);
    }
}
