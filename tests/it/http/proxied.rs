//! Two processes behind the sample proxy of `deploy/`, run by the program that it is for.

use crate::fixtures::two_kits;
use crate::place::on_postgres;
use crate::server::Server;
use serde_json::json;
use std::net::{TcpListener, TcpStream};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::thread;
use std::time::Duration;
use ureq::Agent;

/// nginx with the sample file in front of some processes; ended when dropped.
struct Nginx {
    child: Child,
    address: String,
}

impl Nginx {
    /// The sample file with these processes in place of the one that it names, on plain HTTP and a free port.
    fn before(processes: &[String], folder: &Path) -> Self {
        let sample =
            std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/../deploy/proxy/nginx.conf")).unwrap();
        let address = TcpListener::bind("127.0.0.1:0").unwrap().local_addr().unwrap().to_string();
        let (mut site, mut named) = (String::new(), 0);
        for line in sample.lines() {
            let line = match line.trim() {
                one if one.starts_with("server matchmark:8427") => {
                    named += 1;
                    processes.iter().map(|process| one.replace("matchmark:8427", process) + "\n").collect()
                }
                one if one.starts_with("listen 443") => format!("listen {address};"),
                one if one.starts_with("listen 80") => format!("listen unix:{};", folder.join("80").display()),
                one if one.starts_with("ssl_") => String::new(),
                one => one.to_owned(),
            };
            site.push_str(&line);
            site.push('\n');
        }
        assert_eq!(named, 1, "the sample names its process once");
        let folder = folder.display();
        let whole = format!(
            "daemon off; pid {folder}/pid; error_log stderr crit; events {{}}\nhttp {{ access_log off; \
             client_body_temp_path {folder}/body; proxy_temp_path {folder}/proxy; fastcgi_temp_path {folder}/f; \
             uwsgi_temp_path {folder}/u; scgi_temp_path {folder}/s;\n{site} }}"
        );
        let file = format!("{folder}/nginx.conf");
        std::fs::write(&file, whole).unwrap();
        let child = Command::new("nginx").args(["-p", &folder.to_string(), "-c", &file]).stdout(Stdio::null()).spawn();
        let nginx = Self { child: child.expect("tests/run installs nginx"), address };
        while TcpStream::connect(&nginx.address).is_err() {
            thread::sleep(Duration::from_millis(10));
        }
        nginx
    }
}

impl Drop for Nginx {
    fn drop(&mut self) {
        // Its workers end with it only when it is asked to.
        let _ = Command::new("kill").arg(self.child.id().to_string()).status();
        let _ = self.child.wait();
    }
}

#[test]
fn processes_that_restart_one_after_the_other_behind_the_sample_proxy_lose_no_request() {
    if !on_postgres() {
        return;
    }
    let kits = two_kits();
    let place = Arc::clone(&kits.server.data);
    let other = Server::start_in(Arc::clone(&place));
    let mut servers = [kits.server, other];
    let addresses: Vec<String> = servers.iter().map(|server| server.address().to_owned()).collect();
    let folder = tempfile::tempdir().unwrap();
    let nginx = Nginx::before(&addresses, folder.path());

    let (done, sent) = (AtomicBool::new(false), AtomicUsize::new(0));
    let base = format!("http://{}", nginx.address);
    let bearer = format!("Bearer {}", kits.publisher);
    let call = |caller: usize| {
        let config = Agent::config_builder().http_status_as_error(false).build();
        let agent: Agent = config.into();
        let mut failed = Vec::new();
        while !done.load(Ordering::Relaxed) {
            let number = sent.fetch_add(1, Ordering::Relaxed);
            let read = agent.get(format!("{base}/v1/kits/K-1/packs")).header("authorization", &bearer).call();
            let write = || {
                agent
                    .post(format!("{base}/v1/kits/K-1/notes"))
                    .header("authorization", &bearer)
                    .header("idempotency-key", format!("{caller}-{number}"))
                    .header("content-type", "application/json")
                    .send(json!({"text": format!("Call {number}.")}).to_string())
            };
            // What a process was sent just as it closed may be done or not, which no proxy can know: the caller sends it again with its key.
            let first = write();
            let write = if first.as_ref().is_ok_and(|answer| answer.status() == 502) { write() } else { first };
            for (what, answer, wanted) in [("read", read, 200), ("write", write, 201)] {
                match answer {
                    Ok(answer) if answer.status() == wanted => {}
                    other => failed.push(format!("{what} {number}: {other:?}")),
                }
            }
            thread::sleep(Duration::from_millis(50));
        }
        failed
    };
    let failed: Vec<String> = thread::scope(|scope| {
        let callers: Vec<_> = (0..4).map(|caller| scope.spawn(move || call(caller))).collect();
        for _ in 0..3 {
            for (server, address) in servers.iter_mut().zip(&addresses) {
                let before = sent.load(Ordering::Relaxed);
                while sent.load(Ordering::Relaxed) < before + 20 {
                    thread::sleep(Duration::from_millis(10));
                }
                server.terminate();
                assert!(server.ended_well());
                *server = Server::start_in_with(Arc::clone(&place), &["--listen", address]);
            }
        }
        done.store(true, Ordering::Relaxed);
        callers.into_iter().flat_map(|caller| caller.join().unwrap()).collect()
    });
    assert!(failed.is_empty(), "{} of {} pairs: {failed:#?}", failed.len(), sent.load(Ordering::Relaxed));
}
