//! The accept loop: limits on how long headers may take, how slowly a reader may take an answer, how many connections are open at a
//! time and how many of them from one address, no delay of small packets, and a graceful end.

mod gate;
mod pace;

use crate::config::{Callers, TrustedProxies};
use axum::Router;
use gate::Gate;
use hyper::Request;
use hyper::body::Incoming;
use hyper::service::Service;
use hyper_util::rt::{TokioIo, TokioTimer};
use hyper_util::server::graceful::GracefulShutdown;
use hyper_util::service::TowerToHyperService;
use pace::Paced;
use socket2::SockRef;
use std::future::Future;
use std::io;
use std::net::SocketAddr;
use std::sync::Arc;
use std::time::Duration;
use tokio::net::{TcpListener, TcpStream};
use tokio::signal::unix::{Signal, SignalKind, signal};
use tokio::sync::watch;
use tokio::task::JoinSet;
use tokio::time::Instant;

const HEADERS_WITHIN: Duration = Duration::from_secs(15);

/// Bytes that the system keeps unsent for a connection before it takes no more from us, so that what it takes says what the other
/// side takes.
const UNSENT: u32 = 16 * 1024;

/// How long requests in hand may take to finish once the service is to end.
pub const DRAIN_WITHIN: Duration = Duration::from_secs(30);

/// How long the service looks for connections that the system let in before it was asked to end.
const LAST_CALL: Duration = Duration::from_millis(50);

/// What an address is told that has all its connections.
const ALL_TAKEN: &[u8] = b"HTTP/1.1 429 Too Many Requests\r\nconnection: close\r\nretry-after: 5\r\ncontent-type: text/plain\r\ncontent-length: 73\r\n\r\nYour address has too many connections open. Close some, then try again.\r\n";

/// Who sent a request; every request carries it. Behind a trusted proxy it is who the proxy says, with the proxy's port.
#[derive(Debug, Clone, Copy)]
pub struct Peer(pub SocketAddr);

/// Goes with a request that a machine of the operator's sent for itself: this one, or a trusted proxy.
#[derive(Debug, Clone, Copy)]
pub struct FromOurs;

/// A service that tells each request where it came from.
struct FromPeer<S> {
    peer: SocketAddr,
    trusted: Arc<TrustedProxies>,
    inner: S,
}

impl<S: Service<Request<Incoming>>> Service<Request<Incoming>> for FromPeer<S> {
    type Response = S::Response;
    type Error = S::Error;
    type Future = S::Future;

    fn call(&self, mut request: Request<Incoming>) -> S::Future {
        let client = self.trusted.client(self.peer.ip(), request.headers());
        let is_ours = self.trusted.is_own_request(self.peer.ip(), request.headers());
        let extensions = request.extensions_mut();
        extensions.insert(Peer(SocketAddr::new(client, self.peer.port())));
        if is_ours {
            extensions.insert(FromOurs);
        }
        self.inner.call(request)
    }
}

/// What serves connections.
struct Host {
    router: Router,
    trusted: Arc<TrustedProxies>,
    gate: Gate,
    /// Bytes a second that a reader must take at least.
    least_rate: u32,
}

/// A connection with its place among those that may be open.
struct Admitted<H> {
    service: FromPeer<TowerToHyperService<Router>>,
    io: TokioIo<Paced<TcpStream>>,
    held: H,
}

impl Host {
    /// Takes a connection in, unless its address has as many as it may.
    fn admit(&self, stream: TcpStream, peer: SocketAddr) -> Option<Admitted<impl Send + use<>>> {
        // A proxy stands for many callers, and limits them itself.
        let share = if self.trusted.trusts(peer.ip()) { None } else { Some(self.gate.share(peer.ip())) };
        if let Some(None) = share {
            tracing::debug!(address = %peer.ip(), "an address has all its connections");
            // What does not fit into an empty buffer is not waited for.
            let _ = stream.try_write(ALL_TAKEN);
            return None;
        }
        prepare(&stream);
        let inner = TowerToHyperService::new(self.router.clone());
        let service = FromPeer { peer, trusted: Arc::clone(&self.trusted), inner };
        Some(Admitted { service, io: TokioIo::new(Paced::new(stream, self.least_rate)), held: share })
    }
}

/// Serves until `stop` completes, then lets the requests in hand finish, and answers whoever the system had let in by then once.
/// Connections that do not end in time are cut.
pub async fn serve(
    listener: TcpListener,
    router: Router,
    trusted: TrustedProxies,
    callers: &Callers,
    stop: impl Future<Output = ()>,
) {
    let mut http = hyper::server::conn::http1::Builder::new();
    http.timer(TokioTimer::new()).header_read_timeout(HEADERS_WITHIN);
    let open = GracefulShutdown::new();
    let gate = Gate::new(callers.connections, callers.connections_per_address);
    let host = Host { router, trusted: Arc::new(trusted), gate, least_rate: callers.least_rate };
    let (cut, _) = watch::channel(false);
    let mut stop = std::pin::pin!(stop);
    loop {
        let place = tokio::select! {
            place = host.gate.place() => place,
            () = &mut stop => break,
        };
        let (stream, peer) = tokio::select! {
            accepted = listener.accept() => match accepted {
                Ok(accepted) => accepted,
                Err(error) => {
                    // Out of file descriptors, say: others must close first.
                    tracing::warn!(%error, "a connection could not be accepted");
                    tokio::time::sleep(Duration::from_millis(100)).await;
                    continue;
                }
            },
            () = &mut stop => break,
        };
        let Some(Admitted { service, io, held }) = host.admit(stream, peer) else { continue };
        let connection = open.watch(http.serve_connection(io, service));
        let mut cut = cut.subscribe();
        tokio::spawn(async move {
            let _held = (place, held);
            tokio::select! {
                ended = connection => note(ended),
                _ = cut.wait_for(|cut| *cut) => {}
            }
        });
    }
    let mut last = JoinSet::new();
    http.keep_alive(false);
    let until = Instant::now() + LAST_CALL;
    while let Ok(Ok((stream, peer))) = tokio::time::timeout_at(until, listener.accept()).await {
        let Some(Admitted { service, io, held }) = host.admit(stream, peer) else { continue };
        let connection = http.serve_connection(io, service);
        last.spawn(async move {
            let _held = held;
            note(connection.await);
        });
    }
    drop(listener);
    let done = async {
        open.shutdown().await;
        while last.join_next().await.is_some() {}
    };
    if tokio::time::timeout(DRAIN_WITHIN, done).await.is_err() {
        tracing::warn!("some requests were cut off when the time to finish them ran out");
    }
    cut.send_replace(true);
}

fn note(ended: hyper::Result<()>) {
    if let Err(error) = ended {
        tracing::debug!(%error, "a connection ended early");
    }
}

fn prepare(stream: &TcpStream) {
    if let Err(error) = stream.set_nodelay(true) {
        tracing::debug!(%error, "no delay could not be set: small packets may come late");
    }
    if let Err(error) = SockRef::from(stream).set_tcp_notsent_lowat(UNSENT) {
        tracing::debug!(%error, "a slow reader may be noticed late");
    }
}

/// What asks the process to stop: SIGTERM and ctrl-c. From its making on they no longer end it at once.
pub struct Signals {
    terminate: Signal,
    interrupt: Signal,
}

impl Signals {
    /// Hears them from now on.
    pub fn hear() -> io::Result<Self> {
        Ok(Self { terminate: signal(SignalKind::terminate())?, interrupt: signal(SignalKind::interrupt())? })
    }

    /// Completes when one came.
    pub async fn heard(&mut self) {
        tokio::select! {
            _ = self.terminate.recv() => {}
            _ = self.interrupt.recv() => {}
        }
    }
}
