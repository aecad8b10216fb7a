//! Tags, reckonings, and the table as a whole, over real HTTP.

#[path = "store_hands/office.rs"]
mod office;
mod store_hands;

use office::{Office, agent, lines};
use pentally_domain::code::Code;
use pentally_server::http::table::TABLE;
use serde_json::json;
use store_hands::{Dice, Phone, fact};

#[test]
fn a_tag_leads_home_under_one_address_and_is_printed() {
    let (office, home) = Office::started();
    let dice = &mut Dice::new(8);
    let mut phone = Phone::new(home, dice);
    let pen = phone
        .write(&fact(json!({ "pen": { "name": "North 3 <b>" } })), dice)
        .envelope()
        .id
        .as_pen();
    let code = Code::from_number(12_345).unwrap();
    phone.write(
        &fact(json!({ "pen_tag": { "pen": pen, "code": code } })),
        dice,
    );
    office.sync(&phone, &lines(&phone.entries));
    for path in [
        format!("/t/{}", code.digits()),
        format!("/T/{}", code.digits().replacen("345", "-345", 1)),
    ] {
        let mut answer = agent()
            .get(format!("http://{}{path}", office.address))
            .call()
            .unwrap();
        assert_eq!(
            answer.status(),
            308,
            "{path}: {:?}",
            answer.body_mut().read_to_string()
        );
        assert_eq!(answer.headers()["location"], code.path());
    }
    let sheet = office.get("/tags?paper=letter&lang=es");
    assert_eq!(sheet.status, 200);
    assert!(
        sheet.body.contains("North 3 &lt;b&gt;") && sheet.body.contains("PRUEBA"),
        "{}",
        &sheet.body[..400]
    );
    let symbol = office.get(&format!("/tags/{}.svg", code.digits()));
    assert_eq!(
        (symbol.status, symbol.kind.as_str()),
        (200, "image/svg+xml")
    );
    office.get("/tags/123459.svg").is_problem(404);
    office.get("/tags/123.png").is_problem(404);
    office.get("/tags?paper=a5").is_problem(400);
}

/// 250 mL at 200 M/mL, 80 % motile, 3 billion in 80 mL: 13 doses and 790 mL of extender (worked by hand:
/// 250 × 200 × 0.8 = 40,000 M; 40 ÷ 3 = 13.3; 13 × 80 − 250 = 790).
#[test]
fn a_reckoning_answers_as_the_screens_do() {
    let office = Office::new();
    let asked = json!({
        "ejaculates": [{ "volume_ml": 250, "concentration_m_per_ml": 200, "motile_percent": 80 }],
        "target_billions": 3,
        "dose_volume_ml": 80,
    })
    .to_string();
    let answer = office.post("/api/v1/reckon/doses", &asked);
    assert_eq!(
        (answer.status, answer.kind.as_str()),
        (200, "application/json"),
        "{}",
        answer.body
    );
    assert_eq!(
        answer.body,
        pentally_domain::reckon::answer("doses", asked.as_bytes()).unwrap()
    );
    let made = &answer.json()["making"]["made"];
    assert_eq!(
        (&made["doses"], &made["extender_ml"]),
        (&json!(13), &json!(790.0))
    );
    office.post("/api/v1/reckon/doses", "{").is_problem(400);
    office
        .post("/api/v1/reckon/doses", r#"{"volume":NaN}"#)
        .is_problem(400);
    office.post("/api/v1/reckon/alchemy", "{}").is_problem(404);
    office.get("/api/v1/reckon/doses").is_problem(405);
}

/// That the text is iCalendar (RFC 5545), two independent parsers say in `calendar.rs`.
#[test]
fn the_calendar_tells_what_is_coming_in_the_language_asked_for() {
    let (office, home) = Office::started();
    let dice = &mut Dice::new(9);
    let mut phone = Phone::new(home, dice);
    let twelve = phone.write(&store_hands::boar(12), dice).envelope().id;
    let off = json!({ "off_collection":
        { "boar": twelve.as_boar(), "reason": "lame", "until": "2098-05-01" } });
    let off = phone.write(&fact(off), dice).envelope().id;
    office.sync(&phone, &lines(&phone.entries));
    for (path, says) in [
        ("/calendar.ics", "Boar 12 is off collection: Lame"),
        (
            "/calendar.ics?lang=es",
            "Verraco 12\\, fuera de extracción: Cojo",
        ),
    ] {
        let feed = office.get(path);
        assert_eq!(feed.status, 200, "{}", feed.body);
        assert!(feed.kind.starts_with("text/calendar"), "{}", feed.kind);
        let holds = |line: &str| feed.body.lines().any(|l| l == line);
        assert!(holds(&format!("SUMMARY:{says}")), "{}", feed.body);
        assert!(holds(&format!("UID:off-{off}")), "{}", feed.body);
        assert!(holds("DTEND;VALUE=DATE:20980502"), "{}", feed.body);
    }
    office.get("/calendar.ics?lang=de").is_problem(400);
}

#[test]
fn every_row_of_the_table_answers_and_is_described() {
    let (office, _) = Office::started();
    let document = office.get("/api/v1/openapi.json").json();
    let described: usize = document["paths"]
        .as_object()
        .unwrap()
        .values()
        .map(|p| p.as_object().unwrap().len())
        .sum();
    // And each reckoning once more, with what it takes and answers.
    let reckonings = pentally_domain::reckon::TABLE.len();
    assert_eq!(described, TABLE.len() + reckonings);
    let code = Code::from_number(12_345).unwrap().digits();
    for route in TABLE {
        assert!(
            document["paths"][route.path][route.method]["summary"].is_string(),
            "{}",
            route.path
        );
        let path = route
            .path
            .replace("{file}", &format!("{code}.svg"))
            .replace("{code}", &code)
            .replace("{name}", "doses");
        let answer = if route.method == "get" {
            office.get(&path)
        } else {
            office.post(&path, "{")
        };
        assert!(
            !(answer.status == 404 && answer.kind.contains("problem")) && answer.status != 405,
            "{path}: {}",
            answer.status
        );
    }
    office.get("/api/v1/nothing").is_problem(404);
    office.post("/health", "").is_problem(405);
    office.get("/api/v1/sync").is_problem(405);
}
