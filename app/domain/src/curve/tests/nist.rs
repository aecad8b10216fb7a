//! NIST Statistical Reference Datasets, linear regression (<https://www.itl.nist.gov/div898/strd/lls/lls.shtml>):
//! `tests/laboratory/nist.jsonl`, whose certified values `nist.py` works out anew with 60 digits.

use crate::curve::polynomial::Polynomial;
use crate::curve::regress::{Combined, Regression};
use serde::Deserialize;

#[derive(Deserialize)]
struct Set {
    name: String,
    columns: Vec<Vec<String>>,
    degree: usize,
    constant: bool,
    y: Vec<String>,
    estimates: Vec<String>,
    deviations: Vec<String>,
    residual_sd: String,
    r_squared: String,
}

/// The digits reached: estimates, their standard deviations, residual SD and R².
#[derive(Debug)]
struct Digits {
    estimates: f64,
    deviations: f64,
    residual_sd: f64,
    r_squared: f64,
}

/// The logarithm of the relative error, as NIST compares programs; of the error itself where the
/// certified value is 0. At most 15, since 15 digits are certified.
fn digits(found: f64, certified: &str) -> f64 {
    let certified: f64 = certified.parse().unwrap();
    let size = if certified == 0.0 {
        1.0
    } else {
        certified.abs()
    };
    let error = (found - certified).abs() / size;
    if error == 0.0 {
        15.0
    } else {
        (-error.log10()).min(15.0)
    }
}

fn numbers(text: &[String]) -> Vec<f64> {
    text.iter().map(|n| n.parse().unwrap()).collect()
}

fn fewest(found: &[f64], certified: &[String]) -> f64 {
    assert_eq!(found.len(), certified.len());
    let each = found.iter().zip(certified).map(|(f, c)| digits(*f, c));
    each.fold(15.0, f64::min)
}

fn reached(set: &Set) -> Digits {
    let columns: Vec<_> = set.columns.iter().map(|c| numbers(c)).collect();
    let y = numbers(&set.y);
    let (combined, fitted): (Vec<Combined>, Regression) = if set.degree > 1 {
        let found = Polynomial::fit(&columns[0], &y, None, set.degree).unwrap();
        let coefficients = (0..=set.degree).map(|power| found.coefficient(power));
        (coefficients.collect(), found.fitted().clone())
    } else {
        let found = Regression::fit(&columns, set.constant, &y, None).unwrap();
        let effects = columns.len() + usize::from(set.constant);
        let alone = |j: usize| {
            let mut row = vec![0.0; effects];
            row[j] = 1.0;
            found.combine(&row)
        };
        ((0..effects).map(alone).collect(), found)
    };
    let sd = fitted.residual_sd();
    let values: Vec<_> = combined.iter().map(|c| c.value).collect();
    let deviations: Vec<_> = combined.iter().map(|c| sd * c.share.sqrt()).collect();
    Digits {
        estimates: fewest(&values, &set.estimates),
        deviations: fewest(&deviations, &set.deviations),
        residual_sd: digits(sd, &set.residual_sd),
        r_squared: digits(fitted.r_squared(), &set.r_squared),
    }
}

/// 13 digits are asked of every figure of every set, the hardest ones included. Measured, as the fewest
/// of the estimates / of their deviations: Norris 14.1 / 13.9, Pontius 13.5 / 13.8, `NoInt1` 14.7 / 15,
/// `NoInt2` 15 / 14.9, Filip 14.0 / 13.9, Longley 14.6 / 15, Wampler1 15 / 15, Wampler2 13.2 / 15,
/// Wampler3 15 / 14.4, Wampler4 15 / 14.4, Wampler5 15 / 14.4. What is missing to 15 is lost where
/// printed decimals become binary fractions, before anything is computed.
#[test]
fn every_linear_reference_set_is_met_to_thirteen_digits() {
    const FEWEST: f64 = 13.0;
    let text = include_str!("../../../../../tests/laboratory/nist.jsonl");
    let sets: Vec<Set> = text
        .lines()
        .map(|line| serde_json::from_str(line).unwrap())
        .collect();
    assert_eq!(sets.len(), 11);
    for set in sets {
        let found = reached(&set);
        let each = [
            found.estimates,
            found.deviations,
            found.residual_sd,
            found.r_squared,
        ];
        let fewest = each.into_iter().fold(15.0, f64::min);
        assert!(fewest >= FEWEST, "{} {found:?}", set.name);
    }
}
