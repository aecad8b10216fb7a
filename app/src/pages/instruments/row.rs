//! A pair as it is typed, and what is wrong with it.

use crate::pages::fields::figure;
use crate::words::{Words, key};
use pentally_domain::curve::Pair;
use pentally_domain::units::{Concentration, InstrumentReading, RelativeError};
use serde::{Deserialize, Serialize};

/// One line of the form. An empty one is no pair.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Typed {
    pub reading: String,
    pub counted: String,
    pub error: String,
}

impl Typed {
    /// A pair as it would be typed.
    pub fn of(pair: &Pair) -> Self {
        Self {
            reading: pair.reading.value().to_string(),
            counted: pair.concentration.value().to_string(),
            error: pair.relative_error.map_or_else(String::new, |e| {
                ((e.value() * 10.0).round() / 10.0).to_string()
            }),
        }
    }

    /// Nothing was typed.
    pub fn is_empty(&self) -> bool {
        [&self.reading, &self.counted, &self.error]
            .iter()
            .all(|typed| typed.trim().is_empty())
    }

    /// The pair, or what was read and what would be right.
    pub fn read(&self, w: &Words) -> Result<Pair, String> {
        let of = |name, typed: &str, low: f64, high: f64| {
            let args = [
                ("what", w.tr(name).into()),
                ("read", typed.trim().into()),
                ("low", low.to_string().into()),
                ("high", high.to_string().into()),
            ];
            figure(typed)
                .filter(|value| (low..=high).contains(value))
                .ok_or_else(|| w.tr_with(key::PAIR_WRONG, &args))
        };
        let (low, high) = (InstrumentReading::LOW, InstrumentReading::HIGH);
        let reading = of(key::PAIR_READING, &self.reading, low, high)?;
        let (low, high) = (Concentration::LOW, Concentration::HIGH);
        let counted = of(key::PAIR_COUNTED, &self.counted, low, high)?;
        let error = match self.error.trim() {
            "" => None,
            typed => {
                let (low, high) = (RelativeError::LOW, RelativeError::HIGH);
                Some(of(key::PAIR_ERROR, typed, low, high)?)
            }
        };
        let wrong = |e: pentally_domain::units::BoundError| e.to_string();
        Ok(Pair {
            reading: InstrumentReading::new(reading).map_err(wrong)?,
            concentration: Concentration::new(counted).map_err(wrong)?,
            relative_error: error.map(RelativeError::new).transpose().map_err(wrong)?,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::words::Lang;

    #[test]
    fn a_pair_reads_with_either_mark_and_names_what_is_wrong() {
        let w = Words::of(Lang::En);
        let typed = |reading: &str, counted: &str, error: &str| Typed {
            reading: reading.to_owned(),
            counted: counted.to_owned(),
            error: error.to_owned(),
        };
        let pair = typed("0,42", " 212 ", "").read(&w).unwrap();
        assert_eq!(pair.reading.value(), 0.42);
        assert_eq!(Typed::of(&pair).read(&w).unwrap(), pair);
        assert!(typed("x", "212", "").read(&w).unwrap_err().contains('x'));
        assert!(typed("1", "-3", "").read(&w).unwrap_err().contains("-3"));
        assert!(typed("1", "3", "0").read(&w).is_err());
        assert!(typed(" ", "", "").is_empty());
    }
}
