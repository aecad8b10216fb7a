//! Two by two: all the linear algebra of an intercept and a slope, in `+ − × ÷` alone.

use serde::{Deserialize, Serialize};

/// An intercept in logits and a slope in logits a day.
pub type Pair = [f64; 2];

/// Four numbers, row by row.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub struct Square(pub [Pair; 2]);

impl Square {
    /// Ones across.
    pub const ONE: Self = Self([[1.0, 0.0], [0.0, 1.0]]);

    /// Nothing beside the diagonal.
    pub const fn diagonal(first: f64, second: f64) -> Self {
        Self([[first, 0.0], [0.0, second]])
    }

    /// The product of a column and a row.
    pub(super) fn outer(a: Pair, b: Pair) -> Self {
        Self(a.map(|a| b.map(|b| a * b)))
    }

    /// Each number by itself.
    pub(super) fn plus(self, other: Self) -> Self {
        let (a, b) = (self.0, other.0);
        Self(std::array::from_fn(|i| {
            std::array::from_fn(|j| a[i][j] + b[i][j])
        }))
    }

    pub(super) fn times(self, by: f64) -> Self {
        Self(self.0.map(|row| row.map(|x| x * by)))
    }

    pub(super) fn of(self, column: Pair) -> Pair {
        self.0.map(|row| row[0] * column[0] + row[1] * column[1])
    }

    pub(super) fn by(self, other: Self) -> Self {
        let (a, b) = (self.0, other.0);
        Self(std::array::from_fn(|i| {
            std::array::from_fn(|j| a[i][0] * b[0][j] + a[i][1] * b[1][j])
        }))
    }

    /// Rows for columns.
    pub(super) fn turned(self) -> Self {
        let [[a, b], [c, d]] = self.0;
        Self([[a, c], [b, d]])
    }

    /// `self · inner · selfᵀ`, made symmetric to the last bit.
    pub(super) fn around(self, inner: Self) -> Self {
        let Self([[a, b], [c, d]]) = self.by(inner).by(self.turned());
        let beside = (b + c) / 2.0;
        Self([[a, beside], [beside, d]])
    }

    /// None where there is none.
    pub(super) fn inverse(self) -> Option<Self> {
        let [[a, b], [c, d]] = self.0;
        let determinant = a * d - b * c;
        let inverse = Self([[d, -b], [-c, a]]).times(1.0 / determinant);
        inverse
            .0
            .iter()
            .flatten()
            .all(|x| x.is_finite())
            .then_some(inverse)
    }

    /// Whether it can be a covariance: finite, symmetric, no direction with less than no variance.
    pub(super) fn is_covariance(self) -> bool {
        let [[a, b], [c, d]] = self.0;
        [a, b, c, d].iter().all(|x| x.is_finite())
            && b == c
            && a >= 0.0
            && d >= 0.0
            && a * d >= b * b
    }
}

/// One pair and another, each by itself.
pub(super) fn sum(a: Pair, b: Pair) -> Pair {
    [a[0] + b[0], a[1] + b[1]]
}

/// What is left of one pair without another.
pub(super) fn less(a: Pair, b: Pair) -> Pair {
    [a[0] - b[0], a[1] - b[1]]
}
