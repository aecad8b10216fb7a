//! Letting one phone in: the code is shown, the phone gives its name, somebody says yes.

use crate::act::{Act, use_act};
use crate::device;
use crate::feed::Feed;
use crate::office::{self, OfficeError};
use crate::pages::pair::{role_may, role_word};
use crate::parts::{Action, Chips, Drawing, Kind, in_fours};
use crate::words::{Words, key, use_words};
use leptos::prelude::*;
use leptos::task::spawn_local;
use pentally_domain::pairing::{Answer, OFFER_MS, Offer, OfferAsked, Role, Standing};

const PAIRINGS: &str = "/api/v1/pairings";
/// How often the office is asked who knocked.
const EVERY_MS: i32 = 2_000;

/// What stands at the door. Cheap to copy.
#[derive(Clone, Copy)]
struct AtDoor {
    act: Act,
    w: Words,
    /// What is shown, and until when by this browser's clock, which need not be the office's.
    offer: RwSignal<Option<(Offer, i64)>>,
    /// Who asks to come in with it.
    asks: RwSignal<Option<Standing>>,
    /// What became of the one before.
    ended: RwSignal<Option<String>>,
    /// Who was let in has to be asked again.
    look: Callback<()>,
}

/// The door.
#[component]
pub fn Door(
    /// For the time.
    feed: Feed,
    /// Asks again who was let in.
    look: Callback<()>,
) -> impl IntoView {
    let door = AtDoor {
        act: use_act(),
        w: use_words(),
        offer: RwSignal::new(None),
        asks: RwSignal::new(None),
        ended: RwSignal::new(None),
        look,
    };
    move || match door.offer.get() {
        None => view! { <Choose door/> }.into_any(),
        Some((offer, until_ms)) => view! { <Shown door feed offer until_ms/> }.into_any(),
    }
}

#[component]
fn Choose(door: AtDoor) -> impl IntoView {
    let w = door.w;
    let role = RwSignal::new(None::<Role>);
    let roles = [Role::Barn, Role::Laboratory, Role::Office];
    let words = roles.map(|r| (r, w.tr(role_word(r)))).to_vec();
    let may = roles.map(|r| {
        let args = [
            ("role", w.tr(role_word(r)).into()),
            ("may", w.tr(role_may(r)).into()),
        ];
        view! { <p class="small quiet">{w.tr_with(key::PHONES_ROLE_MAY, &args)}</p> }
    });
    let show = move |()| {
        if let Some(role) = role.get_untracked() {
            door.show(role);
        }
    };
    let ended = move || {
        let ended = door.ended.get();
        ended.map(|says| view! { <p class="words" role="status">{says}</p> })
    };
    view! {
        {ended}
        <div class="words">
            <Chips asked=w.tr(key::PHONES_ROLE) options=words chosen=role/>
            {may.collect_view()}
        </div>
        <div class="actions">
            <Action word=w.tr(key::PHONES_SHOW) drawing=Drawing::Scan on_tap=show
                off=Signal::derive(move || role.with(Option::is_none))/>
        </div>
    }
}

#[component]
fn Shown(door: AtDoor, feed: Feed, offer: Offer, until_ms: i64) -> impl IntoView {
    let w = door.w;
    let n = offer.n;
    let asks = move || {
        let Some((name, confirmed)) = door.asks.with(|asks| asking(asks.as_ref())) else {
            return view! { <Code w feed offer=offer.clone() until_ms/> }.into_any();
        };
        if confirmed {
            let may = w.tr_with(key::PHONES_MAY, &[("name", name.into())]);
            return view! { <p class="words big" role="status">{may}</p> }.into_any();
        }
        let question = w.tr_with(key::PHONES_ASKS, &[("name", name.into())]);
        view! {
            <p class="words big" role="alert">{question}</p>
            <div class="actions">
                <Action word=w.tr(key::YES) drawing=Drawing::Tick on_tap=move |()| door.answer(n, true)/>
                <Action word=w.tr(key::NO) drawing=Drawing::Bar kind=Kind::Quiet on_tap=move |()| door.answer(n, false)/>
            </div>
        }
        .into_any()
    };
    view! {
        {asks}
        <div class="actions">
            <Action word=w.tr(key::PHONES_ANOTHER) kind=Kind::Quiet on_tap=move |()| door.close(None)/>
        </div>
    }
}

/// Who asks, and whether somebody said yes already.
fn asking(standing: Option<&Standing>) -> Option<(String, bool)> {
    let standing = standing?;
    let name = standing.name.as_ref()?;
    Some((name.as_str().to_owned(), standing.confirmed))
}

#[component]
fn Code(w: Words, feed: Feed, offer: Offer, until_ms: i64) -> impl IntoView {
    let address = without_secret(&offer.address).to_owned();
    let left = move || {
        // Only the minute's tick is of use here: it may be older than the code.
        feed.now_ms.track();
        let left_ms = (until_ms - office::now_ms()).max(0);
        w.tr_with(key::PHONES_LEFT, &[("span", w.span(left_ms).into())])
    };
    view! {
        <div class="words">
            <p>{w.tr(key::PHONES_SCAN)}</p>
            <div class="symbol" inner_html=offer.symbol></div>
            <p>{w.tr_with(key::PHONES_TYPE, &[("address", address.into())])}</p>
            <p class="figure large code">{in_fours(&offer.code)}</p>
            <p class="small quiet">{left}</p>
        </div>
    }
}

/// The address as it is typed, with its `https://`: without that a browser tries plain http.
fn without_secret(address: &str) -> &str {
    address.split('#').next().unwrap_or(address)
}

impl AtDoor {
    fn show(self, role: Role) {
        self.act.hush();
        spawn_local(async move {
            match offer(role).await {
                Ok(offer) => {
                    let n = offer.n;
                    self.asks.set(None);
                    self.ended.set(None);
                    self.offer.set(Some((offer, office::now_ms() + OFFER_MS)));
                    self.watch(n).await;
                }
                Err(error) => self.act.office_failed(&error),
            }
        });
    }

    fn close(self, ended: Option<String>) {
        self.ended.set(ended);
        self.offer.set(None);
        self.asks.set(None);
    }

    fn answer(self, n: u64, yes: bool) {
        spawn_local(async move {
            match office::post("/api/v1/pairings/answer", &Answer { n, yes }).await {
                Ok(_) if yes => self.asks.update(|asks| {
                    if let Some(standing) = asks.as_mut().filter(|s| s.n == n) {
                        standing.confirmed = true;
                    }
                }),
                Ok(_) => {
                    let name = self.name().map(|(name, _)| name);
                    self.close(name.map(|name| {
                        self.w
                            .tr_with(key::PHONES_TURNED_AWAY, &[("name", name.into())])
                    }));
                }
                Err(error) => self.act.office_failed(&error),
            }
        });
    }

    /// Looks who knocks, as long as this offer is shown and stands.
    async fn watch(self, n: u64) {
        loop {
            device::pause(EVERY_MS).await;
            if !self.shows(n) {
                return;
            }
            let standing = match office::get::<Vec<Standing>>(PAIRINGS).await {
                Ok(all) => all.into_iter().find(|s| s.n == n),
                // A network that comes back finds the code still there.
                Err(OfficeError::NotReached) => continue,
                Err(error) => return self.act.office_failed(&error),
            };
            if !self.shows(n) {
                return;
            }
            if standing.as_ref().is_none_or(|s| s.confirmed) {
                self.look.run(());
            }
            let Some(standing) = standing else {
                return self.over();
            };
            // The same again must not draw the buttons anew under a finger.
            if self
                .asks
                .with_untracked(|asks| asks.as_ref() != Some(&standing))
            {
                self.asks.set(Some(standing));
            }
        }
    }

    /// The offer stands no more: it was used, or its time is over.
    fn over(self) {
        let came = self.name();
        let came = came.filter(|(_, confirmed)| *confirmed);
        self.close(Some(came.map_or_else(
            || self.w.tr(key::PHONES_OVER),
            |(name, _)| self.w.tr_with(key::PHONES_MAY, &[("name", name.into())]),
        )));
    }

    /// Who asks, and whether somebody said yes already.
    fn name(self) -> Option<(String, bool)> {
        self.asks.with_untracked(|asks| asking(asks.as_ref()))
    }

    /// Whether the page is still there and shows this offer.
    fn shows(self, n: u64) -> bool {
        self.offer
            .try_with_untracked(|offer| offer.as_ref().is_some_and(|(o, _)| o.n == n))
            .unwrap_or(false)
    }
}

async fn offer(role: Role) -> Result<Offer, OfficeError> {
    office::read(&office::post(PAIRINGS, &OfferAsked { role }).await?)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_typed_is_the_address_without_its_secret() {
        let typed = without_secret("https://barn.local:8443/pair#aZ-_9");
        assert_eq!(typed, "https://barn.local:8443/pair");
        assert_eq!(without_secret("https://barn.local"), "https://barn.local");
    }

    #[test]
    fn nobody_asks_before_a_name_stands() {
        let read = |text| Some(office::read::<Standing>(text).unwrap());
        let shown = read(r#"{"n":3,"role":"barn","until_ms":9,"name":null,"confirmed":false}"#);
        assert_eq!(asking(shown.as_ref()), None);
        let knocked =
            read(r#"{"n":3,"role":"barn","until_ms":9,"name":"Phone 12","confirmed":false}"#);
        assert_eq!(
            asking(knocked.as_ref()),
            Some(("Phone 12".to_owned(), false))
        );
        assert_eq!(asking(None), None);
    }
}
