//! What can be filled, asked of the same reckonings that scripts ask, and told in words.

use super::{Choice, Have, SemenBatchDraft};
use crate::parts::Role;
use crate::words::{Key, Words, key};
use leptos::prelude::Get;
use pentally_domain::batch::Source;
use pentally_domain::doses::{Making, Missing, Plan};
use pentally_domain::explain::Explained;
use pentally_domain::extender::MIXING;
use pentally_domain::id::EntryId;
use pentally_domain::json;
use pentally_domain::plain::{PlainMaking, PlainRoute};
use pentally_domain::reckon::{
    DosesAnswer, DosesAsked, EjaculateAsked, KeepAsked, PlainAnswer, PlainAsked, SowsAsked, answer,
};
use pentally_domain::serving::Serving;
use pentally_domain::time::Stamp;
use pentally_domain::units::VolumeMl;
use pentally_domain::verdict::concentration;

/// What the page shows, and what saving it would write.
#[derive(Debug, Clone)]
pub(super) struct Offer {
    pub collection: EntryId,
    pub number: String,
    pub uncounted: bool,
    pub figures: Vec<Explained>,
    pub batch: Option<SemenBatchDraft>,
    fill: Fill,
    serving: Option<Serving>,
    use_by: Option<Stamp>,
}

/// How it came out.
#[derive(Debug, Clone, PartialEq)]
enum Fill {
    Doses(Filled),
    Thin(Option<Filled>),
    TooFew,
    Missing(Vec<Missing>),
    Refused(String),
}

#[derive(Debug, Clone, Copy, PartialEq)]
struct Filled {
    doses: u32,
    dose_ml: f64,
    extender_ml: f64,
    semen_left_ml: f64,
    final_m_per_ml: Option<f64>,
}

/// Asks the reckoning that the choice calls for.
pub(super) fn offer(have: &Have, choice: Choice) -> Offer {
    match choice.route.get() {
        Some(route) => plain(have, choice, route),
        None => counted(have, choice),
    }
}

fn counted(have: &Have, choice: Choice) -> Offer {
    let standard = &have.holding.standard;
    let evaluation = have.evaluation.as_ref().map(|e| &e.fact);
    let ejaculate = EjaculateAsked {
        volume_ml: have.collection.fact.volume().map(VolumeMl::value),
        concentration_m_per_ml: evaluation.and_then(concentration).map(|c| c.value()),
        motile_percent: evaluation.and_then(|e| e.motile).map(|s| s.percent.value()),
        abnormal_percent: evaluation
            .and_then(|e| e.abnormal)
            .map(|s| s.percent.value()),
        volume_from: Some(have.collection.entry().to_string()),
        bench_from: have.evaluation.as_ref().map(|e| e.entry().to_string()),
    };
    let asked = DosesAsked {
        ejaculates: vec![ejaculate],
        count_as: standard.count_as,
        technique: choice.technique.get().unwrap_or_default(),
        standard_from: have.holding.entry.map(|e| e.to_string()),
        serving: sows(choice),
        keep: keep(have),
        ..DosesAsked::default()
    };
    let (asked, answered) = match ask("doses", &asked) {
        Ok(both) => both,
        Err(why) => return refused(have, why),
    };
    let read: Result<DosesAnswer, _> = json::read(&answered);
    let answer = match read {
        Ok(answer) => answer,
        Err(why) => return refused(have, why.to_string()),
    };
    let mut figures = answer.figures;
    let fill = match answer.making {
        Some(Making::Made(plan)) => Fill::Doses(filled(plan, &mut figures)),
        Some(Making::Thin { larger, .. }) => {
            Fill::Thin(larger.map(|plan| filled(plan, &mut figures)))
        }
        Some(Making::TooFew { .. }) => Fill::TooFew,
        Some(Making::NotMeasured { missing }) => {
            Fill::Missing(missing.into_iter().map(|(_, what)| what).collect())
        }
        None => Fill::Missing(vec![]),
    };
    finish(
        have,
        choice,
        "doses",
        (asked, answered),
        (fill, answer.serving, answer.kept.use_by, figures),
    )
}

fn plain(have: &Have, choice: Choice, route: PlainRoute) -> Offer {
    let asked = PlainAsked {
        volume_ml: have.collection.fact.volume().map(VolumeMl::value),
        volume_from: Some(have.collection.entry().to_string()),
        route,
        dose_volume_ml: None,
        at_most: None,
        serving: sows(choice),
        keep: keep(have),
        temperatures: pentally_domain::reckon::TemperaturesAsked::default(),
        brief: false,
    };
    let (asked, answered) = match ask("plain-doses", &asked) {
        Ok(both) => both,
        Err(why) => return refused(have, why),
    };
    let read: Result<PlainAnswer, _> = json::read(&answered);
    let answer = match read {
        Ok(answer) => answer,
        Err(why) => return refused(have, why.to_string()),
    };
    let mut figures = vec![];
    let fill = match answer.making {
        PlainMaking::NotCounted(plan) => {
            figures.extend(plan.figures);
            Fill::Doses(Filled {
                doses: plan.doses,
                dose_ml: plan.dose_ml,
                extender_ml: plan.extender_ml,
                semen_left_ml: plan.semen_left_ml,
                final_m_per_ml: None,
            })
        }
        PlainMaking::TooLittle => Fill::TooFew,
        PlainMaking::NotMeasured => Fill::Missing(vec![Missing::Volume]),
    };
    finish(
        have,
        choice,
        "plain-doses",
        (asked, answered),
        (fill, answer.serving, answer.kept.use_by, figures),
    )
}

fn ask(name: &str, asked: &impl serde::Serialize) -> Result<(String, String), String> {
    let asked = serde_json::to_string(asked).map_err(|why| why.to_string())?;
    let answered = answer(name, asked.as_bytes()).map_err(|why| why.to_string())?;
    Ok((asked, answered))
}

fn sows(choice: Choice) -> Option<SowsAsked> {
    let sows = choice.sows.get().and_then(|n| u32::try_from(n).ok())?;
    Some(SowsAsked {
        sows,
        services_per_heat: None,
    })
}

fn keep(have: &Have) -> KeepAsked {
    KeepAsked {
        extender: None,
        days: Some(have.holding.standard.keeps_days.into()),
        collected_at: Some(have.collection.at),
    }
}

fn filled(plan: Plan, figures: &mut Vec<Explained>) -> Filled {
    figures.extend(plan.figures);
    Filled {
        doses: plan.doses,
        dose_ml: plan.dose_ml,
        extender_ml: plan.extender_ml,
        semen_left_ml: plan.semen_left_ml,
        final_m_per_ml: Some(plan.final_m_per_ml),
    }
}

fn refused(have: &Have, why: String) -> Offer {
    Offer {
        collection: have.collection.entry(),
        number: have.number.clone(),
        uncounted: false,
        figures: vec![],
        batch: None,
        fill: Fill::Refused(why),
        serving: None,
        use_by: None,
    }
}

type Outcome = (Fill, Option<Serving>, Option<Stamp>, Vec<Explained>);

fn finish(
    have: &Have,
    choice: Choice,
    reckoning: &'static str,
    (asked, answered): (String, String),
    (fill, serving, use_by, figures): Outcome,
) -> Offer {
    let batch = fill.best().zip(use_by).and_then(|(filled, use_by)| {
        Some(SemenBatchDraft {
            source: Source {
                boar: have.boar,
                collection: have.collection.entry(),
                evaluation: have.evaluation.as_ref().map(|e| e.entry()),
            },
            standard: have.holding.entry,
            reckoning,
            asked,
            answered,
            doses: u16::try_from(filled.doses)
                .ok()
                .filter(|n| (1..=200).contains(n))?,
            dose_volume: VolumeMl::new(filled.dose_ml).ok()?,
            technique: choice.technique.get().unwrap_or_default(),
            use_by,
            antibiotic: have.holding.standard.antibiotic,
        })
    });
    Offer {
        collection: have.collection.entry(),
        number: have.number.clone(),
        uncounted: reckoning == "plain-doses",
        figures,
        batch,
        fill,
        serving,
        use_by,
    }
}

impl Fill {
    fn best(&self) -> Option<Filled> {
        match self {
            Self::Doses(filled) => Some(*filled),
            Self::Thin(larger) => *larger,
            _ => None,
        }
    }
}

impl Offer {
    /// Colour, headline and lines, the most important first.
    pub(super) fn told(
        &self,
        w: &Words,
        moment: impl Fn(i64) -> String,
    ) -> (Role, String, Vec<String>) {
        let (role, headline, mut lines) = match &self.fill {
            Fill::Doses(filled) => (Role::Ready, doses(w, filled), mixing(w, filled)),
            Fill::Thin(Some(filled)) => (
                Role::Rest,
                doses(w, filled),
                [vec![w.tr(key::DOSES_THIN)], mixing(w, filled)].concat(),
            ),
            Fill::Thin(None) => (
                Role::Stop,
                w.tr(key::DOSES_NONE),
                vec![w.tr(key::DOSES_POOL)],
            ),
            Fill::TooFew => (
                Role::Stop,
                w.tr(key::DOSES_NONE),
                vec![w.tr(key::DOSES_TOO_FEW)],
            ),
            Fill::Missing(missing) => (
                Role::Unknown,
                w.tr(key::NOT_MEASURED),
                vec![lacks(w, missing)],
            ),
            Fill::Refused(why) => (Role::Unknown, w.tr(key::DOSES_NONE), vec![why.clone()]),
        };
        if let (Some(at), Some(_)) = (self.use_by, self.fill.best()) {
            lines.push(w.tr_with(key::DOSES_USE_BY, &[("when", moment(at.ms()).into())]));
        }
        lines.extend(self.serving.as_ref().and_then(|serving| served(w, serving)));
        (role, headline, lines)
    }
}

fn doses(w: &Words, filled: &Filled) -> String {
    w.tr_with(key::BATCH_DOSES, &[("n", filled.doses.into())])
}

/// How to fill, in the order in which it is done.
fn mixing(w: &Words, filled: &Filled) -> Vec<String> {
    let ml = |value: f64| w.num(value, 0);
    let one = |key: Key, args: &[(&'static str, crate::words::Arg)]| w.tr_with(key, args);
    let mut lines = vec![one(
        key::DOSES_FILL,
        &[
            ("ml", ml(filled.dose_ml).into()),
            ("extender", ml(filled.extender_ml).into()),
        ],
    )];
    if filled.extender_ml > 0.0 {
        lines.push(one(
            key::DOSES_POUR,
            &[
                ("extender", ml(filled.extender_ml).into()),
                ("semen", w.num(MIXING.semen_c, 0).into()),
                ("apart", w.num(MIXING.apart_at_most_c, 0).into()),
            ],
        ));
        lines.push(one(
            key::DOSES_STORE,
            &[
                ("store", w.num(MIXING.store_at_c, 0).into()),
                ("turns", MIXING.turns_a_day.into()),
            ],
        ));
    }
    if filled.semen_left_ml >= 0.5 {
        lines.push(one(
            key::DOSES_LEFT,
            &[("ml", ml(filled.semen_left_ml).into())],
        ));
    }
    lines.extend(
        filled
            .final_m_per_ml
            .map(|m| one(key::DOSES_FINAL, &[("m", w.num(m, 1).into())])),
    );
    lines
}

fn served(w: &Words, serving: &Serving) -> Option<String> {
    let reach = serving.reach?;
    Some(if reach.short == 0 {
        w.tr_with(
            key::DOSES_ENOUGH,
            &[("n", serving.needed.into()), ("spare", reach.spare.into())],
        )
    } else {
        w.tr_with(
            key::DOSES_SHORT,
            &[
                ("n", serving.needed.into()),
                ("short", reach.short.into()),
                ("sows", reach.sows_served.into()),
            ],
        )
    })
}

fn lacks(w: &Words, missing: &[Missing]) -> String {
    let word = |what: &Missing| {
        w.tr(match what {
            Missing::Volume => key::COLLECT_AMOUNT_ML,
            Missing::Concentration => key::MEASURE_CONCENTRATION,
            Missing::Motility => key::MEASURE_MOTILE,
            Missing::Abnormal => key::MEASURE_ABNORMAL,
        })
    };
    let list: Vec<_> = missing.iter().map(word).collect();
    w.tr_with(key::DOSES_LACKS, &[("what", list.join(", ").into())])
}
