use super::*;

fn refused(rows: &[Row], prior: &Prior) -> FitError {
    fitted(rows, prior).unwrap_err()
}

fn with_column(rows: &[Row], column: impl Fn(&[f64]) -> f64) -> Vec<Row> {
    let wider = |(group, x, y): &Row| (*group, [&x[..], &[column(x)]].concat(), *y);
    rows.iter().map(wider).collect()
}

#[test]
fn a_column_that_says_nothing_new_is_named() {
    let rows = rows(6, 4, 3);
    for (column, how) in [
        ((|_| 0.0) as fn(&[f64]) -> f64, Dependence::Zero),
        (|_| 7.5, Dependence::Multiple(0)),
        (|x| -3.0 * x[1], Dependence::Multiple(1)),
        (|x| 2.0 * x[1] - 0.1 * x[2] + 1.0, Dependence::Several),
    ] {
        let wider = with_column(&rows, column);
        let (totals, groups) = summed(&wider);
        let mut prior = Prior::flat(4);
        assert_eq!(totals.dependent(&prior), [(3, how)]);
        let error = fit(&totals, &groups, &prior).unwrap_err();
        assert_eq!(error, FitError::Dependent { column: 3, how });
        prior.columns[3] = Some(Normal { mean: 0.0, sd: 1.0 });
        assert_eq!(totals.dependent(&prior), []);
        // What is known of it beforehand is all that is known of it afterwards.
        let found = fit(&totals, &groups, &prior).unwrap();
        assert!(found.standard_error(3).unwrap() <= 1.000_001);
    }
    assert_eq!(summed(&rows).0.dependent(&Prior::flat(3)), []);
}

/// With the named columns left out the others are as if those had never been there.
#[test]
fn leaving_out_what_is_named_is_enough() {
    let rows = rows(6, 4, 8);
    let wider = with_column(&with_column(&rows, |x| x[1] + x[2]), |_| 1.0);
    let (totals, _) = summed(&wider);
    let named: Vec<_> = totals
        .dependent(&Prior::flat(5))
        .iter()
        .map(|d| d.0)
        .collect();
    assert_eq!(named, [3, 4]);
    // A centred year of five, in rows enough that rounding shows, is no copy of the constant.
    let years = with_column(&rows, |x| (x[1] / 2.0).floor() + 2024.0);
    assert_eq!(summed(&years).0.dependent(&Prior::flat(4)), []);
}

#[test]
fn what_is_no_number_is_named() {
    for bad in [f64::NAN, f64::INFINITY] {
        let mut with = rows(5, 4, 3);
        with[2].1[1] = bad;
        assert_eq!(
            refused(&with, &Prior::flat(3)),
            FitError::ColumnNotFinite(1)
        );
        let mut with = rows(5, 4, 3);
        with[2].2 = bad;
        assert_eq!(refused(&with, &Prior::flat(3)), FitError::MeasureNotFinite);
    }
}

#[test]
fn too_little_is_said_and_not_guessed() {
    let all = rows(5, 4, 3);
    let flat = Prior::flat(3);
    assert_eq!(refused(&[], &flat), FitError::NoRows);
    let half = Prior {
        residual: None,
        ..whole_prior()
    };
    assert_eq!(refused(&[], &half), FitError::NoRows);
    let too_few = FitError::TooFewRows { rows: 3, flat: 3 };
    assert_eq!(refused(&all[..3], &flat), too_few);
    let one: Vec<_> = all
        .iter()
        .map(|row| (0, row.1[..2].to_vec(), row.2))
        .collect();
    assert_eq!(refused(&one, &Prior::flat(2)), FitError::OneGroup);
    let no_repeats: Vec<_> = (all.iter().enumerate())
        .map(|(at, row)| (at, row.1.clone(), row.2))
        .collect();
    assert_eq!(refused(&no_repeats, &flat), FitError::BetweenUnknown);
}

#[test]
fn rows_without_a_residual_are_refused() {
    let mut exact = rows(5, 4, 3);
    for row in &mut exact {
        row.2 = 4.0 * row.1[0] - row.1[1];
    }
    assert_eq!(refused(&exact, &Prior::flat(3)), FitError::NoResidual);
    let (totals, _) = summed(&exact);
    assert_eq!(
        fit(&totals, &[], &Prior::flat(3)),
        Err(FitError::NoResidual)
    );
    // Copies within each group: nothing but groups differs.
    for row in &mut exact {
        row.1.truncate(1);
        row.2 = 7.0 + row.0 as f64;
    }
    let error = refused(&exact, &Prior::flat(1));
    assert!(matches!(
        error,
        FitError::NoResidual | FitError::DidNotConverge { .. }
    ));
    let known = Prior {
        residual: Some(Variance {
            guess: 1.0,
            weight: 5.0,
        }),
        ..Prior::flat(1)
    };
    assert!(fitted(&exact, &known).unwrap().residual < 1.0);
}

#[test]
fn what_does_not_belong_together_is_refused() {
    let (totals, mut groups) = summed(&rows(5, 4, 3));
    let width = RowError::Width {
        found: 2,
        columns: 3,
    };
    assert_eq!(
        fit(&totals, &groups, &Prior::flat(2)),
        Err(FitError::Row(width))
    );
    assert_eq!(groups[0].add(&[1.0, 2.0], 3.0), Err(width));
    let fitted = fit(&totals, &groups, &Prior::flat(3)).unwrap();
    assert_eq!(fitted.predict(&[1.0, 2.0], &groups[0]), Err(width));
    assert_eq!(fitted.effect(&Sums::new(2)), Err(width));
    assert_eq!(Sums::new(3).take_away(&[0.0; 3], 1.0), Err(RowError::Empty));
    assert_eq!(
        Totals::new(3).take_away(&[0.0; 3], 1.0),
        Err(RowError::Empty)
    );
    groups[0].x[1] += 1000.0;
    let differ = FitError::Groups { rows: totals.n() };
    assert_eq!(fit(&totals, &groups, &Prior::flat(3)), Err(differ));
    groups.pop();
    assert_eq!(fit(&totals, &groups, &Prior::flat(3)), Err(differ));
}

#[test]
fn a_prior_that_is_none_is_refused() {
    let rows = rows(5, 4, 3);
    for bad in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        let mut prior = whole_prior();
        prior.columns[2] = Some(Normal { mean: 0.0, sd: bad });
        assert_eq!(refused(&rows, &prior), PriorError::Column(2).into());
        for (guess, weight) in [(bad, 1.0), (1.0, bad)] {
            let variance = Some(Variance { guess, weight });
            let between = Prior {
                between: variance,
                ..whole_prior()
            };
            assert_eq!(refused(&rows, &between), PriorError::Between.into());
            let residual = Prior {
                residual: variance,
                ..whole_prior()
            };
            assert_eq!(refused(&rows, &residual), PriorError::Residual.into());
        }
    }
}
