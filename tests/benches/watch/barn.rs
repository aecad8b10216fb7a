//! An invented barn: who stands in it, when each boar is collected and what he gives.

use crate::dice::Dice;
use crate::trouble::{Plant, Trouble};
use crate::truth::{Shape, Spread, Truth};
use chrono::{Datelike, Days, NaiveDate};
use pentally_domain::collection::Glove;
use pentally_domain::id::{BoarId, EntryId, PersonId};
use pentally_domain::output::{Bearing, Measure};
use pentally_domain::said::Label;
use pentally_domain::time::{DAY_MS, HOUR_MS, MINUTE_MS};

/// How long boars rest.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rests {
    /// From 1 to 20 days.
    Any,
    /// As a barn in order has it: from 3 days on, now and then a long pause.
    InOrder,
}

/// What is to be invented.
#[derive(Debug, Clone, Copy)]
pub struct Plan {
    /// How many boars stand there at any time.
    pub boars: usize,
    /// For how many days.
    pub days: i64,
    pub shape: Shape,
    pub spread: Spread,
    pub rests: Rests,
    /// Whether summers have hot spells.
    pub hot: bool,
    /// Whether some things are not measured or not known.
    pub gaps: bool,
    /// Whether boars go and young ones come.
    pub turnover: bool,
    /// Total sperm's spread from one ejaculate to the next, as a coefficient of variation.
    pub cv: Option<f64>,
    /// A spell of hot days, 12 of them, that begins on this day.
    pub spell: Option<i64>,
}

impl Plan {
    /// A barn in order.
    pub const fn in_order(boars: usize, days: i64) -> Self {
        Self {
            boars,
            days,
            shape: Shape::Hinges,
            spread: Spread::Normal,
            rests: Rests::InOrder,
            hot: false,
            gaps: false,
            turnover: true,
            cv: None,
            spell: None,
        }
    }
}

/// See the module's words. Days count from [`day`]'s first.
pub struct Invented {
    pub boars: Vec<Boar>,
    pub truth: Truth,
    /// The farm's instrument: concentrations are read off it, or counted in a chamber.
    pub by_instrument: bool,
    pub people: [PersonId; 3],
    heat: Heat,
}

/// For each day whether it was hot, and how many were up to it.
#[derive(Clone)]
pub struct Heat {
    sums: Vec<f64>,
}

pub struct Boar {
    pub id: BoarId,
    pub line: Option<Label>,
    /// Born on that day, counted like the others.
    pub born: i64,
    /// Whether the day of birth is entered.
    pub born_told: bool,
    pub own: [f64; 4],
    pub cups: Vec<Cup>,
    pub plant: Option<Plant>,
}

/// One ejaculate.
#[derive(Debug, Clone)]
pub struct Cup {
    pub day: i64,
    pub at_ms: i64,
    pub entry: EntryId,
    pub bench: EntryId,
    pub bearing: Bearing,
    /// On the measures' scales.
    pub scaled: [Option<f64>; 4],
    pub person: PersonId,
    pub glove: Glove,
    pub dirt: bool,
    /// The filter tore.
    pub torn: bool,
    pub by_instrument: bool,
}

/// The date of a day.
pub fn day(day: i64) -> NaiveDate {
    let first = NaiveDate::from_ymd_opt(2020, 1, 1).unwrap();
    match u64::try_from(day) {
        Ok(days) => first + Days::new(days),
        Err(_) => first - Days::new(day.unsigned_abs()),
    }
}

/// A day's first instant; the farm's clock is UTC.
pub fn start_ms(at: i64) -> i64 {
    (18_262 + at) * DAY_MS
}

const GROWN_UP: i64 = 300;

impl Invented {
    /// A barn. `plants` says what happens to which boar.
    pub fn make(dice: &mut Dice, plan: Plan, plants: &dyn Fn(usize) -> Option<Plant>) -> Self {
        let lines = ["Hill", "Dale", "Moor"].map(|line| Label::parse(line).unwrap());
        let mut truth = Truth::draw(dice, plan.shape, plan.spread, &lines);
        if let Some(cv) = plan.cv {
            truth.residual[Measure::Total.place()] = (cv * cv).ln_1p().sqrt();
        }
        let mut barn = Self {
            heat: Heat::throw(dice, &plan),
            boars: vec![],
            by_instrument: dice.is(0.5),
            people: [(); 3].map(|()| PersonId::v7(1, dice.ten())),
            truth,
        };
        let habit = dice.is(0.5);
        for place in 0..plan.boars {
            let mut here = 0;
            // Grown boars are there at first; whoever leaves is followed by a young one.
            let mut age = dice.whole(220, 1_300);
            while here < plan.days {
                let stay = if plan.turnover {
                    dice.whole(300, 1_100)
                } else {
                    plan.days
                };
                let until = (here + stay).min(plan.days);
                let mut dice = dice.split();
                let line = lines[dice.whole(0, 2) as usize].clone();
                let told = !(plan.gaps && age > 600 && dice.is(0.2));
                let own = std::array::from_fn(|m| barn.truth.between[m] * dice.normal());
                let mut boar = Boar {
                    id: BoarId::v7(1, dice.ten()),
                    line: Some(line),
                    born: here - age,
                    born_told: told,
                    own,
                    cups: vec![],
                    plant: plants(place),
                };
                // Where the sperm-poor fraction is to be left out some day, it went in before.
                let habit = habit || boar.plant.is_some();
                barn.collect(&mut dice, &plan, &mut boar, habit, here, until);
                barn.boars.push(boar);
                here = until + 1;
                age = dice.whole(213, GROWN_UP);
            }
        }
        barn
    }

    /// How many hot days may still show on a day.
    pub fn hot_days(&self, at: i64) -> f64 {
        self.heat.counted(at)
    }

    /// The same, as the domain asks for it.
    pub fn hot(&self) -> impl Fn(NaiveDate) -> Option<f64> {
        let heat = self.heat.clone();
        move |date| Some(heat.counted((date - day(0)).num_days()))
    }

    fn collect(
        &self,
        dice: &mut Dice,
        plan: &Plan,
        boar: &mut Boar,
        habit: bool,
        from: i64,
        until: i64,
    ) {
        let usual = dice.whole(0, 1) as usize;
        let minute = dice.whole(0, 239);
        let mut at = from + dice.whole(0, 6);
        let mut rest = None;
        while at < until {
            let cup = self.cup(
                dice,
                plan,
                boar,
                Slot {
                    at,
                    minute,
                    rest,
                    habit,
                    usual,
                },
            );
            boar.cups.push(cup);
            let plant = boar.plant.filter(|p| at >= p.from);
            let next = plant
                .and_then(|p| p.rest(at))
                .unwrap_or_else(|| plan.rest(dice));
            rest = Some(next);
            at += next;
        }
    }

    fn cup(&self, dice: &mut Dice, plan: &Plan, boar: &Boar, slot: Slot) -> Cup {
        let plant = boar.plant.filter(|p| slot.at >= p.from);
        let poor_in = if dice.is(0.03) {
            !slot.habit
        } else {
            slot.habit
        };
        let fractions = plant.filter(|p| p.trouble == Trouble::Fractions);
        let poor_in = poor_in && fractions.is_none();
        let bearing = Bearing {
            day_of_year: day(slot.at).ordinal(),
            age_days: boar.born_told.then_some(slot.at - boar.born),
            line: boar.line.clone(),
            rest_days: slot.rest,
            sperm_poor_in: (!(plan.gaps && dice.is(0.05) && poor_in == slot.habit))
                .then_some(poor_in),
            hot_days: Some(self.hot_days(slot.at)),
        };
        let real = Bearing {
            sperm_poor_in: Some(poor_in),
            ..bearing.clone()
        };
        let strikes = plant.is_some_and(|p| p.strikes(dice, slot.at));
        let residuals = self.truth.residuals(dice);
        let scaled = std::array::from_fn(|place| {
            let measure = Measure::ALL[place];
            // The farm never says which fractions: that is where its mean stands.
            let on = if plan.shape == Shape::Hinges {
                &bearing
            } else {
                &real
            };
            let shift = plant
                .filter(|_| strikes)
                .map_or(0.0, |p| p.shift(slot.at, self.hot_days(slot.at))[place]);
            let missing = plan.gaps && dice.is(if place == 0 { 0.05 } else { 0.12 });
            let value = self.truth.mean(measure, on) + boar.own[place] + residuals[place] + shift;
            (!missing).then_some(value)
        });
        let at_ms = start_ms(slot.at) + 6 * HOUR_MS + slot.minute * MINUTE_MS;
        let mut cup = Cup {
            day: slot.at,
            at_ms,
            entry: EntryId::v7(at_ms, dice.ten()),
            bench: EntryId::v7(at_ms + HOUR_MS, dice.ten()),
            bearing,
            scaled,
            person: self.people[if dice.is(0.8) {
                slot.usual
            } else {
                1 - slot.usual
            }],
            glove: if dice.is(0.05) {
                Glove::Nitrile
            } else {
                Glove::Vinyl
            },
            dirt: dice.is(0.05),
            torn: dice.is(0.03),
            by_instrument: self.by_instrument,
        };
        if let Some(plant) = plant {
            plant.record(&mut cup, strikes, self);
        }
        cup
    }
}

/// What is settled before a cup is filled.
struct Slot {
    at: i64,
    minute: i64,
    rest: Option<i64>,
    habit: bool,
    usual: usize,
}

impl Plan {
    fn rest(&self, dice: &mut Dice) -> i64 {
        let thrown = dice.share();
        match self.rests {
            Rests::Any if thrown < 0.12 => dice.whole(1, 2),
            Rests::Any if thrown < 0.75 => dice.whole(3, 7),
            Rests::Any if thrown < 0.93 => dice.whole(8, 12),
            Rests::Any => dice.whole(13, 20),
            Rests::InOrder if thrown < 0.92 => dice.whole(3, 7),
            Rests::InOrder if thrown < 0.98 => dice.whole(8, 12),
            Rests::InOrder => dice.whole(13, 20),
        }
    }
}

impl Heat {
    fn throw(dice: &mut Dice, plan: &Plan) -> Self {
        let mut hot = vec![false; usize::try_from(plan.days).unwrap() + 1];
        let mut spell = |from: i64, days: i64| {
            for at in from..from + days {
                if let Some(day) = usize::try_from(at).ok().and_then(|at| hot.get_mut(at)) {
                    *day = true;
                }
            }
        };
        if plan.hot {
            for year in 0..=plan.days / 365 {
                for _ in 0..dice.whole(0, 3) {
                    spell(365 * year + dice.whole(150, 240), dice.whole(2, 14));
                }
            }
        }
        if let Some(from) = plan.spell {
            spell(from, 12);
        }
        let mut sums = vec![0.0];
        for hot in hot {
            sums.push(sums.last().unwrap() + f64::from(u8::from(hot)));
        }
        Self { sums }
    }

    fn counted(&self, at: i64) -> f64 {
        let upto = |day: i64| {
            let place = usize::try_from(day + 1).unwrap_or(0);
            self.sums[place.min(self.sums.len() - 1)]
        };
        upto(at - 14) - upto(at - 43)
    }
}
