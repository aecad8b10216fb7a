//! What the office refuses, in words of ours; in its own English where we have none.

use crate::office::Problem;
use crate::words::{Key, Words, key};

/// Why the office refused.
pub fn refused(w: &Words, problem: &Problem) -> String {
    let by_code = problem.code.as_deref().and_then(of_code);
    match by_code.or_else(|| of_kind(&problem.kind)) {
        Some(says) => w.tr(says),
        None => w.tr_with(key::OFFICE_SAYS, &[("why", problem.detail.as_str().into())]),
    }
}

fn of_code(code: &str) -> Option<Key> {
    Some(match code {
        "not-a-local-name" => key::REFUSED_NAME,
        "name-too-long" => key::REFUSED_NAME_LONG,
        "not-the-owner" => key::REFUSED_OWNER,
        "not-a-code" => key::REFUSED_CODE,
        "nobody-waits" => key::REFUSED_NOBODY_WAITS,
        _ => return None,
    })
}

/// The kinds that say enough by themselves.
fn of_kind(kind: &str) -> Option<Key> {
    Some(match kind {
        "/problems/too-large" => key::REFUSED_TOO_LARGE,
        "/problems/too-many" => key::REFUSED_TOO_MANY,
        "/problems/unknown-device" => key::PAIR_REFUSED_HERE,
        "/problems/not-allowed" => key::REFUSED_NOT_ALLOWED,
        "/problems/full" => key::OFFICE_FULL,
        "/problems/busy" => key::REFUSED_BUSY,
        "/problems/failed" => key::REFUSED_FAILED,
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::words::Lang;

    fn problem(kind: &str, code: Option<&str>) -> Problem {
        Problem {
            kind: kind.to_owned(),
            code: code.map(str::to_owned),
            detail: "in English".to_owned(),
        }
    }

    #[test]
    fn the_code_decides_then_the_kind_and_only_then_the_english() {
        let w = Words::of(Lang::Es);
        let said = |kind, code| refused(&w, &problem(kind, code));
        assert_eq!(
            said("/problems/opens-nothing", Some("not-the-owner")),
            w.tr(key::REFUSED_OWNER)
        );
        assert_eq!(
            said("/problems/too-many", Some("of-a-newer-office")),
            w.tr(key::REFUSED_TOO_MANY)
        );
        assert!(said("/problems/impossible", None).contains("in English"));
    }
}
