//! A bucket on a real S3 endpoint of this machine, started for the tests.

use crate::place::Keeper;
use std::io::Read;
use std::process::Command;
use std::sync::LazyLock;
use std::sync::atomic::{AtomicU32, Ordering};
use ureq::Agent;
use ureq::http::Request;

/// Whether the tests keep blobs in buckets.
pub fn on_s3() -> bool {
    match std::env::var("MATCHMARK_TEST_BLOBS").as_deref() {
        Ok("s3") => true,
        Ok("folder") | Err(_) => false,
        Ok(other) => panic!("MATCHMARK_TEST_BLOBS is folder or s3, not {other}"),
    }
}

static ENDPOINT: LazyLock<(Keeper, String)> = LazyLock::new(|| {
    let python = std::env::var("MATCHMARK_PYTHON").expect("set MATCHMARK_PYTHON, as tests/run does");
    Keeper::start(Command::new(python).arg(concat!(env!("CARGO_MANIFEST_DIR"), "/it/s3_endpoint.py")))
});

/// A bucket of its own, by name.
pub struct Bucket(String);

impl Bucket {
    pub fn create() -> Self {
        static COUNT: AtomicU32 = AtomicU32::new(0);
        let bucket = Self(format!("test-{}", COUNT.fetch_add(1, Ordering::Relaxed)));
        bucket.call("PUT", "", Vec::new());
        bucket
    }

    /// The settings that make a server use it.
    pub fn environment(&self) -> Vec<(&'static str, String)> {
        vec![
            ("MATCHMARK_S3_BUCKET", self.0.clone()),
            ("MATCHMARK_S3_ENDPOINT", ENDPOINT.1.clone()),
            ("MATCHMARK_S3_KEY_ID", "for-tests".to_owned()),
            ("MATCHMARK_S3_SECRET", "not-a-secret".to_owned()),
        ]
    }

    /// Changes an object's bytes.
    pub fn change(&self, name: &str, how: impl FnOnce(&mut Vec<u8>)) {
        let mut bytes = self.call("GET", name, Vec::new());
        how(&mut bytes);
        self.call("PUT", name, bytes);
    }

    fn call(&self, method: &str, name: &str, body: Vec<u8>) -> Vec<u8> {
        let uri = format!("{}/{}/{name}", ENDPOINT.1, self.0);
        let request = Request::builder().method(method).uri(uri.trim_end_matches('/'));
        let agent: Agent = Agent::new_with_defaults();
        let answer = if method == "GET" {
            agent.run(request.body(()).unwrap()).unwrap()
        } else {
            agent.run(request.body(body).unwrap()).unwrap()
        };
        let mut bytes = Vec::new();
        answer.into_body().into_reader().read_to_end(&mut bytes).unwrap();
        bytes
    }
}
