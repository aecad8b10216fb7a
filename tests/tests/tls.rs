//! The farm's authority and the server's certificate, judged by another program and by time.

mod store_hands;

use pentally_domain::time::DAY_MS;
use pentally_server::network::{Network, Said};
use pentally_server::tls::{
    Authority, Leaf, NameError, Names, TlsError, Trust, borne_name, refreshed,
};
use std::fs;
use std::net::{Ipv4Addr, TcpListener};
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::atomic::{AtomicU32, Ordering};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant, SystemTime};
use store_hands::START_MS;

struct Folder(PathBuf);

impl Folder {
    fn new() -> Self {
        static COUNT: AtomicU32 = AtomicU32::new(0);
        let name = format!(
            "pentally-tls-{}-{}",
            std::process::id(),
            COUNT.fetch_add(1, Ordering::Relaxed)
        );
        Self(std::env::temp_dir().join(name))
    }

    fn place(&self, name: &str) -> PathBuf {
        self.0.join(name)
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

fn names(dns: &[&str], ips: &[&str]) -> Names {
    Names {
        dns: dns.iter().map(|name| (*name).to_owned()).collect(),
        ips: ips.iter().map(|ip| ip.parse().unwrap()).collect(),
    }
}

/// OpenSSL on a chain at a moment (ms since 1970): what it says, and whether it is satisfied. Strict
/// checks are those of RFC 5280.
fn openssl(authority: &Path, leaf: &Path, host: &[&str], at_ms: i64) -> (bool, String) {
    let done = Command::new("openssl")
        .args(["verify", "-x509_strict", "-purpose", "sslserver"])
        .args(["-attime", &(at_ms / 1_000).to_string()])
        .args(host)
        .arg("-CAfile")
        .args([authority, leaf])
        .output()
        .expect("openssl judges the certificates: install Debian's package openssl");
    let said =
        String::from_utf8_lossy(&done.stderr).into_owned() + &String::from_utf8_lossy(&done.stdout);
    (done.status.success(), said)
}

#[test]
fn another_program_accepts_the_chain_for_its_names_and_no_others() {
    let folder = Folder::new();
    let authority = Authority::of(&folder.0, START_MS).unwrap();
    let all = names(&["barn.local", "localhost"], &["192.168.1.20", "fd00::7"]);
    Leaf::of(&folder.0, &authority, &all, START_MS).unwrap();
    let (root, leaf) = (folder.place("authority.pem"), folder.place("server.pem"));
    for right in [
        ["-verify_hostname", "barn.local"],
        ["-verify_hostname", "localhost"],
        ["-verify_ip", "192.168.1.20"],
        ["-verify_ip", "fd00::7"],
    ] {
        let (accepts, said) = openssl(&root, &leaf, &right, START_MS);
        assert!(accepts, "{right:?}: {said}");
    }
    for wrong in [
        ["-verify_hostname", "stall.local"],
        ["-verify_ip", "192.168.1.21"],
    ] {
        assert!(!openssl(&root, &leaf, &wrong, START_MS).0, "{wrong:?}");
    }
    let none: [&str; 0] = [];
    // 397 days from the day before.
    assert!(openssl(&root, &leaf, &none, START_MS + 368 * DAY_MS).0);
    assert!(!openssl(&root, &leaf, &none, START_MS + 370 * DAY_MS).0);
    assert!(!openssl(&root, &leaf, &none, START_MS - 29 * DAY_MS).0);
    let slow_phone = START_MS - 27 * DAY_MS;
    assert!(openssl(&root, &leaf, &none, slow_phone).0);
}

#[test]
fn a_stolen_authority_could_not_vouch_for_a_public_name() {
    let folder = Folder::new();
    let authority = Authority::of(&folder.0, START_MS).unwrap();
    for public in [names(&["bank.example"], &[]), names(&[], &["8.8.8.8"])] {
        let _ = fs::remove_file(folder.place("server.pem"));
        Leaf::of(&folder.0, &authority, &public, START_MS).unwrap();
        let (accepts, said) = openssl(
            &folder.place("authority.pem"),
            &folder.place("server.pem"),
            &[],
            START_MS,
        );
        assert!(
            !accepts && said.contains("permitted subtree violation"),
            "{said}"
        );
    }
}

#[test]
fn the_authority_is_made_once_and_never_replaced_in_silence() {
    let folder = Folder::new();
    let (place, key) = (folder.place("authority.pem"), folder.place("authority.key"));
    let first = Authority::of(&folder.0, START_MS).unwrap();
    let again = Authority::of(&folder.0, START_MS + 4_000 * DAY_MS).unwrap();
    assert_eq!(
        first.der(),
        again.der(),
        "also when it has ended: people decide that"
    );
    let (whole, whole_key) = (fs::read(&place).unwrap(), fs::read(&key).unwrap());
    let other = Folder::new();
    Authority::of(&other.0, START_MS).unwrap();
    let refused = |why: &str| {
        let error = Authority::of(&folder.0, START_MS).unwrap_err();
        assert!(
            matches!(error, TlsError::Authority { .. }),
            "{why}: {error}"
        );
        assert!(error.to_string().contains("not replaced"), "{error}");
    };
    fs::write(&place, "x").unwrap();
    refused("spoilt");
    fs::write(&place, &whole).unwrap();
    fs::remove_file(&key).unwrap();
    refused("without its key");
    fs::copy(other.place("authority.key"), &key).unwrap();
    refused("with another's key");
    fs::write(&key, whole_key).unwrap();
    assert_eq!(
        Authority::of(&folder.0, START_MS).unwrap().der(),
        first.der()
    );
}

#[test]
fn a_machine_whose_clock_was_never_set_makes_no_authority() {
    let folder = Folder::new();
    let error = Authority::of(&folder.0, DAY_MS).unwrap_err();
    assert!(matches!(error, TlsError::Clock), "{error}");
    assert!(Authority::of(&folder.0, START_MS).is_ok(), "once it is set");
}

#[test]
fn many_who_ask_at_once_get_one_authority() {
    let folder = Folder::new();
    let asked: Vec<Vec<u8>> = std::thread::scope(|scope| {
        let asks: Vec<_> = (0..16)
            .map(|_| scope.spawn(|| Authority::of(&folder.0, START_MS).unwrap().der().to_vec()))
            .collect();
        asks.into_iter().map(|ask| ask.join().unwrap()).collect()
    });
    assert!(asked.iter().all(|der| *der == asked[0]));
}

#[cfg(unix)]
#[test]
fn keys_are_readable_by_their_owner_only() {
    use std::os::unix::fs::PermissionsExt;
    let folder = Folder::new();
    let authority = Authority::of(&folder.0, START_MS).unwrap();
    Leaf::of(
        &folder.0,
        &authority,
        &names(&["barn.local"], &[]),
        START_MS,
    )
    .unwrap();
    let mode = |place: &Path| fs::metadata(place).unwrap().permissions().mode() & 0o777;
    assert_eq!(mode(&folder.0), 0o700);
    for name in ["authority.key", "server.key"] {
        assert_eq!(mode(&folder.place(name)), 0o600, "{name}");
    }
}

#[test]
fn the_servers_certificate_is_made_anew_when_it_must_be_and_not_before() {
    let folder = Folder::new();
    let authority = Authority::of(&folder.0, START_MS).unwrap();
    let now = names(&["barn.local"], &["192.168.1.20"]);
    let leaf = |names: &Names, day: i64| {
        Leaf::of(&folder.0, &authority, names, START_MS + day * DAY_MS).unwrap()
    };
    let first = leaf(&now, 0);
    assert_eq!(leaf(&now, 338), first);
    assert_eq!(
        leaf(&names(&["barn.local"], &[]), 1),
        first,
        "it covers fewer names too"
    );
    let renewed = leaf(&now, 340);
    assert_ne!(renewed, first, "under 30 days are left");
    let moved = names(&["barn.local"], &["192.168.1.99"]);
    let other = leaf(&moved, 341);
    assert_ne!(other, renewed, "the machine has another address");
    let foreign = Folder::new();
    let stranger = Authority::of(&foreign.0, START_MS).unwrap();
    let theirs = Leaf::of(&foreign.0, &stranger, &moved, START_MS).unwrap();
    fs::write(folder.place("server.pem"), &theirs.pem).unwrap();
    fs::write(folder.place("server.key"), &theirs.key).unwrap();
    assert_ne!(leaf(&moved, 0), theirs, "another authority's is of no use");
}

/// By this machine's clock, by which curl judges (ms since 1970).
fn now_ms() -> i64 {
    let now = SystemTime::now().duration_since(SystemTime::UNIX_EPOCH);
    i64::try_from(now.unwrap().as_millis()).unwrap()
}

/// A server that shows the certificate in two files and follows them.
struct Online {
    port: u16,
    chain: PathBuf,
    key: PathBuf,
    /// What became of each look at the files.
    looked: Arc<Mutex<Vec<bool>>>,
    _runtime: tokio::runtime::Runtime,
}

impl Online {
    fn new(folder: &Folder, leaf: &Leaf) -> Self {
        let (chain, key) = (folder.place("own.pem"), folder.place("own.key"));
        fs::write(&chain, &leaf.pem).unwrap();
        fs::write(&key, &leaf.key).unwrap();
        let trust = Trust::Own {
            certificate: chain.clone(),
            key: key.clone(),
        };
        let looked = Arc::<Mutex<Vec<bool>>>::default();
        let notes = looked.clone();
        let socket = TcpListener::bind((Ipv4Addr::LOCALHOST, 0)).unwrap();
        socket.set_nonblocking(true).unwrap();
        let port = socket.local_addr().unwrap().port();
        let runtime = tokio::runtime::Runtime::new().unwrap();
        runtime.spawn(async move {
            let every = Duration::from_millis(50);
            let shown = refreshed(trust, now_ms, every, move |looked| {
                notes.lock().unwrap().push(looked.is_ok());
            });
            let shown = shown.unwrap();
            let here = axum::Router::new().route("/", axum::routing::get(async || "here"));
            axum_server::from_tcp_rustls(socket, shown.config.clone())
                .unwrap()
                .serve(here.into_make_service())
                .await
        });
        Self {
            port,
            chain,
            key,
            looked,
            _runtime: runtime,
        }
    }

    /// Whether curl gets the page under a name while it trusts one authority.
    fn curl(&self, authority: &Path, host: &str) -> bool {
        let (port, to) = (self.port, Ipv4Addr::LOCALHOST);
        let done = Command::new("curl")
            .args([
                "--silent",
                "--show-error",
                "--noproxy",
                "*",
                "--max-time",
                "20",
            ])
            .args(["--connect-to", &format!("{host}:{port}:{to}:{port}")])
            .arg("--cacert")
            .arg(authority)
            .arg(format!("https://{host}:{port}/"))
            .output()
            .expect("curl judges the certificates: install Debian's package curl");
        let said = String::from_utf8_lossy(&done.stderr);
        match done.status.code() {
            Some(0) => assert_eq!(done.stdout, b"here"),
            // "Peer certificate cannot be authenticated", by curl's manual.
            other => assert_eq!(other, Some(60), "{host}: {said}"),
        }
        done.status.success()
    }
}

#[test]
fn a_second_program_gets_the_page_under_its_names_and_no_others() {
    let folder = Folder::new();
    let authority = Authority::of(&folder.0, now_ms()).unwrap();
    let all = names(
        &["barn.local", "localhost", "bank.example"],
        &["192.168.1.20", "fd00::7"],
    );
    let local = names(&["barn.local", "localhost"], &["192.168.1.20", "fd00::7"]);
    let leaf = Leaf::of(&folder.0, &authority, &local, now_ms()).unwrap();
    let online = Online::new(&folder, &leaf);
    let root = folder.place("authority.pem");
    for host in ["barn.local", "localhost", "192.168.1.20", "[fd00::7]"] {
        assert!(online.curl(&root, host), "{host}");
    }
    for host in ["stall.local", "192.168.1.21"] {
        assert!(!online.curl(&root, host), "{host}");
    }
    let stranger = Folder::new();
    Authority::of(&stranger.0, now_ms()).unwrap();
    assert!(!online.curl(&stranger.place("authority.pem"), "barn.local"));
    // Where the stolen authority vouches for a public name, the whole certificate is worth nothing.
    let beyond = Leaf::of(&folder.0, &authority, &all, now_ms()).unwrap();
    let online = Online::new(&folder, &beyond);
    assert!(!online.curl(&root, "bank.example") && !online.curl(&root, "barn.local"));
}

#[test]
fn a_certificate_of_ones_own_is_read_again_and_says_which_names_fit() {
    let (folder, renewed) = (Folder::new(), Folder::new());
    let leaf = |folder: &Folder, name: &str| {
        let authority = Authority::of(&folder.0, now_ms()).unwrap();
        Leaf::of(&folder.0, &authority, &names(&[name], &[]), now_ms()).unwrap()
    };
    let first = leaf(&folder, "barn.lan");
    let online = Online::new(&folder, &first);
    let (old, new) = (
        folder.place("authority.pem"),
        renewed.place("authority.pem"),
    );
    assert!(online.curl(&old, "barn.lan"));
    assert_eq!(
        borne_name("Barn.LAN.", &online.chain).as_deref(),
        Ok("barn.lan")
    );
    let refused = borne_name("stall.lan", &online.chain).unwrap_err();
    assert!(matches!(refused, NameError::NotBorne { .. }), "{refused}");

    // Its key comes later: until then what was shown stays.
    let second = leaf(&renewed, "stall.lan");
    fs::write(&online.chain, &second.pem).unwrap();
    let until = Instant::now() + Duration::from_secs(30);
    while online.looked.lock().unwrap().last() != Some(&false) {
        assert!(Instant::now() < until, "nobody looked");
        std::thread::sleep(Duration::from_millis(20));
    }
    assert!(online.curl(&old, "barn.lan"));
    fs::write(&online.key, &second.key).unwrap();
    while !online.curl(&new, "stall.lan") {
        assert!(Instant::now() < until, "it is not read again");
    }
    assert!(!online.curl(&old, "barn.lan"));
    assert_eq!(online.looked.lock().unwrap().last(), Some(&true));
}

#[test]
fn with_a_certificate_of_ones_own_any_name_fits_that_it_bears_and_no_other() {
    let folder = Folder::new();
    let authority = Authority::of(&folder.0, START_MS).unwrap();
    let public = names(&["barn.farm.example", "*.barns.example"], &["192.0.2.7"]);
    Leaf::of(&folder.0, &authority, &public, START_MS).unwrap();
    let own = |name: &str| Said {
        own: Some((folder.place(name), folder.place("server.key"))),
        ..Said::default()
    };
    let network = Network::of(&folder.0, own("server.pem")).unwrap();
    for name in ["barn.farm.example", "hill.barns.example", "192.0.2.7"] {
        assert_eq!(network.named(name).as_deref(), Ok(name));
    }
    let refused = network.named("barn.local").unwrap_err();
    assert!(
        refused.to_string().contains("barn.farm.example"),
        "{refused}"
    );
    let unread = Network::of(&folder.0, own("none.pem")).unwrap();
    let refused = unread.named("barn.farm.example").unwrap_err();
    assert!(matches!(refused, NameError::Unread { .. }), "{refused}");
    let farms = Network::of(&folder.0, Said::default()).unwrap();
    assert!(farms.named("barn.farm.example").is_err());
}
