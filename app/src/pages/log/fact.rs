//! One record in a few words: its kind, and what it says.

use crate::pages::sows::served_by;
use crate::tell;
use crate::words::{Key, Words, key};
use pentally_domain::amend::Void;
use pentally_domain::barn::Barn;
use pentally_domain::boar::{Move, OffCollection};
use pentally_domain::check::Check;
use pentally_domain::climate::Climate;
use pentally_domain::curve::{CurvePair, InstrumentCurve};
use pentally_domain::evaluation::{ConcentrationBy, Evaluation, Share};
use pentally_domain::extender::mix::ExtenderMix;
use pentally_domain::fact::{Fact, Kind, Subject};
use pentally_domain::id::{BoarId, EntryId, PenId, PersonId, SowId};
use pentally_domain::retained::Retained;
use pentally_domain::teaching::Work;
use pentally_domain::training::Training;
use pentally_domain::watch::SignalAnswer;

/// The word of a kind.
pub const fn kind_word(kind: Kind) -> Key {
    match kind {
        Kind::Farm => key::KIND_FARM,
        Kind::Person => key::KIND_PERSON,
        Kind::Standard => key::KIND_STANDARD,
        Kind::SameAs => key::KIND_SAME_AS,
        Kind::Boar => key::KIND_BOAR,
        Kind::Pen => key::KIND_PEN,
        Kind::PenTag => key::KIND_PEN_TAG,
        Kind::Move => key::KIND_MOVE,
        Kind::OffCollection => key::KIND_OFF,
        Kind::OnCollection => key::KIND_ON,
        Kind::Sow => key::KIND_SOW,
        Kind::Heat => key::KIND_HEAT,
        Kind::Collection => key::KIND_COLLECTION,
        Kind::Evaluation => key::KIND_EVALUATION,
        Kind::SemenBatch => key::KIND_BATCH,
        Kind::Service => key::KIND_SERVICE,
        Kind::Training => key::KIND_TRAINING,
        Kind::Note => key::KIND_NOTE,
        Kind::Correction => key::KIND_CORRECTION,
        Kind::Void => key::KIND_VOID,
        Kind::Check => key::KIND_CHECK,
        Kind::Supervised => key::KIND_SUPERVISED,
        Kind::SignOff => key::KIND_SIGN_OFF,
        Kind::Climate => key::KIND_CLIMATE,
        Kind::SignalAnswer => key::KIND_SIGNAL_ANSWER,
        Kind::Retained => key::KIND_RETAINED,
        Kind::ExtenderLot => key::KIND_EXTENDER_LOT,
        Kind::ExtenderMix => key::KIND_EXTENDER_MIX,
        Kind::InstrumentCurve => key::KIND_INSTRUMENT_CURVE,
        Kind::CurvePair => key::KIND_CURVE_PAIR,
    }
}

/// What the entry `id` says.
pub fn content(w: &Words, barn: &Barn, fact: &Fact, id: EntryId) -> String {
    let t = Telling { w, barn };
    match fact {
        Fact::Farm(f) => f.name.as_str().to_owned(),
        Fact::Person(_) => barn
            .name(id.as_person())
            .unwrap_or_else(|| w.tr(key::PEOPLE_NO_NAME)),
        Fact::Standard(s) => w.tr_with(
            key::LOG_STANDARD,
            &[
                ("days", s.rest_days.into()),
                ("motility", w.num(s.motility_at_least.value(), 0).into()),
            ],
        ),
        Fact::SameAs(s) => t.boar(s.keep.as_boar()),
        Fact::Boar(b) => b.number.as_str().to_owned(),
        Fact::Pen(p) => p.name.as_str().to_owned(),
        Fact::PenTag(tag) => format!("{} · {}", t.pen(tag.pen), tag.code),
        Fact::Move(m) => t.moved(m),
        Fact::OffCollection(o) => t.off(o),
        Fact::OnCollection(o) => t.boar(o.boar),
        Fact::Sow(s) => s.number.as_str().to_owned(),
        Fact::Heat(h) => t.two(
            t.sow(h.sow),
            w.tr(if h.standing {
                key::SOWS_STOOD
            } else {
                key::SOWS_STOOD_NOT
            }),
        ),
        Fact::Collection(c) => t.two(t.boar(c.boar), tell::collected(w, c)),
        Fact::Training(f) => t.two(t.boar(f.boar), t.trained(f)),
        Fact::Evaluation(e) => t.two(t.boar(e.boar), t.evaluated(e)),
        Fact::SemenBatch(b) => w.tr_with(
            key::LOG_BATCH,
            &[("code", b.code.to_string().into()), ("n", b.doses.into())],
        ),
        Fact::Service(s) => t.two(t.sow(s.sow), served_by(w, barn, s)),
        Fact::Note(n) => t.two(t.subject(n.about), n.text.as_str().to_owned()),
        Fact::Correction(c) => t.two(
            w.tr(kind_word(c.target.kind)),
            content(w, barn, &c.fact, c.target.record.id),
        ),
        Fact::Void(v) => t.two(w.tr(kind_word(v.target.kind)), t.taken_back(v)),
        Fact::Check(c) => t.looked(c),
        Fact::Supervised(s) => t.learnt(key::LOG_WITH, s.person, s.by, s.work),
        Fact::SignOff(s) => t.learnt(key::LOG_SIGNED_OFF, s.person, s.by, s.work),
        Fact::Climate(c) => t.climate(c),
        Fact::SignalAnswer(a) => t.answered(a),
        Fact::Retained(r) => t.kept(r),
        Fact::ExtenderLot(l) => t.two(l.product.as_str().to_owned(), l.lot.as_str().to_owned()),
        Fact::ExtenderMix(m) => t.mixed(m),
        Fact::InstrumentCurve(c) => t.curve(c),
        Fact::CurvePair(p) => t.pair(p),
    }
}

struct Telling<'a> {
    w: &'a Words,
    barn: &'a Barn,
}

impl Telling<'_> {
    fn two(&self, first: String, second: String) -> String {
        if first.is_empty() {
            second
        } else {
            format!("{first}: {second}")
        }
    }

    fn boar(&self, id: BoarId) -> String {
        self.barn.boar(id).map(|b| b.number()).unwrap_or_default()
    }

    fn pen(&self, id: PenId) -> String {
        self.barn
            .pen(id)
            .and_then(|p| p.pen)
            .map(|p| p.fact.name.as_str().to_owned())
            .unwrap_or_default()
    }

    fn sow(&self, id: SowId) -> String {
        self.barn
            .sow(id)
            .and_then(|s| s.sow)
            .map(|s| s.fact.number.as_str().to_owned())
            .unwrap_or_default()
    }

    fn looked(&self, c: &Check) -> String {
        let found = self.w.tr(tell::found(c.answer));
        let remark = c.remark.iter().map(|r| r.as_str().to_owned());
        let found: Vec<_> = std::iter::once(found).chain(remark).collect();
        self.two(self.w.tr(tell::thing(c.what)), found.join(", "))
    }

    fn learnt(&self, key: Key, person: PersonId, by: PersonId, work: Work) -> String {
        let name = |id| {
            let name = self.barn.name(id);
            name.unwrap_or_else(|| self.w.tr(key::PEOPLE_NO_NAME))
        };
        let args = [
            ("work", self.w.tr(tell::work(work)).into()),
            ("name", name(by).into()),
        ];
        self.two(name(person), self.w.tr_with(key, &args))
    }

    /// A look at a retained sample: which batch, and what moved.
    fn kept(&self, r: &Retained) -> String {
        let batch = self.barn.batch(r.batch).map(|b| b.fact.code.to_string());
        let moved = format!("{} %", self.w.num(r.motile.percent.value(), 0));
        self.two(batch.unwrap_or_default(), moved)
    }

    fn mixed(&self, m: &ExtenderMix) -> String {
        let lot = self.barn.extender_lot(m.lot);
        let of = lot.map(|l| l.fact.product.as_str().to_owned());
        let ml = format!(
            "{} {}",
            self.w.num(m.volume.value(), 0),
            self.w.tr(key::UNIT_ML)
        );
        self.two(of.unwrap_or_default(), ml)
    }

    fn curve(&self, c: &InstrumentCurve) -> String {
        let pairs = self
            .w
            .tr_with(key::LOG_CURVE, &[("n", c.pairs.pairs().len().into())]);
        self.two(c.instrument.as_str().to_owned(), pairs)
    }

    fn pair(&self, p: &CurvePair) -> String {
        let read = self.w.num(p.reading.value(), 3);
        let counted = self.w.num(p.concentration.value(), 0);
        let unit = self.w.tr(key::UNIT_MILLION_PER_ML);
        self.two(
            p.instrument.as_str().to_owned(),
            format!("{read} · {counted} {unit}"),
        )
    }

    fn climate(&self, c: &Climate) -> String {
        let airs = || c.readings.iter().map(|r| r.air.value());
        let degrees = |value: f64| self.w.num(value, 1);
        self.w.tr_with(
            key::LOG_CLIMATE,
            &[
                ("room", c.room.as_str().into()),
                ("day", self.w.day_month(c.day).into()),
                ("n", c.readings.len().into()),
                ("low", degrees(airs().fold(f64::INFINITY, f64::min)).into()),
                (
                    "high",
                    degrees(airs().fold(f64::NEG_INFINITY, f64::max)).into(),
                ),
            ],
        )
    }

    fn answered(&self, a: &SignalAnswer) -> String {
        let whose = match a.boar {
            Some(boar) => self.boar(boar),
            None => self.w.tr(key::LOG_SIGNAL_HERD),
        };
        let measure = self.w.tr(tell::measure(a.measure));
        self.two(whose, format!("{measure}: {}", tell::answer(self.w, a)))
    }

    fn subject(&self, subject: Subject) -> String {
        match subject {
            Subject::Farm => String::new(),
            Subject::Boar(id) => self.boar(id),
            Subject::Pen(id) => self.pen(id),
            Subject::Sow(id) => self.sow(id),
        }
    }

    /// What the record said that does not count any more, where it is held here.
    fn taken_back(&self, v: &Void) -> String {
        let record = v.target.record.id;
        let ledgers = v.about.iter().filter_map(|about| self.barn.ledger(*about));
        let row = ledgers
            .flat_map(|ledger| ledger.rows())
            .find(|row| row.order.id == record);
        row.map(|row| content(self.w, self.barn, &row.fact, record))
            .unwrap_or_default()
    }

    fn moved(&self, m: &Move) -> String {
        let boar = ("boar", self.boar(m.boar).into());
        match m.to {
            Some(pen) => self
                .w
                .tr_with(key::LOG_MOVED, &[boar, ("pen", self.pen(pen).into())]),
            None if m.gone => self.w.tr_with(key::LOG_GONE, &[boar]),
            None => self.w.tr_with(key::LOG_OUT, &[boar]),
        }
    }

    fn off(&self, o: &OffCollection) -> String {
        let reason = self.w.tr(tell::off_reason(o.reason));
        let until = o
            .until
            .map(|day| format!(" – {}", self.w.day_month(day)))
            .unwrap_or_default();
        let cull = o
            .cull
            .map(|c| format!(", {}", self.w.tr(tell::cull(c)).to_lowercase()));
        let cull = cull.unwrap_or_default();
        self.two(self.boar(o.boar), format!("{reason}{cull}{until}"))
    }

    fn trained(&self, f: &Training) -> String {
        let how = tell::trained_how(self.w, f).join(", ");
        format!("{}, {how}", tell::trained(self.w, f))
    }

    fn evaluated(&self, e: &Evaluation) -> String {
        let share = |key: Key, share: Option<Share>| {
            share.map(|s| format!("{} {} %", self.w.tr(key), self.w.num(s.percent.value(), 0)))
        };
        let counted = e.concentration.as_ref().and_then(|c| match c {
            ConcentrationBy::Instrument(c)
            | ConcentrationBy::Curve {
                concentration: c, ..
            } => Some(format!(
                "{} {}",
                self.w.num(c.value(), 0),
                self.w.tr(key::UNIT_MILLION_PER_ML)
            )),
            ConcentrationBy::Chamber { .. } | ConcentrationBy::Counts { .. } => None,
        });
        let shares = [
            share(key::LOG_MOTILE, e.motile),
            share(key::LOG_ABNORMAL, e.abnormal),
        ];
        let said: Vec<_> = counted
            .into_iter()
            .chain(shares.into_iter().flatten())
            .collect();
        if said.is_empty() {
            self.w.tr(key::NOT_MEASURED)
        } else {
            said.join(", ")
        }
    }
}
