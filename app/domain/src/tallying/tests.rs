use super::*;
use crate::counting::{Chamber, Dilution, ErrorAsked, Errors};
use crate::evaluation::ConcentrationBy;
use crate::id::{BoarId, EntryId};
use serde::de::DeserializeOwned;

fn neubauer() -> SpermTally {
    let dilution = Dilution::new(vec![(1.0, 19.0)]).unwrap();
    SpermTally::new(Chamber::default(), dilution, ErrorAsked::default())
}

fn evaluation() -> Evaluation {
    Evaluation::begun(EntryId::v7(0, [1; 10]), BoarId::v7(0, [2; 10]))
}

/// A grid of 25 squares with so many sperm in each.
fn grid(mut tally: SpermTally, each: u16) -> SpermTally {
    for _ in 0..25 {
        for _ in 0..each {
            tally = tally.tap(SpermTap::Sperm).unwrap();
        }
        tally = tally.tap(SpermTap::NextSquare).unwrap();
    }
    tally
}

fn kept<T: Serialize + DeserializeOwned>(state: &T) -> T {
    serde_json::from_str(&serde_json::to_string(state).unwrap()).unwrap()
}

/// Numbers that look thrown, from a multiplicative generator (Park & Miller 1988).
fn throw(seed: &mut u64, below: u64) -> usize {
    *seed = *seed * 48_271 % 2_147_483_647;
    usize::try_from(*seed % below).unwrap()
}

#[test]
fn two_fillings_counted_make_the_evaluation_s_concentration() {
    let first = grid(neubauer(), 8);
    assert_eq!(first.in_filling(), 200);
    assert!(first.reached() && first.place().at_a_whole_grid);
    let second = grid(first.tap(SpermTap::NextFilling).unwrap(), 9);
    assert!(second.agreement().unwrap().agree);
    let read = second.replicates();
    let pairs = [0, 1].map(|n| (read[n].count.value(), read[n].squares.value()));
    assert_eq!(pairs, [(200, 25), (225, 25)]);
    let all = Tallying {
        sperm: Some(second),
        ..Tallying::default()
    };
    let done = all.put_into(evaluation()).unwrap();
    // 425 sperm at ×20 in 50 squares of 4 nL.
    assert_eq!(crate::verdict::concentration(&done).unwrap().value(), 42.5);
    assert_eq!(done.version(), 2);
}

#[test]
fn fillings_that_differ_too_much_do_not_agree() {
    let first = grid(neubauer(), 8);
    let second = grid(first.tap(SpermTap::NextFilling).unwrap(), 11);
    // 475 in all: they may differ by round(1.96·√475) = 43, and differ by 75.
    assert!(!second.agreement().unwrap().agree);
    let part = second.tap(SpermTap::Sperm).unwrap();
    // 26 squares against 25 are compared as well, and one sperm more changes nothing.
    assert!(!part.agreement().unwrap().agree);
}

#[test]
fn the_eye_goes_through_squares_and_grids() {
    let begun = neubauer();
    let place = begun.place();
    assert_eq!((place.filling, place.grid, place.square), (1, 1, 1));
    assert!(!place.at_a_whole_grid);
    let on = grid(begun, 1).tap(SpermTap::NextSquare).unwrap();
    let place = on.place();
    assert_eq!((place.filling, place.grid, place.square), (1, 2, 2));
}

#[test]
fn an_empty_square_counts_once_it_is_left() {
    let tapped = neubauer().tap(SpermTap::Sperm).unwrap();
    let squares = |t: &SpermTally| t.replicates()[0].squares.value();
    assert_eq!(squares(&tapped), 1);
    let left = tapped.tap(SpermTap::NextSquare).unwrap();
    assert_eq!(squares(&left), 1);
    let empty_left = left.tap(SpermTap::NextSquare).unwrap();
    assert_eq!(squares(&empty_left), 2);
    assert_eq!(neubauer().finished(), None);
    let nothing = neubauer().tap(SpermTap::NextSquare).unwrap();
    let Some(ConcentrationBy::Counts { replicates, .. }) = nothing.finished() else {
        panic!("counted");
    };
    assert_eq!(replicates[0].count.value(), 0);
}

#[test]
fn counting_on_is_recommended_while_counting() {
    let (_, more) = grid(neubauer(), 4)
        .further(&Errors::default())
        .unwrap()
        .unwrap();
    assert_eq!((more.sperm_more, more.grids_more), (300, Some(3)));
    assert!(neubauer().further(&Errors::default()).is_none());
}

#[test]
fn taps_that_cannot_be_are_blocked() {
    use Blocked::{NoMoreReplicates, NothingToUndo, NothingYet, SquareFull};
    assert_eq!(neubauer().tap(SpermTap::Undo), Err(NothingToUndo));
    assert_eq!(neubauer().tap(SpermTap::NextFilling), Err(NothingYet));
    let mut full = neubauer();
    for _ in 0..1000 {
        full = full.tap(SpermTap::Sperm).unwrap();
    }
    assert_eq!(full.clone().tap(SpermTap::Sperm), Err(SquareFull));
    for _ in 1..10 {
        full = full.tap(SpermTap::NextFilling).unwrap();
        full = full.tap(SpermTap::Sperm).unwrap();
    }
    assert_eq!(full.tap(SpermTap::NextFilling), Err(NoMoreReplicates));
    let none = CellTally::<Motion>::default();
    assert_eq!(none.clone().tap(CellTap::Undo), Err(NothingToUndo));
    assert_eq!(none.tap(CellTap::NextReplicate), Err(NothingYet));
}

/// Any taps, then as many undone: the way back is the way there, state by state, each as it was kept.
#[test]
fn undo_goes_back_tap_by_tap() {
    let mut seed = 20_261_201;
    for _ in 0..40 {
        let (mut way, mut state) = (vec![], neubauer());
        for _ in 0..120 {
            let tap = match throw(&mut seed, 10) {
                0 => SpermTap::NextFilling,
                1..=3 => SpermTap::NextSquare,
                _ => SpermTap::Sperm,
            };
            if let Ok(next) = state.clone().tap(tap) {
                way.push(state);
                state = kept(&next);
                assert_eq!(state, next);
            }
        }
        for before in way.into_iter().rev() {
            state = state.tap(SpermTap::Undo).unwrap();
            assert_eq!(state, before);
        }
    }
    for _ in 0..40 {
        let (mut way, mut state) = (vec![], CellTally::<Class>::default());
        for _ in 0..120 {
            let tap = match throw(&mut seed, 40) {
                0 => CellTap::NextReplicate,
                n => CellTap::Cell(Class::ALL[n % 5]),
            };
            if let Ok(next) = state.clone().tap(tap) {
                way.push(state);
                state = kept(&next);
            }
        }
        for before in way.into_iter().rev() {
            state = state.tap(CellTap::Undo).unwrap();
            assert_eq!(state, before);
        }
    }
}

fn motile(tally: CellTally<Motion>, motile: usize, all: usize) -> CellTally<Motion> {
    (0..all).fold(tally, |tally, n| {
        let zone = if n < motile {
            Motion::Motile
        } else {
            Motion::NotMotile
        };
        tally.tap(CellTap::Cell(zone)).unwrap()
    })
}

/// 140 and 151 of 200 are 70 and 75.5 %: their average of 72.75 may differ by 9 (WHO table 2.1).
#[test]
fn replicates_of_motility_agree_by_the_table_and_make_the_share() {
    let first = motile(CellTally::default(), 140, 200);
    assert!(first.reached() && first.agreement().is_none());
    assert_eq!(
        (first.in_zone(Motion::Motile), first.last()),
        (140, Some(Motion::NotMotile))
    );
    let second = motile(first.tap(CellTap::NextReplicate).unwrap(), 151, 200);
    assert!(second.agreement().unwrap().agree);
    let all = Tallying {
        motility: Some(second),
        ..Tallying::default()
    };
    let done = all.put_into(evaluation()).unwrap();
    let share = done.motile.unwrap();
    assert_eq!((share.percent.value(), share.cells), (72.75, Some(400)));
    assert_eq!(done.abnormal, None);
    let far = motile(CellTally::default(), 120, 200);
    let far = motile(far.tap(CellTap::NextReplicate).unwrap(), 160, 200);
    assert!(!far.agreement().unwrap().agree);
}

#[test]
fn classes_make_abnormal_and_droplets_and_leave_motility_as_tallied_before() {
    let before = Tallying {
        motility: Some(motile(CellTally::default(), 150, 200)),
        ..Tallying::default()
    };
    let before = before.put_into(evaluation()).unwrap();
    let mut classes = CellTally::<Class>::default();
    for (class, cells) in Class::ALL.into_iter().zip([160, 10, 12, 8, 10]) {
        for _ in 0..cells {
            classes = classes.tap(CellTap::Cell(class)).unwrap();
        }
    }
    assert!(classes.reached());
    let all = Tallying {
        morphology: Some(classes),
        ..Tallying::default()
    };
    let done = kept(&all).put_into(before.clone()).unwrap();
    assert_eq!(done.motile, before.motile);
    let tallied = done.tallied.as_ref().unwrap();
    assert_eq!(tallied.motility(), before.tallied.unwrap().motility());
    assert_eq!(done.abnormal.unwrap().percent.value(), 20.0);
    assert_eq!(done.droplets.unwrap().percent.value(), 10.0);
    assert_eq!(Tallying::default().put_into(done.clone()).unwrap(), done);
    assert!(done.follows());
}

#[test]
fn drafts_that_cannot_be_do_not_read() {
    let sperm = |fillings: &str| {
        let text = format!(r#"{{"dilution":[],"error_asked_percent":5.0,"fillings":{fillings}}}"#);
        serde_json::from_str::<SpermTally>(&text).is_ok()
    };
    assert!(sperm("[[3,0]]"));
    assert!(!sperm("[]") && !sperm("[[]]") && !sperm("[[1001]]") && !sperm("[[-1]]"));
    let cells = |text: &str| serde_json::from_str::<CellTally<Motion>>(text).is_ok();
    assert!(cells(r#"[["motile"]]"#) && cells("[[]]"));
    assert!(!cells("[]") && !cells("[[],[],[],[],[]]") && !cells(r#"[["alive"]]"#));
    let many = format!("[[{}]]", vec![r#""motile""#; 2001].join(","));
    assert!(!cells(&many));
}

#[test]
fn another_error_asked_for_keeps_what_was_counted() {
    let tally = grid(neubauer(), 9);
    let ten = ErrorAsked::new(10.0).unwrap();
    let asked = tally.clone().asking(ten);
    assert_eq!(asked.error_asked(), ten);
    assert_eq!(asked.replicates(), tally.replicates());
    let needed = |tally: &SpermTally| {
        let further = tally.further(&Errors::default()).unwrap().unwrap().1;
        further.sperm_needed
    };
    // (100 ÷ 10)² and (100 ÷ 5)².
    assert_eq!((needed(&asked), needed(&tally)), (100, 400));
}

#[test]
fn a_filling_ends_where_its_chamber_ends() {
    // The improved Neubauer: 9 grids of 25 squares.
    let all = (0..9).fold(neubauer(), |tally, _| grid(tally, 1));
    assert_eq!((all.place().grid, all.place().square), (9, 25));
    assert!(all.place().at_a_whole_grid);
    for tap in [SpermTap::Sperm, SpermTap::NextSquare] {
        assert_eq!(all.clone().tap(tap), Err(Blocked::Enough));
    }
    assert_eq!(all.replicates()[0].squares.value(), 225);
    assert_eq!(kept(&all), all);
    assert!(all.tap(SpermTap::NextFilling).is_ok());
}

// Over 25 and 50 squares: 200 and 400 are one concentration; 100 and 330 (scaled: 100 and 165) lie 65 apart,
// 1.96·√(430 / 2) = 28.7 allowed.
#[test]
fn fillings_over_different_squares_are_compared_too() {
    let of = |first, second| {
        let begun = grid(neubauer(), first).tap(SpermTap::NextFilling).unwrap();
        grid(grid(begun, second), second).agreement().unwrap()
    };
    let same = of(8, 8);
    assert!(same.agree);
    assert_eq!(same.figures[0].number(), 0.0);
    assert!((same.figures[1].number() - 1.96 * 300_f64.sqrt()).abs() < 1e-9);
    assert!(!of(4, 7).agree);
}
