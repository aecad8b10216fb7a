//! Weighted least squares on any columns, by Householder's QR.
//!
//! Columns are centred and scaled before the decomposition, so that years, shares and powers of one
//! reading stand beside each other without loss; the solution is then corrected by what it leaves,
//! reckoned to twice the digits (Björck 1996, Numerical Methods for Least Squares Problems, from
//! memory), because squares of what is left would cost the digits of small effects. Only `+ − × ÷ √` are used here and in what is called
//! of nalgebra (reflections by dot products, never its blocked matrix product, whose last bits depend
//! on the machine), so that a phone and the office find the same bits.

use super::double::Double;
use nalgebra::{DMatrix, DVector, QR};
use serde::Serialize;

/// Of a column of length 1, what is left beside the earlier ones; below this it is a sum of them.
const NOTHING: f64 = 1e-12;
/// How often a solution is corrected by what it leaves, reckoned to twice the digits.
const CORRECTIONS: usize = 4;

/// A fitted linear model: y = constant + Σ effect × column.
#[derive(Debug, Clone, PartialEq)]
pub struct Regression {
    axes: Vec<Axis>,
    intercept: bool,
    effects: Vec<Double>,
    root: DMatrix<f64>,
    rows: usize,
    residual_squares: f64,
    total_squares: f64,
}

/// A sum of effects, each times a number.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Combined {
    /// The sum.
    pub value: f64,
    /// Its variance, per residual variance; the leverage, where the numbers are a row.
    pub share: f64,
}

/// Why columns cannot be fitted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, thiserror::Error)]
#[serde(rename_all = "snake_case")]
pub enum RegressError {
    /// Columns, measures and weights are not of one length.
    #[error(
        "a column, the measures or the weights are of another length: give one number for each row"
    )]
    Width,
    /// No more rows than effects.
    #[error(
        "{rows} rows cannot tell {effects} effects and a residual: give more rows than effects"
    )]
    TooFewRows {
        /// How many there are.
        rows: usize,
        /// Effects, the constant included.
        effects: usize,
    },
    /// A column is a sum of earlier ones.
    #[error("effect {effect} cannot be told from the earlier ones: leave its column out")]
    Dependent {
        /// Which, from 0, the constant first.
        effect: usize,
    },
    /// Something is no number, or a weight is not above 0.
    #[error(
        "a row holds what is not a finite number, or a weight that is not above 0: leave it out"
    )]
    NotFinite,
}

/// Where a column is centred, and by what it is divided.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Axis {
    centre: Double,
    scale: Double,
}

/// The rows as they are fitted: scaled columns, the constant's among them.
struct Rows<'a> {
    columns: Vec<Vec<Double>>,
    y: &'a [f64],
    weights: &'a [f64],
}

impl Regression {
    /// Fits `y` to `columns`, with a constant if `intercept`; `weights` are inverse to variances.
    pub fn fit(
        columns: &[Vec<f64>],
        intercept: bool,
        y: &[f64],
        weights: Option<&[f64]>,
    ) -> Result<Self, RegressError> {
        let exact = |column: &Vec<f64>| column.iter().map(|x| Double::from(*x)).collect();
        let columns: Vec<_> = columns.iter().map(exact).collect();
        Self::fit_exact(&columns, intercept, y, weights)
    }

    /// The same for columns that are known to twice the digits.
    pub(super) fn fit_exact(
        columns: &[Vec<Double>],
        intercept: bool,
        y: &[f64],
        weights: Option<&[f64]>,
    ) -> Result<Self, RegressError> {
        let ones = vec![1.0; y.len()];
        let weights = weights.unwrap_or(&ones);
        check(columns, intercept, y, weights)?;
        let axis = |column: &Vec<Double>| Axis::of(column, weights, intercept);
        let axes: Vec<_> = columns.iter().map(axis).collect();
        let constant = intercept.then(|| vec![Double::from(1.0); y.len()]);
        let scaled = axes.iter().zip(columns);
        let scaled = scaled.map(|(axis, column)| column.iter().map(|x| axis.at(*x)).collect());
        let rows = Rows {
            columns: constant.into_iter().chain(scaled).collect(),
            y,
            weights,
        };
        let (effects, root) = rows.solve()?;
        let squares = |far: &mut dyn Iterator<Item = f64>| {
            let weighed = far.zip(weights).map(|(r, w)| w * r * r);
            weighed.sum::<f64>()
        };
        let middle = if intercept { mean(y, weights) } else { 0.0 };
        let residual_squares = squares(&mut rows.residuals(&effects).iter().map(|r| r.value()));
        Ok(Self {
            axes,
            intercept,
            effects,
            root,
            rows: y.len(),
            residual_squares,
            total_squares: squares(&mut y.iter().map(|y| y - middle)),
        })
    }

    /// Rows beyond effects.
    pub fn degrees(&self) -> usize {
        self.rows - self.effects.len()
    }

    /// The residual standard deviation, of a row of weight 1.
    pub fn residual_sd(&self) -> f64 {
        (self.residual_squares / self.degrees() as f64).sqrt()
    }

    /// How much of the squares about the mean (about 0, without a constant) is explained; 1 where
    /// there is nothing to explain.
    pub fn r_squared(&self) -> f64 {
        if self.total_squares > 0.0 {
            1.0 - self.residual_squares / self.total_squares
        } else {
            1.0
        }
    }

    /// Σ number × effect, the constant's number first if there is one: a row gives what the model
    /// expects there, a single 1 gives the effect itself.
    pub fn combine(&self, numbers: &[f64]) -> Combined {
        let exact: Vec<_> = numbers.iter().map(|n| Double::from(*n)).collect();
        self.combine_exact(&exact)
    }

    /// The same for numbers that are known to twice the digits.
    pub(super) fn combine_exact(&self, numbers: &[Double]) -> Combined {
        let (first, rest) = match numbers.split_first() {
            Some((first, rest)) if self.intercept => (Some(*first), rest),
            _ => (None, numbers),
        };
        let constant = first.unwrap_or(Double::ZERO);
        // The constant of the columns as given is that of the centred ones less effect × centre.
        let scaled =
            |(number, axis): (&Double, &Axis)| (*number - constant * axis.centre) / axis.scale;
        let moved = rest.iter().zip(&self.axes).map(scaled);
        let on_effects: Vec<Double> = first.into_iter().chain(moved).collect();
        let value = dot(&on_effects, &self.effects).value();
        let plain = on_effects.iter().map(|n| n.value()).collect();
        let share = forward(&self.root, plain).iter().map(|z| z * z).sum();
        Combined { value, share }
    }
}

impl Axis {
    fn of(column: &[Double], weights: &[f64], centred: bool) -> Self {
        let values: Vec<_> = column.iter().map(|x| x.value()).collect();
        let centre = if centred { mean(&values, weights) } else { 0.0 };
        let far = values
            .iter()
            .map(|x| (x - centre).abs())
            .fold(0.0, f64::max);
        Self {
            centre: Double::from(centre),
            scale: Double::from(if far > 0.0 { far } else { 1.0 }),
        }
    }

    fn at(&self, x: Double) -> Double {
        (x - self.centre) / self.scale
    }
}

impl Rows<'_> {
    /// The effects of the scaled columns, and R.
    fn solve(&self) -> Result<(Vec<Double>, DMatrix<f64>), RegressError> {
        let (n, p) = (self.y.len(), self.columns.len());
        let roots: Vec<_> = self.weights.iter().map(|w| w.sqrt()).collect();
        let cell = |i: usize, j: usize| roots[i] * self.columns[j][i].value();
        let matrix = DMatrix::from_fn(n, p, cell);
        let norms: Vec<_> = matrix.column_iter().map(|c| c.norm()).collect();
        let qr = QR::new(matrix);
        let root = qr.r();
        let nothing = |j: &usize| root[(*j, *j)] <= NOTHING * norms[*j];
        if let Some(effect) = (0..p).find(nothing) {
            return Err(RegressError::Dependent { effect });
        }
        let mut right = DVector::from_fn(n, |i, _| roots[i] * self.y[i]);
        qr.q_tr_mul(&mut right);
        let first = backward(&root, right.iter().take(p).copied().collect());
        let mut effects: Vec<_> = first.into_iter().map(Double::from).collect();
        for _ in 0..CORRECTIONS {
            let step = backward(&root, forward(&root, self.gradient(&effects)));
            for (effect, step) in effects.iter_mut().zip(step) {
                *effect = *effect + Double::from(step);
            }
        }
        Ok((effects, root))
    }

    fn residuals(&self, effects: &[Double]) -> Vec<Double> {
        let residual = |(i, y): (usize, &f64)| {
            let row: Vec<_> = self.columns.iter().map(|c| c[i]).collect();
            Double::from(*y) - dot(&row, effects)
        };
        self.y.iter().enumerate().map(residual).collect()
    }

    /// Of each column, the weighed products with what is left: 0 at the solution.
    fn gradient(&self, effects: &[Double]) -> Vec<f64> {
        let weigh = |(r, w): (Double, &f64)| r * Double::from(*w);
        let left = self.residuals(effects).into_iter().zip(self.weights);
        let left: Vec<_> = left.map(weigh).collect();
        self.columns.iter().map(|c| dot(c, &left).value()).collect()
    }
}

fn check(
    columns: &[Vec<Double>],
    intercept: bool,
    y: &[f64],
    weights: &[f64],
) -> Result<(), RegressError> {
    if weights.len() != y.len() || columns.iter().any(|c| c.len() != y.len()) {
        return Err(RegressError::Width);
    }
    let effects = columns.len() + usize::from(intercept);
    if effects == 0 || y.len() <= effects {
        let rows = y.len();
        return Err(RegressError::TooFewRows { rows, effects });
    }
    let numbers = columns.iter().flatten().all(|x| x.value().is_finite());
    let weighs = weights.iter().all(|w| w.is_finite() && *w > 0.0);
    if !numbers || !weighs || y.iter().any(|y| !y.is_finite()) {
        return Err(RegressError::NotFinite);
    }
    Ok(())
}

fn mean(values: &[f64], weights: &[f64]) -> f64 {
    let products = values.iter().zip(weights).map(|(x, w)| w * x);
    products.sum::<f64>() / weights.iter().sum::<f64>()
}

fn dot(a: &[Double], b: &[Double]) -> Double {
    let products = a.iter().zip(b).map(|(a, b)| *a * *b);
    products.fold(Double::ZERO, |sum, product| sum + product)
}

/// z of Rᵀz = v.
fn forward(root: &DMatrix<f64>, mut v: Vec<f64>) -> Vec<f64> {
    for i in 0..v.len() {
        let known: f64 = (0..i).map(|k| root[(k, i)] * v[k]).sum();
        v[i] = (v[i] - known) / root[(i, i)];
    }
    v
}

/// x of Rx = v.
fn backward(root: &DMatrix<f64>, mut v: Vec<f64>) -> Vec<f64> {
    for i in (0..v.len()).rev() {
        let known: f64 = (i + 1..v.len()).map(|k| root[(i, k)] * v[k]).sum();
        v[i] = (v[i] - known) / root[(i, i)];
    }
    v
}
