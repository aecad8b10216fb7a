//! What was typed about a boar, read against what can be.

use chrono::{Months, NaiveDate};
use pentally_domain::boar::{Before, Boar};
use pentally_domain::said::{Label, Remark, TextError};

/// Boars are rarely kept longer (common practice, no source): an older one is asked about once.
const OLD_YEARS: u32 = 15;

/// The fields of the form, as they stand in it.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Typed {
    /// His number.
    pub number: String,
    /// A name besides.
    pub name: String,
    /// Day of birth, or nothing.
    pub born: Written,
    /// Breed or line.
    pub line: String,
    /// Ear tag or notch.
    pub ear: String,
    /// What matters to the handler.
    pub mind: String,
    /// What is known of his work.
    pub worked: Option<Worked>,
    /// The day he last worked.
    pub last: Written,
}

/// A day as it stands in the form.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Written {
    /// `2026-03-01`, or nothing.
    pub text: String,
    /// Something stands there that is no day.
    pub half: bool,
}

/// His work before his first entry here.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Worked {
    /// Nobody knows.
    Unknown,
    /// Not yet.
    NotYet,
    /// Last on a day.
    On,
}

/// A field of the form.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Field {
    /// See [`Typed::number`].
    Number,
    /// See [`Typed::name`].
    Name,
    /// See [`Typed::born`].
    Born,
    /// See [`Typed::line`].
    Line,
    /// See [`Typed::ear`].
    Ear,
    /// See [`Typed::mind`].
    Mind,
    /// See [`Typed::last`].
    Last,
}

/// What cannot be.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Wrong {
    /// Too short or too long.
    Text(TextError),
    /// No day, or only half of one.
    NotADay,
    /// After today.
    Future(NaiveDate),
    /// He worked before he was born.
    BeforeBirth(NaiveDate),
}

/// What is improbable: asked once, then kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Doubt {
    /// So many years old.
    Old(u32),
    /// Another boar bears this number.
    Twice,
}

impl Typed {
    /// A boar as he would stand in the form.
    pub fn of(boar: &Boar) -> Self {
        let label = |l: &Option<Label>| {
            l.as_ref()
                .map(|l| l.as_str().to_owned())
                .unwrap_or_default()
        };
        let day = |d: Option<NaiveDate>| Written {
            text: d.map(|d| d.to_string()).unwrap_or_default(),
            half: false,
        };
        let (worked, last) = match boar.before {
            Before::Unknown => (Worked::Unknown, None),
            Before::NoneYet => (Worked::NotYet, None),
            Before::LastOn(day) => (Worked::On, Some(day)),
        };
        Self {
            number: boar.number.as_str().to_owned(),
            name: label(&boar.name),
            born: day(boar.born),
            line: label(&boar.line),
            ear: label(&boar.ear),
            mind: boar
                .mind
                .as_ref()
                .map(|m| m.as_str().to_owned())
                .unwrap_or_default(),
            worked: Some(worked),
            last: day(last),
        }
    }

    /// The boar, or everything that is wrong.
    pub fn read(&self, today: NaiveDate) -> Result<Boar, Vec<(Field, Wrong)>> {
        let mut wrong = vec![];
        let born = past(&self.born, today).unwrap_or_else(|why| {
            wrong.push((Field::Born, why));
            None
        });
        let before = self.before(born, today).unwrap_or_else(|why| {
            wrong.push((Field::Last, why));
            Before::Unknown
        });
        let number = Label::parse(&self.number)
            .map_err(|why| wrong.push((Field::Number, Wrong::Text(why))))
            .ok();
        let mut label = |field, text: &str| {
            let read = (!text.trim().is_empty())
                .then(|| Label::parse(text))
                .transpose();
            read.map_err(|why| wrong.push((field, Wrong::Text(why))))
                .ok()
                .flatten()
        };
        let (name, line, ear) = (
            label(Field::Name, &self.name),
            label(Field::Line, &self.line),
            label(Field::Ear, &self.ear),
        );
        let mind = (!self.mind.trim().is_empty())
            .then(|| Remark::parse(&self.mind))
            .transpose();
        let mind = mind
            .map_err(|why| wrong.push((Field::Mind, Wrong::Text(why))))
            .ok()
            .flatten();
        match number {
            Some(number) if wrong.is_empty() => Ok(Boar {
                number,
                name,
                born,
                line,
                ear,
                before,
                mind,
            }),
            _ => Err(wrong),
        }
    }

    fn before(&self, born: Option<NaiveDate>, today: NaiveDate) -> Result<Before, Wrong> {
        match self.worked {
            None | Some(Worked::Unknown) => Ok(Before::Unknown),
            Some(Worked::NotYet) => Ok(Before::NoneYet),
            Some(Worked::On) => match (past(&self.last, today)?, born) {
                (None, _) => Err(Wrong::NotADay),
                (Some(day), Some(born)) if day < born => Err(Wrong::BeforeBirth(day)),
                (Some(day), _) => Ok(Before::LastOn(day)),
            },
        }
    }
}

/// What deserves a question, given the numbers of the other boars.
pub fn doubts(boar: &Boar, others: &[String], today: NaiveDate) -> Vec<(Field, Doubt)> {
    let years = boar.born.and_then(|born| today.years_since(born));
    let limit = today.checked_sub_months(Months::new(12 * OLD_YEARS));
    let old = years
        .filter(|_| boar.born < limit)
        .map(|years| (Field::Born, Doubt::Old(years)));
    let own = boar.number.as_str().to_lowercase();
    let twice = others
        .iter()
        .any(|o| o.to_lowercase() == own)
        .then_some((Field::Number, Doubt::Twice));
    twice.into_iter().chain(old).collect()
}

fn past(written: &Written, today: NaiveDate) -> Result<Option<NaiveDate>, Wrong> {
    let text = written.text.trim();
    match text.parse::<NaiveDate>() {
        _ if text.is_empty() && !written.half => Ok(None),
        Ok(day) if day > today => Err(Wrong::Future(day)),
        Ok(day) => Ok(Some(day)),
        Err(_) => Err(Wrong::NotADay),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    fn written(text: &str) -> Written {
        Written {
            text: text.to_owned(),
            half: false,
        }
    }

    fn typed(born: &str) -> Typed {
        Typed {
            number: " 12 ".into(),
            born: written(born),
            ..Typed::default()
        }
    }

    #[test]
    fn a_number_is_enough_and_reads_back_the_same() {
        let boar = typed("").read(day("2026-03-01")).unwrap();
        assert_eq!(
            (boar.number.as_str(), boar.born, boar.before),
            ("12", None, Before::Unknown)
        );
        assert_eq!(Typed::of(&boar).read(day("2026-03-01")), Ok(boar));
    }

    #[test]
    fn every_wrong_field_is_named_at_once() {
        let all = Typed {
            number: String::new(),
            name: "x".repeat(41),
            born: written("2026-03-02"),
            worked: Some(Worked::On),
            ..Typed::default()
        };
        let wrong = all.read(day("2026-03-01")).unwrap_err();
        let fields: Vec<_> = wrong.iter().map(|(field, _)| *field).collect();
        assert_eq!(
            fields,
            [Field::Born, Field::Last, Field::Number, Field::Name]
        );
        assert_eq!(wrong[0].1, Wrong::Future(day("2026-03-02")));
    }

    #[test]
    fn half_a_date_is_not_taken_for_none() {
        let half = Typed {
            born: Written {
                text: String::new(),
                half: true,
            },
            ..typed("")
        };
        assert_eq!(
            half.read(day("2026-03-01")),
            Err(vec![(Field::Born, Wrong::NotADay)])
        );
    }

    #[test]
    fn nobody_works_before_he_is_born() {
        let early = Typed {
            worked: Some(Worked::On),
            last: written("2024-01-01"),
            ..typed("2024-06-01")
        };
        assert_eq!(
            early.read(day("2026-03-01")),
            Err(vec![(Field::Last, Wrong::BeforeBirth(day("2024-01-01")))])
        );
    }

    #[test]
    fn fifteen_years_are_believed_and_a_day_more_is_asked() {
        let today = day("2026-03-01");
        let ask = |born: &str, others: &[String]| {
            doubts(&typed(born).read(today).unwrap(), others, today)
        };
        assert_eq!(ask("2011-03-01", &[]), []);
        assert_eq!(ask("2011-02-28", &[]), [(Field::Born, Doubt::Old(15))]);
        assert_eq!(ask("", &["12".to_owned()]), [(Field::Number, Doubt::Twice)]);
    }
}
