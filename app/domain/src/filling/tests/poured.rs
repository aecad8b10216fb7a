//! The mix of extender that goes in, and the label of what comes out.

use super::*;
use crate::barn::Seen;
use crate::envelope::Order;
use crate::extender::mix::{ExtenderLot, ExtenderMix, Form, Poured, Water, WaterSource, made_with};
use crate::farm::CountAs;
use crate::id::DeviceId;
use crate::label::BatchLabel;
use crate::said::Label;
use crate::time::{Clock, MINUTE_MS, Zone};
use crate::units::MixVolumeMl;

fn seen<T>(n: u8, ms: i64, fact: T) -> Seen<T> {
    Seen {
        order: Order {
            at_ms: ms,
            clock: Clock::default(),
            id: entry(n),
        },
        at: Stamp::new(ms, 0).unwrap(),
        person: None,
        device: DeviceId::from_uuid(uuid::Uuid::nil()),
        seq: 1,
        corrected_by: None,
        fact,
    }
}

/// Long-term extender without an antibiotic, mixed two hours before the cup of [`cup`] was full.
fn poured() -> Poured {
    let lot = ExtenderLot {
        product: Label::parse("Extender A").unwrap(),
        lot: Label::parse("L-17").unwrap(),
        class: ExtenderClass::Long,
        form: Form::Powder,
        best_before: None,
        antibiotic: Some(false),
        makes: None,
        days: None,
    };
    let mix = ExtenderMix {
        lot: entry(70),
        water: Water {
            source: WaterSource::Deionised,
            conductivity: None,
            supplier: None,
        },
        volume: MixVolumeMl::new(5000.0).unwrap(),
        temperature: None,
        ready_after: None,
        keeps: None,
    };
    let mixed = seen(71, AT_MS - HOUR_MS, mix);
    Poured::of(&mixed, &lot, &Zone::fixed("UTC", 0)).unwrap()
}

fn with_mix(route: Option<PlainRoute>) -> Chosen {
    Chosen {
        route,
        // What the mix says of its class goes before.
        extender: Some(ExtenderClass::Short),
        extender_mix: Some(poured()),
        ..Chosen::default()
    }
}

#[test]
fn class_and_antibiotic_are_those_of_the_lot() {
    let cups = [cup(1, 250.0, Some((200.0, 80.0)))];
    let batch = filled(&cups, &with_mix(None)).batch(code()).unwrap();
    assert_eq!(
        (batch.extender_mix, batch.antibiotic),
        (Some(entry(71)), Some(false))
    );
    // Seven days: the cautious end of what is remembered of long-term extender.
    assert_eq!((batch.use_by.ms() - cups[0].at.ms()) / DAY_MS, 7);
    assert_eq!(batch.answered_the_same(), Some(true));
    let text = serde_json::to_string(&batch).unwrap();
    assert!(
        text.ends_with(r#""extender_mix":"00000000-0000-0000-0000-000000000047"}"#),
        "{text}"
    );
    // Undiluted semen meets no extender.
    let pure = filled(&cups, &with_mix(Some(PlainRoute::Undiluted)));
    let pure = pure.batch(code()).unwrap();
    assert_eq!((pure.extender_mix, pure.antibiotic), (None, Some(false)));
    let without = filled(&cups, &Chosen::default()).batch(code()).unwrap();
    assert!(
        !serde_json::to_string(&without)
            .unwrap()
            .contains("extender_mix")
    );
}

#[test]
fn extender_past_its_life_fills_nothing_and_a_fresh_one_is_told() {
    let cups = [cup(1, 250.0, Some((200.0, 80.0)))];
    let at = |ms: i64, chosen: &Chosen| fill(&cups, &Holding::default(), chosen, ms);
    let life = poured().life;
    let fresh = at(life.ready_at.ms() - MINUTE_MS, &with_mix(None)).unwrap();
    assert_eq!(fresh.extender_ready_at, Some(life.ready_at));
    let ready = at(life.ready_at.ms(), &with_mix(None)).unwrap();
    assert_eq!(ready.extender_ready_at, None);
    let past = at(life.ends_at.ms(), &with_mix(None)).unwrap_err();
    assert_eq!(
        past,
        FillError::ExtenderPast {
            mix: entry(71),
            since: life.ends_at
        }
    );
    assert!(past.to_string().contains("mix anew"));
    assert!(at(life.ends_at.ms(), &with_mix(Some(PlainRoute::Undiluted))).is_ok());
}

#[test]
fn the_batches_of_a_mix_are_found_once_each() {
    let cups = [cup(1, 250.0, Some((200.0, 80.0)))];
    let with = filled(&cups, &with_mix(None)).batch(code()).unwrap();
    let without = filled(&cups, &Chosen::default()).batch(code()).unwrap();
    let batches = [
        seen(82, AT_MS + 2, with.clone()),
        seen(81, AT_MS + 1, with.clone()),
        // A pool stands with each of its boars.
        seen(82, AT_MS + 2, with),
        seen(83, AT_MS, without),
    ];
    assert_eq!(made_with(&[entry(71)], &batches), [entry(81), entry(82)]);
    assert!(made_with(&[entry(72)], &batches).is_empty());
}

// 250 mL × 200 M/mL × 80 % motile are 40×10⁹, in 13 doses 3077 M each.
#[test]
fn a_label_says_what_the_batch_recorded() {
    let cups = [cup(1, 250.0, Some((200.0, 80.0)))];
    let number = |_| Label::parse("117").ok();
    let batch = seen(
        80,
        last_in(&cups),
        filled(&cups, &with_mix(None)).batch(code()).unwrap(),
    );
    let label = BatchLabel::of(&batch, number);
    assert_eq!(label.code.to_string(), code().to_string());
    assert_eq!(label.path(), format!("/B/{}", code().digits()));
    assert_eq!(
        (label.collected_at, label.made_at),
        (Some(cups[0].at), batch.at)
    );
    let sperm = label.sperm.unwrap();
    assert!((sperm.millions - 40_000.0 / 13.0).abs() < 1e-6);
    assert_eq!(sperm.count_as, CountAs::default());
    assert_eq!(
        (label.store_c, label.antibiotic),
        (Some((15.0, 18.0)), Some(false))
    );
    assert!(!label.is_pool() && label.boars.len() == 1);
    // What nobody counted has no number of sperm, and undiluted semen no store.
    let pure = filled(&cups, &with_mix(Some(PlainRoute::Undiluted)));
    let pure = BatchLabel::of(&seen(80, AT_MS, pure.batch(code()).unwrap()), number);
    assert_eq!((pure.sperm, pure.store_c), (None, None));
    assert_eq!(pure.collected_at, Some(cups[0].at));
    let extended = filled(&cups, &with_mix(Some(PlainRoute::Extended)));
    let extended = BatchLabel::of(&seen(80, AT_MS, extended.batch(code()).unwrap()), |_| None);
    assert_eq!(
        (extended.sperm, extended.store_c),
        (None, Some((15.0, 18.0)))
    );
    assert_eq!(extended.boars, [None]);
    // A pool names each boar once, and a batch that cannot be read says less, not worse.
    let pool = [
        cup(1, 250.0, Some((200.0, 80.0))),
        cup(2, 150.0, Some((200.0, 80.0))),
    ];
    let mut pool = filled(&pool, &Chosen::default()).batch(code()).unwrap();
    assert!(BatchLabel::of(&seen(80, AT_MS, pool.clone()), number).is_pool());
    pool.asked = "{".into();
    let unread = BatchLabel::of(&seen(80, AT_MS, pool), number);
    assert_eq!((unread.sperm, unread.collected_at), (None, None));
}
