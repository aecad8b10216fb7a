//! Histories of at least five devices and a network that misbehaves: nothing that was said to be
//! saved is lost, nothing is there twice, queues drain, and all folds agree. Planted mistakes are
//! caught.
//!
//! `PENTALLY_HISTORIES` sets how many histories are played, `PENTALLY_SEED` plays one.

#[path = "ledger/naive.rs"]
mod naive;
#[path = "../src/sim/mod.rs"]
mod sim;

use sim::{Broken, Bug, Fault, history};
use std::collections::BTreeMap;

/// Seeds that once failed; they are played first.
const ONCE_FAILED: &[u64] = &[];

fn number(name: &str) -> Option<u64> {
    std::env::var(name).ok()?.parse().ok()
}

#[test]
fn nothing_is_lost_nothing_is_twice_and_all_agree() {
    let seeds: Vec<u64> = match number("PENTALLY_SEED") {
        Some(seed) => vec![seed],
        None => ONCE_FAILED
            .iter()
            .copied()
            .chain(1..=number("PENTALLY_HISTORIES").unwrap_or(200))
            .collect(),
    };
    let mut faults: BTreeMap<Fault, u64> = BTreeMap::new();
    let (mut broken, mut entries, mut excused) = (vec![], vec![], 0);
    for seed in &seeds {
        match history(*seed, None) {
            Ok(report) => {
                assert!(
                    report.devices >= 5,
                    "seed {seed}: {} devices",
                    report.devices
                );
                entries.push(report.entries);
                excused += report.excused;
                report
                    .faults
                    .iter()
                    .for_each(|(fault, n)| *faults.entry(*fault).or_default() += n);
            }
            Err(why) => broken.push((seed, why)),
        }
    }
    println!(
        "{} histories, {} entries, {excused} lost with the only phone that had them",
        seeds.len(),
        entries.iter().sum::<usize>()
    );
    faults
        .iter()
        .for_each(|(fault, n)| println!("{n:7} {fault:?}"));
    assert!(
        broken.is_empty(),
        "play one again with PENTALLY_SEED: {broken:?}"
    );
    if seeds.len() >= 50 {
        let never: Vec<_> = Fault::ALL
            .iter()
            .filter(|fault| !faults.contains_key(fault))
            .collect();
        assert!(never.is_empty(), "never happened: {never:?}");
        let short = entries.iter().filter(|n| **n < 200).count();
        assert!(
            short * 10 < entries.len(),
            "{short} histories have fewer than 200 entries"
        );
    }
}

#[test]
fn every_planted_mistake_is_caught() {
    for bug in Bug::ALL {
        let caught: Vec<(u64, Broken)> = (1..=30)
            .filter_map(|seed| Some((seed, history(seed, Some(bug)).err()?)))
            .take(1)
            .collect();
        println!("{bug:?}: {caught:?}");
        assert!(
            !caught.is_empty(),
            "{bug:?} was not noticed in 30 histories"
        );
    }
}
