//! What a stranger, or one greedy caller, cannot take from the others: computing, connections, sign-ins.

mod computing;
mod connections;
mod guesses;

use std::io::{BufRead, BufReader, Read, Write};
use std::net::{IpAddr, SocketAddr, TcpStream};
use std::time::Duration;

/// So long is waited for what must come, so that a test fails rather than hangs.
const AT_LAST: Duration = Duration::from_secs(180);

/// A connection from an address of this machine.
fn connect(server: &str, from: &str) -> TcpStream {
    let socket = socket2::Socket::new(socket2::Domain::IPV4, socket2::Type::STREAM, None).unwrap();
    socket.bind(&SocketAddr::new(from.parse::<IpAddr>().unwrap(), 0).into()).unwrap();
    socket.connect(&server.parse::<SocketAddr>().unwrap().into()).unwrap();
    let stream = TcpStream::from(socket);
    stream.set_read_timeout(Some(AT_LAST)).unwrap();
    stream
}

/// Asks over an open connection and returns the status; `None` when the server closed it without an answer.
fn ask(stream: &TcpStream, path: &str, headers: &str) -> Option<u16> {
    let mut stream = stream;
    // A connection that the server closed may fail here or below.
    let _ = write!(stream, "GET {path} HTTP/1.1\r\nHost: h\r\n{headers}\r\n");
    let mut reader = BufReader::new(stream);
    let mut line = String::new();
    reader.read_line(&mut line).ok()?;
    let status = line.split(' ').nth(1)?.parse().ok()?;
    let mut length = 0;
    while reader.read_line(&mut line).ok()? > 2 {
        if let Some(value) = line.to_lowercase().lines().last().and_then(|line| line.strip_prefix("content-length: ")) {
            length = value.trim().parse().unwrap();
        }
    }
    reader.read_exact(&mut vec![0; length]).ok()?;
    Some(status)
}
