// What came with the second version of evaluations, in a thread of its own, so that what was frozen
// before stays as it is. Only ever add to the end of this list.

use pentally_domain::agreement::Tally;
use pentally_domain::amend::{Correction, Target};
use pentally_domain::counting::{Chamber, Dilution, Replicate};
use pentally_domain::envelope::{Entry, Order};
use pentally_domain::evaluation::{ConcentrationBy, Evaluation, Morphology, Share, Tallied};
use pentally_domain::fact::{Fact, Kind, Subject};
use pentally_domain::id::{BoarId, EntryId};
use pentally_domain::time::Clock;
use pentally_domain::units::{Cells, Count, Percent, Squares};

/// 2026-12-01 06:20 UTC.
const BEGIN_MS: i64 = 1_796_106_000_000;

fn boar() -> BoarId {
    BoarId::v7(BEGIN_MS, [5; 10])
}

fn plain() -> Evaluation {
    Evaluation {
        collection: EntryId::v7(BEGIN_MS, [7; 10]),
        boar: boar(),
        concentration: None,
        motile: Some(Share {
            percent: Percent::of(80),
            cells: None,
        }),
        abnormal: None,
        droplets: None,
        colour: None,
        smell: None,
        blood: Some(false),
        pus: None,
        urine: None,
        tallied: None,
    }
}

fn counted(chamber: Chamber, counts: &[(u32, u32)], steps: Vec<(f64, f64)>) -> Evaluation {
    let replicate = |(count, squares): &(u32, u32)| Replicate {
        count: Count::new(*count).expect("a count"),
        squares: Squares::new(*squares).expect("squares"),
    };
    Evaluation {
        concentration: Some(ConcentrationBy::Counts {
            chamber,
            replicates: counts.iter().map(replicate).collect(),
            dilution: Dilution::new(steps).expect("steps"),
        }),
        ..plain()
    }
}

fn tallied(motility: &[(u32, u32)], morphology: &[[u16; 5]]) -> Evaluation {
    let tally = |(hits, cells): &(u32, u32)| {
        let (hits, cells) = (Count::new(*hits), Cells::new(*cells));
        Tally::new(hits.expect("hits"), cells.expect("cells")).expect("a tally")
    };
    let classes = |cells: &[u16; 5]| Morphology::new(*cells).expect("cells");
    let motility = motility.iter().map(tally).collect();
    let morphology = morphology.iter().map(classes).collect();
    plain().with_tallied(Tallied::new(motility, morphology).expect("replicates"))
}

/// The second entry of the thread, with the morphology that was forgotten.
fn corrected() -> Fact {
    let at_ms = BEGIN_MS + 2 * 60_000;
    let record = Order {
        at_ms,
        clock: Clock { ms: at_ms, n: 0 },
        id: EntryId::v7(at_ms, [2; 10]),
    };
    Fact::Correction(Correction {
        target: Target {
            record,
            kind: Kind::Evaluation,
            amendment: None,
        },
        about: vec![Subject::Boar(boar())],
        occurred_at: None,
        fact: Box::new(Fact::Evaluation(tallied(
            &[(151, 200), (140, 200)],
            &[[170, 6, 9, 8, 7], [175, 5, 10, 4, 6]],
        ))),
    })
}

fn facts() -> Vec<(&'static str, Fact)> {
    let two = counted(
        Chamber::IMPROVED_NEUBAUER,
        &[(207, 25), (193, 25)],
        vec![(1.0, 19.0)],
    );
    let shallow = Chamber::of_side(0.1, 0.01, 10, 10).expect("a chamber");
    let other = counted(shallow, &[(0, 10)], vec![(0.5, 9.5), (1.0, 4.0)]);
    let motility = tallied(&[(151, 200), (140, 200)], &[]);
    vec![
        ("counted_twice", Fact::Evaluation(two)),
        ("tallied_motility", Fact::Evaluation(motility)),
        ("counted_elsewhere", Fact::Evaluation(other)),
        ("nothing_new", Fact::Evaluation(plain())),
        ("tallied_corrected", corrected()),
    ]
}

/// Names, entries and the facts that must be read from them.
pub fn said() -> Vec<(&'static str, Entry, Option<Fact>)> {
    super::thread::written(BEGIN_MS, facts())
}
