//! SIGKILL to the office, the phone or both, at moments nobody chose, while things are being saved.
//!
//! `PENTALLY_KILLS` sets how many rounds, `PENTALLY_SEED` which moments.

use pentally_tests::browser::hands::{all_sent, begin, open_pens, pens, send_now};
use pentally_tests::browser::{Office, Phone};
use std::collections::BTreeMap;
use std::time::Duration;

const ROUNDS: u64 = 10;

fn number(name: &str, usual: u64) -> u64 {
    std::env::var(name).map_or(usual, |text| {
        text.parse().expect("the variable is a whole number")
    })
}

/// Chance that repeats itself (xorshift64*).
struct Chance(u64);

impl Chance {
    fn below(&mut self, n: u64) -> u64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        (self.0.wrapping_mul(0x2545_F491_4F6C_DD1D) >> 11) % n
    }
}

#[tokio::test]
async fn what_was_said_to_be_saved_is_at_the_office_once_whoever_was_killed() {
    let mut chance = Chance(number("PENTALLY_SEED", 11) | 1);
    let mut office = Office::open();
    let mut phone = Phone::new(&office).await;
    let mut page = phone.open("/").await;
    page.kept_for_offline().await;
    begin(&page).await;
    page = open_pens(&phone).await;
    let (mut saved, mut killed) = (vec![], BTreeMap::<&str, u32>::new());
    for round in 0..number("PENTALLY_KILLS", ROUNDS) {
        let name = format!("Gate {round}");
        let script = format!(
            "(async () => {{
                const line = document.querySelector('input');
                line.value = {name:?};
                line.dispatchEvent(new Event('input', {{ bubbles: true }}));
                document.querySelector('.actions button').click();
                while (line.value) await new Promise(again => setTimeout(again, 1));
                return true;
            }})()"
        );
        let moment = Duration::from_millis(chance.below(300));
        tokio::select! {
            said = page.eval::<bool>(&script) => {
                assert!(said);
                saved.push(name);
                // The rest of the moment falls into sending and storing.
                tokio::time::sleep(Duration::from_millis(chance.below(200))).await;
            }
            () = tokio::time::sleep(moment) => {}
        }
        let (kills_office, kills_phone) = [(true, false), (false, true), (true, true)]
            [usize::try_from(chance.below(3)).expect("a small number")];
        if kills_office {
            office.kill();
            *killed.entry("office").or_default() += 1;
            office.start();
        }
        if kills_phone {
            phone.kill();
            *killed.entry("phone").or_default() += 1;
            phone.restart().await;
            page = open_pens(&phone).await;
        }
    }
    send_now(&page).await;
    all_sent(&page).await;
    let mut counts = BTreeMap::<String, u32>::new();
    for name in pens(&office) {
        *counts.entry(name).or_default() += 1;
    }
    println!(
        "{killed:?} killed; {} of {} said to be saved",
        saved.len(),
        counts.len()
    );
    let missing: Vec<_> = saved
        .iter()
        .filter(|name| counts.get(*name) != Some(&1))
        .collect();
    assert!(missing.is_empty(), "{missing:?} of {saved:?}");
    assert!(counts.values().all(|count| *count == 1), "{counts:?}");
}
