//! The file as rows of cells, with the columns found that a logger's file has.

use super::error::ClimateError;
use super::header::{Field, assign};
use super::plan::Column;
use super::{COLUMNS_MAX, Choices, ROWS_MAX};
use crate::import::Delimiter;
use crate::import::table::{Top, samples, scan, shown, sniff, top, without_told_delimiter};
use crate::import::text::{Text, decode};
use csv::StringRecord;
use std::collections::{BTreeMap, BTreeSet};

/// A file read as text, with its delimiter and its columns found.
pub(super) struct Sheet {
    text: String,
    encoding: &'static str,
    delimiter: Delimiter,
    header_line: Option<u64>,
    columns: Vec<Column>,
}

/// Loggers write who they are and how they were set above the headings: sought in so many rows.
const TITLES: usize = 40;

impl Sheet {
    /// Reads bytes into a sheet whose columns of temperatures and stamps are known.
    pub fn read(bytes: &[u8], choices: &Choices) -> Result<Self, ClimateError> {
        let asked = choices.encoding.as_deref();
        let Text { text, encoding } = decode(bytes, asked).map_err(ClimateError::of)?;
        let (text, told) = without_told_delimiter(text);
        let delimiter = choices.delimiter.or(told);
        let mut sheet = Self {
            delimiter: delimiter.unwrap_or_else(|| sniff(&text, TITLES, known)),
            text,
            encoding,
            header_line: None,
            columns: vec![],
        };
        sheet.find_columns(choices)?;
        Ok(sheet)
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

    /// The column that holds it.
    pub fn column(&self, field: Field) -> Option<&Column> {
        self.columns.iter().find(|c| c.field == Some(field))
    }

    /// Calls back with the line number and cells of every row below the headings that is not blank.
    pub fn each(&self, mut row: impl FnMut(u64, &StringRecord)) -> Result<(), ClimateError> {
        let mut count = 0;
        let walk = scan(&self.text, self.delimiter, |line, record| {
            if self.header_line.is_some_and(|header| line <= header) {
                return Ok(true);
            }
            count += 1;
            if count <= ROWS_MAX {
                row(line, record);
            }
            Ok(count <= ROWS_MAX)
        });
        walk.map_err(ClimateError::of)?;
        if count > ROWS_MAX {
            return Err(ClimateError::TooManyRows);
        }
        Ok(())
    }

    fn find_columns(&mut self, choices: &Choices) -> Result<(), ClimateError> {
        let (top, end) = top(&self.text, self.delimiter, 2 * TITLES);
        end.map_err(ClimateError::of)?;
        let (at, line) = header(&top, choices)?;
        let widest = top.iter().map(|(_, cells)| cells.len()).max().unwrap_or(0);
        let headers = match top.get(at) {
            Some((_, cells)) if !choices.headerless => cells.clone(),
            _ => vec![String::new(); widest],
        };
        if headers.len() > COLUMNS_MAX {
            let columns = headers.len();
            return Err(ClimateError::TooManyColumns { line, columns });
        }
        self.header_line = (!choices.headerless).then_some(line);
        let first_row = if choices.headerless { at } else { at + 1 };
        let below = top.get(first_row..).unwrap_or_default();
        let fields = match &choices.mapping {
            Some(mapping) => mapped(mapping, headers.len())?,
            None if choices.headerless => vec![None; headers.len()],
            None => assign(&headers),
        };
        let columns = headers.iter().zip(fields).enumerate();
        self.columns = columns
            .map(|(index, (header, field))| Column {
                index,
                header: shown(header),
                field,
                samples: samples(below, index),
            })
            .collect();
        self.check()
    }

    fn check(&self) -> Result<(), ClimateError> {
        let columns = || self.columns.clone();
        let has = |field| self.column(field).is_some();
        if !has(Field::Temperature) {
            return Err(ClimateError::NoTemperature { columns: columns() });
        }
        let apart = has(Field::Date) && has(Field::Clock);
        if !has(Field::Stamp) && !apart {
            return Err(ClimateError::NoTime { columns: columns() });
        }
        Ok(())
    }
}

/// The place of the headings among the first rows, and their line.
fn header(top: &Top, choices: &Choices) -> Result<(usize, u64), ClimateError> {
    let Some((first, _)) = top.first() else {
        return Err(ClimateError::Empty);
    };
    if choices.mapping.is_some() || choices.headerless {
        return Ok((0, *first));
    }
    let rows = top.iter().take(TITLES);
    let found = rows.enumerate().find(|(_, (_, cells))| is_header(cells));
    Ok(found.map_or((0, *first), |(at, (line, _))| (at, *line)))
}

fn known(headers: &[String]) -> usize {
    assign(headers).iter().flatten().count()
}

fn is_header(cells: &[String]) -> bool {
    let fields = assign(cells);
    let has = |field| fields.contains(&Some(field));
    has(Field::Temperature) && (has(Field::Stamp) || has(Field::Date))
}

fn mapped(
    mapping: &BTreeMap<usize, Field>,
    width: usize,
) -> Result<Vec<Option<Field>>, ClimateError> {
    let mut fields = vec![None; width];
    let mut taken = BTreeSet::new();
    for (column, field) in mapping {
        let slot = fields.get_mut(*column).filter(|_| taken.insert(*field));
        *slot.ok_or(ClimateError::Mapping {
            column: *column,
            last: width.saturating_sub(1),
        })? = Some(*field);
    }
    Ok(fields)
}
