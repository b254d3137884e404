//! The audit log: every act, chained.

use crate::fixtures::two_kits;
use data_encoding::HEXLOWER;
use sha2::{Digest, Sha256};

#[tokio::test]
async fn every_act_is_there_and_chained_to_the_one_before() {
    let kits = two_kits();
    let data = kits.server.stop();
    let acts = data
        .open()
        .await
        .lines(
            "SELECT number || '|' || at || '|' || actor || '|' || action || '|' || subject || '|' || previous || '|' || hash \
             FROM audit ORDER BY number",
        )
        .await;
    let acts: Vec<Vec<&str>> = acts.iter().map(|act| act.split('|').collect()).collect();
    let mut before = "";
    for (index, act) in acts.iter().enumerate() {
        let [number, at, actor, action, subject, previous, hash] = act[..] else { panic!("{act:?}") };
        assert_eq!(number, (index + 1).to_string());
        assert_eq!(previous, before);
        let lines = format!("matchmark-audit/1\n{previous}\n{number}\n{at}\n{actor}\n{action}\n{subject}\n");
        assert_eq!(hash, HEXLOWER.encode(&Sha256::digest(lines)));
        before = hash;
    }
    let count = |action: &str| acts.iter().filter(|act| act[3] == action).count();
    assert_eq!(count("create-design"), 1);
    assert_eq!(count("write-draft"), 2);
    assert_eq!(count("publish-revision"), 2);
    assert_eq!(count("create-kit"), 2);
    assert_eq!(count("issue-pack"), 2);
    assert_eq!(count("create-token"), 4);
}
