//! The command line: one line to standard error that says what to do, exit 0, 1 or 2.

mod demo;

use crate::access::{PassphraseError, hashed};
use crate::backups::{self, RehearsalError};
use crate::carry::{CarryError, export, import};
use crate::moment::birth;
use crate::print::{PrintError, Wanted, all_tags};
use crate::serve::{ServeError, serve};
use crate::store::{BackupError, Finding, RestoreError, Store, StoreError};
use crate::tags::Paper;
use clap::{Args, Parser, Subcommand, ValueEnum};
use pentally_app::words::Lang;
use std::fs::{self, File};
use std::io::{self, BufReader, BufWriter, IsTerminal, Write};
use std::net::SocketAddr;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// The log and the office of a boar barn, in one program.
#[derive(Debug, Parser)]
#[command(
    name = "pentally",
    version,
    about,
    args_conflicts_with_subcommands = true
)]
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
    /// Set the owner's passphrase, read as one line from standard input; the one before holds no more.
    Owner(Data),
    /// Look whether log, indexes and views agree; exit 1 with the first reason if they do not.
    Check(Data),
    /// Write a backup, and read it back before it counts.
    Backup {
        /// The file to write.
        file: PathBuf,
        #[command(flatten)]
        data: Data,
    },
    /// Bring a backup back into a store of its own, check that as a whole, and throw it away.
    Rehearse {
        /// The file to read.
        file: PathBuf,
        #[command(flatten)]
        data: Data,
    },
    /// Write the sheet of pen tags, to print at true size.
    Tags {
        /// The file to write; standard output without.
        file: Option<PathBuf>,
        #[command(flatten)]
        sheet: SheetWords,
        #[command(flatten)]
        data: Data,
    },
    /// Write an invented barn's entries as JSON Lines: the same words, the same entries.
    Demo(demo::Words),
    /// Bring a backup back into an empty data folder.
    Restore {
        /// The file to read.
        file: PathBuf,
        #[command(flatten)]
        data: Data,
    },
}

/// Where the data lie.
#[derive(Debug, Args)]
struct Data {
    /// The data folder; the platform's usual one without.
    #[arg(long, value_name = "DIR", global = true)]
    data: Option<PathBuf>,
}

/// What the sheet looks like.
#[derive(Debug, Args)]
struct SheetWords {
    /// a4 or letter.
    #[arg(long, default_value = "a4")]
    paper: PaperWord,
    /// en or es.
    #[arg(long, default_value = "en")]
    lang: LangWord,
    /// Where trial tags lead, until the farm has chosen its address.
    #[arg(long, value_name = "ORIGIN", default_value = "http://localhost:8420")]
    origin: String,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
enum PaperWord {
    A4,
    Letter,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
enum LangWord {
    En,
    Es,
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
    /// Where https listens for phones, once the office opened the farm's network; without, port 8443
    /// of every address.
    #[arg(long, value_name = "ADDR")]
    pub(crate) https: Option<SocketAddr>,
    /// Where the page that explains https to a phone listens; without, port 8480 of every address.
    #[arg(long, value_name = "ADDR")]
    pub(crate) steps: Option<SocketAddr>,
    /// The folder for daily backups; without, `backups` in the data folder. A disk of its own is best.
    #[arg(long, value_name = "DIR")]
    pub(crate) backups: Option<PathBuf>,
    /// A certificate chain of your own, in PEM, in place of the farm's authority; read again when it
    /// changes.
    #[arg(long, value_name = "FILE", requires = "tls_key")]
    pub(crate) tls_cert: Option<PathBuf>,
    /// The key of that chain, in PEM.
    #[arg(long, value_name = "FILE", requires = "tls_cert")]
    pub(crate) tls_key: Option<PathBuf>,
}

impl Serve {
    /// What is said about the farm's network.
    pub(crate) fn said(&self) -> crate::network::Said {
        crate::network::Said {
            https: self.https,
            steps: self.steps,
            own: self.tls_cert.clone().zip(self.tls_key.clone()),
        }
    }
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
    /// See [`BackupError`].
    #[error(transparent)]
    Backup(#[from] BackupError),
    /// See [`RestoreError`].
    #[error(transparent)]
    Restore(#[from] RestoreError),
    /// See [`PrintError`].
    #[error(transparent)]
    Print(#[from] PrintError),
    /// See `demo::DemoError`.
    #[error(transparent)]
    Demo(#[from] demo::DemoError),
    /// See [`Finding`].
    #[error(transparent)]
    Check(#[from] Finding),
    /// See [`RehearsalError`].
    #[error(transparent)]
    Rehearsal(#[from] RehearsalError),
    /// See [`PassphraseError`].
    #[error(transparent)]
    Passphrase(#[from] PassphraseError),
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
            Self::Check(data) => check(&data.store()?),
            Self::Owner(data) => owner(&data.store()?),
            Self::Tags { file, sheet, data } => tags(&data.store()?, file.as_deref(), sheet),
            Self::Demo(words) => Ok(words.run()?),
            Self::Backup { file, data } => {
                let header = data
                    .store()?
                    .backup(&file, birth().map_err(StoreError::from)?)?;
                println!("{} entries backed up and read back.", header.n);
                Ok(())
            }
            Self::Rehearse { file, data } => {
                let (header, checked) = backups::rehearse(&file, &data.folder()?)?;
                println!(
                    "The backup holds: {} entries restored, {} ledgers folded and compared.",
                    header.n, checked.ledgers
                );
                Ok(())
            }
            Self::Restore { file, data } => {
                let header = data
                    .store()?
                    .restore(&file, birth().map_err(StoreError::from)?)?;
                println!(
                    "{} entries restored. Phones will send again what the backup does not have.",
                    header.n
                );
                Ok(())
            }
        }
    }
}

impl Data {
    fn folder(&self) -> Result<PathBuf, CliError> {
        let usual = || {
            directories::ProjectDirs::from("", "", "pentally")
                .map(|dirs| dirs.data_dir().to_owned())
        };
        let folder = self
            .data
            .clone()
            .or_else(usual)
            .ok_or(CliError::NoDataFolder)?;
        fs::create_dir_all(&folder).map_err(|source| CliError::File {
            place: folder.clone(),
            source,
        })?;
        Ok(folder)
    }

    fn store(&self) -> Result<Store, CliError> {
        Ok(Store::open(
            &self.folder()?.join("barn.redb"),
            birth().map_err(StoreError::from)?,
        )?)
    }
}

fn import_file(store: &Store, file: &Path) -> Result<(), CliError> {
    let counts = if file == Path::new("-") {
        import(store, &mut io::stdin().lock())?
    } else {
        let opened = File::open(file).map_err(|source| CliError::File {
            place: file.to_owned(),
            source,
        })?;
        import(store, &mut BufReader::new(opened))?
    };
    println!("{counts}");
    Ok(())
}

fn owner(store: &Store) -> Result<(), CliError> {
    if io::stdin().is_terminal() {
        eprintln!("The new passphrase, then Enter:");
    }
    let mut line = String::new();
    io::stdin().read_line(&mut line).map_err(CarryError::from)?;
    store.set_owner(&hashed(line.trim_end_matches(['\r', '\n']))?)?;
    println!("The owner's passphrase is set. Devices that were let in stay in.");
    Ok(())
}

fn check(store: &Store) -> Result<(), CliError> {
    let checked = store.check()?;
    println!(
        "{} entries and {} ledgers agree.",
        checked.entries, checked.ledgers
    );
    if checked.alarms > 0 {
        println!(
            "{} entries raised an alarm when they came; GET /api/v1/aside lists them.",
            checked.alarms
        );
    }
    let missing = store.missing()?;
    if !missing.is_nothing() {
        println!(
            "Not here: {} entries that no device holds any more; earlier entries of {} devices, which may still come; \
             who {} boars, {} pens and {} sows are that others speak of. GET /api/v1/missing lists them.",
            missing.lost,
            missing.awaited,
            missing.boars.len(),
            missing.pens.len(),
            missing.sows.len()
        );
    }
    Ok(())
}

fn tags(store: &Store, file: Option<&Path>, words: SheetWords) -> Result<(), CliError> {
    let paper = match words.paper {
        PaperWord::A4 => Paper::A4,
        PaperWord::Letter => Paper::Letter,
    };
    let lang = match words.lang {
        LangWord::En => Lang::En,
        LangWord::Es => Lang::Es,
    };
    let page = all_tags(
        store,
        &Wanted {
            paper,
            lang,
            reached_at: words.origin,
        },
    )?;
    match file {
        Some(place) => fs::write(place, page).map_err(|source| CliError::File {
            place: place.to_owned(),
            source,
        }),
        None => io::stdout()
            .write_all(page.as_bytes())
            .map_err(CarryError::from)
            .or_else(closed_early),
    }
}

/// Whoever reads the export may have seen enough.
fn closed_early(error: CarryError) -> Result<(), CliError> {
    match error {
        CarryError::File(error) if error.kind() == io::ErrorKind::BrokenPipe => Ok(()),
        other => Err(other.into()),
    }
}
