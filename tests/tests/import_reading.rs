//! How a list of boars is understood: headings, delimiters, dates, and what is no list at all.

#![allow(clippy::expect_used, clippy::panic)] // a test may stop where a list is not as it must be

use chrono::NaiveDate;
use pentally_server::import::{
    Ask, Choices, DateAnswer, DayOrder, Decision, Delimiter, FactsError, Fate, Field, ImportError,
    Known, Plan, facts, plan,
};
use std::collections::BTreeMap;

fn day(year: i32, month: u32, day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(year, month, day).expect("a day")
}

fn today() -> NaiveDate {
    day(2026, 11, 25)
}

fn read(file: &str, choices: &Choices) -> Plan {
    plan(file.as_bytes(), choices, Known::default(), today()).expect("a list")
}

fn look(file: &str) -> Plan {
    read(file, &Choices::default())
}

#[test]
fn an_ambiguous_column_is_asked_about_once() {
    let file = "number,born,arrived\n1,03/04/2025,25/06/2025\n2,05/05/2025,\n3,06/07/2025,\n4,,\n5,2025-08-09,\n";
    let plan = look(file);
    assert_eq!(plan.questions.len(), 1);
    assert_eq!(
        (plan.questions[0].column, plan.questions[0].field),
        (1, Field::Born)
    );
    let likely = Some(DayOrder::DayFirst);
    let (day_first, month_first) = (day(2025, 4, 3), day(2025, 3, 4));
    assert_eq!(
        plan.questions[0].ask,
        Ask::Order {
            example: "03/04/2025".into(),
            day_first,
            month_first,
            likely
        }
    );
    assert_eq!(plan.summary().waiting, 2);
    assert_eq!(
        facts(
            &plan,
            Decision {
                leave_out: true,
                overwrite: true
            },
            &mut |_| None
        ),
        Err(FactsError::Questions { columns: vec![1] })
    );

    let answer = DateAnswer {
        order: Some(DayOrder::MonthFirst),
        serials: None,
    };
    let plan = read(
        file,
        &Choices {
            dates: BTreeMap::from([(1, answer)]),
            ..Choices::default()
        },
    );
    assert_eq!((plan.questions.len(), plan.summary().new), (0, 5));
    let Fate::New { boar, .. } = &plan.rows[0].fate else {
        panic!()
    };
    assert_eq!(boar.born, Some(day(2025, 3, 4)));
}

#[test]
fn one_cell_that_reads_one_way_decides_for_its_column() {
    for (column, want) in [
        ("03/04/2025\n2,25/04/2025", Some(day(2025, 4, 3))),
        ("03/04/2025\n2,04/25/2025", Some(day(2025, 3, 4))),
        ("03.04.2025\n2,05.06.2025", Some(day(2025, 4, 3))),
        ("03/04/2025\n2,05/06/2025", None),
    ] {
        let plan = look(&format!("number,born\n1,{column}\n"));
        match (&plan.rows[0].fate, want) {
            (Fate::New { boar, .. }, Some(day)) => assert_eq!(boar.born, Some(day), "{column}"),
            (
                Fate::Waits {
                    field: Field::Born, ..
                },
                None,
            ) => {}
            (fate, _) => panic!("{column}: {fate:?}"),
        }
    }
    let told = look("number,born (mm/dd/yyyy)\n1,03/04/2025\n");
    assert_eq!((told.questions.len(), told.summary().new), (0, 1));
}

#[test]
fn a_column_that_contradicts_itself_is_asked_about_and_then_ruled() {
    let file = "number,born\n1,25/04/2025\n2,04/25/2025\n3,05/06/2025\n";
    let plan = look(file);
    let ask = Ask::Mixed {
        day_first: "25/04/2025".into(),
        month_first: "04/25/2025".into(),
    };
    assert_eq!(plan.questions[0].ask, ask);
    let answer = DateAnswer {
        order: Some(DayOrder::DayFirst),
        serials: None,
    };
    let plan = read(
        file,
        &Choices {
            dates: BTreeMap::from([(1, answer)]),
            ..Choices::default()
        },
    );
    assert_eq!((plan.summary().new, plan.summary().refused), (2, 1));
}

#[test]
fn spreadsheet_serials_are_days_only_when_asked() {
    let file = "number,born\n1,45000\n";
    let plan = look(file);
    // 45000 is 2023-03-15 in the 1900 system: datetime.date(1899, 12, 30) + 45000 days in Python.
    assert_eq!(
        plan.questions[0].ask,
        Ask::Serials {
            example: "45000".into(),
            day: day(2023, 3, 15)
        }
    );
    for (serials, new) in [(true, 1), (false, 0)] {
        let answer = DateAnswer {
            order: None,
            serials: Some(serials),
        };
        let plan = read(
            file,
            &Choices {
                dates: BTreeMap::from([(1, answer)]),
                ..Choices::default()
            },
        );
        assert_eq!(
            (
                plan.questions.len(),
                plan.summary().new,
                plan.summary().refused
            ),
            (0, new, 1 - new)
        );
    }
}

#[test]
fn without_a_number_column_the_headings_are_named_and_can_be_mapped() {
    let file = "Weight,Kennung,Colour\n120,A1,white\n130,A2,black\n";
    let read = |choices: &Choices| plan(file.as_bytes(), choices, Known::default(), today());
    let Err(error) = read(&Choices::default()) else {
        panic!("no number column")
    };
    assert!(
        error.to_string().contains("'Weight', 'Kennung', 'Colour'"),
        "{error}"
    );
    let ImportError::NoNumber { columns } = error else {
        panic!("{error}")
    };
    assert_eq!(columns[1].samples, ["A1", "A2"]);

    let map = |pairs: &[(usize, Field)]| Some(pairs.iter().copied().collect());
    let by_hand = Choices {
        mapping: map(&[(1, Field::Number), (2, Field::Line)]),
        ..Choices::default()
    };
    assert_eq!(read(&by_hand).expect("mapped").summary().new, 2);
    let headerless = Choices {
        headerless: true,
        ..by_hand
    };
    assert_eq!(read(&headerless).expect("mapped").summary().new, 3);
    for wrong in [
        map(&[(3, Field::Number)]),
        map(&[(0, Field::Number), (1, Field::Number)]),
    ] {
        let choices = Choices {
            mapping: wrong,
            ..Choices::default()
        };
        assert!(matches!(
            read(&choices),
            Err(ImportError::Mapping { last: 2, .. })
        ));
    }
}

#[test]
fn what_is_no_list_is_said_plainly() {
    let read = |bytes: &[u8]| plan(bytes, &Choices::default(), Known::default(), today()).err();
    assert_eq!(read(b""), Some(ImportError::Empty));
    assert_eq!(read(b"\xef\xbb\xbf\r\n;;\r\n"), Some(ImportError::Empty));
    assert_eq!(read(b"PK\x03\x04 and so on"), Some(ImportError::Workbook));
    assert_eq!(
        read(b"number\n1\n\0\n"),
        Some(ImportError::NotText { line: 3 })
    );
    assert_eq!(
        read(b"number,name\n1,A\n2,\"B\n3,C\n4,D\n"),
        Some(ImportError::QuoteOpen { line: 3 })
    );
    let odd = b"\xff\xfen\0u\0m\0b\0e\0r\0\n\0\x00\xd8";
    assert_eq!(
        read(odd),
        Some(ImportError::Encoding {
            encoding: "UTF-16LE".into(),
            line: 2
        })
    );
    let asked = Choices {
        encoding: Some("utf-8".into()),
        ..Choices::default()
    };
    let wrong = plan(b"number\n\xf1\n", &asked, Known::default(), today());
    assert_eq!(
        wrong.err(),
        Some(ImportError::Encoding {
            encoding: "UTF-8".into(),
            line: 2
        })
    );
    let unknown = Choices {
        encoding: Some("klingon".into()),
        ..Choices::default()
    };
    assert_eq!(
        plan(b"number\n1\n", &unknown, Known::default(), today()).err(),
        Some(ImportError::UnknownEncoding {
            read: "klingon".into()
        })
    );
    assert_eq!(read(b"number\n"), None, "a list of no boars is a list");
}

#[test]
fn a_told_delimiter_is_no_row() {
    let plan = look("sep=;\nnumber;name\n1;a,b\n");
    assert_eq!(
        (plan.shape.delimiter, plan.shape.header_line),
        (Delimiter::Semicolon, Some(2))
    );
    assert_eq!((plan.rows[0].line, plan.summary().new), (3, 1));
}

#[test]
fn a_list_of_one_column_has_commas_until_told_otherwise() {
    assert_eq!(look("number\n1\n2\n").shape.delimiter, Delimiter::Comma);
}

#[test]
fn the_preview_is_json_for_the_browser() {
    let plan = look("number,born\n1,03/04/2025\n2,31/12/2030\n,\n1,\n");
    let json = serde_json::to_value(&plan).expect("JSON");
    assert_eq!(json["shape"]["columns"][1]["field"], "born");
    assert_eq!(json["rows"][0]["fate"]["fate"], "new");
    assert_eq!(json["rows"][0]["fate"]["boar"]["born"], "2025-04-03");
    let refused = serde_json::json!({
        "fate": "refused", "field": "born", "read": "31/12/2030", "right": { "right": "not_after", "day": "2026-11-25" }
    });
    assert_eq!(json["rows"][1]["fate"], refused);
    assert_eq!(
        json["rows"][2]["fate"],
        serde_json::json!({ "fate": "duplicate_in_file", "line": 2, "differs": true })
    );
    let choices = r#"{"mapping":{"0":"number","1":"born"},"dates":{"1":{"order":"day_first"}},"delimiter":"comma"}"#;
    let choices: Choices = serde_json::from_str(choices).expect("choices from the browser");
    assert_eq!(choices.dates[&1].order, Some(DayOrder::DayFirst));
}
