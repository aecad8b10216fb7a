//! What is in doubt about the ejaculates, and how many doses an assurance would leave.

use super::Named;
use crate::tell;
use crate::words::{Words, key};
use pentally_domain::barn::Holding;
use pentally_domain::filling::{Chosen, HowSure, fill};
use pentally_domain::units::Assurance;

/// The assurance that is told where the plain formula was asked for, in %.
const ASSURED: f64 = 95.0;

/// "Doubtful. Droplets: count 170 more. With 95 % assurance: 18 doses."
pub(super) fn of(
    w: &Words,
    named: &[Named],
    holding: &Holding,
    chosen: &Chosen,
    now_ms: i64,
) -> Option<String> {
    let doubt = |one: &Named| {
        let more = tell::doubts(w, &one.cup.verdict(&holding.standard))?;
        let says = format!("{}. {}", w.tr(key::DOUBT_HEADLINE), more.join(" "));
        Some(match named {
            [_] => says,
            _ => format!("{}: {says}", one.number),
        })
    };
    let mut said: Vec<_> = named.iter().filter_map(doubt).collect();
    if said.is_empty() {
        return None;
    }
    if chosen.assurance(&holding.standard).is_none() {
        said.extend(assured(w, named, holding, chosen, now_ms));
    }
    Some(said.join(" "))
}

fn assured(
    w: &Words,
    named: &[Named],
    holding: &Holding,
    chosen: &Chosen,
    now_ms: i64,
) -> Option<String> {
    let cups: Vec<_> = named.iter().map(|one| one.cup.clone()).collect();
    let chosen = Chosen {
        how_sure: Some(HowSure::Assured(Assurance::new(ASSURED).ok()?)),
        ..chosen.clone()
    };
    let assured = fill(&cups, holding, &chosen, now_ms).ok()?.assured?;
    let doses = assured.doses.map_or(0, |dosed| dosed.doses);
    let args = [("asked", w.num(ASSURED, 0).into()), ("n", doses.into())];
    Some(w.tr_with(key::DOSES_ASSURED, &args))
}
