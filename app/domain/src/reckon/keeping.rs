//! The request about stored semen: looks at retained samples in, the day of the floor out.

use super::{ReckonError, checked};
use crate::agreement::Tally;
use crate::evaluation::Share;
use crate::explain::{Explained, Origin};
use crate::extender::{ExtenderClass, Keeping};
use crate::retained::day::{Day, UseBy, day, use_by};
use crate::retained::herd::{Herd, fit};
use crate::retained::lines::{Batch, Line, place};
use crate::retained::plain::{self, Fit, Refusal};
use crate::retained::{EyeCells, Floor, Look, Standing, standing};
use crate::time::Stamp;
use crate::units::{BoundError, Cells, Count, Percent, so_many};
use serde::{Deserialize, Serialize};

/// Batches of one boar at most, and looks at all of a request.
const BATCHES_HIGH: u8 = 50;
pub(crate) const OTHERS_HIGH: usize = 300;
pub(crate) const LOOKS_HIGH: usize = 3_000;

/// Looks at the batches of one boar (or one batch), and what is known of the herd.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct KeepingAsked {
    /// The extender's class; short unless said.
    pub extender: ExtenderClass,
    /// Days it is trusted for; the class's own unless said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub days: Option<u32>,
    /// The floor in %, 60 to 95; 60 unless said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub floor_percent: Option<f64>,
    /// Cells that a share judged by eye is worth, 1 to 200; 20 unless said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub eye_cells: Option<f64>,
    /// The boar's batches, 1 to 50.
    pub batches: Vec<BatchAsked>,
    /// The herd as a `keeping` answered before, fitted without these looks.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub herd: Option<Herd>,
    /// The batches of up to 300 other boars, from which to fit the herd; not together with `herd`. At
    /// most 3,000 looks in all.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub others: Vec<Vec<BatchAsked>>,
}

/// One batch.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct BatchAsked {
    /// The looks at its samples, in any order.
    pub looks: Vec<LookAsked>,
    /// When it was collected; the use-by is then a moment, too.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub collected_at: Option<Stamp>,
}

/// One look: `hits` of `cells`, or a `percent` judged by eye.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct LookAsked {
    /// Days since collection, 0 to 60.
    pub days: f64,
    /// Motile cells.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hits: Option<u32>,
    /// Cells looked at.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cells: Option<u32>,
    /// Motile in %, judged by eye.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub percent: Option<f64>,
    /// Warmed to 37 °C before; what was judged cold is left out of every fit.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub warmed: Option<bool>,
}

/// How long the batches keep.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct KeepingAnswer {
    /// The floor in %.
    pub floor_percent: f64,
    /// Hours that class and farm allow.
    pub hours_allowed: u16,
    /// The batches in the order asked.
    pub batches: Vec<BatchKept>,
    /// The boar's next batch.
    pub boar: BoarKept,
    /// What is known of the herd; where `others` were given, with all looks of this request in it.
    pub herd: Herd,
    /// Where that is from.
    pub herd_from: HerdFrom,
}

/// Where what is known of the herd is from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum HerdFrom {
    /// What is printed of the class, wide: nobody looked yet.
    Printed,
    /// Given in the request.
    Asked,
    /// Fitted to the looks of the request.
    Fitted,
}

/// One batch.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct BatchKept {
    /// What each look says by itself, in the order asked.
    pub looks: Vec<Standing>,
    /// The line through its looks alone.
    pub plain: PlainLine,
    /// Its line with boar and herd behind it: few looks lean on them.
    pub line: Line,
    /// The day by that line.
    pub day: Day,
    /// The use-by it suggests.
    pub use_by: UseBy,
    /// The same as a moment.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub use_by_at: Option<Stamp>,
    /// Wilson's intervals of the looks that were counted.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub figures: Vec<Explained>,
}

/// The boar.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct BoarKept {
    /// The line through the looks at all his batches alone.
    pub plain: PlainLine,
    /// The line of his next batch.
    pub line: Line,
    /// The day of his next batch.
    pub day: Day,
    /// The use-by it suggests.
    pub use_by: UseBy,
}

/// A line through looks alone, or why there is none; the other line stands in its place.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PlainLine {
    /// The line.
    Fitted(Fit),
    /// None.
    Refused(Refusal),
}

/// `keeping`
pub fn keeping(asked: &KeepingAsked) -> Result<KeepingAnswer, ReckonError> {
    super::fill::few("batches", asked.batches.len(), 1, BATCHES_HIGH)?;
    let floor = checked("floor_percent", asked.floor_percent, Floor::new)?.unwrap_or_default();
    let eye = checked("eye_cells", asked.eye_cells, EyeCells::new)?.unwrap_or_default();
    let kept = Keeping::new(Some(asked.extender), asked.days).map_err(|e| e.named("days"))?;
    let read: Vec<ReadBatch> = read_all(&asked.batches, eye, floor)?;
    let others: Vec<Vec<Batch>> = others(asked, eye, floor)?;
    let own: Vec<Batch> = read.iter().map(|b| b.looks.clone()).collect();
    let printed = Herd::printed(kept.class());
    let (placed, herd, herd_from) = match asked.herd {
        Some(herd) => {
            let herd = herd.checked()?;
            (place(&herd, &own)?, herd, HerdFrom::Asked)
        }
        None if others.is_empty() => (place(&printed, &own)?, printed, HerdFrom::Printed),
        None => {
            let boars: Vec<_> = std::iter::once(own.clone()).chain(others).collect();
            let mut fitted = fit(&printed, &boars)?;
            (fitted.boars.swap_remove(0), fitted.herd, HerdFrom::Fitted)
        }
    };
    // What others' samples say is shown; only looks at this boar's own shorten what may be used.
    let looked = own.iter().any(|looks| !looks.is_empty());
    let batches = read.into_iter().zip(&placed.batches).zip(&asked.batches);
    let batches = batches.map(|((batch, line), asked)| {
        let day = day(line, floor);
        let use_by = use_by(kept, &day, looked);
        Ok(BatchKept {
            plain: plain_line(&batch.looks),
            looks: batch.standings,
            line: *line,
            day,
            use_by,
            use_by_at: asked
                .collected_at
                .map(|at| moment(use_by, at))
                .transpose()?,
            figures: batch.figures,
        })
    });
    let batches = batches.collect::<Result<_, ReckonError>>()?;
    let day = day(&placed.next, floor);
    Ok(KeepingAnswer {
        floor_percent: floor.percent(),
        hours_allowed: u16::from(kept.days()) * 24,
        batches,
        boar: BoarKept {
            plain: plain_line(&own.concat()),
            line: placed.next,
            use_by: use_by(kept, &day, looked),
            day,
        },
        herd,
        herd_from,
    })
}

/// One batch as it is read.
struct ReadBatch {
    looks: Batch,
    standings: Vec<Standing>,
    figures: Vec<Explained>,
}

fn others(
    asked: &KeepingAsked,
    eye: EyeCells,
    floor: Floor,
) -> Result<Vec<Vec<Batch>>, ReckonError> {
    let batches = asked.batches.iter().chain(asked.others.iter().flatten());
    most("looks", batches.map(|b| b.looks.len()).sum(), LOOKS_HIGH)?;
    most("others", asked.others.len(), OTHERS_HIGH)?;
    if asked.herd.is_some() {
        most("others", asked.others.len(), 0)?;
    }
    let boar = |batches: &Vec<BatchAsked>| {
        let read = read_all(batches, eye, floor)?;
        Ok(read.into_iter().map(|b| b.looks).collect())
    };
    asked.others.iter().map(boar).collect()
}

fn most(field: &'static str, read: usize, high: usize) -> Result<(), BoundError> {
    so_many(field, read, 0..=high, field)
}

fn read_all(
    batches: &[BatchAsked],
    eye: EyeCells,
    floor: Floor,
) -> Result<Vec<ReadBatch>, ReckonError> {
    batches
        .iter()
        .map(|batch| read(batch, eye, floor))
        .collect()
}

fn read(batch: &BatchAsked, eye: EyeCells, floor: Floor) -> Result<ReadBatch, ReckonError> {
    let mut read = ReadBatch {
        looks: vec![],
        standings: vec![],
        figures: vec![],
    };
    for look in &batch.looks {
        let motile = share(look)?;
        let taken = Look::new(look.days, motile, eye)?;
        let (says, figures) = standing(motile, look.warmed, floor, &Origin::Asked);
        read.standings.push(says);
        read.figures.extend(figures);
        if look.warmed != Some(false) {
            read.looks.push(taken);
        }
    }
    Ok(read)
}

fn share(look: &LookAsked) -> Result<Share, ReckonError> {
    let hits = checked("hits", look.hits, Count::new)?;
    let cells = checked("cells", look.cells, Cells::new)?;
    let percent = checked("percent", look.percent, Percent::new)?;
    match (hits, cells, percent) {
        (Some(hits), Some(cells), None) => Ok(Share {
            percent: Tally::new(hits, cells)?.share(),
            cells: Some(cells.value()),
        }),
        (None, None, Some(percent)) => Ok(Share {
            percent,
            cells: None,
        }),
        _ => Err(ReckonError::Nothing {
            needs: "in each look hits and cells, or a percent judged by eye",
        }),
    }
}

fn plain_line(looks: &[Look]) -> PlainLine {
    match plain::fit(looks) {
        Ok(fit) => PlainLine::Fitted(fit),
        Err(refusal) => PlainLine::Refused(refusal),
    }
}

fn moment(use_by: UseBy, collected_at: Stamp) -> Result<Stamp, ReckonError> {
    use_by.at(collected_at).map_err(|_| ReckonError::Moment {
        field: "collected_at",
        read: collected_at.to_string(),
    })
}
