//! Refusals of a line, laws of the shrunken one, and of the day that follows.

use super::*;
use crate::extender::{ExtenderClass, Keeping};
use day::{Day, UseByFrom, day, use_by};
use herd::fit;
use plain::Refusal;

#[test]
fn a_line_that_cannot_be_is_refused_by_its_reason() {
    for (looks, refusal) in [
        (vec![], Refusal::FewDays { days: 0 }),
        (vec![look(2.0, 150, 200)], Refusal::FewDays { days: 1 }),
        (
            vec![look(2.0, 150, 200), look(2.0, 90, 200)],
            Refusal::FewDays { days: 1 },
        ),
        (
            vec![look(1.0, 200, 200), look(3.0, 100, 100)],
            Refusal::AllMotile,
        ),
        (
            vec![look(1.0, 0, 200), look(3.0, 0, 100)],
            Refusal::NoneMotile,
        ),
        (
            vec![look(1.0, 200, 200), look(3.0, 0, 200)],
            Refusal::Separated,
        ),
        // One mixed day between all and none: any slope steep enough fits as well as the next.
        (
            vec![look(1.0, 200, 200), look(2.0, 90, 200), look(3.0, 0, 200)],
            Refusal::Separated,
        ),
        (
            vec![look(1.0, 0, 200), look(3.0, 200, 200)],
            Refusal::Separated,
        ),
    ] {
        assert_eq!(plain::fit(&looks), Err(refusal), "{looks:?}");
        // The herd answers all the same.
        let placed = place(&Herd::printed(ExtenderClass::Medium), &[looks]).unwrap();
        let day = day(&placed.batches[0], Floor::HARD);
        assert!(day.from.is_none_or(f64::is_finite) && day.middle.is_none_or(f64::is_finite));
    }
}

// logit(0.9) = ln 9 and logit(0.6) = ln 1.5: from one share to the other in four days.
#[test]
fn two_days_give_the_line_between_them() {
    let fit = plain::fit(&[look(0.0, 180, 200), look(4.0, 120, 200)]).unwrap();
    near(fit.coefficients[0], 9.0_f64.ln(), 1e-9);
    near(
        fit.coefficients[1],
        (1.5_f64.ln() - 9.0_f64.ln()) / 4.0,
        1e-9,
    );
    assert!(fit.deviance.abs() < 1e-9 && fit.degrees_of_freedom == 0);
}

#[test]
fn without_a_look_what_is_known_comes_out() {
    let herd = Herd::printed(ExtenderClass::Long);
    let placed = place(&herd, &[vec![]]).unwrap();
    let any = herd.of_any();
    for line in [placed.next, placed.batches[0]] {
        near(line.mean[0], any.mean[0], 1e-12);
        near(line.mean[1], any.mean[1], 1e-12);
        for (a, b) in line
            .covariance
            .0
            .iter()
            .flatten()
            .zip(any.covariance.0.iter().flatten())
        {
            near(*a, *b, 1e-12);
        }
    }
    let fitted = fit(&herd, &[]).unwrap();
    assert_eq!((fitted.looks, fitted.boars.len()), (0, 0));
    near(fitted.herd.samples, herd.samples, 1e-12);
}

/// A batch that falls faster than its herd.
fn steep(days: &[f64]) -> Batch {
    let share = |day: &f64| 1.0 / (1.0 + (-2.0 + 0.6 * day).exp());
    let hits = |day: &f64| (200.0 * share(day)).round() as u32;
    days.iter().map(|day| look(*day, hits(day), 200)).collect()
}

#[test]
fn the_more_looks_the_nearer_to_them_and_the_narrower() {
    let herd = Herd::printed(ExtenderClass::Long);
    let mut before = (f64::INFINITY, f64::INFINITY);
    let own = plain::fit(&steep(&[0.5, 1.0, 2.0, 3.0, 4.0]))
        .unwrap()
        .coefficients[1];
    let many = [0.5, 1.0, 2.0, 3.0, 4.0];
    for looks in 2..=many.len() {
        let line = place(&herd, &[steep(&many[..looks])]).unwrap().batches[0];
        let (apart, wide) = ((line.mean[1] - own).abs(), line.covariance.0[1][1]);
        assert!(apart < before.0 && wide < before.1, "{looks}");
        assert!(herd.mean[1] > line.mean[1] && line.mean[1] > own, "{looks}");
        before = (apart, wide);
    }
}

#[test]
fn fewer_motile_cells_never_move_the_day_later() {
    let herd = Herd::printed(ExtenderClass::Medium);
    let mut before = f64::INFINITY;
    for hits in (0..=200).rev().step_by(5) {
        let line = place(&herd, &[vec![look(3.0, hits, 200)]]).unwrap().batches[0];
        let middle = day(&line, Floor::HARD).middle.unwrap_or(f64::INFINITY);
        assert!(middle <= before, "{hits}");
        before = middle;
    }
    assert!(before < 3.0);
}

#[test]
fn an_eye_says_less_than_a_count() {
    let herd = Herd::printed(ExtenderClass::Medium);
    let of = |look: Look| place(&herd, &[vec![look]]).unwrap().batches[0].covariance.0[0][0];
    assert!(of(by_eye(2.0, 75)) > of(look(2.0, 150, 200)));
    assert_eq!(by_eye(2.0, 75).cells(), 20.0);
}

#[test]
fn the_order_of_looks_batches_and_boars_changes_nothing_but_the_last_digits() {
    let boars: Vec<Vec<Batch>> = vec![
        vec![steep(&[1.0, 2.0]), steep(&[3.0])],
        vec![steep(&[0.0, 5.0]), vec![], vec![by_eye(4.0, 65)]],
    ];
    let mut other = boars.clone();
    other.reverse();
    for batches in &mut other {
        batches.reverse();
        batches.iter_mut().for_each(|looks| looks.reverse());
    }
    let prior = Herd::printed(ExtenderClass::Short);
    let (a, b) = (fit(&prior, &boars).unwrap(), fit(&prior, &other).unwrap());
    near(a.herd.samples, b.herd.samples, 1e-9);
    near(
        a.boars[0].batches[1].mean[1],
        b.boars[1].batches[0].mean[1],
        1e-9,
    );
    assert_eq!(a.looks, 6);
}

#[test]
fn the_days_stand_in_order_and_a_higher_floor_comes_sooner() {
    for slope in [-0.02, -0.1, -0.4] {
        for sd in [0.001, 0.05, 0.3] {
            let line = Line {
                mean: [1.7, slope],
                covariance: Square::diagonal(0.04, sd * sd),
            };
            let open = |day: Option<f64>| day.unwrap_or(f64::INFINITY);
            let at = |floor| day(&line, floor);
            let (low, high) = (at(Floor::HARD), at(Floor::new(70.0).unwrap()));
            assert!(open(low.from) <= open(low.middle) && open(low.middle) <= open(low.to));
            assert!(open(high.middle) <= open(low.middle) && open(high.from) <= open(low.from));
        }
    }
    // A line that is known for certain has one day.
    let certain = day(
        &Line {
            mean: [1.7, -0.2],
            covariance: Square::default(),
        },
        Floor::HARD,
    );
    assert!(certain.middle.is_some());
    near(certain.from.unwrap(), certain.middle.unwrap(), 1e-9);
    near(certain.to.unwrap(), certain.middle.unwrap(), 1e-9);
    let down = Line {
        mean: [0.0, -0.1],
        covariance: Square::diagonal(0.01, 0.0001),
    };
    let day = day(&down, Floor::HARD);
    assert_eq!(
        (day.from, day.middle, day.to),
        (Some(0.0), Some(0.0), Some(0.0))
    );
}

#[test]
fn a_use_by_is_never_later_than_class_and_farm_allow() {
    let days = |from| Day {
        middle: Some(4.0),
        from,
        to: None,
        figures: vec![],
    };
    for class in [
        ExtenderClass::Short,
        ExtenderClass::Medium,
        ExtenderClass::Long,
    ] {
        for farm in 1..=class.most_days() {
            let keeping = Keeping::new(Some(class), Some(farm.into())).unwrap();
            let allowed = u16::from(farm) * 24;
            for from in [
                None,
                Some(0.0),
                Some(0.7),
                Some(1.0),
                Some(2.51),
                Some(29.0),
            ] {
                let found = use_by(keeping, &days(from), true);
                assert!(found.hours <= allowed);
                let cautious = from.map_or(f64::INFINITY, |days| days * 24.0);
                assert!(f64::from(found.hours) <= cautious);
                let shorter = found.hours < allowed;
                assert_eq!(found.from == UseByFrom::Looks, shorter);
                // Nobody looked: what is printed shortens nothing.
                assert_eq!(use_by(keeping, &days(from), false).hours, allowed);
            }
        }
    }
    let medium = Keeping::new(Some(ExtenderClass::Medium), None).unwrap();
    assert_eq!(use_by(medium, &days(Some(2.51)), true).hours, 60);
}

#[test]
fn bounds_refuse_what_cannot_be() {
    let share = by_eye_share(75);
    for day in [-0.1, 60.1, f64::NAN, f64::INFINITY] {
        assert_eq!(
            Look::new(day, share, EyeCells::USUAL).unwrap_err().field,
            "days"
        );
    }
    let none = Share {
        cells: Some(0),
        ..share
    };
    assert!(Look::new(1.0, none, EyeCells::USUAL).is_err());
    for floor in [59.9, 95.1, f64::NAN] {
        assert!(Floor::new(floor).is_err());
    }
    assert!(EyeCells::new(0.0).is_err() && EyeCells::new(f64::NAN).is_err());
    let herd = Herd::printed(ExtenderClass::Long);
    assert_eq!(herd.checked(), Ok(herd));
    let bad = |herd: Herd| herd.checked().unwrap_err().field;
    let uneven = Square([[1.0, 2.0], [2.0, 1.0]]);
    assert_eq!(
        bad(Herd {
            boars: uneven,
            ..herd
        }),
        "herd.boars"
    );
    assert_eq!(
        bad(Herd {
            covariance: Square::default(),
            ..herd
        }),
        "herd.covariance"
    );
    assert_eq!(
        bad(Herd {
            samples: f64::NAN,
            ..herd
        }),
        "herd.samples"
    );
    assert_eq!(
        bad(Herd {
            mean: [f64::INFINITY, 0.0],
            ..herd
        }),
        "herd.mean"
    );
}

fn by_eye_share(percent: u8) -> Share {
    Share {
        percent: Percent::of(percent),
        cells: None,
    }
}

/// Looks that pull as far as looks can still come to rest.
#[test]
fn extreme_looks_come_to_rest() {
    for class in [
        ExtenderClass::Short,
        ExtenderClass::Medium,
        ExtenderClass::Long,
    ] {
        let herd = Herd::printed(class);
        for (first, last) in [(0, 2000), (2000, 0), (2000, 2000), (0, 0), (1, 1999)] {
            for day in [0.0, 1.0, 60.0] {
                let looks: Batch = (0..6)
                    .flat_map(|_| [look(0.0, first, 2000), look(day, last, 2000)])
                    .collect();
                let placed = place(&herd, &[looks.clone(), vec![]]).unwrap();
                assert!(placed.next.mean.iter().all(|x| x.is_finite()));
                let fitted = fit(&herd, &[vec![looks]]).unwrap();
                assert!(fitted.herd.samples.is_finite() && fitted.herd.samples > 0.0);
            }
        }
    }
}
