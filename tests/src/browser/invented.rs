//! A small invented farm, for tests that need boars who have worked.

use super::hands::log;
use super::{Office, prepared};
use pentally_domain::code::Code;
use serde::Deserialize;
use std::path::Path;
use std::process::Command;

/// A boar alone in his pen, and the code on its tag.
#[derive(Debug)]
pub struct Standing {
    /// The code on the tag of his pen.
    pub code: Code,
    /// His identity.
    pub boar: String,
    /// What he is called.
    pub number: String,
}

/// An office with the log of a small invented farm.
pub fn invented_barn() -> (Office, Standing) {
    let binary = prepared("PENTALLY_BINARY");
    let office = Office::open_with(&binary, |data| {
        let story = data.with_file_name("story.jsonl");
        let run = |words: &[&str], place: &Path| {
            let mut command = Command::new(&binary);
            command.args(words).arg(place);
            assert!(command.status().is_ok_and(|s| s.success()), "{words:?}");
        };
        run(&["demo", "--boars", "3", "--years", "1", "--out"], &story);
        let data = data.to_str().expect("a plain path");
        run(&["import", "--data", data], &story);
    });
    let standing = first_alone(&office);
    (office, standing)
}

/// The first tag that the office says leads to one boar, and who he is by the log.
fn first_alone(office: &Office) -> Standing {
    #[derive(Deserialize)]
    struct Tag {
        code: Code,
    }
    #[derive(Deserialize)]
    struct Boar {
        number: String,
    }
    let log = log(office);
    let told = |kind: &'static str| log.iter().filter(move |e| e.kind == kind);
    let alone = told("pen_tag").find_map(|e| {
        let code = serde_json::from_str::<Tag>(&e.body)
            .expect("a tag has a code")
            .code;
        let page = office.get(&code.path())?;
        let (_, rest) = page.split_once("href=\"/boar/")?;
        let boar = rest.split(['/', '"']).next()?.to_owned();
        page.contains(&format!("/boar/{boar}/collect"))
            .then_some((code, boar))
    });
    let (code, boar) = alone.expect("a pen of the invented barn holds one boar");
    let introduced = told("boar")
        .find(|e| e.id == boar)
        .expect("he was introduced");
    let number = serde_json::from_str::<Boar>(&introduced.body)
        .expect("he has a number")
        .number;
    Standing { code, boar, number }
}
