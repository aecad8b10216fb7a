//! Rows that come in groups, against what is printed and what other programs make of them:
//! `tests/mixed/generate.py`, whose output names the programs and their versions.

use pentally_domain::mixed::{Fit, FitError, Normal, Prior, Sums, Totals, Variance, fit};
use serde_json::Value;

/// Group, columns, measured.
type Row = (usize, Vec<f64>, f64);

fn cases(text: &str) -> Vec<Value> {
    let lines = text.lines().skip(1);
    lines
        .map(|line| serde_json::from_str(line).expect("JSON"))
        .collect()
}

fn open() -> Vec<Value> {
    cases(include_str!("../mixed/open.jsonl"))
}

fn open_named(name: &str) -> Value {
    let mut all = open().into_iter();
    all.find(|case| case["name"] == name).expect(name)
}

fn number(value: &Value) -> f64 {
    value.as_f64().expect("a number")
}

fn numbers(value: &Value) -> Vec<f64> {
    value
        .as_array()
        .expect("a list")
        .iter()
        .map(number)
        .collect()
}

fn rows(case: &Value) -> Vec<Row> {
    let row = |row: &Value| {
        let group = usize::try_from(row[0].as_u64().expect("a group")).expect("small");
        (group, numbers(&row[1]), number(&row[2]))
    };
    case["rows"]
        .as_array()
        .expect("rows")
        .iter()
        .map(row)
        .collect()
}

fn summed(rows: &[Row]) -> (Totals, Vec<Sums>) {
    let columns = rows[0].1.len();
    let mut totals = Totals::new(columns);
    let groups = rows.iter().map(|row| row.0 + 1).max().unwrap_or(0);
    let mut groups = vec![Sums::new(columns); groups];
    for (group, x, y) in rows {
        totals.add(x, *y).expect("a row");
        groups[*group].add(x, *y).expect("a row");
    }
    (totals, groups)
}

fn fitted(rows: &[Row], prior: &Prior) -> Result<Fit, FitError> {
    let (totals, groups) = summed(rows);
    fit(&totals, &groups, prior)
}

fn flat(case: &Value) -> Fit {
    let rows = rows(case);
    fitted(&rows, &Prior::flat(rows[0].1.len())).expect("a fit")
}

/// Within half of the last place printed.
fn printed(found: f64, read: f64, places: i32) {
    let half = 0.5 * 10_f64.powi(-places);
    assert!(
        (found - read).abs() <= half * 1.000_001,
        "{found}, printed {read}"
    );
}

fn close(found: f64, read: f64, share: f64, what: &str) {
    let far = (found - read).abs();
    assert!(far <= share * read.abs(), "{what}: {found}, not {read}");
}

/// To five digits of itself or of `size`, whichever is more.
fn close_beside(found: f64, read: f64, size: f64, what: &str) {
    let far = (found - read).abs();
    assert!(far <= 1e-5 * read.max(size), "{what}: {found}, not {read}");
}

fn all_close(found: &[f64], read: &[f64], share: f64, what: &str) {
    assert_eq!(found.len(), read.len(), "{what}");
    let size = read.iter().fold(0.0, |most: f64, v| most.max(v.abs()));
    for (found, read) in found.iter().zip(read) {
        assert!(
            (found - read).abs() <= share * size,
            "{what}: {found}, not {read}"
        );
    }
}

/// The reference manual of lme4 prints this fit of lmer(Yield ~ 1 + (1 | Batch)).
#[test]
fn the_yields_of_dyestuff_are_as_printed() {
    let fit = flat(&open_named("Dyestuff"));
    printed(fit.beta[0], 1527.5, 4);
    printed(fit.standard_error(0).expect("a column"), 19.383, 3);
    printed(fit.between, 1764.05, 2);
    printed(fit.residual, 2451.25, 2);
    assert_eq!((fit.n, fit.groups), (30, 6));
}

/// Bates et al. 2015 (J. Stat. Softw. 67:1) for the data; figures of lmer(Reaction ~ Days +
/// (1 | Subject)) as lme4 prints them.
#[test]
fn the_reactions_of_sleepstudy_are_as_printed() {
    let fit = flat(&open_named("sleepstudy"));
    for (column, effect, places, error) in [(0, 251.405, 3, 9.7467), (1, 10.467, 3, 0.8042)] {
        printed(fit.beta[column], effect, places);
        printed(fit.standard_error(column).expect("a column"), error, 4);
    }
    printed(fit.between, 1378.18, 2);
    printed(fit.residual, 960.46, 2);
    printed(-2.0 * fit.log_likelihood, 1786.465, 3);
}

/// Data of Box & Tiao (1973), made so that groups differ by less than rows do: the best variance
/// between them is 0. lme4 prints 5.6656 (0.6784), residual 13.81 (from memory); the residual is
/// then the plain variance.
#[test]
fn the_yields_of_dyestuff2_have_nothing_between_batches() {
    let case = open_named("Dyestuff2");
    let fit = flat(&case);
    assert_eq!(fit.between, 0.0);
    let y: Vec<_> = rows(&case).iter().map(|row| row.2).collect();
    let mean = y.iter().sum::<f64>() / 30.0;
    let variance = y.iter().map(|y| (y - mean).powi(2)).sum::<f64>() / 29.0;
    close(fit.residual, variance, 1e-12, "residual");
    close(fit.beta[0], mean, 1e-12, "mean");
    printed(fit.beta[0], 5.6656, 4);
    printed(fit.standard_error(0).expect("a column"), 0.6784, 4);
    printed(fit.residual, 13.81, 2);
    let none = fit.effect(&summed(&rows(&case)).1[0]).expect("sums");
    assert_eq!((none.mean, none.sd), (0.0, 0.0));
}

/// The search of statsmodels stops a little early, so the variances agree to five digits.
#[test]
fn open_data_are_fitted_as_by_statsmodels() {
    for case in open() {
        let (fit, name) = (flat(&case), case["name"].as_str().expect("a name"));
        let beta = numbers(&case["beta"]);
        let errors: Vec<_> = (0..beta.len())
            .filter_map(|j| fit.standard_error(j))
            .collect();
        all_close(&fit.beta, &beta, 1e-6, name);
        all_close(&errors, &numbers(&case["errors"]), 1e-5, name);
        close(fit.residual, number(&case["residual"]), 1e-5, name);
        // Where the best is 0, statsmodels ends a little above.
        let (between, size) = (number(&case["between"]), 1e-3 * fit.residual);
        close_beside(fit.between, between, size, name);
        close(
            fit.log_likelihood,
            number(&case["log_likelihood"]),
            1e-9,
            name,
        );
    }
    assert_eq!(open().len(), 8);
}

#[test]
fn effects_of_groups_and_next_rows_are_those_of_statsmodels_and_henderson() {
    let mut compared = 0;
    for case in open().iter().filter(|case| case["effects"].is_array()) {
        let (fit, rows) = (flat(case), rows(case));
        let name = case["name"].as_str().expect("a name");
        let (_, groups) = summed(&rows);
        let found: Vec<_> = groups
            .iter()
            .map(|g| fit.effect(g).expect("sums"))
            .collect();
        let means: Vec<_> = found.iter().map(|e| e.mean).collect();
        let sds: Vec<_> = found.iter().map(|e| e.sd).collect();
        all_close(&means, &numbers(&case["effects"]), 1e-5, name);
        all_close(&sds, &numbers(&case["effect_errors"]), 1e-5, name);
        let (group, x, _) = rows.last().expect("rows");
        let next = fit.predict(x, &groups[*group]).expect("a row");
        all_close(&[next.mean, next.sd], &numbers(&case["next"]), 1e-6, name);
        compared += 1;
    }
    assert_eq!(compared, 7);
}

fn variance(value: &Value) -> Option<Variance> {
    let known = value.as_array()?;
    let (guess, weight) = (number(&known[0]), number(&known[1]));
    Some(Variance { guess, weight })
}

fn prior(case: &Value) -> Prior {
    let normal = |value: &Value| {
        let known = value.as_array()?;
        let (mean, sd) = (number(&known[0]), number(&known[1]));
        Some(Normal { mean, sd })
    };
    Prior {
        columns: case["columns"]
            .as_array()
            .expect("columns")
            .iter()
            .map(normal)
            .collect(),
        between: variance(&case["between"]),
        residual: variance(&case["residual"]),
    }
}

/// One to forty rows, with all, some or little known beforehand.
#[test]
fn with_things_known_beforehand_the_mode_is_that_of_a_search_over_whole_matrices() {
    let cases = cases(include_str!("../mixed/prior.jsonl"));
    let (mut integrated, mut at_zero) = (0, 0);
    for (at, case) in cases.iter().enumerate() {
        let (what, read) = (format!("case {at}"), &case["found"]);
        let fit = fitted(&rows(case), &prior(case)).unwrap_or_else(|e| panic!("{what}: {e}"));
        let between = number(&read["between"]);
        // What is small beside the residual hardly shows in so few rows, to either search.
        close_beside(fit.between, between, 0.1 * fit.residual, &what);
        at_zero += u32::from(between == 0.0);
        close(fit.residual, number(&read["residual"]), 1e-5, &what);
        all_close(&fit.beta, &numbers(&read["beta"]), 1e-6, &what);
        all_close(&fit.cov, &numbers(&read["cov"]), 1e-5, &what);
        close(
            fit.log_likelihood,
            number(&read["log_likelihood"]),
            1e-6,
            &what,
        );
        if let Some(read) = read["integrated"].as_f64() {
            close(fit.log_likelihood, read, 1e-6, &what);
            integrated += 1;
        }
    }
    assert!(cases.len() == 60 && integrated > 10 && at_zero > 1);
}

/// NIST StRD, linear regression, Norris: measured and column, then the certified values.
#[test]
fn without_groups_it_is_the_certified_regression() {
    let mut totals = Totals::new(2);
    for (y, x) in NORRIS {
        totals.add(&[1.0, x], y).expect("a row");
    }
    let fit = fit(&totals, &[], &Prior::flat(2)).expect("a fit");
    close(fit.beta[0], -0.262_323_073_774_029, 1e-9, "intercept");
    close(fit.beta[1], 1.002_116_818_020_45, 1e-12, "slope");
    let error = |column| fit.standard_error(column).expect("a column");
    close(
        error(0),
        0.232_818_234_301_152,
        1e-9,
        "error of the intercept",
    );
    close(
        error(1),
        0.000_429_796_848_199_937,
        1e-9,
        "error of the slope",
    );
    close(fit.residual.sqrt(), 0.884_796_396_144_373, 1e-9, "residual");
    assert_eq!((fit.between, fit.groups), (0.0, 0));
}

const NORRIS: [(f64, f64); 36] = [
    (0.1, 0.2),
    (338.8, 337.4),
    (118.1, 118.2),
    (888.0, 884.6),
    (9.2, 10.1),
    (228.1, 226.5),
    (668.5, 666.3),
    (998.5, 996.3),
    (449.1, 448.6),
    (778.9, 777.0),
    (559.2, 558.2),
    (0.3, 0.4),
    (0.1, 0.6),
    (778.1, 775.5),
    (668.8, 666.9),
    (339.3, 338.0),
    (448.9, 447.5),
    (10.8, 11.6),
    (557.7, 556.0),
    (228.3, 228.1),
    (998.0, 995.8),
    (888.8, 887.6),
    (119.6, 120.2),
    (0.3, 0.3),
    (0.6, 0.3),
    (557.6, 556.8),
    (339.3, 339.1),
    (888.0, 887.2),
    (998.5, 999.0),
    (778.9, 779.0),
    (10.2, 11.1),
    (117.6, 118.3),
    (228.9, 229.2),
    (668.4, 669.1),
    (449.2, 448.9),
    (0.2, 0.5),
];
