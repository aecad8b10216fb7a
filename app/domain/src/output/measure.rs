//! What is watched in an ejaculate, and on which scale it is compared.

use serde::{Deserialize, Serialize};

/// A measure that is expected, seen and compared.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Measure {
    /// Gel-free volume in mL.
    Volume,
    /// Total sperm in 10⁹: volume times concentration.
    Total,
    /// Motile sperm in %.
    Motile,
    /// Abnormal sperm in %.
    Abnormal,
}

/// Shares nearer to 0 or 100 % than this are taken for it: nobody counts finer.
const FINEST_PERCENT: f64 = 0.5;

impl Measure {
    /// Every measure.
    pub const ALL: [Self; 4] = [Self::Volume, Self::Total, Self::Motile, Self::Abnormal];

    /// Its place in [`Measure::ALL`].
    pub const fn place(self) -> usize {
        match self {
            Self::Volume => 0,
            Self::Total => 1,
            Self::Motile => 2,
            Self::Abnormal => 3,
        }
    }

    /// Whether it is a share in %.
    pub const fn is_share(self) -> bool {
        matches!(self, Self::Motile | Self::Abnormal)
    }

    /// The value on the scale on which boars and circumstances add up and the spread is even:
    /// the logarithm of an amount, the log odds of a share. None for an amount of nothing.
    pub fn to_scale(self, value: f64) -> Option<f64> {
        if self.is_share() {
            let share = value.clamp(FINEST_PERCENT, 100.0 - FINEST_PERCENT) / 100.0;
            return Some((share / (1.0 - share)).ln());
        }
        (value > 0.0).then(|| value.ln())
    }

    /// The value, in the measure's own unit.
    pub fn from_scale(self, scaled: f64) -> f64 {
        if self.is_share() {
            100.0 / (1.0 + (-scaled).exp())
        } else {
            scaled.exp()
        }
    }

    /// By how much a value is worse than expected, in standard deviations: less of everything is
    /// worse, but of what is abnormal more.
    pub const fn worse(self, residual: f64) -> f64 {
        match self {
            Self::Abnormal => residual,
            Self::Volume | Self::Total | Self::Motile => -residual,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Measure;

    #[test]
    fn a_value_comes_back_from_its_scale() {
        for (measure, value) in [
            (Measure::Volume, 210.0),
            (Measure::Total, 48.5),
            (Measure::Motile, 82.0),
            (Measure::Abnormal, 12.0),
        ] {
            let back = measure.from_scale(measure.to_scale(value).unwrap());
            assert!((back - value).abs() < 1e-9, "{measure:?}: {back}");
        }
        assert_eq!(Measure::Total.to_scale(0.0), None);
        assert!(Measure::Abnormal.to_scale(0.0).unwrap().is_finite());
        assert_eq!(
            (Measure::Total.worse(-2.0), Measure::Abnormal.worse(2.0)),
            (2.0, 2.0)
        );
    }
}
