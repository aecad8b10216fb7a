//! Through the reckoning and the filling table, as a phone and a script ask; and bad input.

use super::Source::{Chamber, Dilution, Filling, Instrument, Motile, Volume};
use super::*;
use crate::reckon::{DosesAnswer, answer};

const ASKED: &str = r#"{"ejaculates":[{"volume_ml":250,"concentration_m_per_ml":200,"motile_percent":80SURE}],
    "count_as":"motile","technique":"intracervical","keep":{},"temperatures":{}MORE}"#;

fn reckon(sure: &str, more: &str) -> Result<DosesAnswer, String> {
    let asked = ASKED.replace("SURE", sure).replace("MORE", more);
    let text = answer("doses", asked.as_bytes()).map_err(|e| e.to_string())?;
    Ok(serde_json::from_str(&text).unwrap())
}

const COUNTED: &str = r#","sure":{"weighed":true,"sperm_counted":400,"motile_cells":200}"#;
const NINETY_FIVE: &str = r#","assurance_percent":95"#;

#[test]
fn what_is_not_asked_changes_nothing() {
    let plain = ASKED.replace("SURE", "").replace("MORE", "");
    let before = answer("doses", plain.as_bytes()).unwrap();
    assert!(!before.contains("assured"));
    // Sureness alone asks nothing.
    let told = ASKED.replace("SURE", COUNTED).replace("MORE", "");
    assert_eq!(answer("doses", told.as_bytes()).unwrap(), before);
    let read: DosesAnswer = serde_json::from_str(&before).unwrap();
    assert_eq!(serde_json::to_string(&read).unwrap(), before);
}

#[test]
fn the_plan_is_the_assured_one_and_the_plain_number_stands_beside_it() {
    let asked = reckon(COUNTED, NINETY_FIVE).unwrap();
    let assured = asked.assured.clone().unwrap();
    let Some(Making::Made(plan)) = &asked.making else {
        panic!("{asked:?}")
    };
    // 250 × 200 × 0.8 = 40,000 M: 13 doses by the plain formula (worked by hand).
    assert_eq!((plan.doses, assured.plain.unwrap().doses), (11, 13));
    assert_eq!(assured.doses.unwrap().doses, plan.doses);
    assert_eq!(
        (plan.extender_ml, plan.semen_left_ml),
        (11.0 * 80.0 - 250.0, 0.0)
    );
    // 400 sperm counted err by 5 %, the step by 4.7, the filling by 4.6, 160 motile of 200 by 3.5.
    let weighty: Vec<_> = assured.sources.iter().map(|part| part.source).collect();
    assert_eq!(weighty[..4], [Source::Count, Dilution, Chamber, Motile]);
    assert_eq!(assured.sources[0].ejaculate, Some(0));
    assert_eq!(assured.assumed, [Volume, Dilution, Chamber, Filling]);
    // Two words more and the same bytes again.
    let brief = reckon(COUNTED, r#","assurance_percent":95,"brief":true"#).unwrap();
    assert_eq!(
        (brief.assured, brief.making.and_then(|m| m.reaching())),
        (asked.assured, Some(11))
    );
}

#[test]
fn what_nobody_said_is_taken_as_the_usual_error() {
    let silent = reckon("", NINETY_FIVE).unwrap().assured.unwrap();
    let said = r#","sure":{"volume_error_percent":2,"concentration_error_percent":10,"motile_spread_points":5}"#;
    let told = reckon(said, r#","assurance_percent":95,"filling_error_percent":2"#);
    let told = told.unwrap().assured.unwrap();
    assert_eq!(silent.assumed, [Volume, Instrument, Motile, Filling]);
    assert!(told.assumed.is_empty() && silent.doses == told.doses && silent.by == told.by);
    // An instrument nobody calibrated is what to look after.
    assert_eq!(silent.sources[0].source, Instrument);
}

#[test]
fn where_nothing_reaches_it_not_one_dose_is_made() {
    // 4,000 M in 20 mL make one dose by the plain formula; of 6 sperm counted nobody can be sure.
    let asked = r#"{"ejaculates":[{"volume_ml":20,"concentration_m_per_ml":250,"motile_percent":80,
        "sure":{"sperm_counted":6,"motile_cells":20}}],"assurance_percent":99}"#;
    let text = answer("doses", asked.as_bytes()).unwrap();
    let read: DosesAnswer = serde_json::from_str(&text).unwrap();
    let assured = read.assured.unwrap();
    let Some(Making::TooFew { usable_m, target_m }) = read.making else {
        panic!("{text}")
    };
    assert!(usable_m < target_m && target_m == 3000.0);
    assert!(assured.doses.is_none() && assured.by == By::Simulated);
    assert_eq!(assured.plain.unwrap().doses, 1);
    assert!((50.0..99.0).contains(&assured.one_dose_percent));
    assert_eq!(assured.sources[0].source, Source::Count);
}

#[test]
fn nothing_there_and_nothing_measured_are_no_error() {
    let empty = r#"{"ejaculates":[{"volume_ml":250,"concentration_m_per_ml":0,"motile_percent":80,
        "sure":{"sperm_counted":0}}],"assurance_percent":95}"#;
    let text = answer("doses", empty.as_bytes()).unwrap();
    let read: DosesAnswer = serde_json::from_str(&text).unwrap();
    assert!(matches!(read.making, Some(Making::TooFew { usable_m, .. }) if usable_m == 0.0));
    let assured = read.assured.unwrap();
    assert!(
        assured.doses.is_none() && assured.one_dose_percent == 0.0 && assured.sources.is_empty()
    );
    let missing = r#"{"ejaculates":[{"volume_ml":250}],"assurance_percent":95}"#;
    let text = answer("doses", missing.as_bytes()).unwrap();
    let read: DosesAnswer = serde_json::from_str(&text).unwrap();
    assert!(read.assured.is_none() && matches!(read.making, Some(Making::NotMeasured { .. })));
    // None motile of 50: a little may be there, but no dose rests on what nobody saw.
    let still = r#"{"ejaculates":[{"volume_ml":250,"concentration_m_per_ml":900,"motile_percent":0,
        "sure":{"sperm_counted":900,"motile_cells":10}}],"target_billions":0.1,"assurance_percent":50}"#;
    let text = answer("doses", still.as_bytes()).unwrap();
    let read: DosesAnswer = serde_json::from_str(&text).unwrap();
    assert!(matches!(read.making, Some(Making::TooFew { .. })), "{text}");
}

#[test]
fn bad_input_says_what_to_do() {
    for (sure, more, says) in [
        (
            "",
            r#","assurance_percent":100"#,
            "assurance_percent is 100 %; it must be from 50 to 99.9 %",
        ),
        (
            "",
            r#","assurance_percent":40"#,
            "it must be from 50 to 99.9 %",
        ),
        (
            "",
            r#","filling_error_percent":-1"#,
            "filling_error_percent is -1 %; it must be from 0 to 100 %",
        ),
        (
            r#","sure":{"volume_error_percent":180}"#,
            "",
            "volume_error_percent is 180 %; it must be from 0 to 100 %",
        ),
        (
            r#","sure":{"sperm_counted":200000}"#,
            "",
            "sperm_counted is 200000 sperm; it must be from 0 to 100000 sperm",
        ),
        (
            r#","sure":{"sperm_counted":0}"#,
            NINETY_FIVE,
            "sperm_counted is 0 sperm; it must be from 1 to 100000 sperm",
        ),
        (
            r#","sure":{"motile_cells":0}"#,
            "",
            "motile_cells is 0 cells; it must be from 1 to 2000 cells",
        ),
        (
            r#","sure":{"motile_spread_points":0}"#,
            "",
            "motile_spread_points is 0 points; it must be from 0.5 to 30 points",
        ),
        (
            r#","sure":{"dilution_steps":5}"#,
            "",
            "dilution_steps is 5 steps; it must be from 0 to 4 steps",
        ),
        (
            r#","sure":{"motile_cell":200}"#,
            "",
            "unknown field `motile_cell`",
        ),
    ] {
        let refused = reckon(sure, more).unwrap_err();
        assert!(refused.contains(says), "{refused}");
    }
}

#[test]
fn thin_semen_is_poured_into_larger_doses_with_assurance() {
    // 9,600 M in 400 mL: three doses by the plain formula, two that one can be sure of, 200 mL each.
    let asked = r#"{"ejaculates":[{"volume_ml":400,"concentration_m_per_ml":30,"motile_percent":80,
        "sure":{"sperm_counted":400,"motile_cells":200}}],"assurance_percent":95}"#;
    let text = answer("doses", asked.as_bytes()).unwrap();
    let read: DosesAnswer = serde_json::from_str(&text).unwrap();
    let Some(Making::Thin {
        larger: Some(larger),
        ..
    }) = &read.making
    else {
        panic!("{text}")
    };
    assert_eq!(
        (larger.doses, larger.dose_ml, larger.extender_ml),
        (2, 200.0, 0.0)
    );
    assert_eq!(read.assured.unwrap().doses.unwrap().doses, 2);
}

#[test]
fn fewer_doses_than_there_are_take_more_semen_than_the_plain_formula_would() {
    let most = r#","assurance_percent":95,"at_most":5"#;
    let asked = reckon(COUNTED, most).unwrap();
    let plain = reckon("", r#","at_most":5"#).unwrap();
    let taken = |answer: &DosesAnswer| match &answer.making {
        Some(Making::Made(plan)) => (plan.doses, plan.semen_ml),
        other => panic!("{other:?}"),
    };
    let (sure, hoped) = (taken(&asked), taken(&plain));
    // 5 × 3,000 of 40,000 M in 250 mL are 93.75 mL (worked by hand).
    assert_eq!(hoped, (5, 93.75));
    assert!(sure.0 == 5 && sure.1 > 1.08 * hoped.1, "{sure:?}");
    let reached = asked.assured.unwrap();
    assert!((reached.doses.unwrap().reached_percent - 95.0).abs() < 1e-6);
    assert!((40.0..60.0).contains(&reached.plain.unwrap().reached_percent));
}

#[test]
fn one_instrument_errs_in_all_it_read() {
    let pool = |many, sure: &str| {
        let each = format!(
            r#"{{"volume_ml":250,"concentration_m_per_ml":250,"sure":{{"volume_error_percent":0{sure}}}}}"#
        );
        let asked = format!(
            r#"{{"ejaculates":[{}],"count_as":"total","assurance_percent":95,"filling_error_percent":0}}"#,
            vec![each; many].join(",")
        );
        let read: DosesAnswer =
            serde_json::from_str(&answer("doses", asked.as_bytes()).unwrap()).unwrap();
        let plain = read.assured.unwrap().plain.unwrap();
        plain.low_m / plain.median_m
    };
    let read = |many| pool(many, r#","concentration_error_percent":8"#);
    // Four read by it are no surer than one: exp(−1.645·0.08).
    assert!((read(1) - (-1.644_853_627_f64 * 0.08).exp()).abs() < 1e-6);
    assert!((read(4) - read(1)).abs() < 1e-6);
    // Four counted for themselves are.
    let counted = |many| {
        pool(
            many,
            r#","concentration_error_percent":8,"sperm_counted":5000"#,
        )
    };
    assert!(counted(4) > counted(1) + 0.04);
}
