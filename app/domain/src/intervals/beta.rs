//! The regularised incomplete beta function and its quantiles, by Lentz's continued fraction
//! (Abramowitz & Stegun 1964, 26.5.8).

const TERMS: u32 = 100_000;
const TINY: f64 = 1e-300;

/// The chance that a beta variable of `a` > 0 and `b` > 0 lies below `x`.
pub(crate) fn below(x: f64, a: f64, b: f64) -> f64 {
    if x.is_nan() || x <= 0.0 {
        return 0.0;
    }
    if x >= 1.0 {
        return 1.0;
    }
    let log = a * libm::log(x) + b * libm::log1p(-x) + libm::lgamma(a + b)
        - libm::lgamma(a)
        - libm::lgamma(b);
    let front = libm::exp(log);
    if x < (a + 1.0) / (a + b + 2.0) {
        (front * fraction(x, a, b) / a).clamp(0.0, 1.0)
    } else {
        (1.0 - front * fraction(1.0 - x, b, a) / b).clamp(0.0, 1.0)
    }
}

/// The point below which a beta variable of `a` and `b` lies with `chance`, between 0 and 1.
pub(crate) fn quantile(chance: f64, a: f64, b: f64) -> f64 {
    super::halved(0.0, 1.0, chance, |x| below(x, a, b))
}

fn fraction(x: f64, a: f64, b: f64) -> f64 {
    let mut over = 1.0;
    let mut under = 1.0 / apart(1.0 - (a + b) * x / (a + 1.0));
    let mut found = under;
    for m in (1..=TERMS).map(f64::from) {
        let even = m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m));
        under = 1.0 / apart(1.0 + even * under);
        over = apart(1.0 + even / over);
        found *= under * over;
        let odd = -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0));
        under = 1.0 / apart(1.0 + odd * under);
        over = apart(1.0 + odd / over);
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
