//! How long a fit takes, how long one more collection, and how much a phone is sent.

use crate::barn::{Invented, Plan, Rests, start_ms};
use crate::dice::Dice;
use crate::judge::Judge;
use crate::written::WINDOW;
use pentally_domain::output::Outlook;
use pentally_domain::time::Zone;
use std::collections::BTreeMap;
use std::time::{Duration, Instant};

const FIVE_YEARS: i64 = 1_826;
/// One more collection is to be taken in within this.
const AT_ONCE: Duration = Duration::from_millis(5);

pub fn run(dice: &mut Dice, judge: &mut Judge) {
    println!("\n6. speed and size");
    for boars in [24, 500] {
        let plan = Plan {
            rests: Rests::Any,
            hot: true,
            turnover: false,
            ..Plan::in_order(boars, FIVE_YEARS)
        };
        let barn = Invented::make(&mut dice.split(), plan, &|_| None);
        let herd: BTreeMap<_, _> = (barn.boars.iter())
            .map(|b| (b.id, b.history(FIVE_YEARS)))
            .collect();
        let rows: usize = barn.boars.iter().map(|b| b.cups.len()).sum();
        let begun = Instant::now();
        let outlook =
            Outlook::fitted(&herd, &Zone::default(), &barn.hot(), start_ms(FIVE_YEARS)).unwrap();
        println!(
            "    fit of {boars} boars × 5 years, {rows} ejaculates: {:?}",
            begun.elapsed()
        );
        let [whole, rounded] =
            [&outlook, &outlook.rounded()].map(|o| serde_json::to_vec(o).unwrap().len());
        println!("    as JSON: {whole} bytes, rounded {rounded}");
        one_more(&barn, &outlook, judge);
    }
}

/// A boar's page on a phone: 24 collections, the last of them after the fit.
fn one_more(barn: &Invented, outlook: &Outlook, judge: &mut Judge) {
    let mut times = vec![];
    for boar in barn.boars.iter().cycle().take(200) {
        let mut given = boar.history(i64::MAX).given(&Zone::default(), barn.hot());
        given.drain(..given.len() - WINDOW);
        given[WINDOW - 1].at_ms = start_ms(FIVE_YEARS + 1);
        let begun = Instant::now();
        let (besides, _) = outlook.beside(boar.id, given).unwrap();
        times.push(begun.elapsed());
        assert_eq!(besides.len(), WINDOW);
    }
    times.sort_unstable();
    let [median, most] = [times[times.len() / 2], times[times.len() - 1]];
    let what = format!(
        "one more collection beside 23 others: {median:?} median, {most:?} at most ({AT_ONCE:?})"
    );
    judge.see(true, median <= AT_ONCE, &what);
}
