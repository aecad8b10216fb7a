//! Doses under uncertainty against other programs, against print, and against laws that hold for
//! all numbers.

use super::dice::Dice;
use super::*;
use crate::explain::Origin;
use crate::farm::CountAs;
use crate::units::{
    Cells, Concentration, Count, DoseVolumeMl, Percent, SpermBillions, SpreadPoints, VolumeMl,
};

mod laws;
mod outside;
mod print;
mod table;

fn percent(value: f64) -> Option<ErrorPercent> {
    ErrorPercent::new(value).ok()
}

fn ejaculate(ml: f64, m_per_ml: f64, motile: f64) -> Ejaculate {
    Ejaculate {
        volume: VolumeMl::new(ml).ok(),
        concentration: Concentration::new(m_per_ml).ok(),
        motile: Percent::new(motile).ok(),
        abnormal: Percent::new(10.0).ok(),
        ..Ejaculate::default()
    }
}

fn recipe(target: f64, dose_ml: f64) -> Recipe {
    Recipe {
        count_as: CountAs::Motile,
        target: SpermBillions::new(target).unwrap(),
        dose_volume: DoseVolumeMl::new(dose_ml).unwrap(),
        at_most: None,
        target_from: Origin::Default,
        dose_volume_from: Origin::Default,
    }
}

/// 400 sperm and 200 cells counted, the volume weighed.
fn counted() -> Sureness {
    Sureness {
        weighed: true,
        counted: Count::new(400).ok(),
        motile_cells: Cells::new(200).ok(),
        ..Sureness::default()
    }
}

fn ask(assurance: f64) -> Asked {
    Asked {
        assurance: Assurance::new(assurance).unwrap(),
        filling_error: None,
    }
}
