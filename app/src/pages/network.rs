//! The barn on the farm's network: opened once, under one name.

use crate::act::{Act, shows_fault, use_act};
use crate::office;
use crate::pages::fields::{Line, Tick};
use crate::parts::{Action, Caution, Drawing, Kind, Title};
use crate::paths;
use crate::words::{Words, key, use_words};
use leptos::prelude::*;
use leptos::task::spawn_local;
use pentally_domain::pairing::{Network, NetworkAsked, PASSPHRASE_MAX, PASSPHRASE_MIN};

/// The feed of what is coming, for calendar programs.
const CALENDAR: &str = "/calendar.ics";

const AT: &str = "/api/v1/network";
/// What is offered for a name.
const USUAL: &str = "barn.local";

/// `/network`
#[component]
pub fn NetworkPage() -> impl IntoView {
    let w = use_words();
    let act = use_act();
    let network = RwSignal::new(None::<Network>);
    Effect::new(move |_| look(act, network));
    let shown = move || match network.get() {
        None => view! { <Title headline=w.tr(key::MORE_NETWORK) why=w.tr(key::NETWORK_WHY)/> }
            .into_any(),
        Some(found) => match found.origin.clone() {
            Some(origin) => view! { <Open network found origin/> }.into_any(),
            None => view! {
                <Title headline=w.tr(key::MORE_NETWORK) why=w.tr(key::NETWORK_WHY)/>
                {trouble(&w, &found)}
                <Form network found/>
            }
            .into_any(),
        },
    };
    view! {
        {shown}
        <section class="words">
            <h2>{w.tr(key::CALENDAR_TITLE)}</h2>
            <p>{w.tr(key::CALENDAR_WHY)}</p>
            <p>{w.tr(key::CALENDAR_HOW)}</p>
        </section>
        <div class="actions"><a class="action quiet" href=CALENDAR rel="external">{w.tr(key::CALENDAR_TITLE)}</a></div>
        <div class="grow"></div>
    }
}

fn look(act: Act, network: RwSignal<Option<Network>>) {
    spawn_local(async move {
        match office::get(AT).await {
            Ok(found) => network.set(Some(found)),
            Err(error) => act.office_failed(&error),
        }
    });
}

fn trouble(w: &Words, found: &Network) -> Option<AnyView> {
    found.trouble.as_ref().map(|why| {
        let says = w.tr_with(key::NETWORK_TROUBLE, &[("why", why.as_str().into())]);
        view! { <div class="words"><Caution says=says/></div> }.into_any()
    })
}

/// It is open: where, and how phones come to trust it.
#[component]
fn Open(network: RwSignal<Option<Network>>, found: Network, origin: String) -> impl IntoView {
    let w = use_words();
    let steps = found.steps.iter().map(|address| {
        view! { <p class="big">{address.clone()}</p> }
    });
    let fingerprint = found.fingerprint.as_ref().map(|digits| {
        let says = w.tr_with(
            key::NETWORK_FINGERPRINT,
            &[("digits", digits.as_str().into())],
        );
        view! { <p class="words small quiet">{says}</p> }
    });
    let steps = (!found.steps.is_empty()).then(|| {
        view! {
            <section class="words">
                <h2>{w.tr(key::NETWORK_STEPS)}</h2>
                <p>{w.tr(key::NETWORK_PHONE_STEPS_WHY)}</p>
                {steps.collect_view()}
            </section>
        }
    });
    view! {
        <Title headline=origin why=w.tr(key::NETWORK_IS_WHY)/>
        {trouble(&w, &found)}
        {steps}
        <div class="actions"><Action word=w.tr(key::MORE_PHONES) drawing=Drawing::Phone href=paths::PHONES/></div>
        {fingerprint}
        <details class="words how">
            <summary>{w.tr(key::NETWORK_ANOTHER)}</summary>
            <Form network found=found.clone()/>
        </details>
    }
}

/// What is typed and ticked.
#[derive(Clone, Copy)]
struct Typed {
    name: RwSignal<String>,
    passphrase: RwSignal<String>,
    again: RwSignal<String>,
    anew: RwSignal<bool>,
}

/// Why it is not asked for yet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Wrong {
    Name,
    NoPassphrase,
    /// So many characters.
    Length(usize),
    Differs,
    Tick,
}

/// The name and the owner's passphrase: a new one, typed twice, while there is none.
#[component]
fn Form(network: RwSignal<Option<Network>>, found: Network) -> impl IntoView {
    let w = use_words();
    let act = use_act();
    let (is_open, has_owner) = (found.origin.is_some(), found.has_owner);
    let typed = Typed {
        name: RwSignal::new(if is_open { "" } else { USUAL }.to_owned()),
        passphrase: RwSignal::new(String::new()),
        again: RwSignal::new(String::new()),
        anew: RwSignal::new(false),
    };
    let wrong = RwSignal::new(None::<Wrong>);
    let busy = RwSignal::new(false);
    let take = move |()| {
        let read = typed.read(is_open, has_owner);
        wrong.set(read.as_ref().err().copied());
        let Ok(asked) = read else { return };
        act.hush();
        busy.set(true);
        spawn_local(async move {
            match office::post(AT, &asked).await {
                Ok(_) => look(act, network),
                Err(error) => act.office_failed(&error),
            }
            busy.set(false);
        });
    };
    let said = move |of: fn(Wrong) -> bool| {
        Signal::derive(move || wrong.get().filter(|why| of(*why)).map(|why| tell(&w, why)))
    };
    let passphrase = if has_owner {
        w.tr(key::OWNER_PASSPHRASE)
    } else {
        w.tr(key::NETWORK_PASSPHRASE_NEW)
    };
    let hint = w.tr_with(
        key::NETWORK_PASSPHRASE_WHY,
        &[("low", PASSPHRASE_MIN.into())],
    );
    let hint = if has_owner { String::new() } else { hint };
    let once_more = (!has_owner).then(|| {
        let differs = said(|why| why == Wrong::Differs);
        view! { <Line name=w.tr(key::NETWORK_PASSPHRASE_AGAIN) value=typed.again secret=true wrong=differs/> }
    });
    let anew = is_open.then(|| {
        let not_ticked = said(|why| why == Wrong::Tick);
        shows_fault(not_ticked);
        view! {
            <p>{w.tr(key::NETWORK_ANOTHER_WHY)}</p>
            <Tick name=w.tr(key::NETWORK_ANOTHER_SURE) value=typed.anew/>
            <p class="said-wrong" role="alert">{not_ticked}</p>
        }
    });
    let word = w.tr(if is_open {
        key::NETWORK_ANOTHER_TAKE
    } else {
        key::NETWORK_OPEN
    });
    let kind = if is_open { Kind::Quiet } else { Kind::Primary };
    view! {
        <div class="words">
            {(!is_open).then(|| view! { <Caution says=w.tr(key::NETWORK_ONCE)/> })}
            <Line name=w.tr(key::NETWORK_NAME) value=typed.name hint=w.tr(key::NETWORK_NAME_WHY)
                wrong=said(|why| why == Wrong::Name)/>
            {addresses(&w, &found)}
            <Line name=passphrase value=typed.passphrase secret=true hint=hint
                wrong=said(|why| matches!(why, Wrong::NoPassphrase | Wrong::Length(_)))/>
            {once_more}
            {anew}
        </div>
        <div class="actions"><Action word=word kind=kind drawing=Drawing::Office on_tap=take off=busy/></div>
    }
}

fn addresses(w: &Words, found: &Network) -> Option<AnyView> {
    (!found.addresses.is_empty()).then(|| {
        let args = [("list", found.addresses.join(", ").into())];
        view! { <p class="small quiet">{w.tr_with(key::NETWORK_NAME_ADDRESSES, &args)}</p> }
            .into_any()
    })
}

impl Typed {
    fn read(self, is_open: bool, has_owner: bool) -> Result<NetworkAsked, Wrong> {
        let asked = NetworkAsked {
            name: self.name.with_untracked(|name| name.trim().to_owned()),
            passphrase: self.passphrase.get_untracked(),
            tags_will_be_printed_again: is_open && self.anew.get_untracked(),
        };
        let again = (!has_owner).then(|| self.again.get_untracked());
        check(&asked, again.as_deref(), is_open).map_or(Ok(asked), Err)
    }
}

/// What is wrong; `again` is the second typing of a new passphrase.
fn check(asked: &NetworkAsked, again: Option<&str>, is_open: bool) -> Option<Wrong> {
    let chars = asked.passphrase.chars().count();
    if asked.name.is_empty() {
        Some(Wrong::Name)
    } else if chars == 0 {
        Some(Wrong::NoPassphrase)
    } else if again.is_some() && !(PASSPHRASE_MIN..=PASSPHRASE_MAX).contains(&chars) {
        Some(Wrong::Length(chars))
    } else if again.is_some_and(|again| again != asked.passphrase) {
        Some(Wrong::Differs)
    } else if is_open && !asked.tags_will_be_printed_again {
        Some(Wrong::Tick)
    } else {
        None
    }
}

fn tell(w: &Words, why: Wrong) -> String {
    match why {
        Wrong::Name => w.tr(key::NETWORK_NAME_MISSING),
        Wrong::NoPassphrase => w.tr(key::OWNER_PASSPHRASE_MISSING),
        Wrong::Length(chars) => w.tr_with(
            key::TEXT_LENGTH,
            &[
                ("chars", chars.into()),
                ("low", PASSPHRASE_MIN.into()),
                ("high", PASSPHRASE_MAX.into()),
            ],
        ),
        Wrong::Differs => w.tr(key::NETWORK_PASSPHRASE_DIFFERS),
        Wrong::Tick => w.tr(key::NETWORK_ANOTHER_TICK),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asked(name: &str, passphrase: &str, anew: bool) -> NetworkAsked {
        NetworkAsked {
            name: name.to_owned(),
            passphrase: passphrase.to_owned(),
            tags_will_be_printed_again: anew,
        }
    }

    #[test]
    fn a_new_passphrase_is_long_enough_and_typed_twice() {
        let first = |passphrase, again| check(&asked(USUAL, passphrase, false), Some(again), false);
        assert_eq!(first("twelve chars", "twelve chars"), None);
        assert_eq!(first("elevenchars", "elevenchars"), Some(Wrong::Length(11)));
        assert_eq!(first("doce señales", "doce señales"), None);
        assert_eq!(first("twelve chars", "twelve char"), Some(Wrong::Differs));
        assert_eq!(first("", ""), Some(Wrong::NoPassphrase));
        let long = "x".repeat(201);
        assert_eq!(first(&long, &long), Some(Wrong::Length(201)));
    }

    #[test]
    fn the_passphrase_that_stands_is_the_office_s_to_judge() {
        assert_eq!(check(&asked(USUAL, "short", false), None, false), None);
        assert_eq!(
            check(&asked("", "short", false), None, false),
            Some(Wrong::Name)
        );
    }

    #[test]
    fn another_name_needs_the_word_that_tags_are_printed_anew() {
        let other = |anew| check(&asked("pigs.local", "it stands so", anew), None, true);
        assert_eq!(other(false), Some(Wrong::Tick));
        assert_eq!(other(true), None);
    }
}
