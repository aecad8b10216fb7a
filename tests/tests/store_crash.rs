//! Power cuts at any operation of the disk: what was acknowledged is there, once, and the views
//! agree with the log. The last story shows that the test would notice a flush left out.

#[path = "store_hands/disk.rs"]
mod disk;
mod store_hands;

use disk::{Disk, LeftOut};
use pentally_domain::envelope::Entry;
use pentally_domain::sync::Fate;
use pentally_domain::time::DAY_MS;
use pentally_server::store::{Store, StoreError};
use std::panic::{AssertUnwindSafe, catch_unwind};
use store_hands::{Dice, START_MS, begin, story};

const LATER_MS: i64 = START_MS + 90 * DAY_MS;

/// Works until the disk fails at a random operation, cuts the power, opens again and looks.
/// Returns how many entries had been acknowledged, or what was wrong.
fn one_cut(seed: u64, flushes: LeftOut) -> Result<usize, String> {
    let dice = &mut Dice::new(seed);
    let disk = Disk::new(flushes);
    let store = Store::on_backend(disk.clone(), dice.birth()).map_err(|e| e.to_string())?;
    let home = begin(&store, dice);
    let phones = story(home, 60, dice);
    let mut all: Vec<Entry> = phones.iter().flat_map(|p| p.entries.clone()).collect();
    dice.shuffle(&mut all);
    disk.fail_at(disk.operations() + 1 + dice.below(1_500));

    let mut acknowledged = vec![];
    for some in all.chunks(5) {
        match store.push(&phones[0].push(some), LATER_MS) {
            Ok(receipt) => {
                assert!(receipt.fates.iter().all(|fate| *fate == Fate::Stored));
                acknowledged.extend_from_slice(some);
            }
            Err(StoreError::Full | StoreError::Closed) => break,
            Err(other) => return Err(other.to_string()),
        }
    }
    let after = disk.cut(|| [0.0, 1.0, 0.5][usize::try_from(dice.below(3)).unwrap()]);
    drop(store);
    let opened = catch_unwind(AssertUnwindSafe(|| Store::on_backend(after, dice.birth())));
    let store = opened
        .map_err(|_| "redb gave up".to_owned())?
        .map_err(|e| e.to_string())?;
    let there = store.log(0, 10_000).map_err(|e| e.to_string())?;
    for entry in &acknowledged {
        if there.iter().filter(|(_, e)| e == entry).count() != 1 {
            return Err(format!(
                "acknowledged entry {} is not there once",
                entry.envelope().id
            ));
        }
    }
    store.check().map_err(|e| e.to_string())?;
    // The phone sends again all it holds: nothing twice, nothing missing.
    store
        .push(&phones[0].push(&all), LATER_MS)
        .map_err(|e| e.to_string())?;
    if store.standing().map_err(|e| e.to_string())?.cursor.n != all.len() as u64 + 1 {
        return Err("after sending all again the log has another length".to_owned());
    }
    store.check().map_err(|e| e.to_string())?;
    Ok(acknowledged.len())
}

#[test]
fn a_power_cut_loses_nothing_that_was_acknowledged() {
    let mut acknowledged = vec![];
    for seed in 1..=60 {
        acknowledged
            .push(one_cut(seed, LeftOut::None).unwrap_or_else(|why| panic!("seed {seed}: {why}")));
    }
    // The cuts fell before, amid and after the pushes.
    assert!(
        acknowledged.iter().any(|n| *n < 20) && acknowledged.iter().any(|n| *n > 40),
        "{acknowledged:?}"
    );
}

#[test]
fn without_flushes_the_same_story_turns_red() {
    // What was never flushed may read as anything; the library under the store stops at some of it.
    let fails =
        |seed| catch_unwind(|| one_cut(seed, LeftOut::All)).map_or(true, |cut| cut.is_err());
    let red = (1..=20).filter(|seed| fails(*seed)).count();
    assert!(red > 10, "{red} of 20 noticed");
}

/// What a power cut left of a few pushes.
struct Left {
    acknowledged: Vec<Entry>,
    /// How many flushes there had been after each push.
    flushes: Vec<u64>,
    /// The disk as it reads again.
    disk: Disk,
}

/// Two entries a push onto a disk, until it fails or has flushed so often; then the power goes, and
/// of what waits for a flush nothing or only the last write survives.
fn cut_amid(disk: &Disk, most: u64, the_last_survives: bool) -> Left {
    let dice = &mut Dice::new(7);
    let store = Store::on_backend(disk.clone(), dice.birth()).unwrap();
    let home = begin(&store, dice);
    let phones = story(home, 60, dice);
    let (mut acknowledged, mut flushes) = (vec![], vec![]);
    for some in phones[0].entries.chunks(2) {
        if disk.flushes() >= most || store.push(&phones[0].push(some), LATER_MS).is_err() {
            break;
        }
        acknowledged.extend_from_slice(some);
        flushes.push(disk.flushes());
    }
    let mut waiting = disk.pending();
    let disk = disk.cut(|| {
        waiting -= 1;
        f64::from(u8::from(the_last_survives && waiting == 0))
    });
    Left {
        acknowledged,
        flushes,
        disk,
    }
}

/// Whether the store opens on what the power cut left, with all that was acknowledged.
fn holds(left: Left) -> bool {
    let look = || {
        let store = Store::on_backend(left.disk, Dice::new(8).birth()).ok()?;
        let there = store.log(0, 10_000).ok()?;
        let there = |entry| there.iter().any(|(_, e)| e == entry);
        (left.acknowledged.iter().all(there) && store.check().is_ok()).then_some(())
    };
    // What was never flushed may read as anything; the library under the store stops at some of it.
    matches!(catch_unwind(AssertUnwindSafe(look)), Ok(Some(())))
}

/// A commit flushes twice: what it wrote, then that it holds. Without the second the power may go
/// with all that was acknowledged; without the first it may leave the word and not what it speaks of.
#[test]
fn either_flush_of_a_commit_left_out_is_noticed() {
    let whole = cut_amid(&Disk::new(LeftOut::None), u64::MAX, false);
    let commits = whole.flushes.clone();
    assert!(commits.len() > 10, "{commits:?}");
    assert!(holds(whole));
    for second in commits {
        let lost = cut_amid(&Disk::new(LeftOut::One(second)), second, false);
        assert!(!holds(lost), "flush {second} was not missed");
        let first = second - 1;
        let torn = cut_amid(&Disk::new(LeftOut::OneThenCut(first)), u64::MAX, true);
        assert!(!holds(torn), "flush {first} was not missed");
    }
}

/// A full disk says so in words and writes nothing; what was there before is still there.
#[test]
fn a_full_disk_writes_nothing() {
    let dice = &mut Dice::new(3);
    let disk = Disk::new(LeftOut::None);
    let store = Store::on_backend(disk.clone(), dice.birth()).unwrap();
    let home = begin(&store, dice);
    let phone = story(home, 40, dice).swap_remove(0);
    let before = store.standing().unwrap();
    disk.fail_at(disk.operations() + 2);
    let told = store
        .push(&phone.push(&phone.entries), LATER_MS)
        .unwrap_err();
    assert!(matches!(told, StoreError::Full), "{told}");
    assert!(
        told.retry_helps() && told.to_string().contains("the disk is full"),
        "{told}"
    );
    let store = Store::on_backend(disk.cut(|| 1.0), dice.birth()).unwrap();
    assert_eq!(store.standing().unwrap(), before);
}
