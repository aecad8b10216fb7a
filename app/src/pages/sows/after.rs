//! What comes after a service: when to look for a return, when to check, when she farrows.

use crate::parts::How;
use crate::words::{Key, Words, key};
use chrono::NaiveDate;
use leptos::prelude::*;
use pentally_domain::barn::{Barn, SowFacts};
use pentally_domain::explain::{Explained, Origin, Value};
use pentally_domain::gestation::{self, Expected};
use pentally_domain::units::GestationDays;

/// How long after the day she was due the dates still stand on her page, in days.
const SHOWN_AFTER_DUE_DAYS: i64 = 7;

/// What follows from her last service, while it may still hold.
pub fn after(w: &Words, barn: &Barn, sow: &SowFacts, now_ms: i64) -> Option<AnyView> {
    let (expected, today) = expected(barn, sow, now_ms)?;
    let day = |day: NaiveDate| w.near_day(day, today);
    let args = [
        ("from", day(expected.return_from).into()),
        ("to", day(expected.return_to).into()),
        ("check", day(expected.check_from).into()),
        ("better", day(expected.check_better).into()),
        ("farrows", day(expected.farrows_on).into()),
    ];
    let line = |key: Key| view! { <p>{w.tr_with(key, &args)}</p> };
    let w = *w;
    let how = expected
        .figures
        .iter()
        .map(|figure| view! { <p class="small">{reckoned(&w, figure)}</p> })
        .collect_view();
    Some(
        view! {
            <section class="words">
                <h2>{w.tr(key::SOWS_AFTER)}</h2>
                {line(key::SOWS_RETURN)}
                {line(key::SOWS_CHECK)}
                {line(key::SOWS_FARROWS)}
                <How>{how}<p class="small quiet">{w.tr(key::STANDARD_IDLE_WHY)}</p></How>
            </section>
        }
        .into_any(),
    )
}

fn expected(barn: &Barn, sow: &SowFacts, now_ms: i64) -> Option<(Expected, NaiveDate)> {
    let last = sow.services.last()?;
    let days = GestationDays::new(barn.standard().standard.gestation_days.into()).ok()?;
    let served_on = barn.zone_at(last.at.ms()).day(last.at.ms());
    let expected =
        gestation::expected(served_on, days, &Origin::Stored(last.entry().to_string())).ok()?;
    let zone = barn.zone_at(now_ms);
    let came_back = sow
        .heats
        .iter()
        .any(|h| h.fact.standing && zone.day(h.at.ms()) >= expected.return_from);
    let over = (zone.day(now_ms) - expected.farrows_on).num_days() > SHOWN_AFTER_DUE_DAYS;
    (!came_back && !over).then(|| (expected, zone.day(now_ms)))
}

/// "1 January 2026 + 114 = 25 April 2026": the numbers that went in, and what came out.
fn reckoned(w: &Words, figure: &Explained) -> String {
    let value = |value: &Value| match value {
        Value::Day(day) => w.day_month_year(*day),
        Value::Number(number) => w.num(*number, 0),
    };
    let inputs: Vec<_> = figure
        .inputs
        .iter()
        .map(|input| value(&input.value))
        .collect();
    format!("{} = {}", inputs.join(" + "), value(&figure.result))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::words::Lang;
    use pentally_domain::barn::Seen;
    use pentally_domain::envelope::Order;
    use pentally_domain::id::{DeviceId, EntryId};
    use pentally_domain::sow::{By, Heat, Service};
    use pentally_domain::time::{Clock, DAY_MS, Stamp};

    fn at<T>(ms: i64, fact: T) -> Seen<T> {
        Seen {
            order: Order {
                at_ms: ms,
                clock: Clock::default(),
                id: EntryId::v7(ms, [1; 10]),
            },
            at: Stamp::new(ms, 0).unwrap(),
            person: None,
            device: DeviceId::v7(0, [1; 10]),
            seq: 1,
            corrected_by: None,
            fact,
        }
    }

    /// 2026-01-01T00:00:00Z.
    const NEW_YEAR_MS: i64 = 1_767_225_600_000;

    fn sow(came_back_after: Option<i64>) -> SowFacts {
        let id = EntryId::v7(0, [2; 10]).as_sow();
        let by = By::Boar(EntryId::v7(0, [3; 10]).as_boar());
        let heat = |days: i64| {
            at(
                NEW_YEAR_MS + days * DAY_MS,
                Heat {
                    sow: id,
                    standing: true,
                    onset: None,
                },
            )
        };
        SowFacts {
            id,
            sow: None,
            heats: came_back_after.map(heat).into_iter().collect(),
            services: vec![at(NEW_YEAR_MS, Service { sow: id, by })],
            notes: vec![],
        }
    }

    /// 1 January and 114 days is 25 April in a year that is no leap year, by the calendar.
    #[test]
    fn dates_stand_until_she_came_back_or_was_long_due() {
        let barn = Barn::default();
        let shown =
            |came_back, day: i64| expected(&barn, &sow(came_back), NEW_YEAR_MS + day * DAY_MS);
        let (dates, _) = shown(None, 1).unwrap();
        assert_eq!(dates.farrows_on.to_string(), "2026-04-25");
        assert!(shown(Some(2), 5).is_some(), "the same heat is no return");
        assert!(shown(Some(20), 21).is_none());
        assert!(shown(None, 114 + 7).is_some());
        assert!(shown(None, 114 + 8).is_none());
    }

    #[test]
    fn how_shows_the_numbers_that_went_in() {
        let (dates, _) = expected(&Barn::default(), &sow(None), NEW_YEAR_MS).unwrap();
        let farrows = dates.figures.last().unwrap();
        assert_eq!(
            reckoned(&Words::of(Lang::En), farrows),
            "1 January 2026 + 114 = 25 April 2026"
        );
    }
}
