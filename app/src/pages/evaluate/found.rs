//! What was found, how sure it is, and the reckoning behind it, in words.

use super::measure::Ask;
use super::open::{Desk, Open};
use crate::pages::doses::how;
use crate::tell;
use crate::words::{Words, key};
use leptos::prelude::*;
use pentally_domain::barn::Barn;
use pentally_domain::counting::{Chamber, Dilution, Replicate, wilson};
use pentally_domain::evaluation::{ConcentrationBy, Evaluation, Share};
use pentally_domain::explain::Origin;
use pentally_domain::id::EntryId;
use pentally_domain::reckon::{
    ChamberAsked, CountAsked, CurveAsked, LimitsAsked, ReplicateAsked, ShareAsked, VerdictAsked,
};
use pentally_domain::units::{Cells, InstrumentReading, Squares};
use pentally_domain::verdict::{Judged, concentration};
use serde::Serialize;

/// The value as it stands.
pub fn value(w: &Words, v: &Evaluation, ask: Ask) -> String {
    if ask == Ask::Concentration {
        return concentration(v).map_or_else(
            || w.tr(key::NOT_MEASURED),
            |c| format!("{} {}", w.num(c.value(), 0), w.tr(key::UNIT_MILLION_PER_ML)),
        );
    }
    let Some(share) = ask.share(v) else {
        return w.tr(key::NOT_MEASURED);
    };
    let how = if share.cells.is_some() {
        key::MEASURE_COUNTED
    } else {
        key::MEASURE_BY_EYE
    };
    format!("{} % {}", w.num(share.percent.value(), 0), w.tr(how))
}

/// How sure it is, as sentences; nothing where it was not measured.
pub fn sure(desk: Desk, open: &Open, ask: Ask) -> Vec<String> {
    let w = &desk.w;
    let v = &open.values;
    if ask == Ask::Concentration {
        return v
            .concentration
            .as_ref()
            .map_or_else(Vec::new, |by| vec![of_concentration(w, by)]);
    }
    let judged = ask.rule().and_then(|rule| desk.rule(v, rule));
    let Some((share, judged)) = ask.share(v).zip(judged) else {
        return vec![];
    };
    of_share(w, share, &judged)
}

/// "190 to 236, with 95 %", or that nobody knows.
pub fn of_concentration(w: &Words, by: &ConcentrationBy) -> String {
    match by.between() {
        None => w.tr(key::COUNTING_UNKNOWN_ERROR),
        Some(Err(_)) => w.tr(key::COUNTING_CANNOT_BE),
        Some(Ok((low, high))) => {
            let ends = [
                ("low", w.num(low, 0).into()),
                ("high", w.num(high, 0).into()),
            ];
            w.tr_with(key::COUNTING_BETWEEN, &ends)
        }
    }
}

/// The interval of a share, the chance that it misses, and what to count.
pub fn of_share(w: &Words, share: Share, judged: &Judged) -> Vec<String> {
    let cells = share.cells.and_then(|cells| Cells::new(cells.into()).ok());
    let interval = match cells {
        Some(cells) => {
            let [low, high] = wilson(share.percent, cells, &Origin::Asked);
            let args = [
                ("low", w.num(low.number(), 0).into()),
                ("high", w.num(high.number(), 0).into()),
                ("n", cells.value().into()),
            ];
            w.tr_with(key::COUNTING_SHARE_BETWEEN, &args)
        }
        None => w.tr(key::COUNTING_BY_EYE_COARSE),
    };
    let mut said = vec![interval];
    said.extend(tell::misses(w, judged));
    said.extend(tell::count_more(w, judged, share.cells.is_none()));
    said
}

/// The reckoning behind it.
pub fn how(desk: Desk, v: &Evaluation, ask: Ask) -> Option<AnyView> {
    if ask == Ask::Concentration {
        let by = v.concentration.as_ref()?;
        return match by {
            ConcentrationBy::Instrument(_) => None,
            ConcentrationBy::Chamber {
                count,
                squares,
                dilution,
            } => {
                let squares = Squares::new((*squares).into()).ok()?;
                let count = *count;
                let chamber = Chamber::IMPROVED_NEUBAUER;
                how_counted(&desk.w, &chamber, &[Replicate { count, squares }], dilution)
            }
            ConcentrationBy::Counts {
                chamber,
                replicates,
                dilution,
            } => how_counted(&desk.w, chamber, replicates, dilution),
            ConcentrationBy::Curve { reading, curve, .. } => desk
                .feed
                .barn
                .with_untracked(|barn| how_read(&desk.w, barn, *curve, *reading)),
        };
    }
    let share = ask.share(v).map(|share| ShareAsked {
        percent: share.percent.value(),
        cells: share.cells.map(u32::from),
    });
    share?;
    let standard = desk.record.with_value(|(_, standard)| standard.clone());
    let mut asked = VerdictAsked {
        limits: LimitsAsked {
            motile_at_least: Some(standard.motility_at_least.value()),
            abnormal_at_most: Some(standard.abnormal_at_most.value()),
            droplets_at_most: Some(standard.droplets_at_most.value()),
        },
        ..Default::default()
    };
    match ask {
        Ask::Motile => asked.motile = share,
        Ask::Abnormal => asked.abnormal = share,
        Ask::Droplets => asked.droplets = share,
        Ask::Concentration => {}
    }
    reckoned(&desk.w, "verdict", &asked)
}

/// The reckoning of a count in a chamber.
pub fn how_counted(
    w: &Words,
    chamber: &Chamber,
    replicates: &[Replicate],
    dilution: &Dilution,
) -> Option<AnyView> {
    let replicates = replicates.iter().map(|r| ReplicateAsked {
        count: r.count.value(),
        squares: r.squares.value().into(),
    });
    let asked = CountAsked {
        replicates: replicates.collect(),
        dilution: dilution.steps().to_vec(),
        chamber: (!chamber.is_improved_neubauer()).then(|| ChamberAsked {
            square_side_mm: None,
            square_mm2: Some(chamber.square_mm2()),
            depth_mm: chamber.depth_mm(),
            grid_squares: chamber.grid_squares().into(),
            grids: chamber.grids().into(),
        }),
        ..Default::default()
    };
    reckoned(w, "count", &asked)
}

fn how_read(w: &Words, barn: &Barn, curve: EntryId, reading: InstrumentReading) -> Option<AnyView> {
    let kept = barn.instrument_curves();
    let kept = kept.into_iter().find(|c| c.entry() == curve)?.fact;
    let asked = CurveAsked {
        reading: Some(reading.value()),
        ..CurveAsked::of(&kept, &[])
    };
    reckoned(w, "curve", &asked)
}

fn reckoned(w: &Words, reckoning: &str, asked: &impl Serialize) -> Option<AnyView> {
    how::reckoned(w, reckoning, &serde_json::to_string(asked).ok()?)
}
