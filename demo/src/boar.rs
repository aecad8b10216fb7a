//! An invented boar: what he is made of and what he gives.

use crate::chance::{Chance, along, tenth};
use crate::year::{Weather, after_harm};
use chrono::{Days, NaiveDate};
use pentally_domain::id::{BoarId, PenId};

/// What a boar was bred for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Line {
    /// Gives more (common practice, no source).
    Maternal,
    /// Gives less, grows more.
    Terminal,
}

/// One boar.
#[derive(Debug, Clone)]
pub struct Boar {
    /// His identity.
    pub id: BoarId,
    /// His number.
    pub number: u32,
    /// Where he lives.
    pub pen: PenId,
    /// When he was born.
    pub born: NaiveDate,
    /// When he leaves.
    pub leaves: NaiveDate,
    /// When he gave semen or served last.
    pub last: Option<NaiveDate>,
    /// When people mean to collect him next.
    pub next: NaiveDate,
    /// How many successes he had here, if he came untried.
    pub learnt: Option<u32>,
    /// The last day he is off collection.
    pub off: Option<NaiveDate>,
    /// When he had fever.
    pub fever: Option<NaiveDate>,
    line: Line,
    volume: f64,
    density: f64,
    motile: f64,
    abnormal: f64,
    tender: f64,
}

/// What is in the cup in truth, before anybody measures.
#[derive(Debug, Clone, Copy)]
pub struct Ejaculate {
    /// Gel-free, in mL.
    pub volume_ml: f64,
    /// In M/mL.
    pub concentration: f64,
    /// In %.
    pub motile: f64,
    /// In %.
    pub abnormal: f64,
    /// In %.
    pub droplets: f64,
    /// Blood in it.
    pub blood: bool,
    /// Urine in it.
    pub urine: bool,
}

/// The days between birth and the day he leaves, and between birth and the day he arrives.
const LEAVES_AFTER: (i64, i64) = (850, 1_350);

impl Boar {
    /// A boar of that age on that day, untried.
    pub fn new(
        id: BoarId,
        number: u32,
        pen: PenId,
        today: NaiveDate,
        age_days: u64,
        chance: &mut Chance,
    ) -> Self {
        let born = today - Days::new(age_days);
        let left = chance.whole(LEAVES_AFTER.0, LEAVES_AFTER.1).cast_unsigned();
        let line = if chance.comes(0.45) {
            Line::Maternal
        } else {
            Line::Terminal
        };
        let first = born + Days::new(chance.whole(242, 262).cast_unsigned());
        Self {
            id,
            number,
            pen,
            born,
            leaves: born + Days::new(left.max(age_days + 40)),
            last: None,
            next: first.max(today + Days::new(chance.whole(0, 6).cast_unsigned())),
            learnt: None,
            off: None,
            fever: None,
            line,
            volume: 1.0 + 0.14 * chance.normal(),
            density: 1.0 + 0.12 * chance.normal(),
            motile: (86.0 + 3.5 * chance.normal()).min(93.0),
            abnormal: (10.0 + 3.0 * chance.normal()).max(4.0),
            tender: chance.between(0.6, 1.3),
        }
    }

    /// What his line is called.
    pub const fn line_name(&self) -> &'static str {
        match self.line {
            Line::Maternal => "Maternal",
            Line::Terminal => "Terminal",
        }
    }

    /// His age in days.
    pub fn age_days(&self, day: NaiveDate) -> i64 {
        (day - self.born).num_days()
    }

    /// Whether he can be collected at all on that day.
    pub fn is_free(&self, day: NaiveDate) -> bool {
        day >= self.next && self.off.is_none_or(|off| day > off) && day < self.leaves
    }

    /// What he gives.
    pub fn gives(&self, day: NaiveDate, weather: &Weather, chance: &mut Chance) -> Ejaculate {
        let age = self.age_days(day) as f64;
        let rest = self.last.map_or(9.0, |last| (day - last).num_days() as f64);
        // Volume is back after 3 days, number at 5–7, full at 10–11 (Smital 2009).
        let refilled = along(rest, &[(0.0, 0.6), (1.0, 0.75), (3.0, 1.0), (11.0, 1.05)]);
        let renewed = along(
            rest,
            &[
                (0.0, 0.35),
                (1.0, 0.5),
                (3.0, 0.8),
                (6.0, 0.97),
                (11.0, 1.08),
            ],
        );
        let grown = along(
            age,
            &[
                (230.0, 0.66),
                (420.0, 0.86),
                (730.0, 1.0),
                (1_300.0, 1.0),
                (1_800.0, 0.94),
            ],
        );
        let harm = self.harm(day, weather);
        let (usual_ml, usual_density) = match self.line {
            Line::Maternal => (250.0, 250.0),
            Line::Terminal => (205.0, 235.0),
        };
        let volume_ml = usual_ml * self.volume * grown * refilled * (1.0 + 0.16 * chance.normal());
        let number = renewed / refilled * Weather::season(day) * (1.0 - 0.25 * harm);
        let concentration = usual_density * self.density * number * (1.0 + 0.18 * chance.normal());
        let stale = along(rest, &[(9.0, 0.0), (16.0, 9.0), (40.0, 22.0)]);
        Ejaculate {
            volume_ml: tenth(volume_ml.clamp(35.0, 620.0)),
            concentration: tenth(concentration.clamp(30.0, 900.0)),
            motile: (self.motile - 30.0 * harm - stale + 3.0 * chance.normal()).clamp(3.0, 97.0),
            abnormal: (self.abnormal + 17.0 * harm + stale / 2.0 + 2.5 * chance.normal())
                .clamp(2.0, 90.0),
            droplets: (self.abnormal * 0.4
                + 7.0 * harm
                + along(rest, &[(1.0, 5.0), (4.0, 0.0)])
                + 1.2 * chance.normal())
            .clamp(0.5, 60.0),
            blood: chance.comes(0.0012),
            urine: chance.comes(0.004),
        }
    }

    fn harm(&self, day: NaiveDate, weather: &Weather) -> f64 {
        let ill = self.fever.map_or(0.0, |since| {
            after_harm((day - since).num_days() as f64 + 4.0)
        });
        (weather.harm(day) * self.tender).max(0.85 * ill).min(1.0)
    }
}
