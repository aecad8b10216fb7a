//! The server as a process: how soon it answers, what it keeps in memory, how a page waits.

use crate::filled::Barn;
use crate::push::requests;
use crate::{median, ratio, timed};
use std::fs;
use std::io::{Read, Write};
use std::net::{Ipv4Addr, TcpListener, TcpStream};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::thread;
use std::time::{Duration, Instant};

/// How often it is started.
const STARTS: usize = 10;
/// Requests a second, sent whether or not the ones before were answered.
const PER_SECOND: u32 = 50;
/// For so long.
const SECONDS: u32 = 20;
/// Pages read before memory is looked at.
const PAGES: usize = 1_000;

/// What one barn's server did.
pub struct Seen {
    /// From exec to an answer of `/health`, the median; every start but the first after SIGKILL.
    pub start: Duration,
    /// The page that 99 of 100 were faster than.
    pub page_p99: Duration,
    /// Resident after a sync, the pages and an export, in KB; and at most.
    pub resident_kb: (u64, u64),
}

/// Runs the server binary on a copy of the barn's file.
pub fn measure(barn: &Barn, binary: &Path) -> Seen {
    let data = barn.place.with_extension("data");
    fs::create_dir_all(&data).unwrap();
    fs::copy(&barn.place, data.join("barn.redb")).unwrap();
    let phone = barn.unsent();
    let bodies = requests(&phone);
    let mut starts = vec![];
    for turn in 0..STARTS {
        let mut served = None;
        starts.push(timed(|| served = Some(Served::start(binary, &data))));
        // Killed with a write just behind it, as a power cut would.
        let (_, body) = &bodies[turn % bodies.len()];
        served.unwrap().post("/api/v1/sync", body);
    }
    let served = Served::start(binary, &data);
    let page = |turn: usize| format!("/boar/{}", barn.boars[turn % barn.boars.len()]);
    for turn in 0..PAGES {
        assert!(served.get(&page(turn)).contains("<html"));
    }
    let page_p99 = served.p99(page);
    let mut after = 0;
    loop {
        let asked = format!("/api/v1/entries?after={after}&limit=1000");
        let answer = served.get(&asked);
        let next = answer.rsplit_once("\"next\":").unwrap().1;
        let digits: String = next.chars().take_while(char::is_ascii_digit).collect();
        match digits.parse() {
            Ok(n) => after = n,
            Err(_) => break,
        }
    }
    let resident_kb = served.memory();
    drop(served);
    fs::remove_dir_all(&data).unwrap();
    Seen {
        start: median(&mut starts),
        page_p99,
        resident_kb,
    }
}

/// Prints an old barn's figures beside those of a new one and of one with few boars.
pub fn print([new, few, old]: &[Seen; 3]) {
    let line = |what: &str, of: fn(&Seen) -> Duration| {
        println!(
            "{what}: {:.1?} new, {:.1?} few boars, {:.1?} old, {:.2} times new, {:.2} times few boars'",
            of(new),
            of(few),
            of(old),
            ratio(of(old), of(new)),
            ratio(of(old), of(few)),
        );
    };
    line("from exec to /health, after SIGKILL too", |seen| seen.start);
    line("a boar's page at 50 requests a second, p99", |seen| {
        seen.page_p99
    });
    for (name, seen) in [("new", new), ("few boars", few), ("old", old)] {
        let (now, most) = seen.resident_kb;
        println!(
            "resident after a sync, {PAGES} pages and an export, {name}: {now} KB, at most {most} KB"
        );
    }
}

/// A running server; SIGKILL ends it.
struct Served {
    process: Child,
    port: u16,
}

impl Served {
    fn start(binary: &Path, data: &PathBuf) -> Self {
        let port = TcpListener::bind((Ipv4Addr::LOCALHOST, 0))
            .and_then(|l| l.local_addr())
            .unwrap()
            .port();
        let process = Command::new(binary)
            .arg("serve")
            .arg("--data")
            .arg(data)
            .args(["--listen", &format!("127.0.0.1:{port}")])
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let served = Self { process, port };
        let until = Instant::now() + Duration::from_secs(120);
        while served.ask("GET", "/health", "").is_none() {
            assert!(Instant::now() < until, "the server does not open");
            thread::sleep(Duration::from_micros(500));
        }
        served
    }

    fn get(&self, path: &str) -> String {
        self.ask("GET", path, "").unwrap()
    }

    fn post(&self, path: &str, body: &str) {
        let answer = self.ask("POST", path, body).unwrap();
        assert!(answer.starts_with("HTTP/1.0 200"), "{answer}");
    }

    fn ask(&self, method: &str, path: &str, body: &str) -> Option<String> {
        ask(self.port, method, path, body)
    }

    /// Each waits from the moment it was due, not from when a thread came to it.
    fn p99(&self, page: impl Fn(usize) -> String) -> Duration {
        let begun = Instant::now();
        let asked: Vec<_> = (0..PER_SECOND * SECONDS)
            .map(|turn| {
                let due = begun + Duration::from_secs(1) / PER_SECOND * turn;
                let (port, path) = (self.port, page(turn as usize));
                thread::sleep(due.saturating_duration_since(Instant::now()));
                thread::spawn(move || {
                    assert!(ask(port, "GET", &path, "").unwrap().contains("<html"));
                    due.elapsed()
                })
            })
            .collect();
        let mut took: Vec<_> = asked.into_iter().map(|t| t.join().unwrap()).collect();
        took.sort_unstable();
        took[took.len() * 99 / 100]
    }

    /// Resident now and at most, in KB.
    fn memory(&self) -> (u64, u64) {
        let status = fs::read_to_string(format!("/proc/{}/status", self.process.id())).unwrap();
        let figure = |name: &str| {
            let line = status.lines().find(|l| l.starts_with(name)).unwrap();
            line.split_whitespace().nth(1).unwrap().parse().unwrap()
        };
        (figure("VmRSS:"), figure("VmHWM:"))
    }
}

impl Drop for Served {
    fn drop(&mut self) {
        self.process.kill().unwrap();
        self.process.wait().unwrap();
    }
}

fn ask(port: u16, method: &str, path: &str, body: &str) -> Option<String> {
    let mut stream = TcpStream::connect((Ipv4Addr::LOCALHOST, port)).ok()?;
    write!(
        stream,
        "{method} {path} HTTP/1.0\r\nHost: localhost:{port}\r\ncontent-type: application/json\r\ncontent-length: {}\r\n\r\n{body}",
        body.len()
    )
    .ok()?;
    let mut answer = Vec::new();
    stream.read_to_end(&mut answer).ok()?;
    Some(String::from_utf8_lossy(&answer).into_owned())
}
