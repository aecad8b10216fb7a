//! What bears on an ejaculate, as columns of the model, and what is known of each beforehand.

use super::{Bearing, Measure};
use crate::mixed::{Normal, Prior, Variance};
use crate::said::Label;
use serde::{Deserialize, Serialize};
use std::f64::consts::TAU;

/// The columns of one herd's model: the same for all measures, but that each herd has lines of its own.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Columns {
    /// The lines that have a column; boars of others stand at the mean.
    pub lines: Vec<Label>,
}

/// So many lines have a column; rarer ones are left to the boars themselves.
pub const LINES_MAX: usize = 5;

/// What every herd's model has, in this order: the mean (a grown boar of no named line after five days'
/// rest, both fractions in the cup), three of age, four of rest, two of season, one of heat and
/// two of fractions.
const COMMON: usize = 13;

impl Columns {
    /// How many there are.
    pub const fn count(&self) -> usize {
        COMMON + self.lines.len()
    }

    /// The row of one ejaculate. What is not known stands where the mean is.
    pub fn row(&self, on: &Bearing) -> Vec<f64> {
        let mut row = vec![1.0];
        row.extend(age(on.age_days));
        row.extend(rest(on.rest_days));
        let turn = TAU * f64::from(on.day_of_year) / 365.25;
        row.extend([turn.sin(), turn.cos(), heat(on.hot_days)]);
        row.extend(match on.sperm_poor_in {
            Some(true) => [0.0, 0.0],
            Some(false) => [1.0, 0.0],
            None => [0.0, 1.0],
        });
        let own = on.line.as_ref().map(Label::folded);
        let is = |line: &Label| f64::from(u8::from(own.as_ref() == Some(&line.folded())));
        row.extend(self.lines.iter().map(is));
        row
    }

    /// The row against which a fall is watched for: as [`Columns::row`], but a short rest and heat are
    /// not taken for granted. What overuse and heat cost is to be noticed, not expected.
    pub fn row_watched(&self, on: &Bearing) -> Vec<f64> {
        self.row(&Bearing {
            rest_days: on.rest_days.map(|days| days.max(RESTED_DAYS)),
            hot_days: None,
            ..on.clone()
        })
    }

    /// What is known before the farm's own entries.
    pub fn prior(&self, measure: Measure) -> Prior {
        let (columns, between_sd, residual_sd) = known(measure);
        let normal = |(mean, sd): (f64, f64)| Some(Normal { mean, sd });
        let lines = self.lines.iter().map(|_| (0.0, 0.2));
        // Worth a handful of boars and of their collections: a farm's own entries soon outweigh it.
        let variance = |sd: f64, weight: f64| {
            Some(Variance {
                guess: sd * sd,
                weight,
            })
        };
        Prior {
            columns: columns.into_iter().chain(lines).map(normal).collect(),
            between: variance(between_sd, 6.0),
            residual: variance(residual_sd, 12.0),
        }
    }
}

/// From so many days of rest on nobody speaks of overuse (rest 3–7 d: Knox et al. 2008).
const RESTED_DAYS: i64 = 3;
const MONTH_DAYS: f64 = 365.25 / 12.0;

/// Shares, 0 to 1, of what is still to come of his youth (7 to 12 months), of growing on (12 to 24)
/// and of old age (42 months and over; the peak lies at about 2 years, or output still rises to
/// 3½: sources conflict).
fn age(days: Option<i64>) -> [f64; 3] {
    let Some(days) = days else { return [0.0; 3] };
    let months = whole(days) / MONTH_DAYS;
    [
        (12.0 - months.clamp(7.0, 12.0)) / 5.0,
        (24.0 - months.clamp(12.0, 24.0)) / 12.0,
        (months.clamp(42.0, 78.0) - 42.0) / 36.0,
    ]
}

/// Days short of three, days about five, days over seven up to eleven, and whether it was a long pause:
/// volume is back after 3 days, number at 5–7, full at 10–11 (Smital 2009); over 14 days the first is a
/// clean-out (common practice, no source).
fn rest(days: Option<i64>) -> [f64; 4] {
    let Some(days) = days else { return [0.0; 4] };
    let days = whole(days);
    [
        3.0 - days.clamp(1.0, 3.0),
        days.clamp(3.0, 7.0) - 5.0,
        days.clamp(7.0, 11.0) - 7.0,
        f64::from(u8::from(days > 14.0)),
    ]
}

/// Hot days beyond the three that are tolerated, up to ten, as a share of seven (under 4 tolerated,
/// over 7 not: trials at 33–38 °C).
fn heat(hot_days: Option<f64>) -> f64 {
    (hot_days.unwrap_or(0.0) - 3.0).clamp(0.0, 10.0) / 7.0
}

#[expect(clippy::cast_precision_loss, reason = "days of a boar's life are few")]
const fn whole(days: i64) -> f64 {
    days as f64
}

/// The 13 common columns' effects, mean and standard deviation, on the measure's scale; then the
/// standard deviations between boars and from one ejaculate to the next.
///
/// Levels lie within the printed ranges (50–500 mL, 60–80×10⁹ or 20–60×10⁹, over 70 % motile, over 80 %
/// normal). Signs and sizes of the effects follow what is said at each column; the figures
/// themselves are our reading of it (common practice, no source), wide enough that a herd's own
/// entries decide.
const fn known(measure: Measure) -> ([(f64, f64); COMMON], f64, f64) {
    match measure {
        Measure::Volume => (
            [
                (5.4, 0.4), // 220 mL
                (-0.30, 0.2),
                (-0.10, 0.1),
                (0.0, 0.15),
                (-0.10, 0.08),
                (0.02, 0.03),
                (0.01, 0.02),
                (0.05, 0.15),
                (0.0, 0.08),
                (0.0, 0.08),
                (-0.05, 0.10),
                (-0.50, 0.3),
                (-0.20, 0.3),
            ],
            0.25,
            0.25,
        ),
        Measure::Total => (
            [
                (3.9, 0.5), // 50×10⁹
                (-0.40, 0.2),
                (-0.10, 0.1),
                (-0.10, 0.15),
                (-0.15, 0.08),
                (0.05, 0.03),
                (0.02, 0.02),
                (0.05, 0.15),
                (0.0, 0.08),
                (0.0, 0.08),
                (-0.20, 0.15),
                (-0.10, 0.15),
                (-0.05, 0.15),
            ],
            0.30,
            0.33,
        ),
        Measure::Motile => (
            [
                (1.6, 0.6), // 83 %
                (-0.10, 0.2),
                (0.0, 0.1),
                (-0.10, 0.2),
                (-0.10, 0.10),
                (0.0, 0.03),
                (-0.03, 0.04),
                (-0.30, 0.3),
                (0.0, 0.10),
                (0.0, 0.10),
                (-0.40, 0.3),
                (0.0, 0.10),
                (0.0, 0.10),
            ],
            0.35,
            0.45,
        ),
        Measure::Abnormal => (
            [
                (-1.9, 0.7), // 13 %
                (0.20, 0.2),
                (0.0, 0.1),
                (0.10, 0.2),
                (0.10, 0.10),
                (0.0, 0.03),
                (0.02, 0.04),
                (0.20, 0.3),
                (0.0, 0.10),
                (0.0, 0.10),
                (0.40, 0.3),
                (0.0, 0.10),
                (0.0, 0.10),
            ],
            0.45,
            0.50,
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::{COMMON, Columns};
    use crate::mixed::{Totals, fit};
    use crate::output::{Bearing, Measure};
    use crate::said::Label;

    #[test]
    fn a_row_has_what_its_columns_say() {
        let columns = Columns {
            lines: vec![Label::parse("Hill").unwrap()],
        };
        let grown = Bearing {
            day_of_year: 1,
            age_days: Some(1000),
            rest_days: Some(5),
            sperm_poor_in: Some(true),
            line: Some(Label::parse("Hill").unwrap()),
            hot_days: Some(3.0),
        };
        let row = columns.row(&grown);
        assert_eq!(row.len(), columns.count());
        let away: Vec<usize> = (0..row.len()).filter(|at| row[*at] != 0.0).collect();
        assert_eq!(away, [0, 8, 9, 13], "the mean, the season and his line");
        let tired = Bearing {
            rest_days: Some(1),
            hot_days: Some(10.0),
            ..grown
        };
        assert_eq!(columns.row_watched(&tired)[4..8], [0.0, -2.0, 0.0, 0.0]);
        assert_eq!(columns.row(&tired)[4..8], [2.0, -2.0, 0.0, 0.0]);
        assert_eq!(
            (columns.row(&tired)[10], columns.row_watched(&tired)[10]),
            (1.0, 0.0)
        );
    }

    #[test]
    fn without_entries_the_prior_itself_is_the_answer() {
        let columns = Columns::default();
        assert_eq!(columns.count(), COMMON);
        for measure in Measure::ALL {
            let fit = fit(&Totals::new(columns.count()), &[], &columns.prior(measure)).unwrap();
            let usual = measure.from_scale(fit.beta[0]);
            assert!(usual > 0.0 && fit.between > 0.0 && fit.residual > 0.0);
        }
    }
}
