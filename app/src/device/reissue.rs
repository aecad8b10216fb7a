//! Writing again, under a new device identity, what the office could not take under the old one.
//!
//! A rolled-back phone gives numbers that are taken. What it wrote under them stands at the
//! office as a conflict; here the same facts become new entries. Their identities are new too,
//! so whatever among them named another of them is made to name its successor.

use pentally_domain::amend::Target;
use pentally_domain::envelope::{Entry, EntryError, Order};
use pentally_domain::fact::{Fact, Kind};
use pentally_domain::id::EntryId;
use pentally_domain::json;
use pentally_domain::time::Stamp;
use pentally_domain::writer::{Head, Moment};
use std::collections::BTreeMap;

/// Entries and the head that follows them.
pub type Written = (Vec<Entry>, Head);

/// Writes `former` again from `head` on, at `now`, one ten-byte `chance` each.
pub fn reissue(
    head: &Head,
    former: &[Entry],
    now: Stamp,
    chance: &[[u8; 10]],
) -> Result<Written, EntryError> {
    let mut successors: BTreeMap<EntryId, Order> = BTreeMap::new();
    let mut written = vec![];
    let mut head = *head;
    for (old, random) in former.iter().zip(chance) {
        let envelope = old.envelope();
        let moment = Moment {
            now,
            occurred_at: envelope.occurred_at,
            random: *random,
            person: envelope.person,
        };
        let body = renamed(&envelope.kind, &envelope.body, &successors);
        let (entry, next) = head.write_raw(&envelope.kind, envelope.version, body, moment)?;
        successors.insert(envelope.id, entry.order());
        written.push(entry);
        head = next;
    }
    Ok((written, head))
}

fn renamed(kind: &str, body: &str, successors: &BTreeMap<EntryId, Order>) -> String {
    // Identities are written in one form only and never occur by chance, so text is enough;
    // and it also reaches the bodies of kinds that only a newer version reads.
    let body = successors.iter().fold(body.to_owned(), |body, (old, new)| {
        body.replace(&old.to_string(), &new.id.to_string())
    });
    amended(kind, &body, successors).unwrap_or(body)
}

/// An amendment names its record by its whole place in the order of business.
fn amended(kind: &str, body: &str, successors: &BTreeMap<EntryId, Order>) -> Option<String> {
    let place = |target: &mut Target| {
        let new = successors.values().find(|new| new.id == target.record.id)?;
        target.record = *new;
        Some(())
    };
    match Kind::named(kind)? {
        Kind::Void => {
            let mut void: pentally_domain::amend::Void = json::read(body).ok()?;
            place(&mut void.target)?;
            Some(Fact::Void(void).body())
        }
        Kind::Correction => {
            let mut correction: pentally_domain::amend::Correction = json::read(body).ok()?;
            place(&mut correction.target)?;
            Some(Fact::Correction(correction).body())
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use pentally_domain::amend::{Note, Void};
    use pentally_domain::barn::Barn;
    use pentally_domain::boar::Pen;
    use pentally_domain::fact::Subject;
    use pentally_domain::id::{BarnId, DeviceId, FarmId};
    use pentally_domain::said::{Label, Remark};

    fn head(device: u8) -> Head {
        Head::new(
            FarmId::v7(1, [1; 10]),
            BarnId::v7(1, [1; 10]),
            DeviceId::v7(1, [device; 10]),
        )
    }

    fn moment(ms: i64, random: u8) -> Moment {
        let at = Stamp::new(ms, 60).unwrap();
        Moment {
            now: at,
            occurred_at: at,
            random: [random; 10],
            person: None,
        }
    }

    /// A pen, a note on it and the note's undo, as a rolled-back phone wrote them.
    fn former() -> Vec<Entry> {
        let pen = Fact::Pen(Pen {
            name: Label::parse("Gate 4").unwrap(),
        });
        let (pen, next) = head(7).write(&pen, moment(1_000, 1)).unwrap();
        let about = Subject::Pen(pen.envelope().id.as_pen());
        let note = Fact::Note(Note {
            about,
            text: Remark::parse("Water runs slow").unwrap(),
        });
        let (note, next) = next.write(&note, moment(2_000, 2)).unwrap();
        let target = Target {
            record: note.order(),
            kind: Kind::Note,
            amendment: None,
        };
        let (void, _) = next
            .write(
                &Fact::Void(Void {
                    target,
                    about: vec![about],
                }),
                moment(3_000, 3),
            )
            .unwrap();
        vec![pen, note, void]
    }

    #[test]
    fn the_same_facts_stand_under_new_identities_and_name_each_other() {
        let now = Stamp::new(9_000, 60).unwrap();
        let old = former();
        let (new, after) = reissue(&head(8), &old, now, &[[11; 10], [12; 10], [13; 10]]).unwrap();
        assert_eq!((new.len(), after.seq), (3, 3));
        for (new, old) in new.iter().zip(&old) {
            assert_ne!(new.envelope().id, old.envelope().id);
            assert_eq!(new.envelope().occurred_at, old.envelope().occurred_at);
            assert_eq!(new.envelope().kind, old.envelope().kind);
        }
        let mut barn = Barn::default();
        assert!(new.iter().all(|e| barn.apply(e)));
        let pen = new[0].envelope().id.as_pen();
        assert!(barn.pen(pen).and_then(|p| p.pen).is_some());
        let ledger = barn.ledger(Subject::Pen(pen)).unwrap();
        assert!(
            ledger.is_void(new[1].envelope().id),
            "the undo found the note's successor"
        );
        assert_eq!(
            barn.ledgers().count(),
            1,
            "nothing names the old pen any more"
        );
    }
}
