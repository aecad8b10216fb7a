//! Laws that hold for any rows, and the refusals. What other programs make of open data is in
//! `tests/tests/mixed.rs`.

mod laws;
mod refusals;

use super::*;

/// Numbers that look thrown, from a multiplicative generator (Park & Miller 1988).
struct Dice(u64);

impl Dice {
    /// From 0 to 1.
    fn throw(&mut self) -> f64 {
        self.0 = self.0 * 48_271 % 2_147_483_647;
        self.0 as f64 / 2_147_483_647.0
    }
}

/// A group's number, its columns and what was measured.
type Row = (usize, Vec<f64>, f64);

/// Rows of so many groups: a constant, a straight line and a switch that whole groups have.
fn rows(groups: usize, each: usize, seed: u64) -> Vec<Row> {
    let mut dice = Dice(seed);
    let mut all = vec![];
    for group in 0..groups {
        let own = 8.0 * (dice.throw() - 0.5);
        // Groups differ in size, too.
        for _ in 0..=(each + group % 3) {
            let x = vec![1.0, 10.0 * dice.throw(), f64::from(group % 2 == 0)];
            let y = 200.0 + 3.0 * x[1] - 5.0 * x[2] + own + 6.0 * (dice.throw() - 0.5);
            all.push((group, x, y));
        }
    }
    all
}

fn summed(rows: &[Row]) -> (Totals, Vec<Sums>) {
    let columns = rows.first().map_or(3, |row| row.1.len());
    let mut totals = Totals::new(columns);
    let most = rows.iter().map(|row| row.0 + 1).max().unwrap_or(0);
    let mut groups = vec![Sums::new(columns); most];
    for (group, x, y) in rows {
        totals.add(x, *y).unwrap();
        groups[*group].add(x, *y).unwrap();
    }
    (totals, groups)
}

fn fitted(rows: &[Row], prior: &Prior) -> Result<Fit, FitError> {
    let (totals, groups) = summed(rows);
    fit(&totals, &groups, prior)
}

fn near(found: f64, read: f64, share: f64) {
    let far = (found - read).abs();
    assert!(far <= share * read.abs().max(1e-3), "{found}, not {read}");
}

fn whole_prior() -> Prior {
    let known = |mean, sd| Some(Normal { mean, sd });
    Prior {
        columns: vec![known(190.0, 20.0), known(2.0, 1.0), known(0.0, 4.0)],
        between: Some(Variance {
            guess: 9.0,
            weight: 6.0,
        }),
        residual: Some(Variance {
            guess: 4.0,
            weight: 10.0,
        }),
    }
}

fn same_fit(a: &Fit, b: &Fit, share: f64) {
    for (a, b) in a.beta.iter().zip(&b.beta).chain(a.cov.iter().zip(&b.cov)) {
        near(*a, *b, share);
    }
    near(a.between, b.between, share);
    near(a.residual, b.residual, share);
    near(a.log_likelihood, b.log_likelihood, share);
}
