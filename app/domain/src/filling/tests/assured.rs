//! The filling table of a farm that asks an assurance.

use super::*;
use crate::assured::Source as Error;
use crate::counting::Dilution;
use crate::filling::HowSure;
use crate::units::{Assurance, Count, ErrorPercent, MassG};

fn asks(assurance: f64, filling: Option<f64>) -> Holding {
    Holding {
        standard: Standard {
            assurance_percent: Assurance::new(assurance).ok(),
            filling_error_percent: filling.and_then(|f| ErrorPercent::new(f).ok()),
            ..Standard::default()
        },
        entry: None,
    }
}

fn filled_by(holding: &Holding, cups: &[Cup]) -> Filling {
    fill(cups, holding, &Chosen::default(), last_in(cups)).unwrap()
}

/// 400 sperm in 10 squares at 1 + 19: 200 M/mL.
fn chamber(mut cup: Cup) -> Cup {
    let evaluation = cup.evaluated.as_mut().map(|(_, e)| e).unwrap();
    evaluation.concentration = Some(ConcentrationBy::Chamber {
        count: Count::new(400).unwrap(),
        squares: 10,
        dilution: Dilution::new(vec![(1.0, 19.0)]).unwrap(),
    });
    cup
}

// 250 × 200 × 0.8 = 40,000 M: 13 doses of 3×10⁹ by the plain formula (worked by hand).
#[test]
fn what_the_bench_recorded_says_how_sure_the_doses_are() {
    let cup = chamber(cup(1, 250.0, Some((1.0, 80.0))));
    let filling = filled_by(&asks(95.0, Some(1.5)), std::slice::from_ref(&cup));
    let assured = filling.assured.clone().unwrap();
    assert_eq!(
        (best(&filling), assured.plain.unwrap().doses),
        ((11, 630.0), 13)
    );
    for word in [
        r#""sure":{"sperm_counted":400,"dilution_steps":1,"motile_cells":200}"#,
        r#""assurance_percent":95.0,"filling_error_percent":1.5"#,
    ] {
        assert!(filling.asked.contains(word), "{}", filling.asked);
    }
    let batch = filling.batch(code()).unwrap();
    assert_eq!((batch.doses, batch.answered_the_same()), (11, Some(true)));
    // A scale instead of the cup's marks is surer.
    let mut weighed = cup.clone();
    let mass = |g| MassG::new(g).unwrap();
    weighed.collected.amount = Some(Amount::Mass {
        gross: mass(290.0),
        tare: mass(40.0),
    });
    let filling = filled_by(&asks(95.0, Some(1.5)), &[weighed]);
    let scale = filling.assured.unwrap().doses.unwrap();
    assert!(scale.reached_percent > assured.doses.unwrap().reached_percent);
    // By an instrument nobody calibrated much less is.
    let read = super::cup(1, 250.0, Some((200.0, 80.0)));
    let filling = filled_by(&asks(95.0, None), &[read]);
    let instrument = filling.assured.unwrap();
    assert_eq!(instrument.sources[0].source, Error::Instrument);
    let low_of = |a: &Assured| a.plain.unwrap().low_m;
    assert!(low_of(&instrument) < low_of(&assured));
}

#[test]
fn a_farm_that_asks_none_asks_as_before() {
    let cups = [chamber(cup(1, 250.0, Some((1.0, 80.0))))];
    // How one dose differs from the next means nothing without it.
    let mut silent = asks(95.0, Some(1.5));
    silent.standard.assurance_percent = None;
    for holding in [Holding::default(), silent] {
        let filling = filled_by(&holding, &cups);
        assert_eq!(
            (best(&filling), filling.assured.clone()),
            ((13, 790.0), None)
        );
        for word in ["sure", "assurance", "filling_error"] {
            assert!(!filling.asked.contains(word), "{}", filling.asked);
        }
    }
    let kept = serde_json::to_string(&Standard::default()).unwrap();
    assert!(!kept.contains("assurance") && !kept.contains("filling_error"));
    let younger = serde_json::to_string(&asks(95.0, Some(1.5)).standard).unwrap();
    let read: Standard = serde_json::from_str(&younger).unwrap();
    assert_eq!(read, asks(95.0, Some(1.5)).standard);
    for bad in [
        r#"{"assurance_percent":30}"#,
        r#"{"filling_error_percent":-2}"#,
    ] {
        assert!(serde_json::from_str::<Standard>(bad).is_err(), "{bad}");
    }
}

// A pool is surer than its parts: errors of independent ejaculates do not all lie on one side.
#[test]
fn a_pool_makes_no_fewer_doses_than_its_ejaculates_apart() {
    let cups = [2, 1, 3].map(|n| chamber(cup(n, 230.0, Some((1.0, 80.0)))));
    let holding = asks(95.0, None);
    let apart: u32 = cups
        .iter()
        .map(|c| {
            filled_by(&holding, std::slice::from_ref(c))
                .fill
                .best()
                .unwrap()
                .doses
        })
        .sum();
    let pool = filled_by(&holding, &cups);
    assert!(pool.fill.best().unwrap().doses > apart);
    assert_eq!(pool.shares_percent.len(), 3);
    let batch = pool.batch(code()).unwrap();
    assert_eq!(
        (batch.sources.len(), batch.answered_the_same()),
        (3, Some(true))
    );
}

#[test]
fn what_is_too_little_for_a_sure_dose_makes_no_batch() {
    // 19 mL × 200 M/mL × 80 % are 3,040 M: one dose of 3×10⁹, if all were certain.
    let cups = [chamber(cup(1, 19.0, Some((1.0, 80.0))))];
    assert_eq!(best(&filled(&cups, &Chosen::default())).0, 1);
    let filling = filled_by(&asks(95.0, None), &cups);
    assert_eq!(filling.fill, Fill::TooFew);
    let assured = filling.assured.clone().unwrap();
    assert!(assured.doses.is_none() && assured.one_dose_percent < 95.0);
    assert!(filling.batch(code()).is_none());
    // What failed stays out, whatever is asked.
    let lame = chamber(cup(4, 250.0, Some((1.0, 59.0))));
    let pool = [chamber(cup(1, 250.0, Some((1.0, 80.0)))), lame.clone()];
    let refused = fill(&pool, &asks(95.0, None), &Chosen::default(), AT_MS).unwrap_err();
    assert!(matches!(refused, FillError::Barred(id, Barred::Unfit(_)) if id == lame.collection));
}

#[test]
fn what_nobody_counts_has_no_assurance() {
    let chosen = Chosen {
        route: Some(PlainRoute::Extended),
        ..Chosen::default()
    };
    let cups = [cup(1, 250.0, None)];
    let filling = fill(&cups, &asks(95.0, None), &chosen, last_in(&cups)).unwrap();
    assert!(filling.assured.is_none() && best(&filling) == (12, 720.0));
}

// What one filling asks goes before the farm's standard, both ways; 13 and 11 doses as above.
#[test]
fn how_sure_is_asked_of_one_filling_too() {
    let cup = chamber(cup(1, 250.0, Some((1.0, 80.0))));
    let ask = |how_sure, holding: &Holding| {
        let chosen = Chosen {
            how_sure,
            ..Chosen::default()
        };
        let cups = std::slice::from_ref(&cup);
        fill(cups, holding, &chosen, last_in(cups)).unwrap()
    };
    let assured = Some(HowSure::Assured(Assurance::new(95.0).unwrap()));
    let plain = ask(Some(HowSure::Plain), &asks(95.0, Some(1.5)));
    assert_eq!((best(&plain).0, plain.assured.is_none()), (13, true));
    assert_eq!(plain.asked, ask(None, &Holding::default()).asked);
    let sure = ask(assured, &Holding::default());
    assert_eq!((best(&sure).0, sure.batch(code()).unwrap().doses), (11, 11));
    // Nothing chosen keeps the bytes of what was kept before.
    let kept = serde_json::to_string(&Chosen::default()).unwrap();
    assert!(!kept.contains("how_sure"), "{kept}");
}
