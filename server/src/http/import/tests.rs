use super::*;
use crate::store::{Birth, Home};
use pentally_domain::farm::Farm;
use pentally_domain::id::{BarnId, FarmId};
use pentally_domain::said::Label;
use pentally_domain::time::Stamp;

/// 2026-01-01T00:00:00Z.
pub const NOW_MS: i64 = 1_767_225_600_000;

/// A store whose farm was just started, on a clock of UTC.
pub fn store() -> Store {
    let birth = Birth {
        now_ms: NOW_MS,
        random: [1; 10],
    };
    let store = Store::in_memory(birth).unwrap();
    let farm = Farm {
        name: Label::parse("Invented").unwrap(),
        zone: Zone::default(),
        origin: None,
        invented: false,
    };
    let home = Home {
        farm: FarmId::v7(NOW_MS, [2; 10]),
        barn: BarnId::v7(NOW_MS, [3; 10]),
    };
    let saying = Saying {
        fact: Fact::Farm(farm),
        occurred_at: None,
        random: [4; 10],
    };
    store
        .begin(home, &saying, Stamp::new(NOW_MS, 0).unwrap(), birth)
        .unwrap();
    store
}

fn take_as(store: &Store, file: &str, decision: Decision) -> Result<Written, Problem> {
    take(
        store,
        file.as_bytes(),
        &Choices::default(),
        decision,
        NOW_MS,
    )
}

fn take_plain(store: &Store, file: &str) -> Result<Written, Problem> {
    take_as(store, file, Decision::default())
}

const LIST: &str =
    "Number,Born,Pen,Arrived\n12,2024-05-01,A1,2025-12-01\n13,2024-06-01,A1,\n14,2024-07-01,A2,\n";

#[test]
fn a_list_brings_boars_pens_tags_and_places_and_twice_changes_nothing() {
    let store = store();
    assert_eq!(
        take_plain(&store, LIST).unwrap(),
        Written {
            boars: 3,
            pens: 2,
            moves: 3,
            changes: 0
        }
    );
    let barn = store.barn().unwrap();
    let pens = barn.pens();
    assert_eq!(
        pens.iter()
            .map(|p| barn.boars_in(p).len())
            .collect::<Vec<_>>(),
        [2, 1]
    );
    let codes: BTreeSet<_> = pens.iter().flat_map(|p| p.codes.clone()).collect();
    assert_eq!(codes.len(), 2, "each new pen has a code of its own");
    let entries = store.standing().unwrap().cursor.n;
    assert_eq!(take_plain(&store, LIST).unwrap(), Written::default());
    assert_eq!(store.standing().unwrap().cursor.n, entries);
}

#[test]
fn a_row_that_cannot_be_taken_keeps_the_whole_list_out_until_somebody_says_otherwise() {
    let store = store();
    let list = "Number,Born\n12,2024-05-01\n13,soon\n";
    let before = store.standing().unwrap().cursor.n;
    assert_eq!(take_plain(&store, list).unwrap_err().status, 422);
    assert_eq!(store.standing().unwrap().cursor.n, before);
    let decision = Decision {
        leave_out: true,
        ..Decision::default()
    };
    let written = take_as(&store, list, decision).unwrap();
    assert_eq!(
        written,
        Written {
            boars: 1,
            ..Written::default()
        }
    );
}

#[test]
fn particulars_are_corrected_only_when_asked() {
    let store = store();
    take_plain(&store, "Number,Line\n12,North\n").unwrap();
    let list = "Number,Line\n12,South\n";
    assert_eq!(take_plain(&store, list).unwrap(), Written::default());
    let decision = Decision {
        overwrite: true,
        ..Decision::default()
    };
    let written = take_as(&store, list, decision).unwrap();
    assert_eq!(
        written,
        Written {
            changes: 1,
            ..Written::default()
        }
    );
    let boar = store.barn().unwrap().boars().pop().unwrap().boar.unwrap();
    assert_eq!(boar.fact.line, Some(Label::parse("South").unwrap()));
    assert!(boar.corrected_by.is_some());
}

#[test]
fn a_preview_shows_what_is_wrong_first_and_tells_why_a_file_does_not_read() {
    let store = store();
    let look = |file: &str| look(&store, file.as_bytes(), &Choices::default(), NOW_MS).unwrap();
    let Preview::Reads { summary, rows, .. } = look("Number,Born\n12,2024-05-01\n13,soon\n") else {
        panic!("it reads")
    };
    assert_eq!((summary.new, summary.refused), (1, 1));
    assert!(matches!(rows[0].fate, Fate::Refused { .. }));
    assert!(matches!(
        look("Weight,Colour\n1,2\n"),
        Preview::Unread {
            why: ImportError::NoNumber { .. },
            ..
        }
    ));
}

#[test]
fn before_the_first_start_there_is_no_farm_for_a_list() {
    let empty = Store::in_memory(Birth {
        now_ms: NOW_MS,
        random: [1; 10],
    })
    .unwrap();
    assert_eq!(take_plain(&empty, LIST).unwrap_err().status, 409);
}
