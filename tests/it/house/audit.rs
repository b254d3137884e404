//! The audit log: every act, chained in the chain of what it was done to.

use crate::fixtures::{create_kit, two_kits};
use crate::place::on_postgres;
use crate::server::{Server, run_on};
use data_encoding::HEXLOWER;
use serde_json::{Value, json};
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;
use std::sync::Arc;

fn hash(text: &str) -> String {
    HEXLOWER.encode(&Sha256::digest(text))
}

#[tokio::test]
async fn every_act_is_there_and_chained_to_the_one_before_in_its_chain() {
    let kits = two_kits();
    let data = kits.server.stop();
    let acts = data
        .open()
        .await
        .lines(
            "SELECT chain || '|' || place || '|' || at || '|' || actor || '|' || action || '|' || subject || '|' || previous \
             || '|' || hash || '|' || facts FROM audit ORDER BY number",
        )
        .await;
    let acts: Vec<Vec<&str>> = acts.iter().map(|act| act.splitn(9, '|').collect()).collect();
    let mut ends: BTreeMap<&str, (u32, &str)> = BTreeMap::new();
    for act in &acts {
        let [chain, place, at, actor, action, subject, previous, hash_of, facts] = act[..] else { panic!("{act:?}") };
        let end = ends.entry(chain).or_default();
        assert_eq!((place, previous), (&*(end.0 + 1).to_string(), end.1));
        let lines =
            format!("matchmark-audit/2\n{chain}\n{previous}\n{place}\n{at}\n{actor}\n{action}\n{subject}\n{facts}\n");
        assert_eq!(hash_of, hash(&lines));
        *end = (end.0 + 1, hash_of);
        let of_its_own = ["designs/frame", "kits/K-1", "kits/K-2"].into_iter().find(|of| subject.starts_with(of));
        assert_eq!(chain, of_its_own.unwrap_or("house"), "{subject}");
    }
    assert_eq!(ends.keys().copied().collect::<Vec<_>>(), ["designs/frame", "house", "kits/K-1", "kits/K-2"]);
    let count = |action: &str| acts.iter().filter(|act| act[4] == action).count();
    assert_eq!(count("create-design"), 1);
    assert_eq!(count("write-draft"), 2);
    assert_eq!(count("publish-revision"), 2);
    assert_eq!(count("create-kit"), 2);
    assert_eq!(count("issue-pack"), 2);
    assert_eq!(count("create-token"), 4);
}

#[tokio::test]
async fn each_published_revision_joins_all_chains_in_a_checkpoint() {
    let kits = two_kits();
    let data = kits.server.stop();
    let mut records = data.open().await;
    let rows = records
        .lines(
            "SELECT number || '|' || at || '|' || previous || '|' || hash || '|' || heads FROM checkpoints ORDER BY number",
        )
        .await;
    assert!(rows.len() >= 2, "two revisions were published: {rows:?}");
    let mut before = "";
    let mut heads: BTreeMap<String, (i64, String)> = BTreeMap::new();
    for row in &rows {
        let [number, at, previous, hash_of, said] = row.splitn(5, '|').collect::<Vec<_>>()[..] else { panic!("{row}") };
        assert_eq!(previous, before);
        assert_eq!(hash_of, hash(&format!("matchmark-checkpoint/1\n{previous}\n{number}\n{at}\n{said}\n")));
        before = hash_of;
        for (chain, place, head) in serde_json::from_str::<Vec<(String, i64, String)>>(said).unwrap() {
            heads.insert(chain, (place, head));
        }
    }
    let of_kit = &heads["kits/K-1"];
    let act = records.lines("SELECT place || ' ' || hash FROM audit WHERE chain = 'kits/K-1' ORDER BY place").await;
    assert!(act.contains(&format!("{} {}", of_kit.0, of_kit.1)), "{act:?}");
}

/// One process on SQLite, two on PostgreSQL: each chain has its own acts, one after the other in the order in which they were done.
#[tokio::test(flavor = "multi_thread")]
async fn writers_of_many_kits_at_once_keep_every_chain_in_the_order_of_what_was_done() {
    const KITS: usize = 4;
    const NOTES: usize = 12;
    let kits = two_kits();
    for kit in 0..KITS {
        create_kit(&kits.server, &kits.publisher, &format!("R-{kit}"), "frame", "B");
    }
    let second = on_postgres().then(|| Server::start_in(Arc::clone(&kits.server.data)));
    let servers: Vec<&Server> = [Some(&kits.server), second.as_ref()].into_iter().flatten().collect();
    std::thread::scope(|scope| {
        for writer in 0..2 * KITS {
            let (server, token) = (servers[writer / KITS % servers.len()], &kits.support);
            scope.spawn(move || {
                for note in 0..NOTES {
                    let path = format!("/v1/kits/R-{}/notes", (writer + note) % KITS);
                    server.post(&path, token, &json!({"text": format!("{writer} {note}")})).expect(201);
                }
            });
        }
    });
    let mut records = kits.server.data.open().await;
    let mut there = 0;
    for kit in 0..KITS {
        let chain = format!("chain = 'kits/R-{kit}' AND action = 'add-note' ORDER BY place");
        let facts = records.values(format!("SELECT facts FROM audit WHERE {chain}")).await;
        let numbers = facts.iter().flatten().map(|facts| {
            let facts: Value = serde_json::from_str(facts).unwrap();
            assert_eq!((facts.as_array().unwrap().len(), &facts[0]["table"]), (1, &json!("kit_notes")));
            facts[0]["key"][1].as_str().unwrap().parse::<usize>().unwrap()
        });
        let numbers: Vec<usize> = numbers.collect();
        assert_eq!(numbers, (1..=numbers.len()).collect::<Vec<_>>(), "of kit R-{kit}");
        there += numbers.len();
    }
    assert_eq!(there, 2 * KITS * NOTES);
    let found = run_on(&kits.server.data, &["verify"]);
    assert!(found.status.success(), "{}", String::from_utf8_lossy(&found.stdout));
}

/// Two that write to one chain cannot both go on from the same act.
#[tokio::test]
async fn a_chain_is_never_forked() {
    let kits = two_kits();
    let data = kits.server.stop();
    let mut records = data.open().await;
    let columns = "at, actor, action, subject, previous, hash, chain, place, facts";
    let fork =
        format!("INSERT INTO audit ({columns}) SELECT {columns} FROM audit WHERE chain = 'kits/K-1' AND place = 1");
    assert!(records.run(fork).await.is_err());
}
