//! How fast a story is told: `cargo run --release -p pentally-demo --example rate [boars] [years]`.

use pentally_demo::{Plan, entries};
use std::collections::BTreeMap;
use std::time::Instant;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut words = std::env::args()
        .skip(1)
        .filter_map(|word| word.parse().ok());
    let (boars, years) = (words.next().unwrap_or(400), words.next().unwrap_or(8));
    let plan = Plan::new(1, boars, years, 1_781_684_400_000)?;
    let mut kinds: BTreeMap<String, u64> = BTreeMap::new();
    let (began, mut count, mut bytes) = (Instant::now(), 0_u64, 0);
    for entry in entries(plan) {
        let entry = entry?;
        count += 1;
        bytes += entry.to_bytes().len();
        *kinds.entry(entry.envelope().kind.clone()).or_default() += 1;
    }
    let seconds = began.elapsed().as_secs_f64();
    println!(
        "{count} entries, {bytes} bytes in {seconds:.2} s: {:.0} a second",
        count as f64 / seconds
    );
    kinds.iter().for_each(|(kind, n)| println!("{kind:16} {n}"));
    Ok(())
}
