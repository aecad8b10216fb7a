//! What became of the sows that a boar served.

use super::SERVED_AT_LEAST;
use crate::barn::{Barn, Seen, SowFacts};
use crate::explain::Origin;
use crate::gestation::{RETURN_DAYS, expected};
use crate::id::BoarId;
use crate::intervals::TAIL;
use crate::sow::Service;
use crate::time::Zone;
use crate::units::GestationDays;
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// What became of the heats in which one boar alone served, in person or by doses of his semen. Of a
/// pool nobody knows whose semen it was.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Served {
    /// Not seen back in heat by the last day of a return. It takes somebody who looks.
    pub held: usize,
    /// Seen back in heat, or served again, before she could have farrowed.
    pub returned: usize,
    /// The days of a return are not over.
    pub waiting: usize,
}

impl Served {
    /// Heats whose end is known.
    pub const fn known(self) -> usize {
        self.held + self.returned
    }

    /// Both together.
    #[must_use]
    pub const fn and(self, other: Self) -> Self {
        Self {
            held: self.held + other.held,
            returned: self.returned + other.returned,
            waiting: self.waiting + other.waiting,
        }
    }

    /// All but those.
    #[must_use]
    pub const fn less(self, those: Self) -> Self {
        Self {
            held: self.held.saturating_sub(those.held),
            returned: self.returned.saturating_sub(those.returned),
            waiting: self.waiting.saturating_sub(those.waiting),
        }
    }

    /// Whether so many more came back than of the others that chance does not explain it, of so
    /// many `boars` compared: then it is below [`level_of_each`]. Never with fewer than
    /// [`SERVED_AT_LEAST`] on either side.
    pub fn is_worse_than(self, others: Self, boars: usize) -> bool {
        self.can_be_told()
            && others.can_be_told()
            && self.chance_beside(others) < level_of_each(boars)
    }

    /// Whether the end of enough heats is known.
    pub const fn can_be_told(self) -> bool {
        self.known() >= SERVED_AT_LEAST
    }

    /// The chance that as many came back here, or more, if all that came back on both sides had been
    /// dealt out by chance (Fisher's exact test, one-sided; Fisher 1935, J. R. Statist. Soc. 98:39,
    /// from memory).
    pub(super) fn chance_beside(self, others: Self) -> f64 {
        let all = self.and(others);
        let ways = choose(all.known(), self.known());
        let dealt = |here: usize| {
            let there = self.known().checked_sub(here)?;
            let (back, held) = (choose(all.returned, here)?, choose(all.held, there)?);
            Some(libm::exp(back + held - ways?))
        };
        (self.returned..=self.known()).filter_map(dealt).sum()
    }
}

/// How unlikely it must be for each of so many boars, so that in a herd where none is worse one of
/// them is called so at most once in forty times (Šidák 1967, J. Am. Statist. Assoc. 62:626, from
/// memory): at the one-sided 2.5 % for each boar, a dozen of 500 would be.
pub fn level_of_each(boars: usize) -> f64 {
    -libm::expm1(libm::log1p(-TAIL) / boars.max(1) as f64)
}

/// The logarithm of how many ways there are to choose so many; none where there is none.
fn choose(of: usize, many: usize) -> Option<f64> {
    let factorial = |n: usize| libm::lgamma(n as f64 + 1.0);
    let left = of.checked_sub(many)?;
    Some(factorial(of) - factorial(many) - factorial(left))
}

/// The heats of all sows at hand by the boar who alone served in them, at the instant `now_ms`.
pub fn served(barn: &Barn, now_ms: i64) -> BTreeMap<BoarId, Served> {
    let zone = barn.zone_at(now_ms);
    let identity = barn.identity();
    let length = GestationDays::new(barn.standard().standard.gestation_days.into());
    let mut boars: BTreeMap<BoarId, Served> = BTreeMap::new();
    let Ok(length) = length else { return boars };
    for sow in barn.sows() {
        let heats = heats(&sow, &zone);
        for (i, heat) in heats.iter().enumerate() {
            let Some(boar) = heat.alone(&identity) else {
                continue;
            };
            let next = heats.get(i + 1).map(|next| next.first);
            let became = became(&sow, heat.last, next, length, &zone, zone.day(now_ms));
            let sum = boars.entry(boar).or_default();
            *sum = sum.and(became.unwrap_or_default());
        }
    }
    boars
}

/// The services of one heat.
struct Heat<'a> {
    first: NaiveDate,
    last: NaiveDate,
    services: Vec<&'a Service>,
}

impl Heat<'_> {
    fn alone(&self, identity: &impl Fn(BoarId) -> BoarId) -> Option<BoarId> {
        let boars = self.services.iter().flat_map(|s| SowFacts::served_by(s));
        let mut boars: Vec<_> = boars.map(|b| identity(*b)).collect();
        boars.sort_unstable();
        boars.dedup();
        match boars[..] {
            [boar] => Some(boar),
            _ => None,
        }
    }
}

/// Services nearer to the first than a return can be are of one heat.
fn heats<'a>(sow: &'a SowFacts, zone: &Zone) -> Vec<Heat<'a>> {
    let mut services: Vec<(NaiveDate, &Seen<Service>)> = sow
        .services
        .iter()
        .map(|s| (zone.day(s.at.ms()), s))
        .collect();
    services.sort_by_key(|(day, _)| *day);
    let mut heats: Vec<Heat<'a>> = vec![];
    for (day, service) in services {
        match heats.last_mut() {
            Some(heat) if (day - heat.first).num_days() < RETURN_DAYS.0.into() => {
                heat.last = day;
                heat.services.push(&service.fact);
            }
            _ => heats.push(Heat {
                first: day,
                last: day,
                services: vec![&service.fact],
            }),
        }
    }
    heats
}

fn became(
    sow: &SowFacts,
    last: NaiveDate,
    next: Option<NaiveDate>,
    length: GestationDays,
    zone: &Zone,
    today: NaiveDate,
) -> Option<Served> {
    let due = expected(last, length, &Origin::Asked).ok()?;
    let stood = sow.heats.iter().filter(|h| h.fact.standing);
    let mut back = stood.map(|h| zone.day(h.at.ms())).chain(next);
    let (held, returned, waiting) = if back.any(|d| due.return_from <= d && d < due.farrows_on) {
        (0, 1, 0)
    } else if due.return_to < today {
        (1, 0, 0)
    } else {
        (0, 0, 1)
    };
    Some(Served {
        held,
        returned,
        waiting,
    })
}
