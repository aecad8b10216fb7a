//! What comes late, was corrected, or is written in more than one way.

use super::*;
use crate::output::outlook::commonest;

#[test]
fn what_was_corrected_or_came_late_is_taken_as_it_is() {
    let outlook = fitted(&herd(8, 30));
    let mut list = cups(3, 0.3, 34);
    list[5].ml = 20.0;
    list[7].bench = None;
    list[33].bench = None;
    list.remove(9);
    list.push(Cup {
        day: 5 * 11 + 2,
        ml: 180.0,
        bench: None,
    });
    let (besides, past) = outlook.beside(id(3), given(3, &list)).unwrap();
    assert_eq!(besides.len(), 34);
    let finite = |p: &Predicted| p.mean.is_finite() && p.sd > 0.0 && p.sd < 2.0;
    assert!(besides.iter().flat_map(|b| &b.expected).all(finite));
    assert_eq!(besides[33].worse[Measure::Total.place()], None);
    assert!(past.through > outlook.boars[&id(3)].through);
    // More records than the fit knew of: they are taken away until nothing is left.
    let many = cups(4, 0.2, 30);
    let early = (0..60).map(|at| Cup {
        day: at - 80,
        ..many[0]
    });
    let early: Vec<_> = early.chain(many.iter().copied()).collect();
    let (besides, _) = outlook.beside(id(4), given(4, &early)).unwrap();
    assert!(besides.iter().flat_map(|b| &b.expected).all(finite));
}

/// A fit that falls between a cup and its evaluation leaves the signal to the phone.
#[test]
fn what_the_bench_says_after_a_fit_is_charted() {
    let mut list = cups(3, 0.3, 46);
    for cup in &mut list[44..] {
        let (conc, motile, abnormal) = cup.bench.unwrap();
        cup.bench = Some((0.25 * conc, motile, abnormal));
    }
    let mut waiting = list.clone();
    waiting[45].bench = None;
    let mut herd = herd(12, 40);
    herd.insert(id(3), history(3, &waiting));
    let cup_ms = NOON_MS + list[45].day * DAY_MS;
    let fitted = |at_ms| Outlook::fitted(&herd, &Zone::default(), &cool, at_ms).unwrap();
    let all = given(3, &list);
    let through = |at: usize| Some((all[at].at_ms, all[at].collection));
    let outlook = fitted(cup_ms + HOUR_MS);
    assert_eq!(outlook.boars[&id(3)].through, through(44));
    let (_, past) = outlook.beside(id(3), all.clone()).unwrap();
    let told = past.signals.last().unwrap();
    assert_eq!(
        (told.measure, told.collection),
        (Measure::Total, all[45].collection)
    );
    assert_eq!(past.sums[Measure::Total.place()].n, 46);
    assert_eq!(past.sums[Measure::Volume.place()].n, 46);
    // Two days later nobody waits for the bench any more.
    let later = fitted(cup_ms + 2 * DAY_MS);
    assert_eq!(later.boars[&id(3)].through, through(45));
}

/// Case tells lines apart no more than rooms.
#[test]
fn a_line_is_one_however_it_is_written() {
    let lines = |names: &[&str]| names.iter().map(|n| Label::parse(n).unwrap()).collect();
    let told = commonest(lines(&["HILL", "Dale", "Hill", "hill", "Dale", "Moor"]));
    let told: Vec<_> = told.iter().map(Label::folded).collect();
    assert_eq!(told, ["hill", "dale", "moor"]);
    assert_eq!(commonest(lines(&["HILL", "hill"])), []);
    let columns = crate::output::Columns {
        lines: lines(&["Hill", "Dale"]),
    };
    let row = |name| {
        let line = Label::parse(name).ok();
        columns.row(&Bearing { line, ..grown(5) })
    };
    assert_eq!(row("hill"), row("Hill"));
    assert_ne!(row("hill"), row("dale"));
}
