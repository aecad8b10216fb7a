use super::*;
use chrono::NaiveDate;

const EN: Words = Words::of(Lang::En);
const ES: Words = Words::of(Lang::Es);

fn day(year: i32, month: u32, day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(year, month, day).unwrap()
}

#[test]
fn a_message_speaks_both_languages() {
    assert_eq!(EN.tr(key::PLACE_BENCH), "Bench");
    assert_eq!(ES.tr(key::PLACE_BENCH), "Mesa");
}

#[test]
fn a_count_is_filled_in_and_decides_the_plural() {
    assert_eq!(EN.span(86_400_000), "1 day");
    assert_eq!(EN.span(4 * 86_400_000), "4 days");
    assert_eq!(ES.span(-86_400_000), "1 día");
    assert_eq!(ES.span(3 * 3_600_000 + 1), "3 h");
    assert_eq!(EN.span(59_999), "less than 1 min");
}

#[test]
fn a_variable_that_is_not_given_shows_its_name() {
    assert_eq!(EN.tr(key::AS_OF), "As of {when}");
}

#[test]
fn figures_follow_the_language() {
    assert_eq!(num(1234.5, 1, Lang::En), "1234.5");
    assert_eq!(num(12_345.67, 1, Lang::Es), "12\u{202F}345,7");
    assert_eq!(num(1_000_000.0, 0, Lang::En), "1\u{202F}000\u{202F}000");
    assert_eq!(num(-0.04, 1, Lang::En), "0.0");
    assert_eq!(num(-2.5, 1, Lang::Es), "−2,5");
    assert_eq!(num(f64::NAN, 1, Lang::En), "–");
}

// Weekdays of the ISO 8601 calendar; 2026-03-12 was checked with `date -d`.
#[test]
fn days_are_said_near_or_in_full() {
    let today = day(2026, 3, 12);
    assert_eq!(EN.near_day(today, today), "today");
    assert_eq!(ES.near_day(day(2026, 3, 11), today), "ayer");
    assert_eq!(EN.near_day(day(2026, 3, 16), today), "Monday");
    assert_eq!(EN.near_day(day(2026, 3, 19), today), "19 March");
    assert_eq!(ES.near_day(day(2027, 1, 1), today), "1 de enero de 2027");
    assert_eq!(EN.weekday_day_month(today), "Thursday 12 March");
    assert_eq!(ES.weekday_day_month(today), "jueves 12 de marzo");
}

#[test]
fn the_language_is_taken_from_what_the_browser_asks() {
    assert_eq!(Lang::preferred("es-MX,es;q=0.9,en;q=0.8"), Some(Lang::Es));
    assert_eq!(Lang::preferred("fr, en;q=0.3, es;q=0.7"), Some(Lang::Es));
    assert_eq!(Lang::preferred("de, es;q=0"), None);
    assert_eq!(Lang::preferred(""), None);
}
