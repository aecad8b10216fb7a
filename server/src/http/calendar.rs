//! The feed of what is coming, for the office's calendar program.

use super::body::Asked;
use super::house::House;
use super::problem::Problem;
use crate::calendar::{Event, calendar};
use crate::moment::now_ms;
use crate::paint::language;
use axum::extract::State;
use axum::http::{HeaderMap, header};
use axum::response::{IntoResponse, Response};
use pentally_app::tell;
use pentally_app::words::{Lang, Words, key};
use pentally_domain::barn::Barn;
use pentally_domain::coming::{Coming, What, coming};
use pentally_domain::id::BoarId;
use pentally_domain::output::Looker;
use pentally_domain::rest::week::Planned;
use serde::Deserialize;
use std::collections::BTreeMap;

/// A farrowing lies 114 days behind its service.
const AHEAD_DAYS: u16 = 120;
/// Collections further ahead rest on too many others that are only assumed.
const PLANNED_DAYS: i64 = 14;

/// How the feed is asked for.
#[derive(Debug, Deserialize)]
pub(super) struct Options {
    lang: Option<Lang>,
}

/// The feed, made anew.
pub(super) async fn feed(
    State(house): State<House>,
    Asked(options): Asked<Options>,
    headers: HeaderMap,
) -> Result<Response, Problem> {
    let lang = options.lang.unwrap_or_else(|| language(&headers));
    let now_ms = now_ms();
    let text = house
        .with_store(move |store| {
            let mut barn = store.barn()?;
            if let Some(outlook) = store.outlook()? {
                barn.put_outlook(outlook);
            }
            Ok(written(&barn, Words::of(lang), now_ms))
        })
        .await?;
    let kind = (header::CONTENT_TYPE, "text/calendar; charset=utf-8");
    let caching = (header::CACHE_CONTROL, "no-store");
    Ok(([kind, caching], text).into_response())
}

fn written(barn: &Barn, w: Words, now_ms: i64) -> String {
    let own = Looker::of(barn, now_ms).recoveries(barn);
    let today = barn.zone_at(now_ms).day(now_ms);
    let boars = barn.boars().into_iter().map(|b| (b.id, b.number()));
    let telling = Telling {
        w,
        barn,
        boars: boars.collect(),
    };
    let shown = |c: &Coming| {
        let planned = matches!(c.what, What::Collection(_));
        !planned || (c.from - today).num_days() < PLANNED_DAYS
    };
    let event = |coming: Coming| Event {
        summary: telling.says(coming.what),
        coming,
    };
    let list = coming(barn, &own, now_ms, AHEAD_DAYS).into_iter();
    let events: Vec<_> = list.filter(shown).map(event).collect();
    let farm = barn.farm().map(|farm| farm.fact.name.as_str().to_owned());
    calendar(&farm.unwrap_or_default(), &events, now_ms)
}

struct Telling<'a> {
    w: Words,
    barn: &'a Barn,
    boars: BTreeMap<BoarId, String>,
}

impl Telling<'_> {
    fn says(&self, what: What) -> String {
        let w = &self.w;
        let sow = |id| {
            self.barn
                .sow(id)
                .map(|sow| sow.number())
                .unwrap_or_default()
        };
        match what {
            What::Collection(planned) => self.collection(planned),
            What::Off { boar, reason, .. } => {
                let reason = w.tr(tell::off_reason(reason));
                let args = [("boar", self.boar(boar).into()), ("reason", reason.into())];
                w.tr_with(key::COMING_OFF, &args)
            }
            What::FeverWatch { boar, .. } => {
                w.tr_with(key::COMING_FEVER, &[("boar", self.boar(boar).into())])
            }
            What::Return { sow: id, .. } => {
                w.tr_with(key::COMING_RETURN, &[("sow", sow(id).into())])
            }
            What::Farrowing { sow: id, .. } => {
                w.tr_with(key::COMING_FARROWING, &[("sow", sow(id).into())])
            }
        }
    }

    fn collection(&self, planned: Planned) -> String {
        let boar = ("boar", self.boar(planned.boar).into());
        if planned.late_days > 0 {
            let args = [boar, ("n", planned.late_days.into())];
            return self.w.tr_with(key::COMING_LATE, &args);
        }
        self.w.tr_with(key::COMING_COLLECTION, &[boar])
    }

    /// What he is called.
    fn boar(&self, id: BoarId) -> String {
        self.boars.get(&id).cloned().unwrap_or_default()
    }
}
