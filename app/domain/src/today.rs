//! The day at a glance: every boar's standing in groups, and what waits for the bench.

use crate::barn::{Barn, BoarFacts, Seen, by_number};
use crate::collection::{Collection, Glove, Outcome};
use crate::evaluation::Evaluation;
use crate::id::PersonId;
use crate::rest::recovery::Recovery;
use crate::rest::regular::{Due, DueState, rhythm_of};
use crate::rest::week::Recoveries;
use crate::rest::{Answer, Standing, standing};
use crate::time::HOUR_MS;
use crate::training::state::{State, progress};

/// Raw semen older than this is not made into doses any more: within a day the page stops
/// offering it (held warm it keeps for hours at most; common practice, no source). The filling table
/// warns of it, and asks, long before.
pub const RAW_KEEPS_MS: i64 = 24 * HOUR_MS;

/// The boars of the farm by what their pages answer, each group in its own order.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Today {
    /// May be collected; the longest idle first.
    pub may: Vec<(BoarFacts, Standing)>,
    /// Rest, or had enough in seven days; the soonest free first.
    pub rest: Vec<(BoarFacts, Standing)>,
    /// The log does not know.
    pub unknown: Vec<(BoarFacts, Standing)>,
    /// Off collection or too young.
    pub off: Vec<(BoarFacts, Standing)>,
}

/// A boar in regular use: what his page answers, and when he is due.
#[derive(Debug, Clone, PartialEq)]
pub struct InUse {
    /// Who.
    pub boar: BoarFacts,
    /// Whether he may be collected today.
    pub standing: Standing,
    /// When he is due.
    pub due: Due,
}

/// The boars in regular use by when they are due, for the office.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct DueToday {
    /// Due, and not used for so long that he is checked first, or that the first is a clean-out;
    /// the longest first.
    pub idle: Vec<InUse>,
    /// Due before today; the latest first.
    pub late: Vec<InUse>,
    /// Due today; by number.
    pub due: Vec<InUse>,
    /// Not due yet, but he may be collected: it would be early. The soonest due first.
    pub early: Vec<InUse>,
    /// Not due yet, and he rests or had enough in seven days; the soonest due first.
    pub rest: Vec<InUse>,
}

/// One ejaculate that waits for the bench.
#[derive(Debug, Clone, PartialEq)]
pub struct Waiting {
    /// Whose.
    pub boar: BoarFacts,
    /// Which.
    pub collection: Seen<Collection>,
    /// What was found so far; the latest.
    pub evaluation: Option<Seen<Evaluation>>,
}

/// Groups the boars for the instant `now_ms`. Boars who left are not listed; who is still in training
/// stands in the order of the training day ([`crate::training::group`]), not with those who may be collected.
pub fn today(barn: &Barn, now_ms: i64) -> Today {
    let (zone, holding) = (barn.zone_at(now_ms), barn.standard());
    let mut day = Today::default();
    for boar in barn.boars() {
        let standing = standing(&boar, &holding.standard, &zone, now_ms);
        let learns = || {
            let state = progress(&boar, &holding.standard, &zone, now_ms).state;
            matches!(
                state,
                State::Acclimatising { .. } | State::InTraining { .. }
            )
        };
        let group = match standing.answer {
            Answer::Yes if learns() => continue,
            Answer::Yes => &mut day.may,
            Answer::Rests(_) | Answer::ThirdInSeven(_) => &mut day.rest,
            Answer::Unknown(_) => &mut day.unknown,
            Answer::Off(..) | Answer::TooYoung(_) => &mut day.off,
            Answer::Gone => continue,
        };
        group.push((boar, standing));
    }
    // A boar who never worked has no last day and stands first: nobody has waited longer.
    day.may.sort_by_key(|(_, s)| s.spent_on.last().copied());
    day.rest.sort_by_key(|(_, s)| match s.answer {
        Answer::Rests(day) | Answer::ThirdInSeven(day) => Some(day),
        _ => None,
    });
    day
}

/// Groups the boars in regular use by when they are due, at the instant `now_ms`. Those who are off
/// collection, too young, in training or unknown stand in [`Today`] and in the order of the training
/// day, and nowhere here.
pub fn due_today(barn: &Barn, own: &Recoveries, now_ms: i64) -> DueToday {
    let (zone, holding) = (barn.zone_at(now_ms), barn.standard());
    let mut day = DueToday::default();
    for boar in barn.boars() {
        let recovery = own.get(&boar.id).copied();
        let standard = &holding.standard;
        let Some(due) = rhythm_of(&boar, recovery, standard, &zone, now_ms) else {
            continue;
        };
        let standing = standing(&boar, standard, &zone, now_ms);
        day.take(InUse {
            boar,
            standing,
            due,
        });
    }
    day.sort();
    day
}

/// Those of [`Today::may`] by when they are due, and beside them those of no regular days: who is
/// to be trained again. `own` says a boar's own recovery; it is asked of these boars alone, so that
/// a phone need not look at a whole herd.
pub fn may_by_rhythm(
    barn: &Barn,
    may: Vec<(BoarFacts, Standing)>,
    own: impl Fn(&BoarFacts) -> Option<Recovery>,
    now_ms: i64,
) -> (DueToday, Vec<(BoarFacts, Standing)>) {
    let (zone, holding) = (barn.zone_at(now_ms), barn.standard());
    let (mut day, mut others) = (DueToday::default(), vec![]);
    for (boar, standing) in may {
        match rhythm_of(&boar, own(&boar), &holding.standard, &zone, now_ms) {
            Some(due) => day.take(InUse {
                boar,
                standing,
                due,
            }),
            None => others.push((boar, standing)),
        }
    }
    day.due.sort_by_key(|b| by_number(&b.boar.number()));
    day.sort();
    (day, others)
}

impl DueToday {
    fn take(&mut self, boar: InUse) {
        let group = match boar.due.state {
            DueState::Idle(_) | DueState::CleanOut(_) => &mut self.idle,
            DueState::Late(_) => &mut self.late,
            DueState::Today => &mut self.due,
            DueState::NotDue if boar.standing.answer == Answer::Yes => &mut self.early,
            DueState::NotDue => &mut self.rest,
        };
        group.push(boar);
    }

    fn sort(&mut self) {
        self.idle.sort_by_key(|b| b.due.last);
        [&mut self.late, &mut self.early, &mut self.rest]
            .into_iter()
            .for_each(|group| group.sort_by_key(|b| b.due.day));
    }
}

/// The ejaculates that wait for the bench, oldest first: in the cup, no semen batch made of
/// them, not older than [`RAW_KEEPS_MS`], and not found unfit in the barn.
pub fn waiting(barn: &Barn, now_ms: i64) -> Vec<Waiting> {
    let mut list = vec![];
    for boar in barn.boars() {
        for collection in &boar.collections {
            let age_ms = now_ms - collection.at.ms();
            let used = boar.batches.iter().any(|b| {
                b.fact
                    .sources
                    .iter()
                    .any(|s| s.collection == collection.entry())
            });
            let waits = collection.fact.outcome == Outcome::Collected && !used;
            if waits && (-HOUR_MS..RAW_KEEPS_MS).contains(&age_ms) {
                list.push(Waiting {
                    evaluation: evaluation_of(&boar, collection),
                    collection: collection.clone(),
                    boar: boar.clone(),
                });
            }
        }
    }
    list.sort_by_key(|w| (w.collection.at.ms(), w.collection.order));
    list
}

/// The latest evaluation of a collection.
pub fn evaluation_of(boar: &BoarFacts, collection: &Seen<Collection>) -> Option<Seen<Evaluation>> {
    boar.evaluations
        .iter()
        .rev()
        .find(|e| e.fact.collection == collection.entry())
        .cloned()
}

/// The glove this person confirmed last on the farm's day of `now_ms`; none before the first.
pub fn glove_today(barn: &Barn, person: Option<PersonId>, now_ms: i64) -> Option<Glove> {
    let zone = barn.zone_at(now_ms);
    let today = zone.day(now_ms);
    let boars = barn.boars();
    let mine = boars
        .iter()
        .flat_map(|b| &b.collections)
        .filter(|c| c.person == person && zone.day(c.at.ms()) == today);
    mine.max_by_key(|c| c.order)
        .and_then(|c| c.fact.glove.value().copied())
}
