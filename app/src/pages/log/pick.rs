//! Which rows of the ledgers are shown, and how one is taken back.

use crate::feed::RecordState;
use pentally_domain::amend::{Target, Void};
use pentally_domain::barn::Barn;
use pentally_domain::fact::{Fact, Kind, Subject};
use pentally_domain::id::{BoarId, DeviceId, EntryId, PersonId};
use pentally_domain::ledger::{Ledger, Row};
use std::collections::HashSet;

/// What the filters ask for.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Wanted {
    /// Of this kind.
    pub kind: Option<Kind>,
    /// About this boar.
    pub boar: Option<BoarId>,
    /// By this person.
    pub person: Option<PersonId>,
    /// Not at the office yet.
    pub unsent: bool,
}

/// A row to show.
#[derive(Debug, Clone, Copy)]
pub struct Item<'a> {
    /// As it was written.
    pub row: &'a Row,
    /// It does not count any more.
    pub void: bool,
}

/// The rows that fit, newest first, each once though several pages hold it.
pub fn pick<'a>(
    barn: &'a Barn,
    wanted: &Wanted,
    state: impl Fn(DeviceId, u64) -> RecordState,
) -> Vec<Item<'a>> {
    let about = |ledger: &&Ledger| {
        wanted
            .boar
            .is_none_or(|boar| same_boar(barn, ledger.subject(), boar))
    };
    let fits = |row: &Row| {
        wanted.kind.is_none_or(|kind| row.fact.kind() == kind)
            && wanted
                .person
                .is_none_or(|person| row.person == Some(person))
            && (!wanted.unsent || state(row.device, row.seq) == RecordState::OnThisPhone)
    };
    let mut seen = HashSet::new();
    let mut items = vec![];
    for ledger in barn.ledgers().filter(about) {
        let voids = voids(ledger);
        let new = ledger
            .rows()
            .filter(|row| fits(row) && seen.insert(row.order.id));
        items.extend(new.map(|row| Item {
            row,
            void: voids.contains(&row.order.id) || ledger.is_void(row.order.id),
        }));
    }
    items.sort_by_key(|item| {
        std::cmp::Reverse((
            item.row.occurred_at.ms(),
            item.row.order.clock,
            item.row.order.id,
        ))
    });
    items
}

/// The void that takes a row back; none for the farm's own settings, which are only followed by others.
pub fn take_back(row: &Row) -> Option<Fact> {
    let amended = |target: Target, about: &[Subject]| {
        let target = Target {
            amendment: Some(row.order.id),
            ..target
        };
        Fact::Void(Void {
            target,
            about: about.to_vec(),
        })
    };
    match &row.fact {
        Fact::Farm(_) => None,
        Fact::Void(v) => Some(amended(v.target, &v.about)),
        Fact::Correction(c) => Some(amended(c.target, &c.about)),
        fact => Some(Fact::Void(Void::of(row.order, fact))),
    }
}

/// What brings a record back: the undoing of each void that holds. None where it was not taken back.
pub fn bring_back(ledger: &Ledger, record: EntryId) -> Vec<Fact> {
    let undone = voids(ledger);
    let takes = |row: &&Row| match &row.fact {
        Fact::Void(v) => v.target.record.id == record && v.target.amendment.is_none(),
        _ => false,
    };
    let held = ledger.rows().filter(takes);
    let held = held.filter(|row| !undone.contains(&row.order.id));
    held.filter_map(take_back).collect()
}

fn same_boar(barn: &Barn, subject: Subject, boar: BoarId) -> bool {
    match subject {
        Subject::Boar(id) => id == boar || barn.boar(id).is_some_and(|b| b.id == boar),
        _ => false,
    }
}

/// The amendments that other amendments undid.
fn voids(ledger: &Ledger) -> HashSet<EntryId> {
    let undone = |row: &Row| {
        if let Fact::Void(v) = &row.fact {
            v.target.amendment
        } else {
            None
        }
    };
    ledger.rows().filter_map(undone).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use pentally_domain::boar::Boar;
    use pentally_domain::envelope::Entry;
    use pentally_domain::id::{BarnId, FarmId};
    use pentally_domain::said::Label;
    use pentally_domain::sow::{By, Service};
    use pentally_domain::time::Stamp;
    use pentally_domain::writer::{Head, Moment};

    struct Log {
        head: Head,
        barn: Barn,
    }

    impl Log {
        fn new() -> Self {
            let (farm, barn) = (FarmId::v7(0, [1; 10]), BarnId::v7(0, [1; 10]));
            Self {
                head: Head::new(farm, barn, DeviceId::v7(0, [1; 10])),
                barn: Barn::default(),
            }
        }

        fn say(&mut self, fact: &Fact) -> EntryId {
            let seq = u8::try_from(self.head.seq).unwrap();
            let now = Stamp::new(i64::from(seq) * 1000 + 1000, 0).unwrap();
            let moment = Moment {
                now,
                occurred_at: now,
                random: [seq; 10],
                person: None,
            };
            let (entry, head): (Entry, Head) = self.head.write(fact, moment).unwrap();
            self.head = head;
            assert!(self.barn.apply(&entry));
            entry.envelope().id
        }

        fn shown(&self, wanted: &Wanted) -> Vec<(EntryId, bool)> {
            let home = |_, _| RecordState::AtTheOffice;
            pick(&self.barn, wanted, home)
                .iter()
                .map(|item| (item.row.order.id, item.void))
                .collect()
        }

        fn back(&self, id: EntryId) -> Fact {
            let home = |_, _| RecordState::AtTheOffice;
            let items = pick(&self.barn, &Wanted::default(), home);
            take_back(items.iter().find(|i| i.row.order.id == id).unwrap().row).unwrap()
        }
    }

    fn boar(number: &str) -> Fact {
        let number = Label::parse(number).unwrap();
        Fact::Boar(Boar {
            number,
            name: None,
            born: None,
            line: None,
            ear: None,
            before: Default::default(),
            mind: None,
        })
    }

    #[test]
    fn a_record_on_two_pages_is_shown_once_and_the_newest_comes_first() {
        let mut log = Log::new();
        let first = log.say(&boar("1"));
        let second = log.say(&boar("2"));
        let sow = EntryId::v7(0, [9; 10]).as_sow();
        let service = log.say(&Fact::Service(Service {
            sow,
            by: By::Boar(first.as_boar()),
        }));
        assert_eq!(
            log.shown(&Wanted::default()),
            [(service, false), (second, false), (first, false)]
        );
        let his = Wanted {
            boar: Some(first.as_boar()),
            ..Wanted::default()
        };
        assert_eq!(log.shown(&his), [(service, false), (first, false)]);
        assert_eq!(
            log.shown(&Wanted {
                kind: Some(Kind::Service),
                ..his
            }),
            [(service, false)]
        );
        assert_eq!(
            log.shown(&Wanted {
                unsent: true,
                ..his
            }),
            []
        );
    }

    #[test]
    fn what_was_taken_back_can_be_brought_back() {
        let mut log = Log::new();
        let record = log.say(&boar("1"));
        let void = log.say(&log.back(record));
        assert_eq!(
            log.shown(&Wanted::default()),
            [(void, false), (record, true)]
        );
        let again = log.say(&log.back(void));
        assert_eq!(
            log.shown(&Wanted::default()),
            [(again, false), (void, true), (record, false)]
        );
    }

    #[test]
    fn a_record_comes_back_however_often_it_was_taken_back() {
        let mut log = Log::new();
        let record = log.say(&boar("1"));
        let about = Subject::Boar(record.as_boar());
        for _ in 0..2 {
            let void = log.back(record);
            log.say(&void);
            let ledger = log.barn.ledger(about).unwrap();
            assert!(ledger.is_void(record));
            let back = bring_back(ledger, record);
            assert_eq!(back.len(), 1);
            log.say(&back[0]);
            let ledger = log.barn.ledger(about).unwrap();
            assert!(!ledger.is_void(record) && bring_back(ledger, record).is_empty());
        }
    }
}
