//! A disk that forgets what was not flushed, as after a power cut.

use redb::StorageBackend;
use std::fmt;
use std::io;
use std::sync::{Arc, Mutex};

/// What is on the platter, and what the system still holds in memory.
#[derive(Default)]
struct Platter {
    kept: Vec<u8>,
    pending: Vec<Pending>,
    now: Vec<u8>,
    /// After so many flushes the next operation fails, and all after it.
    fails_at: Option<u64>,
    operations: u64,
    flushes: u64,
}

enum Pending {
    Write(usize, Vec<u8>),
    Length(usize),
}

/// The switch that must turn the tests red: which flushes do nothing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LeftOut {
    None,
    /// The one of this number, counted from 1.
    One(u64),
    /// The same, and the power fails at the next.
    OneThenCut(u64),
    All,
}

/// The disk. Copies share it.
#[derive(Clone)]
pub struct Disk {
    platter: Arc<Mutex<Platter>>,
    leaves_out: LeftOut,
}

impl fmt::Debug for Disk {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Disk")
    }
}

impl Disk {
    pub fn new(leaves_out: LeftOut) -> Self {
        Self {
            platter: Arc::default(),
            leaves_out,
        }
    }

    /// How many flushes there were, those left out among them.
    pub fn flushes(&self) -> u64 {
        self.platter.lock().unwrap().flushes
    }

    /// How many operations there were.
    pub fn operations(&self) -> u64 {
        self.platter.lock().unwrap().operations
    }

    /// How many writes wait for a flush.
    pub fn pending(&self) -> usize {
        self.platter.lock().unwrap().pending.len()
    }

    /// From this operation on the disk says it is full.
    pub fn fail_at(&self, operation: u64) {
        self.platter.lock().unwrap().fails_at = Some(operation);
    }

    /// The power goes: of what was not flushed, `survives` says which write reached the platter,
    /// and how much of it (0 to 1).
    pub fn cut(&self, mut survives: impl FnMut() -> f64) -> Self {
        let mut platter = self.platter.lock().unwrap();
        let pending = std::mem::take(&mut platter.pending);
        let mut kept = platter.kept.clone();
        for change in pending {
            let part = survives();
            match change {
                Pending::Length(length) if part > 0.0 => kept.resize(length, 0),
                Pending::Length(_) => {}
                Pending::Write(offset, bytes) => {
                    let some = (bytes.len() as f64 * part) as usize;
                    put(&mut kept, offset, &bytes[..some]);
                }
            }
        }
        let platter = Platter {
            now: kept.clone(),
            kept,
            ..Platter::default()
        };
        Self {
            platter: Arc::new(Mutex::new(platter)),
            leaves_out: self.leaves_out,
        }
    }

    fn work<T>(&self, work: impl FnOnce(&mut Platter) -> T) -> Result<T, io::Error> {
        let mut platter = self.platter.lock().unwrap();
        platter.operations += 1;
        if platter.fails_at.is_some_and(|at| platter.operations >= at) {
            return Err(io::Error::from(io::ErrorKind::StorageFull));
        }
        Ok(work(&mut platter))
    }
}

fn put(all: &mut Vec<u8>, offset: usize, bytes: &[u8]) {
    if all.len() < offset + bytes.len() {
        all.resize(offset + bytes.len(), 0);
    }
    all[offset..offset + bytes.len()].copy_from_slice(bytes);
}

impl StorageBackend for Disk {
    fn len(&self) -> Result<u64, io::Error> {
        Ok(self.platter.lock().unwrap().now.len() as u64)
    }

    fn read(&self, offset: u64, out: &mut [u8]) -> Result<(), io::Error> {
        let platter = self.platter.lock().unwrap();
        let start = usize::try_from(offset).unwrap();
        match platter.now.get(start..start + out.len()) {
            Some(bytes) => {
                out.copy_from_slice(bytes);
                Ok(())
            }
            None => Err(io::Error::from(io::ErrorKind::UnexpectedEof)),
        }
    }

    fn set_len(&self, length: u64) -> Result<(), io::Error> {
        let length = usize::try_from(length).unwrap();
        self.work(|platter| {
            platter.now.resize(length, 0);
            platter.pending.push(Pending::Length(length));
        })
    }

    fn sync_data(&self) -> Result<(), io::Error> {
        self.work(|platter| {
            platter.flushes += 1;
            let left_out = match self.leaves_out {
                LeftOut::None => false,
                LeftOut::One(flush) => flush == platter.flushes,
                LeftOut::OneThenCut(flush) => {
                    if flush < platter.flushes {
                        platter.fails_at = Some(0);
                    }
                    flush <= platter.flushes
                }
                LeftOut::All => true,
            };
            if !left_out {
                platter.kept.clone_from(&platter.now);
                platter.pending.clear();
            }
        })
    }

    fn write(&self, offset: u64, data: &[u8]) -> Result<(), io::Error> {
        let offset = usize::try_from(offset).unwrap();
        self.work(|platter| {
            put(&mut platter.now, offset, data);
            platter.pending.push(Pending::Write(offset, data.to_vec()));
        })
    }
}
