//! The one table of everything the server answers to: it yields the router and the `OpenAPI`
//! document together, so that neither can forget the other.

use super::house::House;
use super::{import, network, office, pairing, reckon, start, sync, tags};
use crate::access::Who;
use axum::extract::DefaultBodyLimit;
use axum::routing::{MethodRouter, get, post};
use pentally_domain::pairing::Role;

/// Who may ask.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum May {
    /// Anybody who reaches the server.
    Anyone,
    /// A device with this part, or with one that may more; see [`Role`].
    As(Role),
    /// A device that was let in, also one that was shut out since: what it brings is set aside.
    Bring,
}

impl May {
    /// Who that is, in a word.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Anyone => "anyone",
            Self::As(Role::Barn) => "barn",
            Self::As(Role::Laboratory) => "laboratory",
            Self::As(Role::Office) => "office",
            Self::Bring => "any device that was ever let in",
        }
    }

    /// Whether whoever asks may.
    pub fn admits(self, who: &Who) -> bool {
        match self {
            Self::Anyone => true,
            Self::As(least) => who.role() >= Some(least),
            Self::Bring => !matches!(who, Who::Nobody),
        }
    }
}

/// One row.
pub struct Route {
    /// The path, with `{names}`.
    pub path: &'static str,
    /// The method, in lower case.
    pub method: &'static str,
    /// Who may ask.
    pub may: May,
    /// What it does, in one sentence.
    pub summary: &'static str,
    /// What stands behind the `?`: name, and what it means.
    pub query: &'static [(&'static str, &'static str)],
    /// What the body holds, if there is one.
    pub body: Option<&'static str>,
    /// The media type of the answer, and what it holds.
    pub answer: (&'static str, &'static str),
    /// Makes the handler.
    pub handler: fn() -> MethodRouter<House>,
}

const JSON: &str = "application/json";
/// What the body holds where it is a file and no JSON.
pub const FILE: &str = "the bytes of the file";
const CHOICES: (&str, &str) = (
    "choices",
    "JSON: encoding, delimiter, headerless, mapping of columns to fields, dates",
);
const HTML: &str = "text/html";

/// The table.
pub static TABLE: &[Route] = &[
    Route {
        path: "/health",
        method: "get",
        may: May::Anyone,
        summary: "Says that the store can be read, how many entries it has, its epoch and the program's version.",
        query: &[],
        body: None,
        answer: (JSON, "status, entries, epoch, version"),
        handler: || get(office::health),
    },
    Route {
        path: "/api/v1/hello",
        method: "get",
        may: May::Anyone,
        summary: "Says whose log this is, before a device writes its first entry.",
        query: &[],
        body: None,
        answer: (
            JSON,
            "protocol, version, epoch, farm and barn or null, invented, started",
        ),
        handler: || get(start::hello),
    },
    Route {
        path: "/api/v1/start",
        method: "post",
        may: May::As(Role::Office),
        summary: "Starts a farm, opens the invented barn, or leaves it.",
        query: &[],
        body: Some(
            "farm (a name) and zone (an IANA name); or invented: true; or leave_invented: true",
        ),
        answer: (JSON, "as hello"),
        handler: || post(start::start),
    },
    Route {
        path: "/api/v1/sync",
        method: "post",
        may: May::Bring,
        summary: "Takes in entries, judged one by one: stored, duplicate, conflict or set aside. All four count as received.",
        query: &[],
        body: Some(
            "protocol, device, cursor, floor, unsent, entries (each one JSON object), beside",
        ),
        answer: (
            JSON,
            "protocol, farm, fates, contiguous, highest, cursor, resend, backed_up, now_ms",
        ),
        handler: || post(sync::push),
    },
    Route {
        path: "/api/v1/summaries",
        method: "get",
        may: May::As(Role::Barn),
        summary: "Hands out the ledgers that changed after a cursor, in pages of about 1 MiB.",
        query: &[
            ("protocol", "the version of the conversation"),
            ("epoch", "of the cursor"),
            ("n", "of the cursor"),
            ("hash", "of the cursor"),
            (
                "seen_epoch",
                "of the place where the asker last saw the log",
            ),
            ("seen_n", "of that place"),
            ("seen_hash", "of that place"),
            ("device", "who asks"),
        ],
        body: None,
        answer: (
            JSON,
            "protocol, cursor, restart, apart, more, includes, ledgers, beside, as_of_ms",
        ),
        handler: || get(sync::summaries).layer(tower_http::compression::CompressionLayer::new()),
    },
    Route {
        path: "/api/v1/entries",
        method: "get",
        may: May::As(Role::Office),
        summary: "The log, oldest first, each entry as it is exported.",
        query: &[
            ("after", "the number after which to begin; 0 without"),
            ("limit", "1 to 1000; 100 without"),
        ],
        body: None,
        answer: (
            JSON,
            "entries, and next: what to ask for after; null at the end",
        ),
        handler: || get(sync::entries),
    },
    Route {
        path: "/api/v1/devices",
        method: "get",
        may: May::As(Role::Office),
        summary: "The devices heard of: how far each has arrived, what waits on it, what is lost.",
        query: &[],
        body: None,
        answer: (
            JSON,
            "a list of id, contiguous, highest, floor, last_seen_ms, unsent, backed_up, lost",
        ),
        handler: || get(office::devices),
    },
    Route {
        path: "/api/v1/aside",
        method: "get",
        may: May::As(Role::Office),
        summary: "What was not accepted, with the reason and the whole text, and stored entries that look odd.",
        query: &[],
        body: None,
        answer: (
            JSON,
            "aside: n, received_at_ms, sender, reason, text; alarms: n, entry, thread_broken, clock_ahead_ms",
        ),
        handler: || get(office::aside),
    },
    Route {
        path: "/api/v1/backup",
        method: "post",
        may: May::As(Role::Office),
        summary: "Makes a backup, reads it back, and hands it out; devices may then let go of what it covers.",
        query: &[],
        body: None,
        answer: (
            "application/jsonl",
            "a first line about the backup, every entry, what stands beside the log, a last line with a hash",
        ),
        handler: || post(office::backup),
    },
    Route {
        path: "/api/v1/backups",
        method: "get",
        may: May::As(Role::Office),
        summary: "Where backups are laid every day, when the last was made and verified, and why none can be, if so.",
        query: &[],
        body: None,
        answer: (JSON, "folder, last (n, at_ms) or null, trouble or null"),
        handler: || get(office::backups),
    },
    Route {
        path: "/api/v1/reckon/{name}",
        method: "post",
        may: May::As(Role::Barn),
        summary: "The barn's arithmetic: count, agreement, verdict, doses, plain-doses, gestation, age; and survival: how long until it happens.",
        query: &[],
        body: Some("what was measured; a field nobody filled in was not measured"),
        answer: (
            JSON,
            "the figures, each with its formula, numbers and source",
        ),
        handler: || post(reckon::reckon),
    },
    Route {
        path: "/T/{code}",
        method: "get",
        may: May::As(Role::Barn),
        summary: "The page behind a pen's tag or a semen batch's code; 404 for a code that was misread.",
        query: &[],
        body: None,
        answer: (HTML, "the page"),
        handler: || get(tags::behind),
    },
    Route {
        path: "/t/{code}",
        method: "get",
        may: May::Anyone,
        summary: "Leads to /T/CODE.",
        query: &[],
        body: None,
        answer: (HTML, "a redirect"),
        handler: || get(tags::behind),
    },
    Route {
        path: "/tags",
        method: "get",
        may: May::As(Role::Office),
        summary: "The sheet of all pens' tags, to print at true size.",
        query: &[("paper", "a4 or letter"), ("lang", "en or es")],
        body: None,
        answer: (HTML, "the sheet"),
        handler: || get(tags::sheet),
    },
    Route {
        path: "/tags/{file}",
        method: "get",
        may: May::As(Role::Barn),
        summary: "One tag's symbol; the file is the code's six digits and .svg.",
        query: &[],
        body: None,
        answer: ("image/svg+xml", "the symbol"),
        handler: || get(tags::one),
    },
    Route {
        path: "/api/v1/import/preview",
        method: "post",
        may: May::As(Role::Office),
        summary: "Reads a list of boars (CSV) and tells each row's fate; writes nothing.",
        query: &[CHOICES],
        body: Some(FILE),
        answer: (
            JSON,
            "reads: summary, shape, questions, rows (the first 300, those to look at first), more; or unread: why, detail",
        ),
        handler: || {
            post(import::preview).layer(DefaultBodyLimit::max(crate::import::BYTES_MAX + 1))
        },
    },
    Route {
        path: "/api/v1/import/commit",
        method: "post",
        may: May::As(Role::Office),
        summary: "Writes all that a list of boars says, or nothing; the same list twice changes nothing.",
        query: &[
            CHOICES,
            (
                "decision",
                "JSON: leave_out (what cannot be taken), overwrite (what differs)",
            ),
        ],
        body: Some(FILE),
        answer: (JSON, "boars, pens, moves, changes: how many were written"),
        handler: || post(import::commit).layer(DefaultBodyLimit::max(crate::import::BYTES_MAX + 1)),
    },
    Route {
        path: "/api/v1/aside/accept",
        method: "post",
        may: May::As(Role::Office),
        summary: "Takes into the log what stands apart only because its device had been shut out.",
        query: &[],
        body: Some("n: its number"),
        answer: (JSON, "what became of it, as in a receipt"),
        handler: || post(office::accept),
    },
    Route {
        path: "/api/v1/pairings",
        method: "get",
        may: May::As(Role::Office),
        summary: "The offers to let a device in that stand.",
        query: &[],
        body: None,
        answer: (JSON, "a list of n, role, until_ms, name, confirmed"),
        handler: || get(pairing::offers),
    },
    Route {
        path: "/api/v1/pairings",
        method: "post",
        may: May::As(Role::Office),
        summary: "Offers to let one device in: a symbol to scan and a code to type, for ten minutes.",
        query: &[],
        body: Some("role: barn, laboratory or office"),
        answer: (JSON, "n, address, symbol, code, until_ms"),
        handler: || post(pairing::offer),
    },
    Route {
        path: "/api/v1/pairings/answer",
        method: "post",
        may: May::As(Role::Office),
        summary: "Says yes or no to the device that asks.",
        query: &[],
        body: Some("n and yes"),
        answer: (JSON, "the offers that stand"),
        handler: || post(pairing::answer),
    },
    Route {
        path: "/api/v1/pair",
        method: "post",
        may: May::Anyone,
        summary: "A device asks to come in, by the secret it scanned or the code typed; guesses are few.",
        query: &[],
        body: Some("name; and secret or code"),
        answer: (JSON, "claim, until_ms"),
        handler: || post(pairing::knock),
    },
    Route {
        path: "/api/v1/pair/finish",
        method: "post",
        may: May::Anyone,
        summary: "Says whether the office said yes; if so, the answer sets the cookie by which the device is known.",
        query: &[],
        body: Some("claim"),
        answer: (JSON, "state: waiting, refused, over or paired, with role"),
        handler: || post(pairing::finish),
    },
    Route {
        path: "/api/v1/login",
        method: "post",
        may: May::Anyone,
        summary: "A browser whose person knows the owner's passphrase becomes an office; guesses are few.",
        query: &[],
        body: Some("passphrase and name"),
        answer: (JSON, "state: paired, with role"),
        handler: || post(pairing::login),
    },
    Route {
        path: "/api/v1/paired",
        method: "get",
        may: May::As(Role::Office),
        summary: "The devices that were let in, those shut out since too.",
        query: &[],
        body: None,
        answer: (
            JSON,
            "a list of n, name, role, since_ms, revoked_ms, device, last_seen_ms, unsent",
        ),
        handler: || get(pairing::paired),
    },
    Route {
        path: "/api/v1/paired/revoke",
        method: "post",
        may: May::As(Role::Office),
        summary: "Shuts a device out; what it still sends is set aside.",
        query: &[],
        body: Some("n"),
        answer: (JSON, "the devices that were let in"),
        handler: || post(pairing::revoke),
    },
    Route {
        path: "/api/v1/network",
        method: "get",
        may: May::As(Role::Office),
        summary: "Where the barn is on the farm's network.",
        query: &[],
        body: None,
        answer: (
            JSON,
            "origin, steps, fingerprint, addresses, has_owner, trouble",
        ),
        handler: || get(network::standing),
    },
    Route {
        path: "/api/v1/network",
        method: "post",
        may: May::As(Role::Office),
        summary: "Opens the barn on the farm's network under a name, which the tags bear.",
        query: &[],
        body: Some("name, passphrase, tags_will_be_printed_again"),
        answer: (JSON, "as with get"),
        handler: || post(network::open),
    },
    Route {
        path: "/api/v1/openapi.json",
        method: "get",
        may: May::Anyone,
        summary: "This table as an OpenAPI document.",
        query: &[],
        body: None,
        answer: (JSON, "OpenAPI 3.1"),
        handler: || get(super::openapi::document),
    },
];
