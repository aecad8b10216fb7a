//! Requests of the microscope: a count, whether two agree, a verdict.

use super::tally::{ChamberAsked, DoubtAsked, ErrorsAsked, FurtherAnswer, IntervalAnswer};
use super::{ReckonError, checked};
use crate::agreement::{Agreement, AgreementBy, Tally, counts_agree, percentages_agree};
use crate::counting::{Dilution, Disagreement, ErrorAsked, Replicate, count_in, further, interval};
use crate::evaluation::Share;
use crate::explain::{Explained, Origin};
use crate::units::{BoundError, Cells, Count, MotilityLimit, Percent, Squares};
use crate::verdict::{Limits, Measured, Seen, Verdict, hold_under};
use serde::{Deserialize, Serialize};

/// A count in a chamber, an improved Neubauer unless another is described.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CountAsked {
    /// Fillings of the chamber, 1 to 10.
    pub replicates: Vec<ReplicateAsked>,
    /// Steps of (parts of semen, parts of diluent); none: undiluted.
    #[serde(default)]
    pub dilution: Vec<(f64, f64)>,
    /// The record it is from.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from: Option<String>,
    /// The chamber, if it is no improved Neubauer.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub chamber: Option<ChamberAsked>,
    /// The errors of the bench; what is absent has its default.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub errors: Option<ErrorsAsked>,
    /// The error that counting is to reach, one standard deviation in %; 5 where absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub error_asked_percent: Option<f64>,
    /// By how much somebody says that it is diluted, to be held against the steps.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub said_factor: Option<f64>,
}

/// One filling.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ReplicateAsked {
    /// Sperm counted.
    pub count: u32,
    /// Squares they lay in, of 4 nL each in an improved Neubauer.
    pub squares: u32,
}

/// The concentration counted.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[allow(
    clippy::struct_excessive_bools,
    reason = "four remarks, each by itself"
)]
pub struct CountAnswer {
    /// In M/mL.
    pub concentration_m_per_ml: f64,
    /// Outside the printed range: ask once.
    pub improbable: bool,
    /// Fewer than 200 in some replicate.
    pub few: bool,
    /// Some replicate ended within a grid.
    pub part_grids: bool,
    /// Dilution, concentration, sampling error.
    pub figures: Vec<Explained>,
    /// Some replicate lay so close that sperm hide one another: dilute more.
    #[serde(default)]
    pub crowded: bool,
    /// The 95 % interval of the concentration and its parts.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub interval: Option<IntervalAnswer>,
    /// How much further to count.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub further: Option<FurtherAnswer>,
    /// The factor said is not what the steps come to.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub disagreement: Option<Disagreement>,
    /// The usual factor that the steps are easily taken for, and do not come to: 1 + 10 twice for 100.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub taken_for: Option<f64>,
}

/// Two replicates of one sample.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum AgreementAsked {
    /// Two counts over the same squares.
    Counts {
        /// One.
        first: u32,
        /// The other.
        second: u32,
    },
    /// Two shares.
    Percentages {
        /// One.
        first: TallyAsked,
        /// The other.
        second: TallyAsked,
    },
}

/// So many of so many cells.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TallyAsked {
    /// So many.
    pub hits: u32,
    /// Of so many.
    pub cells: u32,
}

/// Whether they agree.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct AgreementAnswer {
    /// They do.
    pub agree: bool,
    /// What decided.
    pub by: AgreementBy,
    /// Difference, then what it is held against.
    pub figures: Vec<Explained>,
}

/// Measurements and findings to be held against limits.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct VerdictAsked {
    /// Motile.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub motile: Option<ShareAsked>,
    /// Abnormal.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub abnormal: Option<ShareAsked>,
    /// With droplets.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub droplets: Option<ShareAsked>,
    /// What was looked for.
    pub seen: Seen,
    /// The farm's limits; what is absent has its default.
    pub limits: LimitsAsked,
    /// The record of the measurements.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub from: Option<String>,
    /// The record of the limits.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub standard_from: Option<String>,
    /// When an outcome is doubtful; what is absent has its default.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub doubt: Option<DoubtAsked>,
}

/// A share and, where cells were counted, how many.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ShareAsked {
    /// In %.
    pub percent: f64,
    /// Cells counted; absent when judged by eye.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cells: Option<u32>,
}

/// The farm's limits in %.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct LimitsAsked {
    /// Motile at least; above 60.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub motile_at_least: Option<f64>,
    /// Abnormal at most.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub abnormal_at_most: Option<f64>,
    /// With droplets at most.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub droplets_at_most: Option<f64>,
}

/// `count`
pub fn count(asked: &CountAsked) -> Result<CountAnswer, ReckonError> {
    super::fill::few("replicates", asked.replicates.len(), 1, 10)?;
    let dilution = Dilution::new(asked.dilution.clone())?;
    let replicate = |r: &ReplicateAsked| {
        Ok::<_, BoundError>(Replicate {
            count: Count::new(r.count).map_err(|e| e.named("count"))?,
            squares: Squares::new(r.squares).map_err(|e| e.named("squares"))?,
        })
    };
    let replicates: Vec<_> = asked
        .replicates
        .iter()
        .map(replicate)
        .collect::<Result<_, _>>()?;
    let from = Origin::of(asked.from.as_ref());
    let chamber = asked
        .chamber
        .map(ChamberAsked::checked)
        .transpose()?
        .unwrap_or_default();
    // Of a count that cannot be it is the count that is to be put right, else the concentration.
    let named = |e: BoundError| match e.field {
        "count" => e,
        _ => e.named("concentration_m_per_ml"),
    };
    let counted = count_in(&chamber, &replicates, &dilution, &from).map_err(named)?;
    let errors = asked.errors.unwrap_or_default().checked()?;
    let error_asked = asked.error_asked_percent.map(ErrorAsked::new).transpose()?;
    let found = interval(&chamber, &replicates, &dilution, &errors, &from)?;
    let more = further(
        &chamber,
        &replicates,
        &found,
        error_asked.unwrap_or_default(),
        &from,
    );
    let disagreement = asked
        .said_factor
        .map(|said| dilution.disagrees(said))
        .transpose()?;
    Ok(CountAnswer {
        concentration_m_per_ml: counted.concentration.value(),
        improbable: counted.concentration.improbable(),
        few: counted.few,
        part_grids: counted.part_grids,
        figures: counted.figures,
        crowded: counted.crowded,
        interval: Some(found.into()),
        further: Some(more.into()),
        disagreement: disagreement.flatten(),
        taken_for: dilution.taken_for(),
    })
}

/// `agreement`
pub fn agreement(asked: &AgreementAsked) -> Result<AgreementAnswer, ReckonError> {
    let Agreement { agree, by, figures } = match *asked {
        AgreementAsked::Counts { first, second } => {
            let first = Count::new(first).map_err(|e| e.named("first"))?;
            counts_agree(first, Count::new(second).map_err(|e| e.named("second"))?)
        }
        AgreementAsked::Percentages { first, second } => {
            percentages_agree(tally(first)?, tally(second)?)
        }
    };
    Ok(AgreementAnswer { agree, by, figures })
}

/// `verdict`
pub fn verdict(asked: &VerdictAsked) -> Result<Verdict, ReckonError> {
    let measured = Measured {
        motile: asked.motile.map(|s| share("motile", s)).transpose()?,
        abnormal: asked.abnormal.map(|s| share("abnormal", s)).transpose()?,
        droplets: asked.droplets.map(|s| share("droplets", s)).transpose()?,
    };
    let (limits, usual) = (&asked.limits, Limits::default());
    let motile = checked(
        "motile_at_least",
        limits.motile_at_least,
        MotilityLimit::new,
    )?;
    let abnormal = checked("abnormal_at_most", limits.abnormal_at_most, Percent::new)?;
    let droplets = checked("droplets_at_most", limits.droplets_at_most, Percent::new)?;
    let limits = Limits {
        motile_at_least: motile.unwrap_or(usual.motile_at_least),
        abnormal_at_most: abnormal.unwrap_or(usual.abnormal_at_most),
        droplets_at_most: droplets.unwrap_or(usual.droplets_at_most),
    };
    let bench = Origin::of(asked.from.as_ref());
    let standard = Origin::of(asked.standard_from.as_ref());
    let doubt = asked.doubt.unwrap_or_default().checked()?;
    let from = (&bench, &standard);
    Ok(hold_under(&measured, asked.seen, &limits, &doubt, from))
}

pub(super) fn tally(asked: TallyAsked) -> Result<Tally, BoundError> {
    let hits = Count::new(asked.hits).map_err(|e| e.named("hits"))?;
    Tally::new(hits, Cells::new(asked.cells).map_err(|e| e.named("cells"))?)
}

fn share(field: &'static str, asked: ShareAsked) -> Result<Share, BoundError> {
    let cells = checked("cells", asked.cells, Cells::new)?;
    let percent = Percent::new(asked.percent).map_err(|e| e.named(field))?;
    Ok(Share {
        percent,
        cells: cells.map(Cells::value),
    })
}
