//! Dilution steps, and the mistakes that are made when somebody says what they come to.

use crate::explain::{Explained, Origin, Printed, Term};
use crate::units::{BoundError, so_many, within};
use serde::{Deserialize, Serialize};

/// Dilution steps as "parts of semen + parts of diluent": 1 + 19 is ×20, 1 + 10 done twice is ×121.
/// At most 4 steps, semen from 0.001 and diluent from 0 to 10,000 parts, ×10,000 in all. No step: undiluted.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(try_from = "Vec<(f64, f64)>", into = "Vec<(f64, f64)>")]
pub struct Dilution(Vec<(f64, f64)>);

impl Dilution {
    /// The most by which semen is diluted for counting.
    pub const FACTOR_HIGH: f64 = 10_000.0;
    /// The most steps.
    pub const STEPS_HIGH: usize = 4;

    /// Undiluted.
    pub const fn none() -> Self {
        Self(Vec::new())
    }

    /// Steps of (parts of semen, parts of diluent).
    pub fn new(steps: Vec<(f64, f64)>) -> Result<Self, BoundError> {
        so_many("dilution", steps.len(), 0..=Self::STEPS_HIGH, "steps")?;
        for (semen, diluent) in &steps {
            within("semen_parts", *semen, 0.001..=10_000.0, "parts")?;
            within("diluent_parts", *diluent, 0.0..=10_000.0, "parts")?;
        }
        let made = Self(steps);
        within("dilution", made.factor(), 1.0..=Self::FACTOR_HIGH, "times")?;
        Ok(made)
    }

    /// The steps.
    pub fn steps(&self) -> &[(f64, f64)] {
        &self.0
    }

    /// Steps at which something was added, and so may err; 1 + 0 is none.
    pub fn pipetted(&self) -> usize {
        self.0.iter().filter(|step| step.1 > 0.0).count()
    }

    /// By how much the semen is diluted.
    pub fn factor(&self) -> f64 {
        self.0.iter().map(|step| factor(*step)).product()
    }

    /// One figure for each step, and the factor.
    pub(super) fn explain(&self, from: &Origin) -> (Vec<Explained>, Explained) {
        let step = |&(semen, diluent): &(f64, f64)| {
            let formula = "(semen_parts + diluent_parts) / semen_parts";
            Explained::new(Term::DilutionStep, "×", formula, Printed::Definition)
                .with(Term::SemenParts, semen, "", from.clone())
                .with(Term::DiluentParts, diluent, "", from.clone())
                .is(factor((semen, diluent)))
        };
        let steps: Vec<_> = self.0.iter().map(step).collect();
        let all = Explained::new(
            Term::Dilution,
            "×",
            "product(dilution_step)",
            Printed::Definition,
        );
        let all = steps.iter().fold(all, Explained::after).is(self.factor());
        (steps, all)
    }
}

fn factor((semen, diluent): (f64, f64)) -> f64 {
    (semen + diluent) / semen
}

impl TryFrom<Vec<(f64, f64)>> for Dilution {
    type Error = BoundError;
    fn try_from(steps: Vec<(f64, f64)>) -> Result<Self, BoundError> {
        Self::new(steps)
    }
}

impl From<Dilution> for Vec<(f64, f64)> {
    fn from(dilution: Dilution) -> Self {
        dilution.0
    }
}

/// How a factor that somebody says comes apart from the steps.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Slip {
    /// The parts of diluent were multiplied and the part of semen was forgotten: 1 + 10 twice is ×121, not ×100.
    SemenForgotten,
    /// What was said is these steps done several times: 1 + 9 entered once, where ×100 takes it twice.
    StepMissing,
    /// What was said is these steps without one of them.
    StepTooMany,
    /// Neither explains it.
    Unexplained,
}

/// A factor that somebody says, and the one the steps come to.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Disagreement {
    /// What was said.
    pub said: f64,
    /// What the steps come to.
    pub found: f64,
    /// The likeliest reason.
    pub slip: Slip,
}

impl Dilution {
    /// Factors that are made on purpose: by hundreds and two-hundreds blood cells are counted, by
    /// tens and twenties semen (common practice, no source).
    pub const USUAL: [f64; 10] = [
        5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 400.0, 500.0, 1000.0, 2000.0,
    ];

    /// Whether the steps come to another factor than the one somebody says; a difference of half a
    /// percent is rounding. What was said must lie from 1 to [`Self::FACTOR_HIGH`].
    pub fn disagrees(&self, said: f64) -> Result<Option<Disagreement>, BoundError> {
        within("said_factor", said, 1.0..=Self::FACTOR_HIGH, "times")?;
        let found = self.factor();
        let slip = self.slip(said);
        Ok((!same(found, said)).then_some(Disagreement { said, found, slip }))
    }

    /// The usual factor that these steps are easily taken for because the part of semen was
    /// forgotten: 100 for 1 + 10 twice, which is ×121, and 20 for 1 + 20. None where the steps come
    /// to a usual factor, or to none.
    pub fn taken_for(&self) -> Option<f64> {
        let usual = |factor: f64| Self::USUAL.into_iter().find(|u| same(*u, factor));
        if usual(self.factor()).is_some() {
            return None;
        }
        usual(self.without_semen())
    }

    /// The product of the parts of diluent alone, for one part of semen each.
    fn without_semen(&self) -> f64 {
        self.0
            .iter()
            .map(|(semen, diluent)| diluent / semen)
            .product()
    }

    fn slip(&self, said: f64) -> Slip {
        let found = self.factor();
        let powers = (2..=4).map(|n| (0..n).fold(1.0, |all, _| all * found));
        let without_one = self.0.iter().map(|step| found / factor(*step));
        if !self.0.is_empty() && same(self.without_semen(), said) {
            Slip::SemenForgotten
        } else if found > 1.0 && powers.into_iter().any(|power| same(power, said)) {
            Slip::StepMissing
        } else if without_one.into_iter().any(|less| same(less, said)) {
            Slip::StepTooMany
        } else {
            Slip::Unexplained
        }
    }
}

/// The same but for rounding.
fn same(a: f64, b: f64) -> bool {
    (a - b).abs() <= 0.005 * b
}
