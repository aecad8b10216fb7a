use super::*;

fn turned(mut rows: Vec<Row>) -> Vec<Row> {
    rows.sort_by(|a, b| a.2.total_cmp(&b.2));
    rows
}

#[test]
fn the_order_of_rows_does_not_matter() {
    for seed in 1..30 {
        let rows = rows(9, 4, seed);
        for prior in [Prior::flat(3), whole_prior()] {
            let forth = fitted(&rows, &prior).unwrap();
            same_fit(
                &forth,
                &fitted(&turned(rows.clone()), &prior).unwrap(),
                1e-6,
            );
        }
    }
}

#[test]
fn sums_of_two_parts_are_those_of_the_whole() {
    let rows = rows(7, 5, 11);
    let (whole, groups) = summed(&rows);
    let halves = [&rows[..20], &rows[20..]];
    let (mut totals, mut joined) = (Totals::new(3), vec![Sums::new(3); groups.len()]);
    for half in halves {
        let (part, parts) = summed(half);
        totals.join(&part).unwrap();
        for (group, part) in joined.iter_mut().zip(&parts) {
            group.join(part).unwrap();
        }
    }
    assert_eq!(totals.n(), whole.n());
    for (i, j) in (0..4).flat_map(|i| (0..=i).map(move |j| (i, j))) {
        near(totals.product(i, j), whole.product(i, j), 1e-12);
    }
    for (joined, group) in joined.iter().zip(&groups) {
        assert_eq!(joined.n, group.n);
        near(joined.y, group.y, 1e-12);
    }
}

#[test]
fn what_is_taken_away_leaves_no_trace() {
    let mut all = rows(6, 4, 5);
    let before = fitted(&all, &Prior::flat(3)).unwrap();
    let (mut totals, mut groups) = summed(&all);
    for (group, x, y) in rows(6, 2, 77) {
        totals.add(&x, y).unwrap();
        groups[group].add(&x, y).unwrap();
        totals.take_away(&x, y).unwrap();
        groups[group].take_away(&x, y).unwrap();
    }
    same_fit(
        &fit(&totals, &groups, &Prior::flat(3)).unwrap(),
        &before,
        1e-6,
    );
    while let Some((group, x, y)) = all.pop() {
        totals.take_away(&x, y).unwrap();
        groups[group].take_away(&x, y).unwrap();
    }
    assert_eq!((totals, groups), (Totals::new(3), vec![Sums::new(3); 6]));
}

/// Rows kept as a list and summed anew say the same as rows added one by one.
#[test]
fn a_row_added_to_sums_counts_as_if_summed_anew() {
    let rows = rows(8, 6, 21);
    let fit = fitted(&rows, &Prior::flat(3)).unwrap();
    let (mut sums, mut own) = (Sums::new(3), vec![]);
    for (_, x, y) in rows.iter().filter(|row| row.0 == 3) {
        sums.add(x, *y).unwrap();
        own.push((0, x.clone(), *y));
        let (_, anew) = summed(&own.iter().rev().cloned().collect::<Vec<_>>());
        let (a, b) = (
            fit.predict(x, &sums).unwrap(),
            fit.predict(x, &anew[0]).unwrap(),
        );
        near(a.mean, b.mean, 1e-12);
        near(a.sd, b.sd, 1e-12);
    }
}

/// A group without rows is what the population is: x·β, and all variances with all unknowns.
#[test]
fn a_group_without_rows_is_the_population() {
    let fit = fitted(&rows(8, 6, 3), &Prior::flat(3)).unwrap();
    let none = Sums::new(3);
    let predicted = fit.predict(&[1.0, 0.0, 0.0], &none).unwrap();
    assert_eq!(predicted.mean, fit.beta[0]);
    near(
        predicted.sd.powi(2),
        fit.residual + fit.between + fit.cov[0],
        1e-12,
    );
    let effect = fit.effect(&none).unwrap();
    assert_eq!(effect.mean, 0.0);
    near(effect.sd, fit.between.sqrt(), 1e-12);
    let [low, high] = predicted.interval();
    near(high - low, 2.0 * 1.644_853_627 * predicted.sd, 1e-9);
    near(predicted.distance(high), 1.644_853_627, 1e-9);
}

#[test]
fn more_rows_of_a_group_leave_less_unknown_of_it() {
    let fit = fitted(&rows(8, 6, 13), &Prior::flat(3)).unwrap();
    let (mut sums, mut before) = (Sums::new(3), f64::INFINITY);
    for _ in 0..400 {
        let sd = fit.predict(&[1.0, 5.0, 1.0], &sums).unwrap().sd;
        assert!(sd < before && sd > fit.residual.sqrt());
        before = sd;
        sums.add(&[1.0, 5.0, 1.0], 230.0).unwrap();
    }
    let mean = fit.predict(&[1.0, 5.0, 1.0], &sums).unwrap().mean;
    assert!((mean - 230.0).abs() < 0.5, "after 400 rows of 230: {mean}");
}

#[test]
fn no_rows_give_the_prior_back() {
    for groups in [vec![], vec![Sums::new(3); 4]] {
        let fit = fit(&Totals::new(3), &groups, &whole_prior()).unwrap();
        assert_eq!(fit.beta, [190.0, 2.0, 0.0]);
        assert_eq!(fit.cov, [400.0, 0.0, 1.0, 0.0, 0.0, 16.0]);
        assert_eq!((fit.between, fit.residual, fit.n), (9.0, 4.0, 0));
    }
}

/// The fewer the rows, the nearer to the prior; with thousands it hardly tells.
#[test]
fn rows_outweigh_the_prior_little_by_little() {
    let one = fitted(&rows(1, 0, 9)[..1], &whole_prior()).unwrap();
    assert!((one.between / 9.0 - 1.0).abs() < 0.4 && (one.residual / 4.0 - 1.0).abs() < 0.4);
    assert!(one.cov[0] < 400.0);
    let many = rows(300, 20, 9);
    let (with, without) = (
        fitted(&many, &whole_prior()),
        fitted(&many, &Prior::flat(3)),
    );
    same_fit(&with.unwrap(), &without.unwrap(), 0.05);
}

/// A very wide prior is a flat one, but for its own spread in the likelihood.
#[test]
fn a_wide_prior_is_a_flat_one() {
    let rows = rows(9, 5, 17);
    let wide = Some(Normal { mean: 0.0, sd: 1e5 });
    let known = Prior {
        columns: vec![wide; 3],
        between: None,
        residual: None,
    };
    let (mut found, flat) = (
        fitted(&rows, &known).unwrap(),
        fitted(&rows, &Prior::flat(3)).unwrap(),
    );
    found.log_likelihood += 3.0 * (1e5_f64.ln() + 0.5 * std::f64::consts::TAU.ln());
    same_fit(&found, &flat, 1e-5);
}

/// Measuring in other units changes nothing but the units.
#[test]
fn units_do_not_matter() {
    let rows = rows(9, 5, 23);
    let flat = Prior::flat(3);
    let (fit, mut in_litres) = (fitted(&rows, &flat).unwrap(), rows);
    for row in &mut in_litres {
        row.2 /= 1000.0;
    }
    let small = fitted(&in_litres, &flat).unwrap();
    near(small.between * 1e6, fit.between, 1e-6);
    near(small.residual * 1e6, fit.residual, 1e-6);
    near(small.beta[1] * 1e3, fit.beta[1], 1e-6);
}

fn fit_of(totals: &Totals, groups: &[Sums]) -> Fit {
    fit(totals, groups, &Prior::flat(3)).unwrap()
}

#[test]
fn a_fit_is_sent_and_read() {
    let fit = fitted(&rows(9, 5, 29), &Prior::flat(3)).unwrap();
    let text = serde_json::to_string(&fit).unwrap();
    // The reader of JSON may miss the last bit.
    same_fit(&serde_json::from_str(&text).unwrap(), &fit, 1e-15);
    let (totals, groups) = summed(&rows(5, 4, 1));
    let text = serde_json::to_string(&(&totals, &groups)).unwrap();
    let read: (Totals, Vec<Sums>) = serde_json::from_str(&text).unwrap();
    let [again, before] = [read, (totals, groups)].map(|(t, g)| fit_of(&t, &g));
    same_fit(&again, &before, 1e-6);
    let prior = whole_prior();
    let text = serde_json::to_string(&prior).unwrap();
    assert_eq!(serde_json::from_str::<Prior>(&text).unwrap(), prior);
    for cut in [
        r#"{"n":1,"columns":2,"products":[1.0]}"#,
        r#"{"n":1,"columns":18446744073709551615,"products":[]}"#,
    ] {
        assert!(serde_json::from_str::<Totals>(cut).is_err());
    }
    let cut = r#"{"beta":[1.0],"cov":[],"between":1.0,"residual":1.0,"n":1,"groups":1,"log_likelihood":0.0}"#;
    assert!(serde_json::from_str::<Fit>(cut).is_err());
}
