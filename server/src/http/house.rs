//! What every handler has at hand: the store in use, where the data lie, and who is let in.

use super::problem::Problem;
use crate::access::{Pairings, Tries};
use crate::network::Network;
use crate::store::{Store, StoreError};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError, RwLock};
use tokio::sync::{Semaphore, SemaphorePermit};

/// How many passphrases are looked at at once: each takes 19 MiB and a core.
const SLOW_TURNS: usize = 2;

/// The house. Cheap to copy.
#[derive(Debug, Clone)]
pub struct House {
    data: Arc<PathBuf>,
    real: Arc<Store>,
    invented: Arc<RwLock<Option<Arc<Store>>>>,
    pairings: Arc<Mutex<Pairings>>,
    tries: Arc<Mutex<Tries>>,
    slow: Arc<Semaphore>,
    network: Network,
    backups: Arc<PathBuf>,
    backup_trouble: Arc<RwLock<Option<String>>>,
}

impl House {
    /// A house around the farm's own store; `data` is the folder for backups and the invented barn.
    pub fn new(data: PathBuf, real: Store, network: Network) -> Self {
        Self {
            real: Arc::new(real),
            invented: Arc::default(),
            pairings: Arc::default(),
            tries: Arc::default(),
            slow: Arc::new(Semaphore::new(SLOW_TURNS)),
            network,
            backups: Arc::new(data.join("backups")),
            data: Arc::new(data),
            backup_trouble: Arc::default(),
        }
    }

    /// The same house with its backups in another folder.
    #[must_use]
    pub fn backing_up_into(self, folder: PathBuf) -> Self {
        Self {
            backups: Arc::new(folder),
            ..self
        }
    }

    /// Where backups lie.
    pub fn backups(&self) -> &Path {
        &self.backups
    }

    /// Why no backup could be made, if so.
    pub fn backup_trouble(&self) -> Option<String> {
        let trouble = self.backup_trouble.read();
        trouble.unwrap_or_else(PoisonError::into_inner).clone()
    }

    /// Notes why no backup could be made, or that one was.
    pub fn set_backup_trouble(&self, trouble: Option<String>) {
        let place = self.backup_trouble.write();
        *place.unwrap_or_else(PoisonError::into_inner) = trouble;
    }

    /// The store in use: the invented barn's while somebody looks around there, else the farm's.
    pub fn store(&self) -> Arc<Store> {
        let invented = self.invented.read().unwrap_or_else(PoisonError::into_inner);
        invented.as_ref().unwrap_or(&self.real).clone()
    }

    /// Whether the invented barn is in use.
    pub fn is_invented(&self) -> bool {
        self.invented
            .read()
            .unwrap_or_else(PoisonError::into_inner)
            .is_some()
    }

    /// Uses the invented barn from now on, or the farm's own store again. The two never mix.
    pub fn look_around(&self, invented: Option<Arc<Store>>) {
        *self
            .invented
            .write()
            .unwrap_or_else(PoisonError::into_inner) = invented;
    }

    /// The data folder.
    pub fn data(&self) -> &Path {
        &self.data
    }

    /// The farm's place on its network.
    pub const fn network(&self) -> &Network {
        &self.network
    }

    /// The offers to let a device in.
    pub fn pairings(&self) -> MutexGuard<'_, Pairings> {
        self.pairings.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// How often somebody may still guess.
    pub fn tries(&self) -> MutexGuard<'_, Tries> {
        self.tries.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Waits for a turn at work that is slow on purpose.
    pub async fn slow_turn(&self) -> Option<SemaphorePermit<'_>> {
        self.slow.acquire().await.ok()
    }

    /// Works on the store in use, on a thread that may wait for the disk.
    pub async fn with_store<T, W>(&self, work: W) -> Result<T, Problem>
    where
        T: Send + 'static,
        W: FnOnce(&Store) -> Result<T, StoreError> + Send + 'static,
    {
        on(self.store(), work).await
    }

    /// Works on the farm's own store, also while somebody looks around the invented barn: it knows
    /// the devices and the owner.
    pub async fn with_own<T, W>(&self, work: W) -> Result<T, Problem>
    where
        T: Send + 'static,
        W: FnOnce(&Store) -> Result<T, StoreError> + Send + 'static,
    {
        on(self.real.clone(), work).await
    }
}

async fn on<T, W>(store: Arc<Store>, work: W) -> Result<T, Problem>
where
    T: Send + 'static,
    W: FnOnce(&Store) -> Result<T, StoreError> + Send + 'static,
{
    Ok(tokio::task::spawn_blocking(move || work(&store)).await??)
}
