//! A polynomial of one reading, fitted on the reading moved and scaled to −1 to 1.

use super::double::Double;
use super::regress::{Combined, RegressError, Regression};

/// y = constant + b₁x + b₂x² + …
#[derive(Debug, Clone, PartialEq)]
pub struct Polynomial {
    middle: Double,
    half: Double,
    degree: usize,
    fitted: Regression,
}

impl Polynomial {
    /// Fits a polynomial of that degree, from 1; `weights` are inverse to variances.
    pub fn fit(
        x: &[f64],
        y: &[f64],
        weights: Option<&[f64]>,
        degree: usize,
    ) -> Result<Self, RegressError> {
        if !x.iter().all(|x| x.is_finite()) {
            return Err(RegressError::NotFinite);
        }
        let low = x.iter().copied().fold(f64::INFINITY, f64::min);
        let high = x.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let middle = Double::from((low + high) / 2.0);
        let half = Double::from(if high > low { (high - low) / 2.0 } else { 1.0 });
        let scaled: Vec<_> = x
            .iter()
            .map(|x| (Double::from(*x) - middle) / half)
            .collect();
        let column = |power| scaled.iter().map(|t| raised(*t, power)).collect();
        let columns: Vec<_> = (1..=degree).map(column).collect();
        let fitted = Regression::fit_exact(&columns, true, y, weights)?;
        Ok(Self {
            middle,
            half,
            degree,
            fitted,
        })
    }

    /// What was fitted: residuals, degrees of freedom.
    pub const fn fitted(&self) -> &Regression {
        &self.fitted
    }

    /// What is expected at `x`, and the variance of that.
    pub fn at(&self, x: f64) -> Combined {
        self.fitted.combine_exact(&self.row(x))
    }

    /// Σ number × what is expected at x.
    pub fn over(&self, numbers: &[(f64, f64)]) -> Combined {
        let mut sum = vec![Double::ZERO; self.degree + 1];
        for (number, x) in numbers {
            for (cell, term) in sum.iter_mut().zip(self.row(*x)) {
                *cell = *cell + Double::from(*number) * term;
            }
        }
        self.fitted.combine_exact(&sum)
    }

    /// How much y rises per unit of x, at `x`.
    pub fn slope(&self, x: f64) -> Combined {
        let t = (Double::from(x) - self.middle) / self.half;
        let term = |j: usize| match j {
            0 => Double::ZERO,
            _ => Double::from(j as f64) * raised(t, j - 1) / self.half,
        };
        let row: Vec<_> = (0..=self.degree).map(term).collect();
        self.fitted.combine_exact(&row)
    }

    /// The coefficient of x to the `power`, in raw units.
    pub fn coefficient(&self, power: usize) -> Combined {
        let back = Double::ZERO - self.middle;
        let term = |j: usize| {
            if j < power {
                return Double::ZERO;
            }
            let far = raised(back, j - power) / raised(self.half, j);
            Double::from(ways(j, power)) * far
        };
        let row: Vec<_> = (0..=self.degree).map(term).collect();
        self.fitted.combine_exact(&row)
    }

    fn row(&self, x: f64) -> Vec<Double> {
        let t = (Double::from(x) - self.middle) / self.half;
        (0..=self.degree).map(|power| raised(t, power)).collect()
    }
}

fn raised(x: Double, power: usize) -> Double {
    (0..power).fold(Double::from(1.0), |product, _| product * x)
}

/// In how many ways `few` are chosen of `many`.
fn ways(many: usize, few: usize) -> f64 {
    (0..few).fold(1.0, |ways, k| ways * (many - k) as f64 / (k + 1) as f64)
}
