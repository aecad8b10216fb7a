//! The laboratory: lots and mixes of extender, the photometer's curve, and retained samples.

use crate::TaleError;
use crate::devices::{Place, When};
use crate::story::Story;
use crate::year::is_working;
use chrono::{Datelike, Days, NaiveDate, Weekday};
use pentally_domain::batch::SemenBatch;
use pentally_domain::curve::{CurvePair, InstrumentCurve, KeptPairs, Pair, Shape, Weighing};
use pentally_domain::evaluation::Share;
use pentally_domain::extender::ExtenderClass;
use pentally_domain::extender::mix::{
    ExtenderLot, ExtenderMix, Form, Poured, Timing, Water, WaterSource,
};
use pentally_domain::fact::Fact;
use pentally_domain::id::{BoarId, EntryId};
use pentally_domain::retained::Retained;
use pentally_domain::said::Label;
use pentally_domain::units::{
    Concentration, Conductivity, InstrumentReading, MixVolumeMl, Percent, RelativeError,
    TemperatureC,
};

/// Tells the laboratory's chance from everybody else's.
pub const LABORATORY_SEED: u64 = 0x1ab0_0000_0000_0000;
/// A lot lasts so many days.
const LOT_DAYS: i64 = 90;
/// Extender is mixed before anybody collects, at ten past four.
const MIXED_MIN: i64 = 4 * 60 + 10;
/// The curve is made anew twice a year, from so many ejaculates.
const CURVE_DAYS: i64 = 182;
const CURVE_PAIRS: i64 = 24;
/// Cells counted in a retained sample.
const CELLS: u16 = 200;
/// Of a sample that fails, so many points a day are lost, of others about two.
const SPOILT_POINTS: f64 = 30.0;

/// What stands in the laboratory.
#[derive(Debug, Default)]
pub struct Laboratory {
    lot: Option<(EntryId, NaiveDate)>,
    poured: Option<Poured>,
    samples: Vec<Sample>,
    batches: u32,
}

/// A tube kept of a batch.
#[derive(Debug)]
struct Sample {
    batch: EntryId,
    boars: Vec<BoarId>,
    made: NaiveDate,
    motile: f64,
    falls: f64,
}

impl Story {
    /// Before the first collection of a day: a new lot where the old one is used up, the day's mix,
    /// and on Mondays one ejaculate both read and counted.
    pub(crate) fn prepare_the_laboratory(&mut self) -> Result<(), TaleError> {
        let (since, _) = self.place_in_story();
        if since % LOT_DAYS == 0 {
            self.open_a_lot(since / LOT_DAYS)?;
        }
        if since % CURVE_DAYS == 3 {
            self.make_a_curve()?;
        }
        self.laboratory.poured = None;
        if is_working(self.day) {
            self.mix()?;
        }
        if self.day.weekday() == Weekday::Mon && since > CURVE_DAYS % 7 + 3 {
            let pair = self.pair()?;
            self.say_pair(pair)?;
        }
        self.look_at_samples()
    }

    /// What the doses of today are filled up with.
    pub(crate) const fn poured(&self) -> Option<Poured> {
        self.laboratory.poured
    }

    /// One batch in four keeps a tube; of one of the last days it fails while doses are left.
    pub(crate) fn keep_a_sample(&mut self, entry: EntryId, batch: &SemenBatch) {
        let (_, left) = self.place_in_story();
        let laboratory = &mut self.laboratory;
        laboratory.batches += 1;
        let spoilt =
            (2..=4).contains(&left) && laboratory.samples.iter().all(|s| s.falls < SPOILT_POINTS);
        if spoilt || (batch.counted && laboratory.batches.is_multiple_of(4)) {
            let chance = &mut self.laboratory_chance;
            laboratory.samples.push(Sample {
                batch: entry,
                boars: batch.sources.iter().map(|s| s.boar).collect(),
                made: self.day,
                motile: chance.between(79.0, 90.0),
                falls: if spoilt {
                    SPOILT_POINTS
                } else {
                    chance.between(1.2, 3.4)
                },
            });
        }
    }

    fn open_a_lot(&mut self, number: i64) -> Result<(), TaleError> {
        let best_before = self.day + Days::new(270);
        let lot = Fact::ExtenderLot(ExtenderLot {
            product: Label::parse("Medium, blue sachets")?,
            lot: Label::parse(&format!("{}-{:03}", self.day.format("%y%m"), 17 + number))?,
            class: ExtenderClass::keeping(self.standard.standard.keeps_days),
            form: Form::Powder,
            best_before: Some(best_before),
            antibiotic: self.standard.standard.antibiotic,
            makes: Some(MixVolumeMl::new(1_000.0)?),
            days: None,
        });
        let entry = self.say_in_laboratory(&lot, MIXED_MIN - 8)?;
        self.laboratory.lot = Some((entry, best_before));
        Ok(())
    }

    fn mix(&mut self) -> Result<(), TaleError> {
        let Some((lot, best_before)) = self.laboratory.lot else {
            return Ok(());
        };
        let chance = &mut self.laboratory_chance;
        let conducts = crate::chance::tenth(chance.between(0.8, 3.4));
        let mix = ExtenderMix {
            lot,
            water: Water {
                source: WaterSource::Deionised,
                conductivity: Some(Conductivity::new(conducts)?),
                supplier: None,
            },
            volume: MixVolumeMl::new(1_000.0 * chance.between(3.0, 8.0).round())?,
            temperature: Some(TemperatureC::new(crate::chance::tenth(
                chance.between(34.0, 36.5),
            ))?),
            ready_after: None,
            keeps: None,
        };
        let entry = self.say_in_laboratory(&Fact::ExtenderMix(mix), MIXED_MIN)?;
        let at = self.devices.zone().stamp(self.at(MIXED_MIN))?;
        let life = Timing::default().life(at, Some(best_before), self.devices.zone())?;
        self.laboratory.poured = Some(Poured {
            mix: entry,
            class: ExtenderClass::keeping(self.standard.standard.keeps_days),
            antibiotic: self.standard.standard.antibiotic,
            days: None,
            life,
        });
        Ok(())
    }

    /// An ejaculate as the photometer shows it and as it was counted: absorbance rises with the
    /// concentration, and bends a little.
    fn pair(&mut self) -> Result<Pair, TaleError> {
        let chance = &mut self.laboratory_chance;
        let truth = chance.between(90.0, 480.0);
        let shown =
            (0.04 + truth / 720.0 - truth * truth / 2_400_000.0) * (1.0 + 0.015 * chance.normal());
        let counted = truth * (1.0 + 0.06 * chance.normal());
        Ok(Pair {
            reading: InstrumentReading::new((shown * 1_000.0).round() / 1_000.0)?,
            concentration: Concentration::new(counted.round())?,
            relative_error: Some(RelativeError::new(5.0)?),
        })
    }

    fn make_a_curve(&mut self) -> Result<(), TaleError> {
        let pairs: Result<Vec<_>, _> = (0..CURVE_PAIRS).map(|_| self.pair()).collect();
        let curve = InstrumentCurve {
            instrument: photometer()?,
            reads: Some(Label::parse("absorbance")?),
            shape: Shape::Quadratic,
            weighing: Weighing::BySize,
            pairs: KeptPairs::new(pairs?)?,
        };
        self.say_in_laboratory(&Fact::InstrumentCurve(curve), 13 * 60)
            .map(drop)
    }

    fn say_pair(&mut self, pair: Pair) -> Result<(), TaleError> {
        let pair = CurvePair {
            instrument: photometer()?,
            reading: pair.reading,
            concentration: pair.concentration,
            relative_error: pair.relative_error,
            collection: None,
        };
        self.say_in_laboratory(&Fact::CurvePair(pair), 10 * 60 + 30)
            .map(drop)
    }

    /// On the days after, while doses may be at hand.
    fn look_at_samples(&mut self) -> Result<(), TaleError> {
        let (day, keeps) = (self.day, i64::from(self.standard.standard.keeps_days));
        let mut samples = std::mem::take(&mut self.laboratory.samples);
        samples.retain(|s| (day - s.made).num_days() <= keeps);
        for sample in &samples {
            let age = f64::from(u32::try_from((day - sample.made).num_days()).unwrap_or(0));
            let spoilt = sample.falls >= SPOILT_POINTS;
            if age < 1.0 || !(spoilt || self.laboratory_chance.comes(0.6)) {
                continue;
            }
            let seen = sample.motile - sample.falls * age + 2.4 * self.laboratory_chance.normal();
            let percent = (seen.clamp(2.0, 98.0) * 2.0).round() / 2.0;
            let look = Fact::Retained(Retained {
                batch: sample.batch,
                boars: sample.boars.clone(),
                motile: Share {
                    percent: Percent::new(percent)?,
                    cells: Some(CELLS),
                },
                warmed: Some(true),
                stored_c: Some(TemperatureC::new(17.0)?),
            });
            self.say_in_laboratory(&look, 7 * 60 + 5)?;
        }
        self.laboratory.samples = samples;
        Ok(())
    }

    fn say_in_laboratory(&mut self, fact: &Fact, minutes: i64) -> Result<EntryId, TaleError> {
        let when = When::now(self.at(minutes), self.people.last().copied());
        let order = self
            .devices
            .say(Place::Laboratory, fact, when, &mut self.laboratory_chance)?;
        Ok(order.id)
    }
}

fn photometer() -> Result<Label, TaleError> {
    Ok(Label::parse("Photometer 1")?)
}
