//! What is coming on an invented farm, for the feed that other parsers read.

use chrono::NaiveDate;
use pentally_domain::boar::OffReason;
use pentally_domain::coming::{Coming, What};
use pentally_domain::id::{BoarId, EntryId, SowId};
use pentally_domain::rest::week::Planned;
use pentally_server::calendar::Event;

/// The farm's name, with every sign that is escaped.
pub const FARM: &str = r"Granja «La Ñora»; boars, sows \ gilts";
/// 2026-02-24T06:05:07Z.
pub const NOW_MS: i64 = 1_771_913_107_000;

/// The events: each kind, days across the end of February, of a leap day and of a year, and lines
/// that are long, wide, empty or hold what has to be escaped.
pub fn events() -> Vec<Event> {
    let (boar, entry, service) = (
        boar(1),
        EntryId::v7(NOW_MS, [2; 10]),
        EntryId::v7(5, [3; 10]),
    );
    let sow = SowId::v7(4, [4; 10]);
    let off = |reason| What::Off {
        boar,
        entry: EntryId::v7(i64::from(reason as u8), [5; 10]),
        reason,
    };
    let wide = "🐗".repeat(40);
    let umlauts = format!("{}{}", "ä".repeat(60), " ö".repeat(40));
    vec![
        event(due(1), "2026-02-24", "2026-02-24", "Collect boar 117"),
        event(
            due(1),
            "2026-02-28",
            "2026-02-28",
            "Collect boar 117, again; \\ as a path C:\\new",
        ),
        event(
            due(2),
            "2028-02-29",
            "2028-02-29",
            "Recoger al verraco «Ñandú», que llega tarde: está previsto desde hace 3 días",
        ),
        event(due(3), "2026-12-31", "2026-12-31", &wide),
        event(due(3), "2026-03-29", "2026-03-29", &umlauts),
        event(due(4), "2026-03-01", "2026-03-01", ""),
        event(
            off(OffReason::Lame),
            "2026-02-20",
            "2026-02-28",
            "Two\r\nlines\tand a bell\u{7}",
        ),
        event(
            off(OffReason::Fever),
            "2027-12-30",
            "2028-01-02",
            &"a".repeat(300),
        ),
        event(
            What::FeverWatch { boar, entry },
            "2026-02-18",
            "2026-04-01",
            "Fever: watch his output: \"six weeks\"",
        ),
        event(
            What::Return { sow, service },
            "2026-03-04",
            "2026-03-10",
            "Sow 12: returns?",
        ),
        event(
            What::Farrowing { sow, service },
            "2026-06-08",
            "2026-06-08",
            &" spaced ".repeat(30),
        ),
    ]
}

fn boar(n: u8) -> BoarId {
    BoarId::v7(1, [n; 10])
}

fn due(n: u8) -> What {
    What::Collection(Planned {
        boar: boar(n),
        late_days: 0,
        follows: false,
    })
}

fn event(what: What, from: &str, to: &str, summary: &str) -> Event {
    let day = |text: &str| text.parse::<NaiveDate>().unwrap();
    Event {
        coming: Coming {
            what,
            from: day(from),
            to: day(to),
        },
        summary: summary.to_owned(),
    }
}
