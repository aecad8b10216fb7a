//! What a fit says of a group and of its next row: a few short loops, for phones.

use super::fit::Fit;
use super::packed::{dot, quadratic};
use super::sums::{RowError, Sums};
use serde::{Deserialize, Serialize};

/// Two-sided 90 % point of the normal distribution, to the last bit of a double.
pub const Z90: f64 = 1.644_853_626_951_472_2;

/// What is expected, and how sure that is.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Predicted {
    /// The mean, in the measure's unit.
    pub mean: f64,
    /// The standard deviation, in the measure's unit.
    pub sd: f64,
}

impl Predicted {
    /// Where nine of ten are expected, low and high end.
    ///
    /// By the normal distribution: most of `sd` is the residual variance, known from as many rows as
    /// were fitted, a herd's thousands or as many as the prior is worth. By Student's distribution
    /// 1.645 would be 1.660 with 100 degrees of freedom and 1.697 with 30 (NIST/SEMATECH
    /// e-Handbook 1.3.6.7.2), so that with 30 in all the band is 3 % too narrow.
    pub fn interval(&self) -> [f64; 2] {
        [self.mean - Z90 * self.sd, self.mean + Z90 * self.sd]
    }

    /// How many of its standard deviations what was seen lies above (below 0) the mean.
    pub fn distance(&self, seen: f64) -> f64 {
        (seen - self.mean) / self.sd
    }
}

impl Fit {
    /// The next row of the group whose earlier rows are in `sums`: the best linear unbiased
    /// prediction (Henderson 1975, Biometrics 31:423), and for a group with no rows that of the
    /// population.
    ///
    /// `sd` is that of a new row about the mean: the residual, what is not known of the group, and
    /// what is not known of the columns' effects. `sums` may hold rows the fit has not seen: given
    /// the effects, what is left unknown of a group is uncorrelated with all rows of it, so the
    /// three still simply add up.
    pub fn predict(&self, x: &[f64], sums: &Sums) -> Result<Predicted, RowError> {
        self.same_width(x.len())?;
        let effect = self.group(sums)?;
        let apart: Vec<f64> = (x.iter().zip(&sums.x))
            .map(|(x, sum)| x - effect.shrink * sum)
            .collect();
        let variance = self.residual + effect.unknown + quadratic(&self.cov, &apart);
        Ok(Predicted {
            mean: dot(x, &self.beta) + effect.mean,
            sd: variance.sqrt(),
        })
    }

    /// What the group has of its own beside the columns' effects, and the standard deviation of
    /// that prediction.
    pub fn effect(&self, sums: &Sums) -> Result<Predicted, RowError> {
        let effect = self.group(sums)?;
        let of_columns = quadratic(&self.cov, &sums.x) * effect.shrink * effect.shrink;
        Ok(Predicted {
            mean: effect.mean,
            sd: (effect.unknown + of_columns).sqrt(),
        })
    }

    fn group(&self, sums: &Sums) -> Result<Group, RowError> {
        self.same_width(sums.x.len())?;
        let n = f64::from(sums.n);
        let shrink = self.between / (self.residual + n * self.between);
        Ok(Group {
            shrink,
            mean: shrink * (sums.y - dot(&sums.x, &self.beta)),
            unknown: shrink * self.residual,
        })
    }

    const fn same_width(&self, found: usize) -> Result<(), RowError> {
        let columns = self.beta.len();
        if found == columns {
            Ok(())
        } else {
            Err(RowError::Width { found, columns })
        }
    }
}

/// A group, the columns' effects taken as known.
struct Group {
    /// How much of the sum of its residuals it keeps.
    shrink: f64,
    mean: f64,
    /// The variance about that mean.
    unknown: f64,
}
