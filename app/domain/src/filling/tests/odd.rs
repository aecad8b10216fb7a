//! What is asked about before it is kept.

use super::*;
use crate::time::MINUTE_MS;

// Raw semen is diluted within about 15 min (common practice, no source); undiluted it keeps
// "within hours" (Queensland Government), of which two is the least.
#[test]
fn raw_semen_that_waited_is_warned_of_and_past_two_hours_asked_about() {
    let cups = [
        cup(2, 250.0, Some((200.0, 80.0))),
        cup(1, 250.0, Some((200.0, 80.0))),
    ];
    let after = |ms: i64, chosen: &Chosen| {
        fill(&cups, &Holding::default(), chosen, cups[1].at.ms() + ms).unwrap()
    };
    let mut chosen = Chosen::default();
    assert_eq!(after(15 * MINUTE_MS, &chosen).overdue, None);
    let warned = after(15 * MINUTE_MS + 1, &chosen);
    let overdue = warned.overdue.unwrap();
    // The oldest of both.
    assert_eq!(
        (overdue.collection, overdue.age_ms),
        (entry(1), 15 * MINUTE_MS + 1)
    );
    let two_hours = 2 * HOUR_MS;
    assert!(warned.odd.is_empty() && after(two_hours, &chosen).odd.is_empty());
    let asked = after(3 * HOUR_MS + 1, &chosen);
    let [odd] = asked.odd[..] else {
        panic!("{:?}", asked.odd)
    };
    assert_eq!(
        (odd.collection, odd.what, odd.read),
        (Some(entry(1)), Confirmed::Age, 3.0)
    );
    assert_eq!(asked.batch(code()), None);
    chosen.kept.push(odd);
    let kept = after(4 * HOUR_MS - 1, &chosen);
    assert!(kept.batch(code()).unwrap().asked.contains(r#"["age"]"#));
    // An hour later it is older than what was kept.
    assert_eq!(after(4 * HOUR_MS, &chosen).batch(code()), None);
    // Undiluted it cannot be kept at all by then: the question would be idle.
    let pure = Chosen {
        route: Some(PlainRoute::Undiluted),
        ..Chosen::default()
    };
    let late_ms = last_in(&cups[..1]) + 5 * HOUR_MS;
    let pure = fill(&cups[..1], &Holding::default(), &pure, late_ms).unwrap();
    assert!(pure.odd.is_empty() && pure.kept.use_by.unwrap().ms() < late_ms);
}

#[test]
fn each_odd_figure_of_a_pool_is_asked_about_by_itself() {
    let cups = [
        cup(1, 30.0, Some((500.0, 80.0))),
        cup(2, 40.0, Some((500.0, 80.0))),
    ];
    let mut chosen = Chosen::default();
    let read = |chosen: &Chosen| -> Vec<_> {
        let odd = filled(&cups, chosen).odd.into_iter();
        odd.map(|o| (o.collection, o.read)).collect()
    };
    let (first, second) = ((Some(entry(1)), 30.0), (Some(entry(2)), 40.0));
    assert_eq!(read(&chosen), [first, second]);
    chosen.kept = filled(&cups, &chosen).odd;
    chosen.kept.truncate(1);
    assert_eq!(read(&chosen), [second]);
    // A corrected volume is another figure.
    let corrected = [cup(1, 31.0, Some((500.0, 80.0)))];
    assert_eq!(filled(&corrected, &chosen).odd[0].read, 31.0);
}

// By hand, at 50 M/mL × 72 % = 36 M/mL, below the 37.5 of 3×10⁹ in 80 mL: 300 mL hold 10,800 M, 3
// doses of 100 mL, the most that is printed (Queensland Government); 330 mL hold 11,880 M, 3 of
// 110 mL; at 2×10⁹ in 45 mL they are 5 of 66 mL, more than is printed for behind the cervix.
#[test]
fn doses_that_thin_semen_makes_large_are_asked_about() {
    let thin = |ml| [cup(1, ml, Some((50.0, 72.0)))];
    let asked = |ml, chosen: &Chosen| {
        let filling = filled(&thin(ml), chosen);
        assert!(matches!(filling.fill, Fill::Thin(Some(_))), "{ml}");
        filling.odd
    };
    let mut chosen = Chosen::default();
    assert_eq!(asked(300.0, &chosen), []);
    let odd = asked(330.0, &chosen);
    let [large] = odd[..] else { panic!("{odd:?}") };
    assert_eq!((large.what, large.read), (Confirmed::DoseVolume, 110.0));
    assert_eq!(filled(&thin(330.0), &chosen).batch(code()), None);
    chosen.kept = odd;
    let batch = filled(&thin(330.0), &chosen).batch(code()).unwrap();
    assert!(
        batch.asked.contains(r#""confirmed":["dose_volume"]"#),
        "{}",
        batch.asked
    );
    // 340 mL hold 12,240 M, 4 of 85 mL; 325 mL hold 11,700 M, 3 of 108.3 mL: not what was kept.
    assert_eq!(asked(340.0, &chosen), []);
    assert_eq!(asked(325.0, &chosen)[0].usual, DoseVolumeMl::USUAL);
    let small = |technique| Chosen {
        technique: Some(technique),
        target: SpermBillions::new(2.0).ok(),
        dose_volume: Some(DoseVolumeMl::FORTY_FIVE),
        ..Chosen::default()
    };
    assert_eq!(asked(330.0, &small(Technique::Intracervical)), []);
    let behind = asked(330.0, &small(Technique::PostCervical));
    assert_eq!((behind[0].read, behind[0].usual), (66.0, (5.0, 45.0)));
}
