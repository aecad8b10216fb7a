//! The request, as scripts send it.

use crate::explain::{Term, Value as Figure};
use crate::reckon::{CurveAnswer, ReckonError, answer};
use serde_json::{Value, json};

fn asked(counted: [f64; 8]) -> Value {
    let pair = |(i, c): (usize, f64)| json!({"reading": 0.1 * (i + 1) as f64, "concentration_m_per_ml": c});
    let pairs: Vec<_> = counted.into_iter().enumerate().map(pair).collect();
    json!({"pairs": pairs})
}

fn ask(request: &Value) -> CurveAnswer {
    let text = answer("curve", request.to_string().as_bytes()).unwrap();
    serde_json::from_str(&text).unwrap()
}

fn refused(request: &Value) -> ReckonError {
    answer("curve", request.to_string().as_bytes()).unwrap_err()
}

const COUNTED: [f64; 8] = [105.0, 198.0, 310.0, 402.0, 489.0, 612.0, 694.0, 808.0];

#[test]
fn a_curve_is_answered_with_what_was_asked() {
    let mut request = asked(COUNTED);
    let bare = ask(&request);
    assert!(bare.read.is_none() && bare.drift.is_none() && bare.figures.is_empty());
    assert_eq!((bare.coefficients.len(), bare.degrees), (2, 6));
    assert!(bare.r_squared > 0.99);
    request["reading"] = json!(0.35);
    request["later"] = json!([{"reading": 0.5, "concentration_m_per_ml": 380}]);
    request["from"] = json!("01J");
    let full = ask(&request);
    assert_eq!(full.coefficients, bare.coefficients);
    let read = serde_json::to_value(&full.read).unwrap();
    let found = &read["found"];
    let value = found["concentration_m_per_ml"].as_f64().unwrap();
    let [constant, slope] = full.coefficients[..] else {
        panic!("{full:?}")
    };
    assert!((value - (constant + 0.35 * slope)).abs() < 1e-9);
    let figure = |term| full.figures.iter().find(|f| f.figure == term).unwrap();
    assert_eq!(figure(Term::Concentration).result, Figure::Number(value));
    assert_eq!(figure(Term::ReadLow).number(), found["one"]["low"]);
    assert_eq!(figure(Term::ReadHigh).number(), found["one"]["high"]);
    let drift = serde_json::to_value(full.drift).unwrap();
    assert_eq!(drift["finding"], "disagrees");
    assert_eq!(drift["next"], "count_again");
    assert_eq!(drift["pairs"][0]["held"]["outside"], true);
}

#[test]
fn a_reading_off_the_curve_has_a_sentence() {
    let mut request = asked(COUNTED);
    request["reading"] = json!(0.05);
    let answer = ask(&request);
    let read = serde_json::to_value(&answer.read).unwrap();
    assert_eq!(
        read["refused"]["why"]["below"]["reading"],
        json!(0.05),
        "{read}"
    );
    let says = read["refused"]["says"].as_str().unwrap();
    assert!(says.contains("count this ejaculate"), "{says}");
    assert!(answer.figures.is_empty());
}

#[test]
fn bad_requests_say_what_is_wrong() {
    let same = refused(&asked([200.0; 8]));
    assert!(matches!(same, ReckonError::Curve(_)), "{same}");
    let mut request = asked(COUNTED);
    request["weighing"] = json!("by_error");
    assert_eq!(
        refused(&request).to_string(),
        "pair 1 has no relative error: enter it, or weigh by size"
    );
    request["pairs"][0]["relative_error_percent"] = json!(0);
    assert_eq!(
        refused(&request).to_string(),
        "relative_error_percent is 0 %; it must be from 0.1 to 100 %"
    );
    let mut request = asked(COUNTED);
    request["pairs"][2]["concentration_m_per_ml"] = json!(5001);
    assert_eq!(
        refused(&request).to_string(),
        "concentration_m_per_ml is 5001 M/mL; it must be from 0 to 5000 M/mL"
    );
    let mut request = asked(COUNTED);
    request["readings"] = json!(0.2);
    let unknown = refused(&request);
    assert!(
        matches!(unknown, ReckonError::Unreadable { .. }),
        "{unknown}"
    );
}
