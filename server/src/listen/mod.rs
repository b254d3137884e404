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

const HEADERS_WITHIN: Duration = Duration::from_secs(15);

/// Bytes that the system keeps unsent for a connection before it takes no more from us, so that what it takes says what the other
/// side takes.
const UNSENT: u32 = 16 * 1024;

/// How long requests in hand may take to finish once the service is to end.
pub const DRAIN_WITHIN: Duration = Duration::from_secs(30);

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

/// Serves until `stop` completes, then lets the requests in hand finish. Connections that do not end in time are cut.
pub async fn serve(
    listener: TcpListener,
    router: Router,
    trusted: TrustedProxies,
    callers: &Callers,
    stop: impl Future<Output = ()>,
) {
    let trusted = Arc::new(trusted);
    let mut http = hyper::server::conn::http1::Builder::new();
    http.timer(TokioTimer::new()).header_read_timeout(HEADERS_WITHIN);
    let open = GracefulShutdown::new();
    let gate = Gate::new(callers.connections, callers.connections_per_address);
    let (cut, _) = watch::channel(false);
    let mut stop = std::pin::pin!(stop);
    loop {
        let place = tokio::select! {
            place = gate.place() => place,
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
        // A proxy stands for many callers, and limits them itself.
        let share = if trusted.trusts(peer.ip()) { None } else { Some(gate.share(peer.ip())) };
        if let Some(None) = share {
            tracing::debug!(address = %peer.ip(), "an address has all its connections");
            // What does not fit into an empty buffer is not waited for.
            let _ = stream.try_write(ALL_TAKEN);
            continue;
        }
        prepare(&stream);
        let service = FromPeer { peer, trusted: Arc::clone(&trusted), inner: TowerToHyperService::new(router.clone()) };
        let stream = Paced::new(stream, callers.least_rate);
        let connection = open.watch(http.serve_connection(TokioIo::new(stream), service));
        let mut cut = cut.subscribe();
        tokio::spawn(async move {
            let _held = (place, share);
            tokio::select! {
                ended = connection => if let Err(error) = ended {
                    tracing::debug!(%error, "a connection ended early");
                },
                _ = cut.wait_for(|cut| *cut) => {}
            }
        });
    }
    drop(listener);
    if tokio::time::timeout(DRAIN_WITHIN, open.shutdown()).await.is_err() {
        tracing::warn!("some requests were cut off after waiting for them");
    }
    cut.send_replace(true);
}

fn prepare(stream: &TcpStream) {
    if let Err(error) = stream.set_nodelay(true) {
        tracing::debug!(%error, "small packets may be delayed");
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
