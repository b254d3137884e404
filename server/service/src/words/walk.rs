//! What the service says of the demo in the pseudo-language, while all is well, with a notice, a hold and a recall: nothing stands outside « ».

use super::PSEUDO;
use super::tests::outside;
use crate::{
    ChangeClass, Demo, IdempotentCall, NewHold, NewNotice, NewPack, Principal, Recall, Role, Sealing, Service,
};
use matchmark_core::pack::Hands;
use matchmark_core::seal::SealKey;
use matchmark_store::clock::{Clock, SystemClock};
use matchmark_store::{BlobsAt, Store, secret};
use std::sync::Arc;
use std::time::Duration;

const KIT: &str = "QF-0101";

fn publisher() -> Principal {
    Principal { token: "test".to_owned(), role: Role::Publisher, read_only: false }
}

fn once() -> IdempotentCall {
    IdempotentCall::new("test", String::new(), None, &[])
}

/// The codes of all pages of the kit's packs.
async fn codes(service: &Service) -> Vec<String> {
    let who = publisher();
    let mut codes = Vec::new();
    for pack in service.packs(&who, KIT).await.unwrap() {
        let manifest = service.pack_manifest(&who, KIT, &pack.number.to_string()).await.unwrap();
        let manifest: serde_json::Value = serde_json::from_slice(&manifest).unwrap();
        codes
            .extend(manifest["pages"].as_array().unwrap().iter().map(|page| page["code"].as_str().unwrap().to_owned()));
    }
    assert!(!codes.is_empty());
    codes
}

/// All that is said of the kit, and of pages with these codes, now.
async fn said(service: &Service, codes: &[String]) -> Vec<String> {
    let who = publisher();
    let mut said = vec![service.kit_standing(&who, KIT).await.unwrap().words];
    for pack in service.packs(&who, KIT).await.unwrap() {
        said.push(service.issued_file(&pack.sha256).await.unwrap().words);
        said.push(pack.words);
    }
    for code in codes {
        said.push(service.page_status(code).await.unwrap().words);
    }
    said
}

#[tokio::test(flavor = "multi_thread")]
async fn a_demo_is_spoken_of_by_the_catalogue_alone() {
    let place = tempfile::tempdir().unwrap();
    let store = Store::open(place.path(), None, &BlobsAt::Directory, SystemClock.stamp().at()).await.unwrap();
    let key = || SealKey::new(secret::key());
    let service = Service::new(store, Arc::new(SystemClock), Demo::SUPPLIER.to_owned(), Duration::from_secs(600));
    let service = service.sealed_with(Sealing::new(key(), key(), "http://demo.invalid"));
    let service = Service { words: &PSEUDO, ..service };
    service.load_demo().await.unwrap();
    let who = publisher();

    let mut all = said(&service, &codes(&service).await).await;
    let left = NewPack { hands: Some(Hands::Left), ..NewPack::default() };
    service.issue_pack(&who, KIT, &left, &once()).await.unwrap();
    let codes = codes(&service).await;
    all.extend(said(&service, &codes).await);
    let notice = NewNotice {
        from: "A".to_owned(),
        to: "B".to_owned(),
        class: ChangeClass::Mandatory,
        text: "Look again.".to_owned(),
    };
    service.raise_notice(&who, Demo::DESIGN, &notice, &once()).await.unwrap();
    let hold = NewHold { reason: "Look again.".to_owned(), ask: "The desk.".to_owned() };
    service.hold(&who, KIT, &hold, &once()).await.unwrap();
    all.extend(said(&service, &codes).await);
    let text = |text: &str| text.to_owned();
    let recall = Recall { hazard: text("It breaks."), what_to_do: text("Stop."), remedies: text("A new one.") };
    service.recall(&who, Demo::DESIGN, "A", &recall, &once()).await.unwrap();
    all.extend(said(&service, &codes).await);
    let card = service.new_access_code(&who, KIT, &once()).await.unwrap();
    all.extend(card.lines);
    all.push(service.issued_file("none").await.unwrap().words);
    all.push(service.page_status("none").await.unwrap().words);

    let found: Vec<&String> = all.iter().filter(|said| !outside(said).is_empty()).collect();
    assert!(found.is_empty(), "say it in the catalogue: {found:#?}");
    service.close().await;
}
