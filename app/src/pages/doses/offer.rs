//! What can be filled, told in words, with what nobody measured or looked for beside it.

use super::{Named, sure, unknown};
use crate::parts::Role;
use crate::tell;
use crate::words::{Arg, Key, Words, key};
use pentally_domain::barn::Holding;
use pentally_domain::doses::Missing;
use pentally_domain::extender::MIXING;
use pentally_domain::filling::{Barred, Fill, FillError, Filled, Filling, Odd};
use pentally_domain::id::EntryId;
use pentally_domain::reckon::{Confirmed, ReckonError, Temperatures};
use pentally_domain::serving::Serving;

/// What the page shows, and what saving would rest on.
pub(super) struct Offer {
    pub role: Role,
    pub headline: String,
    pub why: String,
    pub numbers: String,
    /// Something was not measured or looked for.
    pub unmeasured: bool,
    pub filling: Option<Filling>,
    /// What is odd, asked about where saving would stand.
    pub question: Option<String>,
    overdue: Option<String>,
    fresh: Option<String>,
    unknown: Vec<String>,
    named: Vec<String>,
    /// As it was measured, or as it is held.
    semen_c: f64,
}

impl Offer {
    pub(super) fn of(
        w: &Words,
        named: &[Named],
        holding: &Holding,
        (filled, doubt, semen): (Result<Filling, FillError>, Option<String>, Option<f64>),
        moment: impl Fn(i64) -> String,
    ) -> Self {
        let numbers: Vec<_> = named.iter().map(|n| n.number.clone()).collect();
        let unknown = unknown::unknown(w, named, holding);
        let unmeasured = !unknown.is_empty();
        let sure = if unmeasured {
            Role::Unknown
        } else {
            Role::Ready
        };
        let (role, headline, why) = match &filled {
            Ok(filling) => told(w, filling, &numbers, sure),
            Err(why) => (
                Role::Unknown,
                w.tr(key::DOSES_NONE),
                refused(w, why, &moment),
            ),
        };
        let fresh = |f: &Filling| f.extender_ready_at.map(|at| moment(at.ms()));
        let fresh = filled.as_ref().ok().and_then(fresh);
        let fresh = fresh.map(|when| one(w, key::DOSES_MIX_FRESH, "when", when));
        // Where it is one thing, it is said in the answer itself.
        let why = match &unknown[..] {
            [only] => format!("{why} {only}"),
            _ => why,
        };
        let (role, why) = match doubt {
            Some(says) if role == Role::Ready => (Role::Rest, format!("{why} {says}")),
            Some(says) => (role, format!("{why} {says}")),
            None => (role, why),
        };
        let apart = |f: &Filling| matches!(f.temperatures, Temperatures::Apart { .. });
        let role = match role {
            Role::Ready if filled.as_ref().is_ok_and(apart) => Role::Rest,
            role => role,
        };
        let filling = filled.ok();
        let question = filling.as_ref().and_then(|f| f.odd.first());
        let question = question.map(|it| whose(named, it.collection, odd(w, *it)));
        let overdue = filling.as_ref().and_then(|f| f.overdue).map(|raw| {
            let says = [
                ("span", w.span(raw.age_ms).into()),
                ("most", u32::from(MIXING.within_min).into()),
            ];
            let says = w.tr_with(key::DOSES_OVERDUE, &says);
            whose(named, Some(raw.collection), says)
        });
        Self {
            role,
            headline,
            why,
            numbers: numbers.join(" + "),
            unmeasured,
            filling,
            question,
            overdue,
            fresh,
            unknown: if unknown.len() == 1 { vec![] } else { unknown },
            named: numbers,
            semen_c: semen.unwrap_or(MIXING.semen_c),
        }
    }

    /// What matters before anything is poured.
    pub(super) fn cautions(&self, w: &Words) -> Vec<String> {
        let Some(filling) = &self.filling else {
            return vec![];
        };
        let uncounted = !filling.counted() && filling.fill.best().is_some();
        let mut list: Vec<_> = uncounted
            .then(|| w.tr(key::DOSES_UNCOUNTED))
            .into_iter()
            .chain(self.overdue.clone())
            .chain(self.fresh.clone())
            .collect();
        if let Temperatures::Apart { apart_c, at_most_c } = filling.temperatures {
            list.push(w.tr_with(
                key::DOSES_APART,
                &[
                    ("apart", w.num(apart_c, 1).into()),
                    ("most", w.num(at_most_c, 0).into()),
                ],
            ));
        }
        list
    }

    /// The rest, the most important first.
    pub(super) fn lines(&self, w: &Words, moment: impl Fn(i64) -> String) -> Vec<String> {
        let Some(filling) = &self.filling else {
            return vec![];
        };
        let mut lines = self.unknown.clone();
        lines.extend(shares(w, &self.named, &filling.shares_percent));
        lines.extend(filling.serving.iter().map(|serving| served(w, serving)));
        let Some(filled) = filling.fill.best() else {
            return lines;
        };
        lines.extend(mixing(w, &filled, filling, self.semen_c));
        let use_by = filling.kept.use_by;
        lines.extend(use_by.map(|at| one(w, key::DOSES_USE_BY, "when", moment(at.ms()))));
        lines
    }
}

/// Of a pool, the boar's number stands before what is said of his ejaculate.
fn whose(named: &[Named], collection: Option<EntryId>, says: String) -> String {
    let whose = named
        .iter()
        .find(|n| collection == Some(n.cup.collection))
        .filter(|_| named.len() > 1);
    match whose {
        Some(one) => format!("{}: {says}", one.number),
        None => says,
    }
}

/// Colour, headline, and how to fill or why not.
fn told(w: &Words, filling: &Filling, numbers: &[String], known: Role) -> (Role, String, String) {
    let doses = |filled: &Filled| w.tr_with(key::BATCH_DOSES, &[("n", filled.doses.into())]);
    match &filling.fill {
        Fill::Doses(filled) => {
            let beside = filling.assured.as_ref().map(|a| sure::beside(w, a));
            let why: Vec<_> = beside.into_iter().chain([each(w, filled)]).collect();
            (known, doses(filled), why.join(" "))
        }
        Fill::Thin(Some(filled)) => (
            Role::Rest,
            doses(filled),
            format!("{} {}", each(w, filled), w.tr(key::DOSES_THIN)),
        ),
        Fill::Thin(None) => (Role::Stop, w.tr(key::DOSES_NONE), w.tr(key::DOSES_POOL)),
        Fill::TooFew => {
            let none = filling.assured.as_ref().and_then(|a| sure::none(w, a));
            let why = none.unwrap_or_else(|| w.tr(key::DOSES_TOO_FEW));
            (Role::Stop, w.tr(key::DOSES_NONE), why)
        }
        Fill::Missing(missing) => {
            let what = missing.iter().map(|(at, what)| match numbers {
                [_] => w.tr(lacking(*what)),
                _ => format!(
                    "{} {}",
                    numbers.get(*at).map_or("", String::as_str),
                    w.tr(lacking(*what))
                ),
            });
            let what = what.collect::<Vec<_>>().join(", ");
            let why = one(w, key::DOSES_LACKS, "what", what);
            (Role::Unknown, w.tr(key::DOSES_NOT_RECKONED), why)
        }
    }
}

fn refused(w: &Words, why: &FillError, moment: impl Fn(i64) -> String) -> String {
    match why {
        FillError::Barred(_, why) => barred(w, why),
        FillError::OneAtATime => w.tr(key::DOSES_ONE_AT_A_TIME),
        // Of what the table asks, only how many are poured together has a bound of its own.
        FillError::Reckon(ReckonError::Bound(bound)) if bound.field == "ejaculates" => {
            one(w, key::DOSES_POOL_MANY, "n", w.num(bound.high, 0))
        }
        FillError::ExtenderPast { since, .. } => {
            one(w, key::DOSES_MIX_PAST, "when", moment(since.ms()))
        }
        FillError::Reckon(_) => w.tr(key::DOSES_REFUSED),
    }
}

/// Why an ejaculate may not be poured together with others.
pub(super) fn barred(w: &Words, why: &Barred) -> String {
    match why {
        Barred::Unfit(verdict) => tell::verdict(w, verdict, true).why.join(" "),
        Barred::NotMeasured(missing) => {
            let what: Vec<_> = missing.iter().map(|m| w.tr(lacking(*m))).collect();
            one(w, key::DOSES_NOT_MEASURED, "what", what.join(", "))
        }
    }
}

const fn lacking(what: Missing) -> Key {
    match what {
        Missing::Volume => key::FINDING_VOLUME,
        Missing::Concentration => key::FINDING_CONCENTRATION,
        Missing::Motility => key::FINDING_MOTILITY,
        Missing::Abnormal => key::FINDING_ABNORMAL,
    }
}

pub(super) fn one(w: &Words, says: Key, name: &'static str, value: impl Into<Arg>) -> String {
    w.tr_with(says, &[(name, value.into())])
}

fn each(w: &Words, filled: &Filled) -> String {
    let ml = |value: f64| w.num(value, 0).into();
    if filled.extender_ml > 0.0 {
        let args = [
            ("ml", ml(filled.dose_ml)),
            ("extender", ml(filled.extender_ml)),
        ];
        w.tr_with(key::DOSES_FILL, &args)
    } else {
        one(w, key::DOSES_FILL_PURE, "ml", w.num(filled.dose_ml, 0))
    }
}

/// How to fill, in the order in which it is done.
fn mixing(w: &Words, filled: &Filled, filling: &Filling, semen_c: f64) -> Vec<String> {
    let ml = |value: f64| w.num(value, 0);
    let semen = w.num(semen_c, u8::from(semen_c.fract() != 0.0));
    let mut lines = vec![];
    if filled.extender_ml > 0.0 {
        let pour = [
            ("extender", ml(filled.extender_ml).into()),
            ("semen", semen.into()),
            ("apart", w.num(MIXING.apart_at_most_c, 0).into()),
        ];
        lines.push(w.tr_with(key::DOSES_POUR, &pour));
        let store = [
            ("store", w.num(MIXING.store_at_c, 0).into()),
            ("turns", MIXING.turns_a_day.into()),
        ];
        lines.push(w.tr_with(key::DOSES_STORE, &store));
    } else if filling.kept.extender.is_none() {
        lines.push(one(w, key::DOSES_WARM, "semen", w.num(MIXING.semen_c, 0)));
    }
    if filled.semen_left_ml >= 0.5 {
        lines.push(one(w, key::DOSES_LEFT, "ml", ml(filled.semen_left_ml)));
    }
    let density = filled.final_m_per_ml;
    lines.extend(density.map(|m| one(w, key::DOSES_FINAL, "m", w.num(m, 1))));
    lines
}

/// "105 60 %, 112 40 %": by boar, who may have given more than one of the ejaculates.
pub(in crate::pages) fn shared(w: &Words, numbers: &[String], percent: &[f64]) -> String {
    let mut of: Vec<(&str, f64)> = vec![];
    for (number, share) in numbers.iter().zip(percent) {
        match of.iter_mut().find(|(boar, _)| boar == number) {
            Some((_, sum)) => *sum += share,
            None => of.push((number, *share)),
        }
    }
    let says = |(number, share): &(&str, f64)| format!("{number} {} %", w.num(*share, 0));
    let list: Vec<_> = of.iter().map(says).collect();
    list.join(", ")
}

fn shares(w: &Words, numbers: &[String], percent: &[f64]) -> Option<String> {
    (!percent.is_empty()).then(|| {
        let list = shared(w, numbers, percent);
        one(w, key::DOSES_SHARES, "list", list)
    })
}

/// What the sows take, and who goes short or what is left over.
pub fn served(w: &Words, serving: &Serving) -> String {
    let needed = ("n", Arg::from(serving.needed));
    let Some(reach) = serving.reach else {
        return w.tr_with(key::DOSES_NEEDED, &[needed]);
    };
    if reach.short == 0 {
        return w.tr_with(key::DOSES_ENOUGH, &[needed, ("spare", reach.spare.into())]);
    }
    let short = [
        needed,
        ("short", reach.short.into()),
        ("sows", reach.sows_served.into()),
    ];
    let next = (reach.next_gets > 0).then(|| one(w, key::DOSES_NEXT, "n", reach.next_gets));
    let none =
        (reach.sows_without > 0).then(|| one(w, key::DOSES_WITHOUT, "n", reach.sows_without));
    let said: Vec<_> = [Some(w.tr_with(key::DOSES_SHORT, &short)), next, none]
        .into_iter()
        .flatten()
        .collect();
    said.join(" ")
}

/// The question about a figure outside its usual range.
fn odd(w: &Words, odd: Odd) -> String {
    let figure = |value: f64| {
        let decimals = if value.fract() == 0.0 { 0 } else { 2 };
        Arg::from(w.num(value, decimals))
    };
    let what = match odd.what {
        Confirmed::Age => {
            let hours = [("hours", figure(odd.read)), ("most", figure(odd.usual.1))];
            return w.tr_with(key::DOSES_ODD_AGE, &hours);
        }
        Confirmed::Temperatures => {
            return one(w, key::DOSES_ODD_APART, "apart", w.num(odd.read, 1));
        }
        Confirmed::Volume => key::COLLECT_AMOUNT_ML,
        Confirmed::Concentration => key::MEASURE_CONCENTRATION,
        Confirmed::DoseVolume => key::DOSES_VOLUME,
        Confirmed::SemenTemperature => key::DOSES_SEMEN_C,
        Confirmed::ExtenderTemperature => key::DOSES_EXTENDER_C,
        Confirmed::Target | Confirmed::Technique | Confirmed::CountAs => key::DOSES_TARGET,
    };
    let asked = if odd.usual.0 == odd.usual.1 {
        key::DOSES_ODD_ONE
    } else {
        key::DOSES_ODD
    };
    w.tr_with(
        asked,
        &[
            ("what", w.tr(what).into()),
            ("read", figure(odd.read)),
            ("unit", odd.unit.into()),
            ("low", figure(odd.usual.0)),
            ("high", figure(odd.usual.1)),
        ],
    )
}
