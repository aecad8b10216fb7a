//! From the cup to labels on a phone without a network: counted by taps, doses with their assurance,
//! each figure with how sure it is. Taps at the microscope are counted apart from the others.

use super::{ENGLISH, Hand, at_the_pen, to_the_bench};
use pentally_tests::browser::hands::{all_sent_in, log, mounted, send_now};
use pentally_tests::browser::{Page, Phone, invented_barn};

/// From the bench to the labels, besides those at the microscope. At a second and a half each, and the
/// microscope's at a third of a second, the whole stays below three minutes.
const TAPS_AT_MOST: u32 = 24;
const SECONDS_AT_MOST: f64 = 180.0;

/// One thumb on a zone, as fast as it comes.
async fn tally(page: &Page, zone: &str, times: u32) -> u32 {
    for _ in 0..times {
        page.tap(zone).await;
    }
    times
}

#[tokio::test]
async fn from_the_cup_to_labels_without_a_network_and_how_sure_each_figure_is() {
    let says = &ENGLISH;
    let (mut office, standing) = invented_barn();
    let flags = [
        &*format!("--lang={}", says.flag),
        &*format!("--accept-lang={}", says.flag),
    ];
    let mut phone = Phone::with_flags(&office, &flags).await;
    let first = phone.open(&format!("/boar/{}", standing.boar)).await;
    mounted(&first).await;
    first.kept_for_offline().await;
    let before = log(&office).len();
    office.kill();
    let page = phone.open(&standing.code.path()).await;
    at_the_pen(&page, says).await;
    to_the_bench(&page, says).await;
    let mut hand = Hand {
        page: &page,
        taps: 0,
    };

    // One grid of 25 squares with 200 sperm, diluted 1 + 99: 200 × 100 / (25 × 4 nL) = 200 M/mL.
    hand.tap(says.concentration).await;
    hand.tap("Count now").await;
    hand.tap("1 + 99").await;
    hand.tap("Go on with ×100").await;
    let mut looked = 0;
    for square in 1..=25 {
        page.sees(&format!("square {square}")).await;
        looked += tally(&page, ".zones .zone", 8).await;
        if square == 12 {
            // The battery dies over the microscope, and nothing is counted again.
            phone.kill();
            phone.restart().await;
            break;
        }
        looked += tally(&page, ".feet .zone:last-child", 1).await;
    }
    let page = phone.open("/bench").await;
    page.be_sized(360, 640, true).await;
    to_the_bench(&page, says).await;
    page.sees("96 of 200").await;
    let mut hand = Hand {
        page: &page,
        taps: hand.taps,
    };
    looked += tally(&page, ".feet .zone:last-child", 1).await;
    for square in 13..=25 {
        page.sees(&format!("square {square}")).await;
        looked += tally(&page, ".zones .zone", 8).await;
        looked += tally(&page, ".feet .zone:last-child", 1).await;
    }
    page.sees("Reached, at a whole grid. Stop here.").await;
    hand.tap("Filling done").await;
    page.sees("200 M/mL").await;
    page.sees("with 95 %").await;
    page.sees("One filling only").await;
    hand.tap("Take it").await;

    // 160 of 200 move.
    hand.tap(says.motility).await;
    hand.tap("Count now").await;
    looked += tally(&page, ".zones .zone.main", 160).await;
    looked += tally(&page, ".zones .zone.other", 41).await;
    looked += tally(&page, ".feet .zone", 1).await;
    page.sees("200 of 200").await;
    hand.tap("Done").await;
    // Wilson 1927: 160 of 200 leave 73.9 to 85.0 % (statsmodels 0.15 proportion_confint, wilson).
    page.sees("74 to 85 % with 95 %").await;
    hand.tap("Take it").await;
    page.sees("True motility below 70 %").await;
    hand.tap(says.save).await;

    // 240 mL × 200 M/mL × 80 % / 3000 M = 12.8 by the plain formula; fewer with an assurance.
    page.sees("12 doses").await;
    hand.tap("How sure?").await;
    hand.tap("95 % sure").await;
    page.sees("The plain formula says 12").await;
    page.sees("In one dose:").await;
    page.sees("What makes it unsure most").await;
    hand.tap(says.make).await;
    page.comes_true(
        "location.pathname.startsWith('/batch/')",
        "the batch's page",
    )
    .await;
    hand.tap("Labels").await;
    page.sees("Use before").await;
    page.sees("billion motile").await;
    let symbols = "document.querySelectorAll('.label-page use').length";
    let doses: usize = page
        .eval("Number(document.querySelector('input')?.value)")
        .await;
    assert!((8..12).contains(&doses), "{doses} doses are sure");
    page.comes_true(&format!("{symbols} === {doses}"), "a label for each dose")
        .await;
    page.has_no_complaints();
    println!("{} taps, and {looked} at the microscope", hand.taps);
    assert!(hand.taps <= TAPS_AT_MOST, "{} taps", hand.taps);
    let seconds = 1.5 * f64::from(hand.taps) + f64::from(looked) / 3.0;
    assert!(seconds < SECONDS_AT_MOST, "{seconds} s of interaction");

    office.start();
    send_now(&page).await;
    all_sent_in(&page, says.unsent).await;
    let new: Vec<String> = log(&office)
        .into_iter()
        .skip(before)
        .map(|e| e.kind)
        .collect();
    assert_eq!(new, ["collection", "evaluation", "semen_batch"]);
}
