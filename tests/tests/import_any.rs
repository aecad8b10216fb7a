//! Any bytes, any answers, and as many rows as are taken.

#![allow(clippy::expect_used, clippy::panic)] // a test may stop where a list is not as it must be

use chrono::NaiveDate;
use pentally_server::import::{
    BYTES_MAX, Choices, DateAnswer, DayOrder, Decision, Draft, Field, ImportError, Known, LINE_MAX,
    ROWS_MAX, facts, plan,
};
use proptest::prelude::*;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;

fn today() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 11, 25).expect("a day")
}

fn choices() -> impl Strategy<Value = Choices> {
    let order = prop_oneof![
        Just(None),
        Just(Some(DayOrder::DayFirst)),
        Just(Some(DayOrder::MonthFirst))
    ];
    let answer =
        (order, any::<Option<bool>>()).prop_map(|(order, serials)| DateAnswer { order, serials });
    let mapping = proptest::option::of(proptest::collection::btree_map(
        0..4_usize,
        proptest::sample::select(&Field::ALL[..]),
        0..4,
    ));
    let encoding = proptest::option::of(proptest::sample::select(vec![
        "utf-8",
        "windows-1252",
        "utf-16le",
        "x",
    ]));
    (
        mapping,
        any::<bool>(),
        proptest::collection::btree_map(0..4_usize, answer, 0..3),
        encoding,
    )
        .prop_map(|(mapping, headerless, dates, encoding)| Choices {
            mapping,
            headerless,
            dates,
            encoding: encoding.map(str::to_owned),
            delimiter: None,
        })
}

/// Bytes that look enough like a list to get past the door.
fn near_list() -> impl Strategy<Value = Vec<u8>> {
    let bits: Vec<&'static [u8]> = vec![
        b"number",
        b"name",
        b"born",
        b"rfid",
        b"pen",
        b"last collection",
        b",",
        b",",
        b";",
        b"\t",
        b"|",
        b"\n",
        b"\n",
        b"\r",
        b"\"",
        b"1",
        b"2",
        b"03/04/2025",
        b"31.12.24",
        b"45000",
        b"2025-02-30",
        b"5 mar 2025",
        b"never",
        b"=1",
        b" ",
        b"\xf1",
        b"\xc3\xb1",
        b"\xff",
        b"\xff\xfe",
        b"\0",
        b"sep=;\n",
        b"99999999",
        b"-",
        b"900000000000007",
        b"1/1/0000",
        b"T1:",
        b"\xe2\x80\xaf1:",
    ];
    proptest::collection::vec(proptest::sample::select(bits), 0..40).prop_map(|bits| {
        let mut bytes = b"number,born,pen,name\n".to_vec();
        bytes.extend(bits.concat());
        bytes
    })
}

proptest! {
    #[test]
    fn no_bytes_make_it_panic(bytes in proptest::collection::vec(any::<u8>(), 0..400), choices in choices()) {
        let _ = plan(&bytes, &choices, Known::default(), today());
    }

    #[test]
    fn whatever_the_rows_facts_are_whole_or_none(bytes in near_list(), choices in choices(), leave_out: bool) {
        let Ok(plan) = plan(&bytes, &choices, Known::default(), today()) else { return Ok(()) };
        let sum = plan.summary();
        prop_assert_eq!(sum.rows, sum.new + sum.same + sum.differs + sum.duplicates + sum.refused + sum.waiting);
        let lines: BTreeSet<_> = plan.rows.iter().map(|r| r.line).collect();
        prop_assert_eq!(lines.len(), plan.rows.len(), "each row begins on a line of its own");
        let Ok(all) = facts(&plan, Decision { leave_out, overwrite: false }, &mut |_| None) else {
            prop_assert!(!leave_out || !plan.questions.is_empty());
            return Ok(());
        };
        let count = |is: fn(&Draft) -> bool| all.drafts.iter().filter(|d| is(d)).count();
        prop_assert_eq!(count(|d| matches!(d, Draft::Boar(_))), sum.new);
        prop_assert_eq!(count(|d| matches!(d, Draft::Pen(_))), sum.pens);
        for (n, draft) in all.drafts.iter().enumerate() {
            let made = vec![pentally_domain::id::EntryId::v7(1, [0; 10]); n];
            prop_assert!(draft.fact(&made).is_ok(), "drafts refer backwards only");
        }
    }
}

fn long_list(rows: usize) -> String {
    let mut file = String::from("number,name,born,line,pen,notes\n");
    for n in 0..rows {
        writeln!(
            file,
            "B{n},Name {n},{:02}/{:02}/2025,Line {},Pen {},note {n}",
            n % 28 + 1,
            n % 10 + 1,
            n % 7,
            n % 300
        )
        .expect("memory");
    }
    file
}

#[test]
fn as_many_rows_as_are_taken_and_not_one_more() {
    let file = long_list(ROWS_MAX);
    let whole = plan(
        file.as_bytes(),
        &Choices::default(),
        Known::default(),
        today(),
    )
    .expect("as many as are taken");
    assert_eq!((whole.summary().new, whole.summary().pens), (ROWS_MAX, 300));
    let all = facts(&whole, Decision::default(), &mut |_| None).expect("nothing stands against it");
    assert_eq!(all.drafts.len(), 2 * ROWS_MAX + 300);

    let more = file + "one more,,,,,\n";
    let refused = plan(
        more.as_bytes(),
        &Choices::default(),
        Known::default(),
        today(),
    );
    assert_eq!(
        refused.err(),
        Some(ImportError::TooManyRows { most: ROWS_MAX })
    );
}

#[test]
fn what_is_too_large_is_refused_before_it_costs() {
    let read = |bytes: &[u8]| plan(bytes, &Choices::default(), Known::default(), today()).err();
    let large = vec![b'\n'; BYTES_MAX + 1];
    assert_eq!(
        read(&large),
        Some(ImportError::TooLarge {
            bytes: BYTES_MAX + 1,
            most: BYTES_MAX
        })
    );
    let long = format!("number\n{}\n", "x".repeat(LINE_MAX + 1));
    assert_eq!(
        read(long.as_bytes()),
        Some(ImportError::LineTooLong {
            line: 2,
            bytes: LINE_MAX + 1,
            most: LINE_MAX
        })
    );
    let wide = format!("number{}\n", ",".repeat(200));
    assert_eq!(
        read(wide.as_bytes()),
        Some(ImportError::TooManyColumns {
            line: 1,
            columns: 201,
            most: 200
        })
    );
    let empty = BTreeMap::from([(9, DateAnswer::default())]);
    let plan = plan(
        b"number\n1\n",
        &Choices {
            dates: empty,
            ..Choices::default()
        },
        Known::default(),
        today(),
    );
    assert_eq!(
        plan.expect("an answer to no question is no harm")
            .summary()
            .new,
        1
    );
}
