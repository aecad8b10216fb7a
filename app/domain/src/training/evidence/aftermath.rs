//! What followed a bad event: how far a boar came in the session before it and in the one after it,
//! beside the same of sessions in which nothing went wrong. Both, plainly; neither proves a cause.

use crate::barn::Barn;
use crate::training::state::{Held, progress};
use crate::training::{Mishap, Training};

/// With fewer than so many a mean says nothing (common practice, no source).
const AT_LEAST: usize = 5;

/// What followed one kind of event.
#[derive(Debug, Clone, PartialEq)]
pub struct Aftermath {
    /// What went wrong in the session between; none where nothing did.
    pub what: Option<Mishap>,
    /// How often the next session came less far than the one before.
    pub less: usize,
    /// As far.
    pub same: usize,
    /// Farther.
    pub farther: usize,
    /// The mean change in points of score; none where there are too few to say.
    pub mean_change: Option<f64>,
}

impl Aftermath {
    /// How many there are.
    pub const fn times(&self) -> usize {
        self.less + self.same + self.farther
    }
}

/// Three sessions of one boar running: the score of the first and the third, and what went wrong
/// in the second.
struct Between {
    change: i16,
    mishaps: Vec<Mishap>,
}

/// For sessions without mishap first, then for each mishap that occurred, what followed.
pub fn aftermath(barn: &Barn, now_ms: i64) -> Vec<Aftermath> {
    let all = between(barn, now_ms);
    let plain = of(&all, None);
    let others = Mishap::ALL.into_iter().map(|what| of(&all, Some(what)));
    let occurred = others.filter(|a| a.times() > 0);
    std::iter::once(plain).chain(occurred).collect()
}

fn between(barn: &Barn, now_ms: i64) -> Vec<Between> {
    let (zone, standard) = (barn.zone_at(now_ms), barn.standard().standard);
    let mut all = vec![];
    for boar in barn.boars() {
        let sessions = progress(&boar, &standard, &zone, now_ms).sessions;
        let said = |held: &Held| {
            let found = boar.trainings.iter().find(|t| t.entry() == held.entry);
            found.map(|t| t.fact.clone())
        };
        let three = sessions.windows(3).filter_map(|w| {
            let (before, after) = (w[0].score?, w[2].score?);
            let points = |score: crate::units::Score| i16::from(score.value());
            let mishaps = said(&w[1]).map_or(vec![], |t: Training| t.mishaps);
            Some(Between {
                change: points(after) - points(before),
                mishaps,
            })
        });
        all.extend(three);
    }
    all
}

fn of(all: &[Between], what: Option<Mishap>) -> Aftermath {
    let fits = |b: &&Between| match what {
        Some(what) => b.mishaps.contains(&what),
        None => b.mishaps.is_empty(),
    };
    let changes: Vec<i16> = all.iter().filter(fits).map(|b| b.change).collect();
    let count = |is: fn(i16) -> bool| changes.iter().filter(|c| is(**c)).count();
    let sum: f64 = changes.iter().map(|c| f64::from(*c)).sum();
    let enough = changes.len() >= AT_LEAST;
    Aftermath {
        what,
        less: count(|c| c < 0),
        same: count(|c| c == 0),
        farther: count(|c| c > 0),
        mean_change: enough.then(|| sum / changes.len() as f64),
    }
}
