//! What a listener on the farm's network bears before anybody is known: so many connections, each of
//! which soon says what it wants.

use axum_server::Server;
use axum_server::accept::Accept;
use std::future::{Ready, ready};
use std::io;
use std::net::SocketAddr;
use std::sync::Arc;
use std::time::Duration;
use tokio::sync::{OwnedSemaphorePermit, Semaphore};
use tower_http::add_extension::AddExtension;

/// The longest head of a request, in bytes.
const HEAD_MAX_BYTES: u32 = 64 * 1024;
/// How many requests one connection has under way at once, and how much of their bodies it may send
/// unread, in bytes: for each, and for all together.
const REQUESTS: u32 = 32;
const AHEAD_BYTES: u32 = 64 * 1024;
const ALL_AHEAD_BYTES: u32 = 256 * 1024;

/// Turns at a listener. Whoever finds none left is turned away at once, since waiting costs too.
#[derive(Debug, Clone)]
pub(super) struct Turns(Arc<Semaphore>);

impl Turns {
    pub(super) fn new(most: usize) -> Self {
        Self(Arc::new(Semaphore::new(most)))
    }
}

impl<I, S> Accept<I, S> for Turns {
    type Stream = I;
    /// The turn ends with the connection's service.
    type Service = AddExtension<S, Arc<OwnedSemaphorePermit>>;
    type Future = Ready<io::Result<(Self::Stream, Self::Service)>>;

    fn accept(&self, stream: I, service: S) -> Self::Future {
        let turn = Arc::clone(&self.0).try_acquire_owned();
        let taken = turn.map(|turn| (stream, AddExtension::new(service, Arc::new(turn))));
        ready(taken.map_err(io::Error::other))
    }
}

/// The same server, which closes a connection that says nothing for `patience` and takes little from each.
pub(super) fn patient<A>(
    mut server: Server<SocketAddr, A>,
    patience: Duration,
) -> Server<SocketAddr, A> {
    let http = server.http_builder();
    http.http1()
        .header_read_timeout(patience)
        .max_buf_size(HEAD_MAX_BYTES as usize);
    http.http2()
        .max_header_list_size(HEAD_MAX_BYTES)
        .max_concurrent_streams(REQUESTS)
        .initial_stream_window_size(AHEAD_BYTES)
        .initial_connection_window_size(ALL_AHEAD_BYTES)
        .keep_alive_interval(patience)
        .keep_alive_timeout(patience);
    server.first_request_timeout(patience)
}

#[cfg(test)]
mod tests {
    use super::*;
    use axum::Router;
    use axum::routing::get;
    use std::io::{Read, Write};
    use std::net::TcpStream;
    use std::time::Instant;

    const PATIENCE: Duration = Duration::from_millis(500);

    /// A listener of two turns.
    fn listener() -> (tokio::runtime::Runtime, SocketAddr) {
        let runtime = tokio::runtime::Runtime::new().unwrap();
        let socket = std::net::TcpListener::bind(("127.0.0.1", 0)).unwrap();
        socket.set_nonblocking(true).unwrap();
        let address = socket.local_addr().unwrap();
        let service = Router::new()
            .route("/", get(async || "here"))
            .into_make_service();
        runtime.spawn(async move {
            let server = axum_server::from_tcp(socket).unwrap();
            let server = patient(server, PATIENCE).acceptor(Turns::new(2));
            server.serve(service).await
        });
        (runtime, address)
    }

    /// What comes back until the other side closes.
    fn heard(mut stream: TcpStream) -> String {
        let mut text = vec![];
        stream.set_read_timeout(Some(PATIENCE * 20)).unwrap();
        match stream.read_to_end(&mut text) {
            Err(e) if e.kind() == io::ErrorKind::ConnectionReset => {}
            other => drop(other.unwrap()),
        }
        String::from_utf8(text).unwrap()
    }

    fn asks(address: SocketAddr, head: &str) -> TcpStream {
        let mut stream = TcpStream::connect(address).unwrap();
        stream.write_all(head.as_bytes()).unwrap();
        stream
    }

    const WHOLE: &str = "GET / HTTP/1.1\r\nhost: x\r\nconnection: close\r\n\r\n";

    #[test]
    fn a_head_that_never_ends_is_given_up() {
        let (_runtime, address) = listener();
        for begun in ["", "G", "GET / HTTP/1.1\r\nhost: x\r\n"] {
            let since = Instant::now();
            let said = heard(asks(address, begun));
            assert!(!said.contains("200 OK"), "{said}");
            assert!(since.elapsed() >= PATIENCE / 2, "{begun:?}");
        }
        // Between two requests it waits no longer.
        let kept = heard(asks(address, "GET / HTTP/1.1\r\nhost: x\r\n\r\n"));
        assert!(kept.ends_with("here"), "{kept}");
    }

    #[test]
    fn one_connection_too_many_is_turned_away_and_the_next_let_in() {
        let (_runtime, address) = listener();
        let two = [asks(address, "G"), asks(address, "G")];
        std::thread::sleep(PATIENCE / 5);
        let since = Instant::now();
        assert_eq!(heard(asks(address, WHOLE)), "");
        assert!(since.elapsed() < PATIENCE, "at once");
        drop(two);
        let until = Instant::now() + PATIENCE * 20;
        while !heard(asks(address, WHOLE)).ends_with("here") {
            assert!(Instant::now() < until, "nobody is let in any more");
        }
    }
}
