//! Herds that no model fits well: each has a usable answer.

use super::*;
use crate::mixed::FitError;
use crate::output::Columns;
use crate::output::outlook::or_known;

/// Every expectation is a number, and its band neither a point nor without bounds.
fn usable(outlook: &Outlook) {
    let everybody = outlook.boars.values().cloned();
    for past in everybody.chain([outlook.nobody()]) {
        for rest in [1, 5, 20] {
            let list = outlook.forecast(&past, &grown(rest)).unwrap();
            assert_eq!(list.len(), Measure::ALL.len());
            for p in list {
                assert!(p.mean.is_finite() && p.sd > 0.01 && p.sd < 3.0, "{p:?}");
            }
        }
    }
    let sent = serde_json::to_string(&outlook.rounded()).unwrap();
    let read: Outlook = serde_json::from_str(&sent).unwrap();
    assert_eq!(read.fits.len(), Measure::ALL.len());
}

fn of_cups(list: &[(u8, Vec<Cup>)]) -> BTreeMap<BoarId, History> {
    list.iter()
        .map(|(n, cups)| (id(*n), history(*n, cups)))
        .collect()
}

fn steady(many: i64, bench: Option<(f64, f64, f64)>) -> Vec<Cup> {
    (0..many)
        .map(|at| Cup {
            day: 5 * at,
            ml: 200.0,
            bench,
        })
        .collect()
}

#[test]
fn an_empty_herd() {
    let outlook = fitted(&BTreeMap::new());
    assert_eq!(outlook.fits, Outlook::start().fits);
    usable(&outlook);
    usable(&fitted(&of_cups(&[(1, vec![]), (2, vec![])])));
}

#[test]
fn one_boar_with_one_collection() {
    usable(&fitted(&herd(1, 1)));
    usable(&fitted(&of_cups(&[(1, steady(1, None))])));
}

/// All boars of one age and line, each after the same rest: their columns are constant.
#[test]
fn constant_columns() {
    usable(&fitted(&herd(6, 3)));
    let same_day = |n| (n, vec![cups(n, 0.0, 1)[0]]);
    usable(&fitted(&of_cups(&[same_day(1), same_day(2), same_day(3)])));
}

#[test]
fn a_herd_without_evaluations() {
    let list: Vec<_> = (1..=5).map(|n| (n, steady(20, None))).collect();
    let outlook = fitted(&of_cups(&list));
    usable(&outlook);
    let start = Outlook::start();
    for measure in [Measure::Total, Measure::Motile, Measure::Abnormal] {
        let [now, known] = [&outlook, &start].map(|o| &o.fits[measure.place()]);
        assert_eq!((now.beta.clone(), now.n), (known.beta.clone(), 0));
    }
}

#[test]
fn all_values_equal() {
    for (boars, many) in [(1, 200), (2, 3), (30, 60)] {
        let list: Vec<_> = (1..=boars)
            .map(|n| (n, steady(many, Some((250.0, 80.0, 10.0)))))
            .collect();
        usable(&fitted(&of_cups(&list)));
    }
}

/// What nobody counts: nothing, all or none motile, the most a cup holds.
#[test]
fn values_at_their_ends() {
    let odd = |at: i64| Cup {
        day: 4 * at,
        ml: [0.0, 1.0, 1_500.0][usize::try_from(at % 3).unwrap()],
        bench: Some(if at % 2 == 0 {
            (0.0, 0.0, 100.0)
        } else {
            (5_000.0, 100.0, 0.0)
        }),
    };
    let list: Vec<_> = (1..=4).map(|n| (n, (0..25).map(odd).collect())).collect();
    let outlook = fitted(&of_cups(&list));
    for past in outlook.boars.values() {
        for p in outlook.forecast(past, &grown(5)).unwrap() {
            assert!(p.mean.is_finite() && p.sd.is_finite() && p.sd > 0.0);
        }
    }
}

/// Boars so far apart that the variance between them knows no bounds, or so alike that it is none.
#[test]
fn boars_too_far_apart_or_too_alike() {
    let level = |n: u8, ml: f64| {
        let cup = |at: i64| Cup {
            day: 5 * at,
            ml,
            bench: Some((250.0, 80.0, 10.0)),
        };
        (n, (0..30).map(cup).collect::<Vec<_>>())
    };
    let far: Vec<_> = [1.0, 4.0, 90.0, 1_400.0]
        .iter()
        .zip(1..)
        .map(|(ml, n)| level(n, *ml))
        .collect();
    let outlook = fitted(&of_cups(&far));
    for past in outlook.boars.values() {
        let p = outlook.forecast(past, &grown(5)).unwrap();
        assert!(
            p.iter()
                .all(|p| p.mean.is_finite() && p.sd.is_finite() && p.sd > 0.0)
        );
    }
    let alike: Vec<_> = (1..=10).map(|n| (n, cups(7, 0.0, 40))).collect();
    usable(&fitted(&of_cups(&alike)));
}

/// One measure that fits nothing is answered by what is known, and says so by its `n`.
#[test]
fn a_measure_that_does_not_converge() {
    let columns = Columns::default();
    let prior = columns.prior(Measure::Volume);
    for why in [
        FitError::DidNotConverge { theta: 1e9 },
        FitError::NoResidual,
        FitError::BetweenUnknown,
    ] {
        let fit = or_known(Err(why), &columns, &prior).unwrap();
        assert_eq!(fit, Outlook::start().fits[Measure::Volume.place()]);
        assert_eq!(fit.n, 0);
    }
    let broken = or_known(Err(FitError::MeasureNotFinite), &columns, &prior);
    assert_eq!(broken, Err(FitError::MeasureNotFinite));
    let good = Outlook::start().fits[Measure::Total.place()].clone();
    assert_eq!(or_known(Ok(good.clone()), &columns, &prior), Ok(good));
}
