//! Files that hold keys: the owner's only, and whole or not there.

use super::TlsError;
use std::fs::{self, File, OpenOptions};
use std::io::{self, Write};
use std::path::Path;

/// The text of a file; none if there is no such file.
pub(super) fn read(place: &Path) -> Result<Option<String>, TlsError> {
    match fs::read_to_string(place) {
        Ok(text) => Ok(Some(text)),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
        Err(source) => Err(failed(place, source)),
    }
}

/// Writes a file that only its owner may read, on the disk before it has its name.
pub(super) fn write(place: &Path, text: &str) -> Result<(), TlsError> {
    let beside = place.with_extension("new");
    let put = || -> io::Result<()> {
        let _ = fs::remove_file(&beside);
        let mut file = private().open(&beside)?;
        file.write_all(text.as_bytes())?;
        file.sync_all()?;
        fs::rename(&beside, place)?;
        place.parent().map_or(Ok(()), flush_folder)
    };
    put().map_err(|source| failed(place, source))
}

/// A folder that only its owner may enter.
pub(super) fn folder(place: &Path) -> Result<(), TlsError> {
    let made = fs::create_dir_all(place).and_then(|()| {
        #[cfg(unix)]
        {
            use std::os::unix::fs::PermissionsExt;
            fs::set_permissions(place, fs::Permissions::from_mode(0o700))?;
        }
        Ok(())
    });
    made.map_err(|source| failed(place, source))
}

fn private() -> OpenOptions {
    let mut options = OpenOptions::new();
    options.write(true).create_new(true);
    #[cfg(unix)]
    {
        use std::os::unix::fs::OpenOptionsExt;
        options.mode(0o600);
    }
    options
}

/// A name is only sure to survive a power cut once its folder is flushed, where that can be asked for.
fn flush_folder(place: &Path) -> io::Result<()> {
    if cfg!(unix) {
        File::open(place)?.sync_all()?;
    }
    Ok(())
}

fn failed(place: &Path, source: io::Error) -> TlsError {
    TlsError::File {
        place: place.to_owned(),
        source,
    }
}
