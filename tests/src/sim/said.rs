//! What people write down on the phones.

use super::dice::Dice;
use pentally_domain::amend::{Correction, Note, Target, Void};
use pentally_domain::boar::{Before, Boar, Move, OffCollection, OffReason};
use pentally_domain::collection::{Collection, Outcome};
use pentally_domain::envelope::{Entry, Order};
use pentally_domain::fact::{Fact, Subject};
use pentally_domain::id::{BoarId, PenId};
use pentally_domain::said::{Label, Remark, Said};
use std::sync::OnceLock;

/// A record somebody has seen, with the amendments he has seen of it.
pub type Seen = (Order, Fact);

/// What goes into an entry.
#[derive(Debug, Clone)]
pub enum Saying {
    /// A fact.
    Fact(Box<Fact>),
    /// A kind, a version and a body that this program does not write.
    Raw(&'static str, u16, &'static str),
}

/// What no program reads: it belongs aside.
pub const UNREADABLE: Saying = Saying::Raw("collection", 1, r#"{"boar":"unreadable"}"#);

/// How many boars are spoken about.
const BOARS: u8 = 6;

/// The n-th boar; some phone or other writes him down.
fn boar(n: u8) -> BoarId {
    BoarId::v7(1_700_000_000_000, [n; 10])
}

fn pen(n: u8) -> PenId {
    PenId::v7(1_700_000_000_000, [100 + n; 10])
}

/// Every kind there is, at least once: what the frozen bytes say. Their subjects are few, so that
/// facts of several kinds and phones meet in one ledger.
fn every_kind() -> &'static [Fact] {
    const FROZEN: [&str; 6] = [
        include_str!("../../golden/entries.jsonl"),
        include_str!("../../golden/training/entries.jsonl"),
        include_str!("../../golden/care/entries.jsonl"),
        include_str!("../../golden/watch/entries.jsonl"),
        include_str!("../../golden/evaluation/entries.jsonl"),
        include_str!("../../golden/laboratory/entries.jsonl"),
    ];
    static FACTS: OnceLock<Vec<Fact>> = OnceLock::new();
    FACTS.get_or_init(|| {
        let entries = FROZEN.iter().flat_map(|set| set.lines());
        let entries = entries.map(|line| Entry::from_line(line).unwrap());
        let facts = entries.filter_map(|entry| Fact::of(entry.envelope()).unwrap());
        // The farm's first entry is the office's.
        facts.filter(|f| !matches!(f, Fact::Farm(_))).collect()
    })
}

/// Something to say, perhaps about what was seen before.
pub fn saying(seen: &[Seen], dice: &mut Dice) -> Saying {
    let fact = |fact| Saying::Fact(Box::new(fact));
    // One of them is spoken about so often that his ledger's windows overflow.
    let about = if dice.in_thousand(500) {
        boar(0)
    } else {
        boar(u8::try_from(dice.below(BOARS.into())).unwrap())
    };
    match dice.below(100) {
        0..=1 => Saying::Raw("water_meter", 3, r#"{"litres":1042}"#),
        2..=4 => UNREADABLE,
        5..=9 => fact(Fact::Boar(particulars(dice))),
        10..=19 => fact(Fact::Note(Note {
            about: Subject::Boar(about),
            text: Remark::parse("Ate little").unwrap(),
        })),
        20..=27 => {
            let [from, to] =
                [dice.below(4), dice.below(4)].map(|n| Some(pen(u8::try_from(n).unwrap())));
            fact(Fact::Move(Move {
                boar: about,
                from,
                to,
                gone: false,
            }))
        }
        28..=31 => fact(Fact::OffCollection(OffCollection {
            boar: about,
            reason: OffReason::Lame,
            until: None,
            cull: None,
        })),
        32..=46 => fact(dice.one(every_kind()).unwrap().clone()),
        47..=61 if !seen.is_empty() => fact(amendment(seen, about, dice)),
        _ => fact(Fact::Collection(collected(about))),
    }
}

fn amendment(seen: &[Seen], about: BoarId, dice: &mut Dice) -> Fact {
    let Some((order, fact)) = dice.one(seen) else {
        return Fact::Collection(collected(about));
    };
    match fact {
        // Second thoughts about an amendment.
        Fact::Void(Void { target, about }) | Fact::Correction(Correction { target, about, .. }) => {
            Fact::Void(Void {
                target: Target {
                    amendment: Some(order.id),
                    ..*target
                },
                about: about.clone(),
            })
        }
        Fact::Collection(_) if dice.in_thousand(500) => Fact::Correction(Correction::of(
            *order,
            fact,
            Fact::Collection(collected(about)),
        )),
        fact => Fact::Void(Void::of(*order, fact)),
    }
}

/// A boar nobody spoke about before.
pub fn particulars(dice: &mut Dice) -> Boar {
    let number = Label::parse(&dice.between(100, 999).to_string()).unwrap();
    Boar {
        number,
        name: None,
        born: None,
        line: None,
        ear: None,
        before: Before::NoneYet,
        mind: None,
    }
}

fn collected(boar: BoarId) -> Collection {
    Collection {
        boar,
        outcome: Outcome::Collected,
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
    }
}
