//! Pen tags seen by a camera: our scanner reads what our printer prints, at the rates measured
//! when it was written. Each floor is a little under the rate found, of the same seeds.

// A helper of a test fails with it.
#![allow(clippy::unwrap_used)]

use pentally_domain::code::Code;
use pentally_scanner::{Look, Luma, read, read_still};
use pentally_server::tags::{Origin, svg};
use pentally_tests::camera::{Card, Frame, Shot, write_y4m};

fn origin() -> Origin {
    Origin::parse("https://barn.example:8420").unwrap()
}

fn code(seed: u64) -> Code {
    Code::from_number(u32::try_from(seed * 2_477 % 100_000).unwrap()).unwrap()
}

fn two(seed: u64) -> Card {
    Card::two(&svg(&origin(), code(seed)).unwrap()).unwrap()
}

fn one(seed: u64) -> Card {
    Card::one(&svg(&origin(), code(seed)).unwrap()).unwrap()
}

fn luma(frame: &Frame) -> Luma {
    Luma::of_rgba(&frame.rgba(), frame.width, frame.height).unwrap()
}

/// How many of the seeds are read, none of them wrongly.
fn read_of(seeds: u64, scene: impl Fn(u64) -> Frame) -> usize {
    let is_read = |seed: &u64| {
        let text = read_still(&luma(&scene(*seed)));
        assert!(
            text.as_ref()
                .is_none_or(|t| *t == origin().url(code(*seed))),
            "misread {text:?}"
        );
        text.is_some()
    };
    let found = (0..seeds).filter(is_read).count();
    println!("{found} of {seeds}");
    found
}

fn by_hand(px_per_mm: f64, seed: u64) -> Shot {
    Shot::by_hand(640, 480, px_per_mm, seed)
}

#[test]
fn near_and_far() {
    for (px_per_mm, floor) in [(1.0, 9), (1.5, 17), (2.0, 20), (3.0, 20)] {
        let found = read_of(20, |seed| by_hand(px_per_mm, seed).of(&two(seed)));
        assert!(found >= floor, "{px_per_mm} px/mm: {found} of 20");
    }
}

#[test]
fn blurred_and_smeared() {
    for (blur_px, floor) in [(1.5, 19), (2.0, 18)] {
        let found = read_of(20, |seed| {
            Shot {
                blur_px,
                ..by_hand(3.0, seed)
            }
            .of(&two(seed))
        });
        assert!(found >= floor, "blur of {blur_px} px: {found} of 20");
    }
    let found = read_of(20, |seed| {
        Shot {
            smear_px: 7,
            ..by_hand(3.0, seed)
        }
        .of(&two(seed))
    });
    assert!(found >= 18, "smear: {found} of 20");
}

#[test]
fn tilted() {
    for (yaw_deg, floor) in [(45.0, 19), (60.0, 18)] {
        let found = read_of(20, |seed| {
            Shot {
                yaw_deg,
                ..by_hand(3.0, seed)
            }
            .of(&two(seed))
        });
        assert!(found >= floor, "{yaw_deg}° aside: {found} of 20");
    }
}

/// Splashes kill finder patterns, whatever the level: a second symbol saves about as many again.
#[test]
fn a_tenth_dirty_with_two_symbols_against_one() {
    let (of_two, of_one) = dirty(40, 0.1);
    assert!(
        of_two >= 17 && of_one <= 11,
        "{of_two} of 40 with two symbols, {of_one} with one"
    );
}

#[test]
fn a_twentieth_dirty_with_two_symbols_against_one() {
    let (of_two, of_one) = dirty(20, 0.05);
    assert!(
        of_two >= 14 && of_one < of_two,
        "{of_two} of 20 with two symbols, {of_one} with one"
    );
}

/// How many are read with two symbols and with one, under the same splashes.
fn dirty(seeds: u64, share: f64) -> (usize, usize) {
    let seen = |card: fn(u64) -> Card| {
        read_of(seeds, |seed| {
            by_hand(3.0, seed).of(&card(seed).dirty(share, seed))
        })
    };
    let found = (seen(two), seen(one));
    println!("{share} of the symbols dirty: {found:?} of {seeds} with two and with one");
    found
}

#[test]
fn close_up_in_a_large_frame() {
    let found = read_of(6, |seed| {
        let card = two(seed);
        let centre_mm = card.left_symbol_mm();
        Shot {
            centre_mm,
            blur_px: 2.0,
            ..Shot::by_hand(1280, 720, 9.0, seed)
        }
        .of(&card)
    });
    assert_eq!(found, 6);
}

/// The frames of one hand that trembles: each look in turn is enough.
#[test]
fn one_look_a_frame() {
    for seed in 0..10 {
        let card = two(seed);
        let frame = |turn: u32| {
            Shot {
                seed: u64::from(turn),
                ..by_hand(2.0, seed)
            }
            .of(&card)
        };
        let seen = (0..5).find_map(|turn| read(&luma(&frame(turn)), Look::of_turn(turn)));
        assert_eq!(seen, Some(origin().url(code(seed))));
    }
}

#[test]
fn nothing_is_read_where_nothing_is() {
    let flat = Luma::new(vec![120; 640 * 480], 640, 480).unwrap();
    assert_eq!(read_still(&flat), None);
    let wall = Shot {
        centre_mm: (2_000.0, 0.0),
        noise: 12.0,
        ..Shot::new(320, 240, 2.0, 1)
    };
    assert_eq!(read_still(&luma(&wall.of(&two(1)))), None);
    let buried = Shot::new(640, 480, 3.0, 1).of(&two(1).dirty(0.6, 1));
    assert_eq!(read_still(&luma(&buried)), None);
}

#[test]
fn frames_that_do_not_fit_their_size_are_refused() {
    assert_eq!(Luma::of_rgba(&[0; 4 * 30 * 30], 30, 31), None);
    assert_eq!(Luma::of_rgba(&[0; 4 * 30 * 30 + 1], 30, 30), None);
    assert_eq!(Luma::new(vec![], 0, 0), None);
    assert_eq!(Luma::new(vec![0; 28 * 40], 28, 40), None);
    assert_eq!(Luma::new(vec![0; 16], usize::MAX, 2), None);
    assert!(Luma::new(vec![0; 29 * 29], 29, 29).is_some());
    let smallest = Luma::new(vec![255; 29 * 29], 29, 29).unwrap();
    assert_eq!(read_still(&smallest), None);
}

#[test]
fn a_video_holds_whole_frames() {
    let frames: Vec<_> = (0..3).map(|seed| by_hand(3.0, seed).of(&two(7))).collect();
    let path = std::env::temp_dir().join(format!("pentally-{}.y4m", std::process::id()));
    write_y4m(&path, &frames).unwrap();
    let written = std::fs::read(&path).unwrap();
    std::fs::remove_file(&path).unwrap();
    let header = b"YUV4MPEG2 W640 H480 F10:1 Ip A1:1 C420jpeg\n";
    assert!(written.starts_with(header));
    assert_eq!(
        written.len(),
        header.len() + 3 * (b"FRAME\n".len() + 640 * 480 * 3 / 2)
    );
    let first = written[header.len() + 6..][..640 * 480].to_vec();
    assert_eq!(
        read_still(&Luma::new(first, 640, 480).unwrap()),
        Some(origin().url(code(7)))
    );
    assert!(write_y4m(&path, &[]).is_err());
}
