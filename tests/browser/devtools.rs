//! A browser with a screen of memory, told what to do through its DevTools pipe: JSON messages, each ended by a zero byte.

use serde_json::{Value, json};
use std::io::{BufRead, BufReader, Write};
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};
use std::time::{Duration, Instant};
use tempfile::TempDir;

/// A running Chromium with one page open.
pub struct Chromium {
    child: Child,
    to: ChildStdin,
    from: BufReader<ChildStdout>,
    session: String,
    last: u64,
    /// What the page complained of, such as a violated Content-Security-Policy.
    pub complaints: Vec<String>,
    _profile: TempDir,
}

impl Chromium {
    /// Starts it.
    pub fn start() -> Self {
        let profile = tempfile::tempdir().unwrap();
        // The pipe is file descriptors 3 and 4; a shell makes them of standard input and output.
        let line = format!(
            "exec chromium --headless --no-sandbox --disable-gpu --disable-dev-shm-usage --disable-extensions --hide-scrollbars \
             --no-first-run --user-data-dir='{}' --remote-debugging-pipe 3<&0 4>&1 >/dev/null 2>&1",
            profile.path().display()
        );
        let mut child =
            Command::new("sh").args(["-c", &line]).stdin(Stdio::piped()).stdout(Stdio::piped()).spawn().unwrap();
        let (to, from) = (child.stdin.take().unwrap(), BufReader::new(child.stdout.take().unwrap()));
        let mut browser =
            Self { child, to, from, session: String::new(), last: 0, complaints: Vec::new(), _profile: profile };
        let target = browser.tell("Target.createTarget", json!({"url": "about:blank"}))["targetId"].clone();
        let attached = browser.tell("Target.attachToTarget", json!({"targetId": target, "flatten": true}));
        browser.session = attached["sessionId"].as_str().unwrap().to_owned();
        for domain in ["Page.enable", "Runtime.enable", "Log.enable"] {
            browser.tell(domain, json!({}));
        }
        browser
    }

    /// A screen this wide, as on a telephone or a desk.
    pub fn screen(&mut self, width: u32, height: u32) {
        let screen = json!({"width": width, "height": height, "deviceScaleFactor": 1, "mobile": width < 600});
        self.tell("Emulation.setDeviceMetricsOverride", screen);
    }

    /// Opens an address and waits until it is there.
    pub fn open(&mut self, address: &str) {
        let went = self.tell("Page.navigate", json!({"url": address}));
        assert!(went["errorText"].is_null(), "{address}: {went}");
        self.settled(Some(address));
    }

    /// What a script in the page comes to.
    pub fn run(&mut self, script: &str) -> Value {
        let asked = json!({"expression": script, "returnByValue": true, "awaitPromise": true});
        let answer = self.tell("Runtime.evaluate", asked);
        assert!(answer["exceptionDetails"].is_null(), "{script}: {answer}");
        answer["result"]["value"].clone()
    }

    /// Does something that leads to another page, and waits for that.
    pub fn go_by(&mut self, script: &str) {
        self.leaving();
        self.run(script);
        self.arrived();
    }

    /// Says that the next page is another.
    pub fn leaving(&mut self) {
        self.run("window.before = true");
    }

    /// Waits for the next page.
    pub fn arrived(&mut self) {
        self.settled(None);
    }

    /// Presses a key as a person does.
    pub fn press(&mut self, key: &str) {
        for kind in ["keyDown", "keyUp"] {
            let code = if key == "Tab" { 9 } else { 13 };
            let text = if key == "Enter" && kind == "keyDown" { "\r" } else { "" };
            let pressed = json!({"type": kind, "key": key, "code": key, "windowsVirtualKeyCode": code, "text": text});
            self.tell("Input.dispatchKeyEvent", pressed);
        }
    }

    /// Waits until a page other than the one before is complete.
    fn settled(&mut self, address: Option<&str>) {
        let begun = Instant::now();
        loop {
            // A page on its way out may answer with an error.
            let asked = json!({"expression": "document.readyState === 'complete' && !window.before && location.href", "returnByValue": true});
            let answer = self.tell("Runtime.evaluate", asked);
            let here = answer["result"]["value"].as_str().unwrap_or_default();
            if here.starts_with("http") {
                return;
            }
            assert!(begun.elapsed() < Duration::from_secs(30), "no page came: {address:?} {answer}");
            std::thread::sleep(Duration::from_millis(20));
        }
    }

    fn tell(&mut self, method: &str, params: Value) -> Value {
        self.last += 1;
        let mut message = json!({"id": self.last, "method": method, "params": params});
        if !self.session.is_empty() {
            message["sessionId"] = json!(self.session);
        }
        self.to.write_all(format!("{message}\0").as_bytes()).unwrap();
        loop {
            let mut bytes = Vec::new();
            self.from.read_until(0, &mut bytes).unwrap();
            assert_eq!(bytes.pop(), Some(0), "the browser ended");
            let came: Value = serde_json::from_slice(&bytes).unwrap();
            let entry = &came["params"]["entry"];
            if came["method"] == "Log.entryAdded" && entry["level"] != "verbose" {
                self.complaints.push(format!("{}: {}", entry["url"], entry["text"]));
            }
            if came["id"] == self.last {
                return came["result"].clone();
            }
        }
    }
}

impl Drop for Chromium {
    fn drop(&mut self) {
        // It may have ended already.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}
