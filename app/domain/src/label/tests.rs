//! Labels: what stands on them, and where they lie.

#![expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "small numbers of columns and rows"
)]

use super::sheet::{Paper, Place, Roll, RollMm, Sheet, SheetMm, Stock};
use super::symbol::{Fit, Level, MODULE_LOW_MM, fit};

fn a_sheet() -> SheetMm {
    SheetMm {
        paper: Paper::A4,
        columns: 3,
        rows: 8,
        width_mm: 70.0,
        height_mm: 37.0,
        left_mm: 0.0,
        top_mm: 0.5,
        across_mm: 0.0,
        down_mm: 0.0,
    }
}

/// Numbers that look thrown, from a multiplicative generator (Park & Miller 1988).
struct Dice(u64);

impl Dice {
    fn between(&mut self, low: f64, high: f64) -> f64 {
        self.0 = self.0 * 48_271 % 2_147_483_647;
        low + (high - low) * self.0 as f64 / 2_147_483_647.0
    }
}

/// Panics where two labels of one sheet overlap, or one leaves the paper, by more than the last
/// digit of a double.
fn lie_apart(sheet: &Sheet, places: &[Place]) {
    const HAIR: f64 = 1e-9;
    let mm = sheet.mm();
    let (wide, high) = mm.paper.size_mm();
    for (i, a) in places.iter().enumerate() {
        assert!(a.left_mm >= 0.0 && a.top_mm >= 0.0, "{a:?}");
        let (right, bottom) = (a.left_mm + mm.width_mm, a.top_mm + mm.height_mm);
        assert!(
            right <= wide + HAIR && bottom <= high + HAIR,
            "{a:?} of {mm:?}"
        );
        for b in places[i + 1..].iter().filter(|b| b.page == a.page) {
            let beside = b.left_mm >= right - HAIR || a.left_mm >= b.left_mm + mm.width_mm - HAIR;
            let below = b.top_mm >= bottom - HAIR || a.top_mm >= b.top_mm + mm.height_mm - HAIR;
            assert!(beside || below, "{a:?} {b:?} of {mm:?}");
        }
    }
}

#[test]
fn labels_never_overlap_and_never_leave_the_paper() {
    let mut dice = Dice(20_261_201);
    let mut taken = 0;
    for _ in 0..20_000 {
        let mm = SheetMm {
            paper: if dice.between(0.0, 1.0) < 0.5 {
                Paper::A4
            } else {
                Paper::Letter
            },
            columns: dice.between(1.0, 7.0) as u8,
            rows: dice.between(1.0, 14.0) as u8,
            width_mm: dice.between(10.0, 110.0),
            height_mm: dice.between(10.0, 80.0),
            left_mm: dice.between(-2.0, 12.0),
            top_mm: dice.between(-2.0, 16.0),
            across_mm: dice.between(0.0, 4.0),
            down_mm: dice.between(0.0, 4.0),
        };
        let Ok(sheet) = Sheet::new(mm) else { continue };
        taken += 1;
        lie_apart(&sheet, &sheet.places(sheet.fits() + 3, &[0]));
    }
    assert!(taken > 1000, "{taken}");
}

#[test]
fn the_sizes_offered_fit_their_paper() {
    let usual = Stock::usual();
    assert_eq!(usual.len(), 11);
    let fits: Vec<u16> = usual
        .iter()
        .filter_map(|stock| match stock {
            Stock::Sheet(sheet) => {
                lie_apart(sheet, &sheet.places(sheet.fits(), &[]));
                Some(sheet.fits())
            }
            Stock::Roll(_) => None,
        })
        .collect();
    assert_eq!(fits, [24, 16, 40, 21, 65, 30, 10]);
}

#[test]
fn a_started_sheet_is_gone_on_with() {
    let sheet = Sheet::new(a_sheet()).unwrap();
    let places = sheet.places(24, &[0, 1, 2, 5, 99]);
    let told: Vec<_> = places.iter().map(|p| (p.page, p.position)).collect();
    assert_eq!(told[..3], [(0, 3), (0, 4), (0, 6)]);
    assert_eq!(told[19..], [(0, 23), (1, 0), (1, 1), (1, 2), (1, 3)]);
    assert_eq!((places[0].left_mm, places[0].top_mm), (0.0, 37.5));
    assert_eq!((places[1].left_mm, places[1].top_mm), (70.0, 37.5));
    // A sheet that is all gone: everything goes on the next.
    let all: Vec<u16> = (0..24).collect();
    assert!(sheet.places(5, &all).iter().all(|p| p.page == 1));
    assert!(sheet.places(0, &[]).is_empty());
}

#[test]
fn what_leaves_the_paper_is_refused_by_its_name() {
    let bad = |mm: SheetMm| Sheet::new(mm).unwrap_err().field;
    let sheet = a_sheet();
    assert_eq!(
        bad(SheetMm {
            columns: 4,
            ..sheet
        }),
        "columns_end_mm"
    );
    assert_eq!(
        bad(SheetMm {
            top_mm: 1.1,
            ..sheet
        }),
        "rows_end_mm"
    );
    assert_eq!(
        bad(SheetMm {
            paper: Paper::Letter,
            ..sheet
        }),
        "rows_end_mm"
    );
    assert_eq!(
        bad(SheetMm {
            columns: 0,
            ..sheet
        }),
        "columns"
    );
    assert_eq!(
        bad(SheetMm {
            width_mm: f64::NAN,
            ..sheet
        }),
        "width_mm"
    );
    assert_eq!(
        bad(SheetMm {
            height_mm: 14.9,
            ..sheet
        }),
        "height_mm"
    );
    assert_eq!(
        bad(SheetMm {
            left_mm: -0.1,
            ..sheet
        }),
        "left_mm"
    );
    let roll = |width_mm, height_mm| {
        Roll::new(RollMm {
            width_mm,
            height_mm,
        })
    };
    assert_eq!(roll(121.0, 30.0).unwrap_err().field, "width_mm");
    assert_eq!(roll(50.0, 0.0).unwrap_err().field, "height_mm");
    let stock = Stock::Roll(roll(50.0, 25.0).unwrap());
    assert_eq!(stock.places(3, &[0]).len(), 3);
    let read: Result<Sheet, _> = serde_json::from_str(
        r#"{"paper":"a4","columns":4,"rows":8,"width_mm":70,"height_mm":37,"left_mm":0,"top_mm":0}"#,
    );
    assert!(read.is_err());
}

// An address of 38 capitals is a symbol of 33 modules at level H and of 25 at M (ISO/IEC 18004,
// table 7); with 8 of quiet zone, 41 and 33 modules of 0.33 mm.
#[test]
fn a_symbol_is_as_strong_as_the_label_is_large() {
    let Fit::Reads {
        level,
        modules,
        module_mm,
    } = fit(38, 41.0 * 0.34)
    else {
        panic!("does not read");
    };
    assert_eq!((level, modules), (Level::H, 33));
    assert!((module_mm - 0.34).abs() < 1e-12);
    assert!(matches!(
        fit(38, 33.0 * 0.34),
        Fit::Reads {
            level: Level::M,
            modules: 25,
            ..
        }
    ));
    let Fit::TooSmall { needs_mm } = fit(38, 33.0 * 0.32) else {
        panic!("reads");
    };
    assert!((needs_mm - 33.0 * MODULE_LOW_MM).abs() < 1e-12);
    assert_eq!(fit(222, 1000.0), Fit::TooLong { most: 221 });
    assert!(matches!(fit(38, f64::NAN), Fit::TooSmall { .. }));
    // An address of 30 characters reads on every size that is offered.
    for stock in Stock::usual() {
        assert!(
            matches!(fit(30, stock.symbol_mm()), Fit::Reads { .. }),
            "{stock:?}"
        );
    }
}
