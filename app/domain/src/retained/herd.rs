//! The herd's line, and how much boars, batches and samples vary about it, for one class of extender.

use super::lines::{Batch, Line, Logits, NotSettled, Placed, settle_from};
use super::square::{Pair, Square};
use super::{Floor, Look};
use crate::extender::ExtenderClass;
use crate::units::{BoundError, within};
use serde::{Deserialize, Serialize};

/// What is known of a herd's semen in one class of extender.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Herd {
    /// The herd's intercept in logits and slope in logits a day.
    pub mean: Pair,
    /// How well both are known.
    pub covariance: Square,
    /// How boars vary about them.
    pub boars: Square,
    /// How batches of one boar vary.
    pub batches: Square,
    /// How samples of one batch vary beyond the chance of the cells, a variance in logits².
    pub samples: f64,
}

/// A herd fitted, and where its boars and batches lie by the same looks.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Fitted {
    /// The herd.
    pub herd: Herd,
    /// The boars, in the order given.
    pub boars: Vec<Placed>,
    /// Looks that went in.
    pub looks: usize,
    /// Whether the variances came to rest within the rounds allowed; they are close where not.
    pub rested: bool,
}

/// Motility at collection that is expected before any look, in % (common practice, no source).
const FRESH_PERCENT: f64 = 85.0;
/// Standard deviations before any look: of the herd's intercept in logits and of its slope as a
/// share of the slope; of boars and of batches about it likewise; of samples in logits. Wide on
/// purpose (common practice, no source).
const HERD_SD: Pair = [0.6, 0.6];
const BOARS_SD: Pair = [0.35, 0.25];
const BATCHES_SD: Pair = [0.35, 0.25];
const SAMPLES_SD: f64 = 0.25;
/// As many boars, batches and samples the guesses of their variances are worth.
const WORTH: f64 = 2.0;
const ROUNDS: u16 = 1000;
/// Variances stand still to this share of themselves.
const STILL: f64 = 1e-6;

impl Herd {
    /// What is printed of a class before anybody looked: from 85 % at collection to 60 % on the last
    /// day that its label may promise (3, 5 and 10 d; see [`ExtenderClass::most_days`]), wide.
    pub fn printed(class: ExtenderClass) -> Self {
        let fresh = libm::log(FRESH_PERCENT / (100.0 - FRESH_PERCENT));
        let slope = (Floor::HARD.logit() - fresh) / f64::from(class.most_days());
        let about = |sd: Pair| {
            let of_slope = sd[1] * slope;
            Square::diagonal(sd[0] * sd[0], of_slope * of_slope)
        };
        Self {
            mean: [fresh, slope],
            covariance: about(HERD_SD),
            boars: about(BOARS_SD),
            batches: about(BATCHES_SD),
            samples: SAMPLES_SD * SAMPLES_SD,
        }
    }

    /// The herd of a request: refuses what can be no mean and no variance.
    pub fn checked(self) -> Result<Self, BoundError> {
        within("herd.mean", self.mean[0], -10.0..=10.0, "logits")?;
        within("herd.mean", self.mean[1], -10.0..=10.0, "logits a day")?;
        within("herd.samples", self.samples, 0.0..=100.0, "logits²")?;
        for (field, square) in [
            ("herd.covariance", self.covariance),
            ("herd.boars", self.boars),
            ("herd.batches", self.batches),
        ] {
            for read in square.0.iter().flatten() {
                within(field, *read, -100.0..=100.0, "logits²")?;
            }
            // Of a square that passes, this is its determinant, or what it is out of balance.
            let [[a, b], [c, d]] = square.0;
            let off = if b == c {
                a.min(d).min(a * d - b * b)
            } else {
                -(b - c).abs()
            };
            if !square.is_covariance() {
                within(field, off.min(-f64::MIN_POSITIVE), 0.0..=1e4, "logits⁴")?;
            }
        }
        match self.covariance.inverse() {
            Some(_) => Ok(self),
            None => {
                within("herd.covariance", 0.0, f64::MIN_POSITIVE..=1e4, "logits⁴").map(|_| self)
            }
        }
    }

    /// The line of a batch of a boar nobody knows.
    pub fn of_any(&self) -> Line {
        let spread = self.covariance.plus(self.boars);
        Line {
            mean: self.mean,
            covariance: spread.plus(self.batches),
        }
    }
}

/// Fits the herd to all looks: variances by expectation and maximisation (Dempster, Laird & Rubin
/// 1977, JRSS B 39:1; Laird & Ware 1982, Biometrics 38:963) about the mode of [`super::lines`].
/// `prior` is what is known beforehand, and what comes out where there is no look. Semen pooled of
/// several boars stands as a boar of its own.
pub fn fit(prior: &Herd, boars: &[Vec<Batch>]) -> Result<Fitted, NotSettled> {
    let mut herd = *prior;
    let mut logits = Logits::begin(boars);
    let mut rested = false;
    for _ in 0..ROUNDS {
        let round = logits.round(&herd, boars).ok_or(NotSettled)?;
        let next = Herd {
            boars: weighed(prior.boars, round.boar),
            batches: weighed(prior.batches, round.batch),
            samples: (WORTH * prior.samples + round.sample.0) / (WORTH + round.sample.1 as f64),
            ..herd
        };
        rested = still(&herd, &next) && round.moved <= STILL;
        herd = next;
        if rested {
            break;
        }
    }
    let (round, _) = settle_from(&herd, boars, logits)?;
    let looks = |batches: &Vec<Batch>| batches.iter().map(Vec::<Look>::len).sum::<usize>();
    Ok(Fitted {
        herd: Herd {
            mean: round.herd.mean,
            covariance: round.herd.covariance,
            ..herd
        },
        boars: round.boars,
        looks: boars.iter().map(looks).sum(),
        rested,
    })
}

fn weighed(guess: Square, (moments, many): (Square, usize)) -> Square {
    let all = guess.times(WORTH).plus(moments);
    let Square([[a, b], [c, d]]) = all.times(1.0 / (WORTH + many as f64));
    let beside = (b + c) / 2.0;
    Square([[a, beside], [beside, d]])
}

fn still(before: &Herd, after: &Herd) -> bool {
    let near = |a: f64, b: f64| (a - b).abs() <= STILL * a.abs();
    let diagonal = |square: &Square| [square.0[0][0], square.0[1][1]];
    let all = |herd: &Herd| {
        let [a, b] = diagonal(&herd.boars);
        let [c, d] = diagonal(&herd.batches);
        [a, b, c, d, herd.samples]
    };
    all(before).iter().zip(all(after)).all(|(a, b)| near(*a, b))
}
