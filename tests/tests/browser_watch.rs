//! A boar is used far too often, and gives less and less: his page says so, what he gives is shown
//! beside what was expected, the cause that speaks loudest stands first, and the answer reaches the
//! office. Without a network, but for the beginning and the end.

use pentally_domain::collection::{Amount, Collection, Outcome};
use pentally_domain::evaluation::{ConcentrationBy, Evaluation, Share};
use pentally_domain::fact::Fact;
use pentally_domain::id::{BarnId, BoarId, DeviceId, FarmId};
use pentally_domain::said::Said;
use pentally_domain::sync::{PROTOCOL, Push};
use pentally_domain::time::{HOUR_MS, Stamp};
use pentally_domain::units::{Concentration, Percent, VolumeMl};
use pentally_domain::writer::{Head, Moment};
use pentally_tests::browser::hands::{all_sent, log, mounted, send_now};
use pentally_tests::browser::{Office, Phone, invented_barn};
use serde::Deserialize;
use serde_json::value::RawValue;
use std::time::{Duration, SystemTime, UNIX_EPOCH};

#[derive(Deserialize)]
struct Hello {
    farm: FarmId,
    barn: BarnId,
}

fn now_ms() -> i64 {
    let since = SystemTime::now().duration_since(UNIX_EPOCH).unwrap();
    i64::try_from(since.as_millis()).unwrap()
}

/// Collected every six hours for two days, 60 mL of 80 M/mL each: far below what any boar gives.
fn overused(boar: BoarId) -> Vec<(Collection, i64)> {
    let collection = Collection {
        boar,
        outcome: Outcome::Collected,
        glove: Said::Unanswered,
        mount: Said::Unanswered,
        steps: vec![],
        sperm_poor_in: Said::Confirmed(true),
        amount: Some(Amount::Volume(VolumeMl::new(60.0).unwrap())),
        amount_confirmed: false,
        temper: None,
        trouble: vec![],
        despite: None,
        note: None,
    };
    let last = now_ms() - HOUR_MS;
    (0..8)
        .rev()
        .map(|n| (collection.clone(), last - n * 6 * HOUR_MS))
        .collect()
}

/// A phone that nobody sees hands them in, with what the bench found.
fn hand_in(office: &Office, boar: BoarId) {
    let answer = office.get("/api/v1/hello").unwrap();
    let (_, body) = answer.split_once("\r\n\r\n").unwrap();
    let home: Hello = serde_json::from_str(body).unwrap();
    let device = DeviceId::v7(now_ms(), [77; 10]);
    let mut head = Head::new(home.farm, home.barn, device);
    let mut entries = vec![];
    let mut write = |fact: &Fact, at_ms: i64, n: u8| {
        let now = Stamp::new(at_ms, 0).unwrap();
        let moment = Moment {
            now,
            occurred_at: now,
            random: [n; 10],
            person: None,
        };
        let (entry, next) = head.write(fact, moment).unwrap();
        head = next;
        entries.push(RawValue::from_string(entry.to_line()).unwrap());
        entry.order().id
    };
    for (n, (collection, at_ms)) in (1_u8..).zip(overused(boar)) {
        let id = write(&Fact::Collection(collection), at_ms, 2 * n);
        let share = |percent| {
            Some(Share {
                percent: Percent::new(percent).unwrap(),
                cells: Some(200),
            })
        };
        let counted = Concentration::new(80.0).unwrap();
        let evaluation = Evaluation {
            concentration: Some(ConcentrationBy::Instrument(counted)),
            motile: share(80.0),
            abnormal: share(12.0),
            ..Evaluation::begun(id, boar)
        };
        write(&Fact::Evaluation(evaluation), at_ms + 60_000, 2 * n + 1);
    }
    let push = Push {
        protocol: PROTOCOL,
        device,
        cursor: None,
        floor: None,
        unsent: 0,
        entries,
        beside: vec![],
    };
    office.post("/api/v1/sync", &serde_json::to_string(&push).unwrap());
}

#[tokio::test]
async fn a_boar_used_too_often_is_noticed_explained_and_answered() {
    let (mut office, standing) = invented_barn();
    let boar = BoarId::parse(&standing.boar).unwrap();
    hand_in(&office, boar);
    let phone = Phone::with_flags(&office, &["--lang=en-GB", "--accept-lang=en-GB"]).await;
    let first = phone.open("/watch").await;
    mounted(&first).await;
    first.kept_for_offline().await;
    first.sees("Not answered").await;
    let before = log(&office).len();
    office.kill();

    let page = phone.open(&format!("/boar/{boar}")).await;
    page.be_sized(360, 640, true).await;
    mounted(&page).await;
    page.sees("less than expected since").await;
    page.sees("4.8\u{202f}×10⁹, expected").await;
    page.goto(&format!("/boar/{boar}/output")).await;
    mounted(&page).await;
    page.sees("Fell").await;
    page.shows("ol.reasons > li").await;
    let likeliest: String = page
        .eval("document.querySelector('ol.reasons > li > b').innerText")
        .await;
    assert_eq!(likeliest, "Too little rest");
    page.sees("What would he give?").await;
    page.shows("svg .band").await;
    page.tap_words("The cause was found").await;
    page.sees("What was the cause?").await;
    tokio::time::sleep(Duration::from_millis(450)).await;
    let chip = "[...document.querySelectorAll('.chip')].find(c => c.innerText.includes('Too little rest')).click()";
    page.eval::<()>(&format!("({chip}, null)")).await;
    page.type_into(".field input", "every six hours").await;
    page.tap_words("Save").await;
    page.sees("The cause was found: Too little rest · every six hours")
        .await;
    page.has_no_complaints();

    office.start();
    send_now(&page).await;
    all_sent(&page).await;
    let new: Vec<String> = log(&office)
        .into_iter()
        .skip(before)
        .map(|e| e.kind)
        .collect();
    assert_eq!(new, ["signal_answer"]);
}
