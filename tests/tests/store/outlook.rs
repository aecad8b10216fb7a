//! What boars are expected to give, fitted on what a store holds.

use super::LATER_MS;
use crate::store_hands::{Dice, START_MS};
use pentally_demo::{Plan, entries};
use pentally_domain::amend::Void;
use pentally_domain::barn::Barn;
use pentally_domain::climate::{carried, days_of, load};
use pentally_domain::envelope::Entry;
use pentally_domain::fact::Fact;
use pentally_domain::output::{History, Looker, Measure, Outlook};
use pentally_domain::time::DAY_MS;
use pentally_server::store::{Home, Store};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Some boars' months, and a store and a barn that hold them.
fn told(many: usize) -> (Vec<Entry>, Store, Barn) {
    let mut dice = Dice::new(8);
    let plan = Plan::new(3, 6, 1, START_MS + 400 * DAY_MS).unwrap();
    let story: Vec<Entry> = entries(plan).map(Result::unwrap).take(many).collect();
    let first = story[0].envelope();
    let home = Home {
        farm: first.farm,
        barn: first.barn,
    };
    let store = Store::in_memory(dice.birth()).unwrap();
    store.adopt(home, dice.birth()).unwrap();
    let lines: Vec<_> = story.iter().map(Entry::to_line).collect();
    store.take_lines(&lines, LATER_MS).unwrap();
    let mut barn = Barn::default();
    for entry in &story {
        barn.apply(entry);
    }
    (story, store, barn)
}

/// The same fit from a barn in memory, whose windows are not full yet.
fn in_memory(barn: &Barn, now_ms: i64) -> Outlook {
    let (zone, days) = (barn.zone_at(now_ms), days_of(barn, now_ms));
    let boars = barn.boars();
    let full = boars.iter().find(|b| !b.collections_whole);
    assert!(full.is_none(), "the windows are full: take fewer entries");
    let herd: BTreeMap<_, _> = boars.iter().map(|b| (b.id, History::of(b))).collect();
    let hot = |day| {
        let load = load(&days, day);
        (load.days_known > 0).then_some(load.hot_days)
    };
    Outlook::fitted(&herd, &zone, &hot, now_ms).unwrap()
}

#[test]
fn a_store_fits_what_a_barn_in_memory_fits() {
    let (story, store, barn) = told(320);
    let now_ms = story.last().unwrap().order().at_ms + DAY_MS;
    assert!(store.outlook().unwrap().is_none(), "nothing was fitted yet");
    let made = store.fit_outlook(now_ms).unwrap();
    assert_eq!(made.n, 320);
    let kept = store.outlook().unwrap().unwrap();
    let own = in_memory(&barn, now_ms);
    for measure in Measure::ALL {
        let (of_store, of_barn) = (&kept.fits[measure.place()], &own.fits[measure.place()]);
        assert_eq!(of_store.n, of_barn.n, "{measure:?}");
        for (a, b) in of_store.beta.iter().zip(&of_barn.beta) {
            assert!((a - b).abs() < 1e-5, "{measure:?}: {a} and {b}");
        }
    }
    assert!(kept.fits[Measure::Volume.place()].n > 15);
    let days = days_of(&barn, now_ms);
    assert!(!days.is_empty(), "somebody read the climate");
    let today = barn.zone_at(now_ms).day(now_ms);
    assert_eq!(kept.heat, carried(&days, today), "all of it is at hand");
}

/// What was taken back does not count in the next fit, and a page shows his ejaculates beside what was
/// expected of each by the fit of before.
#[test]
fn what_was_taken_back_is_not_fitted_and_what_came_later_is_shown_at_once() {
    let (story, store, mut barn) = told(700);
    let now_ms = story.last().unwrap().order().at_ms + DAY_MS;
    store.fit_outlook(now_ms).unwrap();
    let before = store.outlook().unwrap().unwrap();
    let counted = |outlook: &Outlook| outlook.fits[Measure::Volume.place()].n;
    let collection = story.iter().rev().find_map(|entry| {
        let fact = Fact::of(entry.envelope()).ok()??;
        matches!(&fact, Fact::Collection(c) if c.volume().is_some()).then(|| (entry.order(), fact))
    });
    let (order, fact) = collection.unwrap();
    let boar = match &fact {
        Fact::Collection(c) => c.boar,
        other => panic!("{other:?}"),
    };
    barn.put_outlook(Arc::clone(&before));
    let looker = Looker::of(&barn, now_ms);
    let look = looker.look(&barn.boar(boar).unwrap()).unwrap();
    let last = look.besides.last().unwrap();
    let [low, high] = last.expected[0]
        .interval()
        .map(|v| Measure::Volume.from_scale(v));
    assert!(
        low > 20.0 && low < high && high < 900.0,
        "{low} to {high} mL"
    );
    let mut phone =
        crate::store_hands::Phone::new(store.standing().unwrap().home.unwrap(), &mut Dice::new(4));
    phone.write_at(
        &Fact::Void(Void::of(order, &fact)),
        now_ms,
        &mut Dice::new(5),
    );
    let lines: Vec<_> = phone.entries.iter().map(Entry::to_line).collect();
    store.take_lines(&lines, now_ms).unwrap();
    store.fit_outlook(now_ms + 1).unwrap();
    let after = store.outlook().unwrap().unwrap();
    assert_eq!(counted(&after) + 1, counted(&before));
    assert_eq!(
        after.made_at_ms,
        Some(now_ms + 1),
        "the kept fit is read anew"
    );
}
