//! The upper tail of the chi-square distribution.

/// The chance that a chi-square variable of `degrees` degrees of freedom exceeds `x`.
/// 1 where `x` is not above 0.
///
/// Closed for whole degrees: a first term for one or two degrees, and one more term for each two
/// degrees beyond (Abramowitz & Stegun 1964, 26.4.4 and 26.4.5). All terms are positive, so small
/// chances keep their digits.
pub fn chi_square_tail(x: f64, degrees: u32) -> f64 {
    if x.is_nan() || x <= 0.0 || degrees == 0 {
        return if x > 0.0 { 0.0 } else { 1.0 };
    }
    let half = x / 2.0;
    // The next term is x/2 to the a, over the gamma function of a + 1, times e to the −x/2.
    let (mut sum, mut a, mut term) = if degrees.is_multiple_of(2) {
        ((-half).exp(), 1.0, half * (-half).exp())
    } else {
        let two_over_root_pi = std::f64::consts::FRAC_2_SQRT_PI;
        let first = two_over_root_pi * half.sqrt() * (-half).exp();
        (beyond(half.sqrt()), 0.5, first)
    };
    for _ in 0..(degrees - 1) / 2 {
        sum += term;
        a += 1.0;
        term *= half / a;
    }
    sum.min(1.0)
}

/// The complementary error function of `z` ≥ 0: by its series near 0, by its continued fraction
/// farther out (Abramowitz & Stegun 1964, 7.1.6 and 7.1.14).
fn beyond(z: f64) -> f64 {
    const FAR: f64 = 2.0;
    const TERMS: u32 = 100;
    let bell = std::f64::consts::FRAC_2_SQRT_PI * (-z * z).exp();
    if z < FAR {
        let mut term = z;
        let mut sum = z;
        for n in 1..TERMS {
            term *= 2.0 * z * z / f64::from(2 * n + 1);
            sum += term;
        }
        1.0 - bell * sum
    } else {
        let fraction = (1..=TERMS)
            .rev()
            .fold(z, |below, n| z + f64::from(n) / 2.0 / below);
        bell / 2.0 / fraction
    }
}
