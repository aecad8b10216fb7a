//! What is kept of rows: sums, to which a row is added and from which it is taken away.

use super::packed::{add_product, cells, place};
use serde::{Deserialize, Serialize};

/// What is kept of the rows of one group, a boar's for instance.
///
/// Sums of floating-point numbers: the order of rows moves the last digits and nothing else.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Sums {
    /// How many rows.
    pub n: u32,
    /// The sum of each column, as many as the model has.
    pub x: Vec<f64>,
    /// The sum of what was measured.
    pub y: f64,
}

/// What is kept of all rows: the sums of all products of two columns, the measured one included.
///
/// One pass over the rows makes it; a fit needs no rows after that. A column that lies far from
/// zero beside how much it varies (a year, a date) is better given less a constant: about twice as
/// many digits are lost as the mean has more of them than the spread.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "Kept")]
pub struct Totals {
    n: u32,
    columns: usize,
    /// The columns and, last, what was measured: lower triangle, row by row.
    products: Vec<f64>,
}

/// A row or a set of sums that does not belong.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum RowError {
    /// Another number of columns.
    #[error(
        "a row of {found} columns met {columns}: build rows, sums and fit from the same columns"
    )]
    Width {
        /// How many it has.
        found: usize,
        /// How many it must have.
        columns: usize,
    },
    /// No row is left to be taken away.
    #[error("no row is left to be taken away: take away only what was added")]
    Empty,
    /// So many rows are not counted.
    #[error("more than {} rows: fit fewer of them at once", u32::MAX)]
    Full,
    /// The triangle of stored totals is not that of its columns.
    #[error("stored totals of {columns} columns have {found} products: sum the rows anew")]
    Products {
        /// How many products there are.
        found: usize,
        /// How many columns they are said to have.
        columns: usize,
    },
}

/// Totals as they are read, before their length is checked.
#[derive(Deserialize)]
struct Kept {
    n: u32,
    columns: usize,
    products: Vec<f64>,
}

impl TryFrom<Kept> for Totals {
    type Error = RowError;

    fn try_from(kept: Kept) -> Result<Self, RowError> {
        let found = kept.products.len();
        // A triangle of as many rows as it has cells is longer already; no stored size overflows.
        if kept.columns >= found.max(1) || cells(kept.columns + 1) != found {
            let columns = kept.columns;
            return Err(RowError::Products { found, columns });
        }
        Ok(Self {
            n: kept.n,
            columns: kept.columns,
            products: kept.products,
        })
    }
}

impl Sums {
    /// No rows yet, of `columns` columns.
    pub fn new(columns: usize) -> Self {
        Self {
            n: 0,
            x: vec![0.0; columns],
            y: 0.0,
        }
    }

    /// Takes a row in.
    pub fn add(&mut self, x: &[f64], y: f64) -> Result<(), RowError> {
        same_width(x.len(), self.x.len())?;
        self.n = self.n.checked_add(1).ok_or(RowError::Full)?;
        self.shift(x, y, 1.0);
        Ok(())
    }

    /// Takes a row that was added out again, after a correction for instance.
    pub fn take_away(&mut self, x: &[f64], y: f64) -> Result<(), RowError> {
        same_width(x.len(), self.x.len())?;
        self.n = self.n.checked_sub(1).ok_or(RowError::Empty)?;
        self.shift(x, y, -1.0);
        if self.n == 0 {
            // What rounding left behind would pass for a row.
            *self = Self::new(self.x.len());
        }
        Ok(())
    }

    /// Takes in the rows of others.
    pub fn join(&mut self, others: &Self) -> Result<(), RowError> {
        same_width(others.x.len(), self.x.len())?;
        self.n = self.n.checked_add(others.n).ok_or(RowError::Full)?;
        self.shift(&others.x, others.y, 1.0);
        Ok(())
    }

    fn shift(&mut self, x: &[f64], y: f64, sign: f64) {
        for (sum, x) in self.x.iter_mut().zip(x) {
            *sum += sign * x;
        }
        self.y += sign * y;
    }
}

impl Totals {
    /// No rows yet, of `columns` columns. Where there is to be a constant, it is a column of ones.
    pub fn new(columns: usize) -> Self {
        Self {
            n: 0,
            columns,
            products: vec![0.0; cells(columns + 1)],
        }
    }

    /// How many rows.
    pub const fn n(&self) -> u32 {
        self.n
    }

    /// How many columns, less the measured one.
    pub const fn columns(&self) -> usize {
        self.columns
    }

    /// Takes a row in.
    pub fn add(&mut self, x: &[f64], y: f64) -> Result<(), RowError> {
        same_width(x.len(), self.columns)?;
        self.n = self.n.checked_add(1).ok_or(RowError::Full)?;
        self.shift(x, y, 1.0);
        Ok(())
    }

    /// Takes a row that was added out again.
    pub fn take_away(&mut self, x: &[f64], y: f64) -> Result<(), RowError> {
        same_width(x.len(), self.columns)?;
        self.n = self.n.checked_sub(1).ok_or(RowError::Empty)?;
        self.shift(x, y, -1.0);
        if self.n == 0 {
            *self = Self::new(self.columns);
        }
        Ok(())
    }

    /// Takes in the rows of others.
    pub fn join(&mut self, others: &Self) -> Result<(), RowError> {
        same_width(others.columns, self.columns)?;
        self.n = self.n.checked_add(others.n).ok_or(RowError::Full)?;
        for (sum, other) in self.products.iter_mut().zip(&others.products) {
            *sum += other;
        }
        Ok(())
    }

    /// The sum of the products of two columns; the measured one is the last.
    pub(super) fn product(&self, i: usize, j: usize) -> f64 {
        self.products[place(i, j)]
    }

    /// All of them, lower triangle, row by row.
    pub(super) fn products(&self) -> &[f64] {
        &self.products
    }

    fn shift(&mut self, x: &[f64], y: f64, sign: f64) {
        add_product(&mut self.products, x, sign);
        let last = &mut self.products[cells(self.columns)..];
        for (sum, x) in last.iter_mut().zip(x.iter().chain([&y])) {
            *sum += sign * x * y;
        }
    }
}

fn same_width(found: usize, columns: usize) -> Result<(), RowError> {
    if found == columns {
        Ok(())
    } else {
        Err(RowError::Width { found, columns })
    }
}
