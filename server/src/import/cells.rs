//! From the cells of one row to checked particulars, or to what is wrong with them.

use super::dates::{DateCell, DayOrder, read as read_date};
use super::header::Field;
use super::plan::{Fate, Flag, Right};
use super::same_key;
use chrono::{Datelike, NaiveDate};
use csv::StringRecord;
use pentally_domain::boar::{Before, Boar};
use pentally_domain::said::{Label, Remark, TextError};

/// How the rows of one file are read.
pub(super) struct Reader {
    /// The columns that are read.
    pub columns: Vec<ReadColumn>,
    /// How many cells a row may have.
    pub width: usize,
    /// The farm's day.
    pub today: NaiveDate,
}

/// A column that is read.
pub(super) struct ReadColumn {
    /// Its place.
    pub index: usize,
    /// What it holds.
    pub field: Field,
    /// The order of day and month; none while the person is asked.
    pub order: Option<DayOrder>,
    /// Whether whole numbers are days; none while the person is asked.
    pub serials: Option<bool>,
}

/// What a row says. What it leaves open is none.
#[derive(Debug, Default)]
pub(super) struct Particulars {
    pub number: Option<Label>,
    pub name: Option<Label>,
    pub born: Option<NaiveDate>,
    pub line: Option<Label>,
    pub ear: Option<Label>,
    pub rfid: Option<Label>,
    pub before: Option<Before>,
    pub mind: Option<Remark>,
    pub pen: Option<Label>,
    pub arrived: Option<NaiveDate>,
    pub flags: Vec<Flag>,
}

/// A boar older than this many years is improbable, older than the second impossible
/// (common practice, no source).
const OLD_YEARS: u32 = 10;
const AGE_YEARS_MAX: u32 = 30;
/// Stands between ear tag and transponder number where both are known.
const BOTH: &str = " · ";
const READ_CHARS: usize = 60;

impl Reader {
    /// The number's cell as written, for showing.
    pub fn number_shown(&self, record: &StringRecord) -> String {
        let number = self.columns.iter().find(|c| c.field == Field::Number);
        shown(number.and_then(|c| record.get(c.index)).unwrap_or_default())
    }

    /// Reads a row. The fate is why it cannot be taken, or not yet.
    pub fn read(&self, record: &StringRecord) -> (Particulars, Option<Fate>) {
        let mut said = Particulars::default();
        let fate = self.fill(record, &mut said).err();
        (said, fate)
    }

    fn fill(&self, record: &StringRecord, said: &mut Particulars) -> Result<(), Fate> {
        if let Some(extra) = record
            .iter()
            .skip(self.width)
            .find(|cell| !cell.trim().is_empty())
        {
            return Err(refused(None, extra, Right::Cells { most: self.width }));
        }
        for column in &self.columns {
            let cell = record.get(column.index).unwrap_or_default().trim();
            said.flag(column.field, cell);
            self.take(column, cell, said)?;
        }
        if said.number.is_none() {
            return Err(refused(Some(Field::Number), "", Right::Given));
        }
        self.check_days(said)
    }

    fn take(&self, column: &ReadColumn, cell: &str, said: &mut Particulars) -> Result<(), Fate> {
        let field = column.field;
        match field {
            Field::Number => said.number = label(field, cell)?,
            Field::Name => said.name = label(field, cell)?,
            Field::Line => said.line = label(field, cell)?,
            Field::Pen => said.pen = label(field, cell)?,
            Field::Ear => said.ear = label(field, cell)?,
            Field::Rfid => said.rfid = rfid(cell)?,
            Field::Notes => said.mind = remark(cell)?,
            Field::Born => said.born = self.day(column, cell)?,
            Field::Arrived => said.arrived = self.day(column, cell)?,
            Field::LastCollection if read_date(cell, self.today) == DateCell::Never => {
                said.before = Some(Before::NoneYet);
            }
            Field::LastCollection => said.before = self.day(column, cell)?.map(Before::LastOn),
        }
        Ok(())
    }

    fn day(&self, column: &ReadColumn, cell: &str) -> Result<Option<NaiveDate>, Fate> {
        let wrong = |right| Err(refused(Some(column.field), cell, right));
        let waits = || {
            Err(Fate::Waits {
                field: column.field,
                read: shown(cell),
            })
        };
        match read_date(cell, self.today) {
            DateCell::Empty => Ok(None),
            DateCell::Day(day) => self.in_bounds(column.field, cell, day),
            DateCell::Serial(day) => match column.serials {
                Some(true) => self.in_bounds(column.field, cell, day),
                Some(false) => wrong(Right::Date),
                None => waits(),
            },
            DateCell::Pair(pair) => match column
                .order
                .or(pair.is_plain().then_some(DayOrder::DayFirst))
            {
                None => waits(),
                Some(order) => match pair.day(order) {
                    Some(day) => self.in_bounds(column.field, cell, day),
                    None => wrong(Right::RealDay { order: Some(order) }),
                },
            },
            DateCell::NoSuchDay => wrong(Right::RealDay { order: None }),
            DateCell::Never | DateCell::Unreadable => wrong(Right::Date),
        }
    }

    fn in_bounds(
        &self,
        field: Field,
        cell: &str,
        day: NaiveDate,
    ) -> Result<Option<NaiveDate>, Fate> {
        let years = i32::try_from(AGE_YEARS_MAX).unwrap_or(i32::MAX);
        let oldest =
            NaiveDate::from_ymd_opt(self.today.year() - years, 1, 1).unwrap_or(NaiveDate::MIN);
        if day > self.today {
            return Err(refused(
                Some(field),
                cell,
                Right::NotAfter { day: self.today },
            ));
        }
        if day < oldest {
            return Err(refused(Some(field), cell, Right::NotBefore { day: oldest }));
        }
        Ok(Some(day))
    }

    fn check_days(&self, said: &mut Particulars) -> Result<(), Fate> {
        let Some(born) = said.born else { return Ok(()) };
        let last = said.before.and_then(|b| {
            if let Before::LastOn(day) = b {
                Some(day)
            } else {
                None
            }
        });
        for (field, day) in [
            (Field::LastCollection, last),
            (Field::Arrived, said.arrived),
        ] {
            if let Some(day) = day.filter(|day| *day < born) {
                return Err(refused(
                    Some(field),
                    &day.to_string(),
                    Right::NotBefore { day: born },
                ));
            }
        }
        if let Some(years) = self
            .today
            .years_since(born)
            .filter(|years| *years >= OLD_YEARS)
        {
            said.flags.push(Flag::Old { years });
        }
        Ok(())
    }
}

impl Particulars {
    /// Ear tag and transponder number in one label, which has to hold both.
    pub fn mark(&self) -> Result<Option<Label>, Fate> {
        match (&self.ear, &self.rfid) {
            (Some(ear), Some(rfid)) => {
                let both = format!("{}{BOTH}{}", ear.as_str(), rfid.as_str());
                let room = 40 - BOTH.chars().count() - rfid.as_str().chars().count();
                let tight = |_: TextError| {
                    refused(
                        Some(Field::Ear),
                        ear.as_str(),
                        Right::AtMost { chars: room },
                    )
                };
                Label::parse(&both).map(Some).map_err(tight)
            }
            (ear, rfid) => Ok(ear.clone().or_else(|| rfid.clone())),
        }
    }

    /// The particulars over those known before: what the row leaves open stays.
    pub fn over(&self, number: Label, mark: Option<Label>, known: Option<&Boar>) -> Boar {
        let or = |new: &Option<Label>, old: Option<&Option<Label>>| {
            new.clone().or_else(|| old.cloned().flatten())
        };
        Boar {
            number: known.map_or(number, |k| k.number.clone()),
            name: or(&self.name, known.map(|k| &k.name)),
            born: self.born.or(known.and_then(|k| k.born)),
            line: or(&self.line, known.map(|k| &k.line)),
            ear: or(&mark.filter(|m| !is_part(m, known)), known.map(|k| &k.ear)),
            before: self.before.or(known.map(|k| k.before)).unwrap_or_default(),
            mind: self
                .mind
                .clone()
                .or_else(|| known.and_then(|k| k.mind.clone())),
        }
    }

    fn flag(&mut self, field: Field, cell: &str) {
        // The leading characters that spreadsheets take for a formula (OWASP, CSV Injection).
        if !field.is_date() && !is_nothing(cell) && cell.starts_with(['=', '+', '-', '@']) {
            self.flags.push(Flag::Formula { field });
        }
        if cell.contains('\u{fffd}') {
            self.flags.push(Flag::Damaged { field });
        }
        if field == Field::Rfid && digits(cell).starts_with("999") {
            self.flags.push(Flag::TestRfid);
        }
    }
}

/// A list may know a boar's ear tag and not his transponder: that is no other ear tag.
fn is_part(mark: &Label, known: Option<&Boar>) -> bool {
    let known = known.and_then(|k| k.ear.as_ref());
    marks(Some(mark)).all(|m| marks(known).any(|k| same_key(k) == same_key(m)))
}

/// The marks of a boar's label, one by one.
pub(super) fn marks(label: Option<&Label>) -> impl Iterator<Item = &str> {
    label.into_iter().flat_map(|l| l.as_str().split(BOTH))
}

/// A refusal of this cell.
pub(super) fn refused(field: Option<Field>, read: &str, right: Right) -> Fate {
    Fate::Refused {
        field,
        read: shown(read),
        right,
    }
}

fn shown(cell: &str) -> String {
    cell.trim().chars().take(READ_CHARS).collect()
}

/// A dash stands for an empty cell.
fn is_nothing(cell: &str) -> bool {
    cell.is_empty() || ["-", "–", "—"].contains(&cell)
}

fn label(field: Field, cell: &str) -> Result<Option<Label>, Fate> {
    if is_nothing(cell) {
        return Ok(None);
    }
    if cell.contains('\n') {
        return Err(refused(Some(field), cell, Right::OneLine));
    }
    Label::parse(cell)
        .map(Some)
        .map_err(|e| too_long(field, cell, &e))
}

fn remark(cell: &str) -> Result<Option<Remark>, Fate> {
    if is_nothing(cell) {
        return Ok(None);
    }
    Remark::parse(cell)
        .map(Some)
        .map_err(|e| too_long(Field::Notes, cell, &e))
}

/// A cell of nothing but control characters is too short rather than too long.
fn too_long(field: Field, cell: &str, error: &TextError) -> Fate {
    let right = if error.chars < error.low {
        Right::Given
    } else {
        Right::AtMost { chars: error.high }
    };
    refused(Some(field), cell, right)
}

/// ISO 11784: three digits of a country or maker and twelve of a number of 38 bits.
fn rfid(cell: &str) -> Result<Option<Label>, Fate> {
    const NUMBER_MAX: u64 = 274_877_906_943;
    if is_nothing(cell) {
        return Ok(None);
    }
    let wrong = || refused(Some(Field::Rfid), cell, Right::Rfid);
    let digits = digits(cell);
    let (code, number) = digits
        .split_at_checked(3)
        .filter(|_| digits.len() == 15)
        .ok_or_else(wrong)?;
    let fits = digits.bytes().all(|b| b.is_ascii_digit())
        && code != "000"
        && number.parse::<u64>().is_ok_and(|n| n <= NUMBER_MAX);
    if fits {
        Label::parse(&digits).map(Some).map_err(|_| wrong())
    } else {
        Err(wrong())
    }
}

fn digits(cell: &str) -> String {
    cell.chars()
        .filter(|c| !c.is_whitespace() && !matches!(c, '-' | '.'))
        .collect()
}
