//! A picture of how warm it became each day, with the farm's limit across it.

use crate::words::{Words, key};
use chrono::{Days, NaiveDate};
use leptos::prelude::*;
use pentally_domain::climate::FarmDay;
use pentally_domain::farm::Standard;
use std::fmt::Write;

/// The picture's own measure.
const WIDTH: f64 = 320.0;
const HEIGHT: f64 = 120.0;
/// As far back as hot days still show.
const REACHES_DAYS: u16 = 60;
/// Room above and below, in °C.
const MARGIN: f64 = 2.0;

/// One day that was read.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Dot {
    /// Days since the left edge.
    at: u16,
    /// The highest temperature of any room, in °C.
    high: f64,
    hot: bool,
}

/// The daily highest temperatures; none where nothing was read for so long.
pub(super) fn picture(
    w: &Words,
    days: &[FarmDay],
    standard: &Standard,
    today: NaiveDate,
) -> Option<AnyView> {
    let first = today.checked_sub_days(Days::new(REACHES_DAYS.into()))?;
    let dots = dots(days, first);
    let limit = f64::from(standard.hot_celsius);
    let scale = Scale::of(&dots, limit)?;
    let args = [
        ("limit", standard.hot_celsius.into()),
        ("low", w.num(scale.low, 0).into()),
        ("high", w.num(scale.high, 0).into()),
    ];
    let says = w.tr_with(key::CLIMATE_CHART, &args);
    let edge = scale.y(limit);
    Some(
        view! {
            <figure class="plot">
                <svg viewBox=format!("-6 -6 {} {}", WIDTH + 12.0, HEIGHT + 12.0) role="img" aria-label=says.clone()>
                    <path class="ground" d=format!("M0 {HEIGHT}H{WIDTH}")/>
                    <path class="edge" d=format!("M0 {edge}H{WIDTH}")/>
                    <path d=line(&dots, &scale)/>
                    <path class="hot" d=hot(&dots, &scale)/>
                </svg>
                <figcaption><span>{w.day_month(first)}</span><span>{w.day_month(today)}</span></figcaption>
            </figure>
            <p class="small quiet">{says}</p>
        }
        .into_any(),
    )
}

fn dots(days: &[FarmDay], first: NaiveDate) -> Vec<Dot> {
    let dot = |day: &FarmDay| {
        let at = u16::try_from((day.day - first).num_days()).ok()?;
        let highs = day.rooms.iter().map(|r| r.highest.value());
        Some(Dot {
            at,
            high: highs.max_by(f64::total_cmp)?,
            hot: day.hot.is_some_and(|share| share > 0.0),
        })
    };
    let dots = days.iter().filter_map(dot);
    dots.filter(|d| d.at <= REACHES_DAYS).collect()
}

/// °C at the foot and at the top.
struct Scale {
    low: f64,
    high: f64,
}

impl Scale {
    /// None without a day.
    fn of(dots: &[Dot], limit: f64) -> Option<Self> {
        let highs = || dots.iter().map(|d| d.high);
        let (low, high) = (
            highs().min_by(f64::total_cmp)?,
            highs().max_by(f64::total_cmp)?,
        );
        Some(Self {
            low: (low.min(limit) - MARGIN).floor(),
            high: (high.max(limit) + MARGIN).ceil(),
        })
    }

    fn y(&self, celsius: f64) -> f64 {
        tenth((self.high - celsius) / (self.high - self.low) * HEIGHT)
    }
}

fn x(at: u16) -> f64 {
    tenth(f64::from(at) / f64::from(REACHES_DAYS) * WIDTH)
}

fn tenth(value: f64) -> f64 {
    (value * 10.0).round() / 10.0
}

/// From day to day; where a day was not read, the line breaks off. A day alone is a dash, wider than a day.
fn line(dots: &[Dot], scale: &Scale) -> String {
    let mut d = String::new();
    let mut before = None;
    let read = |at: u16| dots.iter().any(|dot| dot.at == at);
    for dot in dots {
        let (x, y) = (x(dot.at), scale.y(dot.high));
        let _ = if before == dot.at.checked_sub(1) && before.is_some() {
            write!(d, "L{x} {y}")
        } else {
            let alone = !read(dot.at + 1);
            let half = if alone { 5.0 } else { 0.0 };
            write!(d, "M{} {y}H{}", tenth(x - half), tenth(x + half))
        };
        before = Some(dot.at);
    }
    d
}

fn hot(dots: &[Dot], scale: &Scale) -> String {
    let mut d = String::new();
    for dot in dots.iter().filter(|d| d.hot) {
        let (x, y) = (x(dot.at), scale.y(dot.high));
        let _ = write!(d, "M{} {y}a4 4 0 1 0 8 0a4 4 0 1 0-8 0", tenth(x - 4.0));
    }
    d
}

#[cfg(test)]
mod tests {
    use super::*;

    const fn dot(at: u16, high: f64) -> Dot {
        Dot {
            at,
            high,
            hot: high >= 27.0,
        }
    }

    #[test]
    fn days_stand_at_their_height_and_what_nobody_read_is_a_gap() {
        let dots = [dot(0, 20.0), dot(1, 30.0), dot(30, 20.0)];
        let scale = Scale::of(&dots, 27.0).unwrap();
        assert_eq!((scale.low, scale.high), (18.0, 32.0));
        assert_eq!((scale.y(32.0), scale.y(18.0)), (0.0, HEIGHT));
        let d = line(&dots, &scale);
        assert_eq!(
            (d.matches('M').count(), d.matches('L').count()),
            (2, 1),
            "{d}"
        );
        assert_eq!(hot(&dots, &scale).matches('M').count(), 1);
        assert!(Scale::of(&[], 27.0).is_none());
    }
}
