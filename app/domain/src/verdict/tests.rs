//! Chances, standings and counting on. Outcomes and margins are held in `tests/tests/arithmetic.rs`,
//! the tails themselves against scipy in [`crate::intervals`].

use super::Standing::{Doubtful, Fail, Pass};
use super::*;

fn share(percent: f64, cells: Option<u16>) -> Share {
    Share {
        percent: Percent::new(percent).unwrap(),
        cells,
    }
}

fn motile(percent: f64, cells: Option<u16>, doubt: &Doubt) -> Judged {
    let measured = Measured {
        motile: Some(share(percent, cells)),
        ..Measured::default()
    };
    let from = (&Origin::Asked, &Origin::Asked);
    let limits = Limits::default();
    let verdict = hold_under(&measured, Seen::default(), &limits, doubt, from);
    verdict.rules.into_iter().next().unwrap()
}

fn chance(judged: &Judged) -> f64 {
    judged.misses_chance.as_ref().unwrap().number()
}

#[test]
fn far_from_the_limit_there_is_no_doubt_and_near_it_there_is() {
    let doubt = Doubt::default();
    for (percent, standing) in [
        (60.0, Fail),
        (64.0, Fail),
        (69.0, Doubtful),
        (70.0, Doubtful),
        (73.0, Doubtful),
        (76.0, Pass),
        (90.0, Pass),
    ] {
        let judged = motile(percent, Some(200), &doubt);
        assert_eq!(
            judged.standing(),
            standing,
            "{percent}: {}",
            chance(&judged)
        );
    }
}

/// By eye 70 against a limit of 70 is as likely missed as kept; 75 is still doubtful, 80 passes.
#[test]
fn what_was_judged_by_eye_is_less_sure() {
    let doubt = Doubt::default();
    let by_eye = |percent| motile(percent, None, &doubt);
    assert!((chance(&by_eye(70.0)) - 0.5).abs() < 1e-8);
    // One deviation from the limit: 15.87 % in every table of the normal distribution.
    assert!((chance(&by_eye(75.0)) - 0.158_655_25).abs() < 1e-6);
    let standings = [55.0, 65.0, 70.0, 75.0, 80.0].map(|p| by_eye(p).standing());
    assert_eq!(standings, [Fail, Doubtful, Doubtful, Doubtful, Pass]);
    assert_eq!(by_eye(70.0).more_cells, Some(CELLS_AFTER_EYE));
    assert_eq!(by_eye(80.0).more_cells, None);
    let coarse = Doubt::new(0.05, 0.95, 10.0).unwrap();
    assert_eq!(motile(80.0, None, &coarse).standing(), Doubtful);
    for percent in [0.0, 100.0] {
        assert!((0.0..=1.0).contains(&chance(&by_eye(percent))), "{percent}");
    }
}

#[test]
fn the_chance_falls_as_the_share_rises_and_both_sides_add_up() {
    let (cells, limit) = (Cells::new(200).unwrap(), Percent::of(70));
    let mut before = 1.0;
    for hits in 0..=200_u16 {
        let percent = Percent::new(f64::from(hits) / 2.0).unwrap();
        let below = crate::intervals::chance_below(percent, cells, limit);
        let above = crate::intervals::chance_above(percent, cells, limit);
        assert!(below <= before, "{hits}");
        assert!((below + above - 1.0).abs() < 1e-12, "{hits}");
        before = below;
    }
}

/// So many cells more leave no doubt, and one fewer would leave it; beyond that it never comes back.
#[test]
fn counting_on_settles_it_and_no_sooner() {
    let doubt = Doubt::default();
    let mut settled = 0;
    for cells in [50, 100, 200, 400] {
        for percent in 55..=85_u8 {
            let judged = motile(percent.into(), Some(cells), &doubt);
            let Some(more) = judged.more_cells else {
                let last = motile(percent.into(), Some(Cells::HIGH), &doubt);
                let doubtful = judged.standing() == Doubtful;
                assert_eq!(doubtful, last.standing() == Doubtful, "{percent}");
                continue;
            };
            settled += 1;
            assert_eq!(judged.standing(), Doubtful);
            let after = |cells| motile(percent.into(), Some(cells), &doubt).standing();
            assert_eq!(after(cells + more - 1), Doubtful, "{percent} of {cells}");
            for far in [0, 1, 2, 5, 50, 500] {
                let all = (cells + more + far).min(Cells::HIGH);
                assert_ne!(after(all), Doubtful, "{percent} of {cells} and {far}");
            }
        }
    }
    assert!(settled > 20, "{settled}");
    assert_eq!(motile(70.0, Some(200), &doubt).more_cells, None);
}

#[test]
fn too_much_of_what_is_limited_from_above_fails() {
    let measured = Measured {
        motile: None,
        abnormal: Some(share(20.0, Some(200))),
        droplets: Some(share(22.0, Some(200))),
    };
    let limits = Limits::default();
    let verdict = hold(
        &measured,
        Seen::default(),
        &limits,
        &Origin::Asked,
        &Origin::Asked,
    );
    let standings: Vec<_> = verdict.rules.iter().map(Judged::standing).collect();
    assert_eq!(standings, [Standing::NotMeasured, Pass, Fail]);
    assert_eq!(verdict.rules[0].misses_chance, None);
}

#[test]
fn what_was_judged_before_chances_were_told_still_stands_somewhere() {
    let old = |outcome: &str| {
        let text = format!(r#"{{"rule":"motility","limit_percent":70.0,"outcome":{outcome}}}"#);
        serde_json::from_str::<Judged>(&text).unwrap().standing()
    };
    assert_eq!(old(r#"{"pass":{"margin":2.0,"close":true}}"#), Doubtful);
    assert_eq!(old(r#"{"pass":{"margin":20.0,"close":false}}"#), Pass);
    assert_eq!(old(r#"{"fail":{"margin":20.0,"close":false}}"#), Fail);
    assert_eq!(old(r#""not_measured""#), Standing::NotMeasured);
}

#[test]
fn doubts_that_cannot_be_are_refused_by_name() {
    let field = |d: Result<Doubt, BoundError>| d.unwrap_err().field;
    for bad in [0.0, 0.6, f64::NAN] {
        assert_eq!(field(Doubt::new(bad, 0.95, 5.0)), "pass_chance");
    }
    for bad in [0.4, 1.0, f64::NAN] {
        assert_eq!(field(Doubt::new(0.05, bad, 5.0)), "fail_chance");
    }
    for bad in [0.0, 21.0, f64::NAN] {
        assert_eq!(field(Doubt::new(0.05, 0.95, bad)), "eye_points");
    }
}

/// Of many samples from a share just at the limit, the verdict may pass or fail one in twenty each:
/// what the chance promises.
#[test]
fn a_share_at_the_limit_passes_one_time_in_twenty() {
    let cells = Cells::new(200).unwrap();
    let (mut pass, mut fail) = (0.0, 0.0);
    // The binomial of 200 cells at 70 %, from its own recursion.
    let mut weight = 0.3_f64.powi(200);
    for hits in 0..=200_u16 {
        let percent = Percent::new(f64::from(hits) / 2.0).unwrap();
        let misses = crate::intervals::chance_below(percent, cells, Percent::of(70));
        match Doubt::default().standing(misses) {
            Pass => pass += weight,
            Fail => fail += weight,
            _ => {}
        }
        weight *= f64::from(200 - hits) / f64::from(hits + 1) * 0.7 / 0.3;
    }
    assert!((0.035..=0.065).contains(&pass), "{pass}");
    assert!((0.035..=0.065).contains(&fail), "{fail}");
}
