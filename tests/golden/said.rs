// The entries whose bytes are frozen: every kind once, and the envelope's extremes.
// Only ever add to the end of these lists; what stands here is committed as bytes.

use chrono::NaiveDate;
use pentally_domain::amend::{Correction, Note, Target, Void};
use pentally_domain::batch::{SemenBatch, Source};
use pentally_domain::boar::{
    Before, Boar, Move, OffCollection, OffReason, OnCollection, Pen, PenTag,
};
use pentally_domain::code::Code;
use pentally_domain::collection::{
    Amount, Collection, Despite, Glove, Mount, Outcome, Step, Taken, Temper, Trouble,
};
use pentally_domain::doses::Technique;
use pentally_domain::envelope::{Entry, Envelope, Hash, NUMBER_MAX};
use pentally_domain::evaluation::{Colour, ConcentrationBy, Evaluation, Share, Smell};
use pentally_domain::fact::{Fact, Subject};
use pentally_domain::farm::{CountAs, Farm, Person, SameAs, Standard};
use pentally_domain::id::{BarnId, BoarId, DeviceId, EntryId, FarmId, PenId, PersonId, SowId};
use pentally_domain::said::{Label, Remark, Said};
use pentally_domain::sow::{By, Heat, Service, Sow};
use pentally_domain::time::{Clock, Shift, Stamp, Zone};
use pentally_domain::units::{Concentration, Count, MassG, Percent, VolumeMl};
use pentally_domain::writer::{Head, Moment};

/// 2026-03-28 06:05 UTC, the morning before a change of clocks.
const BEGIN_MS: i64 = 1_774_677_900_000;

/// The identity of the n-th entry of the thread.
fn id(n: u8) -> EntryId {
    EntryId::v7(BEGIN_MS + i64::from(n) * 60_000, [n; 10])
}

fn boar(n: u8) -> BoarId {
    id(n).as_boar()
}

fn pen(n: u8) -> PenId {
    id(n).as_pen()
}

fn sow(n: u8) -> SowId {
    id(n).as_sow()
}

fn day(y: i32, m: u32, d: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(y, m, d).expect("a day")
}

fn at(minute: i64) -> Stamp {
    Stamp::new(BEGIN_MS + minute * 60_000, 60).expect("a stamp")
}

fn label(text: &str) -> Label {
    Label::parse(text).expect("a label")
}

fn remark(text: &str) -> Remark {
    Remark::parse(text).expect("a remark")
}

fn ml(volume: f64) -> VolumeMl {
    VolumeMl::new(volume).expect("a volume")
}

fn percent(value: f64) -> Percent {
    Percent::new(value).expect("a percentage")
}

fn zone() -> Zone {
    let shifts = [
        (1_761_440_400_000, 60),
        (1_774_746_000_000, 120),
        (1_792_890_000_000, 60),
    ];
    let shifts = shifts
        .map(|(from_ms, offset_min)| Shift {
            from_ms,
            offset_min,
        })
        .to_vec();
    Zone {
        name: "Europe/Madrid".into(),
        shifts,
    }
}

fn collection() -> Collection {
    let steps = [
        (Step::Enters, Some(0)),
        (Step::Mounts, Some(2)),
        (Step::LockOn, Some(3)),
        (Step::PreSperm, None),
        (Step::SpermRich, Some(4)),
        (Step::SpermPoor, None),
        (Step::Gel, None),
        (Step::End, Some(9)),
    ];
    Collection {
        boar: boar(5),
        outcome: Outcome::Collected,
        glove: Said::Confirmed(Glove::Vinyl),
        mount: Said::Confirmed(Mount::Sow(Some(sow(12)))),
        steps: steps
            .map(|(step, minute)| Taken {
                step,
                at: minute.map(at),
            })
            .to_vec(),
        sperm_poor_in: Said::ByDefault(true),
        amount: Some(Amount::Mass {
            gross: MassG::new(271.3).expect("g"),
            tare: MassG::new(38.8).expect("g"),
        }),
        amount_confirmed: true,
        temper: Some(Temper::Restless),
        trouble: vec![Trouble::Slipped, Trouble::Hot],
        despite: Some(Despite::SowsWait),
        note: Some(remark("Tranquilo «al final»; 2.º intento")),
    }
}

fn evaluation() -> Evaluation {
    let dilution = serde_json::from_str("[[1.0,19.0]]").expect("a dilution");
    Evaluation {
        collection: id(15),
        boar: boar(5),
        concentration: Some(ConcentrationBy::Chamber {
            count: Count::new(412).expect("n"),
            squares: 80,
            dilution,
        }),
        motile: Some(Share {
            percent: percent(82.5),
            cells: Some(200),
        }),
        abnormal: Some(Share {
            percent: percent(12.0),
            cells: None,
        }),
        droplets: None,
        colour: Some(Colour::Milky),
        smell: Some(Smell::Normal),
        blood: Some(false),
        pus: None,
        urine: Some(true),
        tallied: None,
    }
}

fn batch() -> SemenBatch {
    SemenBatch {
        code: Code::from_number(40_217).expect("a code"),
        sources: vec![Source {
            boar: boar(5),
            collection: id(15),
            evaluation: Some(id(16)),
        }],
        standard: Some(id(3)),
        reckoning: "doses".into(),
        asked: r#"{"volume_ml":232.5}"#.into(),
        answered: r#"{"doses":13}"#.into(),
        doses: 13,
        dose_volume: ml(80.0),
        technique: Technique::Intracervical,
        counted: true,
        use_by: at(4_320),
        antibiotic: Some(true),
        extender_mix: None,
    }
}

fn standard() -> Standard {
    Standard {
        rest_days: 4,
        motility_at_least: percent(72.5),
        count_as: CountAs::MotileNormal,
        antibiotic: Some(false),
        ..Standard::default()
    }
}

fn a_boar() -> Boar {
    Boar {
        number: label("117"),
        name: Some(label("Roble")),
        born: Some(day(2024, 2, 29)),
        line: Some(label("Maternal")),
        ear: Some(label("E4417")),
        before: Before::LastOn(day(2026, 3, 26)),
        mind: Some(remark("Bites when hurried")),
    }
}

/// Names and facts, in the order of one device's thread.
fn facts() -> Vec<(&'static str, Fact)> {
    let doses = By::Doses {
        batch: id(17),
        boars: vec![boar(5)],
        doses: 2,
        technique: Technique::PostCervical,
    };
    let farm = Farm {
        name: label("Altozar"),
        zone: zone(),
        origin: Some("https://barn.example:8420".into()),
        invented: true,
    };
    let particulars = Boar {
        number: label("118"),
        name: None,
        born: None,
        line: None,
        ear: None,
        before: Before::Unknown,
        mind: None,
    };
    vec![
        ("farm", Fact::Farm(farm)),
        ("person", Fact::Person(Person { left: false })),
        ("farm_standard", Fact::Standard(standard())),
        (
            "same_as",
            Fact::SameAs(SameAs {
                keep: id(5),
                other: id(6),
            }),
        ),
        ("boar", Fact::Boar(a_boar())),
        ("boar_thin", Fact::Boar(particulars)),
        ("pen", Fact::Pen(Pen { name: label("A1") })),
        (
            "pen_tag",
            Fact::PenTag(PenTag {
                pen: pen(7),
                code: Code::from_number(12_345).expect("a code"),
            }),
        ),
        (
            "move",
            Fact::Move(Move {
                boar: boar(5),
                from: None,
                to: Some(pen(7)),
                gone: false,
            }),
        ),
        (
            "off_collection",
            Fact::OffCollection(OffCollection {
                boar: boar(5),
                reason: OffReason::BloodOrPus,
                until: Some(day(2026, 4, 11)),
                cull: None,
            }),
        ),
        (
            "on_collection",
            Fact::OnCollection(OnCollection { boar: boar(5) }),
        ),
        (
            "sow",
            Fact::Sow(Sow {
                number: label("1041"),
                gilt: true,
            }),
        ),
        (
            "heat",
            Fact::Heat(Heat {
                sow: sow(12),
                standing: true,
                onset: Some(at(-700)),
            }),
        ),
        (
            "note",
            Fact::Note(Note {
                about: Subject::Farm,
                text: remark("36 °C at noon"),
            }),
        ),
        ("collection", Fact::Collection(collection())),
        ("evaluation", Fact::Evaluation(evaluation())),
        ("semen_batch", Fact::SemenBatch(batch())),
        (
            "service_doses",
            Fact::Service(Service {
                sow: sow(12),
                by: doses,
            }),
        ),
        (
            "service_boar",
            Fact::Service(Service {
                sow: sow(12),
                by: By::Boar(boar(5)),
            }),
        ),
        (
            "move_gone",
            Fact::Move(Move {
                boar: boar(6),
                from: Some(pen(7)),
                to: None,
                gone: true,
            }),
        ),
    ]
}

fn moment(n: u8, person: bool) -> Moment {
    let now = at(i64::from(n));
    let person = person.then(|| PersonId::from_uuid(id(2).uuid()));
    Moment {
        now,
        occurred_at: if n.is_multiple_of(3) {
            at(i64::from(n) - 5)
        } else {
            now
        },
        random: [n; 10],
        person,
    }
}

fn head() -> Head {
    let (farm, barn) = (
        FarmId::v7(BEGIN_MS, [0xfa; 10]),
        BarnId::v7(BEGIN_MS, [0xba; 10]),
    );
    Head {
        seen: 11,
        ..Head::new(farm, barn, DeviceId::v7(BEGIN_MS, [0xde; 10]))
    }
}

/// One device's thread: every kind, amendments of all shapes, a kind of a newer version.
fn thread() -> Vec<(&'static str, Entry, Option<Fact>)> {
    let (mut head, mut list, mut n) = (head(), vec![], 0);
    let mut say =
        |name: &'static str, fact: Fact, list: &mut Vec<(&'static str, Entry, Option<Fact>)>| {
            n += 1;
            let (entry, next) = head.write(&fact, moment(n, n % 2 == 0)).expect("an entry");
            head = next;
            let order = entry.order();
            list.push((name, entry, Some(fact)));
            order
        };
    let mut orders = vec![];
    for (name, fact) in facts() {
        orders.push((say(name, fact.clone(), &mut list), fact));
    }
    let (record, before) = orders[14].clone();
    let right = Fact::Collection(Collection {
        boar: boar(6),
        amount: Some(Amount::Volume(ml(232.5))),
        ..collection()
    });
    let moved = Correction {
        occurred_at: Some(at(-30)),
        ..Correction::of(record, &before, right)
    };
    say("correction", Fact::Correction(moved), &mut list);
    let void = Void::of(orders[13].0, &orders[13].1);
    let voided = say("void", Fact::Void(void.clone()), &mut list);
    let target = Target {
        amendment: Some(voided.id),
        ..void.target
    };
    say(
        "void_of_void",
        Fact::Void(Void {
            target,
            about: void.about,
        }),
        &mut list,
    );
    let (newer, _) = head
        .write_raw(
            "water_meter",
            3,
            "{\"litres\":1042}".into(),
            moment(n + 1, false),
        )
        .expect("an entry");
    list.push(("unknown_kind", newer, None));
    list
}

/// Envelopes at their bounds, and bodies as an older or a careless program writes them.
fn edges() -> Vec<(&'static str, Entry, Option<Fact>)> {
    let plain = thread().swap_remove(13).1.envelope().clone();
    let far = Stamp::new(-2_208_988_800_000, -210).expect("1900");
    let late = Stamp::new(4_133_894_399_999, 840).expect("2100");
    let least = Envelope {
        seq: 1,
        prev: Hash::NONE,
        person: None,
        occurred_at: far,
        recorded_at: far,
        clock: Clock { ms: i64::MIN, n: 0 },
        seen: 0,
        kind: "z".into(),
        version: 1,
        body: String::new(),
        ..plain.clone()
    };
    let most = Envelope {
        seq: NUMBER_MAX,
        prev: Hash::from_bytes([0xff; 32]),
        occurred_at: late,
        recorded_at: late,
        clock: Clock {
            ms: i64::MAX,
            n: u16::MAX,
        },
        seen: NUMBER_MAX,
        kind: "k".repeat(40),
        version: u16::MAX,
        body: "{\"text\":\"tab\\t \u{7f}\u{0}\u{1f} «ñ» 🐗 \\u0000\"}\n".into(),
        ..plain.clone()
    };
    let body = format!(
        r#"{{ "outcome" : "no_mount",  "boar":"{}" , "later_field": [1, 2.50]}}"#,
        boar(5)
    );
    let thin = Envelope {
        seq: 300,
        kind: "collection".into(),
        body,
        ..plain
    };
    let fact = Fact::Collection(Collection {
        boar: boar(5),
        outcome: Outcome::NoMount,
        glove: Said::Unanswered,
        mount: Said::Unanswered,
        steps: vec![],
        sperm_poor_in: Said::Unanswered,
        amount: None,
        amount_confirmed: false,
        temper: None,
        trouble: vec![],
        despite: None,
        note: None,
    });
    let seal = |envelope| Entry::seal(envelope).expect("within bounds");
    vec![
        ("edge_least", seal(least), None),
        ("edge_most", seal(most), None),
        ("body_thin", seal(thin), Some(fact)),
    ]
}

/// Names, entries and the facts that must be read from them.
pub fn said() -> Vec<(&'static str, Entry, Option<Fact>)> {
    let mut all = thread();
    all.extend(edges());
    all
}

/// An instrument's reading, which the thread has not: kept so that both forms stay readable.
pub fn instrument() -> Evaluation {
    let concentration = Some(ConcentrationBy::Instrument(
        Concentration::new(231.5).expect("M/mL"),
    ));
    Evaluation {
        concentration,
        ..evaluation()
    }
}
