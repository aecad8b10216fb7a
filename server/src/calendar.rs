//! What is coming as a feed for the office's calendar: iCalendar (RFC 5545), every event on whole
//! days. The lines are folded and the words escaped by the `icalendar` library.

use chrono::{DateTime, Datelike, Duration, NaiveDate};
use icalendar::{Calendar, Component, Event as Written, EventLike, Property};
use pentally_domain::coming::{Coming, What};

/// Who wrote the feed (RFC 5545, 3.7.3).
const PRODUCT: &str = "-//Pentally//The coming plan//EN";
/// How often a calendar may ask again (RFC 7986, 5.7).
const ASK_AGAIN: Duration = Duration::hours(1);
/// Years that four digits write (RFC 5545, 3.3.4).
const YEARS: std::ops::RangeInclusive<i32> = 0..=9999;

/// One event, and its line in the farm's language.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Event {
    /// What is coming, and on which of the farm's days.
    pub coming: Coming,
    /// What the calendar shows of it.
    pub summary: String,
}

/// The feed of a farm, as of the instant `now_ms` (ms since 1970), with CRLF at the end of each line
/// and no line longer than 75 octets. An event keeps its UID as long as what it is about stays: a
/// boar on a day, or an entry, whose days may be corrected. None blocks anybody's time.
///
/// Days whose year has more than four digits cannot be written: what begins in one is left out, and
/// what only ends in one lasts a day.
pub fn calendar(farm_name: &str, events: &[Event], now_ms: i64) -> String {
    let mut feed = Calendar::empty();
    feed.append_property(("VERSION", "2.0"))
        .append_property(("PRODID", PRODUCT))
        .append_property(("CALSCALE", "GREGORIAN"))
        // Said to be text, because the library escapes no NAME by itself.
        .append_property(
            named("NAME", farm_name)
                .append_parameter(("VALUE", "TEXT"))
                .done(),
        )
        .append_property(named("X-WR-CALNAME", farm_name))
        .ttl(&ASK_AGAIN);
    let begin = events
        .iter()
        .filter(|e| YEARS.contains(&e.coming.from.year()));
    begin.for_each(|event| {
        feed.push(written(event, now_ms));
    });
    feed.to_string()
}

fn named(key: &str, farm_name: &str) -> Property {
    Property::new(key, one_line(farm_name))
}

fn written(event: &Event, now_ms: i64) -> Written {
    let Coming { what, from, to } = event.coming;
    let mut line = Written::new();
    line.uid(&uid(what, from))
        .timestamp(DateTime::from_timestamp_millis(now_ms).unwrap_or_default())
        .summary(&one_line(&event.summary))
        .add_property("TRANSP", "TRANSPARENT")
        .starts(from);
    // The end is the first day that is not meant any more (RFC 5545, 3.6.1).
    let after = to.max(from).succ_opt();
    if let Some(after) = after.filter(|day| YEARS.contains(&day.year())) {
        line.ends(after);
    }
    line.done()
}

fn uid(what: What, from: NaiveDate) -> String {
    match what {
        What::Collection(planned) => {
            format!("collection-{}-{}", planned.boar, from.format("%Y%m%d"))
        }
        What::Off { entry, .. } => format!("off-{entry}"),
        What::FeverWatch { entry, .. } => format!("fever-{entry}"),
        What::Return { service, .. } => format!("return-{service}"),
        What::Farrowing { service, .. } => format!("farrowing-{service}"),
    }
}

/// White space and control characters, which a line of the feed may not hold, as single spaces.
fn one_line(text: &str) -> String {
    let words = text.split(|c: char| c.is_whitespace() || c.is_control());
    words
        .filter(|w| !w.is_empty())
        .collect::<Vec<_>>()
        .join(" ")
}
