//! The phones that were let in, and how another one is.

mod door;

use crate::act::use_act;
use crate::feed::{Feed, use_feed};
use crate::office;
use crate::pages::pair::role_word;
use crate::parts::{Action, Caution, Drawing, Kind, Mark, Title};
use crate::paths;
use crate::words::{Words, key, use_words};
use leptos::prelude::*;
use leptos::task::spawn_local;
use pentally_domain::pairing::{Network, PairedDevice, Revoke};

/// `/phones`
#[component]
pub fn PhonesPage() -> impl IntoView {
    let w = use_words();
    let act = use_act();
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    let network = RwSignal::new(None::<Network>);
    let list = RwSignal::new(None::<Vec<PairedDevice>>);
    let look = Callback::new(move |()| {
        spawn_local(async move {
            match office::get("/api/v1/paired").await {
                Ok(devices) => list.set(Some(devices)),
                Err(error) => act.office_failed(&error),
            }
        });
    });
    Effect::new(move |_| {
        look.run(());
        spawn_local(async move {
            // The list says it when the office does not answer.
            network.set(office::get("/api/v1/network").await.ok());
        });
    });
    let open = Memo::new(move |_| network.with(|n| n.as_ref().map(|n| n.origin.is_some())));
    let door = move || {
        match open.get() {
        Some(true) => view! { <door::Door feed look/> }.into_any(),
        Some(false) => view! {
            <div class="words"><Caution says=w.tr(key::PHONES_NETWORK_FIRST)/></div>
            <div class="actions"><Action word=w.tr(key::MORE_NETWORK) drawing=Drawing::Office href=paths::NETWORK/></div>
        }
        .into_any(),
        None => ().into_any(),
    }
    };
    view! {
        <Title headline=w.tr(key::MORE_PHONES) why=w.tr(key::PHONES_WHY)/>
        {door}
        <LetIn feed list look/>
        <div class="grow"></div>
    }
    .into_any()
}

#[component]
fn LetIn(
    feed: Feed,
    list: RwSignal<Option<Vec<PairedDevice>>>,
    look: Callback<()>,
) -> impl IntoView {
    let w = use_words();
    let act = use_act();
    // Which one is about to be shut out.
    let asked = RwSignal::new(None::<u64>);
    let shut_out = Callback::new(move |n: u64| {
        asked.set(None);
        spawn_local(async move {
            match office::post("/api/v1/paired/revoke", &Revoke { n }).await {
                Ok(_) => look.run(()),
                Err(error) => act.office_failed(&error),
            }
        });
    });
    let rows = move || {
        let now_ms = feed.now_ms.get();
        list.get().map(|devices| {
            let none = devices.is_empty();
            let rows = ordered(devices)
                .into_iter()
                .map(|device| row(&w, device, now_ms, asked, shut_out))
                .collect_view();
            view! {
                {none.then(|| view! { <p class="words quiet">{w.tr(key::PHONES_NONE)}</p> })}
                <ul class="rows">{rows}</ul>
            }
        })
    };
    view! {
        <section class="words"><h2>{w.tr(key::PHONES_LIST)}</h2></section>
        {rows}
    }
}

fn row(
    w: &Words,
    device: PairedDevice,
    now_ms: i64,
    asked: RwSignal<Option<u64>>,
    shut_out: Callback<u64>,
) -> AnyView {
    let (w, n, name) = (*w, device.n, device.name.as_str().to_owned());
    let is_out = device.revoked_ms.is_some();
    let says = told(&w, &device, now_ms);
    let title = name.clone();
    let is_asked = move || asked.get() == Some(n);
    let sure = move || {
        let args = [("name", name.as_str().into())];
        is_asked().then(|| {
            view! {
                <p role="alert">{w.tr_with(key::PHONES_SHUT_OUT_SURE, &args)}</p>
                <div class="actions">
                    <Action word=w.tr(key::PHONES_SHUT_OUT) on_tap=move |()| shut_out.run(n)/>
                    <Action word=w.tr(key::PHONES_KEEP) kind=Kind::Quiet on_tap=move |()| asked.set(None)/>
                </div>
            }
        })
    };
    let drawing = if is_out { Drawing::Bar } else { Drawing::Phone };
    view! {
        <li class="row">
            <Mark drawing/>
            <div class="rest-of"><p class="name">{title}</p><p class="small quiet">{says}</p>{sure}</div>
            {move || (!is_out && !is_asked()).then(|| view! {
                <Action word=w.tr(key::PHONES_SHUT_OUT) kind=Kind::Quiet on_tap=move |()| asked.set(Some(n))/>
            })}
        </li>
    }
    .into_any()
}

/// What it may do, when it was heard of, and what waits on it.
fn told(w: &Words, device: &PairedDevice, now_ms: i64) -> String {
    let ago = |key, ms: i64| w.tr_with(key, &[("span", w.span(now_ms - ms).into())]);
    let out = device.revoked_ms.map(|ms| ago(key::PHONES_IS_OUT, ms));
    let heard = device.last_seen_ms.map_or_else(
        || w.tr(key::PHONES_NEVER_HEARD),
        |ms| ago(key::PHONES_HEARD, ms),
    );
    let unsent = (device.unsent > 0).then(|| {
        let n = w.num(device.unsent as f64, 0);
        w.tr_with(key::PHONES_UNSENT, &[("n", n.into())])
    });
    let role = w.tr(role_word(device.role));
    let said: Vec<_> = out.into_iter().chain([role, heard]).chain(unsent).collect();
    said.join(" · ")
}

/// Those that may come in by name, then those that were shut out, the latest first.
fn ordered(mut devices: Vec<PairedDevice>) -> Vec<PairedDevice> {
    devices.sort_by_cached_key(|d| {
        let out = d.revoked_ms.map(|ms| -ms);
        (out.is_some(), out, d.name.as_str().to_lowercase(), d.n)
    });
    devices
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::words::Lang;
    use pentally_domain::pairing::Role;
    use pentally_domain::said::Label;

    fn device(n: u64, name: &str, revoked_ms: Option<i64>) -> PairedDevice {
        PairedDevice {
            n,
            name: Label::parse(name).unwrap(),
            role: Role::Barn,
            since_ms: 0,
            revoked_ms,
            device: None,
            last_seen_ms: None,
            unsent: 0,
        }
    }

    #[test]
    fn who_was_shut_out_stands_at_the_end() {
        let list = ordered(vec![
            device(1, "zinc", Some(5)),
            device(2, "Bench", None),
            device(3, "lead", Some(9)),
            device(4, "aisle", None),
        ]);
        let order: Vec<_> = list.iter().map(|d| d.n).collect();
        assert_eq!(order, [4, 2, 3, 1]);
    }

    #[test]
    fn a_phone_s_row_says_what_it_may_do_and_what_waits_on_it() {
        let w = Words::of(Lang::En);
        let fresh = device(1, "Phone 12", None);
        assert_eq!(told(&w, &fresh, 0), "Barn · not heard of yet");
        let out = PairedDevice {
            last_seen_ms: Some(0),
            unsent: 4,
            ..device(1, "Phone 12", Some(3_600_000))
        };
        assert_eq!(
            told(&w, &out, 7_200_000),
            "shut out 1 h ago · Barn · heard of 2 h ago · 4 not sent"
        );
    }
}
