//! A young boar from arrival to regular use, on one phone without a network, in both languages.
//! The phone's clock is moved, and he follows: isolation, visits, sessions, the first success,
//! three days of repetition (common practice, no source), rest, regular use.

use super::Hand;
use pentally_tests::browser::hands::{all_sent_in, log, mounted, send_now};
use pentally_tests::browser::{Office, Page, Phone};
use std::time::{SystemTime, UNIX_EPOCH};

/// What a person reads on the way.
struct Says {
    flag: &'static str,
    not_yet: &'static str,
    save: &'static str,
    isolation: &'static str,
    visits: &'static str,
    train: &'static str,
    begin_visit: &'static str,
    begin_session: &'static str,
    out_again: &'static str,
    saved: &'static str,
    perhaps_enough: &'static str,
    sniffs: &'static str,
    enough: &'static str,
    mounts: &'static str,
    mounted: &'static str,
    down: &'static str,
    best: &'static str,
    was_trained: &'static str,
    collected: &'static str,
    practice: &'static str,
    rest: &'static str,
    may: &'static str,
    nobody: &'static str,
    unsent: &'static str,
}

const ENGLISH: Says = Says {
    flag: "en-GB",
    not_yet: "Not yet",
    save: "Save",
    isolation: "Isolation, till",
    visits: "Visits first",
    train: "Training session",
    begin_visit: "Begin a visit",
    begin_session: "Begin the session",
    out_again: "He is out again",
    saved: "Saved on this phone",
    perhaps_enough: "Enough?",
    sniffs: "Sniffs",
    enough: "Enough for today",
    mounts: "Mounts",
    mounted: "Nobody interrupts him",
    down: "Down again",
    best: "best mounts (3)",
    was_trained: "He was trained: enter it",
    collected: "5 Collected",
    practice: "Practice after his first success.",
    rest: "Rest: till",
    may: "May be collected",
    nobody: "Nobody is in training.",
    unsent: "on this phone",
};

const SPANISH: Says = Says {
    flag: "es-ES",
    not_yet: "Todavía no",
    save: "Guardar",
    isolation: "Aislamiento, hasta",
    visits: "Primero visitas",
    train: "Sesión con el potro",
    begin_visit: "Empezar una visita",
    begin_session: "Empezar la sesión",
    out_again: "Ya está fuera",
    saved: "Guardado en este teléfono",
    perhaps_enough: "¿Basta?",
    sniffs: "Olfatea",
    enough: "Basta por hoy",
    mounts: "Monta el potro",
    mounted: "Nadie lo interrumpe",
    down: "Se baja",
    best: "La mejor, monta el potro (3)",
    was_trained: "Ya se adiestró: anotar",
    collected: "5 Extraído",
    practice: "Práctica tras su primer éxito.",
    rest: "Descanso: hasta",
    may: "Se puede extraer",
    nobody: "Nadie aprende ahora.",
    unsent: "en este teléfono",
};

const MINUTE: i64 = 60_000;
const DAY: i64 = 1_440 * MINUTE;
/// He arrived so many days before today.
const ARRIVED: i64 = 45;
/// Two taps in one place within 400 ms would be one, and the page moves what is tapped to one place.
const NOT_A_REPEAT: std::time::Duration = std::time::Duration::from_millis(450);

#[tokio::test]
async fn from_arrival_to_regular_use_without_a_network_in_english() {
    a_boar_learns(&ENGLISH).await;
}

#[tokio::test]
async fn from_arrival_to_regular_use_without_a_network_in_spanish() {
    a_boar_learns(&SPANISH).await;
}

/// The phone at a page, and how far its clock is moved.
struct At {
    phone: Phone,
    page: Page,
    path: String,
}

impl At {
    /// Opens the page anew with the clock so many ms from the truth; the language stays.
    async fn clock(&self, by_ms: i64) {
        // The last script that was set wins, and each takes the true clock for its start.
        let script = format!(
            "(() => {{ const real = Date.real ?? Date.now; Date.real = real;
              Date.now = () => real.call(Date) + ({by_ms}); }})()"
        );
        self.page.run_on_load(&script).await;
        self.page.goto(&self.path).await;
        mounted(&self.page).await;
    }

    /// The morning so many days after he arrived.
    async fn morning(&self, day: i64) {
        self.clock((day - ARRIVED) * DAY).await;
    }

    fn hand(&self) -> Hand<'_> {
        Hand {
            page: &self.page,
            taps: 0,
        }
    }
}

/// `2026-03-01`, so many days before today by this machine, in UTC as the farm is.
fn date_before(days: i64) -> String {
    let now = SystemTime::now().duration_since(UNIX_EPOCH).unwrap();
    let ms = i64::try_from(now.as_millis()).unwrap() - days * DAY;
    let day = chrono::DateTime::from_timestamp_millis(ms).unwrap();
    day.date_naive().to_string()
}

/// Enters him as an office does: not worked yet, born 215 days before, arrived on that day.
async fn arrives(page: &Page, says: &Says) -> String {
    page.goto("/boars/new").await;
    mounted(page).await;
    page.type_into("input", "7").await;
    let born = date_before(ARRIVED + 215);
    let set = format!(
        "(() => {{ const field = document.querySelector('input[type=date]'); field.value = '{born}';
          field.dispatchEvent(new Event('input', {{ bubbles: true }}));
          field.dispatchEvent(new Event('change', {{ bubbles: true }})); return true; }})()"
    );
    assert!(page.eval::<bool>(&set).await);
    page.tap_words(says.not_yet).await;
    tokio::time::sleep(NOT_A_REPEAT).await;
    // "Did he arrive today?" stands below the pen; yes is the first answer.
    page.tap("div.words:has(select) .chip").await;
    tokio::time::sleep(NOT_A_REPEAT).await;
    page.tap_words(says.save).await;
    page.sees(says.isolation).await;
    page.eval("location.pathname").await
}

async fn a_boar_learns(says: &Says) {
    let mut office = Office::open();
    office.post("/api/v1/start", r#"{"farm":"Lower Hill","zone":"UTC"}"#);
    let flags = [
        &*format!("--lang={}", says.flag),
        &*format!("--accept-lang={}", says.flag),
    ];
    let phone = Phone::with_flags(&office, &flags).await;
    let page = phone.open("/today").await;
    mounted(&page).await;
    page.kept_for_offline().await;
    let mut at = At {
        phone,
        page,
        path: "/boars/new".into(),
    };
    at.morning(0).await;
    at.path = arrives(&at.page, says).await;
    office.kill();

    // Kept apart to the thirtieth day; he is 245 days old on it.
    at.morning(30).await;
    at.page.sees(says.isolation).await;
    at.morning(31).await;
    at.page.sees(says.visits).await;
    let mut hand = at.hand();
    at.page.tap("a.action[href$='/train']").await;
    tokio::time::sleep(NOT_A_REPEAT).await;
    hand.tap(says.begin_visit).await;
    hand.tap(says.out_again).await;
    hand.tap(says.save).await;
    at.page.sees(says.saved).await;

    a_session(&mut at, says).await;
    succeeds(&at, says).await;
    at.page.goto("/training").await;
    mounted(&at.page).await;
    at.page.sees(says.nobody).await;
    at.page.has_no_complaints();

    office.start();
    send_now(&at.page).await;
    all_sent_in(&at.page, says.unsent).await;
    let kinds: Vec<_> = log(&office).into_iter().map(|e| e.kind).collect();
    let of = |kind| kinds.iter().filter(|k| *k == kind).count();
    assert_eq!(
        (of("boar"), of("off_collection"), of("training")),
        (1, 1, 6)
    );
}

/// On the 32nd day, tapped by a helper as it happens. The battery dies while he is in.
async fn a_session(at: &mut At, says: &Says) {
    at.morning(32).await;
    let mut hand = at.hand();
    at.page.tap("a.action[href$='/train']").await;
    tokio::time::sleep(NOT_A_REPEAT).await;
    hand.tap(says.begin_session).await;
    at.page.sees(says.out_again).await;
    let place: String = at.page.eval("location.pathname").await;
    at.phone.kill();
    at.phone.restart().await;
    let boar = std::mem::replace(&mut at.path, place);
    at.page = at.phone.tab().await;
    let began = (32 - ARRIVED) * DAY;
    // Nobody tapped what he does: the word is conditional. 10 and 15 min are the standard's.
    at.clock(began + 12 * MINUTE).await;
    at.page.sees(says.perhaps_enough).await;
    let mut hand = at.hand();
    hand.tap(says.sniffs).await;
    at.clock(began + 16 * MINUTE).await;
    at.page.sees(says.enough).await;
    let mut hand = at.hand();
    hand.tap(says.mounts).await;
    at.page.sees(says.mounted).await;
    hand.tap(says.down).await;
    at.page.sees(says.enough).await;
    hand.tap(says.out_again).await;
    hand.tap(says.save).await;
    at.page.sees(says.saved).await;
    at.path = boar;
    at.morning(32).await;
    at.page.sees(says.best).await;
}

/// A success on the 33rd day, three days of repetition, three of rest, and he is in use.
async fn succeeds(at: &At, says: &Says) {
    for day in 33..=36 {
        at.morning(day).await;
        if day > 33 {
            at.page.sees(says.practice).await;
        }
        let mut hand = at.hand();
        at.page.tap("a.action[href$='/train']").await;
        tokio::time::sleep(NOT_A_REPEAT).await;
        hand.taps += 1;
        hand.tap(says.was_trained).await;
        hand.tap(says.collected).await;
        hand.tap("12 min").await;
        hand.tap(says.save).await;
        at.page.sees(says.saved).await;
        // Six at most from his page to saved.
        assert!(hand.taps <= 6, "{} taps", hand.taps);
    }
    for day in [37, 38] {
        at.morning(day).await;
        at.page.sees(says.rest).await;
    }
    at.morning(39).await;
    at.page.sees(says.may).await;
    at.page.sees(says.train).await;
}
