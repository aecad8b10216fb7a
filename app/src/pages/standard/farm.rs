//! The farm's name, its zone, and the address its tags lead to.

use crate::act::use_act;
use crate::feed::use_feed;
use crate::pages::fields::{Line, Tick};
use crate::parts::{Action, Caution, Kind};
use crate::words::{Words, key, use_words};
use leptos::prelude::*;
use pentally_domain::fact::Fact;
use pentally_domain::farm::Farm;
use pentally_domain::said::Label;

/// Why an address is no origin.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum OriginError {
    /// Not `https://host` or `http://host`, perhaps with a port.
    Form,
    /// This machine only.
    OwnMachine,
}

#[component]
pub(super) fn FarmForm() -> impl IntoView {
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    let farm = Memo::new(move |_| feed.barn.with(|b| b.farm()).map(|f| f.fact));
    (move || farm.get().map(|farm| view! { <Form farm/> })).into_any()
}

#[component]
fn Form(farm: Farm) -> impl IntoView {
    let w = use_words();
    let act = use_act();
    let name = RwSignal::new(farm.name.as_str().to_owned());
    let origin = RwSignal::new(farm.origin.clone().unwrap_or_default());
    let sure = RwSignal::new(false);
    let name_wrong = RwSignal::new(None::<String>);
    let origin_wrong = RwSignal::new(None::<String>);
    let chosen = farm.origin.is_some();
    let was = farm.origin.clone();
    let changes = move || {
        was.as_ref()
            .is_some_and(|was| origin.with(|o| o.trim() != was))
    };
    let guarded = Signal::derive(changes);
    let zone = farm.zone.name.clone();
    let take = move |()| {
        let read =
            origin.with_untracked(|o| (!o.trim().is_empty()).then(|| read_origin(o)).transpose());
        name_wrong.set(Label::parse(&name.get_untracked()).err().map(|e| {
            w.tr_with(
                key::TEXT_LENGTH,
                &[
                    ("chars", e.chars.into()),
                    ("low", e.low.into()),
                    ("high", e.high.into()),
                ],
            )
        }));
        origin_wrong.set(
            read.as_ref()
                .err()
                .map(|why| tell_wrong(&w, &origin.get_untracked(), why)),
        );
        let (Ok(name), Ok(origin)) = (Label::parse(&name.get_untracked()), read) else {
            return;
        };
        if guarded.get_untracked() && !sure.get_untracked() {
            return origin_wrong.set(Some(w.tr(key::STANDARD_ORIGIN_TICK)));
        }
        let next = Farm {
            name,
            origin,
            ..farm.clone()
        };
        if next != farm {
            act.save_quietly(Fact::Farm(next));
        }
    };
    let suggest = move |()| origin.set(here().unwrap_or_default());
    view! {
        <section class="words">
            <h2>{w.tr(key::STANDARD_FARM)}</h2>
            <Line name=w.tr(key::FIRST_NAME) value=name hint=w.tr(key::FIELD_LABEL) wrong=name_wrong/>
            <p class="field"><span class="name">{w.tr(key::STANDARD_ZONE)}</span>{zone}
                <span class="bounds">{w.tr(key::STANDARD_ZONE_WHY)}</span></p>
            <Line name=w.tr(key::STANDARD_ORIGIN) value=origin wrong=origin_wrong
                hint=w.tr(if chosen { key::STANDARD_ORIGIN_CHOSEN } else { key::STANDARD_ORIGIN_WHY })/>
            <Show when=move || guarded.get()>
                <Caution says=w.tr(key::STANDARD_ORIGIN_MEANS)/>
                <Tick name=w.tr(key::STANDARD_ORIGIN_SURE) value=sure/>
            </Show>
        </section>
        <div class="actions">
            <Action word=w.tr(key::STANDARD_FARM_SAVE) on_tap=take/>
            {(!chosen).then(|| view! { <Action word=w.tr(key::STANDARD_ORIGIN_THIS) kind=Kind::Quiet on_tap=suggest/> })}
        </div>
    }
}

fn tell_wrong(w: &Words, read: &str, why: &OriginError) -> String {
    let key = match why {
        OriginError::Form => key::STANDARD_ORIGIN_FORM,
        OriginError::OwnMachine => key::STANDARD_ORIGIN_OWN,
    };
    w.tr_with(key, &[("read", read.trim().into())])
}

/// Scheme, host and port, in lower case; no path, and no address that only this machine reaches.
fn read_origin(typed: &str) -> Result<String, OriginError> {
    let text = typed.trim().trim_end_matches('/').to_lowercase();
    let host_port = text
        .strip_prefix("https://")
        .or_else(|| text.strip_prefix("http://"))
        .ok_or(OriginError::Form)?;
    let (host, port) = host_port
        .split_once(':')
        .map_or((host_port, None), |(host, port)| (host, Some(port)));
    let plain = |c: char| c.is_ascii_alphanumeric() || c == '.' || c == '-';
    let port_reads = port.is_none_or(|p| p.parse::<u16>().is_ok_and(|n| n > 0));
    if host.is_empty() || !host.chars().all(plain) || !port_reads {
        return Err(OriginError::Form);
    }
    if host == "localhost" || host.starts_with("127.") {
        return Err(OriginError::OwnMachine);
    }
    Ok(text)
}

#[cfg(target_arch = "wasm32")]
fn here() -> Option<String> {
    window().location().origin().ok()
}

#[cfg(not(target_arch = "wasm32"))]
const fn here() -> Option<String> {
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_origin_is_scheme_host_and_port() {
        assert_eq!(
            read_origin(" HTTPS://Barn.Example:8420/ ").as_deref(),
            Ok("https://barn.example:8420")
        );
        assert_eq!(
            read_origin("http://192.168.1.20").as_deref(),
            Ok("http://192.168.1.20")
        );
        for bad in [
            "barn.example",
            "ftp://barn.example",
            "https://",
            "https://a b",
            "https://a/tags",
            "https://a:0",
            "https://a:99999",
            "",
        ] {
            assert_eq!(read_origin(bad), Err(OriginError::Form), "{bad}");
        }
    }

    #[test]
    fn what_only_this_machine_reaches_is_no_address_for_a_tag() {
        for own in ["http://localhost:8420", "http://127.0.0.1:8420"] {
            assert_eq!(read_origin(own), Err(OriginError::OwnMachine));
        }
    }
}
