//! What a measure is expected to be, where rows come in groups: a linear mixed model with one
//! random intercept for each group (a boar, say), fitted by restricted maximum likelihood.
//!
//! A row is y = x·β + u + e: x its columns, u what its group has of its own, with variance
//! `between`, and e the rest, with variance `residual` (Laird & Ware 1982, Biometrics 38:963).
//! Rows are summed once, into [`Totals`] over all and [`Sums`] of each group, and never needed
//! again: since V is block by block σ²(I + θJ), its inverse needs of a group its n and its sums.
//!
//! [`fit`] is for a machine with time. [`Fit::predict`] runs on a phone and is a few short loops.
//!
//! Without a [`Prior`] this is REML exactly (Patterson & Thompson 1971, Biometrika 58:545;
//! Harville 1977, JASA 72:320). With one, β is integrated out over its normal prior just as REML
//! integrates it out over a flat one, and the two variances are those at the mode of what is left
//! times their priors, on the scale of their logarithms; a farm's first rows then move what is
//! known beforehand a little, and a year of them outweighs it.

mod criterion;
mod dependent;
mod fit;
mod packed;
mod predict;
mod prior;
mod search;
mod sums;

pub use dependent::Dependence;
pub use fit::{Fit, FitError, fit};
pub use predict::{Predicted, Z90};
pub use prior::{Normal, Prior, PriorError, Variance};
pub use sums::{RowError, Sums, Totals};

#[cfg(test)]
mod tests;
