//! The office machine: the server binary on a port and data of its own.

use super::{prepared, wait};
use std::fs::{self, File};
use std::io::{Read, Write};
use std::net::{Ipv4Addr, SocketAddr, TcpListener, TcpStream};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::Duration;
use tempfile::TempDir;

/// A server process. It keeps its port and its data when it is killed and started
/// again; both end with it.
#[derive(Debug)]
pub struct Office {
    binary: PathBuf,
    folder: TempDir,
    port: u16,
    network: Option<Ports>,
    process: Option<Child>,
}

/// Where the office listens on the farm's network.
#[derive(Debug, Clone, Copy)]
struct Ports {
    https: u16,
    steps: u16,
}

/// The farm's network: another address of this machine.
pub const NETWORK: Ipv4Addr = Ipv4Addr::new(127, 0, 0, 2);
/// What the office is called there.
pub const NAME: &str = "barn.local";

impl Office {
    /// A fresh office with a farm, open on the farm's network too.
    pub fn on_network(passphrase: &str) -> Self {
        let folder = tempfile::tempdir().expect("a temporary folder can be made");
        fs::create_dir(folder.path().join("data")).expect("the folder is empty");
        let mut office = Self {
            binary: prepared("PENTALLY_BINARY"),
            folder,
            port: free_port(Ipv4Addr::LOCALHOST),
            network: Some(Ports {
                https: free_port(NETWORK),
                steps: free_port(NETWORK),
            }),
            process: None,
        };
        office.start();
        office.post("/api/v1/start", r#"{"farm":"Lower Hill","zone":"UTC"}"#);
        let asked = format!(r#"{{"name":"{NAME}","passphrase":"{passphrase}"}}"#);
        office.post("/api/v1/network", &asked);
        wait::until_now(|| office.is_on_network().then_some(())).expect("the network is open");
        office
    }

    /// The origin on the tags.
    pub fn network_origin(&self) -> String {
        let ports = self.network.expect("the office is on the network");
        format!("https://{NAME}:{}", ports.https)
    }

    /// The page that shows how a phone is let in.
    pub fn steps_address(&self) -> SocketAddr {
        let ports = self.network.expect("the office is on the network");
        SocketAddr::new(NETWORK.into(), ports.steps)
    }

    fn is_on_network(&self) -> bool {
        let ports = self.network.expect("the office is on the network");
        [ports.https, ports.steps]
            .iter()
            .all(|port| TcpStream::connect((NETWORK, *port)).is_ok())
    }

    /// The answer's body to a POST at the machine itself.
    pub fn post(&self, path: &str, body: &str) -> String {
        let mut stream = TcpStream::connect(self.address()).expect("the office is open");
        write!(
            stream,
            "POST {path} HTTP/1.0\r\nHost: localhost:{}\r\nContent-Length: {}\r\n\r\n{body}",
            self.port,
            body.len()
        )
        .expect("the office listens");
        let mut answer = String::new();
        stream.read_to_string(&mut answer).expect("an answer comes");
        let (head, body) = answer
            .split_once("\r\n\r\n")
            .expect("the answer has a body");
        assert!(head.contains(" 200 "), "{answer}");
        body.to_owned()
    }

    /// A fresh office, open.
    pub fn open() -> Self {
        Self::open_with(&prepared("PENTALLY_BINARY"), |_| {})
    }

    /// A fresh office of another binary, whose data folder `prepare` may fill first.
    pub fn open_with(binary: &Path, prepare: impl FnOnce(&Path)) -> Self {
        let folder = tempfile::tempdir().expect("a temporary folder can be made");
        fs::create_dir(folder.path().join("data")).expect("the folder is empty");
        let mut office = Self {
            binary: binary.to_owned(),
            folder,
            port: free_port(Ipv4Addr::LOCALHOST),
            network: None,
            process: None,
        };
        prepare(&office.data());
        office.start();
        office
    }

    /// Opens a closed or killed office again: same port, same data.
    pub fn start(&mut self) {
        assert!(self.process.is_none(), "the office is open already");
        let log = File::create(self.log()).expect("the log can be written");
        // A file that may not grow then fails to be written, as on a full disk, instead of ending the program.
        let mut command = Command::new("sh");
        command.args(["-c", r#"trap "" XFSZ; exec "$0" "$@""#]);
        command.arg(&self.binary);
        command.arg("serve").arg("--data").arg(self.data());
        command.arg("--listen").arg(self.address().to_string());
        if let Some(Ports { https, steps }) = self.network {
            command.args(["--https", &format!("{NETWORK}:{https}")]);
            command.args(["--steps", &format!("{NETWORK}:{steps}")]);
        }
        command
            .stdin(Stdio::null())
            .stdout(Stdio::null())
            .stderr(log);
        let process = command.spawn().expect("the server binary can be started");
        self.process = Some(process);
        wait::until_now(|| self.is_open()).unwrap_or_else(|| self.did_not_open());
    }

    /// SIGKILL: no time to say goodbye.
    pub fn kill(&mut self) {
        if let Some(mut process) = self.process.take() {
            process.kill().expect("the server runs");
            process.wait().expect("the server was ours");
        }
    }

    /// From now on nothing can be written any more, as on a full disk; or it can again.
    pub fn disk_is_full(&self, full: bool) {
        let process = self.process.as_ref().expect("the office is open");
        let most = if full {
            "--fsize=4096:"
        } else {
            "--fsize=unlimited:"
        };
        let pid = process.id().to_string();
        let set = Command::new("prlimit").args(["--pid", &pid, most]).status();
        assert!(set.expect("prlimit is part of util-linux").success());
    }

    /// From now on another binary serves here.
    pub fn replace_binary(&mut self, binary: &Path) {
        binary.clone_into(&mut self.binary);
    }

    /// The folder that the server was given as its data.
    pub fn data(&self) -> PathBuf {
        self.folder.path().join("data")
    }

    /// The origin a phone knows, such as `http://localhost:40123`.
    pub fn origin(&self) -> String {
        format!("http://localhost:{}", self.port)
    }

    /// Where the server listens.
    pub const fn address(&self) -> SocketAddr {
        SocketAddr::new(std::net::IpAddr::V4(Ipv4Addr::LOCALHOST), self.port)
    }

    /// The process id, for measures of the process; none while closed.
    pub fn process_id(&self) -> Option<u32> {
        self.process.as_ref().map(Child::id)
    }

    /// The answer to a GET as it came: status line, headers, body. None when nobody
    /// answers.
    pub fn get(&self, path: &str) -> Option<String> {
        let mut stream = TcpStream::connect(self.address()).ok()?;
        stream.set_read_timeout(Some(Duration::from_secs(5))).ok()?;
        write!(
            stream,
            "GET {path} HTTP/1.0\r\nHost: localhost:{}\r\n\r\n",
            self.port
        )
        .ok()?;
        let mut answer = Vec::new();
        stream.read_to_end(&mut answer).ok()?;
        Some(String::from_utf8_lossy(&answer).into_owned())
    }

    fn is_open(&mut self) -> Option<()> {
        let ended = self.process.as_mut()?.try_wait().ok()?;
        if ended.is_some() {
            self.did_not_open();
        }
        self.get("/health")?.contains(" 200 ").then_some(())
    }

    fn did_not_open(&self) -> ! {
        let said = fs::read_to_string(self.log()).unwrap_or_default();
        panic!("The office did not open. It said: {said}")
    }

    fn log(&self) -> PathBuf {
        self.folder.path().join("said")
    }
}

impl Drop for Office {
    fn drop(&mut self) {
        self.kill();
    }
}

fn free_port(at: Ipv4Addr) -> u16 {
    let listener = TcpListener::bind((at, 0)).expect("a port is free");
    listener.local_addr().expect("it is bound").port()
}
