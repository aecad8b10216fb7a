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
    assert_eq!(EN.tr(key::STAND_DECIDED), "Decided by the entry of {when}.");
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
    assert_eq!(ES.near_day(day(2026, 3, 16), today), "el lunes");
    assert_eq!(ES.near_day(day(2027, 1, 1), today), "el 1 de enero de 2027");
    assert_eq!(EN.weekday_day_month(today), "Thursday 12 March");
    assert_eq!(ES.weekday_day_month(today), "jueves 12 de marzo");
}

#[test]
fn spanish_draws_preposition_and_article_together() {
    let today = day(2026, 3, 12);
    let decided = |on: NaiveDate| {
        let when = ES.near_day(on, today);
        ES.tr_with(key::STAND_DECIDED, &[("when", when.into())])
    };
    assert_eq!(decided(today), "Lo decide la anotación de hoy.");
    assert_eq!(
        decided(day(2026, 3, 16)),
        "Lo decide la anotación del lunes."
    );
}

#[test]
fn the_language_is_taken_from_what_the_browser_asks() {
    assert_eq!(Lang::preferred("es-MX,es;q=0.9,en;q=0.8"), Some(Lang::Es));
    assert_eq!(Lang::preferred("fr, en;q=0.3, es;q=0.7"), Some(Lang::Es));
    assert_eq!(Lang::preferred("de, es;q=0"), None);
    assert_eq!(Lang::preferred(""), None);
}

/// Every message beside what fluent-bundle 0.16, a renderer of its own with the
/// plural rules of `intl_pluralrules` 7, makes of the same files.
#[test]
fn each_sentence_is_the_one_an_independent_renderer_writes() {
    for lang in Lang::ALL {
        let bundle = oracle(lang);
        for (index, name) in table::NAMES.iter().enumerate() {
            let key = Key(u16::try_from(index).unwrap());
            for n in [0, 1, 2, 5, 21, 1000] {
                let ours = Words::of(lang).tr_with(key, &given(key, &Arg::Count(n)));
                assert_eq!(ours, theirs(&bundle, name, &n.into()), "{name}, {n}");
            }
            let ours = Words::of(lang).tr_with(key, &given(key, &"dummy".into()));
            assert_eq!(ours, theirs(&bundle, name, &"dummy".into()), "{name}");
        }
    }
}

type Bundle = fluent_bundle::FluentBundle<fluent_bundle::FluentResource>;

fn oracle(lang: Lang) -> Bundle {
    let mut bundle = Bundle::new(vec![lang.tag().parse().unwrap()]);
    bundle.set_use_isolating(false);
    let dir = format!("{}/locales/{}", env!("CARGO_MANIFEST_DIR"), lang.tag());
    for entry in std::fs::read_dir(dir).unwrap() {
        let text = std::fs::read_to_string(entry.unwrap().path()).unwrap();
        let read = fluent_bundle::FluentResource::try_new(text).unwrap();
        bundle.add_resource(read).unwrap();
    }
    bundle
}

fn theirs(bundle: &Bundle, name: &str, value: &fluent_bundle::FluentValue<'static>) -> String {
    let key = Key(u16::try_from(table::NAMES.iter().position(|n| *n == name).unwrap()).unwrap());
    let mut args = fluent_bundle::FluentArgs::new();
    for (variable, _) in given(key, &Arg::Count(0)) {
        args.set(variable, value.clone());
    }
    let pattern = bundle.get_message(name).unwrap().value().unwrap();
    let mut faults = Vec::new();
    let said = bundle
        .format_pattern(pattern, Some(&args), &mut faults)
        .into_owned();
    assert!(faults.is_empty(), "{name}: {faults:?}");
    said
}

/// The same value for every variable of a message.
fn given(key: Key, value: &Arg) -> Vec<(&'static str, Arg)> {
    let mut found: Vec<&'static str> = table::EN
        .message(key.0.into())
        .split([message::VAR, message::CHOICE])
        .skip(1)
        .filter_map(|piece| piece.split(message::NAMED).next())
        .collect();
    found.sort_unstable();
    found.dedup();
    found
        .into_iter()
        .map(|name| (name, value.clone()))
        .collect()
}
