//! Columns that say nothing which earlier columns do not say.

use super::prior::Prior;
use super::sums::Totals;

/// A column whose part beyond earlier columns has less than this share of its squares is taken for
/// theirs: the sums of a hundred thousand rows carry about eleven digits.
const SHARE: f64 = 1e-10;

/// How a column depends on earlier ones.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Dependence {
    /// It is zero in every row.
    Zero,
    /// It is a multiple of one earlier column; a constant column is one of the column of ones.
    Multiple(usize),
    /// It is a sum of multiples of several earlier ones.
    Several,
}

impl Totals {
    /// The columns, ascending, whose effect these rows cannot tell from those of earlier columns:
    /// those a fit would refuse. Leave them out, or give them a prior: where one is proper they are
    /// no trouble, and are not named here. `prior` has one place for each column.
    ///
    /// Cholesky's method, leaving out each column of which nothing is left.
    pub fn dependent(&self, prior: &Prior) -> Vec<(usize, Dependence)> {
        let mut kept: Vec<(usize, Vec<f64>)> = vec![];
        let mut found = vec![];
        let asked = prior.columns.iter().enumerate().take(self.columns());
        for (column, _) in asked.filter(|(_, known)| known.is_none()) {
            let parts = self.parts(column, &kept);
            let own = self.product(column, column);
            let left = own - parts.iter().map(|part| part * part).sum::<f64>();
            if left > SHARE * own {
                kept.push((column, [parts, vec![left.sqrt()]].concat()));
            } else {
                found.push((column, self.dependence(column, &kept)));
            }
        }
        found
    }

    /// How much of the column lies along what is new in each of the kept ones.
    fn parts(&self, column: usize, kept: &[(usize, Vec<f64>)]) -> Vec<f64> {
        let mut parts: Vec<f64> = vec![];
        for (other, row) in kept {
            let said = parts.iter().zip(row).map(|(a, b)| a * b).sum::<f64>();
            let new = row.last().copied().unwrap_or(f64::NAN);
            parts.push((self.product(column, *other) - said) / new);
        }
        parts
    }

    fn dependence(&self, column: usize, kept: &[(usize, Vec<f64>)]) -> Dependence {
        let own = self.product(column, column);
        if own == 0.0 {
            return Dependence::Zero;
        }
        let parallel = |other: usize| {
            let both = self.product(column, other);
            let share = both * both / (own * self.product(other, other));
            1.0 - share <= SHARE
        };
        let mut earlier = kept.iter().map(|(other, _)| *other);
        earlier
            .find(|other| parallel(*other))
            .map_or(Dependence::Several, Dependence::Multiple)
    }
}
