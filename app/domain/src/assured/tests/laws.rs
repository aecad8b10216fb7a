//! Laws that hold whatever the numbers; the cases are thrown from a fixed seed.

use super::*;
use crate::explain::Term;
use crate::units::DosesAtMost;

/// Cases of each law.
const CASES: usize = 100;

struct Bench(Dice);

impl Bench {
    fn share(&mut self) -> f64 {
        self.0.next() as f64 / 2_f64.powi(64)
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }

    fn whole(&mut self, low: u32, high: u32) -> u32 {
        crate::doses::whole_number(self.between(low.into(), f64::from(high) + 1.0).floor())
    }

    fn is(&mut self) -> bool {
        self.share() < 0.5
    }

    fn one(&mut self) -> (Ejaculate, Sureness) {
        let e = ejaculate(
            self.between(15.0, 400.0),
            self.between(30.0, 600.0),
            self.between(60.0, 98.0),
        );
        let sure = Sureness {
            weighed: self.is(),
            volume_error: percent(self.between(0.2, 4.0)).filter(|_| self.is()),
            counted: Count::new(self.whole(8, 900)).ok().filter(|_| self.is()),
            dilution_steps: u8::try_from(self.whole(0, 3)).ok(),
            fillings: None,
            concentration_error: percent(self.between(1.0, 12.0)).filter(|_| self.is()),
            motile_cells: Cells::new(self.whole(40, 400)).ok().filter(|_| self.is()),
            motile_spread: SpreadPoints::new(self.between(1.0, 8.0)).ok(),
            abnormal_cells: Cells::new(self.whole(40, 400)).ok(),
            abnormal_spread: None,
        };
        (e, sure)
    }

    /// Pool, sureness, recipe, assurance.
    fn case(&mut self) -> Poured {
        let (pool, sure) = (0..self.whole(1, 3)).map(|_| self.one()).unzip();
        let mut recipe = recipe(self.between(0.5, 5.0), self.between(30.0, 100.0));
        recipe.count_as = match self.whole(0, 2) {
            0 => CountAs::Total,
            1 => CountAs::Motile,
            _ => CountAs::MotileNormal,
        };
        let most = DosesAtMost::new(self.whole(1, 30)).ok();
        recipe.at_most = most.filter(|_| self.share() < 0.2);
        Poured {
            pool,
            sure,
            recipe,
            asked: ask(self.between(80.0, 99.5)),
        }
    }
}

#[derive(Clone)]
struct Poured {
    pool: Vec<Ejaculate>,
    sure: Vec<Sureness>,
    recipe: Recipe,
    asked: Asked,
}

impl Poured {
    fn assure(&self) -> (Making, Assured) {
        let (making, _, assured) =
            assure(&self.pool, &self.sure, &self.recipe, self.asked).unwrap();
        (making, assured.unwrap())
    }

    /// Doses, as many as there are sperm for: what volume allows is another matter.
    fn number(&self) -> f64 {
        let (_, figures, _) = assure(&self.pool, &self.sure, &self.recipe, self.asked).unwrap();
        let possible = |f: &&Explained| f.figure == Term::DosesPossible;
        figures.iter().find(possible).unwrap().number()
    }

    /// Not more than another makes. Where chance answered, or the two were found in two ways, the
    /// stated tolerance of half a point is the other's.
    fn no_more_than(&self, other: &Self) -> bool {
        let drawn = |p: &Self| p.assure().1.by == By::Simulated;
        let mut other = other.clone();
        if drawn(self) || drawn(&other) {
            other.asked = ask(other.asked.assurance.value() - 0.5);
        }
        self.number() <= other.number()
    }
}

fn each(seed: u64, mut law: impl FnMut(&mut Bench, Poured)) {
    let mut bench = Bench(Dice::new(seed));
    for _ in 0..CASES {
        let case = bench.case();
        law(&mut bench, case);
    }
}

#[test]
fn no_dose_holds_what_does_not_exist_and_each_holds_its_target() {
    let (mut made, mut none) = (0, 0);
    each(1, |_, case| {
        let (making, assured) = case.assure();
        let volume: f64 = case.pool.iter().map(|e| e.volume.unwrap().value()).sum();
        let asked = case.asked.assurance.value();
        let Some((plan, doses)) = reaching(&making).zip(assured.doses) else {
            none += 1;
            let too_few = matches!(making, Making::TooFew { .. });
            assert!(assured.doses.is_none() && (!too_few || assured.one_dose_percent < asked));
            return;
        };
        made += 1;
        let filled = f64::from(plan.doses) * plan.dose_ml;
        let hair = 1e-9 * filled;
        assert!(plan.extender_ml >= 0.0 && plan.semen_left_ml >= 0.0);
        assert!(filled <= plan.semen_ml + plan.extender_ml + hair);
        assert!(plan.semen_ml <= volume + hair && plan.dose_ml <= DoseVolumeMl::HIGH);
        assert!(
            case.recipe
                .at_most
                .is_none_or(|most| f64::from(plan.doses) <= most.number())
        );
        // At least what was asked, and never more doses than the plain formula says.
        assert!(doses.reached_percent >= asked - 1e-6, "{doses:?} {asked}");
        assert!(doses.low_m < doses.median_m && doses.median_m < doses.high_m);
        let plain = make(&case.pool, &case.recipe).0.reaching();
        assert!(plain.is_none_or(|plain| doses.doses <= plain));
        let shares: f64 = assured.sources.iter().map(|p| p.share_percent).sum();
        assert!((shares - 100.0).abs() < 1e-6);
    });
    assert!(made > 80 && none > 1, "{made} made, {none} none");
}

// Where the number is the largest: with one dose more it would not be reached.
#[test]
fn one_dose_more_would_be_below_the_assurance() {
    let mut seen = 0;
    each(2, |_, mut case| {
        case.recipe.at_most = None;
        let (making, assured) = case.assure();
        let (Making::Made(plan), Some(doses)) = (&making, assured.doses) else {
            return;
        };
        let plain = assured.plain.map_or(0, |p| p.doses);
        if plan.semen_left_ml > 0.0 || plain <= doses.doses {
            return;
        }
        seen += 1;
        let products: Vec<_> = case
            .pool
            .iter()
            .zip(&case.sure)
            .map(|(e, s)| s.product(e, case.recipe.count_as).unwrap().unwrap())
            .collect();
        let spread = Spread::of(&products, FILLING_ERROR / 100.0);
        let more = f64::from(doses.doses + 1) * case.recipe.target.value() * 1000.0;
        assert!(100.0 * spread.at_least(more) < case.asked.assurance.value());
    });
    assert!(seen > 40, "{seen}");
}

#[test]
fn a_higher_target_and_a_higher_assurance_never_make_more() {
    each(3, |bench, case| {
        let before = case.number();
        let (mut target, mut sure) = (case.clone(), case.clone());
        let more = case.recipe.target.value() + bench.between(0.01, 2.0);
        target.recipe.target = SpermBillions::new(more).unwrap();
        let surer = bench.between(case.asked.assurance.value(), 99.9);
        sure.asked = ask(surer);
        assert!(target.number() <= before && sure.number() <= before);
    });
}

#[test]
fn more_semen_never_makes_fewer() {
    each(4, |bench, case| {
        let before = case.number();
        let more = bench.between(1.0, 1.5);
        let mut larger = case.clone();
        let first = &mut larger.pool[0];
        if bench.is() {
            let larger = |v: VolumeMl| VolumeMl::new(v.value() * more).ok();
            first.volume = first.volume.and_then(larger);
        } else {
            let denser = |c: Concentration| Concentration::new(c.value() * more).ok();
            first.concentration = first.concentration.and_then(denser);
        }
        assert!(larger.number() >= before);
    });
}

#[test]
fn a_larger_error_never_makes_more() {
    each(5, |bench, case| {
        let larger = |was: f64| percent(was * 1.5 + 0.5);
        let mut worse = case.clone();
        let first = &mut worse.sure[0];
        match bench.whole(0, 3) {
            0 => {
                let usual = if first.weighed {
                    WEIGHED_ERROR
                } else {
                    READ_ERROR
                };
                first.volume_error = larger(first.volume_error.map_or(usual, ErrorPercent::value));
            }
            1 => {
                // Without a count all error lies here; with one, that of dilution and chamber.
                let said = first.concentration_error.map(ErrorPercent::value);
                first.concentration_error = larger(said.unwrap_or(INSTRUMENT_ERROR));
            }
            2 => worse.asked.filling_error = larger(FILLING_ERROR),
            _ => {
                first.motile_cells = None;
                let points = bench.between(8.0, 15.0);
                let mut by_eye = case.clone();
                by_eye.sure[0].motile_cells = None;
                first.motile_spread = SpreadPoints::new(points).ok();
                assert!(worse.no_more_than(&by_eye));
                return;
            }
        }
        assert!(worse.no_more_than(&case));
    });
}

#[test]
fn more_counted_never_makes_fewer() {
    each(6, |bench, case| {
        let (n, cells) = (bench.whole(5, 300), bench.whole(20, 300));
        let at = |n: u32, cells: u32| {
            let mut case = case.clone();
            case.sure[0].counted = Count::new(n).ok();
            case.sure[0].motile_cells = Cells::new(cells).ok();
            case
        };
        let before = at(n, cells);
        assert!(before.no_more_than(&at(n * 2, cells)));
        assert!(before.no_more_than(&at(n, cells * 2)));
        assert!(before.no_more_than(&at(n + n / 4 + 1, cells)));
    });
}
