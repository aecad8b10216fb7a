//! Taking in what a device hands over: judged one by one, stored in one transaction.

use super::aside::{self, SetAside};
use super::beside::put_beside;
use super::device::{self, Device};
use super::error::StoreError;
use super::meta::{self, Home};
use super::tables::{Tables, author_key, end, hash_at};
use super::views::Views;
use super::{Store, alarm, known};
use pentally_domain::envelope::{Entry, Hash};
use pentally_domain::fact::Fact;
use pentally_domain::id::{DeviceId, Epoch};
use pentally_domain::sync::{Aside, Beside, Cursor, Fate, Judged, PROTOCOL, Push, Receipt, judge};
use redb::ReadableTable;
use std::collections::BTreeMap;
use std::sync::mpsc;

/// How many judged elements wait for the store at most, so that memory stays bounded.
const JUDGED_AHEAD: usize = 256;
/// What a text that stands apart takes besides itself, about.
const AROUND_BYTES: u64 = 256;

impl Store {
    /// Takes in a push and answers after a durable commit. `now_ms` is the server's clock.
    pub fn push(&self, push: &Push, now_ms: i64) -> Result<Receipt, StoreError> {
        self.write(|t| {
            let mut taking = Taking::begin(t, push.device, now_ms)?;
            let resend = match push.cursor {
                Some(cursor) => !is_ours(&t.log, taking.epoch, cursor)?,
                None => false,
            };
            let fates = taking.take_all(t, &lines(push))?;
            for beside in &push.beside {
                put_beside(t, beside, push.device, now_ms)?;
            }
            let (receipt, sender) = taking.finish(t, push)?;
            Ok(Receipt {
                fates,
                resend,
                backed_up: sender.backed_up,
                highest: sender.highest,
                ..receipt
            })
        })
    }

    /// Takes in lines from a file, as if the server's own device had brought them.
    pub fn take_lines(&self, lines: &[String], now_ms: i64) -> Result<Vec<Fate>, StoreError> {
        self.write(|t| {
            let mut taking = Taking::begin(t, meta::head(&t.meta)?.device, now_ms)?;
            let lines: Vec<&str> = lines.iter().map(String::as_str).collect();
            let fates = taking.take_all(t, &lines)?;
            taking.settle(t)?;
            taking.write(t)?;
            Ok(fates)
        })
    }

    /// Takes in personal data from a file.
    pub fn take_beside(&self, list: &[Beside], now_ms: i64) -> Result<(), StoreError> {
        self.write(|t| {
            let sender = meta::head(&t.meta)?.device;
            for beside in list {
                put_beside(t, beside, sender, now_ms)?;
            }
            Ok(())
        })
    }
}

pub(super) fn lines(push: &Push) -> Vec<&str> {
    push.entries.iter().map(|line| line.get()).collect()
}

/// Whether a cursor is a place in this history.
pub(super) fn is_ours(
    log: &impl ReadableTable<u64, super::tables::Bytes>,
    epoch: Epoch,
    cursor: Cursor,
) -> Result<bool, StoreError> {
    Ok(cursor.epoch == epoch && hash_at(log, cursor.n)? == Some(cursor.hash))
}

/// One transaction's worth of arrivals.
pub(super) struct Taking {
    home: Home,
    pub(super) epoch: Epoch,
    sender: DeviceId,
    now_ms: i64,
    n: u64,
    hash: Hash,
    /// Nothing joins the log, and nothing of other devices is touched.
    is_shut_out: bool,
    kept_bytes: u64,
    head: pentally_domain::writer::Head,
    views: Views,
    devices: BTreeMap<DeviceId, Device>,
}

impl Taking {
    pub(super) fn begin(t: &Tables<'_>, sender: DeviceId, now_ms: i64) -> Result<Self, StoreError> {
        let (n, hash) = end(&t.log)?;
        Ok(Self {
            home: meta::home(&t.meta)?,
            epoch: meta::epoch(&t.meta)?,
            sender,
            now_ms,
            n,
            hash,
            is_shut_out: false,
            kept_bytes: 0,
            head: meta::head(&t.meta)?,
            views: Views::default(),
            devices: BTreeMap::from([(sender, device::load(t, sender)?)]),
        })
    }

    /// The same for a sender that was shut out.
    pub(super) fn shut_out(self) -> Self {
        Self {
            is_shut_out: true,
            ..self
        }
    }

    /// How much was kept apart, in bytes.
    pub(super) const fn kept_bytes(&self) -> u64 {
        self.kept_bytes
    }

    /// Judges elements and stores each, or keeps it apart. Judging needs nothing of the store, so it runs
    /// ahead on a thread of its own; the answers are in the order of the texts, one for each.
    pub(super) fn take_all(
        &mut self,
        t: &mut Tables<'_>,
        texts: &[&str],
    ) -> Result<Vec<Fate>, StoreError> {
        let farm = self.home.farm;
        std::thread::scope(|s| {
            let (send, judged) = mpsc::sync_channel(JUDGED_AHEAD);
            s.spawn(move || {
                let mut all = texts.iter().map(|text| judge(text, farm));
                all.try_for_each(|judged| send.send(judged))
            });
            let pairs = texts.iter().zip(judged);
            pairs
                .map(|(text, judged)| self.take_judged(t, text, judged))
                .collect()
        })
    }

    /// Judges one element and stores it, or keeps it apart.
    pub(super) fn take(&mut self, t: &mut Tables<'_>, text: &str) -> Result<Fate, StoreError> {
        self.take_judged(t, text, judge(text, self.home.farm))
    }

    fn take_judged(
        &mut self,
        t: &mut Tables<'_>,
        text: &str,
        judged: Judged,
    ) -> Result<Fate, StoreError> {
        let known = match &judged {
            Judged::Entry(entry, _) => known::of(t, entry)?,
            Judged::Aside(_) => known::of_unread(t, text, self.home.farm)?,
        };
        let reason = match (known, judged) {
            (Some(Fate::Conflict { reason }), _) => {
                self.keep_aside(t, text, &reason)?;
                return Ok(Fate::Conflict { reason });
            }
            (Some(fate), _) => return Ok(fate),
            (None, Judged::Entry(entry, fact)) if !self.is_shut_out => {
                self.append(t, &entry, fact.as_deref())?;
                return Ok(Fate::Stored);
            }
            (None, Judged::Entry(..)) => Aside::ShutOut,
            (None, Judged::Aside(reason)) => reason,
        };
        self.keep_aside(t, text, &reason)?;
        Ok(Fate::SetAside { reason })
    }

    /// Adds an entry that is known to be new.
    pub(super) fn append(
        &mut self,
        t: &mut Tables<'_>,
        entry: &Entry,
        fact: Option<&Fact>,
    ) -> Result<(), StoreError> {
        let e = entry.envelope();
        self.n += 1;
        self.hash = self.hash.chained(&entry.hash());
        let value = [self.hash.bytes().as_slice(), &entry.to_bytes()].concat();
        t.log.insert(self.n, value.as_slice())?;
        t.by_id.insert(e.id.uuid().as_bytes(), self.n)?;
        t.by_author.insert(&author_key(e.device, e.seq), self.n)?;
        self.received(t, e.device, e.seq)?;
        alarm::raise(t, self.n, entry, self.now_ms)?;
        self.head.clock = self.head.clock.witness(e.clock, self.now_ms);
        fact.map_or(Ok(()), |fact| self.views.take_in(t, self.n, entry, fact))
    }

    /// Writes what was gathered and says where things stand.
    pub(super) fn finish(
        mut self,
        t: &mut Tables<'_>,
        push: &Push,
    ) -> Result<(Receipt, Device), StoreError> {
        let sender = self.devices.entry(self.sender).or_default();
        sender.floor = push.floor.max(sender.floor);
        sender.last_seen_ms = Some(self.now_ms);
        sender.unsent = push.unsent;
        self.settle(t)?;
        let sender = self.devices.get(&self.sender).cloned().unwrap_or_default();
        let contiguous = self
            .devices
            .iter()
            .map(|(id, device)| (*id, device.contiguous))
            .collect();
        let receipt = Receipt {
            protocol: PROTOCOL,
            farm: self.home.farm,
            fates: vec![],
            contiguous,
            highest: sender.highest,
            cursor: Cursor {
                epoch: self.epoch,
                n: self.n,
                hash: self.hash,
            },
            resend: false,
            backed_up: sender.backed_up,
            now_ms: self.now_ms,
        };
        self.write(t)?;
        Ok((receipt, sender))
    }

    /// Brings every device's count up to date.
    pub(super) fn settle(&mut self, t: &Tables<'_>) -> Result<(), StoreError> {
        self.devices
            .iter_mut()
            .try_for_each(|(id, device)| device::settle(t, *id, device))
    }

    /// The server's own thread, to be written on.
    pub(super) const fn head_mut(&mut self) -> &mut pentally_domain::writer::Head {
        &mut self.head
    }

    /// How many entries the log has now.
    pub(super) const fn n(&self) -> u64 {
        self.n
    }

    /// The hash of the log now.
    pub(super) const fn hash(&self) -> Hash {
        self.hash
    }

    /// Writes the ledgers gathered so far, so that memory stays bounded.
    pub(super) fn write_views(&mut self, t: &mut Tables<'_>) -> Result<(), StoreError> {
        std::mem::take(&mut self.views).write(t)
    }

    /// All that arrived came from a verified backup.
    pub(super) fn count_as_backed_up(&mut self) {
        self.devices
            .values_mut()
            .for_each(|device| device.backed_up = device.contiguous);
    }

    /// The device as far as it arrived.
    pub(super) fn device_mut(
        &mut self,
        t: &Tables<'_>,
        id: DeviceId,
    ) -> Result<&mut Device, StoreError> {
        use std::collections::btree_map::Entry::{Occupied, Vacant};
        match self.devices.entry(id) {
            Occupied(known) => Ok(known.into_mut()),
            Vacant(place) => Ok(place.insert(device::load(t, id)?)),
        }
    }

    /// Writes devices, the server's thread and the views.
    pub(super) fn write(self, t: &mut Tables<'_>) -> Result<(), StoreError> {
        self.devices
            .iter()
            .try_for_each(|(id, device)| device::save(t, *id, device))?;
        meta::put(&mut t.meta, meta::HEAD_KEY, &self.head)?;
        self.views.write(t)
    }

    /// Keeps a text apart; the same text once only.
    pub(super) fn keep_aside(
        &mut self,
        t: &mut Tables<'_>,
        text: &str,
        reason: &Aside,
    ) -> Result<(), StoreError> {
        let aside = SetAside {
            received_at_ms: self.now_ms,
            sender: self.sender,
            reason: reason.clone(),
            text: text.to_owned(),
        };
        if aside::keep(t, &aside)? {
            self.kept_bytes += text.len() as u64 + AROUND_BYTES;
        }
        self.received_apart(t, text)
    }

    /// Counts a text that stands apart as received, if it says whose it is.
    pub(super) fn received_apart(
        &mut self,
        t: &mut Tables<'_>,
        text: &str,
    ) -> Result<(), StoreError> {
        match aside::author(text) {
            Some((device, _)) if self.is_shut_out && device != self.sender => Ok(()),
            Some((device, seq)) => {
                aside::mark(t, device, seq)?;
                self.received(t, device, seq)
            }
            None => Ok(()),
        }
    }

    fn received(&mut self, t: &Tables<'_>, device: DeviceId, seq: u64) -> Result<(), StoreError> {
        let device = self.device_mut(t, device)?;
        device.highest = device.highest.max(seq);
        Ok(())
    }
}
