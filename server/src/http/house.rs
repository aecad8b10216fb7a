//! What every handler has at hand: the store in use, and where the data lie.

use super::problem::Problem;
use crate::store::{Store, StoreError};
use std::path::{Path, PathBuf};
use std::sync::{Arc, PoisonError, RwLock};

/// The house. Cheap to copy.
#[derive(Debug, Clone)]
pub struct House {
    data: Arc<PathBuf>,
    real: Arc<Store>,
    invented: Arc<RwLock<Option<Arc<Store>>>>,
}

impl House {
    /// A house around the farm's own store; `data` is the folder for backups and the invented barn.
    pub fn new(data: PathBuf, real: Store) -> Self {
        Self {
            data: Arc::new(data),
            real: Arc::new(real),
            invented: Arc::default(),
        }
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

    /// Works on the store in use, on a thread that may wait for the disk.
    pub async fn with_store<T, W>(&self, work: W) -> Result<T, Problem>
    where
        T: Send + 'static,
        W: FnOnce(&Store) -> Result<T, StoreError> + Send + 'static,
    {
        let store = self.store();
        Ok(tokio::task::spawn_blocking(move || work(&store)).await??)
    }
}
