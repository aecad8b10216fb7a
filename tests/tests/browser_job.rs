//! The whole job on one phone without a network, in both languages: a tag is opened, the boar is
//! collected, the ejaculate judged, doses made and used on a sow; then the office has all of it,
//! once. Taps are counted as a gloved hand would feel them.

#[path = "job/helper.rs"]
mod helper;
#[path = "job/laboratory.rs"]
mod laboratory;
#[path = "job/training.rs"]
mod training;

use pentally_tests::browser::hands::{all_sent_in, log, mounted, send_now};
use pentally_tests::browser::{Page, Phone, invented_barn};

/// What a person reads on the way.
struct Says {
    flag: &'static str,
    against: &'static str,
    reason: &'static str,
    glove: &'static str,
    go: &'static str,
    cup_safe: &'static str,
    take: &'static str,
    save: &'static str,
    saved: &'static str,
    unsent: &'static str,
    volume: &'static str,
    concentration: &'static str,
    motility: &'static str,
    type_it: &'static str,
    counted: &'static str,
    not_measured: &'static str,
    doses: &'static str,
    make: &'static str,
    use_now: &'static str,
    new_sow: &'static str,
    farrows: &'static str,
    gave: &'static str,
}

const ENGLISH: Says = Says {
    flag: "en-GB",
    against: "Why against the advice?",
    reason: "Sows wait",
    glove: "Vinyl",
    go: "Go: write it down afterwards",
    cup_safe: "Cup is safe",
    take: "Take it",
    save: "Save",
    saved: "Saved on this phone",
    unsent: "on this phone",
    volume: "240 mL",
    concentration: "Concentration",
    motility: "Motility",
    type_it: "Type the figure",
    counted: "Counted, of 200 cells",
    not_measured: "Not measured: ",
    doses: "12 doses",
    make: "Make this batch",
    use_now: "Use now",
    new_sow: "New sow 77",
    farrows: "She farrows about",
    gave: "48\u{202f}×10⁹, expected",
};

const SPANISH: Says = Says {
    flag: "es-ES",
    against: "¿Por qué contra el consejo?",
    reason: "Esperan cerdas",
    glove: "Vinilo",
    go: "Ya: anotar después",
    cup_safe: "Vaso a salvo",
    take: "Anotar",
    save: "Guardar",
    saved: "Guardado en este teléfono",
    unsent: "en este teléfono",
    volume: "240 mL",
    concentration: "Concentración",
    motility: "Motilidad",
    type_it: "Teclear la cifra",
    counted: "Contado, de 200 células",
    not_measured: "No medido: ",
    doses: "12 dosis",
    make: "Hacer este lote",
    use_now: "Usar ahora",
    new_sow: "Cerda nueva 77",
    farrows: "Pare hacia",
    gave: "48\u{202f}×10⁹, esperado",
};

/// A hand that counts its taps. Two in one place within 400 ms would be one.
struct Hand<'a> {
    page: &'a Page,
    taps: u32,
}

impl Hand<'_> {
    /// On a screen that asks for no keyboard.
    async fn tap(&mut self, words: &str) {
        let fields = "document.querySelectorAll('input, textarea, select').length";
        assert_eq!(self.page.eval::<usize>(fields).await, 0, "before {words}");
        self.page.tap_words(words).await;
        self.taps += 1;
        tokio::time::sleep(std::time::Duration::from_millis(450)).await;
    }

    /// Digits are not counted: they are the figure itself.
    async fn type_figure(&self, figure: &str) {
        for digit in figure.chars() {
            let key = digit.to_digit(10).filter(|n| *n > 0).unwrap_or(11);
            self.page.tap(&format!(".keys > :nth-child({key})")).await;
        }
    }

    async fn can_tap(&self, words: &str) -> bool {
        let shown = format!("document.body.innerText.includes({words:?})");
        self.page.eval(&shown).await
    }
}

#[tokio::test]
async fn from_the_tag_to_the_sow_without_a_network_in_english() {
    the_whole_job(&ENGLISH).await;
}

#[tokio::test]
async fn from_the_tag_to_the_sow_without_a_network_in_spanish() {
    the_whole_job(&SPANISH).await;
}

/// From a pen's tag to a saved collection of 240 mL, entered afterwards.
async fn at_the_pen(page: &Page, says: &Says) {
    page.be_sized(360, 640, true).await;
    mounted(page).await;
    let mut hand = Hand { page, taps: 0 };
    page.tap("a[href$='/collect']").await;
    hand.taps += 1;
    page.sees(says.glove).await;
    let safety = hand.taps;
    hand.tap(says.glove).await;
    if hand.can_tap(says.against).await {
        hand.tap(says.reason).await;
    }
    hand.taps = safety;
    hand.tap(says.go).await;
    hand.tap(says.cup_safe).await;
    page.shows(".keypad").await;
    hand.type_figure("240").await;
    hand.tap(says.take).await;
    page.comes_true(
        "document.querySelector('.keypad') === null",
        "the volume was taken",
    )
    .await;
    hand.tap(says.save).await;
    page.sees(says.saved).await;
    // Nine at most, besides the digits and the answers to safety questions.
    assert!(hand.taps <= 9, "{} taps", hand.taps);
    page.has_no_complaints();
}

/// To the cup of 240 mL that waits.
async fn to_the_bench(page: &Page, says: &Says) {
    page.goto("/bench").await;
    mounted(page).await;
    page.shows("ul.rows a[href^='/bench/']").await;
    let own = format!(
        "[...document.querySelectorAll(\"ul.rows a[href^='/bench/']\")].find(a => a.innerText.includes('{}'))?.click()",
        says.volume
    );
    page.eval::<()>(&format!("({own}, null)")).await;
}

async fn the_whole_job(says: &Says) {
    let (mut office, standing) = invented_barn();
    let flags = [
        &*format!("--lang={}", says.flag),
        &*format!("--accept-lang={}", says.flag),
    ];
    let mut phone = Phone::with_flags(&office, &flags).await;
    let first = phone.open(&format!("/boar/{}", standing.boar)).await;
    mounted(&first).await;
    first.sees(&standing.number).await;
    first.kept_for_offline().await;
    let before = log(&office).len();
    office.kill();

    let page = phone.open(&standing.code.path()).await;
    at_the_pen(&page, says).await;

    // The battery dies right after.
    phone.kill();
    phone.restart().await;
    let page = phone.open(&format!("/boar/{}", standing.boar)).await;
    page.be_sized(360, 640, true).await;
    mounted(&page).await;
    page.sees(says.volume).await;
    page.sees(says.unsent).await;

    // At the bench.
    to_the_bench(&page, says).await;
    let mut hand = Hand {
        page: &page,
        taps: 0,
    };
    hand.tap(says.concentration).await;
    hand.tap(says.type_it).await;
    page.shows(".keypad").await;
    hand.type_figure("200").await;
    hand.tap(says.take).await;
    hand.tap(says.motility).await;
    hand.tap(says.type_it).await;
    page.shows(".keypad").await;
    hand.type_figure("80").await;
    hand.tap(says.take).await;
    hand.tap(says.counted).await;
    hand.tap(says.save).await;

    // 240 mL x 200 M/mL x 80 % / 3000 M = 12.8: twelve doses (worked by hand).
    page.sees(says.doses).await;
    page.sees(says.not_measured).await;
    hand.tap(says.make).await;
    page.comes_true(
        "location.pathname.startsWith('/batch/')",
        "the batch's page",
    )
    .await;
    page.sees(says.doses).await;

    // His page says at once how that lies to what was expected of him.
    let batch: String = page.eval("location.pathname").await;
    page.goto(&format!("/boar/{}", standing.boar)).await;
    mounted(&page).await;
    page.sees(says.gave).await;
    page.goto(&batch).await;
    mounted(&page).await;
    page.sees(says.doses).await;

    // In the same hour.
    hand.tap(says.use_now).await;
    page.shows(".keypad").await;
    hand.type_figure("77").await;
    hand.tap(says.new_sow).await;
    page.goto("/sows").await;
    mounted(&page).await;
    page.type_into("input", "77").await;
    page.tap("ul.rows a[href^='/sow/']").await;
    page.sees(says.farrows).await;
    page.has_no_complaints();

    // In the evening.
    office.start();
    send_now(&page).await;
    all_sent_in(&page, says.unsent).await;
    let new: Vec<String> = log(&office)
        .into_iter()
        .skip(before)
        .map(|e| e.kind)
        .collect();
    assert_eq!(
        new,
        ["collection", "evaluation", "semen_batch", "sow", "service"]
    );
}
