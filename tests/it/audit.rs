//! The audit log: every act, chained.

use crate::fixtures::two_kits;
use data_encoding::HEXLOWER;
use sha2::{Digest, Sha256};
use sqlx::sqlite::{SqliteConnectOptions, SqliteConnection};
use sqlx::{Connection, FromRow};

#[derive(FromRow)]
struct Act {
    number: i64,
    at: String,
    actor: String,
    action: String,
    subject: String,
    previous: String,
    hash: String,
}

#[tokio::test]
async fn every_act_is_there_and_chained_to_the_one_before() {
    let kits = two_kits();
    let data = kits.server.stop();
    let options = SqliteConnectOptions::new().filename(data.path().join("matchmark.db"));
    let mut conn = SqliteConnection::connect_with(&options).await.unwrap();
    let acts: Vec<Act> = sqlx::query_as("SELECT * FROM audit ORDER BY number").fetch_all(&mut conn).await.unwrap();
    let mut previous = String::new();
    for (index, act) in acts.iter().enumerate() {
        assert_eq!(act.number, index as i64 + 1);
        assert_eq!(act.previous, previous);
        let lines = format!(
            "matchmark-audit/1\n{previous}\n{}\n{}\n{}\n{}\n{}\n",
            act.number, act.at, act.actor, act.action, act.subject
        );
        assert_eq!(act.hash, HEXLOWER.encode(&Sha256::digest(lines)));
        previous.clone_from(&act.hash);
    }
    let count = |action: &str| acts.iter().filter(|act| act.action == action).count();
    assert_eq!(count("create-design"), 1);
    assert_eq!(count("write-draft"), 2);
    assert_eq!(count("publish-revision"), 2);
    assert_eq!(count("create-kit"), 2);
    assert_eq!(count("issue-pack"), 2);
    assert_eq!(count("create-token"), 4);
}
