//! A bucket on a real S3 endpoint of this machine, started for the tests.

use crate::place::Keeper;
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

/// The endpoint wants a signature and checks none.
const SIGNED: &str =
    "AWS4-HMAC-SHA256 Credential=for-tests/20261125/us-east-1/s3/aws4_request, SignedHeaders=host, Signature=none";

/// A bucket of its own, by name.
pub struct Bucket(String);

impl Bucket {
    pub fn create() -> Self {
        static COUNT: AtomicU32 = AtomicU32::new(0);
        let bucket = Self(format!("test-{}", COUNT.fetch_add(1, Ordering::Relaxed)));
        bucket.put("", Vec::new());
        bucket
    }

    /// Host and port of where it is.
    pub fn address() -> String {
        ENDPOINT.1.trim_start_matches("http://").trim_end_matches('/').to_owned()
    }

    /// The settings that make a server use it, at this host and port.
    pub fn environment(&self, address: &str) -> Vec<(&'static str, String)> {
        vec![
            ("MATCHMARK_S3_BUCKET", self.0.clone()),
            ("MATCHMARK_S3_ENDPOINT", format!("http://{address}")),
            ("MATCHMARK_S3_KEY_ID", "for-tests".to_owned()),
            ("MATCHMARK_S3_SECRET", "not-a-secret".to_owned()),
        ]
    }

    /// Whether an object is there.
    pub fn has(&self, name: &str) -> bool {
        let uri = format!("{}/{}/{name}", ENDPOINT.1, self.0);
        let request = Request::builder().method("HEAD").uri(uri).header("authorization", SIGNED).body(()).unwrap();
        Agent::new_with_defaults().run(request).is_ok()
    }

    /// Puts an object.
    pub fn put(&self, name: &str, bytes: Vec<u8>) {
        let uri = format!("{}/{}/{name}", ENDPOINT.1, self.0);
        let request = Request::builder().method("PUT").uri(uri.trim_end_matches('/')).header("authorization", SIGNED);
        let request = request.body(bytes).unwrap();
        Agent::new_with_defaults().run(request).unwrap();
    }
}
