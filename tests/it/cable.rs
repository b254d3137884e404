//! A cable to the database or to the bucket that a test can pull and plug in again.

use std::io::{self, Read, Write};
use std::net::{Shutdown, SocketAddr, TcpListener, TcpStream};
use std::os::unix::net::UnixStream;
use std::path::PathBuf;
use std::sync::{Arc, Mutex};
use std::thread;

/// What is at its other end.
pub enum End {
    Address(String),
    Socket(PathBuf),
}

pub struct Cable {
    address: SocketAddr,
    state: Arc<Mutex<State>>,
}

#[derive(Default)]
struct State {
    pulled: bool,
    /// Our side of all that went over it.
    carried: Vec<TcpStream>,
}

impl Cable {
    /// Plugged in until the tests end.
    pub fn to(end: End) -> Self {
        let listener = TcpListener::bind("127.0.0.1:0").unwrap();
        let address = listener.local_addr().unwrap();
        let state = Arc::new(Mutex::new(State::default()));
        let shared = Arc::clone(&state);
        thread::spawn(move || {
            for near in listener.incoming() {
                let near = near.unwrap();
                let mut state = shared.lock().unwrap();
                if state.pulled {
                    continue;
                }
                state.carried.push(near.try_clone().unwrap());
                match &end {
                    End::Address(address) => carry(near, TcpStream::connect(address).unwrap()),
                    End::Socket(path) => carry(near, UnixStream::connect(path).unwrap()),
                }
            }
        });
        Self { address, state }
    }

    /// Where it begins.
    pub fn address(&self) -> SocketAddr {
        self.address
    }

    /// Ends what goes over it, and whatever comes until it is plugged in again.
    pub fn pull(&self) {
        let mut state = self.state.lock().unwrap();
        state.pulled = true;
        state.carried.drain(..).for_each(|near| near.end());
    }

    pub fn plug_in(&self) {
        self.state.lock().unwrap().pulled = false;
    }
}

/// Carries bytes both ways until either side ends.
fn carry<F>(near: TcpStream, far: F)
where
    F: Wire + 'static,
    for<'a> &'a F: Read + Write,
{
    let ends = Arc::new((near, far));
    let there = Arc::clone(&ends);
    thread::spawn(move || {
        let _ = io::copy(&mut &there.0, &mut &there.1);
        there.1.end();
    });
    thread::spawn(move || {
        let _ = io::copy(&mut &ends.1, &mut &ends.0);
        ends.0.end();
    });
}

trait Wire: Send + Sync {
    fn end(&self);
}

impl Wire for TcpStream {
    fn end(&self) {
        // It may have ended already.
        let _ = self.shutdown(Shutdown::Both);
    }
}

impl Wire for UnixStream {
    fn end(&self) {
        let _ = self.shutdown(Shutdown::Both);
    }
}
