//! What nobody measured or looked for, told in words.

use super::Named;
use super::offer::one;
use crate::words::{Key, Words, key};
use pentally_domain::barn::Holding;
use pentally_domain::verdict::{Overall, Reason, Verdict};

/// What is not known of each; those of whom the same is not known together.
pub(super) fn unknown(w: &Words, named: &[Named], holding: &Holding) -> Vec<String> {
    let mut groups: Vec<(String, Vec<&str>)> = vec![];
    for one in named {
        let Some(says) = unknowns(w, &one.cup.verdict(&holding.standard)) else {
            continue;
        };
        match groups.iter_mut().find(|(said, _)| *said == says) {
            Some((_, who)) => who.push(&one.number),
            None => groups.push((says, vec![&one.number])),
        }
    }
    let tell = |(says, who): (String, Vec<&str>)| match who.len() == named.len() {
        true => says,
        false => format!("{}: {says}", who.join(", ")),
    };
    groups.into_iter().map(tell).collect()
}

/// "Not measured: abnormal, droplets. Not looked for: blood, urine."
fn unknowns(w: &Words, verdict: &Verdict) -> Option<String> {
    let Overall::NotMeasured { missing } = &verdict.overall else {
        return None;
    };
    let mut said = vec![];
    for (says, of) in [
        (
            key::DOSES_NOT_MEASURED,
            measured as fn(Reason) -> Option<Key>,
        ),
        (key::DOSES_NOT_LOOKED, looked),
        (key::VERDICT_NOT_LOOKED, glove),
    ] {
        let what: Vec<_> = missing
            .iter()
            .filter_map(|reason| of(*reason))
            .map(|word| w.tr(word))
            .collect();
        if !what.is_empty() {
            said.push(one(w, says, "what", what.join(", ")));
        }
    }
    Some(said.join(" "))
}

const fn measured(reason: Reason) -> Option<Key> {
    match reason {
        Reason::Motility => Some(key::FINDING_MOTILITY),
        Reason::Abnormal => Some(key::FINDING_ABNORMAL),
        Reason::Droplets => Some(key::FINDING_DROPLETS),
        _ => None,
    }
}

const fn looked(reason: Reason) -> Option<Key> {
    match reason {
        Reason::Blood => Some(key::FINDING_BLOOD),
        Reason::Pus => Some(key::FINDING_PUS),
        Reason::Urine => Some(key::FINDING_URINE),
        Reason::FoulSmell => Some(key::FINDING_SMELL),
        _ => None,
    }
}

const fn glove(reason: Reason) -> Option<Key> {
    match reason {
        Reason::Latex => Some(key::FINDING_GLOVE),
        _ => None,
    }
}
