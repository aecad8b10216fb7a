//! Doses under uncertainty: of doses that are promised to hold their target, the share that does.
//!
//! A bench has true figures, which are measured as people measure them and then filled as the answer
//! says. The share of doses that truly hold the target is worked out from the truth and the filling
//! error, not from the answer's own model of the bench.

use crate::dice::Dice;
use crate::{cases, seed};
use pentally_domain::assured::{Assured, By, Dosed};
use pentally_domain::counting::Errors;
use pentally_domain::doses::{Making, Plan};
use pentally_domain::farm::CountAs;
use pentally_domain::reckon::{DosesAsked, EjaculateAsked, SureAsked, doses};
use std::time::Instant;

/// How a bench measures: one row of the report.
struct Row {
    name: &'static str,
    count_as: CountAs,
    assurance: f64,
    ejaculates: usize,
    /// Sperm expected in the chamber; none for an instrument that errs by 8 %.
    count: Option<f64>,
    /// Cells looked at; none where it is judged by eye, off by 5 points.
    cells: Option<u32>,
    /// Nobody says how far dilution and chamber err: they err as is usual, and so the answer assumes.
    unsaid: bool,
    cases: u64,
}

const VOLUME_ERROR: f64 = 1.0;
const CHAMBER_ERROR: f64 = 2.5;
/// Of one dilution step and one filling, as is usual.
const USUAL_ERRORS: [f64; 2] = [Errors::STEP_PERCENT, Errors::FILLING_PERCENT];
const INSTRUMENT_ERROR: f64 = 8.0;
const POINTS: f64 = 5.0;
const FILLING_ERROR: f64 = 2.0;
const TARGET_M: f64 = 3_000.0;

const fn row(name: &'static str, count: Option<f64>, cells: Option<u32>) -> Row {
    Row {
        name,
        count_as: CountAs::Motile,
        assurance: 95.0,
        ejaculates: 1,
        count,
        cells,
        unsaid: false,
        cases: 20_000,
    }
}

fn rows() -> Vec<Row> {
    vec![
        row("400 sperm, 200 cells", Some(400.0), Some(200)),
        Row {
            assurance: 80.0,
            ..row("the same, 80 % asked", Some(400.0), Some(200))
        },
        Row {
            assurance: 99.0,
            ..row("the same, 99 % asked", Some(400.0), Some(200))
        },
        row("100 sperm, 100 cells", Some(100.0), Some(100)),
        Row {
            count_as: CountAs::Total,
            ..row("400 sperm, all count", Some(400.0), None)
        },
        Row {
            count_as: CountAs::MotileNormal,
            ..row("motile and normal", Some(400.0), Some(200))
        },
        row("instrument, 200 cells", None, Some(200)),
        row("instrument, by eye", None, None),
        Row {
            ejaculates: 4,
            ..row("pool of four", Some(200.0), Some(100))
        },
        Row {
            ejaculates: 4,
            ..row("pool of one instrument", None, Some(200))
        },
        Row {
            unsaid: true,
            ..row("errors not said", Some(400.0), Some(200))
        },
        Row {
            cases: 2_000,
            ..row("25 sperm, 20 cells", Some(25.0), Some(20))
        },
    ]
}

/// What was seen of one row.
#[derive(Default)]
struct Seen {
    made: f64,
    simulated: u32,
    promised: f64,
    met: f64,
    met_squared: f64,
    doses: f64,
    plain_made: f64,
    plain_promised: f64,
    plain_met: f64,
    plain_doses: f64,
    seconds: f64,
}

/// Prints the share promised and the share met, of the assured and of the plain number; whether all meet
/// it within a point.
pub fn report() -> bool {
    let mut kept = true;
    println!(
        "  bench                     cases  asked  promised            met  doses  plain promised  plain met  plain doses  ms each"
    );
    for (at, row) in rows().iter().enumerate() {
        let mut dice = Dice::new(seed() + 1_000 * at as u64);
        let n = cases(row.cases).min(row.cases);
        let mut seen = Seen::default();
        (0..n).for_each(|_| one(row, &mut dice, &mut seen));
        kept &= print(row, n, &seen);
    }
    println!("  !! where the share met is more than a point below or above the share promised");
    kept
}

fn print(row: &Row, n: u64, seen: &Seen) -> bool {
    let (promised, met) = (seen.promised / seen.made, seen.met / seen.made);
    let kept = (met - promised).abs() <= 1.0;
    let spread = (seen.met_squared / seen.made - met * met).max(0.0);
    let error = (spread / seen.made).sqrt();
    println!(
        "{}{:<24}{:>7}{:>7}{:>10.2}{:>8.2} ± {:.2}{:>7.2}{:>16.2}{:>11.2}{:>13.2}{:>9.2}{}",
        if kept { "  " } else { "!!" },
        row.name,
        n,
        row.assurance,
        promised,
        met,
        error,
        seen.doses / seen.made,
        seen.plain_promised / seen.plain_made,
        seen.plain_met / seen.plain_made,
        seen.plain_doses / seen.plain_made,
        seen.seconds * 1_000.0 / n as f64,
        if seen.simulated > 0 {
            format!("  ({} by chance)", seen.simulated)
        } else {
            String::new()
        }
    );
    kept
}

fn one(row: &Row, dice: &mut Dice, seen: &mut Seen) {
    let (mut truly, mut ejaculates) = (0.0, vec![]);
    // It errs alike in all that it reads.
    let instrument = read(dice, INSTRUMENT_ERROR);
    for _ in 0..row.ejaculates {
        let (sperm, asked) = ejaculate(row, instrument, dice);
        truly += sperm;
        ejaculates.push(asked);
    }
    let volume: f64 = ejaculates.iter().filter_map(|e| e.volume_ml).sum();
    let asked = DosesAsked {
        ejaculates,
        count_as: row.count_as,
        assurance_percent: Some(row.assurance),
        filling_error_percent: Some(FILLING_ERROR),
        brief: true,
        ..DosesAsked::default()
    };
    let begun = Instant::now();
    let answer = doses(&asked).unwrap();
    seen.seconds += begun.elapsed().as_secs_f64();
    let assured = answer.assured.unwrap();
    seen.simulated += u32::from(assured.by == By::Simulated);
    plain(&assured, truly, seen);
    let (Some(Making::Made(plan)), Some(dosed)) = (&answer.making, assured.doses) else {
        return;
    };
    let met = 100.0 * met(plan, volume, truly);
    seen.made += 1.0;
    seen.promised += dosed.reached_percent;
    seen.met += met;
    seen.met_squared += met * met;
    seen.doses += f64::from(dosed.doses);
}

/// All semen goes in, as it does where the doses are not limited and not overfilled.
fn plain(assured: &Assured, truly: f64, seen: &mut Seen) {
    let Some(Dosed {
        doses,
        reached_percent,
        ..
    }) = assured.plain
    else {
        return;
    };
    seen.plain_made += 1.0;
    seen.plain_promised += reached_percent;
    seen.plain_met += 100.0 * holds(truly / f64::from(doses));
    seen.plain_doses += f64::from(doses);
}

fn met(plan: &Plan, volume: f64, truly: f64) -> f64 {
    holds(truly * plan.semen_ml / volume / f64::from(plan.doses))
}

/// The share of doses that hold the target where they hold so much on average.
fn holds(each_m: f64) -> f64 {
    let sigma = FILLING_ERROR / 100.0;
    let z = ((each_m / TARGET_M).ln() - sigma * sigma / 2.0) / sigma;
    // Abramowitz & Stegun 1964, 26.2.17: within 10⁻⁷.
    let t = 1.0 / (1.0 + 0.231_641_9 * z.abs());
    let tail = [
        1.330_274_429,
        -1.821_255_978,
        1.781_477_937,
        -0.356_563_782,
        0.319_381_530,
    ]
    .iter()
    .fold(0.0, |sum, c| (sum + c) * t)
        * (-z * z / 2.0).exp()
        / std::f64::consts::TAU.sqrt();
    if z > 0.0 { 1.0 - tail } else { tail }
}

/// Sperm that truly count, in millions, and what the bench makes of them.
fn ejaculate(row: &Row, instrument: f64, dice: &mut Dice) -> (f64, EjaculateAsked) {
    let (ml, dense) = (dice.between(150.0, 350.0), dice.between(150.0, 450.0));
    let (motile, abnormal) = (dice.between(0.65, 0.95), dice.between(0.05, 0.25));
    let truly = ml
        * dense
        * match row.count_as {
            CountAs::Total => 1.0,
            CountAs::Motile => motile,
            CountAs::MotileNormal => motile * (1.0 - abnormal),
        };
    let mut sure = SureAsked {
        volume_error_percent: Some(VOLUME_ERROR),
        ..SureAsked::default()
    };
    let concentration = match row.count {
        Some(expected) => {
            let off = if row.unsaid {
                USUAL_ERRORS
                    .iter()
                    .map(|error| read(dice, *error))
                    .product()
            } else {
                sure.concentration_error_percent = Some(CHAMBER_ERROR);
                read(dice, CHAMBER_ERROR)
            };
            let counted = poisson(expected * off, dice).max(1);
            sure.sperm_counted = Some(counted);
            dense * f64::from(counted) / expected
        }
        None => {
            sure.concentration_error_percent = Some(INSTRUMENT_ERROR);
            dense * instrument
        }
    };
    let mut share = |p: f64| match row.cells {
        Some(cells) => {
            let hits = (0..cells).filter(|_| dice.is(p)).count();
            100.0 * hits as f64 / f64::from(cells)
        }
        None => (100.0 * p + POINTS * dice.normal()).clamp(0.0, 100.0),
    };
    let (motile, abnormal) = (share(motile), share(abnormal));
    sure.motile_cells = row.cells;
    sure.abnormal_cells = row.cells;
    sure.motile_spread_points = Some(POINTS);
    sure.abnormal_spread_points = Some(POINTS);
    let asked = EjaculateAsked {
        volume_ml: Some(ml * read(dice, VOLUME_ERROR)),
        concentration_m_per_ml: Some(concentration),
        motile_percent: Some(motile),
        abnormal_percent: Some(abnormal),
        sure: Some(sure),
        ..EjaculateAsked::default()
    };
    (truly, asked)
}

/// What a reading with this relative error in % is off by.
fn read(dice: &mut Dice, error: f64) -> f64 {
    (error / 100.0 * dice.normal()).exp()
}

/// A count where so many are expected, by waiting times.
fn poisson(expected: f64, dice: &mut Dice) -> u32 {
    let (mut count, mut waited) = (0, 0.0);
    loop {
        waited -= (1.0 - dice.share()).ln();
        if waited > expected {
            return count;
        }
        count += 1;
    }
}
