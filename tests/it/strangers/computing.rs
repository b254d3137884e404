//! One caller cannot stop all computing, and what nobody waits for any more ends.

use super::AT_LAST;
use crate::fixtures::{TwoKits, two_kits, two_kits_on};
use crate::server::Server;
use serde_json::{Value, json};
use std::io::{Read, Write};
use std::net::TcpStream;
use std::sync::mpsc;
use std::time::Duration;

/// Ends of a thick tube fitted to 64 bent tubes each, which wind over it: far more than a minute's work on any machine.
fn endless(cases: usize) -> String {
    let winding = |number: u32| {
        let z = 200.0 + 7.3 * f64::from(number);
        let corner = |at: u32| {
            let (row, half) = (at / 2, at % 2);
            let x = if (row + half) % 2 == 0 { -110.0 } else { 110.0 };
            json!([x, 7.0 * f64::from(row) - 108.5, z])
        };
        json!({"type": "bent", "path": (0..64).map(corner).collect::<Vec<Value>>(), "clr": 3, "od": 5})
    };
    let targets: Vec<Value> = (0..64).map(winding).collect();
    let member = json!({
        "section": {"type": "round", "od": 200, "wall": 5},
        "datum": [0, 0, 0], "dir": [0.05, 0.02, 1], "ref": [1, 0, 0], "s_start": -100, "s_limit": 2000
    });
    let case = json!({"member": member, "targets": targets});
    json!({"cases": vec![case; cases]}).to_string()
}

/// Sends a joint and leaves the answer to be read.
fn send_joint(kits: &TwoKits, token: &str, joint: &str) -> TcpStream {
    let mut stream = TcpStream::connect(kits.server.address()).unwrap();
    stream.set_read_timeout(Some(AT_LAST)).unwrap();
    let length = joint.len();
    write!(
        stream,
        "POST /v1/joint HTTP/1.1\r\nHost: h\r\nAuthorization: Bearer {token}\r\nContent-Type: application/json\r\nContent-Length: {length}\r\nConnection: close\r\n\r\n{joint}"
    )
    .unwrap();
    stream
}

/// What others ask for goes on: a change that is computed, drawings, and a pack that is issued.
fn others_go_on(kits: &TwoKits) {
    let server = &kits.server;
    let changes = server.get("/v1/designs/frame/changes?from=A&to=B", &kits.publisher).expect(200).json();
    assert_eq!(changes["parts"].as_array().unwrap().len(), 2);
    server.get("/v1/designs/frame/revisions/A/drawing.svg?view=1,1,1", &kits.second).problem(404, "not-found");
    server.get("/v1/designs/frame/revisions/B/drawing.svg?view=1,1,1", &kits.second).expect(200);
    server.post("/v1/kits/K-1/packs", &kits.publisher, &json!({"paper": "a3"})).expect(201);
}

/// Asks a server to end and waits for it.
fn ends_well(mut server: Server) {
    let (ended, end) = mpsc::channel();
    server.terminate();
    let id = server.id();
    std::thread::spawn(move || ended.send(server.ended_well()));
    let Ok(well) = end.recv_timeout(AT_LAST) else {
        std::process::Command::new("kill").args(["-KILL", &id.to_string()]).status().unwrap();
        panic!("it does not end");
    };
    assert!(well);
}

#[test]
fn work_that_is_abandoned_ends_and_holds_up_nobody() {
    let kits = two_kits();
    let joint = endless(20);
    for _ in 0..2 {
        let sent: Vec<TcpStream> = (0..4).map(|_| send_joint(&kits, &kits.support, &joint)).collect();
        others_go_on(&kits);
        drop(sent);
    }
    // Whoever abandoned all that has a place again at once.
    let small = json!({
        "member": {
            "section": {"type": "round", "od": 60, "wall": 3},
            "datum": [0, 0, 0], "dir": [0, 0, 1], "ref": [1, 0, 0], "s_start": -100, "s_limit": 500
        },
        "targets": [{"type": "round", "point": [0, 0, 200], "dir": [0, 1, 0], "od": 100}]
    });
    kits.server.post("/v1/joint", &kits.support, &small).expect(200);
    others_go_on(&kits);
    ends_well(kits.server);
}

#[test]
fn work_that_is_waited_for_leaves_room_for_others() {
    let kits = two_kits();
    let joint = endless(20);
    let sent: Vec<TcpStream> = (0..6).map(|_| send_joint(&kits, &kits.support, &joint)).collect();
    for _ in 0..3 {
        others_go_on(&kits);
    }
    // A builder's token is one caller with any other of the same kit, and with every sign-in.
    let other = crate::fixtures::builder_token(&kits.server, &kits.publisher, "K-2");
    let more: Vec<TcpStream> =
        [&kits.second, &other, &other].iter().map(|token| send_joint(&kits, token, &joint)).collect();
    kits.server.post("/v1/kits/K-1/packs", &kits.publisher, &json!({"paper": "a4"})).expect(201);
    drop((sent, more));
    ends_well(kits.server);
}

#[test]
fn every_computation_has_a_time_to_end_in() {
    let kits = two_kits_on(Server::start_with(&["--compute-seconds", "8"]));
    let mut waiting = send_joint(&kits, &kits.first, &endless(20));
    let mut answer = String::new();
    waiting.read_to_string(&mut answer).unwrap();
    assert!(answer.starts_with("HTTP/1.1 503") && answer.contains("/problems/out-of-time"), "{answer}");
    assert!(answer.to_lowercase().contains("retry-after: "), "{answer}");
    ends_well(kits.server);
}

#[test]
fn a_process_ends_though_somebody_waits_for_a_long_computation() {
    let kits = two_kits();
    let joint = endless(20);
    let waiting: Vec<TcpStream> = (0..2).map(|_| send_joint(&kits, &kits.first, &joint)).collect();
    // Until they are at work.
    std::thread::sleep(Duration::from_secs(1));
    ends_well(kits.server);
    drop(waiting);
}
