//! The line of each boar's next batch and of each batch looked at, given what is known of the herd.
//!
//! logit(p) = (herd + boar + batch) · (1, day) + sample: boar and batch each have an intercept and a
//! slope of their own, a sample something of its own that no other sample of the batch shares, all
//! normal. What is binomial is read as normal about its mode, one quadratic after another until the
//! mode stands still (penalised quasi-likelihood; Breslow & Clayton 1993, JASA 88:9). What looks say
//! is gathered from sample to batch to boar to herd and handed back down, two numbers at a time.

use super::Look;
use super::herd::Herd;
use super::plain::share;
use super::square::{Pair, Square, less, sum};
use serde::{Deserialize, Serialize};

/// The looks of one batch, in any order.
pub type Batch = Vec<Look>;

/// What is known of a line: normal, with this mean and covariance of intercept and slope.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Line {
    /// Intercept in logits and slope in logits a day.
    pub mean: Pair,
    /// Their covariance.
    pub covariance: Square,
}

/// One boar's lines.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Placed {
    /// Of his next batch: what varies from batch to batch is in it.
    pub next: Line,
    /// Of each batch, in the order given.
    pub batches: Vec<Line>,
}

/// The looks never came to rest about a mode: more than the arithmetic can hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, thiserror::Error)]
#[error("the fit did not come to rest; look whether a count is mistyped")]
pub struct NotSettled;

const ROUNDS: u16 = 200;
/// Logits stand still to this share of themselves, or of 1.
const STILL: f64 = 1e-10;

/// Where one boar's batches lie. The herd must not have been fitted to the same looks, or they count
/// twice: what [`super::herd::fit`] hands back beside the herd is for those.
pub fn place(herd: &Herd, batches: &[Batch]) -> Result<Placed, NotSettled> {
    let (settled, _) = settle(herd, &[batches.to_vec()])?;
    settled.boars.into_iter().next().ok_or(NotSettled)
}

/// What one round makes of the looks.
pub(super) struct Round {
    /// The herd's own line.
    pub herd: Line,
    pub boars: Vec<Placed>,
    /// How far a logit moved, as a share of itself or of 1.
    pub moved: f64,
    /// Second moments and how many stand in each.
    pub boar: (Square, usize),
    pub batch: (Square, usize),
    pub sample: (f64, usize),
}

impl Herd {
    /// What is known of the herd's line beforehand.
    fn said(&self) -> Option<Said> {
        let weight = self.covariance.inverse()?;
        Some(Said {
            weight,
            right: weight.of(self.mean),
        })
    }
}

/// The logits of all looks, at which the next quadratic is laid, and how far the way to its mode is
/// gone: half as far each time it gets longer.
pub(super) struct Logits {
    each: Vec<Vec<Vec<f64>>>,
    pace: f64,
    moved: f64,
}

/// What looks say of a line: an inverse covariance, and that times the mean.
#[derive(Clone, Copy, Default)]
struct Said {
    weight: Square,
    right: Pair,
}

impl Said {
    /// The same of what varies about the line by that covariance.
    fn blurred(self, by: Square) -> Option<Self> {
        let back = Square::ONE.plus(self.weight.by(by)).inverse()?;
        Some(Self {
            weight: back.by(self.weight),
            right: back.of(self.right),
        })
    }

    fn and(self, other: Self) -> Self {
        Self {
            weight: self.weight.plus(other.weight),
            right: sum(self.right, other.right),
        }
    }

    /// The line of one that varies about `about` by `spread`; the second moment of its own part.
    fn within(self, about: Line, spread: Square) -> Option<(Line, Square)> {
        let back = Square::ONE.plus(spread.by(self.weight)).inverse()?;
        let own = back.by(spread);
        let own = own.plus(own.turned()).times(0.5);
        let mean = back.of(sum(about.mean, spread.of(self.right)));
        let apart = back.plus(Square::ONE.times(-1.0));
        let part = less(mean, about.mean);
        let covariance = own.plus(back.around(about.covariance));
        let moment = Square::outer(part, part)
            .plus(own)
            .plus(apart.around(about.covariance));
        Some((Line { mean, covariance }, moment))
    }
}

impl Logits {
    /// Where each look stands by itself.
    pub(super) fn begin(boars: &[Vec<Batch>]) -> Self {
        let logit = |l: &Look| libm::log((l.hits() + 0.5) / (l.cells() - l.hits() + 0.5));
        let batch = |b: &Batch| b.iter().map(logit).collect();
        let each = boars.iter().map(|b| b.iter().map(batch).collect());
        Self {
            each: each.collect(),
            pace: 1.0,
            moved: f64::INFINITY,
        }
    }

    /// One round; the logits are then those of the new mode.
    pub(super) fn round(&mut self, herd: &Herd, boars: &[Vec<Batch>]) -> Option<Round> {
        let said: Vec<Vec<Said>> = boars
            .iter()
            .zip(&self.each)
            .map(|(batches, logits)| {
                let each = batches.iter().zip(logits);
                each.map(|(b, l)| heard(b, l, herd.samples)).collect()
            })
            .collect();
        let of_boars: Vec<Said> = said
            .iter()
            .map(|batches| of_boar(batches, herd))
            .collect::<Option<_>>()?;
        let of_all = of_boars.iter().try_fold(herd.said()?, |all, boar| {
            Some(all.and(boar.blurred(herd.boars)?))
        })?;
        let covariance = of_all.weight.inverse()?;
        let mut round = Round {
            herd: Line {
                mean: covariance.of(of_all.right),
                covariance,
            },
            boars: vec![],
            moved: 0.0,
            boar: Default::default(),
            batch: Default::default(),
            sample: Default::default(),
        };
        for (i, batches) in boars.iter().enumerate() {
            let (line, moment) = of_boars[i].within(round.herd, herd.boars)?;
            if batches.iter().any(|b| !b.is_empty()) {
                round.boar = (round.boar.0.plus(moment), round.boar.1 + 1);
            }
            let mut placed = Placed {
                next: Line {
                    mean: line.mean,
                    covariance: line.covariance.plus(herd.batches),
                },
                batches: vec![],
            };
            for (j, looks) in batches.iter().enumerate() {
                let (line_of, moment) = said[i][j].within(line, herd.batches)?;
                if !looks.is_empty() {
                    round.batch = (round.batch.0.plus(moment), round.batch.1 + 1);
                }
                let logits = (&mut self.each[i][j][..], self.pace);
                samples(looks, logits, line_of, herd.samples, &mut round);
                placed.batches.push(line_of);
            }
            round.boars.push(placed);
        }
        self.pace = if round.moved > self.moved {
            (self.pace / 2.0).max(1.0 / 64.0)
        } else if round.moved <= (1.0 - self.pace / 2.0) * self.moved {
            (2.0 * self.pace).min(1.0)
        } else {
            self.pace
        };
        self.moved = round.moved;
        round.moved.is_finite().then_some(round)
    }
}

/// Rounds until the mode stands still, for a herd that is given.
pub(super) fn settle(herd: &Herd, boars: &[Vec<Batch>]) -> Result<(Round, u16), NotSettled> {
    settle_from(herd, boars, Logits::begin(boars))
}

/// The same, from where the logits stand.
pub(super) fn settle_from(
    herd: &Herd,
    boars: &[Vec<Batch>],
    mut logits: Logits,
) -> Result<(Round, u16), NotSettled> {
    for count in 1..=ROUNDS {
        let round = logits.round(herd, boars).ok_or(NotSettled)?;
        if round.moved <= STILL {
            return Ok((round, count));
        }
    }
    Err(NotSettled)
}

fn of_boar(batches: &[Said], herd: &Herd) -> Option<Said> {
    batches.iter().try_fold(Said::default(), |all, batch| {
        Some(all.and(batch.blurred(herd.batches)?))
    })
}

/// The binomial weight of a look and its working logit.
fn working(look: &Look, logit: f64) -> (f64, f64) {
    let p = share(logit);
    let weight = (look.cells() * p * (1.0 - p)).max(1e-9);
    (weight, logit + (look.hits() - look.cells() * p) / weight)
}

fn heard(looks: &[Look], logits: &[f64], of_samples: f64) -> Said {
    let add = |all: Said, (look, logit): (&Look, &f64)| {
        let (weight, working) = working(look, *logit);
        let weight = weight / (1.0 + weight * of_samples);
        let x = [1.0, look.day()];
        let right = x.map(|x| x * weight * working);
        all.and(Said {
            weight: Square::outer(x, x).times(weight),
            right,
        })
    };
    looks.iter().zip(logits).fold(Said::default(), add)
}

/// What each sample has of its own, and its logit at the new mode. A logit moves by 2 at most in one
/// round, so that a quadratic laid far out does not throw it further out.
fn samples(
    looks: &[Look],
    (logits, pace): (&mut [f64], f64),
    line: Line,
    of_samples: f64,
    round: &mut Round,
) {
    for (look, logit) in looks.iter().zip(logits) {
        let (weight, working) = working(look, *logit);
        let x = [1.0, look.day()];
        let on_line = x[0] * line.mean[0] + x[1] * line.mean[1];
        let kept = of_samples * weight / (1.0 + of_samples * weight);
        let own = kept * (working - on_line);
        let left = of_samples / (1.0 + of_samples * weight);
        let spread = line.covariance.of(x);
        let spread = x[0] * spread[0] + x[1] * spread[1];
        let moment = own * own + left + kept * kept * spread;
        round.sample = (round.sample.0 + moment, round.sample.1 + 1);
        let way = on_line + own - *logit;
        round.moved = if way.is_finite() {
            round.moved.max(way.abs() / (1.0 + logit.abs()))
        } else {
            f64::NAN
        };
        *logit += (pace * way).clamp(-2.0, 2.0);
    }
}
