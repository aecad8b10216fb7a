//! A ledger as it is stored and sent: the JSON of each of its rows, and beside it just enough to
//! take in another row without reading them.

use super::window::{Kept, Window};
use super::{Row, target};
use crate::envelope::Order;
use crate::fact::{Kind, Subject};
use serde::{Deserialize, Serialize};

/// See the module's words. Its JSON is that of the [`super::Ledger`] with the same rows, byte for byte.
#[derive(Debug, Clone, PartialEq)]
pub struct Folded {
    subject: Subject,
    window: Window<Text>,
}

#[derive(Debug, Clone, PartialEq)]
struct Text {
    mark: Mark,
    json: String,
}

/// What the index says of a row.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
struct Mark {
    kind: Kind,
    order: Order,
    amends: Option<(Kind, Order)>,
    /// The length of its JSON in bytes.
    length: u32,
}

impl Kept for Text {
    fn order(&self) -> Order {
        self.mark.order
    }

    fn kind(&self) -> Kind {
        self.mark.kind
    }

    fn amends(&self) -> Option<(Kind, Order)> {
        self.mark.amends
    }
}

impl Folded {
    /// Without rows.
    pub const fn new(subject: Subject) -> Self {
        Self {
            subject,
            window: Window::new(),
        }
    }

    /// What was stored; none if index and JSON do not belong together.
    pub fn read(subject: Subject, index: &[u8], json: &str) -> Option<Self> {
        let marks: Vec<Mark> = postcard::from_bytes(index).ok()?;
        let mut rest = json.strip_prefix(&head(subject)?)?;
        let mut window = Window::new();
        for (at, mark) in marks.into_iter().enumerate() {
            let after = if at == 0 {
                rest
            } else {
                rest.strip_prefix(',')?
            };
            let (row, after) = after.split_at_checked(usize::try_from(mark.length).ok()?)?;
            let text = Text {
                mark,
                json: row.to_owned(),
            };
            // What was kept is kept: nothing has to be weighed again.
            match mark.amends {
                None => window.rows.insert((mark.kind, mark.order), text),
                Some(_) => window.amendments.insert(mark.order, text),
            };
            rest = after;
        }
        (rest == TAIL).then_some(Self { subject, window })
    }

    /// Takes in one row.
    pub fn insert(&mut self, row: &Row) -> Result<(), serde_json::Error> {
        let json = serde_json::to_string(row)?;
        self.window.insert(Text {
            mark: Mark {
                kind: row.fact.kind(),
                order: row.order,
                amends: target(&row.fact).map(|t| (t.kind, t.record)),
                length: u32::try_from(json.len()).unwrap_or(u32::MAX),
            },
            json,
        });
        Ok(())
    }

    /// The index, and the JSON that readers read; none if it could not be written.
    pub fn written(&self) -> Option<(Vec<u8>, String)> {
        let marks: Vec<Mark> = self.window.all().map(|text| text.mark).collect();
        let index = postcard::to_allocvec(&marks).ok()?;
        let mut json = head(self.subject)?;
        for (at, text) in self.window.all().enumerate() {
            if at > 0 {
                json.push(',');
            }
            json.push_str(&text.json);
        }
        json.push_str(TAIL);
        Some((index, json))
    }
}

const TAIL: &str = "]}";

fn head(subject: Subject) -> Option<String> {
    let subject = serde_json::to_string(&subject).ok()?;
    Some(format!(r#"{{"subject":{subject},"rows":["#))
}
