//! Every formula shown beside a figure is worked out by an independent evaluator and compared with
//! the figure; and laws that hold for all numbers.

#[path = "../arithmetic/evaluate.rs"]
mod evaluate;

use evaluate::check_all;
use pentally_domain::curve::Shape;
use pentally_domain::doses::{Making, Plan};
use pentally_domain::explain::Explained;
use pentally_domain::farm::CountAs;
use pentally_domain::plain::{PlainMaking, PlainRoute};
use pentally_domain::reckon::{
    AgeAsked, AgreementAsked, CountAsked, CurveAsked, DosesAnswer, DosesAsked, EjaculateAsked,
    ErrorsAsked, GestationAsked, PairAsked, PlainAsked, ReplicateAsked, ShareAsked, ShareTallied,
    SowsAsked, SureAsked, TallyAsked, VerdictAsked, age, agreement, count, curve, doses, gestation,
    plain_doses, share, verdict,
};
use pentally_domain::verdict::{Outcome, Overall, Seen};
use proptest::prelude::*;

fn plans(answer: &DosesAnswer) -> Vec<&Plan> {
    match &answer.making {
        Some(Making::Made(plan)) => vec![plan],
        Some(Making::Thin { larger, weaker }) => larger.iter().chain([weaker]).collect(),
        _ => vec![],
    }
}

fn check_doses(answer: &DosesAnswer) {
    let served = answer.serving.iter().flat_map(|s| &s.figures);
    let base: Vec<&Explained> = answer.figures.iter().chain(served).collect();
    check_all(&base);
    for plan in plans(answer) {
        check_all(
            &base
                .iter()
                .copied()
                .chain(&plan.figures)
                .collect::<Vec<_>>(),
        );
    }
}

fn tenths(range: std::ops::Range<u32>) -> impl Strategy<Value = f64> {
    range.prop_map(|tenths| f64::from(tenths) / 10.0)
}

fn ejaculates() -> impl Strategy<Value = EjaculateAsked> {
    (
        tenths(0..6000),
        tenths(0..9000),
        tenths(0..1001),
        tenths(0..1001),
    )
        .prop_map(|(ml, m_per_ml, motile, abnormal)| EjaculateAsked {
            volume_ml: Some(ml),
            concentration_m_per_ml: Some(m_per_ml),
            motile_percent: Some(motile),
            abnormal_percent: Some(abnormal),
            ..EjaculateAsked::default()
        })
}

prop_compose! {
    fn requests()(
        ejaculates in proptest::collection::vec(ejaculates(), 1..4),
        count_as in prop::sample::select(vec![CountAs::Total, CountAs::Motile, CountAs::MotileNormal]),
        target in tenths(1..60),
        volume in tenths(50..1000),
        at_most in prop::option::of(1u32..200),
        sows in prop::option::of(1u32..60),
    ) -> DosesAsked {
        DosesAsked {
            ejaculates,
            count_as,
            target_billions: Some(target),
            dose_volume_ml: Some(volume),
            at_most,
            serving: sows.map(|sows| SowsAsked { sows, services_per_heat: None }),
            ..DosesAsked::default()
        }
    }
}

prop_compose! {
    fn sureness()(
        weighed in any::<bool>(),
        sperm_counted in prop::option::of(1u32..900),
        concentration_error_percent in prop::option::of(tenths(0..200)),
        motile_cells in prop::option::of(1u32..500),
        abnormal_cells in prop::option::of(1u32..500),
    ) -> SureAsked {
        SureAsked {
            weighed,
            sperm_counted,
            concentration_error_percent,
            motile_cells,
            abnormal_cells,
            ..SureAsked::default()
        }
    }
}

/// Volumes add up, and no dose holds what is not there.
fn check_amounts(asked: &DosesAsked, answer: &DosesAnswer) {
    let sum = |of: fn(&EjaculateAsked) -> Option<f64>| {
        asked.ejaculates.iter().filter_map(of).sum::<f64>()
    };
    let volume = sum(|e| e.volume_ml);
    let all = sum(|e| Some(e.volume_ml? * e.concentration_m_per_ml?));
    for plan in plans(answer) {
        let filled = f64::from(plan.doses) * plan.dose_ml;
        let hair = 1e-9 * filled.max(1.0);
        assert!(
            plan.extender_ml >= 0.0 && plan.semen_left_ml >= 0.0,
            "{plan:?}"
        );
        assert!(plan.semen_ml <= volume + hair, "{plan:?}");
        assert!(
            (filled - plan.semen_ml - plan.extender_ml).abs() <= hair,
            "{plan:?}"
        );
        assert!(
            f64::from(plan.doses) * plan.sperm_each_m <= all * (1.0 + 1e-9),
            "{plan:?}"
        );
        assert!(asked.at_most.is_none_or(|most| plan.doses <= most));
    }
    if let Some(Making::Made(plan)) = &answer.making {
        let target = asked.target_billions.expect("asked") * 1000.0;
        assert!(plan.sperm_each_m >= target * (1.0 - 1e-9), "{plan:?}");
    }
}

fn plans_reaching(answer: &DosesAnswer) -> Option<u32> {
    let reaching = answer.making.as_ref().and_then(Making::reaching);
    reaching.filter(|doses| *doses > 0)
}

fn doses_of(answer: &DosesAnswer) -> u32 {
    answer
        .making
        .as_ref()
        .and_then(Making::reaching)
        .unwrap_or(0)
}

proptest! {
    #[test]
    fn formulas_of_doses_yield_their_figures(asked in requests()) {
        check_doses(&doses(&asked).expect("in bounds"));
    }

    #[test]
    fn no_dose_holds_what_does_not_exist(asked in requests()) {
        let answer = doses(&asked).expect("in bounds");
        check_amounts(&asked, &answer);
        if let Some(Making::Thin { weaker, .. }) = &answer.making {
            let target = asked.target_billions.expect("asked") * 1000.0;
            prop_assert!(weaker.sperm_each_m < target && weaker.extender_ml == 0.0, "{weaker:?}");
        }
    }

    #[test]
    fn assured_doses_are_explained_and_hold_what_exists(
        asked in requests(),
        sure in proptest::collection::vec(sureness(), 3),
        assurance in tenths(500..1000),
    ) {
        let plain = doses(&asked).expect("in bounds");
        let mut asked = asked;
        asked.assurance_percent = Some(assurance);
        for (ejaculate, sure) in asked.ejaculates.iter_mut().zip(sure) {
            ejaculate.sure = Some(sure);
        }
        let answer = doses(&asked).expect("in bounds");
        check_doses(&answer);
        check_amounts(&asked, &answer);
        let assured = answer.assured.as_ref().expect("measured");
        prop_assert_eq!(assured.plain.map(|p| p.doses), plans_reaching(&plain));
        prop_assert_eq!(assured.doses.map(|d| d.doses), plans_reaching(&answer));
        if let Some(dosed) = assured.doses {
            prop_assert!(dosed.reached_percent >= assurance - 1e-6, "{dosed:?}");
            prop_assert!(assured.plain.is_none_or(|p| dosed.doses <= p.doses));
        }
        // JSON has no word for what is not a number, and writes null.
        let written = serde_json::to_string(assured).expect("writes");
        prop_assert!(!written.contains("null"), "{written}");
    }

    #[test]
    fn more_semen_never_makes_fewer_doses(asked in requests(), more in tenths(1..500), which in 0usize..3) {
        let before = doses_of(&doses(&asked).expect("in bounds"));
        let mut richer = asked.clone();
        let first = &mut richer.ejaculates[0];
        let grow = |read: &mut Option<f64>, most: f64| *read = read.map(|x| (x + more).min(most));
        match which {
            0 => grow(&mut first.concentration_m_per_ml, 5000.0),
            1 => grow(&mut first.motile_percent, 100.0),
            _ => first.abnormal_percent = first.abnormal_percent.map(|x| (x - more).max(0.0)),
        }
        prop_assume!(doses(&asked).expect("in bounds").making.as_ref().and_then(Making::reaching).is_some());
        prop_assert!(doses_of(&doses(&richer).expect("in bounds")) >= before);
    }

    #[test]
    fn a_higher_target_never_makes_more_doses(asked in requests(), more in tenths(1..50)) {
        let possible = |asked: &DosesAsked| {
            let answer = doses(asked).expect("in bounds");
            let name = pentally_domain::explain::Term::DosesPossible;
            answer.figures.iter().find(|f| f.figure == name).expect("shown").number()
        };
        let mut harder = asked.clone();
        harder.target_billions = asked.target_billions.map(|t| t + more);
        prop_assert!(possible(&harder) <= possible(&asked));
        let mut larger = asked.clone();
        larger.ejaculates[0].volume_ml = larger.ejaculates[0].volume_ml.map(|ml| ml + more);
        prop_assert!(possible(&larger) >= possible(&asked));
    }

    #[test]
    fn sows_add_up(asked in requests()) {
        let answer = doses(&asked).expect("in bounds");
        let Some((serving, sows)) = answer.serving.as_ref().zip(asked.serving) else { return Ok(()) };
        let Some(reach) = serving.reach else { return Ok(()) };
        let at_hand = doses_of(&answer);
        prop_assert_eq!(at_hand + reach.short, serving.needed + reach.spare);
        prop_assert!(reach.short == 0 || reach.spare == 0);
        let partly = u32::from(reach.next_gets > 0);
        prop_assert_eq!(reach.sows_served + partly + reach.sows_without, sows.sows);
        prop_assert_eq!(reach.sows_served * 2 + reach.next_gets + reach.spare, at_hand);
    }

    #[test]
    fn formulas_of_plain_doses_yield_their_figures(
        ml in tenths(0..15000), volume in tenths(800..1001), at_most in prop::option::of(1u32..200), made_up: bool,
    ) {
        let asked = PlainAsked {
            volume_ml: Some(ml),
            volume_from: Some("an entry".into()),
            route: if made_up { PlainRoute::Extended } else { PlainRoute::Undiluted },
            dose_volume_ml: Some(volume),
            at_most,
            serving: None,
            keep: Default::default(),
            temperatures: Default::default(),
            confirmed: Default::default(),
            brief: false,
        };
        let PlainMaking::NotCounted(plan) = plain_doses(&asked).expect("in bounds").making else {
            prop_assert!(ml < 20.0);
            return Ok(());
        };
        check_all(&plan.figures.iter().collect::<Vec<_>>());
        let semen = f64::from(plan.doses) * plan.semen_each_ml;
        prop_assert!(semen + plan.semen_left_ml <= ml + 1e-6 && plan.extender_ml >= 0.0);
        prop_assert!((f64::from(plan.doses) * plan.dose_ml - semen - plan.extender_ml).abs() < 1e-6);
    }

    #[test]
    fn formulas_of_counts_yield_their_figures(
        pairs in proptest::collection::vec((0u32..2000, 1u32..900), 1..5),
        dilution in proptest::collection::vec((tenths(1..100), tenths(0..100)), 0..3),
        errors in prop::option::of((tenths(0..200), tenths(0..200), any::<bool>())),
    ) {
        let errors = errors.map(|(step, filling, diluted_anew)| ErrorsAsked {
            step_error_percent: Some(step),
            filling_error_percent: Some(filling),
            diluted_anew,
        });
        let replicates = pairs.iter().map(|(count, squares)| ReplicateAsked { count: *count, squares: *squares });
        let asked = CountAsked { replicates: replicates.collect(), dilution, errors, ..CountAsked::default() };
        // A count far beyond what semen or squares can hold is refused, which the bounds' own tests look at.
        let Ok(answer) = count(&asked) else { return Ok(()) };
        let (interval, further) = (answer.interval.as_ref().expect("told"), answer.further.as_ref().expect("told"));
        let figures = answer.figures.iter().chain(&interval.figures).chain(&further.figures);
        check_all(&figures.collect::<Vec<_>>());
        prop_assert!(interval.low_m_per_ml <= answer.concentration_m_per_ml);
        prop_assert!(interval.high_m_per_ml > answer.concentration_m_per_ml);
        let mut more = asked.clone();
        more.replicates[0].count += 1;
        let full = more.replicates[0].count > 1000 * more.replicates[0].squares;
        prop_assert!(full || count(&more).is_ok_and(|m| m.concentration_m_per_ml > answer.concentration_m_per_ml) || answer.concentration_m_per_ml > 4000.0);
    }

    #[test]
    fn formulas_of_curves_yield_their_figures(
        counted in proptest::collection::vec(0.8..1.2f64, 5..30), at in 0.0..1.0f64, bends: bool,
    ) {
        let pair = |(i, factor): (usize, &f64)| PairAsked {
            reading: 0.1 * (i + 1) as f64,
            concentration_m_per_ml: 100.0 * (i + 1) as f64 * factor,
            relative_error_percent: None,
        };
        let asked = CurveAsked {
            pairs: counted.iter().enumerate().map(pair).collect(),
            shape: if bends { Shape::Quadratic } else { Shape::Linear },
            reading: Some(0.1 + at * 0.1 * (counted.len() - 1) as f64),
            ..CurveAsked::default()
        };
        // Pairs that make no curve are looked at elsewhere.
        let Ok(answer) = curve(&asked) else { return Ok(()) };
        check_all(&answer.figures.iter().collect::<Vec<_>>());
    }

    #[test]
    fn formulas_of_agreements_yield_their_figures(
        first in 0u32..700, second in 0u32..700,
        cells in prop::sample::select(vec![(200u32, 200u32), (100, 200), (57, 31), (400, 400)]),
        hits in (0.0..1.0f64, 0.0..1.0f64),
    ) {
        let counts = agreement(&AgreementAsked::Counts { first, second }).expect("in bounds");
        check_all(&counts.figures.iter().collect::<Vec<_>>());
        let tally = |share: f64, cells: u32| TallyAsked { hits: (share * f64::from(cells)) as u32, cells };
        let (a, b) = (tally(hits.0, cells.0), tally(hits.1, cells.1));
        let one = agreement(&AgreementAsked::Percentages { first: a, second: b }).expect("in bounds");
        check_all(&one.figures.iter().collect::<Vec<_>>());
        let other = agreement(&AgreementAsked::Percentages { first: b, second: a }).expect("in bounds");
        prop_assert_eq!(one.agree, other.agree);
    }

    #[test]
    fn formulas_of_shares_yield_their_figures(cells in 1u32..600, hit in 0.0..=1.0f64, second in prop::option::of((0u32..200, 200u32..400))) {
        let second = second.map(|(hits, cells)| TallyAsked { hits, cells });
        let asked = ShareTallied { hits: (hit * f64::from(cells)).round() as u32, cells, second, from: None };
        let found = share(&asked).expect("in bounds");
        let agreement = found.agreement.iter().flat_map(|a| &a.figures);
        check_all(&found.figures.iter().chain(agreement).collect::<Vec<_>>());
        prop_assert!(found.exact_low_percent <= found.percent && found.percent <= found.exact_high_percent);
    }

    #[test]
    fn formulas_of_verdicts_yield_their_figures(
        shares in proptest::array::uniform3(prop::option::of((tenths(0..1001), prop::option::of(1u32..2000)))),
        seen in proptest::array::uniform5(prop::option::of(any::<bool>())),
    ) {
        let share = |s: Option<(f64, Option<u32>)>| s.map(|(percent, cells)| ShareAsked { percent, cells });
        let [latex, blood, pus, urine, foul_smell] = seen;
        let asked = VerdictAsked {
            motile: share(shares[0]),
            abnormal: share(shares[1]),
            droplets: share(shares[2]),
            seen: Seen { latex, blood, pus, urine, foul_smell },
            ..VerdictAsked::default()
        };
        let found = verdict(&asked).expect("in bounds");
        for rule in &found.rules {
            check_all(&rule.figures.iter().chain(&rule.misses_chance).collect::<Vec<_>>());
        }
        // The same said in other words: what is bad forbids, what is missing never passes.
        let bad = shares[0].is_some_and(|s| s.0 < 70.0)
            || shares[1].is_some_and(|s| s.0 > 30.0)
            || shares[2].is_some_and(|s| s.0 > 15.0)
            || seen.contains(&Some(true));
        let missing = shares.contains(&None) || seen.contains(&None);
        prop_assert_eq!(matches!(found.overall, Overall::DoNotUse { .. }), bad);
        prop_assert_eq!(matches!(found.overall, Overall::Use), !bad && !missing);
        prop_assert_eq!(found.off_collection_and_veterinarian, blood == Some(true) || pus == Some(true));
        let passes = |rule: usize| matches!(found.rules[rule].outcome, Outcome::Pass { .. });
        prop_assert!((0..3).all(|rule| shares[rule].is_some() || !passes(rule)));
    }

    #[test]
    fn formulas_of_days_yield_their_figures(born in 727_000i32..760_000, lived in 0i32..6000, days in 110u32..=120) {
        let day = |n| chrono::NaiveDate::from_num_days_from_ce_opt(n).expect("a day");
        let asked = AgeAsked { born_on: day(born), on_day: day(born + lived), from: None };
        let found = age(&asked).expect("in bounds");
        check_all(&found.figures.iter().collect::<Vec<_>>());
        let asked = GestationAsked {
            served_on: Some(day(born)),
            weaned_on: Some(day(born + lived)),
            gestation_days: Some(days),
            ..GestationAsked::default()
        };
        let found = gestation(&asked).expect("in bounds");
        let (service, weaning) = (found.after_service.expect("asked"), found.after_weaning.expect("asked"));
        check_all(&service.figures.iter().chain(&weaning.figures).collect::<Vec<_>>());
        prop_assert!(service.return_from < service.check_from && service.check_better < service.farrows_on);
    }
}

#[test]
#[should_panic(expected = "the formula yields")]
fn a_figure_that_is_off_is_caught() {
    let ejaculate = EjaculateAsked {
        volume_ml: Some(250.0),
        concentration_m_per_ml: Some(200.0),
        motile_percent: Some(80.0),
        ..EjaculateAsked::default()
    };
    let asked = DosesAsked {
        ejaculates: vec![ejaculate],
        ..DosesAsked::default()
    };
    let mut answer = doses(&asked).expect("in bounds");
    if let Some(Making::Made(plan)) = &mut answer.making {
        for figure in &mut plan.figures {
            *figure = figure.clone().is(figure.number() + 1.0);
        }
    }
    check_doses(&answer);
}
