//! The day on which motility is down at the floor, with its interval, and the use-by it suggests.

use super::Floor;
use super::lines::Line;
use crate::explain::{Explained, Origin, Printed, Term};
use crate::extender::Keeping;
use crate::time::{HOUR_MS, Stamp, TimeError};
use serde::{Deserialize, Serialize};

/// Two-sided 90 % point of the normal distribution.
pub const Z90: f64 = 1.644_853_626_951_472_2;
/// Beyond so many days nothing is said: no class keeps semen half as long.
pub const HORIZON_DAYS: f64 = 30.0;

/// Days since collection at which motility is down at the floor; each absent where it is not within
/// [`HORIZON_DAYS`], and 0 where it is there from the start.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Day {
    /// As likely before as after.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub middle: Option<f64>,
    /// Before it with 5 %.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from: Option<f64>,
    /// After it with 5 %.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub to: Option<f64>,
    /// How each came about: the floor in logits, then the days that are not 0 and not beyond.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub figures: Vec<Explained>,
}

/// What a use-by rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum UseByFrom {
    /// The days of the class, or the farm's fewer: the looks give no reason for less.
    Days,
    /// The looks: with 5 % the batch is down at the floor by then, sooner than the days say.
    Looks,
}

/// A use-by to suggest; a person decides.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct UseBy {
    /// Whole hours from collection, never more than the days allow.
    pub hours: u16,
    /// What it rests on.
    pub from: UseByFrom,
}

/// Works out the day for a line. At any day the logit is normal, so the chance to be at the floor by
/// then needs no approximation but that the line falls; its bounds are the roots of one quadratic
/// (as in Fieller 1954, JRSS B 16:175).
pub fn day(line: &Line, floor: Floor) -> Day {
    let limit = Explained::new(
        Term::FloorLogit,
        "",
        "ln(floor_percent / (100 - floor_percent))",
        Printed::Definition,
    )
    .with(Term::Floor, floor.percent(), "%", Origin::Asked)
    .is(floor.logit());
    let middle = middle(line, &limit);
    let from = bound(line, &limit, Term::FloorFrom, -Z90);
    let to = bound(line, &limit, Term::FloorTo, Z90);
    let at = |found: &Found| match found {
        Found::Start => Some(0.0),
        Found::At(explained) => Some(explained.number()),
        Found::Never => None,
    };
    let (a, b, c) = (at(&middle), at(&from), at(&to));
    let shown = [middle, from, to].into_iter().filter_map(|f| match f {
        Found::At(explained) => Some(*explained),
        Found::Start | Found::Never => None,
    });
    Day {
        middle: a,
        from: b,
        to: c,
        figures: std::iter::once(limit).chain(shown).collect(),
    }
}

/// The earlier of what class and farm allow and the cautious end of the day; `looked` is whether
/// anybody looked at semen of this batch or this boar, since what is merely printed shortens nothing.
pub fn use_by(keeping: Keeping, day: &Day, looked: bool) -> UseBy {
    let allowed = u16::from(keeping.days().min(keeping.class().most_days())) * 24;
    let cautious = day
        .from
        .filter(|_| looked)
        .map(|days| (days * 24.0).floor());
    match cautious {
        Some(hours) if hours < f64::from(allowed) => UseBy {
            // Between 0 and what is allowed.
            hours: (0..allowed)
                .rev()
                .find(|h| f64::from(*h) <= hours)
                .unwrap_or(0),
            from: UseByFrom::Looks,
        },
        _ => UseBy {
            hours: allowed,
            from: UseByFrom::Days,
        },
    }
}

impl UseBy {
    /// The moment, for semen collected then.
    pub fn at(self, collected_at: Stamp) -> Result<Stamp, TimeError> {
        Stamp::new(
            collected_at.ms() + i64::from(self.hours) * HOUR_MS,
            collected_at.offset_min(),
        )
    }
}

enum Found {
    /// At the floor at collection already.
    Start,
    At(Box<Explained>),
    /// Not within the horizon.
    Never,
}

fn found(explained: Explained, days: f64) -> Found {
    match days > 0.0 && days <= HORIZON_DAYS {
        true => Found::At(Box::new(explained.is(days))),
        false => Found::Never,
    }
}

fn middle(line: &Line, limit: &Explained) -> Found {
    let [intercept, slope] = line.mean;
    if intercept <= limit.number() {
        return Found::Start;
    }
    let formula = "(floor_logit - intercept) / slope";
    let explained = Explained::new(Term::FloorDay, "d", formula, Printed::Definition)
        .after(limit)
        .with(Term::Intercept, intercept, "", Origin::Asked)
        .with(Term::Slope, slope, "", Origin::Asked);
    found(explained, (limit.number() - intercept) / slope)
}

/// The first day t at which k − slope·t ≥ z·√(v + 2c·t + w·t²), where k is what the intercept lies
/// above the floor, turned round.
fn bound(line: &Line, limit: &Explained, term: Term, z: f64) -> Found {
    let ([intercept, slope], [[of_intercept, both], [_, of_slope]]) =
        (line.mean, line.covariance.0);
    let k = limit.number() - intercept;
    if k >= z * of_intercept.max(0.0).sqrt() {
        return Found::Start;
    }
    let squared = slope * slope - z * z * of_slope;
    let half = k * slope + z * z * both;
    let inner = half * half - squared * (k * k - z * z * of_intercept);
    if inner < 0.0 {
        return Found::Never;
    }
    let root = |sign: f64| (half + sign * inner.sqrt()) / squared;
    // The two roots are those of both signs of z; the right one has k − slope·t of its own sign, or
    // none but rounding where nothing varies.
    let mut roots = [(root(-1.0), "-"), (root(1.0), "+")];
    roots.sort_by(|x, y| x.0.total_cmp(&y.0));
    let fits = |(t, _): &&(f64, &str)| *t > 0.0 && (k - slope * t) * z >= -1e-9;
    let Some((days, sign)) = roots.iter().find(fits) else {
        return Found::Never;
    };
    let formula = match *sign {
        "-" => BOUND_LESS,
        _ => BOUND_MORE,
    };
    let explained = Explained::new(term, "d", formula, Printed::Definition)
        .after(limit)
        .with(Term::Intercept, intercept, "", Origin::Asked)
        .with(Term::Slope, slope, "", Origin::Asked)
        .with(Term::InterceptVariance, of_intercept, "", Origin::Asked)
        .with(Term::SlopeVariance, of_slope, "", Origin::Asked)
        .with(Term::LineCovariance, both, "", Origin::Asked)
        .with(Term::Z, Z90, "", Origin::Default);
    found(explained, *days)
}

const BOUND_LESS: &str = "((floor_logit - intercept) * slope + z * z * line_covariance \
    - sqrt(((floor_logit - intercept) * slope + z * z * line_covariance) \
    * ((floor_logit - intercept) * slope + z * z * line_covariance) \
    - (slope * slope - z * z * slope_variance) * ((floor_logit - intercept) \
    * (floor_logit - intercept) - z * z * intercept_variance))) \
    / (slope * slope - z * z * slope_variance)";
const BOUND_MORE: &str = "((floor_logit - intercept) * slope + z * z * line_covariance \
    + sqrt(((floor_logit - intercept) * slope + z * z * line_covariance) \
    * ((floor_logit - intercept) * slope + z * z * line_covariance) \
    - (slope * slope - z * z * slope_variance) * ((floor_logit - intercept) \
    * (floor_logit - intercept) - z * z * intercept_variance))) \
    / (slope * slope - z * z * slope_variance)";

/// The chance, 0 to 1, that a line is at the floor or below after so many days.
pub fn chance_down(line: &Line, floor: Floor, days: f64) -> f64 {
    let [[v, c], [_, w]] = line.covariance.0;
    let spread = (v + 2.0 * c * days + w * days * days).max(0.0).sqrt();
    let short = floor.logit() - line.mean[0] - line.mean[1] * days;
    if spread > 0.0 {
        return 0.5 * libm::erfc(-short / spread / std::f64::consts::SQRT_2);
    }
    if short >= 0.0 { 1.0 } else { 0.0 }
}
