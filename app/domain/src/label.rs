//! Labels of semen batches: what stands on one, and, in [`sheet`] and [`symbol`], where on the paper
//! it goes and whether its symbol reads.

pub mod sheet;
pub mod symbol;

use crate::barn::Seen;
use crate::batch::SemenBatch;
use crate::code::Code;
use crate::doses::{Making, Technique};
use crate::extender::MIXING;
use crate::farm::CountAs;
use crate::id::BoarId;
use crate::json;
use crate::plain::PlainRoute;
use crate::reckon::{DosesAnswer, DosesAsked, PlainAsked};
use crate::said::Label;
use crate::time::Stamp;
use crate::units::VolumeMl;
use serde::Serialize;
use serde::de::DeserializeOwned;

/// What stands on the label of a batch. What is absent was not said or not counted, and the label
/// says so.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BatchLabel {
    /// The short code; written out it ends in its check digit.
    pub code: Code,
    /// The boars by number, each once, in the order poured; none for one whose number is not known.
    pub boars: Vec<Option<Label>>,
    /// When the earliest of the ejaculates was collected.
    pub collected_at: Option<Stamp>,
    /// When the batch was made.
    pub made_at: Stamp,
    /// To be used before.
    pub use_by: Stamp,
    /// Where it is to be placed.
    pub technique: Technique,
    /// Sperm in each dose; none where nobody counted.
    pub sperm: Option<SpermEach>,
    /// Volume of each dose.
    pub dose_volume: VolumeMl,
    /// The store's range in °C; none for undiluted semen, which is not stored.
    pub store_c: Option<(f64, f64)>,
    /// Whether it holds an antibiotic; absent when nobody said.
    pub antibiotic: Option<bool>,
}

/// Sperm in each dose.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct SpermEach {
    /// In millions, as the doses came out.
    pub millions: f64,
    /// Which sperm count.
    pub count_as: CountAs,
}

impl BatchLabel {
    /// Of a batch, as it was recorded; `number` knows the boars.
    pub fn of(batch: &Seen<SemenBatch>, number: impl Fn(BoarId) -> Option<Label>) -> Self {
        let fact = &batch.fact;
        let mut boars: Vec<BoarId> = vec![];
        for source in &fact.sources {
            if !boars.contains(&source.boar) {
                boars.push(source.boar);
            }
        }
        let plain: Option<PlainAsked> = read(&fact.asked).filter(|_| !fact.counted);
        let counted: Option<DosesAsked> = read(&fact.asked).filter(|_| fact.counted);
        let keep = plain.as_ref().map(|asked| asked.keep);
        let keep = keep.or(counted.as_ref().map(|asked| asked.keep));
        let undiluted = plain.is_some_and(|asked| asked.route == PlainRoute::Undiluted);
        Self {
            code: fact.code,
            boars: boars.into_iter().map(number).collect(),
            collected_at: keep.and_then(|keep| keep.collected_at),
            made_at: batch.at,
            use_by: fact.use_by,
            technique: fact.technique,
            sperm: counted.and_then(|asked| sperm(fact, asked.count_as)),
            dose_volume: fact.dose_volume,
            store_c: (!undiluted).then_some(MIXING.store_c),
            antibiotic: fact.antibiotic,
        }
    }

    /// Semen of several boars.
    pub fn is_pool(&self) -> bool {
        self.boars.len() > 1
    }

    /// The path its symbol leads to, `/B/123450`: upper-case, so that the symbol stays small.
    pub fn path(&self) -> String {
        path(self.code)
    }
}

/// The path of a batch's symbol.
pub fn path(code: Code) -> String {
    format!("/B/{}", code.digits())
}

fn sperm(batch: &SemenBatch, count_as: CountAs) -> Option<SpermEach> {
    let answer: DosesAnswer = read(&batch.answered)?;
    let plan = match answer.making? {
        Making::Made(plan) => plan,
        Making::Thin { larger, .. } => larger?,
        Making::TooFew { .. } | Making::NotMeasured { .. } => return None,
    };
    Some(SpermEach {
        millions: plan.sperm_each_m,
        count_as,
    })
}

/// What a batch keeps as text; none where this program cannot read it.
fn read<T: DeserializeOwned>(text: &str) -> Option<T> {
    json::of(&json::parse(text.as_bytes()).ok()?).ok()
}

#[cfg(test)]
mod tests;
