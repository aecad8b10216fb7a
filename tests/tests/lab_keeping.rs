//! How long stored semen keeps, asked as a script asks: every figure beside an answer is worked out
//! anew by an evaluator that shares no code with it, answers read back letter for letter, and what
//! cannot be is refused by name.

#[path = "../arithmetic/evaluate.rs"]
mod evaluate;

use evaluate::check_all;
use pentally_domain::extender::ExtenderClass;
use pentally_domain::reckon::{
    BatchAsked, ExtenderAnswer, HerdFrom, KeepingAnswer, KeepingAsked, LookAsked, PlainLine,
    ReckonError, answer,
};
use proptest::prelude::*;
use serde_json::{Value, json};

fn ask(name: &str, request: &Value) -> Result<String, ReckonError> {
    answer(name, request.to_string().as_bytes())
}

fn kept(request: &Value) -> KeepingAnswer {
    let text = ask("keeping", request).expect("an answer");
    let read: KeepingAnswer = serde_json::from_str(&text).expect("reads back");
    assert_eq!(serde_json::to_string(&read).expect("JSON"), text);
    read
}

fn looks() -> impl Strategy<Value = LookAsked> {
    let counted = (0u32..=2000, 1u32..=2000)
        .prop_map(|(hits, cells)| (Some(hits.min(cells)), Some(cells), None));
    let by_eye = (0u32..=20).prop_map(|twentieths| (None, None, Some(f64::from(5 * twentieths))));
    let motile = prop_oneof![counted, by_eye];
    (0u32..=1440, motile, prop::option::of(any::<bool>())).prop_map(
        |(hours, (hits, cells, percent), warmed)| LookAsked {
            days: f64::from(hours) / 24.0,
            hits,
            cells,
            percent,
            warmed,
        },
    )
}

fn batches() -> impl Strategy<Value = Vec<BatchAsked>> {
    let batch = prop::collection::vec(looks(), 0..5).prop_map(|looks| BatchAsked {
        looks,
        collected_at: None,
    });
    prop::collection::vec(batch, 1..4)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(256))]

    /// Whatever was looked at: an answer, finite, explained, and no use-by beyond what is allowed.
    #[test]
    fn any_looks_have_an_answer_that_can_be_worked_out_again(
        batches in batches(),
        others in prop::collection::vec(batches(), 0..3),
        class in prop::sample::select(vec![ExtenderClass::Short, ExtenderClass::Medium, ExtenderClass::Long]),
    ) {
        let asked = KeepingAsked { extender: class, batches, others, ..KeepingAsked::default() };
        let answer = kept(&serde_json::to_value(&asked).expect("JSON"));
        let days = answer.batches.iter().map(|b| (&b.day, &b.line, b.use_by));
        for (day, line, use_by) in days.chain([(&answer.boar.day, &answer.boar.line, answer.boar.use_by)]) {
            check_all(&day.figures.iter().collect::<Vec<_>>());
            prop_assert!(line.mean.iter().all(|x| x.is_finite()));
            prop_assert!(use_by.hours <= u16::from(class.usual_days()) * 24);
            for days in [day.from, day.middle, day.to].into_iter().flatten() {
                prop_assert!((0.0..=30.0).contains(&days));
            }
        }
        for batch in &answer.batches {
            check_all(&batch.figures.iter().collect::<Vec<_>>());
        }
    }
}

#[test]
fn the_same_looks_say_more_with_a_herd_behind_them() {
    let one = json!({"looks": [{"days": 1, "hits": 178, "cells": 200}, {"days": 4, "hits": 150, "cells": 200}],
        "collected_at": "2026-03-01T06:05:00.000+01:00"});
    let alone = kept(&json!({"extender": "long", "batches": [one]}));
    assert_eq!(alone.herd_from, HerdFrom::Printed);
    assert!(matches!(alone.batches[0].plain, PlainLine::Fitted(_)));
    assert_eq!(alone.hours_allowed, 168);
    let others: Vec<Value> = (0..12)
        .map(|n| json!([one, {"looks": [{"days": 3, "hits": 160 + n % 4, "cells": 200}]}]))
        .collect();
    let herd = kept(&json!({"extender": "long", "batches": [one], "others": others}));
    assert_eq!(herd.herd_from, HerdFrom::Fitted);
    let wide = |answer: &KeepingAnswer| answer.batches[0].line.covariance.0[1][1];
    assert!(wide(&herd) < wide(&alone));
    // What was fitted can be given to the next request.
    let next = kept(&json!({"extender": "long", "batches": [{"looks": []}], "herd": herd.herd}));
    assert_eq!(next.herd_from, HerdFrom::Asked);
    assert_eq!(next.boar.day.middle, next.batches[0].day.middle);
    let used = alone.batches[0].use_by_at.expect("a moment");
    let hours = i64::from(alone.batches[0].use_by.hours);
    assert_eq!(used.to_string(), stamp_after(hours));
}

/// 2026-03-01 06:05 and so many hours.
fn stamp_after(hours: i64) -> String {
    let start = chrono::NaiveDate::from_ymd_opt(2026, 3, 1).and_then(|d| d.and_hms_opt(6, 5, 0));
    let at = start.expect("a moment") + chrono::TimeDelta::hours(hours);
    format!("{}.000+01:00", at.format("%Y-%m-%dT%H:%M:%S"))
}

#[test]
fn what_cannot_be_is_refused_by_name() {
    let with = |look: Value| json!({"batches": [{"looks": [look]}]});
    for (request, says) in [
        (json!({}), "batches"),
        (json!({"batches": []}), "batches"),
        (
            with(json!({"days": 1, "hits": 201, "cells": 200})),
            "hits is 201",
        ),
        (
            with(json!({"days": 1, "hits": 0, "cells": 0})),
            "cells is 0",
        ),
        (with(json!({"days": -1, "percent": 70})), "days is -1"),
        (with(json!({"days": 61, "percent": 70})), "days is 61"),
        (with(json!({"days": 1, "percent": 101})), "percent is 101"),
        (
            with(json!({"days": 1, "percent": 70, "cells": 200})),
            "hits and cells",
        ),
        (with(json!({"days": 1})), "hits and cells"),
        (with(json!({"days": 1, "motile": 70})), "motile"),
        (
            json!({"batches": [{}], "floor_percent": 59}),
            "floor_percent is 59",
        ),
        (json!({"batches": [{}], "eye_cells": 0}), "eye_cells is 0"),
        (
            json!({"batches": [{}], "extender": "short", "days": 4}),
            "days is 4",
        ),
        (
            json!({"batches": [{}], "herd": herd(), "others": [[{}]]}),
            "others is 1",
        ),
        (
            json!({"batches": [{}], "herd": {"mean": [1, 0], "covariance": [[1, 2], [2, 1]], "boars": [[1, 0], [0, 1]],
            "batches": [[1, 0], [0, 1]], "samples": 0}}),
            "herd.covariance",
        ),
    ] {
        let error = ask("keeping", &request).expect_err("a refusal").to_string();
        assert!(error.contains(says), "{request}: {error}");
    }
}

fn herd() -> Value {
    json!({"mean": [1.7, -0.2], "covariance": [[1, 0], [0, 1]], "boars": [[0, 0], [0, 0]],
        "batches": [[0, 0], [0, 0]], "samples": 0})
}

/// No variance at all beyond the herd's: a boundary, not an error.
#[test]
fn a_herd_in_which_nothing_varies_is_taken() {
    let looks = json!([{"days": 1, "hits": 178, "cells": 200}]);
    let answer = kept(&json!({"batches": [{"looks": looks}], "herd": herd()}));
    assert_eq!(answer.boar.line, answer.batches[0].line);
}

#[test]
fn a_mix_is_ready_and_ends_when_it_should() {
    let mixed = "2026-03-01T06:05:00.000+01:00";
    let ask_mix = |request: Value| -> ExtenderAnswer {
        let text = ask("extender", &request).expect("an answer");
        let read: ExtenderAnswer = serde_json::from_str(&text).expect("reads back");
        assert_eq!(serde_json::to_string(&read).expect("JSON"), text);
        read
    };
    let usual = ask_mix(json!({"mixed_at": mixed}));
    assert_eq!(usual.ready_at.to_string(), "2026-03-01T07:05:00.000+01:00");
    assert_eq!(usual.ends_at.to_string(), "2026-03-02T06:05:00.000+01:00");
    assert!(
        usual.keeps_by_default && !usual.by_lot && usual.odd.is_empty() && usual.state.is_none()
    );
    let past = ask_mix(
        json!({"mixed_at": mixed, "keeps_hours": 48, "best_before": "2026-03-01",
        "used_at": "2026-03-02T00:00:00.000+01:00", "water": "tap", "conductivity_us_cm": 5.1}),
    );
    assert!(past.by_lot && !past.keeps_by_default);
    assert_eq!(
        serde_json::to_value(past.state).expect("JSON"),
        json!({"past": {"since": "2026-03-02T00:00:00.000+01:00"}})
    );
    let odd = serde_json::to_value(&past.odd).expect("JSON");
    assert_eq!(
        odd,
        json!([{"conductivity": {"read": 5.1, "most": 5.0}}, "tap_water", {"ahead": {"minutes": 1075, "most": 90}}])
    );
    for (request, says) in [
        (
            json!({"mixed_at": mixed, "keeps_hours": 0}),
            "keeps_hours is 0",
        ),
        (
            json!({"mixed_at": mixed, "ready_after_min": 1441}),
            "ready_after_min is 1441",
        ),
        (
            json!({"mixed_at": mixed, "conductivity_us_cm": -1}),
            "conductivity_us_cm is -1",
        ),
        (
            json!({"mixed_at": "9999-12-31T20:00:00.000+00:00"}),
            "mixed_at is 9999",
        ),
        (json!({"mixed_at": mixed, "water": "rain"}), "rain"),
        (json!({}), "mixed_at"),
    ] {
        let error = ask("extender", &request)
            .expect_err("a refusal")
            .to_string();
        assert!(error.contains(says), "{request}: {error}");
    }
}
