//! The short code: against an independent implementation, and what it notices.

use pentally_domain::code::{Code, CodeError};
use proptest::prelude::*;

/// Made by `tests/tags/check_digits.py` with python-stdnum 2.2.
const CHECKED: &str = include_str!("../tags/check_digits.csv");

fn codes() -> impl Iterator<Item = Code> {
    (0..Code::COUNT).filter_map(Code::from_number)
}

/// The digits with those at `place` and after it changed to `to`.
fn with(digits: &str, place: usize, to: &str) -> String {
    format!("{}{to}{}", &digits[..place], &digits[place + to.len()..])
}

#[test]
fn check_digits_are_those_of_the_standard() {
    let rows: Vec<_> = CHECKED
        .lines()
        .filter(|l| !l.starts_with('#'))
        .skip(1)
        .filter_map(|l| l.split_once(','))
        .collect();
    assert_eq!(rows.len(), 1031);
    for (number, code) in rows {
        assert_eq!(
            Code::from_number(number.parse().unwrap()).unwrap().digits(),
            code
        );
    }
}

#[test]
fn every_single_wrong_digit_is_noticed() {
    for code in codes().step_by(7) {
        let digits = code.digits();
        for (place, right) in digits.chars().enumerate() {
            for wrong in ('0'..='9').filter(|d| *d != right) {
                let read = with(&digits, place, &wrong.to_string());
                assert_eq!(
                    Code::parse(&read),
                    Err(CodeError::Checksum { read: read.clone() })
                );
            }
        }
    }
}

/// 10 000 of 450 000 swaps of unlike neighbours pass, 2 000 in each place: python-stdnum counts
/// the same.
#[test]
fn as_many_swaps_pass_unnoticed_as_the_standard_lets_pass() {
    let mut missed = [0; 5];
    let mut swaps = 0;
    for code in codes() {
        let digits = code.digits();
        for (place, missed) in missed.iter_mut().enumerate() {
            let (left, right) = (&digits[place..=place], &digits[place + 1..place + 2]);
            if left != right {
                swaps += 1;
                *missed += i32::from(
                    Code::parse(&with(&digits, place, &format!("{right}{left}"))).is_ok(),
                );
            }
        }
    }
    let expected = CHECKED
        .lines()
        .filter_map(|l| l.strip_prefix("# missed swaps at ")?.split_once(": "));
    let expected: Vec<_> = expected
        .map(|(_, count)| count.parse::<i32>().unwrap())
        .collect();
    assert_eq!((missed.to_vec(), swaps), (expected, 450_000));
}

#[test]
fn what_is_wrong_is_said() {
    use CodeError::{Checksum, NotATag, NotDigits, WrongLength};
    let read = |text: &str| text.trim().to_owned();
    for text in [
        "",
        "12345",
        " 123 45 ",
        "1234500",
        "https://barn.example/T/12345",
    ] {
        let last = read(text.rsplit('/').next().unwrap());
        assert_eq!(Code::parse(text), Err(WrongLength { read: last }), "{text}");
    }
    for text in ["12345O", "123.450", "１２３４５０", "123 450 B"] {
        assert_eq!(
            Code::parse(text),
            Err(NotDigits { read: read(text) }),
            "{text}"
        );
    }
    assert_eq!(
        Code::parse("123 456"),
        Err(Checksum {
            read: read("123 456")
        })
    );
    for text in [
        "https://barn.example/",
        "https://barn.example/T",
        "https://barn.example/B/123450",
        "ftp://barn.example/T/123450",
        "https:///T/123450",
        "https://barn.example/T/123450/",
        "https://barn.example/x/T/123450",
        "WIFI:S:barn;;",
        "/T/123450",
        "https://barn.example/?/T/123450",
    ] {
        assert_eq!(
            Code::parse(text),
            Err(NotATag { read: read(text) }),
            "{text}"
        );
    }
    assert_eq!(Code::from_number(100_000), None);
    let said = Code::parse("123 456").unwrap_err().to_string();
    assert!(said.contains("'123 456'"), "{said}");
}

#[test]
fn six_digits_in_any_other_symbol_are_no_tag() {
    assert!(Code::parse("123450").is_ok());
    assert!(Code::scanned("123450").is_err());
    let scanned = Code::scanned("HTTPS://OLD.EXAMPLE:1/T/123450");
    assert_eq!(scanned, Code::parse("123450"));
}

#[test]
fn what_is_stored_is_read_strictly() {
    let code = Code::from_number(12_345).unwrap();
    assert_eq!(serde_json::to_string(&code).unwrap(), r#""123450""#);
    for text in [
        r#""123 450""#,
        r#""123451""#,
        r#""12345""#,
        "123450",
        r#""HTTPS://A/T/123450""#,
        "null",
    ] {
        assert!(serde_json::from_str::<Code>(text).is_err(), "{text}");
    }
}

proptest! {
    #[test]
    fn a_code_is_read_however_it_is_written(
        number in 0..Code::COUNT, host in "[A-Za-z0-9.-]{1,30}(:[0-9]{1,5})?",
        upper in any::<bool>(), scheme in "[Hh][Tt][Tt][Pp][Ss]?", tail in "([?#][ -~]{0,20})?",
    ) {
        let code = Code::from_number(number).unwrap();
        let digits = code.digits();
        let hyphened = format!(" {}-{} ", &digits[..2], &digits[2..]);
        let address = format!("{scheme}://{host}/{}/{digits}{tail}", if upper { 'T' } else { 't' });
        for written in [digits, code.to_string(), hyphened, address] {
            prop_assert_eq!(Code::parse(&written), Ok(code), "{}", written);
        }
        prop_assert_eq!(serde_json::from_str::<Code>(&serde_json::to_string(&code).unwrap()).unwrap(), code);
    }

    #[test]
    fn no_text_makes_it_fall_over(text in "\\PC{0,40}") {
        if let Ok(code) = Code::parse(&text) {
            prop_assert!(text.chars().filter(char::is_ascii_digit).count() >= 6);
            prop_assert!(code.number() < Code::COUNT);
        }
    }
}
