//! From the sows that stand: doses they need, whether there are enough, and who goes short.

use crate::explain::{Explained, Origin, Printed, Term};
use crate::units::{ServicesPerHeat, Sows};
use serde::{Deserialize, Serialize};

/// Services in one heat to start from: 2 of the usual 2–3 (common practice, no source).
pub const SERVICES_PER_HEAT: u8 = 2;

/// Doses for sows that stand.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Serving {
    /// Doses they need.
    pub needed: u32,
    /// How far those at hand go; absent when nobody knows how many there are.
    pub reach: Option<Reach>,
    /// How each came about.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub figures: Vec<Explained>,
}

/// How far doses go when sows are served in order, each in full before the next.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Reach {
    /// Left over when all are served.
    pub spare: u32,
    /// Missing.
    pub short: u32,
    /// Sows that get every service.
    pub sows_served: u32,
    /// The next sow gets so many, fewer than she needs.
    pub next_gets: u32,
    /// Sows that get none.
    pub sows_without: u32,
}

/// Holds the doses at hand, where known, against what the sows need.
pub fn serve(
    sows: Sows,
    services: ServicesPerHeat,
    services_from: Origin,
    at_hand: Option<u32>,
) -> Serving {
    let (sow_count, each) = (u32::from(sows.value()), u32::from(services.value()));
    let needed = Explained::new(
        Term::DosesNeeded,
        "",
        "sows * services_per_heat",
        Printed::Definition,
    )
    .with(Term::Sows, sows.number(), "", Origin::Asked)
    .with(
        Term::ServicesPerHeat,
        services.number(),
        "",
        services_from.clone(),
    )
    .is(f64::from(sow_count * each));
    let Some(doses) = at_hand else {
        return Serving {
            needed: sow_count * each,
            reach: None,
            figures: vec![needed],
        };
    };
    let (reach, hand) = (reach(sow_count, each, doses), f64::from(doses));
    let from = |figure, formula| {
        Explained::new(figure, "", formula, Printed::Definition)
            .with(Term::DosesAtHand, hand, "", Origin::Asked)
            .after(&needed)
    };
    let spare =
        from(Term::DosesSpare, "max(0, doses_at_hand - doses_needed)").is(f64::from(reach.spare));
    let short =
        from(Term::DosesShort, "max(0, doses_needed - doses_at_hand)").is(f64::from(reach.short));
    let served = Explained::new(
        Term::SowsServed,
        "",
        "min(sows, whole(doses_at_hand / services_per_heat))",
        Printed::Definition,
    )
    .with(Term::Sows, sows.number(), "", Origin::Asked)
    .with(Term::DosesAtHand, hand, "", Origin::Asked)
    .with(Term::ServicesPerHeat, services.number(), "", services_from)
    .is(f64::from(reach.sows_served));
    Serving {
        needed: sow_count * each,
        reach: Some(reach),
        figures: vec![needed, spare, short, served],
    }
}

fn reach(sows: u32, each: u32, doses: u32) -> Reach {
    let needed = sows * each;
    let sows_served = (doses / each).min(sows);
    let next_gets = if sows_served < sows { doses % each } else { 0 };
    Reach {
        spare: doses.saturating_sub(needed),
        short: needed.saturating_sub(doses),
        sows_served,
        next_gets,
        sows_without: sows - sows_served - u32::from(next_gets > 0),
    }
}
