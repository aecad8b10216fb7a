//! Whether groups wait alike: the log-rank test (Mantel 1966; Peto & Peto 1972).

use super::Observed;
use super::tail::chi_square_tail;
use serde::{Deserialize, Serialize};

/// A group takes part in a comparison when so many events would be expected in it if all groups
/// waited alike. Five is what is printed for chi-square tests (NIST/SEMATECH e-Handbook 1.3.5.15);
/// for the log-rank test it is common practice, no source. Expected and not observed events
/// are asked for, because a lure that never worked on twenty boars says a great deal.
pub const EXPECTED_AT_LEAST: f64 = 5.0;

/// A direction in which the groups' variance is smaller than this share of the largest is none.
const FLAT: f64 = 1e-10;

/// One group of a log-rank test.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Ranked {
    /// How many were watched.
    pub watched: usize,
    /// For how many it happened.
    pub happened: usize,
    /// For how many it would have, had all groups waited alike.
    pub expected: f64,
}

/// The outcome of a log-rank test.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct LogRank {
    /// The statistic.
    pub chi_square: f64,
    /// Its degrees of freedom.
    pub degrees: u32,
    /// The chance of groups as far apart as these or farther, if all waited alike.
    pub chance: f64,
    /// The groups, as given.
    pub groups: Vec<Ranked>,
}

/// A group that was left out of a comparison.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct LeftOut {
    /// Its place among the groups given, from 0.
    pub group: usize,
    /// The events expected in it.
    pub expected: f64,
}

/// Why groups cannot be compared.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum TooFew {
    /// There is one group, or none.
    Groups,
    /// Fewer than two groups have as many expected events as it takes.
    Expected {
        /// The events there are, in all groups.
        happened: usize,
        /// The expected events that each of two groups would need.
        at_least: f64,
    },
    /// It happened for all who were still watched at once, so that nothing tells them apart.
    AllAtOnce,
}

/// Whether groups wait alike, or why that cannot be said.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Compared {
    /// They were compared.
    Test {
        /// The test, of those that took part.
        test: LogRank,
        /// Those that were too small to take part.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        left_out: Vec<LeftOut>,
    },
    /// Too few to say.
    TooFew(TooFew),
}

/// Compares the groups that are large enough; see [`EXPECTED_AT_LEAST`].
pub fn compare(groups: &[Vec<Observed>]) -> Compared {
    if groups.len() < 2 {
        return Compared::TooFew(TooFew::Groups);
    }
    let expected = Tally::of(groups).expected;
    let small = |at: &usize| expected[*at] < EXPECTED_AT_LEAST;
    let left_out = (0..groups.len()).filter(small).map(|group| LeftOut {
        group,
        expected: expected[group],
    });
    let kept: Vec<_> = (0..groups.len())
        .filter(|at| !small(at))
        .map(|at| groups[at].clone())
        .collect();
    let tally = Tally::of(&kept);
    if kept.len() < 2 || tally.expected.iter().any(|e| *e < EXPECTED_AT_LEAST) {
        let happened = groups.iter().flatten().filter(|o| o.happened()).count();
        return Compared::TooFew(TooFew::Expected {
            happened,
            at_least: EXPECTED_AT_LEAST,
        });
    }
    tally
        .test(&kept)
        .map_or(Compared::TooFew(TooFew::AllAtOnce), |test| Compared::Test {
            test,
            left_out: left_out.collect(),
        })
}

/// The log-rank test, however few they are. A group in which nobody was watched until the first
/// event says nothing and costs no degree of freedom. None where nothing tells the groups apart.
pub fn log_rank(groups: &[Vec<Observed>]) -> Option<LogRank> {
    Tally::of(groups).test(groups)
}

/// Expected events of each group, and the covariance of observed less expected.
struct Tally {
    expected: Vec<f64>,
    covariance: Vec<Vec<f64>>,
}

impl Tally {
    fn of(groups: &[Vec<Observed>]) -> Self {
        let k = groups.len();
        let mut tally = Self {
            expected: vec![0.0; k],
            covariance: vec![vec![0.0; k]; k],
        };
        let with_group = |(at, group): (usize, &Vec<Observed>)| {
            group.iter().map(|o| (at, *o)).collect::<Vec<_>>()
        };
        let mut all: Vec<_> = groups.iter().enumerate().flat_map(with_group).collect();
        all.sort_by(|a, b| a.1.time().total_cmp(&b.1.time()));
        let mut at_risk: Vec<f64> = groups.iter().map(|g| g.len() as f64).collect();
        for same in all.chunk_by(|a, b| a.1.time() == b.1.time()) {
            let happened = same.iter().filter(|(_, o)| o.happened()).count();
            if happened > 0 {
                tally.take(&at_risk, happened as f64);
            }
            same.iter().for_each(|(group, _)| at_risk[*group] -= 1.0);
        }
        tally
    }

    /// Takes in `d` events at one time, with so many at risk in each group.
    fn take(&mut self, at_risk: &[f64], d: f64) {
        let n: f64 = at_risk.iter().sum();
        let share = |g: usize| at_risk[g] / n;
        let varies = if n > 1.0 {
            d * (n - d) / (n - 1.0)
        } else {
            0.0
        };
        for g in 0..at_risk.len() {
            self.expected[g] += d * share(g);
            for h in 0..at_risk.len() {
                let own = if g == h { 1.0 } else { 0.0 };
                self.covariance[g][h] += varies * share(g) * (own - share(h));
            }
        }
    }

    fn test(&self, groups: &[Vec<Observed>]) -> Option<LogRank> {
        let happened = |g: &Vec<Observed>| g.iter().filter(|o| o.happened()).count();
        let mut says: Vec<usize> = (0..groups.len())
            .filter(|g| self.expected[*g] > 0.0)
            .collect();
        // The differences of all groups sum to nothing: one of them follows from the others.
        says.pop()?;
        let apart: Vec<f64> = says
            .iter()
            .map(|g| happened(&groups[*g]) as f64 - self.expected[*g])
            .collect();
        let pick = |g: &usize| says.iter().map(|h| self.covariance[*g][*h]).collect();
        let solved = solve(says.iter().map(pick).collect(), apart.clone())?;
        let chi_square: f64 = apart.iter().zip(&solved).map(|(a, b)| a * b).sum();
        let degrees = u32::try_from(says.len()).ok().filter(|d| *d > 0)?;
        let ranked = groups.iter().zip(&self.expected);
        Some(LogRank {
            chi_square,
            degrees,
            chance: chi_square_tail(chi_square, degrees),
            groups: ranked
                .map(|(group, expected)| Ranked {
                    watched: group.len(),
                    happened: happened(group),
                    expected: *expected,
                })
                .collect(),
        })
    }
}

/// Solves a symmetric system by elimination with the largest pivot; none where it has no single answer.
fn solve(mut rows: Vec<Vec<f64>>, mut right: Vec<f64>) -> Option<Vec<f64>> {
    let n = right.len();
    let largest = (0..n).map(|i| rows[i][i]).fold(0.0, f64::max);
    for i in 0..n {
        let pivot = (i..n).max_by(|a, b| rows[*a][i].abs().total_cmp(&rows[*b][i].abs()))?;
        if rows[pivot][i].abs() <= FLAT * largest {
            return None;
        }
        rows.swap(i, pivot);
        right.swap(i, pivot);
        let above = rows[i].clone();
        for j in i + 1..n {
            let factor = rows[j][i] / above[i];
            let below = rows[j].iter_mut().zip(&above);
            below.for_each(|(cell, over)| *cell -= factor * over);
            right[j] -= factor * right[i];
        }
    }
    for i in (0..n).rev() {
        let known: f64 = (i + 1..n).map(|j| rows[i][j] * right[j]).sum();
        right[i] = (right[i] - known) / rows[i][i];
    }
    Some(right)
}
