//! What a barn works out, and the order in which numbers stand.

use super::by_number;
use super::written::Written;
use crate::fact::{Fact, Subject};
use crate::farm::{Farm, SameAs};
use crate::id::EntryId;
use crate::json;
use crate::said::Label;
use crate::time::{DAY_MS, Zone};

const AT_MS: i64 = 1_772_431_200_000;

fn farm_in(zone: Zone) -> Fact {
    Fact::Farm(Farm {
        name: Label::parse("Hill").unwrap(),
        zone,
        origin: None,
        invented: false,
    })
}

#[test]
fn what_was_worked_out_before_an_entry_is_worked_out_anew_after_it() {
    let mut on = Written::new();
    assert_eq!(on.barn.zone_at(AT_MS), Zone::default());
    on.say(&farm_in(Zone::fixed("East", 60)), AT_MS);
    assert_eq!(on.barn.zone_at(AT_MS), Zone::fixed("East", 60));
    let boars = ["7", "8"].map(|number| {
        let boar = json::read(&format!(r#"{{"number":"{number}"}}"#)).unwrap();
        on.say(&Fact::Boar(boar), AT_MS).id
    });
    assert_eq!(on.barn.boars().len(), 2);
    let [keep, other]: [EntryId; 2] = boars;
    on.say(&Fact::SameAs(SameAs { keep, other }), AT_MS);
    assert_eq!(on.barn.boars().len(), 1);
    assert_eq!(on.barn.boar(other.as_boar()).unwrap().id, keep.as_boar());
    on.say(&farm_in(Zone::fixed("West", -60)), AT_MS + DAY_MS);
    assert_eq!(on.barn.zone_at(AT_MS), Zone::fixed("East", 60));
    assert_eq!(on.barn.zone_at(AT_MS + DAY_MS), Zone::fixed("West", -60));
    let of_whom = |subject: Subject| subject != Subject::Boar(keep.as_boar());
    let other = on.barn.clone().of_those(of_whom).boar(other.as_boar());
    assert_eq!(other.unwrap().id, keep.as_boar());
    let nobody = on.barn.of_those(|subject| subject != Subject::Farm);
    assert_eq!(nobody.zone_at(AT_MS), Zone::default());
}

#[test]
fn numbers_stand_in_the_order_people_count() {
    let mut list = ["A10", "B2", "10", "A2", "9", "", "A", "A2b", "Öl 3"];
    list.sort_by_key(|n| by_number(n));
    assert_eq!(list, ["", "9", "10", "A", "A2", "A2b", "A10", "B2", "Öl 3"]);
}
