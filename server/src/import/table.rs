//! The file as rows of cells, before anybody judges them.

use super::error::ImportError;
use super::header::{Field, assign};
use super::plan::Column;
use super::text::{Text, decode};
use super::{COLUMNS_MAX, Choices, ROWS_MAX};
use csv::StringRecord;
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;

/// What separates the cells of a row.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Delimiter {
    /// `,`
    Comma,
    /// `;`
    Semicolon,
    /// The tabulator.
    Tab,
    /// `|`
    Pipe,
}

impl Delimiter {
    pub(crate) const ALL: [Self; 4] = [Self::Comma, Self::Semicolon, Self::Tab, Self::Pipe];

    const fn byte(self) -> u8 {
        match self {
            Self::Comma => b',',
            Self::Semicolon => b';',
            Self::Tab => b'\t',
            Self::Pipe => b'|',
        }
    }
}

/// A file read as text, with its delimiter and its columns found.
#[derive(Debug, Clone)]
pub struct Table {
    text: String,
    encoding: &'static str,
    delimiter: Delimiter,
    header_line: Option<u64>,
    columns: Vec<Column>,
}

/// Rows with the lines on which they begin.
pub(crate) type Top = Vec<(u64, Vec<String>)>;

/// How many rows are looked at for headings and for the delimiter.
const LOOK: usize = 2 * TITLES;
/// Headings are sought in the first rows only: a title or two may stand above them.
const TITLES: usize = 10;
/// How many cells of a column are shown beside its heading, and how much of each.
const SAMPLES: usize = 3;
const SAMPLE_CHARS: usize = 60;

impl Table {
    /// Reads bytes into a table whose number column is known.
    pub fn read(bytes: &[u8], choices: &Choices) -> Result<Self, ImportError> {
        let Text { text, encoding } = decode(bytes, choices.encoding.as_deref())?;
        let (text, told) = without_told_delimiter(text);
        let delimiter = choices
            .delimiter
            .or(told)
            .unwrap_or_else(|| sniff(&text, TITLES, known));
        let mut table = Self {
            text,
            encoding,
            delimiter,
            header_line: None,
            columns: Vec::new(),
        };
        table.find_columns(choices)?;
        Ok(table)
    }

    /// The encoding's WHATWG name.
    pub const fn encoding(&self) -> &'static str {
        self.encoding
    }

    /// The delimiter, told, chosen or found.
    pub const fn delimiter(&self) -> Delimiter {
        self.delimiter
    }

    /// The line of the headings; none where the file has none.
    pub const fn header_line(&self) -> Option<u64> {
        self.header_line
    }

    /// The columns as headed.
    pub fn columns(&self) -> &[Column] {
        &self.columns
    }

    /// Calls back with the line number and cells of every row below the headings that is not
    /// blank, in order. Cells are as written, untrimmed.
    pub fn each(&self, mut row: impl FnMut(u64, &StringRecord)) -> Result<(), ImportError> {
        let mut count = 0;
        scan(&self.text, self.delimiter, |line, record| {
            if self.header_line.is_some_and(|header| line <= header) {
                return Ok(true);
            }
            count += 1;
            if count > ROWS_MAX {
                return Err(ImportError::TooManyRows { most: ROWS_MAX });
            }
            row(line, record);
            Ok(true)
        })
    }

    fn find_columns(&mut self, choices: &Choices) -> Result<(), ImportError> {
        let (top, end) = top(&self.text, self.delimiter, LOOK);
        end?;
        let Some(first) = top.first() else {
            return Err(ImportError::Empty);
        };
        let by_hand = choices.mapping.is_some() || choices.headerless;
        let found = if by_hand {
            None
        } else {
            top.iter()
                .take(TITLES)
                .position(|row| is_header(&row.1, row.0 == first.0))
        };
        let at = found.unwrap_or(0);
        let widest = top.iter().map(|(_, cells)| cells.len()).max().unwrap_or(0);
        let headers = if choices.headerless {
            vec![String::new(); widest]
        } else {
            top.get(at).map(|r| r.1.clone()).unwrap_or_default()
        };
        let line = top.get(at).map_or(1, |r| r.0);
        if headers.len() > COLUMNS_MAX {
            return Err(ImportError::TooManyColumns {
                line,
                columns: headers.len(),
                most: COLUMNS_MAX,
            });
        }
        self.header_line = (!choices.headerless).then_some(line);
        let below = if choices.headerless {
            top.as_slice()
        } else {
            top.get(at + 1..).unwrap_or_default()
        };
        let fields = fields(&headers, choices)?;
        self.columns = headers
            .into_iter()
            .zip(fields)
            .enumerate()
            .map(|(index, (header, field))| {
                let samples = samples(below, index);
                Column {
                    index,
                    header: shown(&header),
                    field,
                    samples,
                }
            })
            .collect();
        if self.columns.iter().all(|c| c.field != Some(Field::Number)) {
            return Err(ImportError::NoNumber {
                columns: std::mem::take(&mut self.columns),
            });
        }
        Ok(())
    }
}

pub(crate) fn samples(rows: &[(u64, Vec<String>)], index: usize) -> Vec<String> {
    let cells = rows.iter().filter_map(|(_, cells)| cells.get(index));
    cells
        .map(|c| shown(c))
        .filter(|c| !c.is_empty())
        .take(SAMPLES)
        .collect()
}

pub(crate) fn shown(cell: &str) -> String {
    cell.trim().chars().take(SAMPLE_CHARS).collect()
}

/// A single heading is taken for one only in the first row; further down it may be a title's word.
fn is_header(cells: &[String], first: bool) -> bool {
    let fields = assign(cells);
    fields.contains(&Some(Field::Number)) && (first || fields.iter().flatten().count() > 1)
}

fn fields(headers: &[String], choices: &Choices) -> Result<Vec<Option<Field>>, ImportError> {
    let Some(mapping) = &choices.mapping else {
        return Ok(if choices.headerless {
            vec![None; headers.len()]
        } else {
            assign(headers)
        });
    };
    let mut fields = vec![None; headers.len()];
    let mut taken = BTreeSet::new();
    for (column, field) in mapping {
        let slot = fields.get_mut(*column).filter(|_| taken.insert(*field));
        let trouble = ImportError::Mapping {
            column: *column,
            last: headers.len().saturating_sub(1),
        };
        *slot.ok_or(trouble)? = Some(*field);
    }
    Ok(fields)
}

/// Some spreadsheets begin a file with a line such as `sep=;`, which is no row.
pub(crate) fn without_told_delimiter(mut text: String) -> (String, Option<Delimiter>) {
    let line = text.lines().next().unwrap_or_default();
    let told = line.strip_prefix("sep=").and_then(|rest| {
        Delimiter::ALL
            .into_iter()
            .find(|d| rest.as_bytes() == [d.byte()])
    });
    if told.is_some() {
        // The line stays as a blank one, so that line numbers stay true.
        text.drain(..line.len());
    }
    (text, told)
}

/// How many of these headings a list of boars knows.
fn known(headers: &[String]) -> usize {
    assign(headers).iter().flatten().count()
}

/// The delimiter under which the most headings are known; then the one that cuts the most rows
/// into equally many cells, of which there are more than one; then the one that cuts finest.
/// One that leaves only blank rows comes before all: such a file is empty. Headings are sought in
/// the first `titles` rows.
pub(crate) fn sniff(text: &str, titles: usize, known: impl Fn(&[String]) -> usize) -> Delimiter {
    let score = |delimiter: Delimiter| {
        let (top, end) = top(text, delimiter, 2 * titles);
        let blank = top.is_empty() && end.is_ok();
        let headings = top
            .iter()
            .take(titles)
            .map(|r| known(&r.1))
            .max()
            .unwrap_or(0);
        let width = top.first().map_or(0, |r| r.1.len());
        let even = if width > 1 {
            top.iter().filter(|r| r.1.len() == width).count()
        } else {
            0
        };
        (blank, headings, even, width)
    };
    let best = Delimiter::ALL.into_iter().rev().max_by_key(|d| score(*d));
    best.unwrap_or(Delimiter::Comma)
}

/// The first rows that are not blank, and why there are no more if that is an error. A row too wide for a list is cut, so that
/// looking at a hostile file stays cheap; its true width is refused later.
pub(crate) fn top(text: &str, delimiter: Delimiter, look: usize) -> (Top, Result<(), ImportError>) {
    let mut rows = Top::new();
    let end = scan(text, delimiter, |line, record| {
        let cells = record.iter().take(COLUMNS_MAX + 1).map(str::to_owned);
        rows.push((line, cells.collect()));
        Ok(rows.len() < look)
    });
    (rows, end)
}

/// Walks the rows that are not blank until `row` says stop.
pub(crate) fn scan(
    text: &str,
    delimiter: Delimiter,
    mut row: impl FnMut(u64, &StringRecord) -> Result<bool, ImportError>,
) -> Result<(), ImportError> {
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(delimiter.byte())
        .from_reader(text.as_bytes());
    let mut record = StringRecord::new();
    let mut place = Place {
        text,
        byte: 0,
        line: 1,
    };
    loop {
        let more = reader
            .read_record(&mut record)
            .map_err(|_| ImportError::NotText { line: place.line })?;
        if !more {
            return Ok(());
        }
        let line = place.skip_blank();
        place.pass_row(usize::try_from(reader.position().byte()).unwrap_or(text.len()))?;
        if record.iter().any(|cell| !cell.trim().is_empty()) && !row(line, &record)? {
            return Ok(());
        }
    }
}

/// Where the walk stands. The reader counts blank lines to the row that follows them; people do not.
struct Place<'a> {
    text: &'a str,
    byte: usize,
    line: u64,
}

impl Place<'_> {
    fn skip_blank(&mut self) -> u64 {
        let rest = self.text.as_bytes().get(self.byte..).unwrap_or_default();
        let blank = rest.iter().take_while(|b| **b == b'\n').count();
        self.byte += blank;
        self.line += blank as u64;
        self.line
    }

    /// Passes the row that ends before `end`. The last row may not hold a line end and an odd
    /// number of quotation marks: one of them would have swallowed every row after it.
    fn pass_row(&mut self, end: usize) -> Result<(), ImportError> {
        let row = self.text.get(self.byte..end).unwrap_or_default();
        let lines = row.matches('\n').count();
        let open = end >= self.text.len() && lines > 1 && row.matches('"').count() % 2 == 1;
        if open {
            return Err(ImportError::QuoteOpen { line: self.line });
        }
        self.byte = end;
        self.line += lines as u64;
        Ok(())
    }
}
