//! The one table of everything the server answers to: it yields the router and the `OpenAPI`
//! document together, so that neither can forget the other.

use super::house::House;
use super::{import, office, reckon, start, sync, tags};
use axum::extract::DefaultBodyLimit;
use axum::routing::{MethodRouter, get, post};

/// Who may ask. Until phones are paired the server listens on the loopback only, and whoever
/// reaches it may ask everything.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Role {
    /// Anybody who reaches the server.
    Anyone,
}

/// One row.
pub struct Route {
    /// The path, with `{names}`.
    pub path: &'static str,
    /// The method, in lower case.
    pub method: &'static str,
    /// Who may ask.
    pub role: Role,
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
        role: Role::Anyone,
        summary: "Says that the store can be read, how many entries it has, its epoch and the program's version.",
        query: &[],
        body: None,
        answer: (JSON, "status, entries, epoch, version"),
        handler: || get(office::health),
    },
    Route {
        path: "/api/v1/hello",
        method: "get",
        role: Role::Anyone,
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
        role: Role::Anyone,
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
        role: Role::Anyone,
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
        role: Role::Anyone,
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
        role: Role::Anyone,
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
        role: Role::Anyone,
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
        role: Role::Anyone,
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
        role: Role::Anyone,
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
        path: "/api/v1/reckon/{name}",
        method: "post",
        role: Role::Anyone,
        summary: "The laboratory's arithmetic: count, agreement, verdict, doses, plain-doses, gestation, age.",
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
        role: Role::Anyone,
        summary: "The page behind a pen's tag or a semen batch's code; 404 for a code that was misread.",
        query: &[],
        body: None,
        answer: (HTML, "the page"),
        handler: || get(tags::behind),
    },
    Route {
        path: "/t/{code}",
        method: "get",
        role: Role::Anyone,
        summary: "Leads to /T/CODE.",
        query: &[],
        body: None,
        answer: (HTML, "a redirect"),
        handler: || get(tags::behind),
    },
    Route {
        path: "/tags",
        method: "get",
        role: Role::Anyone,
        summary: "The sheet of all pens' tags, to print at true size.",
        query: &[("paper", "a4 or letter"), ("lang", "en or es")],
        body: None,
        answer: (HTML, "the sheet"),
        handler: || get(tags::sheet),
    },
    Route {
        path: "/tags/{file}",
        method: "get",
        role: Role::Anyone,
        summary: "One tag's symbol; the file is the code's six digits and .svg.",
        query: &[],
        body: None,
        answer: ("image/svg+xml", "the symbol"),
        handler: || get(tags::one),
    },
    Route {
        path: "/api/v1/import/preview",
        method: "post",
        role: Role::Anyone,
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
        role: Role::Anyone,
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
        path: "/api/v1/openapi.json",
        method: "get",
        role: Role::Anyone,
        summary: "This table as an OpenAPI document.",
        query: &[],
        body: None,
        answer: (JSON, "OpenAPI 3.1"),
        handler: || get(super::openapi::document),
    },
];
