//! The figures of the farm standard: their bounds, and where each is kept.

use crate::words::{Key, key};
use pentally_domain::assured::FILLING_ERROR;
use pentally_domain::check::CheckDays;
use pentally_domain::farm::Standard;
use pentally_domain::units::{ErrorPercent, Percent};

/// Semen of this motility or less is not used, in % (common practice, no source).
pub const FLOOR: f64 = 60.0;

/// One figure of the standard.
pub struct Number {
    /// What it is.
    pub name: Key,
    /// What the sources say.
    pub why: Key,
    /// Its unit.
    pub unit: Key,
    /// The least that is taken.
    pub low: f64,
    /// The most that is taken.
    pub high: f64,
    /// Reads it.
    pub get: fn(&Standard) -> f64,
    put: Put,
}

enum Put {
    Whole(fn(&mut Standard, u8)),
    Wide(fn(&mut Standard, u16)),
    Share(fn(&mut Standard, Percent)),
    Error(fn(&mut Standard, ErrorPercent)),
}

/// Why a figure is not taken.
#[derive(Debug, Clone, PartialEq)]
pub enum Wrong {
    /// No figure was read.
    NoFigure(String),
    /// Outside its bounds.
    Outside(f64),
    /// Days are whole.
    NotWhole(f64),
    /// At or below the floor of motility.
    Floor(f64),
}

impl Number {
    /// Puts a figure where it belongs, or says why not.
    pub fn set(&self, standard: &mut Standard, value: f64) -> Result<(), Wrong> {
        let floored = matches!(self.put, Put::Share(_)) && self.low >= FLOOR;
        if floored && value <= FLOOR {
            return Err(Wrong::Floor(value));
        }
        if !(self.low..=self.high).contains(&value) {
            return Err(Wrong::Outside(value));
        }
        match self.put {
            Put::Share(put) => put(
                standard,
                Percent::new(value).map_err(|_| Wrong::Outside(value))?,
            ),
            Put::Error(put) => put(
                standard,
                ErrorPercent::new(value).map_err(|_| Wrong::Outside(value))?,
            ),
            Put::Whole(put) => put(standard, whole(value)?),
            Put::Wide(put) => put(standard, whole(value)?),
        }
        Ok(())
    }
}

fn whole<T: TryFrom<u16>>(value: f64) -> Result<T, Wrong> {
    let text = value.to_string();
    let read: Option<u16> = text.parse().ok();
    read.and_then(|n| T::try_from(n).ok())
        .ok_or(Wrong::NotWhole(value))
}

/// After how many days something is looked at again; 0 where the farm has no such thing.
const fn looked_at(name: Key, get: fn(&Standard) -> f64, put: Put) -> Number {
    Number {
        name,
        why: key::STANDARD_CHECK_WHY,
        unit: key::UNIT_DAYS,
        low: 0.0,
        high: CheckDays::HIGH,
        get,
        put,
    }
}

/// All of them, in the order of the form.
pub static NUMBERS: [Number; 28] = [
    Number {
        name: key::STANDARD_REST,
        why: key::STANDARD_REST_WHY,
        unit: key::UNIT_DAYS,
        low: 0.0,
        high: 21.0,
        get: |s| s.rest_days.into(),
        put: Put::Whole(|s, n| s.rest_days = n),
    },
    Number {
        name: key::STANDARD_IN_SEVEN,
        why: key::STANDARD_IN_SEVEN_WHY,
        unit: key::STANDARD_TIMES,
        low: 1.0,
        high: 7.0,
        get: |s| s.in_seven_days.into(),
        put: Put::Whole(|s, n| s.in_seven_days = n),
    },
    Number {
        name: key::STANDARD_IDLE,
        why: key::STANDARD_IDLE_WHY,
        unit: key::UNIT_DAYS,
        low: 1.0,
        high: 60.0,
        get: |s| s.idle_check_days.into(),
        put: Put::Whole(|s, n| s.idle_check_days = n),
    },
    Number {
        name: key::STANDARD_CLEAN_OUT,
        why: key::STANDARD_CLEAN_OUT_WHY,
        unit: key::UNIT_DAYS,
        low: 1.0,
        high: 120.0,
        get: |s| s.idle_clean_out_days.into(),
        put: Put::Whole(|s, n| s.idle_clean_out_days = n),
    },
    Number {
        name: key::STANDARD_YOUNG,
        why: key::STANDARD_YOUNG_WHY,
        unit: key::UNIT_DAYS,
        low: 150.0,
        high: 450.0,
        get: |s| s.young_days.into(),
        put: Put::Wide(|s, n| s.young_days = n),
    },
    Number {
        name: key::STANDARD_REPETITION,
        why: key::STANDARD_REPETITION_WHY,
        unit: key::UNIT_DAYS,
        low: 0.0,
        high: 7.0,
        get: |s| s.repetition_days.into(),
        put: Put::Whole(|s, n| s.repetition_days = n),
    },
    Number {
        name: key::STANDARD_SESSION,
        why: key::STANDARD_SESSION_WHY,
        unit: key::UNIT_MIN,
        low: 5.0,
        high: 60.0,
        get: |s| s.session_minutes.into(),
        put: Put::Whole(|s, n| s.session_minutes = n),
    },
    Number {
        name: key::STANDARD_SESSION_IDLE,
        why: key::STANDARD_SESSION_IDLE_WHY,
        unit: key::UNIT_MIN,
        low: 3.0,
        high: 60.0,
        get: |s| s.session_minutes_without_interest.into(),
        put: Put::Whole(|s, n| s.session_minutes_without_interest = n),
    },
    Number {
        name: key::STANDARD_ISOLATION,
        why: key::STANDARD_ISOLATION_WHY,
        unit: key::UNIT_DAYS,
        low: 30.0,
        high: 120.0,
        get: |s| s.isolation_days.into(),
        put: Put::Whole(|s, n| s.isolation_days = n),
    },
    Number {
        name: key::STANDARD_MOTILITY,
        why: key::STANDARD_MOTILITY_WHY,
        unit: key::UNIT_PERCENT,
        low: FLOOR,
        high: 100.0,
        get: |s| s.motility_at_least.value(),
        put: Put::Share(|s, share| s.motility_at_least = share),
    },
    Number {
        name: key::STANDARD_ABNORMAL,
        why: key::STANDARD_ABNORMAL_WHY,
        unit: key::UNIT_PERCENT,
        low: 0.0,
        high: 100.0,
        get: |s| s.abnormal_at_most.value(),
        put: Put::Share(|s, share| s.abnormal_at_most = share),
    },
    Number {
        name: key::STANDARD_DROPLETS,
        why: key::STANDARD_DROPLETS_WHY,
        unit: key::UNIT_PERCENT,
        low: 0.0,
        high: 100.0,
        get: |s| s.droplets_at_most.value(),
        put: Put::Share(|s, share| s.droplets_at_most = share),
    },
    Number {
        name: key::STANDARD_GESTATION,
        why: key::STANDARD_GESTATION_WHY,
        unit: key::UNIT_DAYS,
        low: 110.0,
        high: 120.0,
        get: |s| s.gestation_days.into(),
        put: Put::Whole(|s, n| s.gestation_days = n),
    },
    Number {
        name: key::STANDARD_KEEPS,
        why: key::STANDARD_KEEPS_WHY,
        unit: key::UNIT_DAYS,
        low: 1.0,
        high: 10.0,
        get: |s| s.keeps_days.into(),
        put: Put::Whole(|s, n| s.keeps_days = n),
    },
    Number {
        name: key::STANDARD_REGULAR,
        why: key::STANDARD_REGULAR_WHY,
        unit: key::UNIT_DAYS,
        low: 1.0,
        high: 30.0,
        get: |s| s.regular_days.into(),
        put: Put::Whole(|s, n| s.regular_days = n),
    },
    Number {
        name: key::STANDARD_REGULAR_YOUNG,
        why: key::STANDARD_REGULAR_YOUNG_WHY,
        unit: key::UNIT_DAYS,
        low: 1.0,
        high: 30.0,
        get: |s| s.regular_days_young.into(),
        put: Put::Whole(|s, n| s.regular_days_young = n),
    },
    Number {
        name: key::STANDARD_HOT_THI,
        why: key::STANDARD_HOT_THI_WHY,
        unit: key::STANDARD_POINTS,
        low: 60.0,
        high: 90.0,
        get: |s| s.hot_thi.into(),
        put: Put::Whole(|s, n| s.hot_thi = n),
    },
    Number {
        name: key::STANDARD_HOT_CELSIUS,
        why: key::STANDARD_HOT_CELSIUS_WHY,
        unit: key::UNIT_CELSIUS,
        low: 15.0,
        high: 40.0,
        get: |s| s.hot_celsius.into(),
        put: Put::Whole(|s, n| s.hot_celsius = n),
    },
    Number {
        name: key::STANDARD_HOT_HOURS,
        why: key::STANDARD_HOT_HOURS_WHY,
        unit: key::UNIT_HOURS,
        low: 1.0,
        high: 24.0,
        get: |s| s.hot_hours.into(),
        put: Put::Whole(|s, n| s.hot_hours = n),
    },
    looked_at(
        key::STANDARD_CHECK_AREA,
        |s| s.checks.area.into(),
        Put::Whole(|s, n| s.checks.area = n),
    ),
    looked_at(
        key::STANDARD_CHECK_DUMMY,
        |s| s.checks.dummy.into(),
        Put::Whole(|s, n| s.checks.dummy = n),
    ),
    looked_at(
        key::STANDARD_CHECK_CUP,
        |s| s.checks.cup.into(),
        Put::Whole(|s, n| s.checks.cup = n),
    ),
    looked_at(
        key::STANDARD_CHECK_STAGE,
        |s| s.checks.stage.into(),
        Put::Whole(|s, n| s.checks.stage = n),
    ),
    looked_at(
        key::STANDARD_CHECK_THERMOMETER,
        |s| s.checks.thermometer.into(),
        Put::Whole(|s, n| s.checks.thermometer = n),
    ),
    looked_at(
        key::STANDARD_CHECK_SCALE,
        |s| s.checks.scale.into(),
        Put::Whole(|s, n| s.checks.scale = n),
    ),
    looked_at(
        key::STANDARD_CHECK_WATER,
        |s| s.checks.water.into(),
        Put::Whole(|s, n| s.checks.water = n),
    ),
    Number {
        name: key::STANDARD_FILLING,
        why: key::STANDARD_FILLING_WHY,
        unit: key::UNIT_PERCENT,
        low: ErrorPercent::LOW,
        high: ErrorPercent::HIGH,
        get: |s| {
            s.filling_error_percent
                .map_or(FILLING_ERROR, ErrorPercent::value)
        },
        put: Put::Error(|s, error| {
            s.filling_error_percent = Some(error).filter(|e| e.value() != FILLING_ERROR);
        }),
    },
    Number {
        name: key::STANDARD_SUPERVISED,
        why: key::STANDARD_SUPERVISED_WHY,
        unit: key::STANDARD_TIMES,
        low: 0.0,
        high: 100.0,
        get: |s| s.supervised_times.into(),
        put: Put::Whole(|s, n| s.supervised_times = n),
    },
];

#[cfg(test)]
mod tests {
    use super::*;
    use pentally_domain::fact::Fact;

    fn motility() -> &'static Number {
        let numbers = NUMBERS.iter();
        let mut shares = numbers.filter(|n| matches!(n.put, Put::Share(_)));
        shares.find(|n| n.low >= FLOOR).unwrap()
    }

    #[test]
    fn the_program_s_own_standard_lies_within_all_bounds_and_stays_as_it_is() {
        let mut standard = Standard::default();
        for number in &NUMBERS {
            let value = (number.get)(&standard);
            assert_eq!(number.set(&mut standard, value), Ok(()));
        }
        assert_eq!(standard, Standard::default());
    }

    #[test]
    fn motility_of_sixty_is_refused_as_the_log_refuses_it() {
        let mut standard = Standard::default();
        assert_eq!(motility().set(&mut standard, 60.0), Err(Wrong::Floor(60.0)));
        assert_eq!(motility().set(&mut standard, 60.5), Ok(()));
        assert_eq!(Fact::Standard(standard.clone()).check(), Ok(()));
        standard.motility_at_least = Percent::of(60);
        assert!(Fact::Standard(standard).check().is_err());
    }

    #[test]
    fn each_figure_goes_where_it_is_read_from() {
        for number in &NUMBERS {
            let mut standard = Standard::default();
            assert_eq!(number.set(&mut standard, number.high), Ok(()));
            assert_eq!(
                (number.get)(&standard).total_cmp(&number.high),
                std::cmp::Ordering::Equal
            );
        }
    }

    #[test]
    fn days_are_whole_and_within_bounds() {
        let mut standard = Standard::default();
        assert_eq!(
            NUMBERS[0].set(&mut standard, 3.5),
            Err(Wrong::NotWhole(3.5))
        );
        assert_eq!(
            NUMBERS[0].set(&mut standard, 22.0),
            Err(Wrong::Outside(22.0))
        );
        assert_eq!(
            NUMBERS[0].set(&mut standard, -1.0),
            Err(Wrong::Outside(-1.0))
        );
    }
}
