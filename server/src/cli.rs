//! The command line: one line to standard error that says what to do, exit 0, 1 or 2.

use crate::carry::{CarryError, export, import};
use crate::moment::birth;
use crate::serve::{ServeError, serve};
use crate::store::{Store, StoreError};
use clap::{Args, Parser, Subcommand};
use std::fs::{self, File};
use std::io::{self, BufReader, BufWriter};
use std::net::SocketAddr;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// The log and the office of a boar barn, in one program.
#[derive(Debug, Parser)]
#[command(name = "pentally", version, about, args_conflicts_with_subcommands = true)]
struct Words {
    #[command(subcommand)]
    verb: Option<Verb>,
    #[command(flatten)]
    serve: Serve,
}

#[derive(Debug, Subcommand)]
enum Verb {
    /// Open the barn (what happens without a verb).
    Serve(Serve),
    /// Take in entries from a file of JSON Lines.
    Import {
        /// The file; - for standard input.
        file: PathBuf,
        #[command(flatten)]
        data: Data,
    },
    /// Write every entry to standard output as JSON Lines.
    Export(Data),
}

/// Where the data lie.
#[derive(Debug, Args)]
struct Data {
    /// The data folder; the platform's usual one without.
    #[arg(long, value_name = "DIR", global = true)]
    data: Option<PathBuf>,
}

/// How the barn is opened.
#[derive(Debug, Args)]
pub struct Serve {
    #[command(flatten)]
    data: Data,
    /// The address to listen on; without, 127.0.0.1:8420 or the next free port.
    #[arg(long, value_name = "ADDR")]
    pub(crate) listen: Option<SocketAddr>,
    /// Open the invented barn.
    #[arg(long)]
    pub(crate) demo: bool,
    /// Listen beyond this machine although nobody is asked who they are and nothing is encrypted:
    /// whoever reaches the address can read and write everything.
    #[arg(long)]
    pub(crate) anyone_on_the_network_may_read_and_write: bool,
}

/// Why a verb failed.
#[derive(Debug, thiserror::Error)]
pub enum CliError {
    /// See [`StoreError`].
    #[error(transparent)]
    Store(#[from] StoreError),
    /// See [`CarryError`].
    #[error(transparent)]
    Carry(#[from] CarryError),
    /// See [`ServeError`].
    #[error(transparent)]
    Serve(#[from] ServeError),
    /// A file that was named.
    #[error("{}: {source}", .place.display())]
    File {
        /// Which.
        place: PathBuf,
        /// What the operating system said.
        source: io::Error,
    },
    /// No place for data on this platform.
    #[error("this platform names no folder for data: say --data DIR")]
    NoDataFolder,
}

/// Runs the program.
pub fn run() -> ExitCode {
    let words = match Words::try_parse() {
        Ok(words) => words,
        Err(asked) => {
            // Standard output or error may be closed; the exit code still tells.
            let _ = asked.print();
            return ExitCode::from(u8::try_from(asked.exit_code()).unwrap_or(2));
        }
    };
    match words.verb.unwrap_or(Verb::Serve(words.serve)).run() {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("pentally: {error}");
            ExitCode::FAILURE
        }
    }
}

impl Verb {
    fn run(self) -> Result<(), CliError> {
        match self {
            Self::Serve(words) => {
                let data = words.data.folder()?;
                let store = words.data.store()?;
                Ok(serve(&words, data, store)?)
            }
            Self::Import { file, data } => import_file(&data.store()?, &file),
            Self::Export(data) => {
                let written = export(&data.store()?, &mut BufWriter::new(io::stdout().lock()));
                written.map(|_| ()).or_else(closed_early)
            }
        }
    }
}

impl Data {
    fn folder(&self) -> Result<PathBuf, CliError> {
        let usual = || directories::ProjectDirs::from("", "", "pentally").map(|dirs| dirs.data_dir().to_owned());
        let folder = self.data.clone().or_else(usual).ok_or(CliError::NoDataFolder)?;
        fs::create_dir_all(&folder).map_err(|source| CliError::File { place: folder.clone(), source })?;
        Ok(folder)
    }

    fn store(&self) -> Result<Store, CliError> {
        Ok(Store::open(&self.folder()?.join("barn.redb"), birth().map_err(StoreError::from)?)?)
    }
}

fn import_file(store: &Store, file: &Path) -> Result<(), CliError> {
    let counts = if file == Path::new("-") {
        import(store, &mut io::stdin().lock())?
    } else {
        let opened = File::open(file).map_err(|source| CliError::File { place: file.to_owned(), source })?;
        import(store, &mut BufReader::new(opened))?
    };
    println!("{counts}");
    Ok(())
}

/// Whoever reads the export may have seen enough.
fn closed_early(error: CarryError) -> Result<(), CliError> {
    match error {
        CarryError::File(error) if error.kind() == io::ErrorKind::BrokenPipe => Ok(()),
        other => Err(other.into()),
    }
}
