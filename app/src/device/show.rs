//! Which of what is held must be shown, and what must be shown first.

use super::held::HeldKey;
use pentally_domain::barn::Barn;
use pentally_domain::code::Code;
use pentally_domain::fact::Subject;
use pentally_domain::id::{BoarId, DeviceId, EntryId, SowId};
use pentally_domain::sync::Aside;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// Why a held entry stands aside at the office.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct SetAside {
    /// The entry.
    pub entry: EntryId,
    /// What the office said.
    pub why: Aside,
    /// The entry that says the same under a new device identity; then this one is done with.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub again: Option<EntryId>,
}

impl SetAside {
    /// Whether a rolled-back phone must still write it again.
    pub fn wants_reissue(&self) -> bool {
        self.why == Aside::SameSequence && self.again.is_none()
    }
}

/// Whether a held entry goes on top of the ledgers that were pulled: they do not include it, and
/// no successor took its place. Including one twice would change nothing but the time it takes.
pub fn goes_on_top(
    key: HeldKey,
    includes: &BTreeMap<DeviceId, u64>,
    aside: Option<&SetAside>,
) -> bool {
    match aside {
        Some(aside) => aside.again.is_none(),
        None => includes.get(&key.device).is_none_or(|upto| key.seq > *upto),
    }
}

/// The subjects that the page at `path` is about, as far as the pens known so far tell.
pub fn first_needed(path: &str, barn: &Barn) -> Vec<Subject> {
    let mut needed = vec![];
    for part in path.split('/') {
        if let Ok(id) = EntryId::parse(part) {
            needed.extend([
                Subject::Boar(id.as_boar()),
                Subject::Sow(SowId::from_uuid(id.uuid())),
            ]);
        } else if let Ok(code) = Code::parse(part) {
            let boars = barn
                .pens_of_code(code)
                .into_iter()
                .flat_map(|p| p.perhaps_in);
            needed.extend(boars.map(|boar: BoarId| Subject::Boar(boar)));
        }
    }
    needed
}

#[cfg(test)]
mod tests {
    use super::*;
    use pentally_domain::boar::{Move, Pen, PenTag};
    use pentally_domain::fact::Fact;
    use pentally_domain::id::{BarnId, FarmId};
    use pentally_domain::said::Label;
    use pentally_domain::time::Stamp;
    use pentally_domain::writer::{Head, Moment};

    fn key(device: u8, seq: u64) -> HeldKey {
        HeldKey {
            device: DeviceId::v7(1, [device; 10]),
            seq,
        }
    }

    fn aside(why: Aside, again: Option<EntryId>) -> SetAside {
        SetAside {
            entry: EntryId::v7(1, [1; 10]),
            why,
            again,
        }
    }

    #[test]
    fn what_the_ledgers_do_not_include_goes_on_top_of_them() {
        let includes = BTreeMap::from([(key(1, 0).device, 5)]);
        assert!(!goes_on_top(key(1, 5), &includes, None));
        assert!(goes_on_top(key(1, 6), &includes, None));
        assert!(
            goes_on_top(key(2, 1), &includes, None),
            "a device the office never heard of"
        );
    }

    #[test]
    fn what_was_not_accepted_is_shown_until_it_was_written_again() {
        let includes = BTreeMap::from([(key(1, 0).device, 5)]);
        let waits = aside(Aside::SameSequence, None);
        assert!(waits.wants_reissue() && goes_on_top(key(1, 5), &includes, Some(&waits)));
        let done = aside(Aside::SameSequence, Some(EntryId::v7(2, [2; 10])));
        assert!(!done.wants_reissue() && !goes_on_top(key(1, 9), &includes, Some(&done)));
        assert!(!aside(Aside::OtherFarm, None).wants_reissue());
    }

    #[test]
    fn a_tag_asks_for_the_boar_in_its_pen_first() {
        let code = Code::from_number(12_345).unwrap();
        let head = Head::new(
            FarmId::v7(1, [1; 10]),
            BarnId::v7(1, [1; 10]),
            key(1, 0).device,
        );
        let at = Stamp::new(1_000, 0).unwrap();
        let boar = BoarId::v7(1, [9; 10]);
        let mut barn = Barn::default();
        let mut write = |fact: Fact, random: u8| {
            let moment = Moment {
                now: at,
                occurred_at: at,
                random: [random; 10],
                person: None,
            };
            let entry = head.write(&fact, moment).unwrap().0;
            barn.apply(&entry);
            entry.envelope().id
        };
        let pen = write(
            Fact::Pen(Pen {
                name: Label::parse("4").unwrap(),
            }),
            1,
        )
        .as_pen();
        write(Fact::PenTag(PenTag { pen, code }), 2);
        write(
            Fact::Move(Move {
                boar,
                from: None,
                to: Some(pen),
                gone: false,
            }),
            3,
        );
        assert_eq!(first_needed(&code.path(), &barn), [Subject::Boar(boar)]);
        let page = first_needed(&format!("/boar/{boar}"), &barn);
        assert!(page.contains(&Subject::Boar(boar)));
        assert_eq!(first_needed("/today", &barn), []);
    }
}
