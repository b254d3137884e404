//! `matchmark healthcheck`

use super::Failure;
use crate::config::{Config, Given, Sources};
use std::io::{BufRead, BufReader, Write};
use std::net::{IpAddr, Ipv4Addr, Ipv6Addr, SocketAddr, TcpStream};
use std::process::ExitCode;
use std::time::Duration;

const PATIENCE: Duration = Duration::from_secs(5);

/// Asks the service that has the same settings whether it is ready.
pub fn run(given: &Given) -> Result<ExitCode, Failure> {
    let config = Config::from_sources(&Sources::gather(given)?)?;
    let address = reachable(config.listen);
    let status = ask(address).map_err(|error| Failure::Other(format!("no answer from {address}: {error}")))?;
    if status.split(' ').nth(1) == Some("200") {
        return Ok(ExitCode::SUCCESS);
    }
    Err(Failure::Other(format!("{address} is not ready: {}; its log says why", status.trim_end())))
}

/// One that listens on every address is reached on this machine's own.
fn reachable(listen: SocketAddr) -> SocketAddr {
    let ip = match listen.ip() {
        IpAddr::V4(ip) if ip.is_unspecified() => IpAddr::V4(Ipv4Addr::LOCALHOST),
        IpAddr::V6(ip) if ip.is_unspecified() => IpAddr::V6(Ipv6Addr::LOCALHOST),
        ip => ip,
    };
    SocketAddr::new(ip, listen.port())
}

/// The first line of the answer.
fn ask(address: SocketAddr) -> std::io::Result<String> {
    let mut stream = TcpStream::connect_timeout(&address, PATIENCE)?;
    stream.set_read_timeout(Some(PATIENCE))?;
    stream.set_write_timeout(Some(PATIENCE))?;
    write!(stream, "GET /readyz HTTP/1.1\r\nHost: {address}\r\nConnection: close\r\n\r\n")?;
    let mut line = String::new();
    BufReader::new(stream).read_line(&mut line)?;
    Ok(line)
}
