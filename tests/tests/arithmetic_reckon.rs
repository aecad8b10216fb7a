//! The reckonings as scripts ask for them: JSON in, JSON out, and what is said of bad requests.

use pentally_domain::doses::Making;
use pentally_domain::reckon::{DosesAnswer, DosesAsked, PlainAnswer, ReckonError, TABLE, answer};
use serde_json::{Value, json};

fn ask(name: &str, request: &Value) -> Value {
    let text =
        answer(name, request.to_string().as_bytes()).unwrap_or_else(|e| panic!("{request}: {e}"));
    serde_json::from_str(&text).expect("an answer in JSON")
}

fn refused(name: &str, request: &str) -> ReckonError {
    answer(name, request.as_bytes()).expect_err(request)
}

fn ejaculate() -> Value {
    json!({"volume_ml": 250, "concentration_m_per_ml": 200, "motile_percent": 80, "volume_from": "01J"})
}

fn curve_asked() -> Value {
    let pair =
        |reading: f64, counted: u32| json!({"reading": reading, "concentration_m_per_ml": counted});
    let pairs = [
        pair(0.1, 105),
        pair(0.2, 198),
        pair(0.3, 310),
        pair(0.4, 402),
        pair(0.5, 489),
    ];
    json!({"pairs": pairs, "reading": 0.25})
}

#[test]
fn every_reckoning_answers() {
    let requests = [
        (
            "count",
            json!({"replicates": [{"count": 50, "squares": 5}], "dilution": [[1, 9]]}),
        ),
        ("agreement", json!({"counts": {"first": 70, "second": 80}})),
        ("verdict", json!({})),
        ("doses", json!({"serving": {"sows": 4}})),
        (
            "plain-doses",
            json!({"route": "extended", "volume_ml": 250}),
        ),
        ("gestation", json!({"served_on": "2026-01-01"})),
        (
            "age",
            json!({"born_on": "2025-01-31", "on_day": "2025-02-28"}),
        ),
        (
            "survival",
            json!({"groups": [{"observed": [{"time": 6, "happened": true}]}]}),
        ),
        ("curve", curve_asked()),
        ("share", json!({"hits": 140, "cells": 200})),
        (
            "keeping",
            json!({"batches": [{"looks": [{"days": 1, "hits": 160, "cells": 200}]}]}),
        ),
        (
            "extender",
            json!({"mixed_at": "2026-03-01T06:05:00.000+01:00"}),
        ),
    ];
    assert!(
        requests
            .iter()
            .map(|r| r.0)
            .eq(TABLE.iter().map(|row| row.0))
    );
    for (name, request) in requests {
        assert!(ask(name, &request).is_object(), "{name}");
    }
    assert_eq!(
        ask(
            "count",
            &json!({"replicates": [{"count": 50, "squares": 5}], "dilution": [[1, 9]]})
        )["concentration_m_per_ml"],
        25.0
    );
    assert_eq!(
        ask(
            "age",
            &json!({"born_on": "2025-01-31", "on_day": "2025-02-28"})
        )["months"],
        1
    );
    let sows = ask(
        "gestation",
        &json!({"served_on": "2026-01-01", "serving": "sow"}),
    );
    assert_eq!(sows["after_service"]["farrows_on"], "2026-04-25");
    assert_eq!(sows["service_hours"]["first_h"], 12);
}

#[test]
fn doses_from_both_ends() {
    let request = json!({
        "ejaculates": [ejaculate()], "serving": {"sows": 7},
        "keep": {"collected_at": "2026-03-01T06:05:00.000+01:00"},
        "temperatures": {"semen_c": 34, "extender_c": 31.5},
    });
    let found = ask("doses", &request);
    assert_eq!(found["making"]["made"]["doses"], 13);
    assert_eq!(found["making"]["made"]["extender_ml"], 790.0);
    assert_eq!(found["serving"]["needed"], 14);
    assert_eq!(found["serving"]["reach"]["short"], 1);
    assert_eq!(found["kept"]["use_by"], "2026-03-04T06:05:00.000+01:00");
    assert_eq!(found["temperatures"]["apart"]["apart_c"], 2.5);
    let from = &found["figures"][0]["inputs"][0]["from"];
    assert_eq!(from["stored"], "01J");
    let needed = ask(
        "doses",
        &json!({"serving": {"sows": 7}, "technique": "post_cervical"}),
    );
    assert_eq!(needed["serving"]["needed"], 14);
    assert!(
        needed["serving"].get("reach").is_none_or(Value::is_null) && needed.get("making").is_none()
    );
    let figure = |name: &str| {
        let figures = needed["figures"].as_array().expect("figures").iter();
        figures.clone().find(|f| f["figure"] == name).expect(name)["result"].as_f64()
    };
    assert_eq!(figure("sperm_needed_billions"), Some(21.0));
    assert_eq!(figure("volume_needed_ml"), Some(630.0));
}

#[test]
fn what_is_kept_with_a_batch_is_small_and_answers_again_letter_for_letter() {
    let asked = DosesAsked {
        ejaculates: vec![serde_json::from_value(ejaculate()).expect("an ejaculate")],
        brief: true,
        ..DosesAsked::default()
    };
    let kept = serde_json::to_string(&asked).expect("JSON");
    let first = answer("doses", kept.as_bytes()).expect("an answer");
    assert!(
        kept.len() + first.len() < 800,
        "{} + {}: {first}",
        kept.len(),
        first.len()
    );
    let read: DosesAnswer = serde_json::from_str(&first).expect("reads back");
    assert_eq!(serde_json::to_string(&read).expect("JSON"), first);
    let again: DosesAsked = serde_json::from_str(&kept).expect("reads back");
    assert_eq!(again, asked);
    let whole = answer(
        "doses",
        serde_json::to_string(&DosesAsked {
            brief: false,
            ..asked
        })
        .expect("JSON")
        .as_bytes(),
    );
    let whole: DosesAnswer = serde_json::from_str(&whole.expect("an answer")).expect("reads back");
    let plan = |answer: &DosesAnswer| match &answer.making {
        Some(Making::Made(plan)) => (plan.doses, plan.extender_ml, plan.figures.len()),
        other => panic!("{other:?}"),
    };
    assert_eq!(plan(&read), (13, 790.0, 0));
    assert_eq!(plan(&whole), (13, 790.0, 7));
    let plain = json!({"route": "undiluted", "volume_ml": 90, "keep": {"collected_at": "2026-03-01T06:05:00.000+01:00"}});
    let text = answer("plain-doses", plain.to_string().as_bytes()).expect("an answer");
    let read: PlainAnswer = serde_json::from_str(&text).expect("reads back");
    assert_eq!((read.kept.hours, read.kept.extender), (2, None));
    assert_eq!(serde_json::to_string(&read).expect("JSON"), text);
}

#[test]
fn improbable_is_asked_and_impossible_refused() {
    let mut small = ejaculate();
    small["volume_ml"] = json!(20);
    assert_eq!(
        ask("doses", &json!({"ejaculates": [small]}))["improbable"],
        json!(["volume_ml"])
    );
    assert!(
        ask("doses", &json!({"ejaculates": [ejaculate()]}))
            .get("improbable")
            .is_none()
    );
    let bounds = [
        (
            "doses",
            json!({"ejaculates": [{"volume_ml": 1501}]}),
            "volume_ml is 1501 mL; it must be from 0 to 1500 mL",
        ),
        (
            "doses",
            json!({"ejaculates": [{"motile_percent": 101}]}),
            "motile_percent is 101 %; it must be from 0 to 100 %",
        ),
        (
            "doses",
            json!({"serving": {"sows": 0}}),
            "sows is 0 sows; it must be from 1 to 1000 sows",
        ),
        (
            "doses",
            json!({"serving": {"sows": 1}, "keep": {"days": 11}}),
            "days is 11 d; it must be from 1 to 10 d",
        ),
        (
            "verdict",
            json!({"limits": {"motile_at_least": 60}}),
            "motile_at_least is 60 %; it must be from 60.01 to 100 %",
        ),
        (
            "count",
            json!({"replicates": []}),
            "replicates is 0 replicates; it must be from 1 to 10 replicates",
        ),
        (
            "count",
            json!({"replicates": [{"count": 1, "squares": 0}]}),
            "squares is 0 squares; it must be from 1 to 900 squares",
        ),
        (
            "count",
            json!({"replicates": [{"count": 1, "squares": 5}], "dilution": [[0, 9]]}),
            "semen_parts is 0 parts; it must be from 0.001 to 10000 parts",
        ),
        (
            "agreement",
            json!({"percentages": {"first": {"hits": 201, "cells": 200}, "second": {"hits": 1, "cells": 200}}}),
            "hits is 201 cells; it must be from 0 to 200 cells",
        ),
        (
            "gestation",
            json!({"served_on": "2026-01-01", "gestation_days": 100}),
            "gestation_days is 100 d; it must be from 110 to 120 d",
        ),
        (
            "gestation",
            json!({"served_on": "1900-01-01"}),
            "served_on is 1900-01-01; its year must be from 1990 to 2099",
        ),
        (
            "age",
            json!({"born_on": "2100-01-01", "on_day": "2026-01-01"}),
            "born_on is 2100-01-01; its year must be from 1990 to 2099",
        ),
        (
            "age",
            json!({"born_on": "2026-01-02", "on_day": "2026-01-01"}),
            "on_day is 2026-01-01; it must not be before born_on, which is 2026-01-02",
        ),
        (
            "survival",
            json!({"groups": []}),
            "groups is 0 groups; it must be from 1 to 20 groups",
        ),
        (
            "survival",
            json!({"groups": [{"observed": [{"time": -1, "happened": true}]}]}),
            "time is -1 days or sessions; it must be from 0 to 100000 days or sessions",
        ),
        (
            "curve",
            json!({"pairs": []}),
            "0 pairs make no such curve: read and count at least 4 ejaculates",
        ),
        (
            "curve",
            json!({"pairs": [{"reading": -1, "concentration_m_per_ml": 100}]}),
            "reading is -1 ; it must be from 0 to 1000000 ",
        ),
    ];
    for (name, request, says) in bounds {
        assert_eq!(
            refused(name, &request.to_string()).to_string(),
            says,
            "{request}"
        );
    }
}

#[test]
fn what_does_not_read_is_said_with_its_place() {
    for (name, request, place) in [
        ("doses", "{", "line 1 column 1"),
        ("doses", "", "line 1 column 0"),
        ("doses", "[]", "expected struct DosesAsked"),
        (
            "doses",
            "{\n\"ejaculates\": [{\"volume_ml\": NaN}]}",
            "line 2 column",
        ),
        (
            "doses",
            r#"{"ejaculates": [{"volume_ml": 1e999}]}"#,
            "line 1 column",
        ),
        (
            "doses",
            r#"{"ejaculates": [{}, {"volume_ml": "250"}]}"#,
            "ejaculates: 1: volume_ml: ",
        ),
        // A misspelt measurement must not pass for one that nobody made.
        (
            "doses",
            r#"{"ejaculates": [{"volume": 250}]}"#,
            "ejaculates: 0: unknown field `volume`",
        ),
        (
            "doses",
            r#"{"ejaculates": [{"volume_ml": 25, "volume_ml": 250}]}"#,
            "duplicate field `volume_ml`",
        ),
        (
            "doses",
            r#"{"ejaculates": [], "technique": "other"}"#,
            "technique: unknown variant `other`",
        ),
        (
            "count",
            r#"{"replicates": [{"count": 2.5, "squares": 5}]}"#,
            "replicates: 0: count: ",
        ),
        (
            "count",
            r#"{"replicates": [{"count": -1, "squares": 5}]}"#,
            "replicates: 0: count: ",
        ),
        (
            "age",
            r#"{"born_on": "2025-02-30", "on_day": "2025-03-01"}"#,
            "born_on: ",
        ),
        (
            "survival",
            r#"{"groups": [{"observed": [{"time": 3}]}]}"#,
            "groups: 0: observed: 0: missing field `happened`",
        ),
        (
            "plain-doses",
            r#"{"volume_ml": 250}"#,
            "missing field `route`",
        ),
    ] {
        let error = refused(name, request);
        let ReckonError::Unreadable { detail } = &error else {
            panic!("{request}: {error:?}")
        };
        assert!(detail.contains(place), "{request}: {detail}");
    }
    assert!(matches!(refused("dose", "{}"), ReckonError::Name { .. }));
    assert!(matches!(
        refused("doses", "{}"),
        ReckonError::Nothing { .. }
    ));
    assert!(matches!(
        refused("gestation", "{}"),
        ReckonError::Nothing { .. }
    ));
    let late =
        r#"{"serving": {"sows": 1}, "keep": {"collected_at": "9999-12-31T00:00:00.000+00:00"}}"#;
    assert!(matches!(refused("doses", late), ReckonError::Time { .. }));
    let bound =
        serde_json::to_value(refused("doses", r#"{"serving": {"sows": 0}}"#)).expect("JSON");
    assert_eq!(
        bound,
        json!({"bound": {"field": "sows", "read": 0.0, "low": 1.0, "high": 1000.0, "unit": "sows"}})
    );
}

#[test]
fn a_verdict_in_json() {
    let fine =
        json!({"latex": false, "blood": false, "pus": false, "urine": false, "foul_smell": false});
    let asked = |motile: f64, seen: &Value| {
        json!({
            "motile": {"percent": motile, "cells": 200}, "abnormal": {"percent": 12},
            "droplets": {"percent": 5}, "seen": seen,
        })
    };
    let found = ask("verdict", &asked(80.0, &fine));
    assert_eq!(found["overall"], "use");
    assert_eq!(
        found["rules"][0]["outcome"]["pass"],
        json!({"margin": 10.0, "close": false})
    );
    let near = ask("verdict", &asked(72.0, &fine));
    assert_eq!(
        near["rules"][0]["outcome"]["pass"],
        json!({"margin": 2.0, "close": true})
    );
    let low = ask("verdict", &asked(62.0, &fine));
    assert_eq!(low["overall"]["do_not_use"]["reasons"], json!(["motility"]));
    let mut bloody = fine.clone();
    bloody["blood"] = json!(true);
    let found = ask("verdict", &asked(80.0, &bloody));
    assert_eq!(found["overall"]["do_not_use"]["reasons"], json!(["blood"]));
    assert_eq!(found["off_collection_and_veterinarian"], true);
    let mut gloved = fine;
    gloved["latex"] = json!(true);
    let found = ask("verdict", &asked(80.0, &gloved));
    assert_eq!(found["overall"]["do_not_use"]["reasons"], json!(["latex"]));
    assert_eq!(found["off_collection_and_veterinarian"], false);
    let nothing = ask("verdict", &json!({}));
    assert_eq!(
        nothing["overall"]["not_measured"]["missing"]
            .as_array()
            .map(Vec::len),
        Some(8)
    );
}

/// Of the remissions of Freireich et al. (1963) the first six weeks: 3 of 21 relapsed, 1 left.
#[test]
fn a_curve_in_json() {
    let watched = |time: u32, happened: bool| json!({"time": time, "happened": happened});
    let mut observed = vec![watched(6, true); 3];
    observed.push(watched(6, false));
    observed.extend(vec![watched(7, false); 17]);
    let found = ask("survival", &json!({"groups": [{"observed": observed}]}));
    let first = &found["groups"][0]["curve"]["points"][0];
    assert_eq!(
        (&first["at_risk"], &first["censored"]),
        (&json!(21), &json!(1))
    );
    let share = first["waiting"].as_f64().expect("a share");
    assert!((share - 0.8571).abs() < 5e-5, "{share}");
    let too_few = json!({"too_few": {"happened": 3, "at_least": 5}});
    assert_eq!(found["groups"][0]["median"], too_few);
    assert_eq!(found["compared"], json!({"too_few": "groups"}));
}
