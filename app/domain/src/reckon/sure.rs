//! How sure the figures of an ejaculate are, as a request says it.

use super::checked;
use crate::assured::Sureness;
use crate::counting::Dilution;
use crate::evaluation::ConcentrationBy;
use crate::units::{BoundError, Cells, Count, ErrorPercent, SpreadPoints, within};
use serde::{Deserialize, Serialize};

/// What is known of how an ejaculate was measured; what is absent was not said.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct SureAsked {
    /// The volume was weighed: its error is 1 % unless said, else 2 %.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub weighed: bool,
    /// The relative error of the volume in %, as one standard deviation.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub volume_error_percent: Option<f64>,
    /// Sperm counted for the concentration, all replicates together; absent for an instrument.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sperm_counted: Option<u32>,
    /// Dilution steps before counting; 1 unless said. Each errs by 4.7 %.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub dilution_steps: Option<u32>,
    /// Fillings of the chamber counted, all from one dilution; 1 unless said. Each errs by 4.6 %.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fillings: Option<u32>,
    /// The relative error of the concentration in %: beside counting that of dilution and chamber
    /// together, in place of what these are reckoned with; of an instrument all of it (10 % unless said).
    #[serde(skip_serializing_if = "Option::is_none")]
    pub concentration_error_percent: Option<f64>,
    /// Cells looked at for motility; absent where it was judged by eye.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub motile_cells: Option<u32>,
    /// How far motility by eye may be off, as one standard deviation in points; 5 unless said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub motile_spread_points: Option<f64>,
    /// Cells looked at for abnormal sperm; absent where it was judged by eye.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub abnormal_cells: Option<u32>,
    /// How far abnormal sperm by eye may be off, as for motility.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub abnormal_spread_points: Option<f64>,
}

impl SureAsked {
    /// Checked.
    pub(super) fn sureness(&self) -> Result<Sureness, BoundError> {
        let error = |field, read| checked(field, read, ErrorPercent::new);
        let cells = |field, read| checked(field, read, Cells::new);
        let spread = |field, read| checked(field, read, SpreadPoints::new);
        let concentration = self.concentration_error_percent;
        Ok(Sureness {
            weighed: self.weighed,
            volume_error: error("volume_error_percent", self.volume_error_percent)?,
            counted: checked("sperm_counted", self.sperm_counted, Count::new)?,
            dilution_steps: checked("dilution_steps", self.dilution_steps, steps)?,
            fillings: checked("fillings", self.fillings, fillings)?,
            concentration_error: error("concentration_error_percent", concentration)?,
            motile_cells: cells("motile_cells", self.motile_cells)?,
            motile_spread: spread("motile_spread_points", self.motile_spread_points)?,
            abnormal_cells: cells("abnormal_cells", self.abnormal_cells)?,
            abnormal_spread: spread("abnormal_spread_points", self.abnormal_spread_points)?,
        })
    }
}

impl From<Sureness> for SureAsked {
    fn from(sure: Sureness) -> Self {
        Self {
            weighed: sure.weighed,
            volume_error_percent: sure.volume_error.map(Into::into),
            sperm_counted: sure.counted.map(Into::into),
            dilution_steps: sure.dilution_steps.map(Into::into),
            fillings: sure.fillings.map(Into::into),
            concentration_error_percent: sure.concentration_error.map(Into::into),
            motile_cells: sure.motile_cells.map(Into::into),
            motile_spread_points: sure.motile_spread.map(Into::into),
            abnormal_cells: sure.abnormal_cells.map(Into::into),
            abnormal_spread_points: sure.abnormal_spread.map(Into::into),
        }
    }
}

fn steps(read: u32) -> Result<u8, BoundError> {
    few(read, "dilution_steps", 0, Dilution::STEPS_HIGH, "steps")
}

fn fillings(read: u32) -> Result<u8, BoundError> {
    few(
        read,
        "fillings",
        1,
        ConcentrationBy::REPLICATES_HIGH,
        "fillings",
    )
}

fn few(
    read: u32,
    field: &'static str,
    low: usize,
    high: usize,
    unit: &'static str,
) -> Result<u8, BoundError> {
    let many = u8::try_from(read).unwrap_or(u8::MAX);
    within(field, read.into(), low as f64..=high as f64, unit).map(|_| many)
}
