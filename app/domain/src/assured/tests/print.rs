//! Against what is printed, mistakes named, and against what is worked out by hand.

use super::*;

fn plain_and_assured(e: Ejaculate, sure: Sureness, recipe: &Recipe) -> (Making, Assured) {
    let (making, _, assured) = assure(&[e], &[sure], recipe, ask(95.0)).unwrap();
    (making, assured.unwrap())
}

// Means of young Yorkshire boars in an older printed trial: 178 mL × 143 M/mL × 74.9 % = 19.06×10⁹,
// six doses of 3×10⁹ and 302 mL of extender. THE MISTAKE IN PRINT: 23.1×10⁹ sperm stand beside them,
// and 178 × 143 is 25.45×10⁹; a product of means is not the mean of products. Out of 23.1×10⁹ and
// 74.9 % a farm would make five.
#[test]
fn six_doses_in_print_are_five_with_assurance() {
    let e = ejaculate(178.0, 143.0, 74.9);
    let (making, assured) = plain_and_assured(e, counted(), &recipe(3.0, 80.0));
    let plain = assured.plain.unwrap();
    assert_eq!(plain.doses, 6);
    // 19.06 against 18: six hold their target far less surely than the farm asks.
    assert!((70.0..85.0).contains(&plain.reached_percent), "{plain:?}");
    let Making::Made(plan) = making else {
        panic!("{making:?}")
    };
    // 5 × 80 − 178 mL.
    assert_eq!((plan.doses, plan.extender_ml), (5, 222.0));
    assert!(assured.doses.unwrap().reached_percent > 95.0);
    assert!((23_100.0_f64 * 0.749 / 3_000.0).floor() == 5.0);
}

// A homework answer on the web (wizedu.com, question 331082, "If you have a boar's ejaculate…"):
// 200 mL, 250 M/mL, 60 % motile, 80 % normal, doses of 2×10⁹ motile and normal sperm. THE MISTAKE IN
// PRINT: it takes 60 % alone for motile and normal both and finds 15; 50 × 0.6 × 0.8 = 24×10⁹ are 12.
// (It also gives the share alive, 90 %, which those that move have in them.)
#[test]
fn the_normal_share_left_out_makes_fifteen_of_twelve() {
    let mut e = ejaculate(200.0, 250.0, 60.0);
    e.abnormal = Percent::new(20.0).ok();
    let mut asked = recipe(2.0, 80.0);
    assert_eq!(make(&[e.clone()], &asked).0.reaching(), Some(15));
    asked.count_as = CountAs::MotileNormal;
    assert_eq!(make(&[e.clone()], &asked).0.reaching(), Some(12));
    let (_, assured) = plain_and_assured(e, Sureness::default(), &asked);
    assert_eq!(assured.plain.unwrap().doses, 12);
    assert!(assured.doses.unwrap().doses < 12);
}

// With volume alone uncertain all is log-normal: 250 mL ± 2 % × 200 M/mL, by the table of the normal
// distribution 95 % lie above exp(−1.645 × 0.02 − 0.02² ÷ 2) of what was read, 48,372 M: with 3×10⁹ in each, 16,
// and exactly as many as plain. Worked by hand.
#[test]
fn one_error_alone_is_worked_by_hand() {
    let sure = Sureness {
        volume_error: percent(2.0),
        concentration_error: percent(0.0),
        ..Sureness::default()
    };
    let mut asked = recipe(3.0, 80.0);
    asked.count_as = CountAs::Total;
    let none = Asked {
        filling_error: percent(0.0),
        ..ask(95.0)
    };
    let e = ejaculate(250.0, 200.0, 80.0);
    let (_, figures, assured) = assure(std::slice::from_ref(&e), &[sure], &asked, none).unwrap();
    let counted = figures
        .iter()
        .find(|f| f.figure == crate::explain::Term::PoolAssured)
        .unwrap();
    let expected = 50_000.0 * (-1.644_853_626_951_472_2_f64 * 0.02 - 0.02 * 0.02 / 2.0).exp();
    assert!(
        (counted.number() - expected).abs() < 0.01,
        "{counted:?} {expected}"
    );
    let assured = assured.unwrap();
    assert_eq!(assured.by, By::Analytic);
    assert_eq!(assured.sources.len(), 1);
    assert_eq!(assured.doses.unwrap().doses, 16);
    // With no error at all the plain formula is right, and sure.
    let certain = Sureness {
        volume_error: percent(0.0),
        ..sure
    };
    let (_, _, assured) = assure(&[e], &[certain], &asked, none).unwrap();
    let assured = assured.unwrap();
    assert_eq!(assured.doses, assured.plain);
    assert_eq!(assured.doses.unwrap().reached_percent, 100.0);
    assert!(assured.sources.is_empty());
}
