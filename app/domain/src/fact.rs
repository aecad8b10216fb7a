//! What an entry says: one variant per kind, and which pages it touches.

use crate::amend::{Correction, Note, Void};
use crate::batch::SemenBatch;
use crate::boar::{Boar, Move, OffCollection, OnCollection, Pen, PenTag};
use crate::check::Check;
use crate::climate::Climate;
use crate::collection::Collection;
use crate::curve::{CurvePair, InstrumentCurve};
use crate::envelope::Envelope;
use crate::evaluation::Evaluation;
use crate::extender::mix::{ExtenderLot, ExtenderMix};
use crate::farm::{Farm, Person, SameAs, Standard};
use crate::id::{BoarId, EntryId, PenId, SowId};
use crate::retained::Retained;
use crate::sow::{By, Heat, Service, Sow};
use crate::teaching::{SignOff, Supervised};
use crate::training::{Lesson, Training};
use crate::watch::SignalAnswer;
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::fmt;

/// Whose page. Written `farm`, `boar/<id>`, `pen/<id>` or `sow/<id>`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Subject {
    /// The farm: settings, people, standards, what is the same as what.
    Farm,
    /// A boar.
    Boar(BoarId),
    /// A pen.
    Pen(PenId),
    /// A sow.
    Sow(SowId),
}

impl Subject {
    /// Reads the written form.
    pub fn parse(text: &str) -> Option<Self> {
        if text == "farm" {
            return Some(Self::Farm);
        }
        let (what, id) = text.split_once('/')?;
        match what {
            "boar" => BoarId::parse(id).ok().map(Self::Boar),
            "pen" => PenId::parse(id).ok().map(Self::Pen),
            "sow" => SowId::parse(id).ok().map(Self::Sow),
            _ => None,
        }
    }
}

impl fmt::Display for Subject {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Farm => f.write_str("farm"),
            Self::Boar(id) => write!(f, "boar/{id}"),
            Self::Pen(id) => write!(f, "pen/{id}"),
            Self::Sow(id) => write!(f, "sow/{id}"),
        }
    }
}

impl Serialize for Subject {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for Subject {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        Self::parse(&text)
            .ok_or_else(|| serde::de::Error::custom(format!("'{text}' is no subject")))
    }
}

/// Why a body could not be read, although its kind and version are known here.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum FactError {
    /// The body is not what the kind and version promise.
    #[error("the body of kind '{kind}' version {version} does not read: {detail}")]
    Body {
        /// The kind.
        kind: String,
        /// Its version.
        version: u16,
        /// What the reader said.
        detail: String,
    },
    /// It reads, but says something that cannot be.
    #[error("{field} is {read}; it must be {right}")]
    Impossible {
        /// The field.
        field: &'static str,
        /// What was read.
        read: String,
        /// What would be right.
        right: &'static str,
    },
}

macro_rules! facts {
    ($($(#[$doc:meta])* $variant:ident = $name:literal v $version:literal),+ $(,)?) => {
        /// The kinds known here.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        pub enum Kind {
            $($(#[$doc])* #[serde(rename = $name)] $variant,)+
        }

        impl Kind {
            /// Every kind.
            pub const ALL: &[Self] = &[$(Self::$variant),+];

            /// Its name in the envelope.
            pub const fn name(self) -> &'static str {
                match self { $(Self::$variant => $name,)+ }
            }

            /// The newest version of its body that is read; older ones are read for ever. What is
            /// written is [`Fact::version`].
            pub const fn version(self) -> u16 {
                match self { $(Self::$variant => $version,)+ }
            }

            /// The kind of that name.
            pub fn named(name: &str) -> Option<Self> {
                match name { $($name => Some(Self::$variant),)+ _ => None }
            }
        }

        /// What an entry says.
        #[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
        pub enum Fact {
            $($(#[$doc])* #[serde(rename = $name)] $variant($variant),)+
        }

        impl Fact {
            /// Its kind.
            pub const fn kind(&self) -> Kind {
                match self { $(Self::$variant(_) => Kind::$variant,)+ }
            }

            /// The body's text for the envelope.
            pub fn body(&self) -> String {
                match self { $(Self::$variant(fact) => serde_json::to_string(fact),)+ }.unwrap_or_default()
            }

            fn read(kind: Kind, body: &str) -> Result<Self, serde_json::Error> {
                match kind { $(Kind::$variant => crate::json::read(body).map(Self::$variant),)+ }
            }
        }
    };
}

facts! {
    /// The farm's name and settings.
    Farm = "farm" v 1,
    /// A person to pick.
    Person = "person" v 1,
    /// The farm's thresholds.
    Standard = "farm_standard" v 1,
    /// Two identities are one.
    SameAs = "same_as" v 1,
    /// A boar.
    Boar = "boar" v 1,
    /// A pen.
    Pen = "pen" v 1,
    /// A tag on a pen.
    PenTag = "pen_tag" v 1,
    /// A boar moved.
    Move = "move" v 1,
    /// Off collection.
    OffCollection = "off_collection" v 1,
    /// Back on collection.
    OnCollection = "on_collection" v 1,
    /// A sow.
    Sow = "sow" v 1,
    /// A look for heat.
    Heat = "heat" v 1,
    /// A collection.
    Collection = "collection" v 2,
    /// An evaluation.
    Evaluation = "evaluation" v 2,
    /// A semen batch.
    SemenBatch = "semen_batch" v 1,
    /// A mating or insemination.
    Service = "service" v 1,
    /// Words.
    Note = "note" v 1,
    /// A correction.
    Correction = "correction" v 2,
    /// A void.
    Void = "void" v 1,
    // Stored ledgers know a kind by its place in this list: new kinds stand at the end.
    /// A visit or a session of training.
    Training = "training" v 2,
    /// A look at what is looked after.
    Check = "check" v 1,
    /// Work under supervision.
    Supervised = "supervised" v 1,
    /// A sign-off.
    SignOff = "sign_off" v 1,
    /// How warm and damp it was.
    Climate = "climate" v 1,
    /// What people found after a signal.
    SignalAnswer = "signal_answer" v 2,
    /// A look at a retained sample.
    Retained = "retained" v 1,
    /// A lot of extender.
    ExtenderLot = "extender_lot" v 1,
    /// Extender mixed of a lot.
    ExtenderMix = "extender_mix" v 1,
    /// An instrument's curve.
    InstrumentCurve = "instrument_curve" v 1,
    /// An ejaculate both read and counted.
    CurvePair = "curve_pair" v 1,
}

impl Fact {
    /// Reads an envelope's body. `None` for a kind or version that only a newer program knows:
    /// such an entry is kept and shown as made by a newer version.
    pub fn of(envelope: &Envelope) -> Result<Option<Self>, FactError> {
        let Some(kind) = Kind::named(&envelope.kind).filter(|k| envelope.version <= k.version())
        else {
            return Ok(None);
        };
        let fact = Self::read(kind, &envelope.body).map_err(|e| FactError::Body {
            kind: envelope.kind.clone(),
            version: envelope.version,
            detail: e.to_string(),
        })?;
        fact.check()?;
        Ok(Some(fact))
    }

    /// The version that its body is written as: the oldest that can say it, so that older programs
    /// read all they can and show the rest as made by a newer version. A correction is of the
    /// version of the fact it holds.
    pub fn version(&self) -> u16 {
        match self {
            Self::Evaluation(evaluation) => evaluation.version(),
            Self::Training(training) => training.version(),
            Self::Collection(collection) => collection.version(),
            Self::SignalAnswer(answer) => answer.version(),
            Self::Correction(correction) => correction.fact.version(),
            other => other.kind().version(),
        }
    }

    /// What cannot be, beyond what the types refuse by themselves.
    pub fn check(&self) -> Result<(), FactError> {
        let no = |field, read: String, right| Err(FactError::Impossible { field, read, right });
        match self {
            Self::Farm(farm) if farm.zone.shifts.is_empty() => no(
                "zone.shifts",
                "empty".into(),
                "one change of the clock or more",
            ),
            Self::Standard(s) if s.motility_at_least.value() <= 60.0 => no(
                "motility_at_least",
                s.motility_at_least.value().to_string(),
                "above 60: semen at or below that is not used for insemination",
            ),
            Self::Collection(c) if c.steps.len() > Collection::STEPS_MAX => {
                no("steps", c.steps.len().to_string(), "at most 40")
            }
            Self::Collection(c) if c.amount.is_some() && c.volume().is_none() => no(
                "amount",
                "less than the tare".into(),
                "the weight of cup, bag and semen together, above the tare",
            ),
            Self::SemenBatch(b) if b.sources.is_empty() || b.sources.len() > 50 => no(
                "sources",
                b.sources.len().to_string(),
                "from 1 to 50 ejaculates",
            ),
            Self::SemenBatch(b) if b.doses == 0 || b.doses > 200 => {
                no("doses", b.doses.to_string(), "from 1 to 200")
            }
            Self::Service(Service {
                by: By::Doses { doses, .. },
                ..
            }) if *doses == 0 || *doses > 9 => no("doses", doses.to_string(), "from 1 to 9"),
            Self::Supervised(s) if s.person == s.by => no(
                "by",
                s.by.to_string(),
                "another person than the one who learns",
            ),
            Self::SignOff(s) if s.person == s.by => no(
                "by",
                s.by.to_string(),
                "another person than the one who is signed off",
            ),
            Self::Training(t) if t.what == Lesson::Visit && !t.score.is_unanswered() => no(
                "score",
                "a score of a visit".into(),
                "absent: only a session has one",
            ),
            Self::Climate(c) if !c.is_ordered() => no(
                "readings",
                format!("{} readings", c.readings.len()),
                "from 1 to 48, ascending, within the day",
            ),
            Self::Evaluation(e) if !e.follows() => no(
                "tallied",
                "other shares than were tallied".into(),
                "what the shares motile, abnormal and droplets follow from",
            ),
            Self::Evaluation(e) => match e.counts() {
                Some(Err(error)) => no("concentration", error.to_string(), "a count that can be"),
                _ => Ok(()),
            },
            Self::Retained(r) if r.boars.is_empty() || r.boars.len() > 50 => {
                no("boars", r.boars.len().to_string(), "from 1 to 50 boars")
            }
            Self::SameAs(s) if s.keep == s.other => {
                no("other", s.other.to_string(), "another identity than 'keep'")
            }
            Self::Correction(c) if c.fact.kind() != c.target.kind => no(
                "fact",
                c.fact.kind().name().into(),
                "of the kind of the record it corrects",
            ),
            Self::Correction(c) => c.fact.check(),
            _ => Ok(()),
        }
    }

    /// The pages this fact touches, as the entry `id`.
    pub fn subjects(&self, id: EntryId) -> Vec<Subject> {
        match self {
            Self::Farm(_) | Self::Person(_) | Self::Standard(_) | Self::SameAs(_) => {
                vec![Subject::Farm]
            }
            Self::Check(_) | Self::Supervised(_) | Self::SignOff(_) | Self::Climate(_) => {
                vec![Subject::Farm]
            }
            Self::ExtenderLot(_)
            | Self::ExtenderMix(_)
            | Self::InstrumentCurve(_)
            | Self::CurvePair(_) => vec![Subject::Farm],
            Self::Retained(r) => distinct(r.boars.iter().map(|b| Subject::Boar(*b))),
            Self::SignalAnswer(a) => vec![a.boar.map_or(Subject::Farm, Subject::Boar)],
            Self::Boar(_) => vec![Subject::Boar(id.as_boar())],
            Self::Pen(_) => vec![Subject::Pen(id.as_pen())],
            Self::PenTag(tag) => vec![Subject::Pen(tag.pen)],
            Self::Move(m) => {
                let pens = [m.from, m.to].into_iter().flatten().map(Subject::Pen);
                distinct(std::iter::once(Subject::Boar(m.boar)).chain(pens))
            }
            Self::OffCollection(o) => vec![Subject::Boar(o.boar)],
            Self::OnCollection(o) => vec![Subject::Boar(o.boar)],
            Self::Sow(_) => vec![Subject::Sow(id.as_sow())],
            Self::Heat(h) => vec![Subject::Sow(h.sow)],
            Self::Collection(c) => vec![Subject::Boar(c.boar)],
            Self::Evaluation(e) => vec![Subject::Boar(e.boar)],
            Self::Training(t) => vec![Subject::Boar(t.boar)],
            Self::SemenBatch(b) => distinct(b.sources.iter().map(|s| Subject::Boar(s.boar))),
            Self::Service(s) => {
                let boars = match &s.by {
                    By::Boar(boar) => std::slice::from_ref(boar),
                    By::Doses { boars, .. } => boars,
                };
                distinct(
                    std::iter::once(Subject::Sow(s.sow))
                        .chain(boars.iter().map(|b| Subject::Boar(*b))),
                )
            }
            Self::Note(n) => vec![n.about],
            Self::Correction(c) => distinct(c.about.iter().copied()),
            Self::Void(v) => distinct(v.about.iter().copied()),
        }
    }
}

fn distinct(subjects: impl Iterator<Item = Subject>) -> Vec<Subject> {
    let mut list: Vec<_> = subjects.collect();
    list.sort_unstable();
    list.dedup();
    list
}
