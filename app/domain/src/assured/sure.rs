//! How sure the figures of one ejaculate are: what is known of it, what stands in where nobody said.

use super::moments::Relative;
use crate::collection::{Amount, Collection};
use crate::counting::Errors;
use crate::doses::Ejaculate;
use crate::evaluation::{ConcentrationBy, Evaluation, Share};
use crate::farm::CountAs;
use crate::units::{BoundError, Cells, Count, ErrorPercent, Percent, SpreadPoints};
use serde::{Deserialize, Serialize};

/// The relative error of a volume that was weighed, in % (common practice, no source).
pub const WEIGHED_ERROR: f64 = 1.0;
/// The relative error of a volume read off a cylinder or cup, in % (common practice, no source).
pub const READ_ERROR: f64 = 2.0;
/// The relative error of a concentration read off an instrument of which nothing is known, in %
/// (common practice, no source).
pub const INSTRUMENT_ERROR: f64 = 10.0;
/// By how much a share judged by eye may be off, as one standard deviation in percentage points
/// (common practice, no source).
pub const BY_EYE_POINTS: f64 = 5.0;

/// How sure the figures of one ejaculate are. What is absent was not said: the defaults above hold.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Sureness {
    /// The volume was weighed, not read.
    pub weighed: bool,
    /// The relative error of the volume.
    pub volume_error: Option<ErrorPercent>,
    /// Sperm counted for the concentration, all replicates together; absent for an instrument.
    pub counted: Option<Count>,
    /// Dilution steps before counting; 1 unless said.
    pub dilution_steps: Option<u8>,
    /// Fillings of the chamber that were counted, all from one dilution; 1 unless said.
    pub fillings: Option<u8>,
    /// The relative error of the concentration: beside counting that of dilution and chamber
    /// together; of an instrument all of it.
    pub concentration_error: Option<ErrorPercent>,
    /// Cells looked at for motility; absent where it was judged by eye.
    pub motile_cells: Option<Cells>,
    /// How far motility by eye may be off; not read where cells were counted.
    pub motile_spread: Option<SpreadPoints>,
    /// Cells looked at for abnormal sperm; absent where it was judged by eye.
    pub abnormal_cells: Option<Cells>,
    /// How far abnormal sperm by eye may be off; not read where cells were counted.
    pub abnormal_spread: Option<SpreadPoints>,
}

/// Where an error comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Source {
    /// The volume: weigh it.
    Volume,
    /// The number of sperm counted: count on.
    Count,
    /// The dilution steps: fewer of them, with larger volumes.
    Dilution,
    /// The chamber, or chamber and dilution where their error was given in one: fill it anew.
    Chamber,
    /// The instrument: calibrate it against counts.
    Instrument,
    /// Motility: look at more cells.
    Motile,
    /// Abnormal sperm: look at more cells.
    Abnormal,
    /// Filling the doses: measure each.
    Filling,
}

/// One factor of the sperm in an ejaculate, and how it varies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Factor {
    /// A reading whose error is normal on the scale of its logarithm, with this standard deviation.
    LogNormal(f64),
    /// A count, as the gamma distribution of this shape that Jeffreys' prior leaves of it.
    Gamma(f64),
    /// A share, as the beta distribution that Jeffreys' prior leaves of it.
    Beta(f64, f64),
}

/// One ejaculate's sperm that count, as a product of independent factors; the instrument's is shared.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Product {
    /// Sperm in millions where each factor stands at its mean.
    pub(super) mean: f64,
    /// Sources and factors.
    pub(super) factors: Vec<(Source, Factor)>,
    /// Which of them rest on a default.
    pub(super) assumed: Vec<Source>,
}

/// With fewer than so many sperm or cells in any class the fitted distribution is not trusted.
const CLASS_AT_LEAST: f64 = 5.0;

impl Factor {
    pub(super) fn relative(self) -> Relative {
        match self {
            Self::LogNormal(sigma) => Relative::log_normal(sigma),
            Self::Gamma(shape) => Relative::gamma(shape),
            Self::Beta(a, b) => Relative::beta(a, b),
        }
    }

    /// Whether it rests on too few to be told by its moments.
    pub(super) fn few(self) -> bool {
        match self {
            Self::LogNormal(_) => false,
            Self::Gamma(shape) => shape < CLASS_AT_LEAST,
            Self::Beta(a, b) => a.min(b) < CLASS_AT_LEAST,
        }
    }
}

impl Sureness {
    /// What is recorded of how an ejaculate was measured.
    pub fn of(evaluation: Option<&Evaluation>, collection: &Collection) -> Self {
        let cells = |share: Option<Share>| Cells::new(share?.cells?.into()).ok();
        let by = evaluation.and_then(|e| e.concentration.as_ref());
        let few = |many: usize| u8::try_from(many).ok();
        let concentration = match by {
            Some(ConcentrationBy::Chamber {
                count, dilution, ..
            }) => Self {
                counted: Some(*count),
                dilution_steps: few(dilution.pipetted()),
                ..Self::default()
            },
            Some(ConcentrationBy::Counts {
                replicates,
                dilution,
                ..
            }) => Self {
                counted: Count::new(replicates.iter().map(|r| r.count.value()).sum()).ok(),
                dilution_steps: few(dilution.pipetted()),
                fillings: few(replicates.len()),
                ..Self::default()
            },
            Some(ConcentrationBy::Curve { relative_error, .. }) => Self {
                concentration_error: ErrorPercent::new(relative_error.value()).ok(),
                ..Self::default()
            },
            Some(ConcentrationBy::Instrument(_)) | None => Self::default(),
        };
        Self {
            weighed: matches!(collection.amount, Some(Amount::Mass { .. })),
            motile_cells: cells(evaluation.and_then(|e| e.motile)),
            abnormal_cells: cells(evaluation.and_then(|e| e.abnormal)),
            ..concentration
        }
    }

    /// The sperm of a measured ejaculate that count; none where a measurement is missing. An error
    /// where sperm were found of which none was counted.
    pub(super) fn product(
        &self,
        ejaculate: &Ejaculate,
        count_as: CountAs,
    ) -> Result<Option<Product>, BoundError> {
        let (Some(volume), Some(concentration)) = (ejaculate.volume, ejaculate.concentration)
        else {
            return Ok(None);
        };
        let mut product = Product {
            mean: volume.value() * concentration.value(),
            factors: vec![],
            assumed: vec![],
        };
        self.volume(&mut product);
        if product.mean > 0.0 {
            self.concentration(&mut product)?;
        }
        if count_as != CountAs::Total {
            let Some(motile) = ejaculate.motile else {
                return Ok(None);
            };
            let known = (self.motile_cells, self.motile_spread);
            product.share(Source::Motile, motile, known);
        }
        if count_as == CountAs::MotileNormal {
            let Some(abnormal) = ejaculate.abnormal else {
                return Ok(None);
            };
            let known = (self.abnormal_cells, self.abnormal_spread);
            product.share(Source::Abnormal, abnormal, known);
        }
        Ok(Some(product))
    }

    fn volume(&self, product: &mut Product) {
        let usual = match self.weighed {
            true => WEIGHED_ERROR,
            false => READ_ERROR,
        };
        product.read(Source::Volume, self.volume_error, usual);
    }

    fn concentration(&self, product: &mut Product) -> Result<(), BoundError> {
        let Some(counted) = self.counted else {
            product.read(
                Source::Instrument,
                self.concentration_error,
                INSTRUMENT_ERROR,
            );
            return Ok(());
        };
        let count = counted.number();
        if count <= 0.0 {
            return Err(BoundError {
                field: "sperm_counted",
                read: count,
                low: 1.0,
                high: Count::HIGH.into(),
                unit: "sperm",
            });
        }
        product.mean *= (count + 0.5) / count;
        product
            .factors
            .push((Source::Count, Factor::Gamma(count + 0.5)));
        if self.concentration_error.is_some() {
            product.read(Source::Chamber, self.concentration_error, 0.0);
            return Ok(());
        }
        let steps = f64::from(self.dilution_steps.unwrap_or(1));
        if steps > 0.0 {
            product.read(Source::Dilution, None, Errors::STEP_PERCENT * steps.sqrt());
        }
        let fillings = f64::from(self.fillings.unwrap_or(1).max(1));
        product.read(
            Source::Chamber,
            None,
            Errors::FILLING_PERCENT / fillings.sqrt(),
        );
        Ok(())
    }
}

impl Product {
    /// The relative error of the instrument it was read off, if it was: one for all that it read.
    pub(super) fn instrument(&self) -> Option<f64> {
        self.factors.iter().find_map(|row| match row {
            (Source::Instrument, Factor::LogNormal(sigma)) => Some(*sigma),
            _ => None,
        })
    }

    /// What varies apart from every other ejaculate.
    pub(super) fn own(&self) -> impl Iterator<Item = &(Source, Factor)> {
        self.factors
            .iter()
            .filter(|row| row.0 != Source::Instrument)
    }

    /// A reading whose error was said, or is the usual one.
    fn read(&mut self, source: Source, said: Option<ErrorPercent>, usual: f64) {
        let sigma = said.map_or(usual, ErrorPercent::value) / 100.0;
        if said.is_none() {
            self.assumed.push(source);
        }
        // What was read is the mean of what may be, not its middle: a larger error would else
        // raise the mean of a pool by more than it takes from its low end.
        self.factors.push((source, Factor::LogNormal(sigma)));
    }

    /// A share of cells, or one judged by eye: around what was judged, with the spread that was said
    /// or is usual.
    fn share(
        &mut self,
        source: Source,
        percent: Percent,
        (cells, spread): (Option<Cells>, Option<SpreadPoints>),
    ) {
        if cells.is_none() && spread.is_none() {
            self.assumed.push(source);
        }
        let p = percent.proportion();
        let (hit, missed) = match cells.map(Cells::number) {
            Some(n) => (n * p + 0.5, n * (1.0 - p) + 0.5),
            None => by_eye(p, spread.map_or(BY_EYE_POINTS, SpreadPoints::value) / 100.0),
        };
        // Abnormal sperm are what is left out.
        let (a, b) = match source {
            Source::Abnormal => (missed, hit),
            _ => (hit, missed),
        };
        self.mean *= a / (a + b);
        self.factors.push((source, Factor::Beta(a, b)));
    }
}

/// The beta distribution of this mean and standard deviation; at the ends, where there is none, as
/// wide as at 5 % and 95 %.
fn by_eye(p: f64, deviation: f64) -> (f64, f64) {
    let inside = p.clamp(0.05, 0.95);
    let n = (inside * (1.0 - inside) / (deviation * deviation) - 1.0).max(1.0);
    ((n * p).max(0.5), (n * (1.0 - p)).max(0.5))
}
