//! Works printed formulas out with an evaluator that shares no code with the reckoning, and with
//! tables and sums written down here a second time.

#[path = "distributions.rs"]
mod distributions;

use chrono::{Datelike, Months, NaiveDate};
use evalexpr::{
    ContextWithMutableFunctions, ContextWithMutableVariables, EvalexprError, EvalexprResult,
    Function, HashMapContext, Value as Worked, eval_with_context,
};
use pentally_domain::explain::{Explained, Origin, Value};
use std::collections::{BTreeMap, BTreeSet};

/// Panics unless every figure's formula yields its result, and every input that claims to be
/// another figure is one of these, with the same number.
pub fn check_all(figures: &[&Explained]) {
    for figure in figures {
        check(figure);
        for input in figure.inputs.iter().filter(|i| i.from == Origin::Figure) {
            let same = |f: &&&Explained| f.figure == input.name && f.result == input.value;
            assert!(
                figures.iter().any(|f| same(&f)),
                "{input:?} of {figure:?} is no figure here"
            );
        }
    }
}

/// Panics unless the figure's formula yields its result.
pub fn check(figure: &Explained) {
    let found = work_out(figure).unwrap_or_else(|e| panic!("{figure:?}: {e}"));
    match figure.result {
        Value::Number(shown) => {
            let far = (found - shown).abs() / shown.abs().max(1.0);
            assert!(
                far < 1e-9,
                "{figure:?} is shown, the formula yields {found}"
            );
        }
        Value::Day(day) => {
            assert_eq!(f64::from(day.num_days_from_ce()), found, "{figure:?}");
        }
    }
}

fn work_out(figure: &Explained) -> EvalexprResult<f64> {
    let mut inputs: BTreeMap<&str, Vec<f64>> = BTreeMap::new();
    for input in &figure.inputs {
        inputs
            .entry(input.name.name())
            .or_default()
            .push(number(input.value));
    }
    let mut context = functions()?;
    // A name may stand in two lists of one formula.
    let mut listed = BTreeSet::new();
    for list in ["sum", "product", "norm"] {
        for name in named_in(list, &figure.formula) {
            let values = inputs.get(name).cloned().unwrap_or_default();
            listed.insert(name);
            let values = values.into_iter().map(Worked::Float).collect();
            context.set_value(name.to_owned(), Worked::Tuple(values))?;
        }
    }
    inputs.retain(|name, _| !listed.contains(name));
    for (name, values) in inputs {
        assert!(
            figure.formula.contains(name),
            "{name} does not stand in {}",
            figure.formula
        );
        assert!(
            values.windows(2).all(|pair| pair[0] == pair[1]),
            "two values for {name}"
        );
        context.set_value(name.to_owned(), Worked::Float(values[0]))?;
    }
    eval_with_context(&figure.formula, &context)?.as_number()
}

/// The names that stand in `list(name)`.
fn named_in<'a>(list: &str, formula: &'a str) -> Vec<&'a str> {
    let after = formula
        .split(&format!("{list}("))
        .skip(1)
        .collect::<Vec<_>>();
    let start = |rest: &str| rest.as_ptr() as usize - formula.as_ptr() as usize;
    let ends = |rest: &&'a str| {
        let from = start(rest);
        &formula[from..from + formula[from..].find(')').expect("a closing bracket")]
    };
    after.iter().map(ends).collect()
}

fn number(value: Value) -> f64 {
    match value {
        Value::Number(number) => number,
        Value::Day(day) => day.num_days_from_ce().into(),
    }
}

fn functions() -> EvalexprResult<HashMapContext> {
    let mut context = HashMapContext::new();
    let mut add = |name: &str, f: fn(&[f64]) -> f64| {
        let f = Function::new(move |arguments| Ok(Worked::Float(f(&floats(arguments)?))));
        context.set_function(name.to_owned(), f)
    };
    add("sqrt", |x| x[0].powf(0.5))?;
    add("ln", |x| x[0].ln())?;
    add("whole", |x| (x[0] + 1e-9).floor())?;
    add("sum", |x| x.iter().sum())?;
    add("product", |x| x.iter().product())?;
    add("norm", |x| x.iter().map(|x| x * x).sum::<f64>().sqrt())?;
    add("exp", |x| x[0].exp())?;
    add("ln", |x| x[0].ln())?;
    add("ceil", |x| (x[0] - 1e-9).ceil().max(0.0))?;
    add("gamma_quantile", |x| {
        distributions::gamma_quantile(x[0], x[1])
    })?;
    add("beta_quantile", |x| {
        distributions::beta_quantile(x[0], x[1], x[2])
    })?;
    add("beta_below", |x| {
        distributions::beta_below(x[0], x[1], x[2])
    })?;
    add("normal_below", |x| distributions::normal_below(x[0]))?;
    add("who_2_1", |x| who_2_1(x[0]))?;
    add("months", |x| months(day(x[0]), day(x[1])).into())?;
    add("exact_chance", |x| exact_chance([x[0], x[1], x[2], x[3]]))?;
    Ok(context)
}

fn floats(arguments: &Worked) -> Result<Vec<f64>, EvalexprError> {
    match arguments {
        Worked::Tuple(list) => list.iter().map(Worked::as_number).collect(),
        one => Ok(vec![one.as_number()?]),
    }
}

/// WHO laboratory manual, 5th ed. 2010, table 2.1, row by row; between two whole averages the
/// stricter row.
fn who_2_1(average: f64) -> f64 {
    let row = |average: f64| match average as u32 {
        3..=4 | 96..=97 => 4.0,
        5..=7 | 93..=95 => 5.0,
        8..=11 | 89..=92 => 6.0,
        12..=16 | 84..=88 => 7.0,
        17..=23 | 77..=83 => 8.0,
        24..=34 | 66..=76 => 9.0,
        35..=65 => 10.0,
        _ => f64::NAN,
    };
    row(average.floor()).min(row(average.ceil()))
}

/// The most months that can be added without passing the later day.
fn months(from: NaiveDate, to: NaiveDate) -> u32 {
    (1..)
        .find(|n| from + Months::new(*n) > to)
        .expect("a month")
        - 1
}

fn day(days: f64) -> NaiveDate {
    NaiveDate::from_num_days_from_ce_opt(days as i32).expect("a day")
}

/// Both binomials by logarithms of factorials, summed over the whole table of outcomes.
fn exact_chance([a, n, b, m]: [f64; 4]) -> f64 {
    let share = (a + b) / (n + m);
    let (first, second) = (binomial(n, share), binomial(m, share));
    let apart = (a * m - b * n).abs();
    let mut chance = 0.0;
    for (i, p) in first.iter().enumerate() {
        for (j, q) in second.iter().enumerate() {
            if (i as f64 * m - j as f64 * n).abs() >= apart {
                chance += p * q;
            }
        }
    }
    chance
}

fn binomial(n: f64, share: f64) -> Vec<f64> {
    let log_factorial = |k: u32| (1..=k).map(|i| f64::from(i).ln()).sum::<f64>();
    if share == 0.0 || share == 1.0 {
        return (0..=n as u32)
            .map(|k| f64::from(u8::from(f64::from(k) == n * share)))
            .collect();
    }
    let chance = |k: u32| {
        let ways = log_factorial(n as u32) - log_factorial(k) - log_factorial(n as u32 - k);
        (ways + f64::from(k) * share.ln() + (n - f64::from(k)) * (1.0 - share).ln()).exp()
    };
    (0..=n as u32).map(chance).collect()
}
