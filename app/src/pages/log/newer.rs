//! Records that only a newer program understands: the office holds them, a phone cannot show them.

use crate::act::use_act;
use crate::office::{self, OfficeError};
use crate::parts::{Action, Kind as How};
use crate::words::{key, use_words};
use leptos::prelude::*;
use leptos::task::spawn_local;
use pentally_domain::envelope::{Entry, Envelope};
use pentally_domain::fact::Fact;
use serde::Deserialize;
use serde_json::value::RawValue;

/// How far back the office's log is looked through.
const LOOKED_AT: u64 = 1000;

#[derive(Debug, Deserialize)]
struct Health {
    entries: u64,
}

#[derive(Debug, Deserialize)]
struct Entries {
    entries: Vec<Box<RawValue>>,
}

/// A record nobody here can read.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Unread {
    kind: String,
    version: u16,
    recorded_at: String,
}

/// Asks the office on a tap: this needs a connection and costs a page of the log.
#[component]
pub fn Newer() -> impl IntoView {
    let w = use_words();
    let act = use_act();
    let found = RwSignal::new(None::<Vec<Unread>>);
    let ask = move |()| {
        spawn_local(async move {
            match look().await {
                Ok(list) => found.set(Some(list)),
                Err(error) => act.office_failed(&error),
            }
        });
    };
    let row = move |unread: Unread| {
        let says = w.tr_with(
            key::LOG_NEWER,
            &[
                ("kind", unread.kind.into()),
                ("version", unread.version.into()),
            ],
        );
        view! { <li class="row"><div class="rest-of"><p class="name">{says}</p><p class="small quiet">{unread.recorded_at}</p></div></li> }
    };
    let list = move || {
        found.get().map(|list| {
            let none = list
                .is_empty()
                .then(|| view! { <p class="words quiet">{w.tr(key::LOG_NEWER_NONE)}</p> });
            view! { {none}<ul class="rows">{list.into_iter().map(row).collect_view()}</ul> }
        })
    };
    view! {
        <div class="actions"><Action word=w.tr(key::LOG_NEWER_ASK) kind=How::Quiet on_tap=ask/></div>
        {list}
    }
}

async fn look() -> Result<Vec<Unread>, OfficeError> {
    let says = |e: serde_json::Error| OfficeError::Says(e.to_string());
    let health: Health =
        serde_json::from_str(&office::ask("GET", "/health", None).await?).map_err(says)?;
    let after = health.entries.saturating_sub(LOOKED_AT);
    let path = format!("/api/v1/entries?after={after}&limit={LOOKED_AT}");
    let page: Entries =
        serde_json::from_str(&office::ask("GET", &path, None).await?).map_err(says)?;
    Ok(page
        .entries
        .iter()
        .rev()
        .filter_map(|line| unread(line.get()))
        .collect())
}

fn unread(line: &str) -> Option<Unread> {
    let entry = Entry::from_line(line).ok()?;
    let envelope: &Envelope = entry.envelope();
    let newer = matches!(Fact::of(envelope), Ok(None));
    newer.then(|| Unread {
        kind: envelope.kind.clone(),
        version: envelope.version,
        recorded_at: envelope.recorded_at.to_string(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use pentally_domain::id::{BarnId, DeviceId, FarmId};
    use pentally_domain::time::Stamp;
    use pentally_domain::writer::{Head, Moment};

    fn line(kind: &str, version: u16, body: &str) -> String {
        let now = Stamp::new(1_767_225_600_000, 60).unwrap();
        let moment = Moment {
            now,
            occurred_at: now,
            random: [3; 10],
            person: None,
        };
        let head = Head::new(
            FarmId::v7(0, [1; 10]),
            BarnId::v7(0, [1; 10]),
            DeviceId::v7(0, [1; 10]),
        );
        head.write_raw(kind, version, body.to_owned(), moment)
            .unwrap()
            .0
            .to_line()
    }

    #[test]
    fn a_kind_of_a_newer_version_is_told_and_a_known_one_is_not() {
        let newer = unread(&line("storage_check", 1, "{}")).unwrap();
        assert_eq!((newer.kind.as_str(), newer.version), ("storage_check", 1));
        assert_eq!(unread(&line("pen", 2, "{}")).map(|u| u.version), Some(2));
        assert_eq!(unread(&line("pen", 1, r#"{"name":"4"}"#)), None);
        assert_eq!(unread("not an entry"), None);
    }
}
