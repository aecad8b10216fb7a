//! Each row's fate: against the file's own columns, its other rows, and the barn.

use super::cells::{Particulars, ReadColumn, Reader, marks, refused};
use super::dates::{DayOrder, Evidence, Found, read as read_date};
use super::error::ImportError;
use super::header::{Field, order_said};
use super::plan::{
    Ask, Column, Differs, Fate, Flag, Plan, PlannedPen, Question, Right, Row, Shape, Value,
};
use super::table::Table;
use super::{Choices, DateAnswer, Known, KnownBoar, same_key};
use chrono::NaiveDate;
use csv::StringRecord;
use pentally_domain::boar::{Before, Boar};
use pentally_domain::id::PenId;
use pentally_domain::said::Label;
use std::collections::HashMap;
use std::hash::{DefaultHasher, Hash, Hasher};

/// Judges every row.
pub(super) fn judge(
    table: &Table,
    choices: &Choices,
    known: Known<'_>,
    today: NaiveDate,
) -> Result<Plan, ImportError> {
    let (columns, questions) = columns(table, choices, today)?;
    let reader = Reader {
        columns,
        width: table.columns().len(),
        today,
    };
    let mut rows = Vec::new();
    let mut desk = Desk::new(known);
    table.each(|line, record| rows.push(desk.row(&reader, line, record)))?;
    let shape = Shape {
        encoding: table.encoding(),
        delimiter: table.delimiter(),
        header_line: table.header_line(),
        columns: table.columns().to_vec(),
    };
    Ok(Plan {
        shape,
        questions,
        pens: desk.pens,
        rows,
    })
}

/// A first walk through the file: what the columns of dates together tell, and what is asked.
fn columns(
    table: &Table,
    choices: &Choices,
    today: NaiveDate,
) -> Result<(Vec<ReadColumn>, Vec<Question>), ImportError> {
    let read: Vec<(&Column, Field)> = table
        .columns()
        .iter()
        .filter_map(|c| Some((c, c.field?)))
        .collect();
    let mut evidence: Vec<_> = read.iter().map(|_| Evidence::default()).collect();
    if read.iter().any(|(_, field)| field.is_date()) {
        table.each(|_, record| {
            for ((column, _), seen) in read
                .iter()
                .zip(&mut evidence)
                .filter(|((_, field), _)| field.is_date())
            {
                let cell = record.get(column.index).unwrap_or_default();
                seen.see(cell, read_date(cell, today));
            }
        })?;
    }
    let likely = evidence.iter().find_map(Evidence::sure);
    let mut questions = Vec::new();
    let columns = read.iter().zip(&evidence).map(|((column, field), seen)| {
        let answer = choices
            .dates
            .get(&column.index)
            .copied()
            .unwrap_or_default();
        let found = seen.found(order_said(&column.header));
        let asks = asks(seen, &found, answer, likely);
        questions.extend(asks.into_iter().map(|ask| Question {
            column: column.index,
            header: column.header.clone(),
            field: *field,
            ask,
        }));
        let order = answer.order.or(if let Found::Order(order) = found {
            Some(order)
        } else {
            None
        });
        ReadColumn {
            index: column.index,
            field: *field,
            order,
            serials: answer.serials,
        }
    });
    let columns = columns.collect();
    Ok((columns, questions))
}

fn asks(seen: &Evidence, found: &Found, answer: DateAnswer, likely: Option<DayOrder>) -> Vec<Ask> {
    let order = match found {
        _ if answer.order.is_some() => None,
        Found::Order(_) => None,
        Found::Mixed(day_first, month_first) => Some(Ask::Mixed {
            day_first: day_first.clone(),
            month_first: month_first.clone(),
        }),
        Found::Either(example, pair) => pair
            .day(DayOrder::DayFirst)
            .zip(pair.day(DayOrder::MonthFirst))
            .map(|(day_first, month_first)| Ask::Order {
                example: example.clone(),
                day_first,
                month_first,
                likely,
            }),
    };
    let serials = seen.serial().filter(|_| answer.serials.is_none());
    let serials = serials.map(|(example, day)| Ask::Serials {
        example: example.to_owned(),
        day,
    });
    order.into_iter().chain(serials).collect()
}

/// What is known while the rows go by. Keys are those of [`same_key`].
struct Desk<'a> {
    boars: HashMap<String, &'a KnownBoar>,
    known_pens: HashMap<String, (PenId, &'a Label)>,
    pen_names: HashMap<PenId, &'a Label>,
    pens: Vec<PlannedPen>,
    pen_at: HashMap<String, usize>,
    seen: HashMap<String, (u64, u64)>,
    bare: HashMap<String, Label>,
    ears: HashMap<String, Label>,
}

impl<'a> Desk<'a> {
    fn new(known: Known<'a>) -> Self {
        let mut desk = Self {
            boars: HashMap::new(),
            known_pens: HashMap::new(),
            pen_names: known.pens.iter().map(|p| (p.id, &p.name)).collect(),
            pens: Vec::new(),
            pen_at: HashMap::new(),
            seen: HashMap::new(),
            bare: HashMap::new(),
            ears: HashMap::new(),
        };
        for pen in known.pens {
            desk.known_pens
                .entry(same_key(pen.name.as_str()))
                .or_insert((pen.id, &pen.name));
        }
        // A boar who is here comes before one of the same number who left.
        let (gone, here): (Vec<_>, Vec<_>) = known.boars.iter().partition(|b| b.gone);
        for boar in here.into_iter().chain(gone) {
            let key = same_key(boar.boar.number.as_str());
            desk.boars.entry(key.clone()).or_insert(boar);
            desk.remember(&key, &boar.boar);
        }
        desk
    }

    fn remember(&mut self, key: &str, boar: &Boar) {
        self.bare
            .entry(bare(key))
            .or_insert_with(|| boar.number.clone());
        for mark in marks(boar.ear.as_ref()) {
            self.ears
                .entry(same_key(mark))
                .or_insert_with(|| boar.number.clone());
        }
    }

    fn row(&mut self, reader: &Reader, line: u64, record: &StringRecord) -> Row {
        let (mut said, trouble) = reader.read(record);
        let fate = self
            .repeated(&said, line, print(reader, record))
            .or(trouble)
            .unwrap_or_else(|| self.fate(&mut said));
        Row {
            line,
            number: reader.number_shown(record),
            fate,
            flags: said.flags,
        }
    }

    /// The first row of a number owns it, whatever its own fate.
    fn repeated(&mut self, said: &Particulars, line: u64, print: u64) -> Option<Fate> {
        let key = same_key(said.number.as_ref()?.as_str());
        let (first, same) = *self.seen.entry(key).or_insert((line, print));
        (first != line).then_some(Fate::DuplicateInFile {
            line: first,
            differs: same != print,
        })
    }

    fn fate(&mut self, said: &mut Particulars) -> Fate {
        let (number, mark) = match (said.number.clone(), said.mark()) {
            (Some(number), Ok(mark)) => (number, mark),
            (_, Err(fate)) => return fate,
            (None, Ok(_)) => return refused(Some(Field::Number), "", Right::Given),
        };
        let key = same_key(number.as_str());
        let known = self.boars.get(&key).copied();
        let boar = said.over(number, mark, known.map(|k| &k.boar));
        self.look_alikes(&key, &boar, said);
        if let Some(known) = known {
            return self.compare(known, boar, said);
        }
        self.remember(&key, &boar);
        let pen = said.pen.as_ref().map(|name| self.pen(name));
        Fate::New {
            boar: Box::new(boar),
            pen,
            arrived: said.arrived,
        }
    }

    fn look_alikes(&self, key: &str, boar: &Boar, said: &mut Particulars) {
        let other = |number: &&Label| same_key(number.as_str()) != key;
        if let Some(number) = self
            .bare
            .get(&bare(key))
            .filter(other)
            .filter(|_| !self.boars.contains_key(key))
        {
            said.flags.push(Flag::ZerosApart {
                number: number.as_str().to_owned(),
            });
        }
        for mark in marks(boar.ear.as_ref()) {
            if let Some(number) = self.ears.get(&same_key(mark)).filter(other) {
                said.flags.push(Flag::EarOf {
                    number: number.as_str().to_owned(),
                });
            }
        }
    }

    fn compare(&mut self, known: &KnownBoar, to: Boar, said: &mut Particulars) -> Fate {
        if known.gone {
            said.flags.push(Flag::Gone);
        }
        let mut changes = differences(&known.boar, &to);
        let particulars = !changes.is_empty();
        let moves = said
            .pen
            .as_ref()
            .filter(|name| !known.gone && !self.is_in(known.pen, name))
            .cloned();
        let moves = moves.map(|name| {
            let old = known
                .pen
                .and_then(|id| self.pen_names.get(&id))
                .map(|name| text(name));
            changes.push(Differs {
                field: Field::Pen,
                old: old.unwrap_or(Value::Nothing),
                new: text(&name),
            });
            (known.pen, self.pen(&name))
        });
        if changes.is_empty() {
            return Fate::Same { boar: known.id };
        }
        Fate::Differs {
            boar: known.id,
            changes,
            to: particulars.then(|| Box::new(to)),
            moves,
        }
    }

    fn is_in(&self, pen: Option<PenId>, name: &Label) -> bool {
        let painted = pen.and_then(|id| self.pen_names.get(&id));
        painted.is_some_and(|painted| same_key(painted.as_str()) == same_key(name.as_str()))
    }

    fn pen(&mut self, name: &Label) -> usize {
        let key = same_key(name.as_str());
        if let Some(at) = self.pen_at.get(&key) {
            return *at;
        }
        let known = self.known_pens.get(&key);
        self.pens.push(PlannedPen {
            name: known.map_or(name, |(_, painted)| *painted).clone(),
            known: known.map(|(id, _)| *id),
        });
        self.pen_at.insert(key, self.pens.len() - 1);
        self.pens.len() - 1
    }
}

fn bare(key: &str) -> String {
    key.trim_start_matches('0').to_owned()
}

/// Tells rows apart that say different things. The hasher has fixed keys: the same file, the same plan.
fn print(reader: &Reader, record: &StringRecord) -> u64 {
    let mut hasher = DefaultHasher::new();
    for column in &reader.columns {
        record
            .get(column.index)
            .unwrap_or_default()
            .trim()
            .hash(&mut hasher);
    }
    hasher.finish()
}

fn text(label: &Label) -> Value {
    Value::Text(label.as_str().to_owned())
}

fn differences(old: &Boar, new: &Boar) -> Vec<Differs> {
    let words = |label: &Option<Label>| label.as_ref().map_or(Value::Nothing, text);
    let day = |day: Option<NaiveDate>| day.map_or(Value::Nothing, Value::Day);
    let before = |before| match before {
        Before::Unknown => Value::Nothing,
        Before::NoneYet => Value::NoneYet,
        Before::LastOn(day) => Value::Day(day),
    };
    let mind = |b: &Boar| {
        b.mind
            .as_ref()
            .map_or(Value::Nothing, |m| Value::Text(m.as_str().to_owned()))
    };
    [
        (Field::Name, words(&old.name), words(&new.name)),
        (Field::Born, day(old.born), day(new.born)),
        (Field::Line, words(&old.line), words(&new.line)),
        (Field::Ear, words(&old.ear), words(&new.ear)),
        (
            Field::LastCollection,
            before(old.before),
            before(new.before),
        ),
        (Field::Notes, mind(old), mind(new)),
    ]
    .into_iter()
    .filter(|(_, old, new)| old != new)
    .map(|(field, old, new)| Differs { field, old, new })
    .collect()
}
