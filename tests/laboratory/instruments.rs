//! Simulated instruments of known truth, and how a curve does on them. Whoever includes this file has
//! `curve` and `units` of the domain beside it.

use super::curve::{Curve, Finding, Pair, Regression, Shape, Weighing};
use super::units::{Concentration, InstrumentReading, RelativeError};

/// A count's error, and the instrument's own, as proportions.
const COUNTED: f64 = 0.06;
const SHOWN: f64 = 0.02;
/// Concentrations, in M/mL.
const THIN: f64 = 80.0;
const THICK: f64 = 800.0;

/// Chance from a seed (Steele, Lea & Flood 2014: `SplitMix64`).
pub struct Chance(pub u64);

impl Chance {
    /// From 0 to 1, neither included.
    pub fn share(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        (((z ^ (z >> 31)) >> 11) as f64 + 0.5) / 9_007_199_254_740_992.0
    }

    /// Standard normal (Box & Muller 1958).
    pub fn normal(&mut self) -> f64 {
        let far = (-2.0 * self.share().ln()).sqrt();
        far * (std::f64::consts::TAU * self.share()).cos()
    }

    fn truth(&mut self) -> f64 {
        THIN * (THICK / THIN).powf(self.share())
    }
}

/// An instrument and those who count beside it.
#[derive(Clone, Copy)]
pub struct Bench {
    /// What the curve is to be.
    pub shape: Shape,
    /// How it weighs.
    pub weighing: Weighing,
    /// Counts err by so many M/mL rather than by a share.
    pub alike: bool,
    /// Pairs of the curve.
    pub pairs: usize,
}

impl Bench {
    /// One ejaculate with that much in it; the instrument shows `factor` times what it should.
    fn pair(&self, chance: &mut Chance, truth: f64, factor: f64) -> Pair {
        let clean = match self.shape {
            Shape::Linear => 0.02 + 0.0015 * truth,
            Shape::Quadratic => 3.0 * truth / (2500.0 + truth),
        };
        // Counts of some are twice as sure as those of others where that is known.
        let sure = match self.weighing {
            Weighing::ByError => COUNTED * (0.5 + chance.share()),
            _ => COUNTED,
        };
        let far = if self.alike { 12.0 } else { sure * truth };
        let shown = match self.alike {
            true => clean,
            false => clean * (1.0 + SHOWN * chance.normal()),
        };
        let counted = (truth + far * chance.normal()).max(1.0);
        Pair {
            reading: InstrumentReading::new(shown.max(0.0) * factor).unwrap(),
            concentration: Concentration::new(counted).unwrap(),
            relative_error: Some(RelativeError::new(100.0 * sure).unwrap()),
        }
    }

    fn fitted(&self, chance: &mut Chance) -> Option<Curve> {
        let mut pair = || {
            let truth = chance.truth();
            self.pair(chance, truth, 1.0)
        };
        let pairs: Vec<_> = (0..self.pairs).map(|_| pair()).collect();
        Curve::fit(&pairs, self.shape, self.weighing).ok()
    }
}

/// How often intervals held what they promise, in %.
#[derive(Debug)]
pub struct Coverage {
    /// The 95 % interval of one ejaculate held its count.
    pub count: f64,
    /// The same where semen is thin, and where it is thick: above 350 M/mL.
    pub thin: f64,
    /// See above.
    pub thick: f64,
    /// It held the truth.
    pub truth: f64,
    /// Readings that were refused, and sets of pairs that made no curve.
    pub refused: f64,
}

/// Four new ejaculates on each of so many new curves.
pub fn coverage(bench: Bench, curves: u32, seed: u64) -> Coverage {
    let mut chance = Chance(seed);
    // Held and all: of counts, thin, thick, truths.
    let mut tallies = [(0u32, 0u32); 4];
    let mut refused = 0;
    for _ in 0..curves {
        let Some(curve) = bench.fitted(&mut chance) else {
            refused += 4;
            continue;
        };
        for _ in 0..4 {
            let truth = chance.truth();
            let new = bench.pair(&mut chance, truth, 1.0);
            let Ok(read) = curve.read(new.reading) else {
                refused += 1;
                continue;
            };
            let held = read.one.holds(new.concentration.value());
            let region = if truth < 350.0 { 1 } else { 2 };
            let found = [(0, held), (region, held), (3, read.one.holds(truth))];
            for (tally, held) in found {
                tallies[tally].0 += u32::from(held);
                tallies[tally].1 += 1;
            }
        }
    }
    let percent = |(held, all): (u32, u32)| 100.0 * f64::from(held) / f64::from(all.max(1));
    let [count, thin, thick, truth] = tallies.map(percent);
    Coverage {
        count,
        thin,
        thick,
        truth,
        refused: percent((refused, 4 * curves)),
    }
}

/// How later pairs were judged, on new curves each, in % of them.
#[derive(Debug)]
pub struct Rung {
    /// A single pair lay outside its interval.
    pub pair: f64,
    /// A run of six strays, looked at once.
    pub run: f64,
    /// Looked at after each pair: called drifting at least once within 3, 6, 10 and 20 pairs.
    pub drifting: [f64; 4],
    /// Looked at after each pair: anything said within 20 pairs, a single pair included.
    pub anything: f64,
}

/// After so many pairs it is asked what was found.
pub const WITHIN: [usize; 4] = [3, 6, 10, 20];

/// Twenty later pairs on each of so many new curves, the readings of which are `factor` times too high.
pub fn drift(bench: Bench, factor: f64, curves: u32, seed: u64) -> Rung {
    let mut chance = Chance(seed);
    let (mut all, mut pair, mut run, mut anything) = (0u32, 0u32, 0u32, 0u32);
    let mut drifting = [0u32; 4];
    for _ in 0..curves {
        let Some(curve) = bench.fitted(&mut chance) else {
            continue;
        };
        let (low, high) = curve.range();
        let mut later = Vec::new();
        while later.len() < 20 {
            let truth = chance.truth();
            let new = bench.pair(&mut chance, truth, factor);
            if (low..=high).contains(&new.reading.value()) && curve.read(new.reading).is_ok() {
                later.push(new);
            }
        }
        let looks: Vec<_> = (1..=20).map(|n| curve.drift(&later[..n]).finding).collect();
        all += 1;
        pair += u32::from(looks[0] == Finding::Disagrees);
        run += u32::from(looks[5] == Finding::Drifting);
        anything += u32::from(looks.iter().any(|f| *f != Finding::Agrees));
        for (count, within) in drifting.iter_mut().zip(WITHIN) {
            *count += u32::from(looks[..within].contains(&Finding::Drifting));
        }
    }
    let percent = |many: u32| 100.0 * f64::from(many) / f64::from(all.max(1));
    Rung {
        pair: percent(pair),
        run: percent(run),
        drifting: drifting.map(percent),
        anything: percent(anything),
    }
}

/// By how many % lines lie off at 300 M/mL on average: weighed by what was counted, and by what is fitted.
pub fn lean(pairs: usize, curves: u32, seed: u64) -> (f64, f64) {
    let bench = Bench {
        shape: Shape::Linear,
        weighing: Weighing::BySize,
        alike: false,
        pairs,
    };
    let mut chance = Chance(seed);
    let (mut counted, mut fitted, mut all) = (0.0, 0.0, 0.0);
    for _ in 0..curves {
        let truths: Vec<_> = (0..pairs).map(|_| chance.truth()).collect();
        let made = truths.iter().map(|t| bench.pair(&mut chance, *t, 1.0));
        let made: Vec<_> = made.collect();
        let x: Vec<_> = made.iter().map(|p| p.reading.value()).collect();
        let y: Vec<_> = made.iter().map(|p| p.concentration.value()).collect();
        let weights: Vec<_> = y.iter().map(|y| 1.0 / (y * y)).collect();
        let own = Regression::fit(&[x], true, &y, Some(&weights)).unwrap();
        let at = 0.02 + 0.0015 * 300.0;
        let reading = InstrumentReading::new(at).unwrap();
        let curve = Curve::fit(&made, bench.shape, bench.weighing);
        let Ok(Ok(read)) = curve.map(|curve| curve.read(reading)) else {
            continue;
        };
        counted += own.combine(&[1.0, at]).value / 300.0 - 1.0;
        fitted += read.concentration.value() / 300.0 - 1.0;
        all += 1.0;
    }
    (100.0 * counted / all, 100.0 * fitted / all)
}
