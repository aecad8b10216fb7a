//! Against `tests/laboratory/keeping.jsonl`, which `keeping.py` beside it made with the versions in
//! its first line, and against printed fits.

use super::*;
use crate::label::symbol::{Level, modules};
use serde_json::Value;

const CASES: &str = include_str!("../../../../../tests/laboratory/keeping.jsonl");

fn cases(kind: &str) -> Vec<Value> {
    let all = CASES
        .lines()
        .map(|line| serde_json::from_str::<Value>(line).unwrap());
    all.filter(|case| case["kind"] == kind).collect()
}

fn numbers(value: &Value) -> Vec<f64> {
    value
        .as_array()
        .unwrap()
        .iter()
        .map(|n| n.as_f64().unwrap())
        .collect()
}

fn pair(value: &Value) -> [f64; 2] {
    numbers(value).try_into().unwrap()
}

fn square(value: &Value) -> Square {
    Square([pair(&value[0]), pair(&value[1])])
}

fn herd(value: &Value) -> Herd {
    Herd {
        mean: pair(&value["mean"]),
        covariance: square(&value["covariance"]),
        boars: square(&value["boars"]),
        batches: square(&value["batches"]),
        samples: value["samples"].as_f64().unwrap(),
    }
}

fn looks(value: &Value) -> Batch {
    let one = |l: &Value| {
        let l = numbers(l);
        look(l[0], l[1] as u32, l[2] as u16)
    };
    value.as_array().unwrap().iter().map(one).collect()
}

fn batches(value: &Value) -> Vec<Batch> {
    value.as_array().unwrap().iter().map(looks).collect()
}

fn near_square(found: Square, read: Square, share: f64) {
    for (found, read) in found.0.iter().flatten().zip(read.0.iter().flatten()) {
        near(*found, *read, share);
    }
}

fn near_line(found: &Line, case: &Value, far: f64) {
    for (found, read) in found.mean.iter().zip(pair(&case["mean"])) {
        near(*found, read, far);
    }
    near_square(found.covariance, square(&case["covariance"]), far);
}

/// statsmodels' GLM, binomial with a logit link.
#[test]
fn a_line_through_one_batch_is_that_of_statsmodels() {
    let cases = cases("plain");
    assert!(cases.len() > 350);
    for case in cases {
        let (days, hits, cells) = (&case["days"], &case["hits"], &case["cells"]);
        let rows = numbers(days)
            .into_iter()
            .zip(numbers(hits))
            .zip(numbers(cells));
        let looks: Vec<_> = rows
            .map(|((d, h), n)| look(d, h as u32, n as u16))
            .collect();
        let fit = plain::fit(&looks).unwrap();
        for i in 0..2 {
            let (found, read) = (fit.coefficients[i], pair(&case["coefficients"])[i]);
            near(found, read, 1e-7 * read.abs().max(1.0));
            let (found, read) = (fit.standard_errors[i], pair(&case["standard_errors"])[i]);
            near(found, read, 1e-7 * read.abs().max(1.0));
        }
        let read = case["deviance"].as_f64().unwrap();
        near(fit.deviance, read, 1e-8 * read.max(1.0));
        assert_eq!(fit.degrees_of_freedom, looks.len() - 2);
    }
}

/// Beetles after five hours in carbon disulphide (Bliss 1935, Annals of Applied Biology 22:134), as
/// printed with their logit fit in Dobson & Barnett, An Introduction to Generalized Linear Models,
/// table 7.2: −60.72 (5.18), 34.27 (2.91), deviance 11.23. Data and fit are from memory; that the
/// one yields the other is statsmodels' word too.
#[test]
fn the_beetles_of_bliss_come_out_as_printed() {
    let beetles = [
        (1.6907, 6, 59),
        (1.7242, 13, 60),
        (1.7552, 18, 62),
        (1.7842, 28, 56),
        (1.8113, 52, 63),
        (1.8369, 53, 59),
        (1.8610, 61, 62),
        (1.8839, 60, 60),
    ];
    let looks: Vec<_> = beetles.iter().map(|(d, h, n)| look(*d, *h, *n)).collect();
    let fit = plain::fit(&looks).unwrap();
    near(fit.coefficients[0], -60.72, 0.005);
    near(fit.coefficients[1], 34.27, 0.005);
    near(fit.standard_errors[0], 5.18, 0.005);
    near(fit.standard_errors[1], 2.91, 0.005);
    near(fit.deviance, 11.23, 0.005);
}

/// The mode over all effects at once by scipy's minimiser, and its dense Hessian.
#[test]
fn boar_and_batches_lie_where_a_dense_search_finds_them() {
    let cases = cases("placed");
    assert_eq!(cases.len(), 40);
    for case in cases {
        let placed = place(&herd(&case["herd"]), &batches(&case["looks"])).unwrap();
        near_line(&placed.next, &case["next"], 1e-7);
        let read = case["batches"].as_array().unwrap();
        assert_eq!(placed.batches.len(), read.len());
        for (line, case) in placed.batches.iter().zip(read) {
            near_line(line, case, 1e-7);
        }
    }
}

/// Quadrature knows no normal about a mode: what that costs is at most so much of a chance.
#[test]
fn the_chance_to_be_down_is_that_of_quadrature() {
    let mut worst = 0.0_f64;
    for case in cases("exact") {
        let placed = place(&herd(&case["herd"]), &[looks(&case["looks"])]).unwrap();
        let chances = numbers(&case["days"])
            .into_iter()
            .zip(numbers(&case["down"]));
        for (days, read) in chances {
            let found = day::chance_down(&placed.batches[0], Floor::HARD, days);
            worst = worst.max((found - read).abs());
            if (0.03..0.08).contains(&found) {
                // Where the cautious end lies the normal is the more cautious of the two.
                assert!(
                    (-0.002..0.02).contains(&(found - read)),
                    "{days} {found} {read}"
                );
            }
        }
    }
    assert!(worst < 0.035, "{worst}");
}

/// The same expectation and maximisation with dense matrices.
#[test]
fn a_herd_is_fitted_as_with_dense_matrices() {
    let cases = cases("herd");
    assert_eq!(cases.len(), 2);
    for case in cases {
        let boars: Vec<_> = case["looks"]
            .as_array()
            .unwrap()
            .iter()
            .map(batches)
            .collect();
        let fitted = herd::fit(&herd(&case["prior"]), &boars).unwrap();
        let read = herd(&case["herd"]);
        assert!(fitted.rested);
        for (found, read) in [
            (fitted.herd.covariance, read.covariance),
            (fitted.herd.boars, read.boars),
            (fitted.herd.batches, read.batches),
        ] {
            near_square(found, read, 2e-5);
        }
        near(fitted.herd.samples, read.samples, 2e-5);
        near(fitted.herd.mean[0], read.mean[0], 2e-5);
        near(fitted.herd.mean[1], read.mean[1], 2e-5);
    }
}

/// Bracketing the normal's distribution function (scipy).
#[test]
fn the_days_of_a_line_are_where_a_search_finds_them() {
    for case in cases("day") {
        let line = Line {
            mean: pair(&case["mean"]),
            covariance: square(&case["covariance"]),
        };
        let found = day::day(&line, Floor::HARD);
        for (found, name) in [
            (found.from, "from"),
            (found.middle, "middle"),
            (found.to, "to"),
        ] {
            match (found, case[name].as_f64()) {
                (Some(found), Some(read)) => near(found, read, 1e-8),
                (None, None) => {}
                both => panic!("{name} of {case}: {both:?}"),
            }
        }
    }
}

/// segno's smallest version for alphanumeric text.
#[test]
fn symbols_are_as_large_as_an_encoder_makes_them() {
    let cases = cases("symbol");
    assert!(cases.len() > 200);
    for case in cases {
        let level = match case["level"].as_str().unwrap() {
            "m" => Level::M,
            "q" => Level::Q,
            _ => Level::H,
        };
        let read = case["modules"].as_u64().unwrap();
        let found = modules(case["characters"].as_u64().unwrap() as usize, level);
        let within = (read <= 49).then_some(read as u8);
        assert_eq!(found, within, "{case}");
    }
}
