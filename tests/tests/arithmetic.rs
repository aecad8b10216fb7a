//! The microscope's and the calendar's arithmetic against what is printed, with the source beside each.

use chrono::NaiveDate;
use pentally_domain::agreement::{AgreementBy, Tally, counts_agree, percentages_agree, who_2_1};
use pentally_domain::counting::{Counted, Dilution, Replicate, chamber, wilson};
use pentally_domain::explain::{Origin, Term};
use pentally_domain::gestation::{Served, expected};
use pentally_domain::units::{
    Cells, Count, GestationDays, MassG, MotilityLimit, Percent, Squares, VolumeMl,
};

fn counted(count: u32, squares: u32, steps: &[(f64, f64)]) -> Counted {
    let count = Count::new(count).expect("count");
    let squares = Squares::new(squares).expect("squares");
    let dilution = Dilution::new(steps.to_vec()).expect("steps");
    chamber(&[Replicate { count, squares }], &dilution, &Origin::Asked).expect("in bounds")
}

fn tally(hits: u32, cells: u32) -> Tally {
    let cells = Cells::new(cells).expect("cells");
    Tally::new(Count::new(hits).expect("hits"), cells).expect("tally")
}

fn day(text: &str) -> NaiveDate {
    text.parse().expect(text)
}

// Improved Neubauer chamber, depth 0.1 mm: the central grid has 25 squares of 4 nL (WHO laboratory
// manual, 5th ed. 2010).
#[test]
fn fifty_sperm_in_five_squares() {
    assert_eq!(counted(50, 5, &[(1.0, 9.0)]).concentration.value(), 25.0);
    assert_eq!(counted(50, 5, &[(1.0, 99.0)]).concentration.value(), 250.0);
}

// 9 grids of 100 nL each; 25 squares of 4 nL make one (the same manual).
#[test]
fn a_grid_is_25_squares() {
    let counted = counted(200, 25, &[]);
    assert_eq!(counted.concentration.value(), 2.0);
    assert!(!counted.few && !counted.part_grids);
    assert!(self::counted(199, 26, &[]).few && self::counted(199, 26, &[]).part_grids);
}

// From the meaning of the words: 1 part and 19 parts are 20 parts; "1 + 10" twice is 11 × 11.
#[test]
fn dilutions_multiply_their_steps() {
    let factor = |steps: &[(f64, f64)]| Dilution::new(steps.to_vec()).expect("steps").factor();
    assert_eq!(factor(&[(1.0, 19.0)]), 20.0);
    assert_eq!(factor(&[(1.0, 10.0), (1.0, 10.0)]), 121.0);
    assert_eq!(factor(&[]), 1.0);
}

// WHO laboratory manual, 5th ed. 2010, table 2.4; rows from memory, the formula exact. Not asserted
// above 663.
#[test]
fn counts_agree_as_the_table_prints() {
    for (sums, limit) in [
        (144..=156, 24),
        (243..=258, 31),
        (427..=448, 41),
        (638..=663, 50),
    ] {
        for sum in sums {
            let agreement = |apart: u32| {
                let first = (sum + apart) / 2;
                counts_agree(
                    Count::new(first).expect("n"),
                    Count::new(sum - first).expect("n"),
                )
            };
            assert_eq!(
                agreement(0).figures[1].number(),
                f64::from(limit),
                "sum {sum}"
            );
            // Two counts of one sum differ by an even number or by an odd one, never by both.
            let most = if (sum + limit) % 2 == 0 {
                limit
            } else {
                limit - 1
            };
            assert!(agreement(most).agree, "sum {sum}");
            assert!(!agreement(most + 2).agree, "sum {sum}");
        }
    }
}

// WHO laboratory manual, 5th ed. 2010, table 2.1.
#[test]
fn percentages_agree_as_the_table_prints() {
    let rows = [
        (3..=4, 4),
        (5..=7, 5),
        (8..=11, 6),
        (12..=16, 7),
        (17..=23, 8),
        (24..=34, 9),
        (35..=65, 10),
        (66..=76, 9),
        (77..=83, 8),
        (84..=88, 7),
        (89..=92, 6),
        (93..=95, 5),
        (96..=97, 4),
    ];
    for (averages, limit) in rows {
        for average in averages {
            assert_eq!(
                who_2_1(f64::from(average)),
                Some(limit),
                "average {average}"
            );
        }
    }
    for outside in [0.0, 2.9, 97.1, 100.0] {
        assert_eq!(who_2_1(outside), None, "average {outside}");
    }
}

#[test]
fn the_table_decides_for_200_cells_and_the_binomial_else() {
    // Average 50, table 10: 55 and 45 % agree, 55.5 and 45 do not.
    assert!(percentages_agree(tally(110, 200), tally(90, 200)).agree);
    assert!(!percentages_agree(tally(111, 200), tally(90, 200)).agree);
    assert_eq!(
        percentages_agree(tally(110, 200), tally(90, 200)).by,
        AgreementBy::Table
    );
    // The same shares of half the cells are no surprise.
    let halves = percentages_agree(tally(56, 100), tally(45, 100));
    assert_eq!((halves.agree, halves.by), (true, AgreementBy::Exact));
    // Outside the table's averages.
    assert_eq!(
        percentages_agree(tally(1, 200), tally(4, 200)).by,
        AgreementBy::Exact
    );
    assert!(!percentages_agree(tally(0, 200), tally(10, 200)).agree);
    assert!(percentages_agree(tally(0, 200), tally(0, 200)).agree);
    assert!(percentages_agree(tally(200, 200), tally(100, 100)).agree);
}

// 100 ÷ √N (WHO laboratory manual, 5th ed. 2010).
#[test]
fn sampling_errors() {
    for (count, error) in [(25, 20.0), (100, 10.0), (400, 5.0)] {
        let figures = counted(count, 25, &[]).figures;
        let shown = figures
            .iter()
            .find(|f| f.figure == Term::SamplingError)
            .expect("shown");
        assert_eq!(shown.number(), error, "{count}");
    }
    assert!(
        counted(0, 25, &[])
            .figures
            .iter()
            .all(|f| f.figure != Term::SamplingError)
    );
}

// Wilson 1927; the ends as printed by the project's own collection of check values.
#[test]
fn wilson_of_140_in_200() {
    let ends = wilson(
        Percent::of(70),
        Cells::new(200).expect("cells"),
        &Origin::Asked,
    );
    assert_eq!(
        ends.map(|end| (end.number() * 10.0).round()),
        [633.0, 759.0]
    );
}

// Printed gestation tables: 1 Jan → 25 Apr, 1 Apr → 24 Jul, 1 Sep → 24 Dec, 1 Dec → 25 Mar in a
// non-leap year; returns 18–24 d, check from 24, better at 28.
#[test]
fn farrowing_days() {
    let rows = [
        ("2026-01-01", "2026-04-25"),
        ("2026-04-01", "2026-07-24"),
        ("2026-09-01", "2026-12-24"),
        ("2026-12-01", "2027-03-25"),
        ("2027-12-01", "2028-03-24"),
    ];
    for (served, farrows) in rows {
        let found = expected(
            day(served),
            GestationDays::new(114).expect("d"),
            &Origin::Asked,
        );
        assert_eq!(
            found.expect("in bounds").farrows_on,
            day(farrows),
            "{served}"
        );
    }
    let found = expected(
        day("2026-01-01"),
        GestationDays::new(115).expect("d"),
        &Origin::Asked,
    );
    let found = found.expect("in bounds");
    assert_eq!(found.farrows_on, day("2026-04-26"));
    assert_eq!(
        [found.return_from, found.return_to],
        [day("2026-01-19"), day("2026-01-25")]
    );
    assert_eq!(
        [found.check_from, found.check_better],
        [day("2026-01-25"), day("2026-01-29")]
    );
}

// First service 12 h after first standing; gilts, returns and late sows at first standing; again
// 12–24 h later (common practice, no source).
#[test]
fn service_hours() {
    let hours = |served: Served| {
        let h = served.hours();
        (h.first_h, h.again_from_h, h.again_to_h)
    };
    assert_eq!(hours(Served::Sow), (12, 24, 36));
    assert_eq!(hours(Served::GiltReturnOrLate), (0, 12, 24));
}

// 1 g counts as 1 mL (common practice, no source).
#[test]
fn a_weighed_ejaculate() {
    let mass = |g| MassG::new(g).expect("mass");
    assert_eq!(
        VolumeMl::from_mass(mass(271.3), mass(38.8)).map(VolumeMl::value),
        Ok(232.5)
    );
    assert!(VolumeMl::from_mass(mass(38.0), mass(38.8)).is_err());
}

#[test]
fn bounds_refuse_and_doubts_ask() {
    for bad in [f64::NAN, f64::INFINITY, -0.1, 1500.1] {
        assert!(VolumeMl::new(bad).is_err(), "{bad}");
        assert!(
            serde_json::from_value::<VolumeMl>(bad.into()).is_err(),
            "{bad}"
        );
    }
    assert_eq!(
        serde_json::to_string(&VolumeMl::new(-0.0).expect("zero")).expect("json"),
        "0.0"
    );
    // Printed for an ejaculate: 50–500 mL (veterinary-manual breeding-soundness table).
    let odd = |ml| VolumeMl::new(ml).expect("ml").improbable();
    assert!(odd(49.9) && !odd(50.0) && !odd(500.0) && odd(500.1));
    // Use needs motility above 60 % (common practice, no source): no farm lowers it.
    for (limit, taken) in [(59.0, false), (60.0, false), (60.01, true), (70.0, true)] {
        assert_eq!(MotilityLimit::new(limit).is_ok(), taken, "{limit}");
    }
    let error = VolumeMl::new(1501.0)
        .expect_err("too much")
        .named("volume_ml");
    assert_eq!(
        error.to_string(),
        "volume_ml is 1501 mL; it must be from 0 to 1500 mL"
    );
}
