//! How a figure came about: formula, numbers, where each number is from, and what is printed about it.
//!
//! The formula is text in a small arithmetic that anyone can evaluate again:
//!
//! ```text
//! sum     = product { ("+" | "-") product }
//! product = atom { ("*" | "/") atom }
//! atom    = number | name | function "(" sum { "," sum } ")" | "(" sum ")"
//! ```
//!
//! A name is that of an input. A day plus a number is the day that many days later, and a day less
//! a day is a number of days. Functions: `sqrt`, `min`, `max`; `round` (halves away from zero);
//! `whole(x)`, the greatest whole number not above x + 10⁻⁹, because a binary fraction a hair below
//! a whole number must not cost a dose; `sum(name)` and `product(name)` over all inputs of that
//! name, `norm(name)`, the root of the sum of their squares; `exp`, `ln`, and `ceil`, the least
//! whole number not below x − 10⁻⁹; and some that are looked up or counted out rather than written as arithmetic:
//! `who_2_1(average)`, `exact_chance(hits, cells, hits, cells)` (see [`crate::agreement`]),
//! `months(from, to)` (see [`crate::gestation`]), and the distributions of [`crate::intervals`]:
//! `gamma_quantile(chance, shape)`, `beta_quantile(chance, a, b)`, `beta_below(x, a, b)` and
//! `normal_below(z)`.

use chrono::NaiveDate;
use serde::{Deserialize, Deserializer, Serialize};
use std::borrow::Cow;

/// Added before rounding down; see `whole` above.
const HAIR: f64 = 1e-9;

/// One computed figure with all that is needed to compute it again.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Explained {
    /// What was computed.
    pub figure: Term,
    /// The outcome.
    pub result: Value,
    /// The unit's symbol; empty for a plain number or a day.
    pub unit: Cow<'static, str>,
    /// How, in the arithmetic above.
    pub formula: Cow<'static, str>,
    /// The numbers that go in; a name may stand several times under `sum` and `product`.
    pub inputs: Vec<Input>,
    /// Where the formula is printed.
    pub source: Printed,
}

/// One number that goes into a formula.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Input {
    /// Its name in the formula.
    pub name: Term,
    /// The number or day.
    pub value: Value,
    /// The unit's symbol.
    pub unit: Cow<'static, str>,
    /// Where it is from.
    pub from: Origin,
}

/// Where a number is from.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Origin {
    /// Given in the request, with no record behind it.
    #[default]
    Asked,
    /// Kept in a record; the text is the record's id and is not read here.
    Stored(String),
    /// The program's default, which nobody changed.
    Default,
    /// Computed before: the figure of the same name in the same answer.
    Figure,
    /// Worked out from how sure each measurement is, by more than this arithmetic holds: see
    /// [`crate::assured`].
    Sureness,
}

impl Origin {
    /// Stored under `id` where there is one, else asked.
    pub fn of(id: Option<&String>) -> Self {
        id.map_or(Self::Asked, |id| Self::Stored(id.clone()))
    }
}

/// A number or a day.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(untagged)]
pub enum Value {
    /// A number in its unit.
    Number(f64),
    /// A day of the calendar.
    Day(NaiveDate),
}

impl<'de> Deserialize<'de> for Value {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Either;
        impl serde::de::Visitor<'_> for Either {
            type Value = Value;
            fn expecting(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.write_str("a number or a day as YYYY-MM-DD")
            }
            fn visit_f64<E>(self, number: f64) -> Result<Value, E> {
                Ok(Value::Number(number))
            }
            fn visit_u64<E>(self, number: u64) -> Result<Value, E> {
                Ok(Value::Number(number as f64))
            }
            fn visit_i64<E>(self, number: i64) -> Result<Value, E> {
                Ok(Value::Number(number as f64))
            }
            fn visit_str<E: serde::de::Error>(self, text: &str) -> Result<Value, E> {
                text.parse().map(Value::Day).map_err(E::custom)
            }
        }
        deserializer.deserialize_any(Either)
    }
}

impl From<f64> for Value {
    fn from(number: f64) -> Self {
        Self::Number(number)
    }
}

impl From<NaiveDate> for Value {
    fn from(day: NaiveDate) -> Self {
        Self::Day(day)
    }
}

/// Where a formula or a limit is printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Printed {
    /// Follows from what the words mean.
    Definition,
    /// WHO laboratory manual for the examination of human semen, 5th ed. 2010: chamber and replicates.
    Who2010,
    /// Przyborowski, J. & Wilenski, H. 1940, Biometrika 31:313 (from memory): two counts of one law.
    Przyborowski1940,
    /// Wilson, E. B. 1927, J. Am. Stat. Assoc. 22:209.
    Wilson1927,
    /// Queensland Government, pages on evaluating boars and on insemination.
    Queensland,
    /// Common practice, no source.
    CommonPractice,
    /// The farm's own standard.
    FarmStandard,
    /// Clopper, C. J. & Pearson, E. S. 1934, Biometrika 26:404.
    ClopperPearson1934,
    /// Jeffreys' interval and posterior: Brown, L. D., Cai, T. T. & `DasGupta`, A. 2001, Statistical Science 16:101.
    Brown2001,
    /// Berkson, J., Magath, T. B. & Hurn, M. 1940, Am. J. Physiol. 128:309: the parts of a count's error.
    Berkson1940,
    /// Zou, G. Y. & Donner, A. 2008, Statistics in Medicine 27:1693: an interval of what is made of parts.
    ZouDonner2008,
}

macro_rules! terms {
    ($($name:ident $text:literal)+) => {
        /// The name of a figure or an input, as it stands in formulas.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
        pub enum Term {
            $(#[doc = concat!("`", $text, "`")] #[serde(rename = $text)] $name,)+
        }

        impl Term {
            /// Every name.
            pub const ALL: &[Self] = &[$(Self::$name,)+];

            /// As written in formulas.
            pub const fn name(self) -> &'static str {
                match self {
                    $(Self::$name => $text,)+
                }
            }
        }
    };
}

terms! {
    SemenParts "semen_parts"
    DiluentParts "diluent_parts"
    DilutionStep "dilution_step"
    Dilution "dilution"
    Count "count"
    Squares "squares"
    Concentration "concentration_m_per_ml"
    SamplingError "sampling_error_percent"
    First "first"
    Second "second"
    FirstCells "first_cells"
    SecondCells "second_cells"
    FirstSquares "first_squares"
    SecondSquares "second_squares"
    Difference "difference"
    AllowedDifference "allowed_difference"
    Average "average"
    Chance "chance"
    Share "share_percent"
    Cells "cells"
    ShareLow "share_low_percent"
    ShareHigh "share_high_percent"
    Limit "limit_percent"
    Margin "margin_percent"
    Volume "volume_ml"
    Motile "motile_percent"
    Abnormal "abnormal_percent"
    Total "total_m"
    Usable "usable_m"
    PoolVolume "pool_volume_ml"
    PoolTotal "pool_total_m"
    PoolUsable "pool_usable_m"
    PoolShare "pool_share_percent"
    PoolMean "pool_mean_m"
    PoolSpread "pool_spread_m"
    Spreads "spreads"
    PoolAssured "pool_assured_m"
    Target "target_billions"
    DoseVolume "dose_volume_ml"
    DosesPossible "doses_possible"
    DosesAtMost "doses_at_most"
    Doses "doses"
    SemenUsed "semen_used_ml"
    SemenLeft "semen_left_ml"
    Extender "extender_ml"
    SpermEach "sperm_each_m"
    FinalConcentration "final_m_per_ml"
    SemenEach "semen_each_ml"
    Sows "sows"
    ServicesPerHeat "services_per_heat"
    DosesNeeded "doses_needed"
    SpermNeeded "sperm_needed_billions"
    VolumeNeeded "volume_needed_ml"
    DosesAtHand "doses_at_hand"
    DosesSpare "doses_spare"
    DosesShort "doses_short"
    SowsServed "sows_served"
    ServedOn "served_on"
    ReturnFromDays "return_from_days"
    ReturnToDays "return_to_days"
    CheckFromDays "check_from_days"
    CheckBetterDays "check_better_days"
    GestationDays "gestation_days"
    ReturnFrom "return_from"
    ReturnTo "return_to"
    CheckFrom "check_from"
    CheckBetter "check_better"
    FarrowsOn "farrows_on"
    WeanedOn "weaned_on"
    LookFromDays "look_from_days"
    HeatFromDays "heat_from_days"
    HeatToDays "heat_to_days"
    LookFrom "look_from"
    HeatFrom "heat_from"
    HeatTo "heat_to"
    BornOn "born_on"
    OnDay "on_day"
    AgeDays "age_days"
    AgeMonths "age_months"
    Reading "reading"
    CurveConstant "curve_constant"
    CurveSlope "curve_slope"
    CurveBend "curve_bend"
    StudentT "student_t"
    ReadError "read_error_m_per_ml"
    ReadLow "read_low_m_per_ml"
    ReadHigh "read_high_m_per_ml"
    SquareNl "square_nl"
    StepError "step_error_percent"
    FillingError "filling_error_percent"
    DilutionError "dilution_error_percent"
    ChamberError "chamber_error_percent"
    OtherError "other_error_percent"
    WholeError "whole_error_percent"
    CountLow "count_low"
    CountMiddle "count_middle"
    CountHigh "count_high"
    EachSperm "each_m_per_ml"
    ConcentrationLow "concentration_low_m_per_ml"
    ConcentrationHigh "concentration_high_m_per_ml"
    ErrorAsked "error_asked_percent"
    CountNeeded "count_needed"
    CountMore "count_more"
    SquaresMore "squares_more"
    GridSquares "grid_squares"
    GridsMore "grids_more"
    Hits "hits"
    ShareExactLow "share_exact_low_percent"
    ShareExactHigh "share_exact_high_percent"
    EyeSpread "eye_spread_percent"
    MissesChance "misses_chance"
    Floor "floor_percent"
    FloorLogit "floor_logit"
    Intercept "intercept"
    Slope "slope"
    InterceptVariance "intercept_variance"
    SlopeVariance "slope_variance"
    LineCovariance "line_covariance"
    Z "z"
    FloorDay "floor_day"
    FloorFrom "floor_from_days"
    FloorTo "floor_to_days"
}

impl Explained {
    /// A figure whose result is about to be computed from inputs yet to be listed.
    pub fn new(figure: Term, unit: &'static str, formula: &'static str, source: Printed) -> Self {
        let (unit, formula) = (Cow::Borrowed(unit), Cow::Borrowed(formula));
        Self {
            figure,
            result: Value::Number(0.0),
            unit,
            formula,
            inputs: Vec::new(),
            source,
        }
    }

    /// With one more input.
    #[must_use]
    pub fn with(
        mut self,
        name: Term,
        value: impl Into<Value>,
        unit: &'static str,
        from: Origin,
    ) -> Self {
        self.inputs.push(Input {
            name,
            value: value.into(),
            unit: Cow::Borrowed(unit),
            from,
        });
        self
    }

    /// With another figure's result as input.
    #[must_use]
    pub fn after(mut self, figure: &Self) -> Self {
        let (value, unit) = (figure.result, figure.unit.clone());
        self.inputs.push(Input {
            name: figure.figure,
            value,
            unit,
            from: Origin::Figure,
        });
        self
    }

    /// With its result.
    #[must_use]
    pub fn is(mut self, result: impl Into<Value>) -> Self {
        self.result = result.into();
        self
    }

    /// The result as a number; a day has none and reads NaN.
    pub fn number(&self) -> f64 {
        match self.result {
            Value::Number(number) => number,
            Value::Day(_) => f64::NAN,
        }
    }
}

/// `whole` of the arithmetic above.
pub fn whole(x: f64) -> f64 {
    (x + HAIR).floor()
}
