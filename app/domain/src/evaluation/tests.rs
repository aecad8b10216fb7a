//! The second version: counts replicate by replicate, and what was tallied.

use super::*;
use crate::agreement::Tally;
use crate::amend::{Correction, Target};
use crate::fact::{Fact, FactError, Kind};
use crate::id::{BarnId, DeviceId, FarmId};
use crate::time::Stamp;
use crate::units::Cells;
use crate::writer::{Head, Moment};

fn plain() -> Evaluation {
    Evaluation::begun(EntryId::v7(0, [1; 10]), BoarId::v7(0, [2; 10]))
}

fn replicate(sperm: u32, squares: u32) -> Replicate {
    Replicate {
        count: Count::new(sperm).unwrap(),
        squares: Squares::new(squares).unwrap(),
    }
}

fn counted(chamber: Chamber, replicates: Vec<Replicate>) -> Evaluation {
    Evaluation {
        concentration: Some(ConcentrationBy::Counts {
            chamber,
            replicates,
            dilution: Dilution::new(vec![(1.0, 19.0)]).unwrap(),
        }),
        ..plain()
    }
}

fn tally(hits: u32, cells: u32) -> Tally {
    Tally::new(Count::new(hits).unwrap(), Cells::new(cells).unwrap()).unwrap()
}

fn tallied() -> Tallied {
    let motility = vec![tally(140, 200), tally(151, 200)];
    let morphology = vec![
        Morphology::new([170, 6, 9, 8, 7]).unwrap(),
        Morphology::new([175, 5, 10, 4, 6]).unwrap(),
    ];
    Tallied::new(motility, morphology).unwrap()
}

fn written(fact: &Fact) -> crate::envelope::Entry {
    let head = Head::new(
        FarmId::v7(0, [1; 10]),
        BarnId::v7(0, [2; 10]),
        DeviceId::v7(0, [3; 10]),
    );
    let now = Stamp::new(1_780_000_000_000, 60).unwrap();
    let moment = Moment {
        now,
        occurred_at: now,
        random: [4; 10],
        person: None,
    };
    head.write(fact, moment).unwrap().0
}

#[test]
fn shares_follow_from_what_was_tallied() {
    let found = plain().with_tallied(tallied());
    // 291 of 400 motile; 55 of 400 not normal; 31 of 400 droplets.
    let of_400 = |percent| Share {
        percent: Percent::new(percent).unwrap(),
        cells: Some(400),
    };
    assert_eq!(found.motile, Some(of_400(72.75)));
    assert_eq!(found.abnormal, Some(of_400(13.75)));
    assert_eq!(found.droplets, Some(of_400(7.75)));
    let by_eye = Evaluation {
        motile: Some(Share {
            percent: Percent::of(80),
            cells: None,
        }),
        ..plain()
    };
    let only_morphology = Tallied::new(vec![], tallied().morphology().to_vec()).unwrap();
    let both = by_eye.clone().with_tallied(only_morphology);
    assert_eq!(
        (both.motile, both.abnormal),
        (by_eye.motile, found.abnormal)
    );
    assert!(both.follows() && found.follows());
}

#[test]
fn what_is_new_is_written_as_version_two_and_nothing_else_is() {
    let old = Fact::Evaluation(plain());
    assert_eq!(written(&old).envelope().version, 1);
    assert!(!old.body().contains("tallied"), "{}", old.body());
    let new = [
        counted(
            Chamber::default(),
            vec![replicate(207, 25), replicate(214, 25)],
        ),
        counted(
            Chamber::of_side(0.1, 0.01, 10, 10).unwrap(),
            vec![replicate(30, 10)],
        ),
        plain().with_tallied(tallied()),
    ];
    for evaluation in new {
        let fact = Fact::Evaluation(evaluation);
        let entry = written(&fact);
        assert_eq!(entry.envelope().version, 2);
        assert_eq!(Fact::of(entry.envelope()), Ok(Some(fact.clone())));
        let target = Target {
            record: entry.order(),
            kind: Kind::Evaluation,
            amendment: None,
        };
        let corrected = |fact: &Fact| {
            Fact::Correction(Correction {
                target,
                about: vec![],
                occurred_at: None,
                fact: Box::new(fact.clone()),
            })
        };
        assert_eq!(written(&corrected(&fact)).envelope().version, 2);
        assert_eq!(written(&corrected(&old)).envelope().version, 1);
        let mut newer = entry.envelope().clone();
        newer.version = 3;
        assert_eq!(Fact::of(&newer), Ok(None));
    }
}

/// A correction holds any fact, so it must be able to say as much.
#[test]
fn a_correction_is_read_in_every_version_of_what_it_corrects() {
    let newest = Kind::ALL.iter().map(|kind| kind.version()).max();
    assert_eq!(Some(Kind::Correction.version()), newest);
}

#[test]
fn an_improved_neubauer_leaves_no_trace_and_another_chamber_does() {
    let body = |e: Evaluation| Fact::Evaluation(e).body();
    let usual = body(counted(Chamber::default(), vec![replicate(207, 25)]));
    let read = r#""concentration":{"counts":{"replicates":[{"count":207,"squares":25}],"dilution":[[1.0,19.0]]}}"#;
    assert!(usual.contains(read), "{usual}");
    let other = body(counted(
        Chamber::of_side(0.1, 0.01, 10, 10).unwrap(),
        vec![replicate(30, 10)],
    ));
    assert!(other.contains(r#""chamber":{"square_mm2":0.01"#), "{other}");
}

/// TRADE's worked example by replicates: 50 sperm in 5 squares at ×10 are 25 M/mL.
#[test]
fn both_ways_of_keeping_a_count_come_to_the_same() {
    let by = |concentration| Evaluation {
        concentration: Some(concentration),
        ..plain()
    };
    let dilution = Dilution::new(vec![(1.0, 9.0)]).unwrap();
    let together = by(ConcentrationBy::Chamber {
        count: Count::new(50).unwrap(),
        squares: 5,
        dilution: dilution.clone(),
    });
    let apart = by(ConcentrationBy::Counts {
        chamber: Chamber::default(),
        replicates: vec![replicate(20, 2), replicate(30, 3)],
        dilution,
    });
    let found = [together, apart].map(|e| crate::verdict::concentration(&e).unwrap().value());
    assert_eq!(found, [25.0, 25.0]);
}

#[test]
fn what_cannot_be_is_refused() {
    let field = |e: Evaluation| match Fact::Evaluation(e).check() {
        Err(FactError::Impossible { field, .. }) => field,
        other => panic!("{other:?}"),
    };
    assert_eq!(field(counted(Chamber::default(), vec![])), "concentration");
    let full = vec![replicate(1001, 1)];
    assert_eq!(field(counted(Chamber::default(), full)), "concentration");
    let many = vec![replicate(200, 25); 11];
    assert_eq!(field(counted(Chamber::default(), many)), "concentration");
    let mut other = plain().with_tallied(tallied());
    other.motile = None;
    assert_eq!(field(other), "tallied");
    // A count that version 1 kept stays readable, whatever it says.
    let kept = Evaluation {
        concentration: Some(ConcentrationBy::Chamber {
            count: Count::new(90_000).unwrap(),
            squares: 1,
            dilution: Dilution::none(),
        }),
        ..plain()
    };
    assert_eq!(crate::verdict::concentration(&kept), None);
    assert_eq!(Fact::Evaluation(kept).check(), Ok(()));
}

#[test]
fn tallies_that_cannot_be_do_not_read() {
    for text in [
        "{}",
        r#"{"motility":[{"hits":201,"cells":200}]}"#,
        r#"{"motility":[{"hits":0,"cells":0}]}"#,
        r#"{"motility":[{"hits":1,"cells":2000},{"hits":1,"cells":1}]}"#,
        r#"{"morphology":[{"normal":0,"head":0,"proximal_droplet":0,"distal_droplet":0,"tail":0}]}"#,
        r#"{"morphology":[{"normal":2000,"head":1,"proximal_droplet":0,"distal_droplet":0,"tail":0}]}"#,
        r#"{"morphology":[{"normal":65535,"head":65535,"proximal_droplet":65535,"distal_droplet":65535,"tail":65535}]}"#,
    ] {
        assert!(serde_json::from_str::<Tallied>(text).is_err(), "{text}");
    }
    let text = serde_json::to_string(&tallied()).unwrap();
    assert_eq!(serde_json::from_str::<Tallied>(&text).unwrap(), tallied());
    assert!(Tallied::new(vec![tally(1, 2); 5], vec![]).is_err());
}

#[test]
fn a_concentration_is_as_sure_as_it_was_found() {
    let by = |evaluation: Evaluation| evaluation.concentration.unwrap();
    let typed = ConcentrationBy::Instrument(Concentration::new(200.0).unwrap());
    assert_eq!(typed.between(), None);
    // 200 ± 1.96 × 10 % (normal distribution, two-sided 95 %).
    let read = |percent| ConcentrationBy::Curve {
        reading: InstrumentReading::new(42.0).unwrap(),
        curve: plain().collection,
        concentration: Concentration::new(200.0).unwrap(),
        relative_error: RelativeError::new(percent).unwrap(),
    };
    let (low, high) = read(10.0).between().unwrap().unwrap();
    assert!((low - 160.8).abs() < 0.01 && (high - 239.2).abs() < 0.01);
    assert_eq!(read(100.0).between().unwrap().unwrap().0, 0.0);
    // More sperm leave less open; nothing found leaves a high end all the same.
    let width = |sperm| {
        let (low, high) = by(counted(Chamber::default(), vec![replicate(sperm, 25)]))
            .between()
            .unwrap()
            .unwrap();
        (high - low) / (high + low)
    };
    assert!(width(200) < width(50) && width(50) < width(10));
    let none = by(counted(Chamber::default(), vec![replicate(0, 25)]));
    let (low, high) = none.between().unwrap().unwrap();
    assert!(low == 0.0 && high > 0.0);
    let full = by(counted(Chamber::default(), vec![replicate(1001, 1)]));
    assert!(full.between().unwrap().is_err());
}
