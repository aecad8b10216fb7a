//! A phone's storage: stores of keys and values, and transactions that commit whole or not at all,
//! as IndexedDB's do with strict durability. The stores are those of the app.

use pentally_app::device::held::HeldKey;
use pentally_app::device::hold::Milestones;
use pentally_app::device::pulled::Pulled;
use pentally_app::device::show::SetAside;
use pentally_domain::envelope::Entry;
use pentally_domain::fact::Subject;
use pentally_domain::id::EntryId;
use pentally_domain::ledger::Ledger;
use pentally_domain::writer::Head;
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

/// An entry with the line it is sent as, which the app stores too.
#[derive(Debug)]
pub struct Held {
    /// The entry.
    pub entry: Entry,
    /// Its line.
    pub line: String,
}

/// What survives the phone's death.
#[derive(Debug, Clone)]
pub struct Disk {
    /// The head of this device's thread.
    pub head: Head,
    /// How far the ledgers go.
    pub pulled: Pulled,
    /// Once a day, what the office had.
    pub milestones: Milestones,
    /// Every held entry.
    pub entries: BTreeMap<HeldKey, Rc<Held>>,
    /// Those that wait to be sent.
    pub waiting: BTreeSet<HeldKey>,
    /// Those that stand aside at the office.
    pub aside: BTreeMap<HeldKey, SetAside>,
    /// Pulled ledgers.
    pub summaries: BTreeMap<Subject, Rc<Ledger>>,
    /// Held entries in whose place another was put, which must never happen.
    pub overwritten: Vec<EntryId>,
}

/// One write of a transaction.
#[derive(Debug, Clone)]
pub enum Write {
    /// The head.
    Head(Head),
    /// How far the ledgers go.
    Pulled(Pulled),
    /// The milestones; none deletes them.
    Milestones(Option<Milestones>),
    /// Holds an entry.
    Hold(Rc<Held>),
    /// Lets an entry go.
    LetGo(HeldKey),
    /// An entry waits.
    Wait(HeldKey),
    /// An entry waits no longer.
    Sent(HeldKey),
    /// An entry stands aside.
    Aside(HeldKey, SetAside),
    /// An entry stands aside no longer.
    NotAside(HeldKey),
    /// Forgets all ledgers.
    ForgetLedgers,
    /// A ledger.
    Ledger(Rc<Ledger>),
}

impl Write {
    /// Holds a new entry, which waits.
    pub fn new_entry(entry: &Entry) -> [Self; 2] {
        let held = Held {
            entry: entry.clone(),
            line: entry.to_line(),
        };
        [Self::Hold(Rc::new(held)), Self::Wait(HeldKey::of(entry))]
    }
}

impl Disk {
    /// The storage of a phone that was just set up.
    pub fn new(head: Head) -> Self {
        Self {
            head,
            pulled: Pulled::default(),
            milestones: Milestones::default(),
            entries: BTreeMap::new(),
            waiting: BTreeSet::new(),
            aside: BTreeMap::new(),
            summaries: BTreeMap::new(),
            overwritten: vec![],
        }
    }

    /// All writes, or, if nobody calls this, none.
    pub fn commit(&mut self, writes: Vec<Write>) {
        for write in writes {
            match write {
                Write::Head(head) => self.head = head,
                Write::Pulled(pulled) => self.pulled = pulled,
                Write::Milestones(milestones) => self.milestones = milestones.unwrap_or_default(),
                Write::Hold(held) => {
                    let id = held.entry.envelope().id;
                    let before = self.entries.insert(HeldKey::of(&held.entry), held);
                    let before = before.map(|held| held.entry.envelope().id);
                    self.overwritten.extend(before.filter(|other| *other != id));
                }
                Write::LetGo(key) => drop(self.entries.remove(&key)),
                Write::Wait(key) => drop(self.waiting.insert(key)),
                Write::Sent(key) => drop(self.waiting.remove(&key)),
                Write::Aside(key, aside) => drop(self.aside.insert(key, aside)),
                Write::NotAside(key) => drop(self.aside.remove(&key)),
                Write::ForgetLedgers => self.summaries.clear(),
                Write::Ledger(ledger) => {
                    self.summaries.insert(ledger.subject(), ledger);
                }
            }
        }
    }
}
