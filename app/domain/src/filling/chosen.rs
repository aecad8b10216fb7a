//! What people choose at the filling table, what holds where they do not, and what is odd about it.

use super::Cup;
use crate::doses::Technique;
use crate::extender::mix::Poured;
use crate::extender::{ExtenderClass, MIXING, UNDILUTED_HOURS};
use crate::farm::{CountAs, Standard};
use crate::id::EntryId;
use crate::plain::PlainRoute;
use crate::reckon::{Confirmed, KeepAsked, SowsAsked, TemperaturesAsked};
use crate::time::{HOUR_MS, MINUTE_MS};
use crate::units::{
    Assurance, Concentration, DoseVolumeMl, ServicesPerHeat, Sows, SpermBillions, TemperatureC,
    VolumeMl,
};
use serde::{Deserialize, Serialize};

/// What people chose. What is absent is left at its default, and the request says so by its absence.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Chosen {
    /// Without counting.
    pub route: Option<PlainRoute>,
    /// Where the semen is placed.
    pub technique: Option<Technique>,
    /// How sperm count.
    pub count_as: Option<CountAs>,
    /// Sperm in each dose.
    pub target: Option<SpermBillions>,
    /// Volume of each dose.
    pub dose_volume: Option<DoseVolumeMl>,
    /// The extender's class; that of the mix's lot where there is a mix.
    pub extender: Option<ExtenderClass>,
    /// The mix of extender that goes in.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub extender_mix: Option<Poured>,
    /// As measured.
    pub semen: Option<TemperatureC>,
    /// As measured.
    pub extender_is: Option<TemperatureC>,
    /// Sows that stand.
    pub sows: Option<Sows>,
    /// Services of each in this heat.
    pub services: Option<ServicesPerHeat>,
    /// How sure the doses are to be.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub how_sure: Option<HowSure>,
    /// Odd figures that were asked about and kept, each as it was shown. They are asked about anew
    /// when the page was closed meanwhile.
    #[serde(skip)]
    pub kept: Vec<Odd>,
}

/// How sure the doses of one filling are to be, where somebody said so.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum HowSure {
    /// As the plain formula counts them: the measurements taken as certain.
    Plain,
    /// Each holds its target with this assurance.
    Assured(Assurance),
}

/// A figure outside its usual range, to be asked about once and kept with a flag.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Odd {
    /// Of which collection; none for what holds for all that is poured together.
    pub collection: Option<EntryId>,
    /// Which.
    pub what: Confirmed,
    /// What was read; for both temperatures how far they are apart, for the age whole hours.
    pub read: f64,
    /// The usual range.
    pub usual: (f64, f64),
    /// The unit.
    pub unit: &'static str,
}

/// Raw semen that should have been diluted by now: the oldest of what goes in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Overdue {
    /// Which collection.
    pub collection: EntryId,
    /// How long ago it was collected.
    pub age_ms: i64,
}

impl Overdue {
    /// Past what undiluted semen keeps it is asked about, and again with every hour.
    pub(super) fn odd(self) -> Option<Odd> {
        let most_ms = i64::from(UNDILUTED_HOURS) * HOUR_MS;
        (self.age_ms > most_ms).then_some(Odd {
            collection: Some(self.collection),
            what: Confirmed::Age,
            read: (self.age_ms / HOUR_MS) as f64,
            usual: (0.0, UNDILUTED_HOURS.into()),
            unit: "h",
        })
    }
}

impl Chosen {
    /// The technique, chosen or not. What is not counted goes into the cervix, for which its
    /// volumes are printed.
    pub fn technique(&self) -> Technique {
        match self.route {
            Some(_) => Technique::Intracervical,
            None => self.technique.unwrap_or_default(),
        }
    }

    /// How sperm count: as chosen, else as the farm counts them.
    pub fn count_as(&self, standard: &Standard) -> CountAs {
        self.count_as.unwrap_or(standard.count_as)
    }

    /// The assurance asked of each dose: as chosen, else as the farm asks; none where doses are
    /// counted by the plain formula.
    pub fn assurance(&self, standard: &Standard) -> Option<Assurance> {
        match self.how_sure {
            Some(HowSure::Plain) => None,
            Some(HowSure::Assured(assurance)) => Some(assurance),
            None => standard.assurance_percent,
        }
    }

    /// Sperm in each dose: as chosen, else the technique's own.
    pub fn target(&self) -> SpermBillions {
        self.target.unwrap_or(self.technique().usual().0)
    }

    /// Volume of each dose: as chosen, else that of the route or of the technique.
    pub fn dose_volume(&self) -> DoseVolumeMl {
        self.dose_volume.unwrap_or(match self.route {
            Some(PlainRoute::Undiluted) => DoseVolumeMl::HUNDRED,
            Some(PlainRoute::Extended) => DoseVolumeMl::EIGHTY,
            None => self.technique().usual().1,
        })
    }

    /// The least and the most a dose may hold, in mL.
    pub fn dose_bounds(&self) -> (f64, f64) {
        let hundred = DoseVolumeMl::HUNDRED.value();
        match self.route {
            Some(PlainRoute::Undiluted) => (DoseVolumeMl::LOW, hundred),
            Some(PlainRoute::Extended) => (DoseVolumeMl::EIGHTY.value(), hundred),
            None => (DoseVolumeMl::LOW, DoseVolumeMl::HIGH),
        }
    }

    /// The class of the extender: as chosen, else the one that keeps as long as the farm's.
    pub fn extender(&self, standard: &Standard) -> ExtenderClass {
        self.class()
            .unwrap_or(ExtenderClass::keeping(standard.keeps_days))
    }

    /// The class that was chosen, by itself or with a mix.
    fn class(&self) -> Option<ExtenderClass> {
        self.mix().map(|mix| mix.class).or(self.extender)
    }

    /// The mix that goes in; undiluted semen meets none.
    pub fn mix(&self) -> Option<Poured> {
        self.extender_mix
            .filter(|_| self.route != Some(PlainRoute::Undiluted))
    }

    /// Whether this is the extender that the farm standard speaks of.
    fn farms_extender(&self, standard: &Standard) -> bool {
        self.extender(standard) == ExtenderClass::keeping(standard.keeps_days)
    }

    /// Nobody said whether another extender than the farm's holds an antibiotic; where there is no
    /// extender, there is none in it.
    pub(super) fn antibiotic(&self, standard: &Standard) -> Option<bool> {
        match self.route {
            Some(PlainRoute::Undiluted) => Some(false),
            _ if self.extender_mix.is_some() => self.extender_mix.and_then(|mix| mix.antibiotic),
            _ if self.farms_extender(standard) => standard.antibiotic,
            _ => None,
        }
    }

    pub(super) fn keep(&self, cups: &[Cup], standard: &Standard) -> KeepAsked {
        KeepAsked {
            extender: self.class(),
            days: match self.mix().and_then(|mix| mix.days) {
                Some(days) => Some(days.into()),
                None => self
                    .farms_extender(standard)
                    .then_some(standard.keeps_days.into()),
            },
            collected_at: cups.iter().map(|c| c.at).min_by_key(|at| at.ms()),
        }
    }

    pub(super) fn sows(&self) -> Option<SowsAsked> {
        self.sows.map(|sows| SowsAsked {
            sows: sows.into(),
            services_per_heat: self.services.map(Into::into),
        })
    }

    pub(super) fn temperatures(&self) -> TemperaturesAsked {
        // Undiluted semen meets no extender.
        if self.route == Some(PlainRoute::Undiluted) {
            return TemperaturesAsked::default();
        }
        TemperaturesAsked {
            semen_c: self.semen.map(TemperatureC::value),
            extender_c: self.extender_is.map(TemperatureC::value),
        }
    }

    /// Every odd figure, asked about or not.
    pub(super) fn odd(&self, cups: &[Cup]) -> Vec<Odd> {
        let odd_of = |collection, what, read, usual, unit, odd: bool| {
            odd.then_some(Odd {
                collection,
                what,
                read,
                usual,
                unit,
            })
        };
        let mut list = vec![];
        for cup in cups {
            let odd = |what, read, usual, unit, odd| {
                odd_of(Some(cup.collection), what, read, usual, unit, odd)
            };
            let volume = cup.collected.volume().map(|v| {
                let unusual = v.improbable() && !cup.collected.amount_confirmed;
                odd(
                    Confirmed::Volume,
                    v.value(),
                    VolumeMl::USUAL,
                    VolumeMl::UNIT,
                    unusual,
                )
            });
            let dense = cup.ejaculate().concentration.map(|c| {
                let (usual, unit) = (Concentration::USUAL, Concentration::UNIT);
                odd(
                    Confirmed::Concentration,
                    c.value(),
                    usual,
                    unit,
                    c.improbable(),
                )
            });
            // Doses that are not counted do not rest on a concentration.
            let dense = dense.filter(|_| self.route.is_none());
            list.extend(volume.flatten().into_iter().chain(dense.flatten()));
        }
        let odd = |what, read, usual, unit, odd| odd_of(None, what, read, usual, unit, odd);
        let (target, dose) = (self.target(), self.dose_volume());
        let (usual, unit) = (SpermBillions::USUAL, SpermBillions::UNIT);
        let unusual = self.route.is_none() && target.improbable();
        list.extend(odd(Confirmed::Target, target.value(), usual, unit, unusual));
        let (usual, unit) = (DoseVolumeMl::USUAL, DoseVolumeMl::UNIT);
        list.extend(odd(
            Confirmed::DoseVolume,
            dose.value(),
            usual,
            unit,
            dose.improbable(),
        ));
        for (what, read) in [
            (Confirmed::SemenTemperature, self.semen),
            (Confirmed::ExtenderTemperature, self.extender_is),
        ] {
            let (usual, unit) = (TemperatureC::USUAL, TemperatureC::UNIT);
            list.extend(read.and_then(|t| odd(what, t.value(), usual, unit, t.improbable())));
        }
        list
    }

    /// What is to be diluted and should have been by now.
    pub(super) fn overdue(&self, cups: &[Cup], now_ms: i64) -> Option<Overdue> {
        // Undiluted semen is past use by then, and no batch of it is made.
        if self.route == Some(PlainRoute::Undiluted) {
            return None;
        }
        let oldest = cups.iter().min_by_key(|c| c.at.ms())?;
        let age_ms = now_ms.saturating_sub(oldest.at.ms());
        (age_ms > i64::from(MIXING.within_min) * MINUTE_MS).then_some(Overdue {
            collection: oldest.collection,
            age_ms,
        })
    }

    /// A dose that thin semen made larger than is usual: behind the cervix, larger than the
    /// technique's own.
    pub(super) fn large(&self, dose_ml: f64) -> Option<Odd> {
        let (low, high) = DoseVolumeMl::USUAL;
        let high = match self.technique() {
            Technique::Intracervical => high,
            uterine => uterine.usual().1.value(),
        };
        (!(low..=high).contains(&dose_ml)).then_some(Odd {
            collection: None,
            what: Confirmed::DoseVolume,
            read: dose_ml,
            usual: (low, high),
            unit: DoseVolumeMl::UNIT,
        })
    }

    /// What the request says a person settled.
    pub(super) fn confirmed(&self, odd: &[Odd]) -> Vec<Confirmed> {
        let counted = self.technique.filter(|_| self.route.is_none());
        let technique = counted.map(|_| Confirmed::Technique);
        let count_as = self.count_as.map(|_| Confirmed::CountAs);
        let mut list: Vec<_> = technique.into_iter().chain(count_as).collect();
        for one in odd {
            if self.kept.contains(one) && !list.contains(&one.what) {
                list.push(one.what);
            }
        }
        list
    }
}
