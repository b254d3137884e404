//! `matchmark demo`

use super::serve::{self, Doors, Opening};
use super::{Failure, log};
use crate::config::{Callers, LogFormat, Secret, Sources, StorageSettings, TrustedProxies};
use crate::listen::Signals;
use clap::Args;
use matchmark_service::send::Channels;
use matchmark_service::{BUILDER_PACKS, Demo};
use matchmark_store::BlobsAt;
use std::net::SocketAddr;
use std::path::PathBuf;
use std::process::ExitCode;

/// How to serve the demo.
#[derive(Args)]
pub struct Options {
    /// Address and port to listen on; port 0 takes a free one.
    #[arg(long, env = "MATCHMARK_LISTEN", default_value = "127.0.0.1:8427")]
    listen: SocketAddr,

    /// New directory to keep the demo in; a temporary one, removed at the end, when absent.
    #[arg(long)]
    data: Option<PathBuf>,

    /// Fresh database of PostgreSQL instead of one in the directory.
    #[arg(long, value_name = "URL")]
    database: Option<Secret>,
}

pub fn run(options: &Options) -> Result<ExitCode, Failure> {
    log::start(&std::env::var("MATCHMARK_LOG").unwrap_or_else(|_| "warn".to_owned()), LogFormat::Text)?;
    let temporary = tempfile::Builder::new().prefix("matchmark-demo-").tempdir()?;
    let data = options.data.clone().unwrap_or_else(|| temporary.path().to_owned());
    if data.join("matchmark.db").exists() {
        return Err(Failure::Other(format!(
            "{} already holds a database, and the demo needs a fresh one: name another directory, or run `matchmark serve` on this one",
            data.display()
        )));
    }
    let kept = StorageSettings {
        data,
        database: options.database.clone(),
        signing_key: None,
        status_key: None,
        blobs: BlobsAt::Directory,
    };
    let callers = Callers::from_sources(&Sources::defaults()?)?;
    serve::until_its_end(async {
        let listener = serve::bind(options.listen).await?;
        let public = format!("http://{}", listener.local_addr()?);
        let opening = Opening {
            kept: &kept,
            supplier: Demo::SUPPLIER.to_owned(),
            contact: Some(Demo::CONTACT.to_owned()),
            public: &public,
            channels: Channels::default(),
            second_approver: false,
            builder_packs: BUILDER_PACKS,
            min_free_disk: 0,
            computing: callers.computing,
        };
        let service = serve::open(opening).await?;
        let signals = Signals::hear()?;
        let demo = service.load_demo().await?;
        print!("{}", story(&demo, listener.local_addr()?));
        let doors =
            Doors { api: listener, metrics: None, trusted: TrustedProxies::default(), callers, origins: Vec::new() };
        serve::serve(doors, signals, service).await
    })
}

/// What to try, ready to paste.
fn story(demo: &Demo, address: SocketAddr) -> String {
    let base = format!("http://{address}");
    let mut text = format!(
        "The demo of {supplier}: design {design}, revisions A and B.\n\n  Start page   {base}/\n  Sign in      {base}/sign-in with any token below\n  API docs     {base}/docs/\n\nTokens\n  publisher        {publisher}\n  support          {support}\n",
        supplier = Demo::SUPPLIER,
        design = Demo::DESIGN,
        publisher = demo.publisher,
        support = demo.support,
    );
    for builder in &demo.builders {
        text.push_str(&format!("  builder {} {}   (revision {})\n", builder.serial, builder.token, builder.revision));
    }
    let design = Demo::DESIGN;
    let support = &demo.support;
    text.push_str(&format!(
        "\nTry\n  curl -H 'Authorization: Bearer {support}' '{base}/v1/kits'\n  curl -H 'Authorization: Bearer {support}' '{base}/v1/designs/{design}/revisions/B/cut-sheet'\n"
    ));
    if let Some(builder) = demo.builders.first() {
        let (serial, token) = (&builder.serial, &builder.token);
        text.push_str(&format!(
            "  curl -OJ -H 'Authorization: Bearer {token}' '{base}/v1/kits/{serial}/packs/1/file'\n"
        ));
    }
    if let [first, .., last] = demo.builders.as_slice() {
        text.push_str(&format!(
            "  curl -i -H 'Authorization: Bearer {}' '{base}/v1/kits/{}'     # another builder's kit: 404\n",
            first.token, last.serial
        ));
    }
    text.push_str(&format!("\nListening on {base}\n"));
    text
}
