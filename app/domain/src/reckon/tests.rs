//! Requests of the laboratory: what is young changes nothing old, and what cannot be is refused.

use super::answer;
use serde_json::{Value, json};

fn answered(name: &str, asked: &Value) -> Value {
    let text = answer(name, asked.to_string().as_bytes()).unwrap_or_else(|e| panic!("{e}"));
    serde_json::from_str(&text).unwrap()
}

fn refused(name: &str, asked: &Value) -> String {
    answer(name, asked.to_string().as_bytes())
        .unwrap_err()
        .to_string()
}

/// What was answered before intervals were: every field of it stands today, letter for letter.
#[test]
fn an_old_count_is_answered_as_before() {
    let asked = json!({"replicates": [{"count": 50, "squares": 5}], "dilution": [[1.0, 9.0]]});
    let found = answered("count", &asked);
    let before = json!({
        "concentration_m_per_ml": 25.0,
        "improbable": true,
        "few": true,
        "part_grids": true,
    });
    for (field, value) in before.as_object().unwrap() {
        assert_eq!(&found[field], value, "{field}");
    }
    let names: Vec<_> = found["figures"]
        .as_array()
        .unwrap()
        .iter()
        .map(|f| &f["figure"])
        .collect();
    assert_eq!(
        names,
        [
            "dilution_step",
            "dilution",
            "concentration_m_per_ml",
            "sampling_error_percent"
        ]
    );
    assert_eq!(
        found["figures"][2]["formula"],
        "sum(count) * dilution / (sum(squares) * 4)"
    );
}

#[test]
fn a_count_has_an_interval_and_says_how_far_to_count() {
    let asked = json!({
        "replicates": [{"count": 207, "squares": 25}, {"count": 193, "squares": 25}],
        "dilution": [[1, 10], [1, 10]],
        "said_factor": 100,
        "errors": {"step_error_percent": 0, "filling_error_percent": 0},
        "error_asked_percent": 2.5,
    });
    let found = answered("count", &asked);
    // 400 sperm at ×121 in 200 nL are 242 M/mL; the exact interval of 400 is 361.8 to 441.2 (scipy,
    // tests/laboratory/poisson.csv), the one shown lies within.
    assert_eq!(found["concentration_m_per_ml"], 242.0);
    let end = |name: &str| found["interval"][name].as_f64().unwrap();
    let (low, high) = (end("low_m_per_ml"), end("high_m_per_ml"));
    assert!(low > 361.8 * 0.605 && low < 242.0, "{low}");
    assert!(high < 441.2 * 0.605 && high > 242.0, "{high}");
    assert_eq!(found["further"]["sperm_needed"], 1600);
    assert_eq!(found["further"]["grids_more"], 6);
    assert_eq!(found["disagreement"]["slip"], "semen_forgotten");
    assert_eq!(found["taken_for"], 100.0);
}

#[test]
fn a_chamber_is_described_by_side_or_by_area() {
    let of =
        |chamber: Value| json!({"replicates": [{"count": 37, "squares": 10}], "chamber": chamber});
    let by_side =
        of(json!({"square_side_mm": 0.1, "depth_mm": 0.01, "grid_squares": 10, "grids": 10}));
    let by_area =
        of(json!({"square_mm2": 0.01, "depth_mm": 0.01, "grid_squares": 10, "grids": 10}));
    let found = answered("count", &by_side);
    assert_eq!(found, answered("count", &by_area));
    assert_eq!(found["part_grids"], false);
    let neither = of(json!({"depth_mm": 0.01, "grid_squares": 10, "grids": 10}));
    assert!(refused("count", &neither).contains("either square_side_mm or square_mm2"));
    let flat = of(json!({"square_mm2": 0.01, "depth_mm": 0, "grid_squares": 10, "grids": 10}));
    assert!(refused("count", &flat).starts_with("depth_mm is 0 mm; it must be from 0.005"));
}

#[test]
fn counts_that_cannot_be_say_what_would_be_right() {
    let full = json!({"replicates": [{"count": 5001, "squares": 5}]});
    let said =
        "count is 5001 sperm in these squares; it must be from 0 to 5000 sperm in these squares";
    assert_eq!(refused("count", &full), said);
    let less = json!({"replicates": [{"count": 50, "squares": 5}], "dilution": [[1, -0.5]]});
    assert!(refused("count", &less).starts_with("diluent_parts is -0.5"));
    let sure = json!({"replicates": [{"count": 50, "squares": 5}], "error_asked_percent": 0.1});
    assert!(refused("count", &sure).starts_with("error_asked_percent is 0.1"));
    let over = json!({"hits": 201, "cells": 200});
    assert!(refused("share", &over).starts_with("hits is 201 cells; it must be from 0 to 200"));
    let many = json!({"hits": 1, "cells": 2000, "second": {"hits": 1, "cells": 200}});
    assert!(refused("share", &many).starts_with("cells is 2200"));
}

/// 140 of 200: Wilson 63.3 to 75.9 (TRADE); Clopper & Pearson 63.1 to 76.3 (statsmodels,
/// tests/laboratory/shares.csv).
#[test]
fn a_share_has_both_intervals_and_its_agreement() {
    let once = answered("share", &json!({"hits": 140, "cells": 200}));
    let tenths = |name: &str| (once[name].as_f64().unwrap() * 10.0).round() / 10.0;
    assert_eq!(
        [tenths("low_percent"), tenths("high_percent")],
        [63.3, 75.9]
    );
    assert_eq!(
        [tenths("exact_low_percent"), tenths("exact_high_percent")],
        [63.1, 76.3]
    );
    assert_eq!(once.get("agreement"), None);
    let second = json!({"hits": 151, "cells": 200});
    let twice = answered(
        "share",
        &json!({"hits": 140, "cells": 200, "second": second}),
    );
    assert_eq!(twice["percent"], 72.75);
    assert_eq!(twice["agreement"]["agree"], true);
    for hits in [0, 7] {
        let end = answered("share", &json!({"hits": hits, "cells": 7}));
        assert!(end["exact_low_percent"].is_number() && end["exact_high_percent"].is_number());
    }
}

#[test]
fn a_verdict_tells_the_chance_and_takes_another_doubt() {
    let asked = json!({"motile": {"percent": 74, "cells": 200}});
    let found = answered("verdict", &asked);
    let rule = &found["rules"][0];
    assert_eq!(rule["standing"], "doubtful");
    assert_eq!(rule["figures"].as_array().unwrap().len(), 3);
    let chance = rule["misses_chance"]["result"].as_f64().unwrap();
    assert!(chance > 0.05 && chance < 0.2, "{chance}");
    assert!(rule["more_cells"].as_u64().unwrap() > 0);
    let bold = json!({"motile": {"percent": 74, "cells": 200}, "doubt": {"pass_chance": 0.2}});
    assert_eq!(answered("verdict", &bold)["rules"][0]["standing"], "pass");
    let wrong = json!({"doubt": {"eye_points": 0}});
    assert!(refused("verdict", &wrong).starts_with("eye_points is 0"));
    let unmeasured = answered("verdict", &json!({}));
    assert_eq!(unmeasured["rules"][0].get("misses_chance"), None);
}
