//! The contract over real HTTP: what a device or a script sends, and what it is told.

#[path = "store_hands/office.rs"]
mod office;
mod store_hands;

use office::{Office, lines, push_text};
use pentally_domain::envelope::Entry;
use pentally_domain::sync::{Fate, Page, Receipt};
use pentally_domain::time::Stamp;
use pentally_server::store::{Home, Store};
use serde_json::{Value, json};
use std::fs;
use store_hands::{Dice, Phone, boar, collection, story};

#[test]
fn a_first_start_names_the_farm_and_happens_once() {
    let office = Office::new();
    let before = office.get("/api/v1/hello").json();
    assert_eq!(
        (&before["started"], &before["farm"]),
        (&json!(false), &Value::Null)
    );
    let dice = &mut Dice::new(1);
    let stranger = Phone::new(Home::new(1, [1; 10], [2; 10]), dice);
    office
        .post("/api/v1/sync", &push_text(&stranger, &[]))
        .is_problem(409);
    for (body, status) in [
        (json!({ "farm": "Hill", "zone": "Middle/Nowhere" }), 422),
        (json!({ "farm": " ", "zone": "UTC" }), 422),
        (json!({ "farm": "Hill", "invented": true }), 400),
        (json!({}), 400),
        (json!({ "frm": "Hill" }), 400),
    ] {
        office
            .post("/api/v1/start", &body.to_string())
            .is_problem(status);
    }
    let hello = office
        .post(
            "/api/v1/start",
            &json!({ "farm": "Hill", "zone": "Europe/Madrid" }).to_string(),
        )
        .json();
    assert_eq!(
        (&hello["started"], &hello["epoch"]),
        (&json!(true), &before["epoch"])
    );
    office
        .post(
            "/api/v1/start",
            &json!({ "farm": "Dale", "zone": "UTC" }).to_string(),
        )
        .is_problem(409);
    assert_eq!(office.entries(), 1);
    // Phones that are let in would write into it.
    let look_around = json!({ "invented": true }).to_string();
    office.post("/api/v1/start", &look_around).is_problem(409);
    assert_eq!(office.get("/api/v1/hello").json()["invented"], json!(false));
}

#[test]
fn one_note_travels_to_another_phone() {
    let (office, home) = Office::started();
    let dice = &mut Dice::new(2);
    let mut phone = Phone::new(home, dice);
    phone.write(&boar(1), dice);
    let receipt = office.sync(&phone, &lines(&phone.entries));
    assert_eq!(
        (receipt.fates.as_slice(), receipt.highest),
        ([Fate::Stored].as_slice(), 1)
    );
    let page: Page = serde_json::from_str(&office.get("/api/v1/summaries").body).unwrap();
    assert_eq!(
        (page.cursor, page.more, page.ledgers.len()),
        (receipt.cursor, false, 2)
    );
    let cursor = page.cursor;
    let path = format!(
        "/api/v1/summaries?epoch={}&n={}&hash={}&device={}",
        cursor.epoch,
        cursor.n,
        cursor.hash,
        phone.device()
    );
    let page: Page = serde_json::from_str(&office.get(&path).body).unwrap();
    assert_eq!((page.restart, page.ledgers.len()), (false, 0));
    office.get("/api/v1/summaries?n=3").is_problem(400);
    office
        .get("/api/v1/summaries?epoch=x&n=3&hash=y")
        .is_problem(400);
    office.get("/api/v1/summaries?protocol=2").is_problem(426);
}

#[test]
fn a_body_that_is_no_request_is_refused_and_the_server_goes_on() {
    let (office, home) = Office::started();
    let dice = &mut Dice::new(3);
    let mut phone = Phone::new(home, dice);
    phone.write(&boar(1), dice);
    let good = push_text(&phone, &lines(&phone.entries));
    for body in [
        "",
        "{",
        "[]",
        "null",
        &good[..good.len() - 2],
        &good.replace("\"seq\":1", "\"seq\":NaN"),
        "\u{0}",
    ] {
        office.post("/api/v1/sync", body).is_problem(400);
    }
    office
        .post(
            "/api/v1/sync",
            &good.replace("\"protocol\":1", "\"protocol\":2"),
        )
        .is_problem(426);
    office
        .post("/api/v1/sync", &" ".repeat(10_000_000))
        .is_problem(413);
    let deep = good.replace(
        "\"entries\":[",
        &format!(
            "\"entries\":[{}{},",
            "[".repeat(100_000),
            "]".repeat(100_000)
        ),
    );
    assert_eq!(office.entries(), 1);
    let told = office.post("/api/v1/sync", &deep).json();
    assert_eq!(
        (&told["fates"][0]["result"], &told["fates"][1]["result"]),
        (&json!("set_aside"), &json!("stored"))
    );
}

#[test]
fn one_bad_element_does_not_stop_its_neighbours() {
    let (office, home) = Office::started();
    let dice = &mut Dice::new(4);
    let mut phone = Phone::new(home, dice);
    for n in 0..9 {
        phone.write(&boar(n), dice);
    }
    let mut sent = lines(&phone.entries);
    let changes: &[(usize, &str, &str)] = &[
        (1, "\"seq\":2", "\"seq\":\"2\""),
        (3, "\"v\":1", "\"v\":2"),
        (5, "\\\"number\\\":\\\"5\\\"", "\\\"number\\\":NaN"),
        (7, "\"farm\":\"", "\"farm\":\"0"),
    ];
    for (at, from, to) in changes {
        let changed = sent[*at].replacen(from, to, 1);
        assert_ne!(changed, sent[*at], "{from}");
        sent[*at] = changed;
    }
    let receipt = office.sync(&phone, &sent);
    for (i, fate) in receipt.fates.iter().enumerate() {
        assert_eq!(
            matches!(fate, Fate::SetAside { .. }),
            i % 2 == 1 && i < 9,
            "element {i}: {fate:?}"
        );
    }
    let apart = office.get("/api/v1/aside").json();
    let texts: Vec<_> = apart["aside"]
        .as_array()
        .unwrap()
        .iter()
        .map(|a| a["text"].as_str().unwrap().to_owned())
        .collect();
    assert_eq!(
        texts,
        [&sent[1], &sent[3], &sent[5], &sent[7]].map(Clone::clone)
    );
    assert_eq!(office.entries(), 6);
}

#[test]
fn odd_years_unknown_kinds_and_gaps_are_stored_and_exported_letter_for_letter() {
    let (office, home) = Office::started();
    let dice = &mut Dice::new(5);
    let mut phone = Phone::new(home, dice);
    let id = phone.write(&boar(1), dice).envelope().id.as_boar();
    for at in [
        "1900-01-01T00:00:00.000+01:00",
        "2100-12-31T23:59:59.999+01:00",
    ] {
        phone.write_at(&collection(id, 201.7), Stamp::parse(at).unwrap().ms(), dice);
    }
    phone.write_raw("dream", 9, "{ \"x\": NaN,\t\"ü\": 1e999 }".into(), 0, dice);
    let all = lines(&phone.entries);
    let receipt = office.sync(&phone, &[all[0].clone(), all[2].clone(), all[3].clone()]);
    assert_eq!(
        (receipt.contiguous[&phone.device()], receipt.highest),
        (1, 4)
    );
    let receipt = office.sync(&phone, &all[1..2]);
    assert_eq!(receipt.contiguous[&phone.device()], 4);
    let mut page = office.get("/api/v1/entries?after=1&limit=3").body;
    for line in [&all[0], &all[2], &all[3]] {
        assert!(page.contains(line.as_str()), "{line}");
    }
    assert!(page.ends_with("\"next\":4}"), "{page}");
    page = office.get("/api/v1/entries?after=4").body;
    assert!(
        page.contains(all[1].as_str()) && page.ends_with("\"next\":5}"),
        "{page}"
    );
    assert_eq!(
        office.get("/api/v1/entries?after=5").json(),
        json!({ "entries": [], "next": null })
    );
    for query in ["limit=0", "limit=1001", "limit=-1", "after=x", "after=-1"] {
        office
            .get(&format!("/api/v1/entries?{query}"))
            .is_problem(400);
    }
}

#[test]
fn conflicts_are_told_and_kept() {
    let (office, home) = Office::started();
    let dice = &mut Dice::new(6);
    let mut phone = Phone::new(home, dice);
    phone.write(&boar(1), dice);
    let line = phone.entries[0].to_line();
    office.sync(&phone, std::slice::from_ref(&line));
    let other_bytes = line.replacen("\\\"1\\\"", "\\\"2\\\"", 1);
    assert_ne!(line, other_bytes);
    let mut other_id = phone.entries[0].envelope().clone();
    other_id.id = pentally_domain::id::EntryId::v7(7, dice.random());
    let other_id = Entry::seal(other_id).unwrap().to_line();
    let told = office.sync(&phone, &[line, other_bytes, other_id]).fates;
    let told = serde_json::to_value(told).unwrap();
    assert_eq!(told[0]["result"], "duplicate");
    assert_eq!(
        (&told[1]["result"], &told[1]["reason"]["why"]),
        (&json!("conflict"), &json!("same_id"))
    );
    assert_eq!(
        (&told[2]["result"], &told[2]["reason"]["why"]),
        (&json!("conflict"), &json!("same_sequence"))
    );
    assert_eq!(
        office.get("/api/v1/aside").json()["aside"]
            .as_array()
            .unwrap()
            .len(),
        2
    );
}

#[test]
fn a_backup_by_http_restores_as_a_new_history_that_phones_notice() {
    let (office, home) = Office::started();
    let dice = &mut Dice::new(7);
    let phone = story(home, 80, dice).swap_remove(0);
    office.sync(&phone, &lines(&phone.entries[..20]));
    let backup = office.post("/api/v1/backup", "");
    assert_eq!(
        (backup.status, backup.kind.as_str()),
        (200, "application/jsonl")
    );
    let receipt = office.sync(&phone, &lines(&phone.entries));
    assert_eq!(receipt.backed_up, 20);

    let restored = Office::with(|place| {
        let file = place.with_file_name("backup.jsonl");
        fs::write(&file, &backup.body).unwrap();
        let store = Store::open(place, dice.birth()).unwrap();
        store.restore(&file, dice.birth()).unwrap();
        store
    });
    assert_eq!(restored.entries(), 21);
    let cursor = serde_json::to_string(&receipt.cursor).unwrap();
    let greeting = format!(
        r#"{{"protocol":1,"device":"{}","cursor":{cursor},"entries":[]}}"#,
        phone.device()
    );
    let told: Receipt =
        serde_json::from_str(&restored.post("/api/v1/sync", &greeting).body).unwrap();
    assert!(
        told.resend && told.contiguous[&phone.device()] == 20,
        "{told:?}"
    );
    let told = restored.sync(&phone, &lines(&phone.entries));
    assert_eq!(told.contiguous[&phone.device()], phone.entries.len() as u64);
    assert_eq!(restored.entries(), office.entries());
}
