//! How long a page looks at a herd: `cargo run --release -p pentally-demo --example looking [boars] [years]`.
//!
//! Milliseconds of one pass each over the invented barn, beside a fit of what its ledgers hold.

use pentally_demo::{Plan, entries};
use pentally_domain::barn::Barn;
use pentally_domain::output::{History, Looker, Outlook};
use pentally_domain::today::{due_today, today};
use std::collections::BTreeMap;
use std::hint::black_box;
use std::sync::Arc;
use std::time::Instant;

const UNTIL_MS: i64 = 1_781_684_400_000;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut words = std::env::args()
        .skip(1)
        .filter_map(|word| word.parse().ok());
    let (boars, years) = (words.next().unwrap_or(250), words.next().unwrap_or(2));
    let mut barn = Barn::default();
    for entry in entries(Plan::new(1, boars, years, UNTIL_MS)?) {
        barn.apply(&entry?);
    }
    let herd: BTreeMap<_, _> = barn
        .boars()
        .iter()
        .map(|b| (b.id, History::of(b)))
        .collect();
    let outlook = Outlook::fitted(&herd, &barn.zone_at(UNTIL_MS), &|_| None, UNTIL_MS)?;
    barn.put_outlook(Arc::new(outlook));
    println!("{} boars", herd.len());
    say("reading the boars", || barn.boars().len());
    say("today's standings", || today(&barn, UNTIL_MS).may.len());
    say("the looker", || Looker::of(&barn, UNTIL_MS).days().len());
    let looker = Looker::of(&barn, UNTIL_MS);
    say("all looks", || {
        let looks = barn
            .boars()
            .into_iter()
            .filter_map(|b| looker.look(&b).ok());
        looks.count()
    });
    say("all recoveries", || looker.recoveries(&barn).len());
    let own = looker.recoveries(&barn);
    say("who is due", || due_today(&barn, &own, UNTIL_MS).late.len());
    Ok(())
}

fn say(what: &str, pass: impl Fn() -> usize) {
    let mut best = f64::INFINITY;
    let mut found = 0;
    for _ in 0..5 {
        let began = Instant::now();
        found = black_box(pass());
        best = best.min(began.elapsed().as_secs_f64());
    }
    println!("{what:20} {:8.1} ms ({found})", best * 1000.0);
}
