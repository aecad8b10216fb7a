//! What is known before there are rows.

use serde::{Deserialize, Serialize};

/// What is known beforehand of each number of the model. Absent is flat: nothing.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Prior {
    /// Of each column's effect, in the columns' order.
    pub columns: Vec<Option<Normal>>,
    /// Of the variance between groups.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub between: Option<Variance>,
    /// Of the variance within groups.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub residual: Option<Variance>,
}

/// An effect as known beforehand, in the measure's unit per unit of the column.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Normal {
    /// The likeliest value.
    pub mean: f64,
    /// Its standard deviation, above 0.
    pub sd: f64,
}

/// A variance as known beforehand: a scaled inverse chi-square (Gelman et al., Bayesian Data
/// Analysis, 3rd ed., appendix A), written as what is as good to know, so many earlier observations.
///
/// Its mode, on the scale of the logarithm, is the guess itself, whatever the weight.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Variance {
    /// The guess, in the measure's unit squared, above 0.
    pub guess: f64,
    /// How many observations it is worth (degrees of freedom), above 0: groups for the variance
    /// between them, rows for the one within.
    pub weight: f64,
}

/// What a prior cannot be.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum PriorError {
    /// A column's mean is no number or its standard deviation none above 0.
    #[error(
        "the prior of column {0} needs a finite mean and a finite standard deviation above 0; leave it out where nothing is known"
    )]
    Column(usize),
    /// The variance between groups.
    #[error(
        "the prior of the variance between groups needs a finite guess and weight, both above 0; leave it out where nothing is known"
    )]
    Between,
    /// The variance within groups.
    #[error(
        "the prior of the variance within groups needs a finite guess and weight, both above 0; leave it out where nothing is known"
    )]
    Residual,
}

impl Prior {
    /// Nothing is known of any of so many columns, nor of the variances.
    pub fn flat(columns: usize) -> Self {
        Self {
            columns: vec![None; columns],
            between: None,
            residual: None,
        }
    }

    /// Of how many columns nothing is known.
    pub(super) fn flat_columns(&self) -> usize {
        self.columns.iter().filter(|c| c.is_none()).count()
    }

    /// The mean of each column's effect, 0 where nothing is known.
    pub(super) fn means(&self) -> Vec<f64> {
        let mean = |c: &Option<Normal>| c.map_or(0.0, |known| known.mean);
        self.columns.iter().map(mean).collect()
    }

    pub(super) fn check(&self) -> Result<(), PriorError> {
        for (at, known) in self.columns.iter().enumerate() {
            if !known.is_none_or(|k| k.mean.is_finite() && above_zero(k.sd)) {
                return Err(PriorError::Column(at));
            }
        }
        let fine =
            |v: &Option<Variance>| v.is_none_or(|v| above_zero(v.guess) && above_zero(v.weight));
        if !fine(&self.between) {
            return Err(PriorError::Between);
        }
        fine(&self.residual)
            .then_some(())
            .ok_or(PriorError::Residual)
    }
}

impl Variance {
    /// Minus twice the logarithm of the prior at a variance, but for a constant.
    pub(super) fn penalty(self, variance: f64) -> f64 {
        self.weight * (variance.ln() + self.guess / variance)
    }

    /// The sum of squares of the observations it is worth.
    pub(super) const fn squares(self) -> f64 {
        self.weight * self.guess
    }
}

fn above_zero(value: f64) -> bool {
    value > 0.0 && value.is_finite()
}
