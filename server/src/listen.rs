//! The accept loop: limits on how long headers may take, how long a reader may take nothing and how many connections are open at a
//! time, no delay of small packets, and a graceful end.

use crate::config::TrustedProxies;
use axum::Router;
use hyper::Request;
use hyper::body::Incoming;
use hyper::service::Service;
use hyper_util::rt::{TokioIo, TokioTimer};
use hyper_util::server::graceful::GracefulShutdown;
use hyper_util::service::TowerToHyperService;
use std::future::Future;
use std::io;
use std::net::SocketAddr;
use std::sync::Arc;
use std::time::Duration;
use tokio::net::TcpListener;
use tokio::signal::unix::{Signal, SignalKind, signal};
use tokio::sync::Semaphore;
use tokio_io_timeout::TimeoutStream;

const HEADERS_WITHIN: Duration = Duration::from_secs(15);
/// How long a reader may take nothing of an answer.
const TAKEN_WITHIN: Duration = Duration::from_secs(20);
/// Connections open at a time, fewer than the files that a process may commonly have open; others wait to be accepted.
const MOST_OPEN: usize = 800;
const DRAIN_WITHIN: Duration = Duration::from_secs(30);

/// Who sent a request; every request carries it. Behind a trusted proxy it is who the proxy says, with the proxy's port.
#[derive(Debug, Clone, Copy)]
pub struct Peer(pub SocketAddr);

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
        request.extensions_mut().insert(Peer(SocketAddr::new(client, self.peer.port())));
        self.inner.call(request)
    }
}

/// Serves until `stop` completes, then lets the requests in hand finish.
pub async fn serve(listener: TcpListener, router: Router, trusted: TrustedProxies, stop: impl Future<Output = ()>) {
    let trusted = Arc::new(trusted);
    let mut http = hyper::server::conn::http1::Builder::new();
    http.timer(TokioTimer::new()).header_read_timeout(HEADERS_WITHIN);
    let open = GracefulShutdown::new();
    let free = Arc::new(Semaphore::new(MOST_OPEN));
    let mut stop = std::pin::pin!(stop);
    loop {
        let place = tokio::select! {
            place = Arc::clone(&free).acquire_owned() => place,
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
        if let Err(error) = stream.set_nodelay(true) {
            tracing::debug!(%error, "small packets may be delayed");
        }
        let service = FromPeer { peer, trusted: Arc::clone(&trusted), inner: TowerToHyperService::new(router.clone()) };
        let mut stream = TimeoutStream::new(stream);
        stream.set_write_timeout(Some(TAKEN_WITHIN));
        let connection = open.watch(http.serve_connection(TokioIo::new(Box::pin(stream)), service));
        tokio::spawn(async move {
            let _place = place;
            if let Err(error) = connection.await {
                tracing::debug!(%error, "a connection ended early");
            }
        });
    }
    drop(listener);
    if tokio::time::timeout(DRAIN_WITHIN, open.shutdown()).await.is_err() {
        tracing::warn!("some requests were cut off after waiting for them");
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
