//! What becomes of a row, in words.

use super::answer::{Field, Why};
use super::row::{Differs, Fate, Flag, Right, Row, Value};
use crate::words::{Arg, Key, Words, key};

/// The word of a column.
pub const fn field(field: Field) -> Key {
    match field {
        Field::Number => key::BOARS_NUMBER,
        Field::Name => key::BOARS_NAME,
        Field::Born => key::BOARS_BORN,
        Field::Line => key::BOARS_LINE,
        Field::Pen => key::BOARS_PEN,
        Field::Ear => key::BOARS_EAR,
        Field::Rfid => key::IMPORT_RFID,
        Field::LastCollection => key::BOARS_LAST,
        Field::Arrived => key::IMPORT_ARRIVED,
        Field::Notes => key::BOARS_MIND,
    }
}

/// Why a file of any kind does not read; `detail` is the office's own English.
pub fn unread(w: &Words, why: &Why, detail: &str) -> String {
    let at = |key: Key, line: u32| w.tr_with(key, &[("line", line_arg(line.into()))]);
    match why {
        Why::TooLarge { .. } => w.tr(key::REFUSED_TOO_LARGE),
        Why::TooManyRows { most } => w.tr_with(
            key::FILE_ROWS,
            &[("most", w.num(f64::from(*most), 0).into())],
        ),
        Why::TooManyColumns { line, columns } => w.tr_with(
            key::FILE_COLUMNS,
            &[("line", line_arg((*line).into())), ("n", (*columns).into())],
        ),
        Why::LineTooLong { line } => at(key::FILE_LINE_LONG, *line),
        Why::NotText { line } => at(key::FILE_NOT_TEXT, *line),
        Why::Encoding { encoding, line } => w.tr_with(
            key::FILE_ENCODING,
            &[
                ("line", line_arg((*line).into())),
                ("encoding", encoding.as_str().into()),
            ],
        ),
        Why::QuoteOpen { line } => at(key::FILE_QUOTE, *line),
        Why::Workbook => w.tr(key::IMPORT_WORKBOOK),
        Why::Empty | Why::NoNumber { .. } | Why::Other => {
            w.tr_with(key::FILE_UNREAD, &[("detail", detail.into())])
        }
    }
}

/// The fate and all that deserves a look.
pub fn row(w: &Words, row: &Row) -> String {
    let flags = row.flags.iter().filter_map(|f| flag(w, f));
    std::iter::once(fate(w, &row.fate))
        .chain(flags)
        .collect::<Vec<_>>()
        .join(" ")
}

fn fate(w: &Words, fate: &Fate) -> String {
    match fate {
        Fate::New => w.tr(key::IMPORT_NEW),
        Fate::Same => w.tr(key::IMPORT_SAME),
        Fate::Differs { changes } => {
            let changes: Vec<_> = changes.iter().map(|c| change(w, c)).collect();
            w.tr_with(key::IMPORT_DIFFERS, &[("what", changes.join("; ").into())])
        }
        Fate::DuplicateInFile { line, differs } => {
            let key = if *differs {
                key::IMPORT_TWICE_DIFFERS
            } else {
                key::IMPORT_TWICE
            };
            w.tr_with(key, &[("line", line_arg(*line))])
        }
        Fate::Waits { field: about } => {
            w.tr_with(key::IMPORT_WAITS, &[("field", w.tr(field(*about)).into())])
        }
        Fate::Refused {
            field: about,
            read,
            right,
        } => {
            let about = about.map(|f| w.tr(field(f))).unwrap_or_default();
            let args = [
                ("field", about.into()),
                ("read", read.as_str().into()),
                ("right", self::right(w, right).into()),
            ];
            w.tr_with(
                if read.is_empty() {
                    key::IMPORT_REFUSED_EMPTY
                } else {
                    key::IMPORT_REFUSED
                },
                &args,
            )
        }
    }
}

/// A line's number is a name, not a quantity: no group marks, no plural.
fn line_arg(line: u64) -> Arg {
    line.to_string().into()
}

fn change(w: &Words, c: &Differs) -> String {
    let args = [
        ("field", w.tr(field(c.field)).into()),
        ("old", value(w, &c.old).into()),
        ("new", value(w, &c.new).into()),
    ];
    w.tr_with(key::IMPORT_CHANGE, &args)
}

fn value(w: &Words, value: &Value) -> String {
    match value {
        Value::Nothing => w.tr(key::NOT_KNOWN),
        Value::Text(text) => text.clone(),
        Value::Day(day) => w.day_month_year(*day),
        Value::NoneYet => w.tr(key::BOARS_WORKED_NOT_YET),
    }
}

fn right(w: &Words, right: &Right) -> String {
    let day = |key, day| w.tr_with(key, &[("day", w.day_month_year(day).into())]);
    match right {
        Right::Given => w.tr(key::IMPORT_RIGHT_GIVEN),
        Right::AtMost { chars } => w.tr_with(key::IMPORT_RIGHT_AT_MOST, &[("n", (*chars).into())]),
        Right::OneLine => w.tr(key::IMPORT_RIGHT_ONE_LINE),
        Right::Date | Right::RealDay => w.tr(key::IMPORT_RIGHT_DATE),
        Right::NotAfter { day: limit } => day(key::IMPORT_RIGHT_NOT_AFTER, *limit),
        Right::NotBefore { day: limit } => day(key::IMPORT_RIGHT_NOT_BEFORE, *limit),
        Right::Rfid => w.tr(key::IMPORT_RIGHT_RFID),
        Right::Cells { most } => w.tr_with(key::IMPORT_RIGHT_CELLS, &[("n", (*most).into())]),
        Right::Other => w.tr(key::IMPORT_RIGHT_OTHER),
    }
}

fn flag(w: &Words, flag: &Flag) -> Option<String> {
    Some(match flag {
        Flag::Formula => w.tr(key::IMPORT_FLAG_FORMULA),
        Flag::Damaged => w.tr(key::IMPORT_FLAG_DAMAGED),
        Flag::Old { years } => w.tr_with(key::IMPORT_FLAG_OLD, &[("n", (*years).into())]),
        Flag::EarOf { number } => {
            w.tr_with(key::IMPORT_FLAG_EAR, &[("number", number.as_str().into())])
        }
        Flag::ZerosApart { number } => w.tr_with(
            key::IMPORT_FLAG_ZEROS,
            &[("number", number.as_str().into())],
        ),
        Flag::TestRfid => w.tr(key::IMPORT_FLAG_TEST),
        Flag::Gone => w.tr(key::IMPORT_FLAG_GONE),
        Flag::Other => return None,
    })
}
