//! The least value of a function of one number: looked for everywhere, then closely.

/// How far apart the function is looked at first.
const STRIDE: f64 = 1.0;
/// The golden section stops here, and steps by slope and bend go on.
const NARROW: f64 = 1e-2;
/// How far apart the points lie that slope and bend are taken from: wide enough that rounding
/// matters little, and five of them, so that what is cut off is of the fourth power of it.
const REACH: f64 = 1e-2;
/// How many such steps at most; each doubles the digits.
const STEPS: u32 = 3;
/// The golden section: of a line of 1 the longer part.
const GOLDEN: f64 = 0.618_033_988_749_894_9;

/// Where the function is least.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Least {
    /// There.
    pub at: f64,
    /// The value there.
    pub value: f64,
    /// The greatest finite value that was met in looking everywhere.
    pub most: f64,
    /// It lies at an end, so it may be lower beyond.
    pub at_end: bool,
}

/// The least value from `low` to `high`. A function with several dips is looked at everywhere
/// first, so that the search does not end in the nearest. What is not a number counts as infinite.
pub(super) fn least(of: impl Fn(f64) -> f64, low: f64, high: f64) -> Least {
    let of = |at: f64| {
        let value = of(at);
        if value.is_nan() { f64::INFINITY } else { value }
    };
    let strides = (((high - low) / STRIDE).ceil()).max(2.0);
    let stride = (high - low) / strides;
    let (mut found, mut k) = (Least::nowhere(low), 0.0);
    while k <= strides {
        let at = low + k * stride;
        found.see(at, of(at), k == 0.0 || k == strides);
        k += 1.0;
    }
    if found.at_end || !found.value.is_finite() {
        return found;
    }
    let at = golden(&of, found.at - stride, found.at + stride);
    let (at, value) = level(&of, at);
    Least { at, value, ..found }
}

impl Least {
    const fn nowhere(at: f64) -> Self {
        Self {
            at,
            value: f64::INFINITY,
            most: f64::NEG_INFINITY,
            at_end: true,
        }
    }

    fn see(&mut self, at: f64, value: f64, at_end: bool) {
        if value.is_finite() {
            self.most = self.most.max(value);
        }
        if value < self.value {
            (self.at, self.value, self.at_end) = (at, value, at_end);
        }
    }
}

/// Narrows a bracket to the golden section again and again (Kiefer 1953).
fn golden(of: &impl Fn(f64) -> f64, mut low: f64, mut high: f64) -> f64 {
    let mut left = high - GOLDEN * (high - low);
    let mut right = low + GOLDEN * (high - low);
    let (mut at_left, mut at_right) = (of(left), of(right));
    while high - low > NARROW {
        if at_left <= at_right {
            (high, right, at_right) = (right, left, at_left);
            left = high - GOLDEN * (high - low);
            at_left = of(left);
        } else {
            (low, left, at_left) = (left, right, at_right);
            right = low + GOLDEN * (high - low);
            at_right = of(right);
        }
    }
    (low + high) / 2.0
}

/// Newton's steps to where the slope is 0. Comparing values alone finds a place to half of a
/// number's digits only, since the function is level there. Slope and bend are those of the quartic
/// through five points (Abramowitz & Stegun 1964, section 25.3).
fn level(of: &impl Fn(f64) -> f64, start: f64) -> (f64, f64) {
    let (mut at, mut value) = (start, of(start));
    for _ in 0..STEPS {
        let beside = |places: f64| of(at + places * REACH);
        let [far_left, left, right, far_right] = [-2.0, -1.0, 1.0, 2.0].map(beside);
        let slope = (8.0 * (right - left) - (far_right - far_left)) / 12.0;
        let bend = (16.0 * (left + right) - (far_left + far_right) - 30.0 * value) / 12.0;
        let step = -REACH * slope / bend;
        if !(bend > 0.0 && step.abs() <= NARROW) {
            break;
        }
        at += step;
        value = of(at);
    }
    (at, value)
}
