//! The filling table against what is printed and what is worked by hand, with the source beside each.

use super::*;
use crate::collection::{Amount, Collection, Glove, Mount, Outcome, Trouble};
use crate::evaluation::{ConcentrationBy, Evaluation, Share};
use crate::extender::ExtenderClass;
use crate::id::BoarId;
use crate::said::Said;
use crate::serving::Reach;
use crate::time::{DAY_MS, HOUR_MS, Stamp};
use crate::units::{Concentration, Percent, ServicesPerHeat, Sows};

mod assured;
mod odd;
mod poured;

/// 2026-03-02 06:00 UTC.
const AT_MS: i64 = 1_772_431_200_000;

fn entry(n: u8) -> EntryId {
    EntryId::from_uuid(uuid::Uuid::from_u128(n.into()))
}

fn cup(n: u8, ml: f64, measured: Option<(f64, f64)>) -> Cup {
    let boar = BoarId::from_uuid(uuid::Uuid::from_u128((n + 100).into()));
    let share = |percent| Share {
        percent: Percent::new(percent).unwrap(),
        cells: Some(200),
    };
    let evaluation = |(dense, motile): (f64, f64)| Evaluation {
        concentration: Some(ConcentrationBy::Instrument(
            Concentration::new(dense).unwrap(),
        )),
        motile: Some(share(motile)),
        ..Evaluation::begun(entry(n), boar)
    };
    Cup {
        boar,
        collection: entry(n),
        at: Stamp::new(AT_MS + i64::from(n) * HOUR_MS, 0).unwrap(),
        collected: Collection {
            boar,
            outcome: Outcome::Collected,
            glove: Said::Confirmed(Glove::Vinyl),
            mount: Said::ByDefault(Mount::Dummy),
            steps: vec![],
            sperm_poor_in: Said::Unanswered,
            amount: Some(Amount::Volume(VolumeMl::new(ml).unwrap())),
            amount_confirmed: false,
            temper: None,
            trouble: vec![],
            despite: None,
            note: None,
        },
        evaluated: measured.map(|m| (entry(n + 50), evaluation(m))),
    }
}

fn filled(cups: &[Cup], chosen: &Chosen) -> Filling {
    fill(cups, &Holding::default(), chosen, last_in(cups)).unwrap()
}

/// When the last of them was collected.
fn last_in(cups: &[Cup]) -> i64 {
    cups.iter().map(|c| c.at.ms()).max().unwrap()
}

fn code() -> Code {
    Code::from_number(7).unwrap()
}

fn best(filling: &Filling) -> (u32, f64) {
    let filled = filling.fill.best().unwrap();
    (filled.doses, filled.extender_ml)
}

fn celsius(semen: f64, extender: f64) -> Chosen {
    Chosen {
        semen: TemperatureC::new(semen).ok(),
        extender_is: TemperatureC::new(extender).ok(),
        ..Chosen::default()
    }
}

// Means of young Yorkshire boars in an older printed trial: 178 mL × 143 M/mL × 74.9 % = 19.07×10⁹.
#[test]
fn printed_inputs_make_six_doses() {
    let filling = filled(&[cup(1, 178.0, Some((143.0, 74.9)))], &Chosen::default());
    assert_eq!(best(&filling), (6, 302.0));
}

// 13 doses: 250 × 200 × 0.8 = 40,000 M, worked by hand.
#[test]
fn a_default_taken_and_a_default_confirmed_stay_two_things() {
    let cups = [cup(1, 250.0, Some((200.0, 80.0)))];
    let taken = filled(&cups, &Chosen::default());
    let chosen = Chosen {
        technique: Some(Technique::Intracervical),
        target: Some(SpermBillions::THREE),
        dose_volume: Some(DoseVolumeMl::EIGHTY),
        extender: Some(ExtenderClass::Short),
        ..Chosen::default()
    };
    let confirmed = filled(&cups, &chosen);
    assert_eq!(best(&taken), (13, 790.0));
    assert_eq!(taken.answered, confirmed.answered);
    for word in ["target_billions", "dose_volume_ml", "confirmed", "short"] {
        assert!(
            !taken.asked.contains(word) && confirmed.asked.contains(word),
            "{word}"
        );
    }
}

// 40,000 M and 25,454 × 0.749 = 19,065.0 M are 59,065.0 M: 19 doses of 3×10⁹, 19 × 80 − 428 mL;
// 67.7219 % and 32.2781 %.
#[test]
fn a_pool_is_summed_by_ejaculate_and_keeps_each_boars_share() {
    let cups = [
        cup(2, 250.0, Some((200.0, 80.0))),
        cup(1, 178.0, Some((143.0, 74.9))),
    ];
    let filling = filled(&cups, &Chosen::default());
    assert_eq!(best(&filling), (19, 1092.0));
    let [first, second] = filling.shares_percent[..] else {
        panic!("{:?}", filling.shares_percent)
    };
    assert!((first - 67.721_948).abs() < 1e-6 && (first + second - 100.0).abs() < 1e-9);
    let batch = filling.batch(code()).unwrap();
    let boars: Vec<_> = batch.sources.iter().map(|s| s.boar).collect();
    assert_eq!(boars, [cups[0].boar, cups[1].boar]);
    // Three days from the earlier of the two.
    assert_eq!(batch.use_by.ms(), cups[1].at.ms() + 3 * DAY_MS);
    assert_eq!(
        answer(&batch.reckoning, batch.asked.as_bytes()).unwrap(),
        batch.answered
    );
    assert!(
        filled(&cups[..1], &Chosen::default())
            .shares_percent
            .is_empty()
    );
}

// Latex kills sperm, blood is discarded, 60 % motility is the floor (common practice, no source).
#[test]
fn what_failed_cannot_be_put_in_and_says_why() {
    let good = cup(1, 250.0, Some((200.0, 80.0)));
    let mut latex = cup(2, 250.0, Some((200.0, 80.0)));
    latex.collected.glove = Said::Confirmed(Glove::Latex);
    let mut blood = cup(3, 250.0, Some((200.0, 80.0)));
    blood.collected.trouble = vec![Trouble::Blood];
    let lame = cup(4, 250.0, Some((200.0, 59.0)));
    let standard = Standard::default();
    for bad in [latex, blood, lame] {
        let barred = bad.barred(standard.count_as, &standard).unwrap();
        assert!(matches!(barred, Barred::Unfit(_)), "{barred:?}");
        let pool = [good.clone(), bad.clone()];
        let refused = fill(&pool, &Holding::default(), &Chosen::default(), AT_MS).unwrap_err();
        assert_eq!(refused, FillError::Barred(bad.collection, barred));
    }
    assert_eq!(good.barred(standard.count_as, &standard), None);
    let unknown = cup(5, 250.0, None);
    let lacks = Barred::NotMeasured(vec![Missing::Concentration, Missing::Motility]);
    assert_eq!(unknown.barred(standard.count_as, &standard), Some(lacks));
    let filling = filled(&[unknown], &Chosen::default());
    assert!(filling.fill.best().is_none() && filling.batch(code()).is_none());
}

// Queensland Government: up to 100 mL undiluted within hours, or 20 mL made up to 80–100 mL.
#[test]
fn without_a_microscope_doses_are_not_counted() {
    let cups = [cup(1, 250.0, None)];
    let by = |route| Chosen {
        route: Some(route),
        ..Chosen::default()
    };
    let holding = Holding {
        standard: Standard {
            antibiotic: Some(true),
            ..Standard::default()
        },
        entry: None,
    };
    let made = |route| fill(&cups, &holding, &by(route), last_in(&cups)).unwrap();
    let extended = made(PlainRoute::Extended);
    assert_eq!(best(&extended), (12, 720.0));
    let batch = extended.batch(code()).unwrap();
    assert!(!batch.counted && batch.antibiotic == Some(true));
    let pure = made(PlainRoute::Undiluted);
    assert_eq!(best(&pure), (2, 0.0));
    let batch = pure.batch(code()).unwrap();
    assert!(!batch.counted && batch.antibiotic == Some(false));
    assert_eq!(batch.use_by.ms(), cups[0].at.ms() + 2 * HOUR_MS);
    let two = [cups[0].clone(), cup(2, 200.0, None)];
    let refused = fill(&two, &holding, &by(PlainRoute::Extended), last_in(&two));
    assert_eq!(refused, Err(FillError::OneAtATime));
}

// The extender within 1–2 °C of the semen (common practice, no source).
#[test]
fn temperatures_more_than_two_degrees_apart_are_asked_about_once() {
    let cups = [cup(1, 250.0, Some((200.0, 80.0)))];
    assert!(filled(&cups, &celsius(34.0, 32.0)).odd.is_empty());
    assert!(filled(&cups, &Chosen::default()).odd.is_empty());
    let mut chosen = celsius(34.0, 31.9);
    let asked = filled(&cups, &chosen);
    let [odd] = asked.odd[..] else {
        panic!("{:?}", asked.odd)
    };
    assert_eq!((odd.what, odd.read), (Confirmed::Temperatures, 2.1));
    assert_eq!(asked.batch(code()), None);
    chosen.kept.push(odd);
    let kept = filled(&cups, &chosen);
    let batch = kept.batch(code()).unwrap();
    assert!(
        batch.asked.contains(r#""confirmed":["temperatures"]"#),
        "{}",
        batch.asked
    );
    // Undiluted semen meets no extender.
    let pure = Chosen {
        route: Some(PlainRoute::Undiluted),
        ..celsius(34.0, 20.0)
    };
    assert!(filled(&cups, &pure).odd.is_empty());
}

#[test]
fn an_improbable_figure_is_asked_about_once_and_keeps_its_flag() {
    let dense = cup(1, 30.0, Some((1100.0, 80.0)));
    let mut chosen = Chosen {
        target: SpermBillions::new(8.0).ok(),
        ..celsius(34.0, 5.0)
    };
    let odd: Vec<_> = filled(std::slice::from_ref(&dense), &chosen).odd;
    let what: Vec<_> = odd.iter().map(|odd| odd.what).collect();
    let all = [
        Confirmed::Volume,
        Confirmed::Concentration,
        Confirmed::Target,
        Confirmed::ExtenderTemperature,
        Confirmed::Temperatures,
    ];
    assert_eq!(what, all);
    chosen.kept = odd;
    let kept = filled(std::slice::from_ref(&dense), &chosen);
    assert!(kept.odd.is_empty());
    for word in ["volume", "concentration", "target", "extender_temperature"] {
        assert!(kept.asked.contains(&format!("\"{word}\"")), "{word}");
    }
    // What the barn was asked about already is not asked about again.
    let mut confirmed = dense;
    confirmed.collected.amount_confirmed = true;
    chosen.kept = vec![];
    let again = filled(&[confirmed], &chosen).odd;
    assert!(again.iter().all(|odd| odd.what != Confirmed::Volume));
}

// 10 sows × 2 services need 20; 13 doses serve 6 in full, the next gets 1, three get none.
#[test]
fn who_goes_short_and_what_is_left_over() {
    let cups = [cup(1, 250.0, Some((200.0, 80.0)))];
    let for_sows = |sows, services: Option<u32>| {
        let chosen = Chosen {
            sows: Sows::new(sows).ok(),
            services: services.and_then(|n| ServicesPerHeat::new(n).ok()),
            ..Chosen::default()
        };
        let serving = filled(&cups, &chosen).serving.unwrap();
        (serving.needed, serving.reach.unwrap())
    };
    let short = Reach {
        spare: 0,
        short: 7,
        sows_served: 6,
        next_gets: 1,
        sows_without: 3,
    };
    assert_eq!(for_sows(10, None), (20, short));
    let (needed, reach) = for_sows(4, Some(3));
    assert_eq!((needed, reach.spare, reach.short), (12, 1, 0));
}

// 500 mL × 500 M/mL × 90 % are 1,500 deep doses of 0.15×10⁹ (from memory); a batch holds 200.
#[test]
fn a_batch_holds_two_hundred_doses_and_the_rest_stays() {
    let chosen = Chosen {
        technique: Some(Technique::DeepUterine),
        ..Chosen::default()
    };
    let filling = filled(&[cup(1, 500.0, Some((500.0, 90.0)))], &chosen);
    let filled = filling.fill.best().unwrap();
    assert_eq!(filled.doses, 200);
    assert!((filled.semen_left_ml - 500.0 * (1.0 - 200.0 / 1500.0)).abs() < 1e-9);
    assert_eq!(filling.batch(code()).unwrap().doses, 200);
}

#[test]
fn another_extender_than_the_farms_says_nothing_of_antibiotics() {
    let standard = Standard {
        antibiotic: Some(false),
        keeps_days: 5,
        ..Standard::default()
    };
    let holding = Holding {
        standard,
        entry: Some(entry(9)),
    };
    let cups = [cup(1, 250.0, Some((200.0, 80.0)))];
    let with = |extender| {
        let chosen = Chosen {
            extender,
            ..Chosen::default()
        };
        let batch = fill(&cups, &holding, &chosen, last_in(&cups))
            .unwrap()
            .batch(code())
            .unwrap();
        assert_eq!(batch.standard, Some(entry(9)));
        let days = (batch.use_by.ms() - cups[0].at.ms()) / DAY_MS;
        (batch.antibiotic, days)
    };
    assert_eq!(with(None), (Some(false), 5));
    assert_eq!(with(Some(ExtenderClass::Medium)), (Some(false), 5));
    // Seven days: the cautious end of what is remembered of long-term extender.
    assert_eq!(with(Some(ExtenderClass::Long)), (None, 7));
}

// The volumes printed for plain doses (Queensland Government) are made for the cervix.
#[test]
fn what_is_not_counted_goes_into_the_cervix() {
    let cups = [cup(1, 250.0, None)];
    for technique in [Technique::PostCervical, Technique::DeepUterine] {
        let chosen = Chosen {
            route: Some(PlainRoute::Extended),
            technique: Some(technique),
            ..Chosen::default()
        };
        let batch = filled(&cups, &chosen).batch(code()).unwrap();
        assert_eq!(batch.technique, Technique::Intracervical);
        // Nobody chose that.
        assert!(!batch.asked.contains("technique"), "{}", batch.asked);
    }
}
