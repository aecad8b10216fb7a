//! An outlook as it is sent to phones: no longer than it has to be.

use super::outlook::{Outlook, Past};
use crate::mixed::{Fit, Sums};
use crate::watch::Chart;

impl Outlook {
    /// The same with eight significant digits, as it is sent to phones: its JSON is about a fifth
    /// shorter. What is expected by it differs by less than a ten-thousandth of its standard deviation.
    #[must_use]
    pub fn rounded(&self) -> Self {
        let boars = self.boars.iter();
        Self {
            made_at_ms: self.made_at_ms,
            columns: self.columns.clone(),
            fits: self.fits.iter().map(fit).collect(),
            boars: boars.map(|(boar, p)| (*boar, past(p))).collect(),
            // Shares of rooms stay as they are: a third of a day, three times, is one day.
            heat: self.heat.clone(),
        }
    }
}

fn fit(fit: &Fit) -> Fit {
    Fit {
        beta: all(&fit.beta),
        cov: all(&fit.cov),
        between: digits(fit.between),
        residual: digits(fit.residual),
        log_likelihood: digits(fit.log_likelihood),
        ..*fit
    }
}

fn past(past: &Past) -> Past {
    let sums = |sums: &Sums| Sums {
        n: sums.n,
        x: all(&sums.x),
        y: digits(sums.y),
    };
    Past {
        through: past.through,
        sums: past.sums.iter().map(sums).collect(),
        charts: past.charts.iter().map(Chart::rounded).collect(),
        signals: past.signals.clone(),
    }
}

fn all(values: &[f64]) -> Vec<f64> {
    values.iter().map(|value| digits(*value)).collect()
}

/// The value to eight significant digits.
pub(crate) fn digits(value: f64) -> f64 {
    format!("{value:.7e}").parse().unwrap_or(value)
}
