//! The charts that watch each boar, held against worked examples of a handbook and against a Markov
//! chain worked out in Python (`tests/watch/arl.py`).

use pentally_domain::watch::{Chart, LAMBDA, LIMIT, cusum, ewma, ewma_limit};

/// NIST/SEMATECH e-Handbook of Statistical Methods 6.3.2.4: twenty values, target 50, the moving
/// average printed to two places, and the upper limit at three standard deviations.
#[test]
fn the_handbooks_moving_average() {
    let values = [
        52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8,
        51.2, 52.6, 52.4, 53.6, 52.1,
    ];
    let printed = [
        50.60, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33, 50.11, 49.36, 49.52,
        50.05, 49.38, 49.92, 50.73, 51.23, 51.94, 51.99,
    ];
    let limit = ewma_limit(2.0539, 0.3, 3.0);
    assert!((50.0 + limit - 52.5884).abs() < 5e-5);
    let mut average = 50.0;
    for (value, printed) in values.into_iter().zip(printed) {
        average = ewma(average, value, 0.3);
        // Two places are printed.
        assert!(
            (average - printed).abs() < 0.005_01,
            "{average}, not {printed}"
        );
        assert!(average < 50.0 + limit, "no signal is printed");
    }
    assert_eq!(LAMBDA, 0.3);
}

/// The same handbook, 6.3.2.3: means of twenty samples about 325, k = 0.3175 and h = 4.1959, the sums of
/// both sides printed to two places. The rows are from memory; each follows from the one before.
#[test]
fn the_handbooks_cumulative_sum() {
    let rows = [
        (324.925, 0.00, 0.00),
        (324.675, 0.00, 0.01),
        (324.725, 0.00, 0.00),
        (324.350, 0.00, 0.33),
        (325.350, 0.03, 0.00),
        (325.225, 0.00, 0.00),
        (324.125, 0.00, 0.56),
        (324.525, 0.00, 0.72),
        (325.225, 0.00, 0.17),
        (324.600, 0.00, 0.25),
        (324.625, 0.00, 0.31),
        (325.150, 0.00, 0.00),
        (328.325, 3.01, 0.00),
        (327.250, 4.94, 0.00),
        (327.825, 7.45, 0.00),
        (328.500, 10.63, 0.00),
        (326.675, 11.99, 0.00),
        (327.775, 14.44, 0.00),
        (326.875, 16.00, 0.00),
        (328.350, 19.04, 0.00),
    ];
    let (mut high, mut low) = (0.0, 0.0);
    let mut signals = vec![];
    for (at, (mean, printed_high, printed_low)) in rows.into_iter().enumerate() {
        high = cusum(high, mean - 325.0, 0.3175);
        low = cusum(low, 325.0 - mean, 0.3175);
        for (sum, printed) in [(high, printed_high), (low, printed_low)] {
            assert!(
                (sum - printed).abs() < 0.010_1,
                "{mean}: {sum}, not {printed}"
            );
        }
        if high > 4.1959 || low > 4.1959 {
            signals.push(at + 1);
        }
    }
    assert_eq!(signals, [14, 15, 16, 17, 18, 19, 20]);
}

/// How long the chart runs, in order and after falls of several sizes, is what the chain works out.
#[test]
fn the_charts_runs_are_those_of_a_markov_chain() {
    let rows = include_str!("../watch/arl.csv").lines().skip(1);
    let mut dice = Dice(20_261_202);
    let mut seen = 0;
    for row in rows {
        let [lambda, limit, most, shift, mean, half] = numbers(row);
        assert_eq!(
            (lambda, limit, most),
            (LAMBDA, LIMIT, 3.0),
            "work out arl.csv anew"
        );
        let mut runs: Vec<f64> = (0..8_000).map(|_| run(&mut dice, shift)).collect();
        runs.sort_by(f64::total_cmp);
        let n = runs.len() as f64;
        let found = runs.iter().sum::<f64>() / n;
        let variance = runs.iter().map(|run| (run - found).powi(2)).sum::<f64>() / n;
        let error = (variance / n).sqrt();
        // Four standard errors, and what the chain's cells leave open.
        let far = (found - mean).abs();
        assert!(
            far < 4.0 * error + 0.002 * mean,
            "shift {shift}: {found} ± {error}, not {mean}"
        );
        let middle = runs[runs.len() / 2];
        assert!(
            (middle - half).abs() <= 1.0 + 0.04 * half,
            "shift {shift}: {middle}, not {half}"
        );
        if shift == 0.0 {
            assert!(mean >= 370.0 && found >= 370.0);
        }
        seen += 1;
    }
    assert!(seen >= 5);
}

fn numbers(row: &str) -> [f64; 6] {
    let list: Vec<f64> = row.split(',').map(|cell| cell.parse().unwrap()).collect();
    list.try_into().unwrap()
}

/// Until the first signal, of a boar who from the first ejaculate on gives so much worse.
fn run(dice: &mut Dice, shift: f64) -> f64 {
    let mut chart = Chart::default();
    let mut at = 0;
    loop {
        at += 1;
        if chart.next(at, shift + dice.normal(), 0.0).is_some() {
            return at as f64;
        }
    }
}

/// A dice that repeats itself (SplitMix64), and a normal distribution from it (Box & Muller 1958).
struct Dice(u64);

impl Dice {
    fn share(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let z = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        let z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn normal(&mut self) -> f64 {
        let far = (-2.0 * (1.0 - self.share()).ln()).sqrt();
        far * (std::f64::consts::TAU * self.share()).cos()
    }
}
