//! What a story must be, whatever its seed.

use crate::{Plan, Told, entries, tell};
use pentally_domain::barn::Barn;
use pentally_domain::batch::SemenBatch;
use pentally_domain::collection::Glove;
use pentally_domain::envelope::{Entry, Hash};
use pentally_domain::fact::{Fact, Kind};
use pentally_domain::id::{DeviceId, EntryId};
use pentally_domain::output::{History, Looker, Outlook};
use pentally_domain::reckon::answer;
use pentally_domain::rest::{Answer, standing};
use pentally_domain::sow::{By, Service};
use pentally_domain::time::{DAY_MS, HOUR_MS};
use pentally_domain::today::{InUse, due_today, may_by_rhythm, today};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// 2026-06-17 10:20 in Madrid, a Wednesday.
const NOW_MS: i64 = 1_781_684_400_000;

fn story(seed: u64, boars: u32, years: u32) -> Vec<Entry> {
    entries(Plan::new(seed, boars, years, NOW_MS).unwrap())
        .map(Result::unwrap)
        .collect()
}

fn facts(entries: &[Entry]) -> Vec<(&Entry, Fact)> {
    let read = entries
        .iter()
        .filter_map(|e| Some((e, Fact::of(e.envelope()).expect("every body reads")?)));
    read.collect()
}

fn count(facts: &[(&Entry, Fact)], kind: Kind) -> usize {
    facts.iter().filter(|(_, f)| f.kind() == kind).count()
}

#[test]
fn the_same_plan_tells_the_same_and_another_seed_another() {
    assert_eq!(story(3, 5, 1), story(3, 5, 1));
    assert_ne!(story(3, 5, 1)[0].hash(), story(4, 5, 1)[0].hash());
}

#[test]
fn each_device_tells_a_thread_without_a_gap() {
    for (boars, years) in [(1, 1), (24, 2), (310, 1)] {
        let mut threads: BTreeMap<DeviceId, (u64, Hash)> = BTreeMap::new();
        for entry in story(1, boars, years) {
            let e = entry.envelope();
            let (seq, prev) = threads.entry(e.device).or_insert((0, Hash::NONE));
            assert_eq!((e.seq, e.prev), (*seq + 1, *prev));
            (*seq, *prev) = (e.seq, entry.hash());
        }
        let phones = 2 + usize::try_from(boars / 150).unwrap();
        assert_eq!(threads.len(), 2 + phones);
    }
}

#[test]
fn nothing_is_told_from_after_the_end() {
    let all = story(1, 24, 2);
    assert!(all.iter().all(|e| e.envelope().recorded_at.ms() <= NOW_MS));
    let last_day = all
        .iter()
        .filter(|e| e.envelope().recorded_at.ms() > NOW_MS - 6 * HOUR_MS)
        .count();
    assert!(
        last_day > 3,
        "work goes on while somebody looks: {last_day}"
    );
}

#[test]
fn nearly_in_the_order_of_time_but_for_the_phone_that_was_away() {
    let all = story(1, 24, 2);
    let late = all
        .windows(2)
        .filter(|w| w[1].envelope().recorded_at.ms() < w[0].envelope().recorded_at.ms())
        .count();
    assert!(late > 0 && late * 50 < all.len(), "{late} of {}", all.len());
}

#[test]
fn everything_that_can_go_wrong_in_a_barn_went_wrong() {
    let all = story(1, 24, 2);
    let facts = facts(&all);
    // Nobody answers a signal before the office has fitted what is expected.
    let untold = [Kind::SameAs, Kind::SignalAnswer];
    for kind in Kind::ALL {
        if !untold.contains(kind) {
            assert!(count(&facts, *kind) > 0, "{}", kind.name());
        }
    }
    let unknown = all
        .iter()
        .filter(|e| Kind::named(&e.envelope().kind).is_none())
        .count();
    assert!(unknown > 0, "a newer version wrote something");
    let latex = facts.iter().filter(
        |(_, f)| matches!(f, Fact::Collection(c) if c.glove.value() == Some(&Glove::Latex)),
    );
    assert!(latex.count() >= 1);
    let wrong_clock = all
        .iter()
        .filter(|e| e.envelope().clock.ms - e.envelope().recorded_at.ms() > 300 * DAY_MS);
    assert!(wrong_clock.count() >= 1, "a phone whose clock restarted");
    let undone = facts
        .iter()
        .filter(|(_, f)| matches!(f, Fact::Void(v) if v.target.amendment.is_some()));
    assert!(undone.count() >= 1, "an undo that was undone");
}

#[test]
fn figures_lie_in_the_printed_ranges_and_sag_after_the_heat() {
    let all = story(2, 60, 3);
    let facts = facts(&all);
    let volumes: Vec<f64> = facts
        .iter()
        .filter_map(|(_, f)| {
            if let Fact::Collection(c) = f {
                c.volume().map(|v| v.value())
            } else {
                None
            }
        })
        .collect();
    let mean = volumes.iter().sum::<f64>() / volumes.len() as f64;
    assert!(
        (150.0..260.0).contains(&mean),
        "usual in practice about 200 mL: {mean}"
    );
    let mut by_month: BTreeMap<i64, Vec<f64>> = BTreeMap::new();
    for (entry, fact) in &facts {
        if let Fact::Evaluation(e) = fact
            && let Some(motile) = e.motile
        {
            let month = entry.envelope().recorded_at.to_string()[5..7]
                .parse()
                .unwrap();
            by_month
                .entry(month)
                .or_default()
                .push(motile.percent.value());
        }
    }
    let mean = |month| by_month[&month].iter().sum::<f64>() / by_month[&month].len() as f64;
    assert!((80.0..90.0).contains(&mean(3)), "March: {}", mean(3));
    assert!(
        mean(8) < mean(3) - 4.0,
        "August: {} March: {}",
        mean(8),
        mean(3)
    );
}

#[test]
fn today_has_boars_who_may_and_boars_who_rest() {
    let mut barn = Barn::default();
    for told in tell(Plan::modest(NOW_MS).unwrap()) {
        let Told { entry, beside } = told.unwrap();
        barn.apply(&entry);
        beside.into_iter().for_each(|b| barn.put_beside(b));
    }
    let zone = barn.zone_at(NOW_MS);
    let answers: Vec<_> = barn
        .boars()
        .iter()
        .map(|b| standing(b, &barn.standard().standard, &zone, NOW_MS).answer)
        .collect();
    let here = answers.iter().filter(|a| **a != Answer::Gone).count();
    assert!(
        (27..=30).contains(&here),
        "{here} boars stand here, those in isolation and in training included"
    );
    assert!(answers.contains(&Answer::Yes), "{answers:?}");
    assert!(
        answers
            .iter()
            .filter(|a| matches!(a, Answer::Rests(_)))
            .count()
            > 6,
        "{answers:?}"
    );
    let unknown = answers
        .iter()
        .filter(|a| matches!(a, Answer::Unknown(_)))
        .count();
    assert!(unknown * 5 < here, "{answers:?}");
    assert_eq!(barn.people().len(), 5);
    assert!(barn.people().iter().all(|(_, name)| name.is_some()));
    assert!(barn.farm().unwrap().fact.invented);
    let waits = pentally_domain::today::waiting(&barn, NOW_MS);
    assert!(!waits.is_empty(), "the bench has something to do");
    let codes: BTreeSet<_> = barn.pens().into_iter().flat_map(|p| p.codes).collect();
    assert_eq!(codes.len(), 26, "each pen has a tag of its own");
}

/// What the filling table made and the sows got.
#[test]
fn what_is_fit_becomes_doses_and_the_sows_get_them() {
    for (seed, boars) in [(1, 24), (5, 70)] {
        let all = story(seed, boars, 1);
        let mut made: BTreeMap<EntryId, (SemenBatch, i64)> = BTreeMap::new();
        let (mut collections, mut uses) = (BTreeMap::new(), BTreeMap::<EntryId, u32>::new());
        for (entry, fact) in facts(&all) {
            let (id, at_ms) = (entry.envelope().id, entry.envelope().occurred_at.ms());
            match fact {
                Fact::Collection(c) => drop(collections.insert(id, c)),
                Fact::SemenBatch(b) => drop(made.insert(id, (b, at_ms))),
                Fact::Service(Service {
                    by:
                        By::Doses {
                            batch,
                            boars,
                            doses,
                            ..
                        },
                    ..
                }) => {
                    let (of, _) = &made[&batch];
                    *uses.entry(batch).or_default() += u32::from(doses);
                    assert!(uses[&batch] <= of.doses.into(), "no dose is used twice");
                    assert!(boars.iter().eq(of.sources.iter().map(|s| &s.boar)));
                }
                _ => {}
            }
        }
        assert!(uses.len() > 40, "{} batches were used", uses.len());
        let codes: BTreeSet<_> = made.values().map(|(b, _)| b.code).collect();
        assert_eq!(codes.len(), made.len(), "each batch has a code of its own");
        for (batch, _) in made.values() {
            assert_eq!(
                answer(&batch.reckoning, batch.asked.as_bytes()).unwrap(),
                batch.answered
            );
            for source in &batch.sources {
                let of = &collections[&source.collection];
                assert!(!of.forbids_use(), "latex or blood went into {}", batch.code);
                assert_eq!(source.evaluation.is_some(), batch.counted);
            }
        }
        let pooled = made.values().filter(|(b, _)| b.sources.len() > 1);
        let uncounted = made.values().filter(|(b, _)| !b.counted).count();
        assert!(pooled.count() > 20 && uncounted > 0);
    }
}

/// The same arithmetic by hand: volume × concentration × motile, ejaculate by ejaculate, then summed.
#[test]
fn doses_of_the_story_follow_from_what_was_measured() {
    let all = story(9, 24, 1);
    let mut checked = 0;
    for (_, fact) in facts(&all) {
        let Fact::SemenBatch(batch) = fact else {
            continue;
        };
        let asked: serde_json::Value = serde_json::from_str(&batch.asked).unwrap();
        if !batch.counted {
            continue;
        }
        let of = |e: &serde_json::Value, name: &str| e[name].as_f64().unwrap();
        let usable: f64 = asked["ejaculates"]
            .as_array()
            .unwrap()
            .iter()
            .map(|e| {
                of(e, "volume_ml") * of(e, "concentration_m_per_ml") * of(e, "motile_percent")
                    / 100.0
            })
            .sum();
        let usual = if asked["technique"] == "post_cervical" {
            1.5
        } else {
            3.0
        };
        let target = asked["target_billions"].as_f64().unwrap_or(usual) * 1000.0;
        assert_eq!(
            f64::from(batch.doses),
            (usable / target + 1e-9).floor(),
            "{}",
            batch.code
        );
        checked += 1;
    }
    assert!(checked > 300, "{checked}");
}

#[test]
fn a_plan_out_of_bounds_says_so() {
    let error = Plan::new(1, 0, 1, NOW_MS).unwrap_err().to_string();
    assert_eq!(error, "boars is 0; it must be from 1 to 2000");
    assert!(Plan::new(1, 1, 31, NOW_MS).is_err() && Plan::new(1, 1, 1, 0).is_err());
}

#[test]
fn the_young_are_trained_before_they_are_collected() {
    use pentally_domain::training::group::order;
    use pentally_domain::training::state::{State, progress};
    let mut barn = Barn::default();
    for entry in story(1, 60, 2) {
        barn.apply(&entry);
    }
    let (zone, standard) = (barn.zone_at(NOW_MS), barn.standard().standard);
    let mut learnt = 0;
    for boar in barn.boars() {
        let progress = progress(&boar, &standard, &zone, NOW_MS);
        let rising = progress.sessions.len() >= 4;
        if rising && progress.state == State::Regular {
            learnt += 1;
        }
    }
    assert!(learnt >= 5, "{learnt}");
    let pupils = order(&barn, NOW_MS);
    let due = pupils.iter().filter(|p| p.is_due());
    assert!(
        due.count() >= 3,
        "somebody is trained on the day people look"
    );
}

/// The heat that harms the semen of the story is the heat that was read in the room.
#[test]
fn hot_days_read_as_hot_and_the_others_do_not() {
    use pentally_domain::climate::{Climate, days};
    use pentally_domain::farm::Standard;
    for seed in [1, 2, 3] {
        let plan = Plan::new(seed, 5, 2, NOW_MS).unwrap();
        let told = tell(plan);
        let (weather, zone) = (told.weather.clone(), told.devices.zone().clone());
        let entries: Vec<Entry> = told.map(|t| t.unwrap().entry).collect();
        let read = facts(&entries)
            .into_iter()
            .filter_map(|(entry, fact)| match fact {
                Fact::Climate(climate) => Some((entry.order(), climate)),
                _ => None,
            });
        let read: Vec<(_, Climate)> = read.collect();
        assert!((400..560).contains(&read.len()), "{} entries", read.len());
        let of_all = read.iter().map(|(order, climate)| (*order, climate));
        let days = days(of_all, &Standard::default(), &zone);
        let hot = days.iter().filter(|d| d.hot == Some(1.0)).count();
        assert!(hot >= 12, "{hot}");
        for day in &days {
            let is_hot = f64::from(u8::from(weather.is_hot(day.day)));
            assert_eq!(day.hot, Some(is_hot), "{}", day.day);
        }
    }
}

/// Today counts signals by a short way, and the watch lists them by the long one; so are the groups.
#[test]
fn what_today_counts_is_what_the_watch_lists() {
    let all = story(2, 30, 2);
    let (mut early, mut barn) = (Barn::default(), Barn::default());
    for entry in &all {
        if entry.envelope().occurred_at.ms() < NOW_MS - 20 * DAY_MS {
            early.apply(entry);
        }
        barn.apply(entry);
    }
    let herd: BTreeMap<_, _> = early
        .boars()
        .iter()
        .map(|b| (b.id, History::of(b)))
        .collect();
    let zone = barn.zone_at(NOW_MS);
    let made_at_ms = NOW_MS - 20 * DAY_MS;
    let outlook = Outlook::fitted(&herd, &zone, &|_| None, made_at_ms).unwrap();
    barn.put_outlook(Arc::new(outlook));
    let looker = Looker::of(&barn, NOW_MS);
    let mut open = 0;
    for boar in barn.boars() {
        let told = looker.told(&boar, &looker.look(&boar).unwrap());
        let told = told.iter().filter(|t| t.answer.is_none()).count();
        assert_eq!(looker.unanswered(&boar), told, "{}", boar.number());
        open += told;
    }
    assert!(open > 0, "a story without a signal tests nothing");
    let own = looker.recoveries(&barn);
    let due = due_today(&barn, &own, NOW_MS);
    let day = today(&barn, NOW_MS);
    let (short, _) = may_by_rhythm(&barn, day.may, |b| own.get(&b.id).copied(), NOW_MS);
    assert!(short.rest.is_empty());
    let numbers = |groups: &[InUse]| groups.iter().map(|b| b.boar.id).collect::<BTreeSet<_>>();
    for (short, long) in [
        (&short.late, &due.late),
        (&short.due, &due.due),
        (&short.idle, &due.idle),
        (&short.early, &due.early),
    ] {
        assert_eq!(numbers(short), numbers(long));
    }
    assert!(!short.late.is_empty() || !short.idle.is_empty() || !short.early.is_empty());
}
