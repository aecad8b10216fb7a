//! From what a clock on the wall showed to instants, over the changes of the farm's clock.

use pentally_domain::time::{HOUR_MS, MINUTE_MS, Zone};

/// The instants at which the farm's clock showed a time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Wall {
    /// One.
    At(i64),
    /// None: the clock was put forward over it. With the minutes east of UTC that held before.
    Skipped(i16),
    /// Two: the clock was put back over it.
    Twice(i64, i64),
}

/// `wall_ms` is what the clock showed, in ms since 1970 as if it were UTC.
pub(super) fn instants(zone: &Zone, wall_ms: i64) -> Wall {
    // Offsets span at most 14 h either way.
    let near = [-15, 0, 15].map(|hours| zone.offset_min_at(wall_ms + hours * HOUR_MS));
    let at = |offset: i16| wall_ms - i64::from(offset) * MINUTE_MS;
    let mut found: Vec<i64> = near
        .into_iter()
        .filter(|offset| zone.offset_min_at(at(*offset)) == *offset)
        .map(at)
        .collect();
    found.sort_unstable();
    found.dedup();
    match found.as_slice() {
        [] => Wall::Skipped(zone.offset_min_at(wall_ms - 15 * HOUR_MS)),
        [one] => Wall::At(*one),
        [first, .., last] => Wall::Twice(*first, *last),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::zone::named;

    fn wall(text: &str) -> i64 {
        let time = chrono::NaiveDateTime::parse_from_str(text, "%Y-%m-%d %H:%M").unwrap();
        time.and_utc().timestamp_millis()
    }

    /// Source: IANA tz database, rule EU: 02:00 to 03:00 is skipped on 29 March 2026 and comes
    /// twice on 25 October 2026.
    #[test]
    fn madrid_skips_and_repeats_an_hour() {
        let zone = named("Europe/Madrid").unwrap();
        let at = |text| instants(&zone, wall(text));
        assert_eq!(at("2026-03-29 01:59"), Wall::At(wall("2026-03-29 00:59")));
        assert_eq!(at("2026-03-29 02:00"), Wall::Skipped(60));
        assert_eq!(at("2026-03-29 02:59"), Wall::Skipped(60));
        assert_eq!(at("2026-03-29 03:00"), Wall::At(wall("2026-03-29 01:00")));
        let twice = |first, last| Wall::Twice(wall(first), wall(last));
        assert_eq!(
            at("2026-10-25 02:00"),
            twice("2026-10-25 00:00", "2026-10-25 01:00")
        );
        assert_eq!(
            at("2026-10-25 02:59"),
            twice("2026-10-25 00:59", "2026-10-25 01:59")
        );
        assert_eq!(at("2026-10-25 03:00"), Wall::At(wall("2026-10-25 02:00")));
        assert_eq!(at("2026-10-25 01:59"), Wall::At(wall("2026-10-24 23:59")));
    }

    /// Source: IANA tz database: Lord Howe Island puts its clock back by half an hour on the first
    /// Sunday of April.
    #[test]
    fn half_an_hour_comes_twice_on_lord_howe() {
        let zone = named("Australia/Lord_Howe").unwrap();
        let at = |text| instants(&zone, wall(text));
        assert!(matches!(at("2026-04-05 01:45"), Wall::Twice(a, b) if b - a == 30 * MINUTE_MS));
        assert!(matches!(at("2026-04-05 01:15"), Wall::At(_)));
    }
}
