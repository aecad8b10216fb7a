//! Days that follow from a day: returns, checks, farrowing, heat after weaning, age.

use crate::explain::{Explained, Origin, Printed, Term};
use crate::units::GestationDays;
use chrono::{Datelike, Days, NaiveDate};
use serde::{Deserialize, Serialize};

/// Days after service on which a sow that did not hold comes back in heat.
pub const RETURN_DAYS: (u8, u8) = (18, 24);
/// Day after service from which pregnancy is checked, and the day by which it shows better.
pub const CHECK_DAYS: (u8, u8) = (24, 28);
/// Length of pregnancy; some calendars print 115.
pub const GESTATION_DAYS: u8 = 114;
/// Day after weaning from which to look for heat.
pub const LOOK_DAYS: u8 = 3;
/// Days from weaning to heat (common practice, no source).
pub const HEAT_DAYS: (u8, u8) = (4, 6);
/// Years in which a day is taken: beyond them it is a typing error.
pub const YEARS: (i32, i32) = (1990, 2099);

/// Why days cannot be reckoned.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, thiserror::Error)]
#[serde(rename_all = "snake_case")]
pub enum DayError {
    /// The year is a typing error.
    #[error("{field} is {read}; its year must be from {} to {}", YEARS.0, YEARS.1)]
    Year {
        /// Which day.
        field: &'static str,
        /// What was read.
        read: NaiveDate,
    },
    /// The second day comes before the first.
    #[error("on_day is {read}; it must not be before born_on, which is {born_on}")]
    Unborn {
        /// The day of the question.
        read: NaiveDate,
        /// The birth date.
        born_on: NaiveDate,
    },
}

/// What follows from a service.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Expected {
    /// First day to look for a return.
    pub return_from: NaiveDate,
    /// Last day to look for a return.
    pub return_to: NaiveDate,
    /// First day of a pregnancy check.
    pub check_from: NaiveDate,
    /// The better day for it.
    pub check_better: NaiveDate,
    /// She farrows.
    pub farrows_on: NaiveDate,
    /// How each came about.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub figures: Vec<Explained>,
}

/// What follows from weaning.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct HeatExpected {
    /// First day to look.
    pub look_from: NaiveDate,
    /// First usual day of heat.
    pub heat_from: NaiveDate,
    /// Last usual day of heat.
    pub heat_to: NaiveDate,
    /// How each came about.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub figures: Vec<Explained>,
}

/// An age.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Age {
    /// Days lived.
    pub days: u32,
    /// Whole months lived.
    pub months: u32,
    /// How both came about.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub figures: Vec<Explained>,
}

/// Which sow is to be served.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Served {
    /// A weaned sow in heat in good time.
    Sow,
    /// A gilt, a return, or a sow late in heat.
    GiltReturnOrLate,
}

/// Hours after she first stood at which to serve (common practice, no source).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct ServiceHours {
    /// The first service.
    pub first_h: u8,
    /// Another, not before.
    pub again_from_h: u8,
    /// Another, not after.
    pub again_to_h: u8,
}

impl Served {
    /// First service 12 h after first standing, or at it; again 12–24 h after the first.
    pub const fn hours(self) -> ServiceHours {
        let first_h = match self {
            Self::Sow => 12,
            Self::GiltReturnOrLate => 0,
        };
        ServiceHours {
            first_h,
            again_from_h: first_h + 12,
            again_to_h: first_h + 24,
        }
    }
}

/// What follows from a service on `served_on`; `from` is the record of the service.
pub fn expected(
    served_on: NaiveDate,
    gestation: GestationDays,
    from: &Origin,
) -> Result<Expected, DayError> {
    let served_on = in_years("served_on", served_on)?;
    let after = |figure, formula, name, days: u8, origin: Origin| {
        let explained = Explained::new(figure, "", formula, Printed::CommonPractice)
            .with(Term::ServedOn, served_on, "", from.clone())
            .with(name, f64::from(days), "d", origin);
        let day = later(served_on, days);
        (day, explained.is(day))
    };
    let fixed = |figure, formula, name, days| after(figure, formula, name, days, Origin::Default);
    let length = gestation.value();
    let length_from = if length == GESTATION_DAYS {
        Origin::Default
    } else {
        Origin::Asked
    };
    let rows = [
        fixed(
            Term::ReturnFrom,
            "served_on + return_from_days",
            Term::ReturnFromDays,
            RETURN_DAYS.0,
        ),
        fixed(
            Term::ReturnTo,
            "served_on + return_to_days",
            Term::ReturnToDays,
            RETURN_DAYS.1,
        ),
        fixed(
            Term::CheckFrom,
            "served_on + check_from_days",
            Term::CheckFromDays,
            CHECK_DAYS.0,
        ),
        fixed(
            Term::CheckBetter,
            "served_on + check_better_days",
            Term::CheckBetterDays,
            CHECK_DAYS.1,
        ),
        after(
            Term::FarrowsOn,
            "served_on + gestation_days",
            Term::GestationDays,
            length,
            length_from,
        ),
    ];
    let [return_from, return_to, check_from, check_better, farrows_on] =
        rows.each_ref().map(|row| row.0);
    let figures = rows.map(|row| row.1).into();
    Ok(Expected {
        return_from,
        return_to,
        check_from,
        check_better,
        farrows_on,
        figures,
    })
}

/// What follows from weaning on `weaned_on`.
pub fn heat_expected(weaned_on: NaiveDate, from: &Origin) -> Result<HeatExpected, DayError> {
    let weaned_on = in_years("weaned_on", weaned_on)?;
    let after = |figure, formula, name, days: u8| {
        let explained = Explained::new(figure, "", formula, Printed::CommonPractice)
            .with(Term::WeanedOn, weaned_on, "", from.clone())
            .with(name, f64::from(days), "d", Origin::Default);
        let day = later(weaned_on, days);
        (day, explained.is(day))
    };
    let (look_from, a) = after(
        Term::LookFrom,
        "weaned_on + look_from_days",
        Term::LookFromDays,
        LOOK_DAYS,
    );
    let (heat_from, b) = after(
        Term::HeatFrom,
        "weaned_on + heat_from_days",
        Term::HeatFromDays,
        HEAT_DAYS.0,
    );
    let (heat_to, c) = after(
        Term::HeatTo,
        "weaned_on + heat_to_days",
        Term::HeatToDays,
        HEAT_DAYS.1,
    );
    Ok(HeatExpected {
        look_from,
        heat_from,
        heat_to,
        figures: vec![a, b, c],
    })
}

/// The age on a day: days lived, and whole months. A month is over on the same day of the next
/// month, or on its last day where it has no such day: born on 31 January, one month old on
/// 28 (in a leap year 29) February.
pub fn age(born_on: NaiveDate, on_day: NaiveDate, from: &Origin) -> Result<Age, DayError> {
    let (born_on, on_day) = (in_years("born_on", born_on)?, in_years("on_day", on_day)?);
    let lived = u32::try_from((on_day - born_on).num_days());
    let days = lived.map_err(|_| DayError::Unborn {
        read: on_day,
        born_on,
    })?;
    let months = months_between(born_on, on_day);
    let explain = |figure, unit, formula, result: u32| {
        Explained::new(figure, unit, formula, Printed::Definition)
            .with(Term::BornOn, born_on, "", from.clone())
            .with(Term::OnDay, on_day, "", Origin::Asked)
            .is(f64::from(result))
    };
    let figures = vec![
        explain(Term::AgeDays, "d", "on_day - born_on", days),
        explain(Term::AgeMonths, "mo", "months(born_on, on_day)", months),
    ];
    Ok(Age {
        days,
        months,
        figures,
    })
}

fn months_between(born_on: NaiveDate, on_day: NaiveDate) -> u32 {
    let index = |day: NaiveDate| day.year() * 12 + day.month().cast_signed();
    let last_of_month = later(on_day, 1).day() == 1;
    let over = on_day.day() >= born_on.day() || last_of_month;
    u32::try_from(index(on_day) - index(born_on) - i32::from(!over)).unwrap_or(0)
}

fn in_years(field: &'static str, day: NaiveDate) -> Result<NaiveDate, DayError> {
    if (YEARS.0..=YEARS.1).contains(&day.year()) {
        Ok(day)
    } else {
        Err(DayError::Year { field, read: day })
    }
}

/// Days later; the calendar ends long after the years taken.
fn later(day: NaiveDate, days: u8) -> NaiveDate {
    day.checked_add_days(Days::new(days.into())).unwrap_or(day)
}
