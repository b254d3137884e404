//! The description as others read it: two independent validators, and the clients that general-purpose generators make of it for Python
//! and TypeScript, type-checked and used as an integrator would.

use crate::server::Server;
use std::net::TcpListener;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

const SECRET: &str = "a secret of more than sixteen";

const HERE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/contract");

/// A service with the demo, and where its description was saved.
struct Described {
    server: Server,
    publisher: String,
    folder: tempfile::TempDir,
    /// Where the service posts what happens; the client is to listen there.
    webhook_port: u16,
}

impl Described {
    fn new() -> Self {
        let server = Server::demo();
        let line = server.printed.lines().find_map(|line| line.trim().strip_prefix("publisher "));
        let publisher = line.unwrap().trim().to_owned();
        let folder = tempfile::tempdir().unwrap();
        let webhook_port = TcpListener::bind("127.0.0.1:0").unwrap().local_addr().unwrap().port();
        let (address, secret) = (format!("http://127.0.0.1:{webhook_port}/"), folder.path().join("secret"));
        std::fs::write(&secret, SECRET).unwrap();
        let webhook = ["--webhook", &address, "--webhook-secret-file", secret.to_str().unwrap()];
        let server =
            Server::start_in_with(server.stop(), &[&webhook[..], &["--webhook-events", "pack-issued"]].concat());
        std::fs::write(folder.path().join("openapi.json"), server.get("/openapi.json", "").expect(200).body).unwrap();
        Self { server, publisher, folder, webhook_port }
    }

    /// Runs a program in the folder with the address and the token of a publisher, and expects it to end well.
    #[track_caller]
    fn run(&self, program: &Path, arguments: &[&str]) -> String {
        let mut command = Command::new(program);
        command.args(arguments).current_dir(self.folder.path());
        command.env("SERVICE", format!("http://{}", self.server.address())).env("TOKEN", &self.publisher);
        command.env("WEBHOOK_PORT", self.webhook_port.to_string()).env("WEBHOOK_SECRET", SECRET);
        let Output { status, stdout, stderr } = command.output().unwrap();
        let said = format!("{}{}", String::from_utf8_lossy(&stdout), String::from_utf8_lossy(&stderr));
        assert!(status.success(), "{program:?} {arguments:?}: {said}");
        said
    }
}

fn python(program: &str) -> PathBuf {
    let python = std::env::var_os("MATCHMARK_PYTHON").map(PathBuf::from);
    python.expect("set MATCHMARK_PYTHON to a Python with what tests/requirements.txt lists").with_file_name(program)
}

/// What `npm ci` brought in, as tests/run does.
fn node_program(name: &str) -> PathBuf {
    let modules = std::env::var_os("MATCHMARK_NODE_MODULES").map(PathBuf::from);
    modules
        .expect("set MATCHMARK_NODE_MODULES to where the packages of tests/contract/package.json are")
        .join(".bin")
        .join(name)
}

#[test]
fn two_validators_find_nothing_wrong_with_the_description() {
    let described = Described::new();
    described.run(&python("openapi-spec-validator"), &["openapi.json"]);
    let said = described.run(Path::new("node"), &[&format!("{HERE}/validate.mjs"), "openapi.json"]);
    assert!(said.contains("valid"), "{said}");
}

#[test]
fn a_generated_python_client_passes_its_type_check_and_does_the_whole_work_files_included() {
    let described = Described::new();
    let config = format!("{HERE}/python-client.yaml");
    let generate = [
        "generate",
        "--path",
        "openapi.json",
        "--meta",
        "none",
        "--output-path",
        "service_client",
        "--config",
        &config,
    ];
    let said = described.run(&python("openapi-python-client"), &generate);
    assert!(!said.contains("will not be generated") && !said.contains("Unable to process"), "{said}");
    std::fs::copy(format!("{HERE}/client.py"), described.folder.path().join("client.py")).unwrap();
    described.run(&python("mypy"), &["--no-incremental", "--check-untyped-defs", "client.py"]);
    let said = described.run(&python("python"), &["client.py"]);
    assert!(said.contains("done"), "{said}");
}

#[test]
fn a_generated_typescript_client_passes_its_type_check_and_does_the_whole_work_files_included() {
    let described = Described::new();
    for file in ["client.ts", "tsconfig.json", "package.json"] {
        std::fs::copy(format!("{HERE}/{file}"), described.folder.path().join(file)).unwrap();
    }
    let modules = std::env::var_os("MATCHMARK_NODE_MODULES").expect("set MATCHMARK_NODE_MODULES");
    std::os::unix::fs::symlink(modules, described.folder.path().join("node_modules")).unwrap();
    described.run(&node_program("openapi-typescript"), &["openapi.json", "--output", "service.ts"]);
    described.run(&node_program("tsc"), &["--project", "tsconfig.json"]);
    let said = described.run(Path::new("node"), &["client.js"]);
    assert!(said.contains("done"), "{said}");
}
