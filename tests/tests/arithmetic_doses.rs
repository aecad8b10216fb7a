//! The filling table's arithmetic against what is printed, with the source beside each.

use pentally_domain::doses::{Ejaculate, Making, Plan, Recipe, Technique, make};
use pentally_domain::explain::{Origin, Term};
use pentally_domain::extender::{ExtenderClass, Keeping, MIXING};
use pentally_domain::farm::CountAs;
use pentally_domain::plain::{PlainMaking, PlainPlan, PlainRecipe, PlainRoute, make_plain};
use pentally_domain::serving::serve;
use pentally_domain::time::Stamp;
use pentally_domain::units::{
    Concentration, DoseVolumeMl, Percent, ServicesPerHeat, Sows, SpermBillions, VolumeMl,
};

fn ejaculate(ml: f64, m_per_ml: f64, motile: Option<f64>) -> Ejaculate {
    Ejaculate {
        volume: VolumeMl::new(ml).ok(),
        concentration: Concentration::new(m_per_ml).ok(),
        motile: motile.map(|p| Percent::new(p).expect("percent")),
        ..Ejaculate::default()
    }
}

fn recipe(count_as: CountAs, technique: Technique) -> Recipe {
    let (target, dose_volume) = technique.usual();
    Recipe {
        count_as,
        target,
        dose_volume,
        at_most: None,
        target_from: Origin::Default,
        dose_volume_from: Origin::Default,
    }
}

fn made(ejaculate: Ejaculate) -> Plan {
    match make(
        &[ejaculate],
        &recipe(CountAs::Motile, Technique::Intracervical),
    )
    .0
    {
        Making::Made(plan) => plan,
        other => panic!("{other:?}"),
    }
}

// Invented numbers, worked by hand: 250 × 200 × 0.8 = 40,000 M; 13 × 80 − 250 = 790 mL.
#[test]
fn thirteen_doses() {
    let plan = made(ejaculate(250.0, 200.0, Some(80.0)));
    assert_eq!(
        (plan.doses, plan.extender_ml, plan.semen_left_ml),
        (13, 790.0, 0.0)
    );
    assert!((plan.final_m_per_ml - 50_000.0 / 1040.0).abs() < 1e-9);
    assert!((plan.sperm_each_m - 40_000.0 / 13.0).abs() < 1e-9);
}

// Means of young Yorkshire boars in an older printed trial, beside which it prints 23.1×10⁹ sperm.
// A MISTAKE TO LOOK OUT FOR: 178 × 143 is 25.45×10⁹, not 23.1. Total sperm is computed for each
// ejaculate and then averaged; a product of means is another figure.
#[test]
fn six_doses_of_printed_inputs_whose_printed_total_is_another() {
    let (making, figures) = make(
        &[ejaculate(178.0, 143.0, Some(74.9))],
        &recipe(CountAs::Motile, Technique::Intracervical),
    );
    let of = |term| {
        figures
            .iter()
            .find(|f| f.figure == term)
            .expect("shown")
            .number()
    };
    assert!((of(Term::Usable) / 1000.0 - 19.06).abs() < 0.01);
    assert!((of(Term::Total) / 1000.0 - 23.1).abs() > 2.0);
    let Making::Made(plan) = making else {
        panic!("{making:?}")
    };
    assert_eq!((plan.doses, plan.extender_ml), (6, 302.0));
}

// Computed per ejaculate, then summed: 27,000 + 18,000 M. The product of the means would say 60,000.
#[test]
fn a_pool_is_summed_per_ejaculate() {
    let pool = [
        ejaculate(100.0, 300.0, Some(90.0)),
        ejaculate(300.0, 100.0, Some(60.0)),
    ];
    let (making, _) = make(&pool, &recipe(CountAs::Motile, Technique::Intracervical));
    let Making::Made(plan) = making else {
        panic!("{making:?}")
    };
    // 15 × 80 − 400 mL.
    assert_eq!((plan.doses, plan.extender_ml), (15, 800.0));
}

// Printed ranges and customary targets; deep uterine from memory.
#[test]
fn targets_of_the_techniques() {
    let usual = |technique: Technique| {
        let (target, volume) = technique.usual();
        (target.value(), volume.value())
    };
    assert_eq!(usual(Technique::Intracervical), (3.0, 80.0));
    assert_eq!(usual(Technique::PostCervical), (1.5, 45.0));
    assert_eq!(usual(Technique::DeepUterine), (0.15, 5.0));
    assert!(Technique::DeepUterine.hidden() && !Technique::default().hidden());
}

#[test]
fn thin_semen_takes_no_extender() {
    // 400 mL × 30 M/mL × 80 % = 9,600 M: three doses of 3×10⁹, but 80 mL of it hold only 1,920 M.
    let thin = ejaculate(400.0, 30.0, Some(80.0));
    let (making, _) = make(&[thin], &recipe(CountAs::Motile, Technique::Intracervical));
    let Making::Thin {
        larger: Some(larger),
        weaker,
    } = making
    else {
        panic!("{making:?}")
    };
    assert_eq!((larger.doses, larger.extender_ml), (3, 0.0));
    assert!((larger.dose_ml - 400.0 / 3.0).abs() < 1e-9 && larger.sperm_each_m >= 3000.0);
    assert_eq!(
        (weaker.doses, weaker.dose_ml, weaker.extender_ml),
        (5, 80.0, 0.0)
    );
    assert!((weaker.sperm_each_m - 1920.0).abs() < 1e-9);
}

#[test]
fn dense_semen_that_overfills_its_doses_is_not_thin() {
    // 250 mL × 15.6 M/mL are 3.9 doses of 1,000 M: 3 × 80 mL filled undiluted, 10 mL left.
    let mut asked = recipe(CountAs::Motile, Technique::Intracervical);
    asked.target = SpermBillions::new(1.0).expect("target");
    let (making, _) = make(&[ejaculate(250.0, 15.6, Some(100.0))], &asked);
    let Making::Made(plan) = making else {
        panic!("{making:?}")
    };
    assert_eq!(
        (plan.doses, plan.extender_ml, plan.semen_left_ml),
        (3, 0.0, 10.0)
    );
}

#[test]
fn what_was_not_measured_is_never_a_number() {
    let asked = |way| {
        make(
            &[ejaculate(250.0, 200.0, None)],
            &recipe(way, Technique::default()),
        )
        .0
    };
    assert!(matches!(asked(CountAs::Total), Making::Made(_)));
    assert!(
        matches!(asked(CountAs::Motile), Making::NotMeasured { missing } if missing.len() == 1)
    );
    assert!(
        matches!(asked(CountAs::MotileNormal), Making::NotMeasured { missing } if missing.len() == 2)
    );
}

// Queensland Government: up to 100 mL gel-free undiluted, or 20 mL made up to 80–100 mL.
#[test]
fn the_plain_route() {
    let plain = |ml, route| {
        let recipe = PlainRecipe::new(route, None, None).expect("recipe");
        match make_plain(VolumeMl::new(ml).ok(), &Origin::Asked, &recipe) {
            PlainMaking::NotCounted(plan) => plan,
            other => panic!("{other:?}"),
        }
    };
    let PlainPlan {
        doses,
        extender_ml,
        semen_left_ml,
        ..
    } = plain(250.0, PlainRoute::Extended);
    assert_eq!((doses, extender_ml, semen_left_ml), (12, 720.0, 10.0));
    let PlainPlan {
        doses,
        dose_ml,
        extender_ml,
        ..
    } = plain(250.0, PlainRoute::Undiluted);
    assert_eq!((doses, dose_ml, extender_ml), (2, 100.0, 0.0));
    // Less than 100 mL is still one dose: "up to".
    assert_eq!(
        (
            plain(60.0, PlainRoute::Undiluted).doses,
            plain(60.0, PlainRoute::Undiluted).dose_ml
        ),
        (1, 60.0)
    );
    let dose = |ml| DoseVolumeMl::new(ml).ok();
    assert!(PlainRecipe::new(PlainRoute::Undiluted, dose(101.0), None).is_err());
    assert!(PlainRecipe::new(PlainRoute::Extended, dose(79.9), None).is_err());
    let none = PlainRecipe::new(PlainRoute::Extended, None, None).expect("recipe");
    assert_eq!(
        make_plain(None, &Origin::Asked, &none),
        PlainMaking::NotMeasured
    );
    for ml in [0.0, 19.9] {
        let found = make_plain(VolumeMl::new(ml).ok(), &Origin::Asked, &none);
        assert_eq!(found, PlainMaking::TooLittle, "{ml}");
    }
}

#[test]
fn sows_that_go_short() {
    let serve = |sows, at_hand| {
        let (sows, two) = (
            Sows::new(sows).expect("sows"),
            ServicesPerHeat::new(2).expect("two"),
        );
        serve(sows, two, Origin::Default, at_hand)
    };
    let reach = |sows, doses| serve(sows, Some(doses)).reach.expect("known");
    let short = reach(5, 7);
    assert_eq!((short.spare, short.short), (0, 3));
    assert_eq!(
        (short.sows_served, short.next_gets, short.sows_without),
        (3, 1, 1)
    );
    let enough = reach(5, 13);
    assert_eq!(
        (
            enough.spare,
            enough.short,
            enough.sows_served,
            enough.sows_without
        ),
        (3, 0, 5, 0)
    );
    assert_eq!((serve(5, None).needed, serve(5, None).reach), (10, None));
}

// Farrowing falls beyond 72 h in short-term extender (Queensland Government); medium 3–5 and long
// 7–10 d from memory.
#[test]
fn extenders_keep_as_their_class_says() {
    let days = |class, days| Keeping::new(class, days).map(|k| (k.class(), k.days()));
    assert_eq!(days(None, None), Ok((ExtenderClass::Short, 3)));
    assert_eq!(
        days(Some(ExtenderClass::Medium), None),
        Ok((ExtenderClass::Medium, 4))
    );
    assert_eq!(
        days(Some(ExtenderClass::Long), None),
        Ok((ExtenderClass::Long, 7))
    );
    assert_eq!(days(None, Some(5)), Ok((ExtenderClass::Medium, 5)));
    assert_eq!(
        days(Some(ExtenderClass::Long), Some(2)),
        Ok((ExtenderClass::Long, 2))
    );
    for (class, too_long) in [
        (ExtenderClass::Short, 4),
        (ExtenderClass::Medium, 6),
        (ExtenderClass::Long, 11),
    ] {
        assert!(days(Some(class), Some(too_long)).is_err(), "{class:?}");
    }
    assert!(days(None, Some(0)).is_err());
    let at = |text| Stamp::parse(text).expect(text);
    let keeping = Keeping::new(None, None).expect("short");
    let use_by = keeping
        .use_by(at("2026-03-28T06:05:00.000+01:00"))
        .expect("in range");
    assert_eq!(use_by, at("2026-03-31T06:05:00.000+01:00"));
    assert!(MIXING.store_c.0 <= MIXING.store_at_c && MIXING.store_at_c <= MIXING.store_c.1);
}
