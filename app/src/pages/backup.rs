//! The office's backup, what this phone holds, and the devices the office has heard of.

mod missing;

use crate::act::use_act;
use crate::device;
use crate::feed::{Feed, use_feed};
use crate::office;
use crate::pages::send::SendNow;
use crate::parts::{Action, Caution, Drawing, Kind, Title};
use crate::tell;
use crate::words::{Words, key, use_words};
use chrono::Datelike;
use leptos::html;
use leptos::prelude::*;
use leptos::task::spawn_local;
use pentally_domain::id::DeviceId;
use serde::Deserialize;

/// What the office says of a device (`GET /api/v1/devices`).
#[derive(Debug, Clone, PartialEq, Deserialize)]
struct Known {
    id: DeviceId,
    highest: u64,
    #[serde(default)]
    last_seen_ms: Option<i64>,
    #[serde(default)]
    unsent: u64,
    #[serde(default)]
    lost: Vec<(u64, u64)>,
}

/// `/backup`
#[component]
pub fn BackupPage() -> impl IntoView {
    let w = use_words();
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    view! {
        <Title headline=w.tr(key::MORE_BACKUP) why=w.tr(key::BACKUP_WHY)/>
        <Office/>
        <ByItself feed/>
        <ThisPhone feed/>
        <Devices feed/>
        <missing::WhatIsMissing/>
        <div class="grow"></div>
    }
    .into_any()
}

/// What the office says of the backups it makes by itself (`GET /api/v1/backups`).
#[derive(Debug, Clone, PartialEq, Deserialize)]
struct Kept {
    folder: String,
    last: Option<Last>,
    trouble: Option<String>,
}

#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
struct Last {
    at_ms: i64,
}

/// When the office last made one by itself, and why it cannot, if so.
#[component]
fn ByItself(feed: Feed) -> impl IntoView {
    let w = use_words();
    let kept = RwSignal::new(None::<Kept>);
    Effect::new(move |_| {
        spawn_local(async move {
            // An office that does not answer is said where it is asked for a backup.
            kept.set(office::get("/api/v1/backups").await.ok());
        });
    });
    let says = move |kept: Kept| {
        let folder = ("folder", kept.folder.as_str().into());
        let last = kept.last.map_or_else(
            || w.tr_with(key::BACKUP_NONE_YET, std::slice::from_ref(&folder)),
            |last| {
                let now_ms = feed.now_ms.get();
                let zone = feed.barn.with(|b| b.zone_at(last.at_ms));
                let when = tell::moment(&w, &zone, last.at_ms, now_ms);
                w.tr_with(key::BACKUP_LAST, &[("when", when.into()), folder.clone()])
            },
        );
        let trouble = kept.trouble.map(|why| {
            let says = w.tr_with(key::BACKUP_TROUBLE, &[("why", why.into())]);
            view! { <Caution says=says/> }
        });
        view! { <div class="words">{trouble}<p class="small quiet">{last}</p></div> }
    };
    move || kept.get().map(says)
}

/// One button. The file goes from the office straight to the disk: a million records must not
/// pass through this page's memory.
#[component]
fn Office() -> impl IntoView {
    let w = use_words();
    let act = use_act();
    let form = NodeRef::<html::Form>::new();
    let taken = RwSignal::new(false);
    let take = move |()| {
        spawn_local(async move {
            match office::ask("GET", "/health", None).await {
                Ok(_) => {
                    drop(form.get_untracked().map(|form| form.submit()));
                    taken.set(true);
                }
                Err(error) => act.office_failed(&error),
            }
        });
    };
    view! {
        <section class="words">
            <h2>{w.tr(key::BACKUP_OFFICE)}</h2>
            <p>{w.tr(key::BACKUP_OFFICE_WHY)}</p>
            <form node_ref=form method="post" action="/api/v1/backup" hidden></form>
        </section>
        <div class="actions"><Action word=w.tr(key::BACKUP_OFFICE_TAKE) drawing=Drawing::Office on_tap=take/></div>
        <Show when=move || taken.get()><p class="words" role="status">{w.tr(key::BACKUP_OFFICE_TAKEN)}</p></Show>
    }
}

#[component]
fn ThisPhone(feed: Feed) -> impl IntoView {
    let w = use_words();
    let act = use_act();
    let send = SendNow::new(Some(feed));
    let held = RwSignal::new(None::<usize>);
    Effect::new(move |_| {
        // What is saved or sent meanwhile changes the count.
        feed.link.with(|l| l.unsent);
        spawn_local(async move {
            held.set(
                device::held_lines()
                    .await
                    .ok()
                    .map(|lines| lines.lines().count()),
            )
        });
    });
    let keep = move |()| {
        spawn_local(async move {
            act.told(device::held_lines().await, |lines| {
                office::keep_file(&file_name(feed), &lines)
            });
        });
    };
    let ask = move |()| {
        spawn_local(async move {
            let kept = device::ask_persist().await;
            act.say(w.tr(if kept == Some(true) {
                key::MORE_KEPT
            } else {
                key::MORE_NOT_KEPT
            }));
        });
    };
    let holds = move || {
        held.get()
            .map_or_else(|| w.tr(key::NOT_KNOWN), |n| w.num(n as f64, 0))
    };
    let unsent = move || w.num(feed.link.with(|l| l.unsent) as f64, 0);
    let oldest = move || {
        let age = feed
            .link
            .with(|l| l.oldest_unsent_ms)
            .map(|ms| feed.now_ms.get() - ms);
        age.map_or_else(|| "–".to_owned(), |ms| w.span(ms))
    };
    let contact = move || {
        let age = feed
            .link
            .with(|l| l.last_contact_ms)
            .map(|ms| feed.now_ms.get() - ms);
        age.map_or_else(
            || w.tr(key::BACKUP_NEVER),
            |ms| w.tr_with(key::BACKUP_AGO, &[("span", w.span(ms).into())]),
        )
    };
    let persisted = move || {
        w.tr(match feed.link.with(|l| l.persisted) {
            Some(true) => key::BACKUP_PERSISTED,
            Some(false) => key::BACKUP_NOT_PERSISTED,
            None => key::NOT_KNOWN,
        })
    };
    view! {
        <section class="words">
            <h2>{w.tr(key::BACKUP_PHONE)}</h2>
            <dl class="facts">
                <dt>{w.tr(key::BACKUP_HOLDS)}</dt><dd>{holds}</dd>
                <dt>{w.tr(key::BACKUP_UNSENT)}</dt><dd>{unsent}</dd>
                <dt>{w.tr(key::BACKUP_OLDEST)}</dt><dd>{oldest}</dd>
                <dt>{w.tr(key::BACKUP_CONTACT)}</dt><dd>{contact}</dd>
                <dt>{w.tr(key::BACKUP_KEEPS)}</dt><dd>{persisted}</dd>
            </dl>
            <p class="small quiet">{w.tr(key::BACKUP_PHONE_WHY)}</p>
        </section>
        <div class="actions">
            <Action word=w.tr(key::BACKUP_KEEP) kind=Kind::Quiet drawing=Drawing::Phone on_tap=keep/>
            {send.action()}
            <Action word=w.tr(key::MORE_KEEP) kind=Kind::Quiet on_tap=ask/>
        </div>
        {send.says()}
    }
}

/// `pentally-phone-2026-03-01.jsonl`, by the farm's day.
fn file_name(feed: Feed) -> String {
    let now_ms = feed.now_ms.get_untracked();
    let day = feed.barn.with_untracked(|b| b.zone_at(now_ms).day(now_ms));
    format!(
        "pentally-phone-{:04}-{:02}-{:02}.jsonl",
        day.year(),
        day.month(),
        day.day()
    )
}

#[component]
fn Devices(feed: Feed) -> impl IntoView {
    let w = use_words();
    let act = use_act();
    let list = RwSignal::new(None::<Vec<Known>>);
    let own = RwSignal::new(None::<DeviceId>);
    let ask = move |()| {
        spawn_local(async move {
            own.set(device::identity().await);
            match devices().await {
                Ok(devices) => list.set(Some(devices)),
                Err(error) => act.office_failed(&error),
            }
        });
    };
    let shown = move || {
        let now_ms = feed.now_ms.get();
        list.get().map(|devices| {
            let rows = devices
                .iter()
                .map(|d| {
                    let here = (own.get() == Some(d.id)).then(|| feed.link.with(|l| l.unsent));
                    row(&w, d, here, now_ms)
                })
                .collect_view();
            view! {
                <div class="words sheet"><table>
                    <thead><tr>
                        <th>{w.tr(key::BACKUP_DEVICE)}</th>
                        <th>{w.tr(key::BACKUP_LAST_SEEN)}</th>
                        <th class="number">{w.tr(key::BACKUP_RECORDS)}</th>
                        <th class="number">{w.tr(key::BACKUP_UNSENT)}</th>
                        <th class="number">{w.tr(key::BACKUP_LOST)}</th>
                    </tr></thead>
                    <tbody>{rows}</tbody>
                </table></div>
            }
        })
    };
    view! {
        <section class="words"><h2>{w.tr(key::BACKUP_DEVICES)}</h2><p class="small quiet">{w.tr(key::BACKUP_DEVICES_WHY)}</p></section>
        {shown}
        <div class="actions"><Action word=w.tr(key::BACKUP_DEVICES_ASK) kind=Kind::Quiet on_tap=ask/></div>
    }
}

async fn devices() -> Result<Vec<Known>, office::OfficeError> {
    let text = office::ask("GET", "/api/v1/devices", None).await?;
    serde_json::from_str(&text).map_err(|e| office::OfficeError::Says(e.to_string()))
}

/// A device as the office heard of it; of this one it is known `here` what it has not sent.
fn row(w: &Words, device: &Known, here: Option<u64>, now_ms: i64) -> AnyView {
    let id = device.id.to_string();
    let end = id
        .rsplit('-')
        .next()
        .map_or(String::new(), |end| end.chars().skip(6).collect());
    let name = if here.is_some() {
        w.tr_with(key::BACKUP_THIS_ONE, &[("id", end.into())])
    } else {
        end
    };
    let seen = device
        .last_seen_ms
        .map(|ms| w.tr_with(key::BACKUP_AGO, &[("span", w.span(now_ms - ms).into())]));
    let lost: u64 = device
        .lost
        .iter()
        .map(|(first, last)| last.saturating_sub(*first) + 1)
        .sum();
    let number = |n: u64| w.num(n as f64, 0);
    view! {
        <tr>
            <td>{name}</td>
            <td>{seen.unwrap_or_else(|| w.tr(key::BACKUP_NEVER))}</td>
            <td class="number">{number(device.highest)}</td>
            <td class="number">{number(here.unwrap_or(device.unsent))}</td>
            <td class="number">{number(lost)}</td>
        </tr>
    }
    .into_any()
}

#[cfg(test)]
mod tests {
    use super::Known;

    #[test]
    fn what_the_office_says_of_a_device_reads_with_and_without_what_may_be_missing() {
        let id = "01932c5e-7b1a-7000-8000-000000000001";
        let full = format!(
            r#"{{"id":"{id}","contiguous":7,"highest":9,"floor":1,"last_seen_ms":5,"unsent":2,"backed_up":7,"lost":[[3,4]]}}"#
        );
        let read: Known = serde_json::from_str(&full).unwrap();
        assert_eq!(
            (read.highest, read.last_seen_ms, read.unsent, read.lost),
            (9, Some(5), 2, vec![(3, 4)])
        );
        let least =
            format!(r#"{{"id":"{id}","contiguous":0,"highest":0,"unsent":0,"backed_up":0}}"#);
        assert_eq!(
            serde_json::from_str::<Known>(&least).unwrap().last_seen_ms,
            None
        );
    }
}
