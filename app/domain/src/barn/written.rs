//! For tests: a barn whose entries one device wrote.

use super::Barn;
use crate::envelope::Order;
use crate::fact::Fact;
use crate::id::{BarnId, DeviceId, FarmId};
use crate::time::Stamp;
use crate::writer::{Head, Moment};

/// A device's thread, and the barn it makes.
pub(crate) struct Written {
    head: Head,
    /// What was written.
    pub(crate) barn: Barn,
    n: u8,
}

impl Written {
    /// Nothing yet.
    pub(crate) fn new() -> Self {
        let (farm, barn) = (FarmId::v7(1, [1; 10]), BarnId::v7(1, [2; 10]));
        Self {
            head: Head::new(farm, barn, DeviceId::v7(1, [3; 10])),
            barn: Barn::default(),
            n: 0,
        }
    }

    /// One more entry, of something that happened then, one hour east of UTC.
    pub(crate) fn say(&mut self, fact: &Fact, at_ms: i64) -> Order {
        fact.check().unwrap();
        self.n += 1;
        let now = Stamp::new(at_ms, 60).unwrap();
        let moment = Moment {
            now,
            occurred_at: now,
            random: [self.n; 10],
            person: None,
        };
        let (entry, head) = self.head.write(fact, moment).unwrap();
        self.head = head;
        assert!(self.barn.apply(&entry));
        entry.order()
    }
}
