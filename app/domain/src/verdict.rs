//! May this ejaculate be used? Each rule with its reason and margin. What was not measured passes
//! no rule, and what nobody looked for was not ruled out.

use crate::collection::{Collection, Glove, Trouble};
use crate::counting::wilson;
use crate::evaluation::{Colour, ConcentrationBy, Evaluation, Share, Smell};
use crate::explain::{Explained, Origin, Printed, Term};
use crate::farm::Standard;
use crate::units::{BoundError, Cells, Concentration, MotilityLimit, Percent};
use serde::{Deserialize, Serialize};

mod standing;

pub use standing::{CELLS_AFTER_EYE, Doubt, Standing};

/// The limits an ejaculate is held against. Motility cannot be set at or below the hard floor of 60 %.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits {
    /// Motile at least. Default 70.
    pub motile_at_least: MotilityLimit,
    /// Abnormal at most. Default 30 (from memory).
    pub abnormal_at_most: Percent,
    /// Droplets at most. Default 15 (from memory; sources conflict).
    pub droplets_at_most: Percent,
}

/// What was measured; absent means not measured.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Measured {
    /// Motile.
    pub motile: Option<Share>,
    /// Abnormal.
    pub abnormal: Option<Share>,
    /// With droplets.
    pub droplets: Option<Share>,
}

/// What was looked for, and whether it was there; absent means nobody said.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Seen {
    /// A latex glove touched boar or cup.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub latex: Option<bool>,
    /// Blood.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub blood: Option<bool>,
    /// Pus.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pus: Option<bool>,
    /// Urine.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub urine: Option<bool>,
    /// A foul smell.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub foul_smell: Option<bool>,
}

/// A rule or a finding that speaks about use.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Reason {
    /// Motility.
    Motility,
    /// Abnormal sperm.
    Abnormal,
    /// Droplets.
    Droplets,
    /// A latex glove, which kills sperm (common practice, no source).
    Latex,
    /// Blood.
    Blood,
    /// Pus.
    Pus,
    /// Urine.
    Urine,
    /// A foul smell.
    FoulSmell,
}

/// How one rule fell out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Judged {
    /// The rule: motility, abnormal or droplets.
    pub rule: Reason,
    /// Its limit in %.
    pub limit_percent: f64,
    /// The outcome.
    pub outcome: Outcome,
    /// The margin, and the interval where cells were counted.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub figures: Vec<Explained>,
    /// The chance that the true share misses the limit; absent where nobody measured it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub misses_chance: Option<Explained>,
    /// What that chance comes to; see [`Judged::standing`].
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub standing: Option<Standing>,
    /// Where it is doubtful: so many cells more would leave no doubt, if the share stayed as it is.
    /// Absent also where counting on does not help.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub more_cells: Option<u16>,
}

/// The outcome of one rule. Margins are in points of percent, never negative.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Outcome {
    /// Kept, with so much to spare.
    Pass {
        /// To spare.
        margin: f64,
        /// The 95 % interval of the share reaches across the limit.
        close: bool,
    },
    /// Missed, by so much.
    Fail {
        /// Missing.
        margin: f64,
        /// The 95 % interval of the share reaches across the limit.
        close: bool,
    },
    /// Nobody measured it.
    NotMeasured,
}

/// The whole.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Overall {
    /// Everything was measured and looked for, and nothing speaks against use.
    Use,
    /// Not to be used.
    DoNotUse {
        /// Every reason.
        reasons: Vec<Reason>,
    },
    /// Nothing speaks against use, but not everything was measured and looked for.
    NotMeasured {
        /// What is missing.
        missing: Vec<Reason>,
    },
}

/// The verdict on one ejaculate.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Verdict {
    /// The whole.
    pub overall: Overall,
    /// Rule by rule: motility, abnormal, droplets.
    pub rules: Vec<Judged>,
    /// The boar goes off collection and the veterinarian is called: blood or pus.
    pub off_collection_and_veterinarian: bool,
}

impl Default for Limits {
    fn default() -> Self {
        Self {
            motile_at_least: MotilityLimit::SEVENTY,
            abnormal_at_most: Percent::of(30),
            droplets_at_most: Percent::of(15),
        }
    }
}

impl Limits {
    /// The limits of a farm standard; an error where it asks 60 % motility or less.
    pub fn of(standard: &Standard) -> Result<Self, BoundError> {
        let motile = MotilityLimit::new(standard.motility_at_least.value());
        Ok(Self {
            motile_at_least: motile.map_err(|e| e.named("motility_at_least"))?,
            abnormal_at_most: standard.abnormal_at_most,
            droplets_at_most: standard.droplets_at_most,
        })
    }
}

impl Seen {
    /// What barn and bench say together. Pink semen is blood; a smell, once named, answers for
    /// foulness, and urine can be smelt as well as seen.
    pub fn of(collection: &Collection, evaluation: Option<&Evaluation>) -> Self {
        let smell = evaluation.and_then(|e| e.smell);
        let pink = evaluation.and_then(|e| e.colour) == Some(Colour::Pink);
        let bled = collection.trouble.contains(&Trouble::Blood);
        Self {
            latex: collection.glove.value().map(|glove| *glove == Glove::Latex),
            blood: if bled || pink {
                Some(true)
            } else {
                evaluation.and_then(|e| e.blood)
            },
            pus: evaluation.and_then(|e| e.pus),
            urine: if smell == Some(Smell::Urine) {
                Some(true)
            } else {
                evaluation.and_then(|e| e.urine)
            },
            foul_smell: smell.map(|smell| smell == Smell::Foul),
        }
    }

    fn each(self) -> [(Reason, Option<bool>); 5] {
        [
            (Reason::Latex, self.latex),
            (Reason::Blood, self.blood),
            (Reason::Pus, self.pus),
            (Reason::Urine, self.urine),
            (Reason::FoulSmell, self.foul_smell),
        ]
    }
}

impl Measured {
    /// What an evaluation says.
    pub fn of(evaluation: &Evaluation) -> Self {
        Self {
            motile: evaluation.motile,
            abnormal: evaluation.abnormal,
            droplets: evaluation.droplets,
        }
    }
}

/// Judges one ejaculate as barn and bench recorded it, under the farm's standard.
pub fn judge(
    collection: &Collection,
    evaluation: Option<&Evaluation>,
    standard: &Standard,
) -> Verdict {
    // A standard at or below the floor is refused as an entry; should one arrive, the default holds.
    let limits = Limits::of(standard).unwrap_or_default();
    let measured = evaluation.map(Measured::of).unwrap_or_default();
    hold(
        &measured,
        Seen::of(collection, evaluation),
        &limits,
        &Origin::Asked,
        &Origin::Asked,
    )
}

/// The concentration an evaluation found, counted or read off an instrument; none where nobody
/// measured it, or where the count exceeds what can be.
pub fn concentration(evaluation: &Evaluation) -> Option<Concentration> {
    match evaluation.concentration.as_ref()? {
        ConcentrationBy::Instrument(read)
        | ConcentrationBy::Curve {
            concentration: read,
            ..
        } => Some(*read),
        by => by
            .counted(&Origin::Asked)?
            .ok()
            .map(|found| found.concentration),
    }
}

/// Holds measurements and findings against limits, in doubt by default. `bench` is the record of the
/// measurements, `standard` that of the limits.
pub fn hold(
    measured: &Measured,
    seen: Seen,
    limits: &Limits,
    bench: &Origin,
    standard: &Origin,
) -> Verdict {
    hold_under(measured, seen, limits, &Doubt::default(), (bench, standard))
}

/// Holds measurements and findings against limits; `from` is the record of the measurements and that
/// of the limits.
pub fn hold_under(
    measured: &Measured,
    seen: Seen,
    limits: &Limits,
    doubt: &Doubt,
    from: (&Origin, &Origin),
) -> Verdict {
    let motile = limits.motile_at_least.percent();
    let rules = [
        (Reason::Motility, measured.motile, motile),
        (Reason::Abnormal, measured.abnormal, limits.abnormal_at_most),
        (Reason::Droplets, measured.droplets, limits.droplets_at_most),
    ]
    .map(|(reason, share, limit)| match share {
        None => unmeasured(reason, limit),
        Some(share) => rule(reason, share, limit, doubt, from),
    });
    let rules = Vec::from(rules);
    let off = seen.blood == Some(true) || seen.pus == Some(true);
    Verdict {
        overall: overall(&rules, seen),
        rules,
        off_collection_and_veterinarian: off,
    }
}

fn overall(rules: &[Judged], seen: Seen) -> Overall {
    let failed = rules
        .iter()
        .filter(|r| matches!(r.outcome, Outcome::Fail { .. }))
        .map(|r| r.rule);
    let found = seen
        .each()
        .into_iter()
        .filter(|f| f.1 == Some(true))
        .map(|f| f.0);
    let reasons: Vec<_> = failed.chain(found).collect();
    let unmeasured = rules
        .iter()
        .filter(|r| r.outcome == Outcome::NotMeasured)
        .map(|r| r.rule);
    let unseen = seen
        .each()
        .into_iter()
        .filter(|f| f.1.is_none())
        .map(|f| f.0);
    let missing: Vec<_> = unmeasured.chain(unseen).collect();
    match (reasons.is_empty(), missing.is_empty()) {
        (false, _) => Overall::DoNotUse { reasons },
        (true, false) => Overall::NotMeasured { missing },
        (true, true) => Overall::Use,
    }
}

fn unmeasured(rule: Reason, limit: Percent) -> Judged {
    Judged {
        rule,
        limit_percent: limit.value(),
        outcome: Outcome::NotMeasured,
        figures: vec![],
        misses_chance: None,
        standing: None,
        more_cells: None,
    }
}

fn rule(
    rule: Reason,
    share: Share,
    held_to: Percent,
    doubt: &Doubt,
    (bench, standard): (&Origin, &Origin),
) -> Judged {
    let limit = held_to.value();
    let read = share.percent.value();
    let (formula, spare) = if rule == Reason::Motility {
        ("share_percent - limit_percent", read - limit)
    } else {
        ("limit_percent - share_percent", limit - read)
    };
    let margin = Explained::new(Term::Margin, "%", formula, Printed::FarmStandard)
        .with(Term::Share, read, "%", bench.clone())
        .with(Term::Limit, limit, "%", standard.clone());
    let mut figures = vec![margin.is(spare)];
    let cells = share.cells.and_then(|cells| Cells::new(cells.into()).ok());
    figures.extend(
        cells
            .into_iter()
            .flat_map(|cells| wilson(share.percent, cells, bench)),
    );
    let close =
        matches!(&figures[1..], [low, high] if low.number() < limit && limit < high.number());
    let outcome = if spare >= 0.0 {
        Outcome::Pass {
            margin: spare,
            close,
        }
    } else {
        Outcome::Fail {
            margin: -spare,
            close,
        }
    };
    let chance = standing::misses(rule, share, held_to, doubt, (bench, standard));
    Judged {
        rule,
        limit_percent: limit,
        outcome,
        figures,
        standing: Some(doubt.standing(chance.number())),
        misses_chance: Some(chance),
        more_cells: standing::more_cells(rule, share, held_to, doubt),
    }
}

#[cfg(test)]
mod tests;
