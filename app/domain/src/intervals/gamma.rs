//! The regularised incomplete gamma function and its quantiles: series below the mean, Lentz's
//! continued fraction above it (Abramowitz & Stegun 1964, 6.5.29 and 6.5.31).

const TERMS: u32 = 100_000;
const TINY: f64 = 1e-300;

/// The chance that a gamma variable of `shape` > 0 and scale 1 lies below `x`.
pub(super) fn below(x: f64, shape: f64) -> f64 {
    if x.is_nan() || x <= 0.0 {
        return 0.0;
    }
    let front = libm::exp(shape * libm::log(x) - x - libm::lgamma(shape));
    if x < shape + 1.0 {
        (front * series(x, shape)).min(1.0)
    } else {
        (1.0 - front * fraction(x, shape)).max(0.0)
    }
}

/// The point below which a gamma variable of `shape` lies with `chance`, between 0 and 1.
pub(crate) fn quantile(chance: f64, shape: f64) -> f64 {
    // Twenty deviations above the mean nothing is left.
    let high = shape + 20.0 * shape.sqrt() + 40.0;
    super::halved(0.0, high, chance, |x| below(x, shape))
}

fn series(x: f64, shape: f64) -> f64 {
    let mut term = 1.0 / shape;
    let mut sum = term;
    let mut at = shape;
    for _ in 0..TERMS {
        at += 1.0;
        term *= x / at;
        sum += term;
        if term < sum * f64::EPSILON / 4.0 {
            break;
        }
    }
    sum
}

fn fraction(x: f64, shape: f64) -> f64 {
    let mut below = x + 1.0 - shape;
    let mut over = 1.0 / TINY;
    let mut under = 1.0 / apart(below);
    let mut found = under;
    for i in (1..=TERMS).map(f64::from) {
        let above = -i * (i - shape);
        below += 2.0;
        under = 1.0 / apart(above * under + below);
        over = apart(below + above / over);
        let step = under * over;
        found *= step;
        if (step - 1.0).abs() < f64::EPSILON {
            break;
        }
    }
    found
}

/// Away from 0, where the fraction would divide by it.
fn apart(x: f64) -> f64 {
    if x.abs() < TINY { TINY } else { x }
}
