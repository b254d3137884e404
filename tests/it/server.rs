//! The built binary as a running server, and a client to talk to it.

use crate::place::Place;
use serde_json::Value;
use std::io::{BufRead, BufReader, Read};
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdout, Command, Output, Stdio};
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};
use ureq::Agent;
use ureq::http::{HeaderMap, Request};

/// The binary under test: `MATCHMARK_BIN`, else the one cargo built beside this test.
pub fn binary() -> PathBuf {
    if let Some(path) = std::env::var_os("MATCHMARK_BIN") {
        return path.into();
    }
    let this = std::env::current_exe().unwrap();
    let beside = this.parent().and_then(Path::parent).unwrap();
    let path = beside.join("matchmark");
    assert!(path.exists(), "build the binary first: cargo build -p matchmark");
    path
}

/// Runs a command on a place and waits for its end.
pub fn run_on(data: &Place, arguments: &[&str]) -> Output {
    Command::new(binary()).args(arguments).args(data.options()).envs(data.environment()).output().unwrap()
}

/// A server of its own on a free port, killed when dropped.
pub struct Server {
    child: Child,
    /// Kept open so that the server can go on printing.
    _stdout: BufReader<ChildStdout>,
    agent: Agent,
    base: String,
    /// What it printed before it listened.
    pub printed: String,
    pub data: Arc<Place>,
}

/// What a request was answered with.
#[derive(Debug)]
pub struct Answer {
    pub status: u16,
    pub headers: HeaderMap,
    pub body: Vec<u8>,
}

impl Answer {
    pub fn json(&self) -> Value {
        serde_json::from_slice(&self.body)
            .unwrap_or_else(|error| panic!("{error}: {}", String::from_utf8_lossy(&self.body)))
    }

    pub fn header(&self, name: &str) -> &str {
        self.headers.get(name).unwrap_or_else(|| panic!("no header {name} in {self:?}")).to_str().unwrap()
    }

    /// The answer itself when it has this status.
    #[track_caller]
    pub fn expect(self, status: u16) -> Self {
        assert_eq!(self.status, status, "{}", String::from_utf8_lossy(&self.body));
        self
    }

    /// Asserts a problem of this kind and returns its body.
    #[track_caller]
    pub fn problem(self, status: u16, kind: &str) -> Value {
        assert_eq!(self.header("content-type"), "application/problem+json");
        let answer = self.expect(status);
        let body = answer.json();
        assert_eq!(body["type"], format!("/problems/{kind}"), "{body}");
        assert_eq!(body["status"], status);
        assert_eq!(body["request_id"], answer.header("x-request-id"));
        for member in ["title", "detail"] {
            assert!(body[member].as_str().is_some_and(|text| !text.is_empty()));
        }
        body
    }
}

impl Server {
    /// A fresh server in a place of its own.
    pub fn start() -> Self {
        Self::start_in(Arc::new(Place::new()))
    }

    /// A server in a place that may have been used before.
    pub fn start_in(data: Arc<Place>) -> Self {
        Self::start_in_with(data, &[])
    }

    /// A fresh server with options of its own.
    pub fn start_with(options: &[&str]) -> Self {
        Self::start_in_with(Arc::new(Place::new()), options)
    }

    /// The same in a place that may have been used before.
    pub fn start_in_with(data: Arc<Place>, options: &[&str]) -> Self {
        let serve = ["serve", "--supplier", "Test Frames", "--metrics-listen", "127.0.0.1:0"];
        Self::spawn(Command::new(binary()), &[&serve, options].concat(), data)
    }

    /// The same under a program that starts it, such as a tracer.
    pub fn start_under(wrapper: &[String], data: Arc<Place>) -> Self {
        let mut command = Command::new(&wrapper[0]);
        command.args(&wrapper[1..]).arg(binary());
        Self::spawn(command, &["serve", "--supplier", "Test Frames", "--metrics-listen", "127.0.0.1:0"], data)
    }

    /// The demo in a fresh place.
    pub fn demo() -> Self {
        Self::spawn(Command::new(binary()), &["demo"], Arc::new(Place::new()))
    }

    fn spawn(mut command: Command, arguments: &[&str], data: Arc<Place>) -> Self {
        let listen: &[&str] = if arguments.contains(&"--listen") { &[] } else { &["--listen", "127.0.0.1:0"] };
        let mut child = command
            .args(arguments)
            .args(data.options())
            .args(listen)
            .env("MATCHMARK_LOG", "error")
            .envs(data.environment())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let mut stdout = BufReader::new(child.stdout.take().unwrap());
        let mut printed = String::new();
        let base = loop {
            let mut line = String::new();
            if stdout.read_line(&mut line).unwrap() == 0 {
                panic!("the server ended with {:?}", child.wait());
            }
            if let Some(base) = line.strip_prefix("Listening on ") {
                break base.trim().to_owned();
            }
            printed.push_str(&line);
        };
        let config = Agent::config_builder().http_status_as_error(false).max_redirects(0).build();
        Self { child, _stdout: stdout, agent: config.into(), base, printed, data }
    }

    /// The publisher's token that a fresh server prints.
    pub fn publisher(&self) -> String {
        let mark = "Publisher token, shown this once: ";
        let line = self.printed.lines().find_map(|line| line.strip_prefix(mark));
        line.expect("a fresh server prints a token").to_owned()
    }

    /// Host and port.
    pub fn address(&self) -> &str {
        self.base.trim_start_matches("http://").trim_end_matches('/')
    }

    /// Where its metrics are.
    pub fn metrics_address(&self) -> &str {
        let line = self.printed.lines().find_map(|line| line.strip_prefix("Metrics at http://"));
        line.expect("it prints where its metrics are").trim_end_matches("/metrics")
    }

    /// Asks it to stop.
    pub fn terminate(&self) {
        let id = self.child.id().to_string();
        assert!(Command::new("kill").args(["-TERM", &id]).status().unwrap().success());
    }

    /// Its process.
    pub fn id(&self) -> u32 {
        self.child.id()
    }

    /// Ends it as a power cut or the kernel would, while others still talk to it.
    pub fn kill_now(&self) {
        let id = self.child.id().to_string();
        assert!(Command::new("kill").args(["-KILL", &id]).status().unwrap().success());
    }

    /// Waits for its end and returns its exit code.
    pub fn wait_for_end(&mut self) -> Option<i32> {
        self.child.wait().unwrap().code()
    }

    /// Waits for its end and says whether it was a good one.
    pub fn ended_well(&mut self) -> bool {
        self.child.wait().unwrap().success()
    }

    /// Asks it to stop, asserts that it ends well and returns its place.
    pub fn stop(mut self) -> Arc<Place> {
        self.terminate();
        assert!(self.ended_well());
        Arc::clone(&self.data)
    }

    /// Ends it as a power cut or the kernel would, and returns its place.
    pub fn kill(mut self) -> Arc<Place> {
        self.child.kill().unwrap();
        self.child.wait().unwrap();
        Arc::clone(&self.data)
    }

    /// Sends a request.
    pub fn send(&self, method: &str, path: &str, token: &str, headers: &[(&str, &str)], body: Option<&str>) -> Answer {
        let answer = self.try_send(method, path, token, headers, body);
        answer.unwrap_or_else(|error| panic!("{method} {path}: {error}"))
    }

    /// Sends a request that may get no answer. A POST has an Idempotency-Key of its own where the headers name none, unless one of
    /// them is `no-idempotency-key`.
    pub fn try_send(
        &self,
        method: &str,
        path: &str,
        token: &str,
        headers: &[(&str, &str)],
        body: Option<&str>,
    ) -> Result<Answer, ureq::Error> {
        let mut request = Request::builder().method(method).uri(format!("{}{path}", self.base));
        if !token.is_empty() {
            request = request.header("authorization", format!("Bearer {token}"));
        }
        let typed = headers.iter().any(|(name, _)| *name == "content-type");
        if body.is_some() && !typed {
            request = request.header("content-type", "application/json");
        }
        let is_keyed = headers.iter().any(|(name, _)| name.ends_with("idempotency-key"));
        if method == "POST" && !is_keyed {
            static KEYS: AtomicU64 = AtomicU64::new(0);
            request = request.header("idempotency-key", format!("call-{}", KEYS.fetch_add(1, Ordering::Relaxed)));
        }
        for (name, value) in headers.iter().filter(|(name, _)| *name != "no-idempotency-key") {
            request = request.header(*name, *value);
        }
        let answer = match body {
            Some(body) => self.agent.run(request.body(body.to_owned()).unwrap()),
            None => self.agent.run(request.body(()).unwrap()),
        };
        let (parts, body) = answer?.into_parts();
        let mut bytes = Vec::new();
        body.into_reader().read_to_end(&mut bytes)?;
        Ok(Answer { status: parts.status.as_u16(), headers: parts.headers, body: bytes })
    }

    pub fn get(&self, path: &str, token: &str) -> Answer {
        self.send("GET", path, token, &[], None)
    }

    pub fn post(&self, path: &str, token: &str, body: &Value) -> Answer {
        self.send("POST", path, token, &[], Some(&body.to_string()))
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        // It may have ended already.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}
