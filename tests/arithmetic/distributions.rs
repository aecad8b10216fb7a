//! Gamma, beta and normal distributions by adding up their densities, which shares nothing with how
//! the reckoning finds them. Every shape here is at least ½, where the densities below are smooth.

/// Strips of each sum.
const STRIPS: u32 = 800;

/// Simpson's rule over a variable that slows down towards both ends, where a density may rise with
/// a broken power.
fn simpson(from: f64, to: f64, density: impl Fn(f64) -> f64) -> f64 {
    let weight = |n: u32| match n {
        0 | STRIPS => 1.0,
        n if n % 2 == 1 => 4.0,
        _ => 2.0,
    };
    let at = |n: u32| {
        let u = f64::from(n) / f64::from(STRIPS);
        let place = u.powi(4) * (35.0 - 84.0 * u + 70.0 * u * u - 20.0 * u.powi(3));
        let pace = 140.0 * u.powi(3) * (1.0 - u).powi(3);
        density(from + (to - from) * place) * pace
    };
    let sum: f64 = (0..=STRIPS).map(|n| weight(n) * at(n)).sum();
    sum * (to - from) / f64::from(STRIPS) / 3.0
}

/// The chance of less than `x`, where all of the density lies from `low` to `high`.
fn share(x: f64, low: f64, high: f64, density: impl Fn(f64) -> f64) -> f64 {
    let (below, above) = (
        simpson(low, x.clamp(low, high), &density),
        simpson(x.clamp(low, high), high, &density),
    );
    below / (below + above)
}

fn halve(mut low: f64, mut high: f64, chance: f64, below: impl Fn(f64) -> f64) -> f64 {
    for _ in 0..60 {
        let middle = (low + high) / 2.0;
        if below(middle) < chance {
            low = middle;
        } else {
            high = middle;
        }
    }
    (low + high) / 2.0
}

/// With x = t² the density is t to the 2·shape − 1 times e to the −t²; its peak is taken off the
/// exponent.
pub fn gamma_quantile(chance: f64, shape: f64) -> f64 {
    let power = 2.0 * shape - 1.0;
    let peak = (power / 2.0).sqrt();
    let log = |t: f64| {
        let part = if power == 0.0 { 0.0 } else { power * t.ln() };
        part - t * t
    };
    let top = if peak > 0.0 { log(peak) } else { 0.0 };
    let density = |t: f64| {
        if t <= 0.0 {
            f64::from(u8::from(power == 0.0))
        } else {
            (log(t) - top).exp()
        }
    };
    let (low, high) = ((peak - 7.0).max(0.0), peak + 7.0);
    halve(low, high, chance, |t| share(t, low, high, density)).powi(2)
}

/// With x = sin² of an angle the density is sin to the 2a − 1 times cos to the 2b − 1.
pub fn beta_below(x: f64, a: f64, b: f64) -> f64 {
    let (sin, cos) = (2.0 * a - 1.0, 2.0 * b - 1.0);
    let log = |angle: f64| {
        let part = |power: f64, of: f64| if power == 0.0 { 0.0 } else { power * of.ln() };
        part(sin, angle.sin()) + part(cos, angle.cos())
    };
    let peak = sin.max(1e-300).sqrt().atan2(cos.max(1e-300).sqrt());
    let top = log(peak.clamp(1e-9, std::f64::consts::FRAC_PI_2 - 1e-9));
    let density = |angle: f64| {
        let found = (log(angle) - top).exp();
        if found.is_nan() { 0.0 } else { found }
    };
    let wide = 14.0 / (sin + cos).max(1.0).sqrt();
    let (low, high) = (
        (peak - wide).max(0.0),
        (peak + wide).min(std::f64::consts::FRAC_PI_2),
    );
    share(x.sqrt().asin(), low, high, density)
}

pub fn beta_quantile(chance: f64, a: f64, b: f64) -> f64 {
    halve(0.0, 1.0, chance, |x| beta_below(x, a, b))
}

pub fn normal_below(z: f64) -> f64 {
    share(z, -12.0, 12.0, |x| (-x * x / 2.0).exp())
}
