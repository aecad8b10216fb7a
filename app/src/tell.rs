//! Facts and answers of the domain, told in the words of the catalogue.

#[cfg(feature = "office")]
mod bench;
#[cfg(feature = "office")]
mod care;
mod climate;
mod due;
#[cfg(feature = "office")]
mod instrument;
#[cfg(feature = "office")]
mod laboratory;
mod lesson;
mod output;
mod refused;
mod tapped;
mod training;

use crate::parts::Role;
use crate::words::{Key, Words, key};
#[cfg(feature = "office")]
pub use bench::{count_more, doubts, misses, verdict_at_bench};
#[cfg(feature = "office")]
pub use care::{found, look_at, thing, work};
use chrono::{NaiveDate, Timelike};
#[cfg(feature = "office")]
pub use climate::{air, band, spell};
pub use climate::{cool, lower};
pub use due::{due, due_why, time_off};
#[cfg(feature = "office")]
pub use instrument::{curve_error, drift, reading, refusal};
#[cfg(feature = "office")]
pub use laboratory::{extender_class, mix_state, water};
pub use lesson::{early, lure, mishap, score, touch, trained, trained_how};
pub use output::{amount, changed, cull, expected, measure};
#[cfg(feature = "office")]
pub use output::{answer, cause, look_next, look_next_herd, range};
use pentally_domain::barn::{Barn, BoarFacts, Seen};
use pentally_domain::boar::OffReason;
use pentally_domain::check::{self, Thing, checks};
use pentally_domain::collection::{Collection, Outcome};
use pentally_domain::doses::Technique;
use pentally_domain::rest::health::Ends;
use pentally_domain::rest::{Answer, Gap, Standing};
use pentally_domain::time::Zone;
use pentally_domain::verdict::{self, Judged, Overall, Reason, Verdict};
pub use refused::refused;
pub use tapped::{despite, glove, go, mount, ready, step, temper, trouble};
pub use training::{advice, pupil, pupil_first, turn};

/// A standing in words: the shape and colour, one or two words, and why.
pub struct Told {
    /// The colour and shape.
    pub role: Role,
    /// One or two words.
    pub headline: String,
    /// The reasons, the deciding one first.
    pub why: Vec<String>,
}

/// Tells whether a boar may be collected.
pub fn standing(w: &Words, standing: &Standing, gone_on: Option<NaiveDate>) -> Told {
    let day = |d: NaiveDate| w.near_day(d, standing.today);
    let on = |key: Key, d: NaiveDate| w.tr_with(key, &[("day", day(d).into())]);
    let worked = || worked(w, standing);
    let (role, headline, mut why) = match standing.answer {
        Answer::Yes => (
            Role::Ready,
            w.tr(key::STAND_YES),
            vec![last_worked(w, standing)],
        ),
        Answer::Rests(until) => (Role::Rest, on(key::STAND_RESTS, until), worked()),
        Answer::ThirdInSeven(until) => (Role::Rest, on(key::STAND_THIRD, until), worked()),
        Answer::Off(reason, until) => (
            Role::Stop,
            w.tr(key::STAND_OFF),
            vec![time_off(
                w,
                reason,
                Ends::after(reason, until),
                standing.today,
            )],
        ),
        Answer::TooYoung(until) => (
            Role::Stop,
            w.tr(key::STAND_YOUNG),
            vec![on(key::STAND_YOUNG_WHY, until)],
        ),
        Answer::Unknown(gap) => (
            Role::Unknown,
            w.tr(key::STAND_UNKNOWN),
            vec![w.tr(gap_key(gap))],
        ),
        Answer::Gone => {
            let why = gone_on.map(|d| on(key::STAND_GONE_WHY, d));
            (Role::Stop, w.tr(key::STAND_GONE), why.into_iter().collect())
        }
    };
    if standing.repeating && standing.answer == Answer::Yes {
        why.push(w.tr(key::STAND_YES_PRACTICE));
    }
    why.extend(idle(w, standing));
    if !standing.doubles.is_empty() {
        why.push(w.tr(key::STAND_DOUBLE));
    }
    Told {
        role,
        headline,
        why,
    }
}

/// For how long he was not used, where it is too long.
pub fn idle(w: &Words, standing: &Standing) -> Option<String> {
    let idle = standing.idle?;
    let key = if idle.clean_out {
        key::STAND_IDLE_CLEAN_OUT
    } else {
        key::STAND_IDLE_CHECK
    };
    Some(w.tr_with(key, &[("n", idle.days.into())]))
}

fn last_worked(w: &Words, standing: &Standing) -> String {
    match standing.spent_on.last() {
        Some(day) => w.tr_with(
            key::STAND_YES_LAST,
            &[("day", w.near_day(*day, standing.today).into())],
        ),
        None => w.tr(key::STAND_YES_NEVER),
    }
}

fn worked(w: &Words, standing: &Standing) -> Vec<String> {
    let week = standing
        .spent_on
        .iter()
        .filter(|d| (standing.today - **d).num_days() < 7);
    let days: Vec<_> = week.map(|d| w.near_day(*d, standing.today)).collect();
    if days.is_empty() {
        return vec![last_worked(w, standing)];
    }
    vec![w.tr_with(key::STAND_WORKED, &[("days", days.join(", ").into())])]
}

const fn gap_key(gap: Gap) -> Key {
    match gap {
        Gap::Boar => key::STAND_UNKNOWN_BOAR,
        Gap::History => key::STAND_UNKNOWN_HISTORY,
        Gap::Age => key::STAND_UNKNOWN_AGE,
        Gap::Clock => key::STAND_UNKNOWN_CLOCK,
    }
}

/// The reason a boar is off collection.
pub const fn off_reason(reason: OffReason) -> Key {
    match reason {
        OffReason::Ill => key::OFF_ILL,
        OffReason::Lame => key::OFF_LAME,
        OffReason::Fever => key::OFF_FEVER,
        OffReason::Treated => key::OFF_TREATED,
        OffReason::Injured => key::OFF_INJURED,
        OffReason::Isolation => key::OFF_ISOLATION,
        OffReason::BloodOrPus => key::OFF_BLOOD_OR_PUS,
        OffReason::Cull => key::OFF_CULL,
        OffReason::Other => key::OFF_OTHER,
    }
}

/// What came of a collection, in a few words.
pub fn collected(w: &Words, c: &Collection) -> String {
    let what = match c.outcome {
        Outcome::NothingKept => w.tr(key::COLLECTED_NOTHING_KEPT),
        Outcome::NoMount => w.tr(key::COLLECTED_NO_MOUNT),
        Outcome::Collected => match c.volume() {
            Some(v) => w.tr_with(key::COLLECTED_VOLUME, &[("ml", w.num(v.value(), 0).into())]),
            None => w.tr(key::COLLECTED_NO_VOLUME),
        },
    };
    let mut words = vec![what];
    words.extend(c.trouble.iter().map(|t| w.tr(trouble(*t)).to_lowercase()));
    if c.outcome == Outcome::Collected && c.forbids_use() {
        words.push(w.tr(key::COLLECTED_FORBIDDEN));
    }
    words.join(", ")
}

/// What went into the cup.
pub fn in_the_cup(w: &Words, c: &Collection) -> String {
    w.tr(match c.sperm_poor_in.value() {
        Some(true) => key::COLLECTED_RICH_AND_POOR,
        Some(false) => key::COLLECTED_RICH,
        None => key::COLLECTED_CUP_UNANSWERED,
    })
}

/// Dangers to people that his collections and his training tell of, latest first, each once.
pub fn dangers(w: &Words, boar: &BoarFacts, zone: &Zone, today: NaiveDate) -> Vec<String> {
    let collected = boar.collections.iter().flat_map(|c| {
        let dangers = c.fact.trouble.iter().filter(|t| t.is_danger());
        dangers.map(|t| (c.at.ms(), *t))
    });
    let trained = boar.trainings.iter().flat_map(|t| {
        let dangers = t.fact.mishaps.iter().filter_map(|m| m.danger());
        dangers.map(|d| (t.at.ms(), d))
    });
    let mut all: Vec<_> = collected.chain(trained).collect();
    all.sort_by_key(|(ms, _)| std::cmp::Reverse(*ms));
    let mut said = vec![];
    all.retain(|(_, t)| {
        let first = !said.contains(t);
        said.push(*t);
        first
    });
    let line = |(ms, t)| {
        let day = w.near_day(zone.day(ms), today);
        let what = w.tr(trouble(t));
        w.tr_with(
            key::BOAR_DANGER,
            &[("what", what.into()), ("day", day.into())],
        )
    };
    all.into_iter().map(line).collect()
}

/// What people can be hurt by where somebody found it not fine, in one line.
pub fn area(w: &Words, barn: &Barn, now_ms: i64) -> Option<String> {
    let mut all = checks(barn, now_ms);
    all.retain(|due| due.standing == check::Standing::NotFine);
    let names = all.iter().filter_map(|due| hazard(due.what));
    let names: Vec<_> = names.map(|key| w.tr(key)).collect();
    let args = [("what", names.join(", ").into())];
    (!names.is_empty()).then(|| w.tr_with(key::AREA_NOT_FINE, &args))
}

/// Its name, where people can be hurt by it: these are in the barn's half too.
const fn hazard(thing: Thing) -> Option<Key> {
    match thing {
        Thing::Footing => Some(key::THING_FOOTING),
        Thing::DummyStands => Some(key::THING_DUMMY_STANDS),
        Thing::WayOut => Some(key::THING_WAY_OUT),
        _ => None,
    }
}

/// "Thursday 06:05" in the farm's time; the date where it is longer ago.
pub fn moment(w: &Words, zone: &Zone, ms: i64, now_ms: i64) -> String {
    let time = zone.local(ms);
    let day = w.near_day(zone.day(ms), zone.day(now_ms));
    format!("{day} {:02}:{:02}", time.hour(), time.minute())
}

/// "by Ana", where somebody was picked and has a name.
pub fn by<T>(w: &Words, barn: &Barn, seen: &Seen<T>) -> Option<String> {
    let name = barn.name(seen.person?)?;
    Some(w.tr_with(key::BOAR_RECORDED_BY, &[("name", name.into())]))
}

/// A technique.
pub const fn technique(technique: Technique) -> Key {
    match technique {
        Technique::Intracervical => key::TECHNIQUE_INTRACERVICAL,
        Technique::PostCervical => key::TECHNIQUE_POST_CERVICAL,
        Technique::DeepUterine => key::TECHNIQUE_DEEP_UTERINE,
    }
}

/// The verdict on an ejaculate; `looked` is false while nobody has evaluated it.
pub fn verdict(w: &Words, verdict: &Verdict, looked: bool) -> Told {
    let (role, headline) = match &verdict.overall {
        Overall::Use => (Role::Ready, key::VERDICT_FIT),
        Overall::DoNotUse { .. } => (Role::Stop, key::VERDICT_UNFIT),
        Overall::NotMeasured { .. } if looked => (Role::Unknown, key::VERDICT_NOT_MEASURED),
        Overall::NotMeasured { .. } => (Role::Unknown, key::VERDICT_WAITS),
    };
    let mut why = vec![];
    if let Overall::DoNotUse { reasons } = &verdict.overall {
        why.extend(
            reasons
                .iter()
                .filter_map(|r| forbids(*r))
                .map(|key| w.tr(key)),
        );
    }
    if let (Overall::NotMeasured { missing }, true) = (&verdict.overall, looked) {
        let unseen: Vec<_> = missing
            .iter()
            .filter_map(|r| finding(*r))
            .map(|key| w.tr(key))
            .collect();
        if !unseen.is_empty() {
            why.push(w.tr_with(
                key::VERDICT_NOT_LOOKED,
                &[("what", unseen.join(", ").into())],
            ));
        }
    }
    why.extend(verdict.rules.iter().filter_map(|rule| judged(w, rule)));
    if verdict.off_collection_and_veterinarian {
        why.insert(0, w.tr(key::FORBIDS_VETERINARIAN));
    }
    Told {
        role,
        headline: w.tr(headline),
        why,
    }
}

const fn forbids(reason: Reason) -> Option<Key> {
    match reason {
        Reason::Latex => Some(key::FORBIDS_LATEX),
        Reason::Blood => Some(key::FORBIDS_BLOOD),
        Reason::Pus => Some(key::FORBIDS_PUS),
        Reason::Urine => Some(key::FORBIDS_URINE),
        Reason::FoulSmell => Some(key::FORBIDS_FOUL),
        Reason::Motility | Reason::Abnormal | Reason::Droplets => None,
    }
}

const fn finding(reason: Reason) -> Option<Key> {
    match reason {
        Reason::Latex => Some(key::FINDING_GLOVE),
        Reason::Blood => Some(key::FINDING_BLOOD),
        Reason::Pus => Some(key::FINDING_PUS),
        Reason::Urine => Some(key::FINDING_URINE),
        Reason::FoulSmell => Some(key::FINDING_SMELL),
        Reason::Motility | Reason::Abnormal | Reason::Droplets => None,
    }
}

/// One rule with its margin, or that nobody measured it.
fn judged(w: &Words, judged: &Judged) -> Option<String> {
    let (kept, missed, missing) = match judged.rule {
        Reason::Motility => (
            key::RULE_MOTILE_KEPT,
            key::RULE_MOTILE_MISSED,
            key::RULE_MOTILE_MISSING,
        ),
        Reason::Abnormal => (
            key::RULE_ABNORMAL_KEPT,
            key::RULE_ABNORMAL_MISSED,
            key::RULE_ABNORMAL_MISSING,
        ),
        Reason::Droplets => (
            key::RULE_DROPLETS_KEPT,
            key::RULE_DROPLETS_MISSED,
            key::RULE_DROPLETS_MISSING,
        ),
        _ => return None,
    };
    let said = |key, margin: f64, close| {
        let bound = w.num(judged.limit_percent, 0);
        let words = w.tr_with(
            key,
            &[("bound", bound.into()), ("margin", w.num(margin, 0).into())],
        );
        if close {
            format!("{words} {}", w.tr(key::RULE_CLOSE))
        } else {
            words
        }
    };
    Some(match judged.outcome {
        verdict::Outcome::Pass { margin, close } => said(kept, margin, close),
        verdict::Outcome::Fail { margin, close } => said(missed, margin, close),
        verdict::Outcome::NotMeasured => w.tr(missing),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn whatever_can_hurt_has_a_name_in_the_barn() {
        for what in Thing::ALL {
            assert_eq!(hazard(what).is_some(), what.is_danger(), "{what:?}");
        }
    }
}
