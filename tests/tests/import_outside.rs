//! Lists of boars against what other programs read in them: Python's csv module, its codecs and
//! its datetime, by `tests/import/generate.py` with its committed output (version inside).

#![allow(clippy::expect_used, clippy::panic)] // a test may stop where a list is not as it must be

use chrono::NaiveDate;
use pentally_server::import::{
    Choices, DateAnswer, DayOrder, Delimiter, Fate, Field, Known, Plan, Right, Table, plan,
};
use serde::Deserialize;
use std::collections::BTreeMap;
use std::fmt::Write;
use std::path::Path;

type Rows = Vec<(u64, Vec<String>)>;

#[derive(Deserialize)]
struct Expected {
    files: Vec<File>,
    random: Vec<Random>,
    dates: BTreeMap<String, Vec<(String, Option<NaiveDate>)>>,
}

#[derive(Deserialize)]
struct File {
    #[serde(rename = "file")]
    name: String,
    encoding: String,
    delimiter: String,
    rows: Rows,
}

#[derive(Deserialize)]
struct Random {
    text: String,
    delimiter: String,
    rows: Rows,
}

fn folder() -> &'static Path {
    Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/import"))
}

fn expected() -> Expected {
    let text = std::fs::read_to_string(folder().join("expected.json"))
        .expect("expected.json is committed");
    serde_json::from_str(&text).expect("expected.json is what the generator wrote")
}

fn delimiter(written: &str) -> Delimiter {
    match written {
        "," => Delimiter::Comma,
        ";" => Delimiter::Semicolon,
        "\t" => Delimiter::Tab,
        "|" => Delimiter::Pipe,
        other => panic!("{other} is no delimiter"),
    }
}

/// The rows below the headings: line ends inside cells are compared as `\n`.
fn rows(table: &Table) -> Rows {
    let mut rows = Vec::new();
    table
        .each(|line, cells| rows.push((line, cells.iter().map(str::to_owned).collect())))
        .expect("few rows");
    rows
}

fn below_headings(table: &Table, all: &Rows) -> Rows {
    all.iter()
        .filter(|(line, _)| Some(*line) > table.header_line())
        .cloned()
        .collect()
}

fn today() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 11, 25).expect("a day")
}

#[test]
fn every_file_reads_as_python_reads_it() {
    let files = expected().files;
    assert!(files.len() >= 20);
    for file in files {
        let bytes = std::fs::read(folder().join("files").join(&file.name))
            .expect("sample files are committed");
        let table = Table::read(&bytes, &Choices::default())
            .unwrap_or_else(|e| panic!("{}: {e}", file.name));
        assert_eq!(table.encoding(), file.encoding, "{}", file.name);
        // A file of one column has no delimiter to find.
        if file.rows.iter().any(|(_, cells)| cells.len() > 1) {
            assert_eq!(
                table.delimiter(),
                delimiter(&file.delimiter),
                "{}",
                file.name
            );
        }
        let want = below_headings(&table, &file.rows);
        assert!(!want.is_empty(), "{}", file.name);
        assert_eq!(rows(&table), want, "{}", file.name);
    }
}

#[test]
fn nasty_cells_read_as_python_reads_them() {
    let cases = expected().random;
    assert_eq!(cases.len(), 60);
    for case in cases {
        let choices = Choices {
            delimiter: Some(delimiter(&case.delimiter)),
            ..Choices::default()
        };
        let table = Table::read(case.text.as_bytes(), &choices)
            .unwrap_or_else(|e| panic!("{:?}: {e}", case.text));
        assert_eq!(
            rows(&table),
            below_headings(&table, &case.rows),
            "{:?}",
            case.text
        );
    }
}

#[test]
fn one_list_in_six_encodings_is_one_plan() {
    let boars = |file: &str| {
        let bytes =
            std::fs::read(folder().join("files").join(file)).expect("sample files are committed");
        let plan =
            plan(&bytes, &Choices::default(), Known::default(), today()).expect("a list of boars");
        assert_eq!(plan.summary().new, 3, "{file}");
        (
            plan.rows.into_iter().map(|r| r.fate).collect::<Vec<_>>(),
            plan.pens,
        )
    };
    let first = boars("spanish-utf8.csv");
    for other in [
        "utf8-mark",
        "windows-1252",
        "latin-1",
        "utf16-little",
        "utf16-big",
    ] {
        assert_eq!(boars(&format!("spanish-{other}.csv")), first, "{other}");
    }
}

#[test]
fn dates_read_as_python_reads_them() {
    let dates = expected().dates;
    let answers = [
        ("either", DateAnswer::default()),
        (
            "day_first",
            DateAnswer {
                order: Some(DayOrder::DayFirst),
                serials: None,
            },
        ),
        (
            "month_first",
            DateAnswer {
                order: Some(DayOrder::MonthFirst),
                serials: None,
            },
        ),
        (
            "serial",
            DateAnswer {
                order: None,
                serials: Some(true),
            },
        ),
    ];
    for (name, answer) in answers {
        let cases = &dates[name];
        assert!(cases.len() >= 40, "{name}");
        let plan = dated(cases.iter().map(|(text, _)| text.as_str()), answer);
        assert_eq!(plan.questions, [], "{name}");
        for ((text, want), row) in cases.iter().zip(&plan.rows) {
            match (&row.fate, want) {
                (Fate::New { boar, .. }, Some(day)) => {
                    assert_eq!(boar.born, Some(*day), "{name}: {text}");
                }
                (Fate::Refused { field, read, right }, None) => {
                    assert_eq!((*field, read), (Some(Field::Born), text), "{name}");
                    assert!(
                        matches!(right, Right::Date | Right::RealDay { .. }),
                        "{name}: {text}: {right:?}"
                    );
                }
                (fate, want) => panic!("{name}: '{text}' should be {want:?} and is {fate:?}"),
            }
        }
    }
}

fn dated<'a>(texts: impl Iterator<Item = &'a str>, answer: DateAnswer) -> Plan {
    let mut file = String::from("number;born\n");
    for (n, text) in texts.enumerate() {
        writeln!(file, "{n};{text}").expect("memory");
    }
    let choices = Choices {
        dates: BTreeMap::from([(1, answer)]),
        ..Choices::default()
    };
    plan(file.as_bytes(), &choices, Known::default(), today()).expect("a list of boars")
}
