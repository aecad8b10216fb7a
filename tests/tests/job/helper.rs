//! A helper taps as it happens: what that costs in taps.

use super::Hand;
use pentally_tests::browser::hands::mounted;
use pentally_tests::browser::{Phone, invented_barn};

/// What a record of times needs: he mounts, he locks on, the rich fraction comes, it ends. Of the
/// eight steps that can be tapped these carry the clock and the fractions; "Enters", "Pre-sperm",
/// "Sperm-poor" and "Gel" cost one tap more each, for whoever has a hand free, and never hold up
/// what follows: nothing asks for a tap.
const STEPS: [&str; 4] = ["Mounts", "Lock-on", "Sperm-rich", "End"];

#[tokio::test]
async fn a_helper_needs_nine_taps_at_most_and_one_more_for_each_step_beyond() {
    for (steps, most) in [
        (&STEPS[..], 9),
        (
            &[
                "Enters",
                "Mounts",
                "Lock-on",
                "Pre-sperm",
                "Sperm-rich",
                "Sperm-poor",
                "Gel",
                "End",
            ][..],
            12,
        ),
    ] {
        let (office, standing) = invented_barn();
        let phone = Phone::with_flags(&office, &["--lang=en-GB", "--accept-lang=en-GB"]).await;
        let page = phone.open(&standing.code.path()).await;
        mounted(&page).await;
        let mut hand = Hand {
            page: &page,
            taps: 0,
        };
        page.tap("a[href$='/collect']").await;
        hand.taps += 1;
        page.sees("Vinyl").await;
        let safety = hand.taps;
        hand.tap("Vinyl").await;
        if hand.can_tap("Why against the advice?").await {
            hand.tap("Sows wait").await;
        }
        hand.taps = safety;
        hand.tap("Go: a helper taps").await;
        for step in steps {
            hand.tap(step).await;
        }
        page.shows(".keypad").await;
        hand.type_figure("240").await;
        hand.tap("Take it").await;
        hand.tap("Save").await;
        page.sees("Saved on this phone").await;
        assert!(hand.taps <= most, "{} taps for {steps:?}", hand.taps);
        page.has_no_complaints();
    }
}
