//! A phone asks to come in, or the owner does.

mod owner;

use crate::act::{Act, office_failed, to_top, use_act};
use crate::device;
use crate::office::{self, OfficeError};
use crate::pages::fields::Line;
use crate::parts::{self, Action, Band, Caution, CodePad, Drawing, Kind, Title, is_repeat};
use crate::paths;
use crate::words::{Key, Words, key, use_words};
use leptos::prelude::*;
use leptos::task::spawn_local;
use leptos_router::hooks::{use_location, use_query_map};
use owner::Owner;
use pentally_domain::pairing::{Finish, Finished, Knock, Knocked, OFFER_MS, Role};
use pentally_domain::said::{Label, TextError};

/// Digits of a code.
const DIGITS: usize = 8;
/// How often the office is asked whether it has looked.
const EVERY_MS: i32 = 2_000;

/// How far it went.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Step {
    /// Is the phone's trust in the farm's address real?
    Looking,
    /// It is not.
    Untrusted,
    Name,
    Digits,
    Waiting,
    Refused,
    Over,
    Paired(Role),
}

/// What was typed and scanned, and how far it went.
#[derive(Clone, Copy)]
struct Asking {
    w: Words,
    act: Act,
    step: RwSignal<Step>,
    /// What stood behind `#`.
    secret: RwSignal<Option<String>>,
    code: RwSignal<String>,
    name: RwSignal<String>,
    wrong: RwSignal<Option<String>>,
    /// Why the digits opened nothing.
    no: RwSignal<Option<OfficeError>>,
    busy: RwSignal<bool>,
}

/// `/pair`
#[component]
pub fn PairPage() -> impl IntoView {
    let w = use_words();
    let offered = w.tr_with(key::PAIR_NAME_OFFERED, &[("n", number().into())]);
    let asking = Asking {
        w,
        act: use_act(),
        step: RwSignal::new(Step::Looking),
        secret: RwSignal::new(None),
        code: RwSignal::new(String::new()),
        name: RwSignal::new(offered),
        wrong: RwSignal::new(None),
        no: RwSignal::new(None),
        busy: RwSignal::new(false),
    };
    let hash = use_location().hash;
    Effect::new(move |_| asking.secret.set(secret(&hash.get())));
    Effect::new(move |_| {
        spawn_local(async move {
            asking.step.set(if device::is_trusted().await {
                Step::Name
            } else {
                Step::Untrusted
            });
        });
    });
    let query = use_query_map();
    let shown = move || match asking.step.get() {
        Step::Looking => {
            view! { <Title headline=w.tr(key::PAIR_TITLE) why=w.tr(key::PAIR_LOOKING)/> }.into_any()
        }
        Step::Untrusted => untrusted(&w),
        Step::Name => view! { <Named asking/> }.into_any(),
        Step::Digits => view! { <Digits asking/> }.into_any(),
        Step::Waiting => waiting(asking),
        Step::Refused => turned_away(
            asking,
            parts::Role::Stop,
            key::PAIR_REFUSED,
            key::PAIR_REFUSED_WHY,
        ),
        Step::Over => turned_away(
            asking,
            parts::Role::Unknown,
            key::PAIR_OVER,
            key::PAIR_OVER_WHY,
        ),
        Step::Paired(role) => {
            let to = query.with_untracked(|q| paths::from_pair(q.get_str("to")).to_owned());
            paired(&w, role, to)
        }
    };
    view! { {shown}<div class="grow"></div> }
}

/// Two digits that most likely no other phone of the farm was given.
fn number() -> u32 {
    // The end of a fresh identity is chance; its beginning is the time.
    let (_, chance) = device::new_id().id().uuid().as_u64_pair();
    u32::try_from(chance % 90).unwrap_or_default() + 10
}

/// What stands behind `#`.
fn secret(hash: &str) -> Option<String> {
    let secret = hash.trim_start_matches('#');
    (!secret.is_empty()).then(|| secret.to_owned())
}

fn untrusted(w: &Words) -> AnyView {
    view! {
        <Title headline=w.tr(key::PAIR_UNTRUSTED) why=w.tr(key::PAIR_UNTRUSTED_WHY)/>
        <div class="words">
            <Caution says=w.tr(key::PAIR_UNTRUSTED_CAUTION)/>
            <p>{w.tr(key::PAIR_UNTRUSTED_DO)}</p>
        </div>
        <div class="actions">
            <Action word=w.tr(key::PAIR_LOOK_AGAIN) on_tap=move |()| device::load_page(None)/>
        </div>
    }
    .into_any()
}

#[component]
fn Named(asking: Asking) -> impl IntoView {
    let w = asking.w;
    let scanned = move || asking.secret.with(Option::is_some);
    let word = move || {
        w.tr(if scanned() {
            key::PAIR_ASK
        } else {
            key::PAIR_TYPE
        })
    };
    let on = move |()| {
        if scanned() {
            asking.knock();
        } else if asking.label().is_some() {
            asking.step.set(Step::Digits);
        }
    };
    let beside = device::is_beside_home_screen()
        .then(|| view! { <div class="words"><Caution says=w.tr(key::PAIR_HOME_SCREEN)/></div> });
    let hint = w.tr_with(
        key::PAIR_NAME_WHY,
        &[("bounds", w.tr(key::FIELD_LABEL).into())],
    );
    view! {
        <Title headline=w.tr(key::PAIR_TITLE) why=w.tr(key::PAIR_WHY)/>
        {beside}
        <div class="words"><Line name=w.tr(key::PAIR_NAME) value=asking.name hint=hint wrong=asking.wrong/></div>
        <div class="actions">
            <Action word=Signal::derive(word) drawing=Drawing::Phone on_tap=on off=asking.busy/>
        </div>
        <Owner asking/>
    }
}

#[component]
fn Digits(asking: Asking) -> impl IntoView {
    let w = asking.w;
    let off = move || asking.busy.get() || asking.code.with(String::len) < DIGITS;
    // Below the keys nobody would see it.
    let says = move || {
        let no = asking.no.get();
        no.map_or_else(|| w.tr(key::PAIR_DIGITS), |no| office_failed(&w, &no))
    };
    let tap = move |click| {
        if !is_repeat(&click) {
            asking.knock();
        }
    };
    let ask = view! {
        <button type="button" class="key word take" disabled=off on:click=tap>{w.tr(key::PAIR_ASK)}</button>
    }
    .into_any();
    view! {
        <h1 class="say" aria-live="polite">{says}</h1>
        <CodePad typed=asking.code length=DIGITS last=ask/>
    }
}

fn waiting(asking: Asking) -> AnyView {
    let w = asking.w;
    let name = asking.name.get_untracked();
    let why = w.tr_with(key::PAIR_WAITING_WHY, &[("name", name.trim().into())]);
    view! { <Band role=parts::Role::Rest headline=w.tr(key::PAIR_WAITING) why=why/> }.into_any()
}

fn turned_away(asking: Asking, role: parts::Role, headline: Key, why: Key) -> AnyView {
    let w = asking.w;
    let again = move |()| {
        // What was scanned is used up.
        asking.secret.set(None);
        asking.code.set(String::new());
        asking.no.set(None);
        asking.step.set(Step::Name);
    };
    view! {
        <Band role=role headline=w.tr(headline) why=w.tr(why)/>
        <div class="actions"><Action word=w.tr(key::PAIR_AGAIN) kind=Kind::Quiet on_tap=again/></div>
    }
    .into_any()
}

fn paired(w: &Words, role: Role, to: String) -> AnyView {
    let args = [
        ("role", w.tr(role_word(role)).into()),
        ("may", w.tr(role_may(role)).into()),
    ];
    let why = w.tr_with(key::PAIR_PAIRED_WHY, &args);
    view! {
        <Band role=parts::Role::Ready headline=w.tr(key::PAIR_PAIRED) why=why/>
        <div class="actions">
            <Action word=w.tr(key::PAIR_TO_BARN) drawing=Drawing::PenGate
                on_tap=move |()| device::load_page(Some(&to))/>
        </div>
    }
    .into_any()
}

impl Asking {
    /// The name, or says what is wrong with it.
    fn label(self) -> Option<Label> {
        let read = Label::parse(&self.name.get_untracked());
        self.wrong
            .set(read.as_ref().err().map(|e| wrong_name(&self.w, e)));
        read.ok()
    }

    /// Asks to come in and waits for the answer.
    fn knock(self) {
        let Some(name) = self.label() else {
            self.step.set(Step::Name);
            return;
        };
        let secret = self.secret.get_untracked();
        let code = secret.is_none().then(|| self.code.get_untracked());
        self.act.hush();
        self.no.set(None);
        self.busy.set(true);
        spawn_local(async move {
            let came = come_in(&Knock { secret, code, name }, self.step).await;
            self.busy.set(false);
            match came {
                Ok(Some(step)) => self.step.set(step),
                Ok(None) => {}
                Err(error) => self.failed(error),
            }
        });
    }

    fn failed(self, error: OfficeError) {
        match self.step.try_get_untracked() {
            Some(Step::Digits) => {
                self.no.set(Some(error));
                to_top();
            }
            Some(Step::Waiting) => {
                self.act.office_failed(&error);
                self.step.set(Step::Name);
            }
            Some(_) => self.act.office_failed(&error),
            // The page was left.
            None => {}
        }
    }
}

/// Knocks, and asks every other second whether the office has looked; none where the page was
/// left meanwhile. Tries are counted and not timed: the phone's clock may be years from the office's.
async fn come_in(knock: &Knock, step: RwSignal<Step>) -> Result<Option<Step>, OfficeError> {
    let knocked: Knocked = office::read(&office::post("/api/v1/pair", knock).await?)?;
    step.set(Step::Waiting);
    let finish = Finish {
        claim: knocked.claim,
    };
    for _ in 0..OFFER_MS / i64::from(EVERY_MS) {
        device::pause(EVERY_MS).await;
        if step.try_get_untracked() != Some(Step::Waiting) {
            return Ok(None);
        }
        let asked = match office::post("/api/v1/pair/finish", &finish).await {
            Err(OfficeError::NotReached) => continue,
            asked => asked?,
        };
        match office::read(&asked)? {
            Finished::Waiting => {}
            Finished::Refused => return Ok(Some(Step::Refused)),
            Finished::Over => break,
            Finished::Paired { role } => return Ok(Some(Step::Paired(role))),
        }
    }
    Ok(Some(Step::Over))
}

fn wrong_name(w: &Words, error: &TextError) -> String {
    let args = [
        ("chars", error.chars.into()),
        ("low", error.low.into()),
        ("high", error.high.into()),
    ];
    w.tr_with(key::TEXT_LENGTH, &args)
}

/// What a role is called.
pub const fn role_word(role: Role) -> Key {
    match role {
        Role::Barn => key::ROLE_BARN,
        Role::Laboratory => key::ROLE_LABORATORY,
        Role::Office => key::ROLE_OFFICE,
    }
}

/// What a role may do.
pub const fn role_may(role: Role) -> Key {
    match role {
        Role::Barn => key::ROLE_BARN_MAY,
        Role::Laboratory => key::ROLE_LABORATORY_MAY,
        Role::Office => key::ROLE_OFFICE_MAY,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_secret_is_what_stands_behind_the_hash_and_none_where_nothing_does() {
        assert_eq!(secret("#aZ-_9"), Some("aZ-_9".to_owned()));
        assert_eq!(secret("#"), None);
        assert_eq!(secret(""), None);
    }

    #[test]
    fn each_state_the_office_answers_reads() {
        let read = |text| office::read::<Finished>(text).unwrap();
        assert_eq!(read(r#"{"state":"waiting"}"#), Finished::Waiting);
        assert_eq!(read(r#"{"state":"refused"}"#), Finished::Refused);
        assert_eq!(read(r#"{"state":"over"}"#), Finished::Over);
        let role = Role::Laboratory;
        assert_eq!(
            read(r#"{"state":"paired","role":"laboratory"}"#),
            Finished::Paired { role }
        );
        assert!(office::read::<Finished>(r#"{"state":"asleep"}"#).is_err());
    }

    #[test]
    fn a_code_is_written_four_by_four() {
        assert_eq!(parts::in_fours("12345678"), "1234 5678");
        assert_eq!(parts::in_fours("123·····"), "123· ····");
        assert_eq!(parts::in_fours(""), "");
    }
}
