//! How long a boar takes to recover, by what he gave after short and after long rests.
//!
//! Kept simple on purpose: means of a few days at a time, because the two dozen collections that a
//! ledger keeps carry no curve of his own. A fit of his own would follow the noise.

use super::regular::Regular;
use crate::farm::Standard;

/// Collections on either side, below which there are too few to say (our choice, no source).
pub const COLLECTIONS_AT_LEAST: usize = 4;
/// So much below what he gives after long rests, in sd of the residual, counts as the same
/// (our choice, no source).
pub const SAME_WITHIN_SD: f64 = 0.3;
/// From so many days on a rest is long: numbers are back at 5–7 d (Smital 2009).
pub const LONG_DAYS: u8 = 7;
/// Nobody needs longer: full at 10–11 d (Smital 2009).
pub const DAYS_AT_MOST: u8 = 10;

/// A boar's own recovery.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Recovery {
    /// Farm days from one collection to the next after which he gives as much as after long rests.
    pub days: u8,
    /// From how many collections that was worked out.
    pub by_collections: usize,
}

/// What he gave after one rest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AfterRest {
    /// Farm days since he was used before.
    pub days: u16,
    /// The logarithm of his total sperm against what was to be expected of him after five days, in
    /// its own sd. One that is not a number is left out.
    pub residual: f64,
}

/// His recovery: the fewest days, from the farm's rest to ten, around which (the day itself, one
/// less and one more) he gave on average no less than [`SAME_WITHIN_SD`] below what he gave after
/// [`LONG_DAYS`] and more; not longer than his `regular` days (those of the farm standard, not his
/// own of before) unless after those and less he gave
/// so much less than after more. None where it is too few to say: fewer than
/// [`COLLECTIONS_AT_LEAST`] after at most his regular days, after more, or after
/// [`LONG_DAYS`] and more. Around each day as many are asked for.
///
/// Three days at a time, because single days hold one or two collections, and a mean of these says
/// little. Rests so long that the ejaculate is a clean-out say nothing and are left out.
pub fn recovery(list: &[AfterRest], regular: Regular, standard: &Standard) -> Option<Recovery> {
    let told: Vec<_> = list
        .iter()
        .copied()
        .filter(|a| a.residual.is_finite() && a.days <= standard.idle_clean_out_days.into())
        .collect();
    let usual = u16::from(regular.days);
    let short = mean(&told, |days| days <= usual)?;
    let longer = mean(&told, |days| days > usual)?;
    let long = mean(&told, |days| days >= LONG_DAYS.into())?;
    let least = standard.rest_days.clamp(1, DAYS_AT_MOST);
    let recovered = |day: &u8| {
        let around = u16::from(*day) - 1..=u16::from(*day) + 1;
        mean(&told, |days| around.contains(&days)).is_some_and(|m| is_same(m, long))
    };
    let found = (least..=DAYS_AT_MOST)
        .find(recovered)
        .unwrap_or(DAYS_AT_MOST);
    let days = if is_same(short, longer) {
        found.min(regular.days)
    } else {
        found
    };
    Some(Recovery {
        days: days.max(standard.rest_days),
        by_collections: told.len(),
    })
}

fn is_same(mean: f64, than: f64) -> bool {
    mean >= than - SAME_WITHIN_SD
}

/// The mean of those after such rests; none where they are too few to say.
fn mean(told: &[AfterRest], rest: impl Fn(u16) -> bool) -> Option<f64> {
    let of: Vec<f64> = told
        .iter()
        .filter(|a| rest(a.days))
        .map(|a| a.residual)
        .collect();
    (of.len() >= COLLECTIONS_AT_LEAST).then(|| of.iter().sum::<f64>() / of.len() as f64)
}
