//! How warm it was: a logger from April to October, and a thermometer read by hand.

use crate::TaleError;
use crate::chance::{Chance, along, tenth};
use crate::devices::{Place, When};
use crate::story::Story;
use chrono::{Datelike, Days, NaiveDate, Weekday};
use pentally_domain::climate::{Climate, Reading};
use pentally_domain::fact::Fact;
use pentally_domain::said::Label;
use pentally_domain::time::{HOUR_MS, MINUTE_MS};
use pentally_domain::units::{Percent, TemperatureC};

/// Tells the weather's chance from everybody else's.
pub const CLIMATE_SEED: u64 = 0xc11a_7e00_0000_0000;
/// The one room that is read.
const ROOM: &str = "Nave 1";
/// Minutes between two readings of the logger.
const EVERY: u16 = 180;
/// By hand: at ten to two.
const BY_HAND: u16 = 830;

impl Story {
    /// The logger is read out the morning after. In winter somebody looks on Wednesdays, and in
    /// summer on hot days, when the logger's file comes too late to cool anything.
    pub(crate) fn read_the_climate(&mut self) -> Result<(), TaleError> {
        let (since, _) = self.place_in_story();
        let yesterday = self.day - Days::new(1);
        if since > 0 && has_logger(yesterday) {
            let day = Day::of(self, yesterday);
            let readings = (0..1_440).step_by(EVERY.into());
            let readings: Result<_, TaleError> = readings.map(|m| day.reading(m, true)).collect();
            let last_ms =
                self.devices.zone().day_start_ms(yesterday) + i64::from(1_440 - EVERY) * MINUTE_MS;
            self.say_climate(yesterday, readings?, Place::Office, last_ms)?;
        }
        let looks = self.day.weekday() == Weekday::Wed && !has_logger(self.day);
        if looks || self.weather.is_hot(self.day) {
            let day = Day::of(self, self.day);
            let reading = day.reading(BY_HAND, has_logger(self.day))?;
            let at_ms = self.at(BY_HAND.into());
            self.say_climate(self.day, vec![reading], Place::Phone(1), at_ms)?;
        }
        Ok(())
    }

    fn say_climate(
        &mut self,
        day: NaiveDate,
        readings: Vec<Reading>,
        place: Place,
        happened_ms: i64,
    ) -> Result<(), TaleError> {
        let fact = Fact::Climate(Climate {
            room: Label::parse(ROOM)?,
            day,
            readings,
        });
        let from_a_file = place == Place::Office;
        let when = When {
            ms: if from_a_file {
                self.day_ms + 6 * HOUR_MS
            } else {
                happened_ms
            },
            happened_ms: from_a_file.then_some(happened_ms),
            person: self.people.get(1).copied(),
        };
        self.devices
            .say(place, &fact, when, &mut self.climate_chance)
            .map(drop)
    }
}

/// Whether the logger hangs there.
fn has_logger(day: NaiveDate) -> bool {
    (4..=10).contains(&day.month())
}

/// A day's warmth: its ends, and how damp it is at its warmest.
struct Day {
    low: f64,
    high: f64,
    damp: f64,
}

impl Day {
    /// The same whoever asks: the handler and the logger read one air.
    fn of(story: &Story, day: NaiveDate) -> Self {
        let seed = u64::from(day.num_days_from_ce().unsigned_abs());
        let mut chance = Chance::new(story.seed() ^ CLIMATE_SEED ^ seed);
        let high = if story.weather.is_hot(day) {
            // Trials that harmed boars heated them to 33–38 °C.
            chance.between(33.0, 36.5)
        } else {
            usual(day) + chance.between(-1.3, 1.3)
        };
        Self {
            low: high - chance.between(7.0, 10.0),
            high,
            damp: chance.between(42.0, 55.0),
        }
    }

    fn reading(&self, minute: u16, damp: bool) -> Result<Reading, TaleError> {
        let share = along(f64::from(minute), &COURSE);
        let humidity = self.damp + (1.0 - share) * 25.0;
        Ok(Reading {
            minute,
            air: TemperatureC::new(tenth(self.low + share * (self.high - self.low)))?,
            humidity: damp.then(|| Percent::new(humidity.round())).transpose()?,
        })
    }
}

/// Coolest at six, warmest at three: the share of the way from one to the other, by the minute.
const COURSE: [(f64, f64); 8] = [
    (0.0, 0.25),
    (360.0, 0.0),
    (540.0, 0.35),
    (720.0, 0.8),
    (900.0, 1.0),
    (1_080.0, 0.85),
    (1_260.0, 0.5),
    (1_440.0, 0.25),
];

/// The warmest of a day that is not hot, in °C, in a room with fans and heating. Together with the
/// damp it stays below every band that asks for something.
fn usual(day: NaiveDate) -> f64 {
    along(
        f64::from(day.ordinal()),
        &[
            (0.0, 18.5),
            (90.0, 19.0),
            (200.0, 24.5),
            (245.0, 24.0),
            (305.0, 19.0),
            (365.0, 18.5),
        ],
    )
}
