//! The farm, its people and its own standard.

use crate::check::CheckDays;
use crate::id::EntryId;
use crate::said::Label;
use crate::time::Zone;
use crate::units::{Assurance, ErrorPercent, Percent};
use serde::{Deserialize, Serialize};

/// The farm's name and settings; each change is a new entry of this kind, and the latest holds.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Farm {
    /// The farm's name.
    pub name: Label,
    /// The zone that cuts the farm's days, from this entry's time on.
    pub zone: Zone,
    /// The address printed on tags, such as `https://barn.example:8420`, once chosen.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub origin: Option<String>,
    /// Whether this is the invented barn, which never mixes with a real one.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub invented: bool,
}

/// A person exists. The name lives beside the log, where it can be erased; see `beside`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Person {
    /// No longer works here.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub left: bool,
}

/// Two identities that are one thing: the same boar entered on two phones.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct SameAs {
    /// The identity that stays.
    pub keep: EntryId,
    /// The identity that is read as `keep` from now on.
    pub other: EntryId,
}

/// How sperm are counted towards the dose.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CountAs {
    /// Every sperm.
    Total,
    /// Motile sperm.
    #[default]
    Motile,
    /// Motile sperm of normal shape.
    MotileNormal,
}

/// When a boar works again after a first success. In print stand two rhythms; the farm chooses.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Rhythm {
    /// On the days that follow, `repetition_days` of them (three: common practice, no source).
    #[default]
    DaysRunning,
    /// On the next day, then after a week of rest, then weekly, four times in all
    /// (another source, from memory).
    NextDayThenWeekly,
}

/// The farm's own thresholds. Every field has the default the program starts from; the sources
/// conflict on most of them, so the farm chooses. A semen batch names the version it was made under.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Standard {
    /// Rest between collections, in farm days. Default 3 (Knox et al. 2008: 3–7 d).
    pub rest_days: u8,
    /// Collections and natural services within any seven days that need no reason.
    /// Default 2 (once or twice a week; common practice, no source).
    pub in_seven_days: u8,
    /// Idle longer than this many days: check before use. Default 7 (common practice, no source).
    pub idle_check_days: u8,
    /// Idle longer than this many days: the first ejaculate is a clean-out. Default 14 (common practice, no source).
    pub idle_clean_out_days: u8,
    /// Too young below this many days of age. Default 240, eight months
    /// (many start at 8–9 months: Stewart & Lovercamp 2017).
    pub young_days: u16,
    /// Days of repetition after a first success, exempt from the third in seven days.
    /// Default 3 (common practice, no source).
    pub repetition_days: u8,
    /// Motility that an ejaculate for insemination reaches, in %. Default 70; never 60 or below.
    pub motility_at_least: Percent,
    /// Abnormal sperm at most, in %. Default 30 (from memory).
    pub abnormal_at_most: Percent,
    /// Droplets at most, in %. Default 15 (from memory; sources conflict).
    pub droplets_at_most: Percent,
    /// How sperm are counted towards a dose.
    pub count_as: CountAs,
    /// Pregnancy length in days: 114, or 115 as some calendars print.
    pub gestation_days: u8,
    /// Whether the watery, sperm-poor fraction goes into the cup here.
    pub sperm_poor_in: bool,
    /// Whether the extender in use holds an antibiotic; nobody said when absent.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub antibiotic: Option<bool>,
    /// The longest the extender in use keeps, in days; see `extender::ExtenderClass`.
    pub keeps_days: u8,
    // The fields below are younger than the first farms' entries: absent reads as the default for
    // ever, so these defaults never change.
    /// When he works again after a first success.
    #[serde(skip_serializing_if = "Rhythm::is_default")]
    pub rhythm: Rhythm,
    /// The longest training session, in minutes. Default 15 (15–20 in print; common practice).
    #[serde(skip_serializing_if = "is::<15>")]
    pub session_minutes: u8,
    /// The longest training session of a boar who shows no interest, in minutes.
    /// Default 10 (common practice, no source).
    #[serde(skip_serializing_if = "is::<10>")]
    pub session_minutes_without_interest: u8,
    /// How long a boar is kept apart after arrival, in days. Default 30, which is the least
    /// (incoming boars stay isolated at least 30 days: common practice, no source).
    #[serde(skip_serializing_if = "is::<30>")]
    pub isolation_days: u8,
    /// After how many days each thing is looked at again.
    #[serde(skip_serializing_if = "CheckDays::is_default")]
    pub checks: CheckDays,
    /// How often somebody works under supervision before a sign-off. Default 10 (common practice, no source).
    #[serde(skip_serializing_if = "is::<10>")]
    pub supervised_times: u8,
    /// A grown boar's regular days from one collection to the next. Default 5
    /// (rest 3–7 d: Knox et al. 2008; once or twice a week: common practice, no source).
    #[serde(skip_serializing_if = "is::<5>")]
    pub regular_days: u8,
    /// The same for a boar under a year of age. Default 7 (common practice, no source).
    #[serde(skip_serializing_if = "is::<7>")]
    pub regular_days_young: u8,
    /// From this temperature-humidity index on an hour counts as hot. Default 75, where "alert"
    /// begins (bands made for cattle; see `climate`).
    #[serde(skip_serializing_if = "is::<75>")]
    pub hot_thi: u8,
    /// From this temperature on an hour without a reading of humidity counts as hot, in °C.
    /// Default 27: above it for two to four days a herd's reproduction suffers (Myer & Bucklin,
    /// University of Florida; trials on boars heated them to 33–38 °C).
    #[serde(skip_serializing_if = "is::<27>")]
    pub hot_celsius: u8,
    /// With so many hot hours a day counts as hot. Default 6 (common practice, no source).
    #[serde(skip_serializing_if = "is::<6>")]
    pub hot_hours: u8,
    /// With which assurance each dose is to hold its target, in %. Absent: doses are counted from the
    /// measurements as they were read, as if those were certain.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub assurance_percent: Option<Assurance>,
    /// By how much one dose's share of the semen differs from the next one's, in %; absent: see
    /// `assured::FILLING_ERROR`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub filling_error_percent: Option<ErrorPercent>,
}

#[expect(
    clippy::trivially_copy_pass_by_ref,
    reason = "the writer hands a reference"
)]
const fn is<const DEFAULT: u8>(value: &u8) -> bool {
    *value == DEFAULT
}

impl Rhythm {
    #[expect(
        clippy::trivially_copy_pass_by_ref,
        reason = "the writer hands a reference"
    )]
    const fn is_default(&self) -> bool {
        matches!(self, Self::DaysRunning)
    }
}

impl Default for Standard {
    fn default() -> Self {
        Self {
            rest_days: 3,
            in_seven_days: 2,
            idle_check_days: 7,
            idle_clean_out_days: 14,
            young_days: 240,
            repetition_days: 3,
            motility_at_least: Percent::of(70),
            abnormal_at_most: Percent::of(30),
            droplets_at_most: Percent::of(15),
            count_as: CountAs::Motile,
            gestation_days: 114,
            sperm_poor_in: false,
            antibiotic: None,
            keeps_days: 3,
            rhythm: Rhythm::DaysRunning,
            session_minutes: 15,
            session_minutes_without_interest: 10,
            isolation_days: 30,
            checks: CheckDays::default(),
            supervised_times: 10,
            regular_days: 5,
            regular_days_young: 7,
            hot_thi: 75,
            hot_celsius: 27,
            hot_hours: 6,
            assurance_percent: None,
            filling_error_percent: None,
        }
    }
}
