//! The fit: rows' sums and a prior in, effects and variances out.

use super::criterion::{At, Best, Rows};
use super::dependent::Dependence;
use super::packed::{cells, place};
use super::prior::{Prior, PriorError};
use super::search::{Least, least};
use super::sums::{RowError, Sums, Totals};
use serde::{Deserialize, Serialize};

/// Differences of the criterion below this share of it are rounding.
const ROUNDING: f64 = 1e-10;
/// If it differs by less than this share from one end to the other, it tells nothing.
const UNTOLD: f64 = 1e-6;
/// Residual squares below this share of the squares measured are rounding.
const NOTHING: f64 = 1e-12;
/// Between / residual is looked for up to here: a residual a thousandth of what groups differ by.
const THETA_MOST: f64 = 1e6;
/// And down to here, times the rows of the largest group; below it 0 does as well.
const THETA_LEAST: f64 = 1e-6;

/// A fitted model. Serialised it is what a phone is sent.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "Kept")]
pub struct Fit {
    /// The effect of each column, in the measure's unit per unit of the column.
    pub beta: Vec<f64>,
    /// Their covariance, given the variances: lower triangle, row by row.
    pub cov: Vec<f64>,
    /// The variance between groups, in the measure's unit squared; 0 is an answer.
    pub between: f64,
    /// The variance of rows within a group.
    pub residual: f64,
    /// How many rows were fitted.
    pub n: u32,
    /// How many groups had rows.
    pub groups: u32,
    /// The logarithm of the restricted likelihood of the rows, as lme4 and statsmodels report it;
    /// with priors of columns that of the rows with those effects integrated out. The priors of
    /// the variances are no part of it.
    pub log_likelihood: f64,
}

/// Why there is no fit.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum FitError {
    /// Rows, groups and prior do not have the same columns.
    #[error(transparent)]
    Row(#[from] RowError),
    /// The prior is none.
    #[error(transparent)]
    Prior(#[from] PriorError),
    /// No rows, and something of which nothing is known.
    #[error(
        "there are no rows: give a prior for every column and both variances, or wait for rows"
    )]
    NoRows,
    /// Fewer rows than numbers to be found.
    #[error(
        "{rows} rows cannot tell {flat} effects and a variance: wait for more rows than effects, or give priors"
    )]
    TooFewRows {
        /// How many there are.
        rows: u32,
        /// How many effects nothing is known of.
        flat: usize,
    },
    /// The rows of the groups are not the rows of the totals.
    #[error(
        "the groups' sums are not those of the totals' {rows} rows: add each row to both, or give no groups"
    )]
    Groups {
        /// How many rows the totals have.
        rows: u32,
    },
    /// One group alone has rows.
    #[error(
        "one group cannot tell how groups differ: give a prior of the variance between them, or no groups"
    )]
    OneGroup,
    /// All values of the variance between groups do alike.
    #[error(
        "these rows cannot tell the variance between groups from that within: give a prior of it, or no groups"
    )]
    BetweenUnknown,
    /// A column says nothing that earlier ones do not.
    #[error(
        "column {column} is zero, constant or a sum of earlier columns ({how:?}): leave it out or give a prior of it"
    )]
    Dependent {
        /// Which, from 0.
        column: usize,
        /// How.
        how: Dependence,
    },
    /// A column has something that is no number.
    #[error("column {0} holds what is not a finite number: leave out the rows that do")]
    ColumnNotFinite(usize),
    /// So has what was measured, or a group's sums.
    #[error("a measured value is not a finite number: leave out the rows that hold one")]
    MeasureNotFinite,
    /// The columns explain every row.
    #[error(
        "nothing is left beside the columns' effects: the rows are copies, or too few; give a prior of the residual variance"
    )]
    NoResidual,
    /// No best pair of variances within sight.
    #[error(
        "no pair of variances agrees best (between / residual went to {theta:e}): give a prior of the variances, or no groups"
    )]
    DidNotConverge {
        /// The variance between groups over the residual variance, where the search ended.
        theta: f64,
    },
}

/// Fits the rows summed in `totals` and, group by group, in `groups`; groups without rows are left
/// out. With no groups at all it is the regression of one variance, and `between` what the prior
/// says or 0.
///
/// Without a prior the residual variance is profiled out, and the search is over θ = between /
/// residual alone; otherwise over both. 0 is tried itself and reported as 0. One look costs
/// groups · columns² operations. The variances are found to about seven digits.
pub fn fit(totals: &Totals, groups: &[Sums], prior: &Prior) -> Result<Fit, FitError> {
    check_width(totals, groups, prior)?;
    prior.check()?;
    if totals.n() == 0 && groups.iter().all(|g| g.n == 0) {
        return prior_alone(prior).ok_or(FitError::NoRows);
    }
    check_finite(totals, groups)?;
    let rows = Rows::new(totals, groups, prior);
    check_rows(totals, groups, prior, &rows)?;
    let theta = if rows.groups() == 0 {
        0.0
    } else {
        best_theta(&rows, totals, prior)?
    };
    let at = rows.at(theta);
    let best = something_left(at.best(), totals, prior)?;
    found(&rows, &at, best, theta, totals.n(), prior).ok_or(FitError::DidNotConverge { theta })
}

impl Fit {
    /// The standard error of a column's effect; none beyond the columns.
    pub fn standard_error(&self, column: usize) -> Option<f64> {
        self.cov.get(place(column, column)).map(|v| v.sqrt())
    }
}

/// With no rows the answer is the prior, if it is a whole one.
fn prior_alone(prior: &Prior) -> Option<Fit> {
    let known: Vec<_> = prior.columns.iter().copied().collect::<Option<_>>()?;
    let mut cov = vec![0.0; cells(known.len())];
    for (j, column) in known.iter().enumerate() {
        cov[place(j, j)] = column.sd * column.sd;
    }
    Some(Fit {
        beta: known.iter().map(|k| k.mean).collect(),
        cov,
        between: prior.between?.guess,
        residual: prior.residual?.guess,
        n: 0,
        groups: 0,
        log_likelihood: 0.0,
    })
}

/// Refuses rows that the columns explain wholly: what is left is rounding, or less than 0 by it.
/// A prior of the residual variance says that they do not.
fn something_left(best: Option<Best>, totals: &Totals, prior: &Prior) -> Result<Best, FitError> {
    let measured = totals.product(totals.columns(), totals.columns());
    let least = NOTHING * measured / f64::from(totals.n());
    let some = |b: &Best| prior.residual.is_some() || (!b.at_end && b.residual > least);
    best.filter(some).ok_or(FitError::NoResidual)
}

/// The best θ: 0, unless another is better by more than rounding.
fn best_theta(rows: &Rows, totals: &Totals, prior: &Prior) -> Result<f64, FitError> {
    let value = |theta: f64| rows.at(theta).best().map_or(f64::INFINITY, |b| b.value);
    let (low, high) = range(rows, prior);
    let search = || least(|log| value(log.exp()), low, high);
    if prior.between.is_some() {
        return inside(search());
    }
    let zero = something_left(rows.at(0.0).best(), totals, prior)?.value;
    let found = search();
    let size = 1.0 + zero.abs();
    let differ = found.most.max(zero) - found.value.min(zero);
    if differ <= UNTOLD * size {
        return Err(FitError::BetweenUnknown);
    }
    if zero <= found.value + ROUNDING * size {
        return Ok(0.0);
    }
    inside(found)
}

fn inside(found: Least) -> Result<f64, FitError> {
    let theta = found.at.exp();
    if found.at_end {
        return Err(FitError::DidNotConverge { theta });
    }
    Ok(theta)
}

/// The logarithms of θ between which it is looked for; a prior of the variance between groups draws
/// it to where that prior is.
fn range(rows: &Rows, prior: &Prior) -> (f64, f64) {
    const BESIDE: f64 = 7.0;
    let (low, high) = ((THETA_LEAST / rows.largest()).ln(), THETA_MOST.ln());
    let Some(between) = prior.between else {
        return (low, high);
    };
    let residual = prior
        .residual
        .map_or_else(|| rows.mean_square(), |v| v.guess);
    let drawn = (between.guess / residual.max(f64::MIN_POSITIVE)).ln();
    (low.min(drawn - BESIDE), high.max(drawn + BESIDE))
}

fn found(rows: &Rows, at: &At, best: Best, theta: f64, n: u32, prior: &Prior) -> Option<Fit> {
    let effects = at.effects(best.residual)?;
    let means = prior.means();
    let beta = means.iter().zip(effects.shift()).map(|(m, s)| m + s);
    let alone = prior.between.filter(|_| rows.groups() == 0);
    Some(Fit {
        beta: beta.collect(),
        cov: effects.covariance(),
        between: alone.map_or(theta * best.residual, |v| v.guess),
        residual: best.residual,
        n,
        groups: u32::try_from(rows.groups()).unwrap_or(u32::MAX),
        log_likelihood: at.log_likelihood(best.residual)?,
    })
}

fn check_width(totals: &Totals, groups: &[Sums], prior: &Prior) -> Result<(), RowError> {
    let columns = totals.columns();
    let mut widths = groups
        .iter()
        .map(|g| g.x.len())
        .chain([prior.columns.len()]);
    match widths.find(|found| *found != columns) {
        Some(found) => Err(RowError::Width { found, columns }),
        None => Ok(()),
    }
}

fn check_finite(totals: &Totals, groups: &[Sums]) -> Result<(), FitError> {
    let p = totals.columns();
    let column = |j: &usize| {
        let sums = groups.iter().all(|g| g.x[*j].is_finite());
        !(sums && totals.product(*j, *j).is_finite())
    };
    if let Some(j) = (0..p).find(column) {
        return Err(FitError::ColumnNotFinite(j));
    }
    let measured = groups.iter().all(|g| g.y.is_finite()) && totals.product(p, p).is_finite();
    measured.then_some(()).ok_or(FitError::MeasureNotFinite)
}

fn check_rows(
    totals: &Totals,
    groups: &[Sums],
    prior: &Prior,
    rows: &Rows,
) -> Result<(), FitError> {
    let n = totals.n();
    let grouped: u64 = groups.iter().map(|g| u64::from(g.n)).sum();
    let differ = grouped != u64::from(n) || rows.overdrawn(totals);
    if !groups.is_empty() && differ {
        return Err(FitError::Groups { rows: n });
    }
    let flat = prior.flat_columns();
    if prior.residual.is_none() && u64::from(n) <= flat as u64 {
        return Err(FitError::TooFewRows { rows: n, flat });
    }
    if let Some((column, how)) = totals.dependent(prior).first().copied() {
        return Err(FitError::Dependent { column, how });
    }
    if prior.between.is_none() && rows.groups() == 1 {
        return Err(FitError::OneGroup);
    }
    if prior.between.is_none() && rows.groups() > 0 && rows.largest() < 2.0 {
        return Err(FitError::BetweenUnknown);
    }
    Ok(())
}

/// A fit as it is read, before it is known to be whole.
#[derive(Deserialize)]
struct Kept {
    beta: Vec<f64>,
    cov: Vec<f64>,
    between: f64,
    residual: f64,
    n: u32,
    groups: u32,
    log_likelihood: f64,
}

impl TryFrom<Kept> for Fit {
    type Error = RowError;

    fn try_from(kept: Kept) -> Result<Self, RowError> {
        let (found, columns) = (kept.cov.len(), kept.beta.len());
        if cells(columns) != found {
            return Err(RowError::Products { found, columns });
        }
        Ok(Self {
            beta: kept.beta,
            cov: kept.cov,
            between: kept.between,
            residual: kept.residual,
            n: kept.n,
            groups: kept.groups,
            log_likelihood: kept.log_likelihood,
        })
    }
}
