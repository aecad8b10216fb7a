//! What is really behind what an invented barn's boars give: known here, and to be found by the model.

use crate::dice::Dice;
use pentally_domain::mixed::{Normal, Variance};
use pentally_domain::output::{Bearing, Columns, Measure};
use pentally_domain::said::Label;
use std::f64::consts::TAU;

/// How age, rest, season and heat really work.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shape {
    /// As the model's own columns have it.
    Hinges,
    /// In curves that no sum of the columns is.
    Smooth,
}

/// How an ejaculate lies about what the boar gives on average.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Spread {
    /// Normally, on the measure's scale: what the model supposes.
    Normal,
    /// By Student's distribution with 4 degrees of freedom, of the same variance: now and then far off.
    Heavy,
}

/// See the module's words. Everything is on the measures' scales, in the order of [`Measure::ALL`].
pub struct Truth {
    shape: Shape,
    spread: Spread,
    columns: Columns,
    beta: [Vec<f64>; 4],
    curves: [Curve; 4],
    /// Between boars, as a standard deviation.
    pub between: [f64; 4],
    /// From one ejaculate to the next, as a standard deviation.
    pub residual: [f64; 4],
}

/// The sizes of one measure's curves.
struct Curve {
    level: f64,
    youth: f64,
    old: f64,
    tired: f64,
    rested: f64,
    pause: f64,
    season: [f64; 4],
    heat: f64,
    rich_alone: f64,
    lines: Vec<f64>,
}

/// The usual sizes of [`Curve`]: youth, old, tired, rested, pause, season, heat, rich alone.
const USUAL: [[f64; 8]; 4] = [
    [0.45, 0.04, 0.22, 0.10, 0.05, 0.06, 0.06, 0.50],
    [0.55, 0.10, 0.30, 0.22, 0.05, 0.07, 0.22, 0.10],
    [0.12, 0.10, 0.15, 0.02, -0.25, 0.08, 0.40, 0.0],
    [-0.22, -0.10, -0.15, -0.02, 0.20, -0.08, -0.40, 0.0],
];

/// How the residuals of volume and total sperm, and of motile and abnormal, go together.
const TOGETHER: [f64; 2] = [0.5, -0.4];

impl Truth {
    /// One barn's truth: drawn about what is known before any entry.
    pub fn draw(dice: &mut Dice, shape: Shape, spread: Spread, lines: &[Label]) -> Self {
        let columns = Columns {
            lines: lines.to_vec(),
        };
        let priors = Measure::ALL.map(|measure| columns.prior(measure));
        let sd = |dice: &mut Dice, known: Option<Variance>| {
            known.unwrap().guess.sqrt() * dice.between(0.75, 1.3)
        };
        Self {
            beta: priors.each_ref().map(|prior| {
                let effect = |known: &Option<Normal>| {
                    let known = known.unwrap();
                    known.mean + known.sd * dice.normal()
                };
                prior.columns.iter().map(effect).collect()
            }),
            between: priors.each_ref().map(|prior| sd(dice, prior.between)),
            residual: priors.each_ref().map(|prior| sd(dice, prior.residual)),
            curves: std::array::from_fn(|place| {
                Curve::draw(dice, priors[place].columns[0].unwrap(), USUAL[place], lines)
            }),
            shape,
            spread,
            columns,
        }
    }

    /// What a boar gives on average when this bears on it, without what is his own.
    pub fn mean(&self, measure: Measure, on: &Bearing) -> f64 {
        let place = measure.place();
        match self.shape {
            Shape::Hinges => (self.columns.row(on).iter().zip(&self.beta[place]))
                .map(|(x, beta)| x * beta)
                .sum(),
            Shape::Smooth => self.curves[place].at(on, &self.columns.lines),
        }
    }

    /// The residuals of one ejaculate.
    pub fn residuals(&self, dice: &mut Dice) -> [f64; 4] {
        let mut thrown: [f64; 4] = std::array::from_fn(|_| self.one(dice));
        for (pair, r) in TOGETHER.into_iter().enumerate() {
            let (first, second) = (thrown[2 * pair], thrown[2 * pair + 1]);
            thrown[2 * pair + 1] = r * first + (1.0 - r * r).sqrt() * second;
        }
        std::array::from_fn(|place| self.residual[place] * thrown[place])
    }

    fn one(&self, dice: &mut Dice) -> f64 {
        match self.spread {
            Spread::Normal => dice.normal(),
            Spread::Heavy => {
                let z = dice.normal();
                let squares: f64 = (0..4).map(|_| dice.normal().powi(2)).sum();
                // Student's variance with 4 degrees of freedom is 2.
                z / (squares / 4.0).sqrt() / 2.0_f64.sqrt()
            }
        }
    }
}

impl Curve {
    fn draw(dice: &mut Dice, level: Normal, usual: [f64; 8], lines: &[Label]) -> Self {
        let mut about = |size: f64| size * dice.between(0.6, 1.4);
        let [youth, old, tired, rested, pause, season, heat, rich_alone] = usual.map(&mut about);
        let [turn, turn2] = [TAU * dice.share(), TAU * dice.share()];
        let second = season / 4.0;
        Self {
            level: level.mean + level.sd * dice.normal(),
            youth,
            old,
            tired,
            rested,
            pause,
            season: [season, turn, second, turn2],
            heat,
            rich_alone,
            lines: lines.iter().map(|_| 0.15 * dice.normal()).collect(),
        }
    }

    fn at(&self, on: &Bearing, lines: &[Label]) -> f64 {
        let line = lines.iter().position(|line| on.line.as_ref() == Some(line));
        let rich_alone = if on.sperm_poor_in == Some(false) {
            self.rich_alone
        } else {
            0.0
        };
        self.level + self.age(on) + self.rest(on) + self.season(on) + self.heat(on) - rich_alone
            + line.map_or(0.0, |at| self.lines[at])
    }

    /// Still rising, ever slower; and falling, ever faster, from 40 months on.
    fn age(&self, on: &Bearing) -> f64 {
        let Some(days) = on.age_days else { return 0.0 };
        let months = (days as f64 * 12.0 / 365.25).max(7.0);
        let old = ((months - 40.0).max(0.0) / 30.0).powf(1.5);
        -self.youth * (-(months - 7.0) / 4.0).exp() - self.old * old
    }

    /// What was emptied comes back quickly, what is made anew slowly; after a fortnight's pause it is stale.
    fn rest(&self, on: &Bearing) -> f64 {
        let at = |days: f64| {
            -self.tired * (-(days - 1.0) / 1.5).exp() - self.rested * (-(days - 1.0) / 3.5).exp()
                + self.pause / (1.0 + (-(days - 14.0) / 1.2).exp())
        };
        let days = on.rest_days.map_or(5.0, |days| (days as f64).max(1.0));
        at(days) - at(5.0)
    }

    fn season(&self, on: &Bearing) -> f64 {
        let turn = TAU * f64::from(on.day_of_year) / 365.25;
        let [first, shift, second, shift2] = self.season;
        first * (turn + shift).sin() + second * (2.0 * turn + shift2).sin()
    }

    fn heat(&self, on: &Bearing) -> f64 {
        let rise = |hot: f64| 1.0 / (1.0 + (-(hot - 6.0) / 1.3).exp());
        -self.heat * (rise(on.hot_days.unwrap_or(0.0)) - rise(0.0))
    }
}
