//! A phone: Chromium with a profile of its own, which outlives its process.

use super::office::{NAME, NETWORK};
use super::page::Page;
use super::{Office, prepared, wait};
use chromiumoxide::browser::Browser;
use chromiumoxide::handler::HandlerConfig;
use futures::StreamExt;
use std::fs::{self, File};
use std::os::unix::process::CommandExt;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use tempfile::TempDir;
use tokio::task::JoinHandle;

/// A phone that knows one office. Its profile (storage, service worker, cache)
/// stays when it is killed and started again, and ends with it.
#[derive(Debug)]
pub struct Phone {
    folder: TempDir,
    origin: String,
    flags: Vec<String>,
    running: Option<Running>,
}

#[derive(Debug)]
struct Running {
    process: Child,
    browser: Browser,
    events: JoinHandle<()>,
}

/// Headless; as root and with a small /dev/shm; and silent towards the world, whose
/// hosts a closed network cannot look up.
const FLAGS: [&str; 13] = [
    "--headless=new",
    "--no-sandbox",
    "--disable-dev-shm-usage",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--no-default-browser-check",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--disable-extensions",
    "--hide-scrollbars",
    "--remote-debugging-port=0",
];

impl Phone {
    /// A phone fresh from the box.
    pub async fn new(office: &Office) -> Self {
        Self::with_flags(office, &[]).await
    }

    /// One that reaches its office under another address.
    pub async fn at(origin: String) -> Self {
        Self::of(origin, &[]).await
    }

    /// One with more flags for Chromium (a fake camera, say).
    pub async fn with_flags(office: &Office, flags: &[&str]) -> Self {
        Self::of(office.origin(), flags).await
    }

    /// One on the farm's network, which trusts the farm's authority or does not yet.
    pub async fn on_network(office: &Office, trusts: bool) -> Self {
        let folder = tempfile::tempdir().expect("a temporary folder can be made");
        if trusts {
            trust(folder.path(), &office.data().join("tls/authority.pem"));
        }
        let flags = vec![format!("--host-resolver-rules=MAP {NAME} {NETWORK}")];
        let mut phone = Self {
            folder,
            origin: office.network_origin(),
            flags,
            running: None,
        };
        phone.restart().await;
        phone
    }

    async fn of(origin: String, flags: &[&str]) -> Self {
        let folder = tempfile::tempdir().expect("a temporary folder can be made");
        let flags = flags.iter().map(|&flag| flag.to_owned()).collect();
        let mut phone = Self {
            folder,
            origin,
            flags,
            running: None,
        };
        phone.restart().await;
        phone
    }

    /// Starts a killed phone again, with all that its profile holds.
    pub async fn restart(&mut self) {
        assert!(self.running.is_none(), "the phone is on already");
        let _ = fs::remove_file(self.port_file());
        let said = File::create(self.folder.path().join("said")).expect("a log can be written");
        let mut command = Command::new(prepared("PENTALLY_CHROMIUM"));
        command.args(FLAGS).args(&self.flags).arg("about:blank");
        command.arg(format!("--user-data-dir={}", self.profile().display()));
        // Whom it trusts lies there too.
        command.env("HOME", self.folder.path());
        command
            .stdin(Stdio::null())
            .stdout(Stdio::null())
            .stderr(said);
        // A group of its own, so that all of its processes can be killed at once.
        let process = command
            .process_group(0)
            .spawn()
            .expect("Chromium can be started");
        let address = self.debugger().await;
        let config = HandlerConfig {
            viewport: None,
            // The library would let every certificate pass.
            ignore_https_errors: false,
            ..HandlerConfig::default()
        };
        let (browser, mut handler) = Browser::connect_with_config(address, config)
            .await
            .expect("Chromium answers its debugger");
        let events = tokio::spawn(async move { while handler.next().await.is_some() {} });
        self.running = Some(Running {
            process,
            browser,
            events,
        });
    }

    /// SIGKILL to the whole browser: a flat battery.
    pub fn kill(&mut self) {
        if let Some(mut running) = self.running.take() {
            running.events.abort();
            let group = format!("-{}", running.process.id());
            let killed = Command::new("kill").args(["-KILL", "--", &group]).status();
            assert!(killed.is_ok_and(|status| status.success()), "Chromium runs");
            running.process.wait().expect("Chromium was ours");
        }
    }

    /// Switched off in peace: what the browser keeps in memory for half a minute, such as cookies,
    /// goes to the disk.
    pub async fn switch_off(&mut self) {
        if let Some(mut running) = self.running.take() {
            running.browser.close().await.expect("Chromium listens");
            running.process.wait().expect("Chromium was ours");
            running.events.abort();
        }
    }

    /// Opens a path of the office in a new tab.
    pub async fn open(&self, path: &str) -> Page {
        let page = self.tab().await;
        page.goto(path).await;
        page
    }

    /// An empty tab.
    pub async fn tab(&self) -> Page {
        let running = self.running.as_ref().expect("the phone is on");
        Page::new(&running.browser, self.origin.clone()).await
    }

    /// The folder of the profile.
    pub fn profile(&self) -> PathBuf {
        self.folder.path().join("profile")
    }

    /// Chromium writes its debugger's port and path there once it listens.
    fn port_file(&self) -> PathBuf {
        self.profile().join("DevToolsActivePort")
    }

    async fn debugger(&self) -> String {
        let written = wait::until(async || {
            let text = fs::read_to_string(self.port_file()).ok()?;
            let (port, path) = text.trim().split_once('\n')?;
            Some(format!("ws://127.0.0.1:{port}{path}"))
        });
        written.await.unwrap_or_else(|| {
            let said = fs::read_to_string(self.folder.path().join("said")).unwrap_or_default();
            panic!("Chromium did not start. It said: {said}")
        })
    }
}

impl Drop for Phone {
    fn drop(&mut self) {
        self.kill();
    }
}

/// Lets Chromium under this home trust an authority, as a person does in a phone's settings.
fn trust(home: &Path, authority: &Path) {
    let store = home.join(".pki/nssdb");
    fs::create_dir_all(&store).expect("the home is empty");
    let store = format!("sql:{}", store.display());
    let file = authority.display().to_string();
    for words in [
        vec!["-N", "-d", &store, "--empty-password"],
        vec!["-A", "-d", &store, "-t", "C,,", "-n", "farm", "-i", &file],
    ] {
        let done = Command::new("certutil").args(&words).status();
        let says = "certutil lets a browser trust the farm: install Debian's package libnss3-tools";
        assert!(done.expect(says).success(), "certutil {words:?}");
    }
}
