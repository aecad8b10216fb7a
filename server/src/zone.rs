//! The farm's time zone, worked out once from the zone database this program carries, so that
//! phones need none.

use jiff::Timestamp;
use jiff::tz::{Offset, TimeZone, TimeZoneDatabase};
use pentally_domain::time::{Shift, Zone};

/// From 2000-01-01 …
const FROM_MS: i64 = 946_684_800_000;
/// … to 2060-01-01, UTC.
const UNTIL_MS: i64 = 2_840_140_800_000;

/// No zone of that name.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("'{read}' is no time zone: an IANA name such as Europe/Madrid was expected")]
pub struct ZoneError {
    /// What was read.
    pub read: String,
}

/// The zone of an IANA name, with the changes of its clock from 2000 to 2060.
pub fn named(name: &str) -> Result<Zone, ZoneError> {
    let error = || ZoneError {
        read: name.chars().take(60).collect(),
    };
    let zone = TimeZoneDatabase::bundled()
        .get(name.trim())
        .map_err(|_| error())?;
    let from = Timestamp::from_millisecond(FROM_MS).map_err(|_| error())?;
    let first = Shift {
        from_ms: FROM_MS,
        offset_min: minutes(zone.to_offset(from)),
    };
    let mut shifts = vec![first];
    for change in zone
        .following(from)
        .take_while(|change| change.timestamp().as_millisecond() < UNTIL_MS)
    {
        let offset_min = minutes(change.offset());
        if shifts
            .last()
            .is_some_and(|last| last.offset_min != offset_min)
        {
            shifts.push(Shift {
                from_ms: change.timestamp().as_millisecond(),
                offset_min,
            });
        }
    }
    Ok(Zone {
        name: canonical(&zone, name),
        shifts,
    })
}

fn canonical(zone: &TimeZone, read: &str) -> String {
    zone.iana_name().unwrap_or(read.trim()).to_owned()
}

/// Zones have had whole minutes since long before 2000.
fn minutes(offset: Offset) -> i16 {
    i16::try_from(offset.seconds() / 60).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: IANA tz database, rule EU: clocks change on the last Sunday of March and of October,
    /// 01:00 UTC; in 2026 on 29 March and 25 October.
    #[test]
    fn madrid_changes_its_clock_as_the_eu_does() {
        let zone = named("Europe/Madrid").unwrap();
        assert!(zone.shifts.contains(&Shift {
            from_ms: 1_774_746_000_000,
            offset_min: 120
        }));
        assert!(zone.shifts.contains(&Shift {
            from_ms: 1_792_890_000_000,
            offset_min: 60
        }));
        assert_eq!(zone.shifts.len(), 1 + 2 * 60);
        assert_eq!(zone.offset_min_at(1_782_864_000_000), 120);
    }

    /// Source: IANA tz database: Arizona keeps Mountain Standard Time; Nepal is 5:45 ahead.
    #[test]
    fn a_zone_without_changes_has_one_shift() {
        for (name, offset_min) in [
            ("America/Phoenix", -420),
            ("Asia/Kathmandu", 345),
            ("UTC", 0),
        ] {
            assert_eq!(
                named(name).unwrap().shifts,
                [Shift {
                    from_ms: FROM_MS,
                    offset_min
                }],
                "{name}"
            );
        }
    }

    #[test]
    fn another_name_is_refused_in_words() {
        let error = named("Middle/Nowhere").unwrap_err().to_string();
        assert!(
            error.contains("'Middle/Nowhere' is no time zone"),
            "{error}"
        );
    }
}
