//! How well a pair of variances agrees with rows and prior.
//!
//! All of it is in θ = between / residual and the residual variance σ². The rows' products weighted
//! by the inverse of V/σ² are those within groups, which no θ changes, and for each group those of
//! its sums times 1/(n(1+nθ)). Written so, nothing is subtracted that nearly cancels, however large θ.

use super::packed::{add_product, dot, place, quadratic};
use super::prior::Prior;
use super::search::least;
use super::sums::{Sums, Totals};
use nalgebra::{Cholesky, DMatrix, DVector, Dyn};

/// Rows less what the prior's means make of them, and the prior.
pub(super) struct Rows<'a> {
    n: f64,
    /// Products within groups: lower triangle of the columns and, last, what was measured.
    within: Vec<f64>,
    groups: Vec<Group>,
    prior: &'a Prior,
    flat: usize,
}

/// How many rows a group has, and their sums, that of what was measured last.
struct Group {
    n: f64,
    z: Vec<f64>,
}

/// The products weighted for one θ.
pub(super) struct At<'a> {
    rows: &'a Rows<'a>,
    theta: f64,
    xx: DMatrix<f64>,
    xy: DVector<f64>,
    yy: f64,
    /// The logarithm of the determinant of V/σ².
    log_v: f64,
}

/// The residual variance that agrees best at one θ.
#[derive(Debug, Clone, Copy)]
pub(super) struct Best {
    /// It.
    pub residual: f64,
    /// The criterion there: the less, the better.
    pub value: f64,
    /// It lies at the end of what was looked at.
    pub at_end: bool,
}

/// The columns' effects at a pair of variances.
pub(super) struct Effects {
    factor: Cholesky<f64, Dyn>,
    /// Beyond the prior's means.
    shift: DVector<f64>,
    /// The weighted squares that are left, those of the prior included.
    left: f64,
}

impl<'a> Rows<'a> {
    pub(super) fn new(totals: &Totals, groups: &[Sums], prior: &'a Prior) -> Self {
        let means = prior.means();
        let groups: Vec<_> = groups
            .iter()
            .filter(|g| g.n > 0)
            .map(|g| Group {
                n: f64::from(g.n),
                z: [&g.x[..], &[g.y - dot(&g.x, &means)]].concat(),
            })
            .collect();
        let mut within = less_means(totals, &means);
        for group in &groups {
            add_product(&mut within, &group.z, -1.0 / group.n);
        }
        Self {
            n: f64::from(totals.n()),
            within,
            groups,
            prior,
            flat: prior.flat_columns(),
        }
    }

    /// How many groups have rows.
    pub(super) const fn groups(&self) -> usize {
        self.groups.len()
    }

    /// The most rows a group has.
    pub(super) fn largest(&self) -> f64 {
        self.groups.iter().map(|g| g.n).fold(1.0, f64::max)
    }

    /// What was measured, less the prior's means: the mean of its squares.
    pub(super) fn mean_square(&self) -> f64 {
        let last = self.within.last().copied().unwrap_or_default();
        let sums = self.groups.iter().map(|g| {
            let y = g.z.last().copied().unwrap_or_default();
            y * y / g.n
        });
        (last + sums.sum::<f64>()) / self.n
    }

    /// The products of columns (and the measured one) that are less than nothing: sums of groups
    /// that are not those of the rows.
    pub(super) fn overdrawn(&self, totals: &Totals) -> bool {
        (0..totals.columns()).any(|j| self.within[place(j, j)] < -1e-9 * totals.product(j, j))
    }

    pub(super) fn at(&self, theta: f64) -> At<'_> {
        let mut products = self.within.clone();
        let mut log_v = 0.0;
        for group in &self.groups {
            let grown = group.n * theta;
            add_product(&mut products, &group.z, 1.0 / (group.n * (1.0 + grown)));
            log_v += grown.ln_1p();
        }
        let p = self.prior.columns.len();
        At {
            rows: self,
            theta,
            xx: DMatrix::from_fn(p, p, |i, j| products[place(i, j)]),
            xy: DVector::from_fn(p, |j, _| products[place(p, j)]),
            yy: products[place(p, p)],
            log_v,
        }
    }
}

/// The totals' products with what was measured less the prior's means.
fn less_means(totals: &Totals, means: &[f64]) -> Vec<f64> {
    let mut products = totals.products().to_vec();
    let p = totals.columns();
    let explained = |j: usize| -> f64 {
        let columns = means.iter().enumerate();
        columns.map(|(k, mean)| mean * totals.product(j, k)).sum()
    };
    for j in 0..p {
        products[place(p, j)] -= explained(j);
    }
    let squares = quadratic(totals.products(), means);
    products[place(p, p)] += squares - 2.0 * explained(p);
    products
}

impl At<'_> {
    /// The residual variance that agrees best.
    pub(super) fn best(&self) -> Option<Best> {
        if self.rows.flat == self.rows.prior.columns.len() {
            return self.profiled();
        }
        let (low, high) = self.range();
        let value = |log: f64| self.criterion(log.exp()).unwrap_or(f64::INFINITY);
        let found = least(value, low, high);
        Some(Best {
            residual: found.at.exp(),
            value: found.value,
            at_end: found.at_end,
        })
    }

    /// Where nothing is known of any effect, the best residual variance is a mean of squares.
    fn profiled(&self) -> Option<Best> {
        let left = self.effects(1.0)?.left;
        let (known, squares) = self.known();
        let residual = (left + squares) / (self.rows.n - self.rows.flat as f64 + known);
        Some(Best {
            residual,
            value: self.criterion(residual)?,
            at_end: false,
        })
    }

    /// How many observations the priors of the variances are worth, and their squares in terms of
    /// the residual variance.
    fn known(&self) -> (f64, f64) {
        let residual = self.rows.prior.residual.map(|v| (v.weight, v.squares()));
        let between = self.rows.prior.between.filter(|_| self.rows.groups() > 0);
        let between = between.map(|v| (v.weight, v.squares() / self.theta));
        let parts = [residual, between].into_iter().flatten();
        parts.fold((0.0, 0.0), |all, part| (all.0 + part.0, all.1 + part.1))
    }

    /// The logarithms of the residual variance between which the best lies: beyond them the
    /// criterion rises, by its derivative. Without a prior of its own it has no lower bound, and
    /// what is at the end is found out.
    fn range(&self) -> (f64, f64) {
        let (known, squares) = self.known();
        let seen = self.rows.n - self.rows.flat as f64;
        let high = 1e3 * (self.yy + squares) / (seen + known).max(1.0);
        let low = self
            .rows
            .prior
            .residual
            .map_or(1e-20 * high, |v| 0.1 * v.squares() / (self.rows.n + known));
        (low.ln(), high.max(10.0 * low).ln())
    }

    /// Minus twice the logarithm of the likelihood times the variances' priors.
    fn criterion(&self, residual: f64) -> Option<f64> {
        let prior = self.rows.prior;
        let within = prior.residual.map_or(0.0, |v| v.penalty(residual));
        let between = prior.between.filter(|_| self.rows.groups() > 0);
        let between = between.map_or(0.0, |v| v.penalty(residual * self.theta));
        Some(within + between - 2.0 * self.log_likelihood(residual)?)
    }

    /// The logarithm of the restricted likelihood, as lme4 and statsmodels report it where nothing
    /// is known beforehand: the effects are integrated out over their priors.
    pub(super) fn log_likelihood(&self, residual: f64) -> Option<f64> {
        let effects = self.effects(residual)?;
        let rows = self.rows;
        let known = rows.prior.columns.iter().flatten();
        let spreads: f64 = known.map(|k| 2.0 * k.sd.ln()).sum();
        let two_pi = std::f64::consts::TAU.ln();
        let constant = (rows.n - rows.flat as f64) * two_pi;
        let determinants =
            self.log_v + rows.n * residual.ln() + effects.log_determinant() + spreads;
        Some(-0.5 * (constant + determinants + effects.left))
    }

    /// The effects at this θ and a residual variance; none where they are not determined.
    pub(super) fn effects(&self, residual: f64) -> Option<Effects> {
        let mut precision = &self.xx / residual;
        for (j, known) in self.rows.prior.columns.iter().enumerate() {
            if let Some(known) = known {
                precision[(j, j)] += 1.0 / (known.sd * known.sd);
            }
        }
        let weighted = &self.xy / residual;
        let factor = Cholesky::new(precision)?;
        let shift = factor.solve(&weighted);
        let left = self.yy / residual - weighted.dot(&shift);
        Some(Effects {
            factor,
            shift,
            left,
        })
    }
}

impl Effects {
    /// How far each effect lies from its prior's mean.
    pub(super) fn shift(&self) -> &[f64] {
        self.shift.as_slice()
    }

    /// Their covariance: lower triangle, row by row.
    pub(super) fn covariance(&self) -> Vec<f64> {
        let inverse = self.factor.inverse();
        let rows = 0..inverse.nrows();
        rows.flat_map(|i| (0..=i).map(move |j| (i, j)))
            .map(|at| inverse[at])
            .collect()
    }

    fn log_determinant(&self) -> f64 {
        let diagonal = self.factor.l_dirty().diagonal();
        2.0 * diagonal.iter().map(|d| d.ln()).sum::<f64>()
    }
}
