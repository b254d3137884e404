//! A cable to the database or to the bucket that a test can pull and plug in again.

use std::io::{self, Read, Write};
use std::net::{Shutdown, SocketAddr, TcpListener, TcpStream};
use std::os::unix::net::UnixStream;
use std::path::PathBuf;
use std::sync::{Arc, Mutex};
use std::thread;
use std::time::Duration;

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
    /// Nobody listens: who comes is refused.
    deaf: bool,
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
        listener.set_nonblocking(true).unwrap();
        thread::spawn(move || {
            let mut listener = Some(listener);
            loop {
                thread::sleep(Duration::from_millis(2));
                let mut state = shared.lock().unwrap();
                if state.deaf {
                    listener = None;
                    continue;
                }
                let hears = listener.get_or_insert_with(|| {
                    let again = TcpListener::bind(address).unwrap();
                    again.set_nonblocking(true).unwrap();
                    again
                });
                let Ok((near, _)) = hears.accept() else { continue };
                if state.pulled {
                    continue;
                }
                near.set_nonblocking(false).unwrap();
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

    /// The same, and whoever comes is refused, as by a machine on which nobody listens.
    pub fn refuse(&self) {
        self.pull();
        self.state.lock().unwrap().deaf = true;
        while TcpStream::connect(self.address).is_ok() {
            thread::sleep(Duration::from_millis(2));
        }
    }

    pub fn plug_in(&self) {
        let mut state = self.state.lock().unwrap();
        (state.pulled, state.deaf) = (false, false);
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
