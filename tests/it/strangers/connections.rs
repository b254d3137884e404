//! One address does not take all connections, and who is too slow is let go of.

use super::{AT_LAST, ask, connect};
use crate::server::Server;
use std::io::{Read, Write};
use std::net::TcpStream;
use std::time::{Duration, Instant};

/// Connections from an address that are answered, kept open, until one is not.
fn taken(server: &Server, from: &str, most: usize) -> Vec<TcpStream> {
    let mut open = Vec::new();
    while open.len() < most {
        let stream = connect(server.address(), from);
        match ask(&stream, "/healthz", "") {
            Some(200) => open.push(stream),
            refused => {
                assert!(matches!(refused, None | Some(429)), "{refused:?}");
                break;
            }
        }
    }
    open
}

#[test]
fn one_address_does_not_take_all_connections() {
    let server = Server::start_with(&["--connections-per-address", "3", "--connections", "8"]);
    let mut open = taken(&server, "127.0.0.1", 20);
    assert_eq!(open.len(), 3);
    assert_eq!(taken(&server, "127.0.0.2", 20).len(), 3, "others have their own");
    // One that is closed can be opened again; when, is for the system to say.
    open.pop();
    let until = Instant::now() + AT_LAST;
    while ask(&connect(server.address(), "127.0.0.1"), "/healthz", "") != Some(200) {
        assert!(Instant::now() < until, "its place stays taken");
        std::thread::sleep(Duration::from_millis(50));
    }
}

#[test]
fn a_trusted_proxy_stands_for_many_callers() {
    let options = ["--connections-per-address", "3", "--connections", "20", "--trusted-proxies", "127.0.0.1"];
    let server = Server::start_with(&options);
    assert_eq!(taken(&server, "127.0.0.1", 9).len(), 9);
    assert_eq!(taken(&server, "127.0.0.2", 9).len(), 3);
}

#[test]
fn probes_of_strangers_count_like_everything_else() {
    let server = Server::start_with(&["--trusted-proxies", "127.0.0.1", "--requests-per-address", "3"]);
    let probe = |path: &str, from: &str| server.send("GET", path, "", &[("x-forwarded-for", from)], None);
    for path in ["/healthz", "/readyz", "/healthz"] {
        probe(path, "2001:db8:1:2::1").expect(200);
    }
    probe("/healthz", "2001:db8:1:2::ffff").problem(429, "too-many-requests");
    probe("/readyz", "2001:db8:1:2::1").problem(429, "too-many-requests");
    probe("/healthz", "2001:db8:1:3::1").expect(200);
    // Whoever looks after the service asks from its own machine, as often as it likes.
    for _ in 0..9 {
        server.get("/healthz", "").expect(200);
        server.get("/readyz", "").expect(200);
    }
}

/// Reads at a slow pace until the end or a reset, and returns how much came.
fn read_slowly(mut stream: &TcpStream, part: usize, every: Duration, most: Duration) -> usize {
    let until = Instant::now() + most;
    let (mut taken, mut buffer) = (0, vec![0; part]);
    while Instant::now() < until {
        match stream.read(&mut buffer) {
            Ok(count @ 1..) => taken += count,
            _ => break,
        }
        std::thread::sleep(every);
    }
    taken
}

#[test]
fn who_takes_an_answer_too_slowly_is_let_go_of() {
    const ASKED: usize = 40;
    let server = Server::start_with(&["--least-rate", "400000"]);
    let script = server.get("/docs/swagger-ui-bundle.js", "").expect(200).body.len();
    let mut stream = TcpStream::connect(server.address()).unwrap();
    stream.write_all("GET /docs/swagger-ui-bundle.js HTTP/1.1\r\nHost: h\r\n\r\n".repeat(ASKED).as_bytes()).unwrap();
    // A steady 160 kB a second is never a standstill.
    let slowly = read_slowly(&stream, 16_000, Duration::from_millis(100), Duration::from_secs(120));
    // What was let go of has no more to give than the systems between had in hand.
    let rest = read_slowly(&stream, 1 << 20, Duration::ZERO, AT_LAST);
    assert!(slowly + rest < ASKED * script, "all of {} bytes came", ASKED * script);
    server.get("/healthz", "").expect(200);
}

#[test]
fn who_sends_a_body_too_slowly_is_let_go_of() {
    let server = Server::start_with(&["--least-rate", "1000000"]);
    let token = server.publisher();
    let mut stream = TcpStream::connect(server.address()).unwrap();
    stream.set_read_timeout(Some(AT_LAST)).unwrap();
    write!(
        stream,
        "POST /v1/designs HTTP/1.1\r\nHost: h\r\nAuthorization: Bearer {token}\r\nContent-Type: application/json\r\nContent-Length: 600000\r\n\r\n"
    )
    .unwrap();
    let mut reader = stream.try_clone().unwrap();
    let answer = std::thread::scope(|scope| {
        // Read as it comes: what is sent and never read may reset the connection behind the answer.
        let answer = scope.spawn(move || {
            let (mut answer, mut buffer) = (Vec::new(), [0; 4096]);
            while let Ok(count @ 1..) = reader.read(&mut buffer) {
                answer.extend_from_slice(&buffer[..count]);
            }
            String::from_utf8(answer).unwrap()
        });
        // Ten thousand bytes a second, and never a standstill.
        for _ in 0..600 {
            if stream.write_all(&[b' '; 1000]).is_err() {
                break;
            }
            std::thread::sleep(Duration::from_millis(100));
        }
        answer.join().unwrap()
    });
    assert!(answer.starts_with("HTTP/1.1 408") && answer.contains("/problems/too-slow"), "{answer}");
    server.get("/v1/designs", &token).expect(200);
}
