//! The chains of acts and the checkpoints that join them.

use super::Inspection;
use crate::ServiceError;
use matchmark_store::Conn;
use matchmark_store::audit::{self, Act};
use matchmark_store::checkpoints::{self, HeadRow};
use matchmark_store::full_scan::{self, ActRow};
use matchmark_store::record::Fact;
use std::collections::{BTreeMap, BTreeSet, HashMap};

/// How many acts are read at once.
const AT_ONCE: i64 = 1_000;

/// What the acts say.
#[derive(Debug, Default)]
pub struct OnRecord {
    /// Subjects of all acts that issued a pack or made its number void.
    pub issued: BTreeSet<String>,
    /// The last that was said of each row, by table and key.
    pub rows: HashMap<(String, Vec<String>), Recorded>,
}

/// What was said of a row.
#[derive(Debug)]
pub struct Recorded {
    pub fact: Fact,
    /// By which act.
    pub by: String,
}

/// A chain as far as it was followed.
#[derive(Debug, Default)]
struct Followed {
    name: String,
    place: i64,
    hash: String,
}

/// Places that checkpoints joined, with the hash of the act there, by chain.
type Joined = BTreeMap<String, BTreeMap<i64, String>>;

impl Inspection {
    /// Follows all chains.
    pub(super) async fn inspect_acts(&mut self, conn: &mut Conn) -> Result<OnRecord, ServiceError> {
        let mut said = OnRecord::default();
        let before = self.inspect_acts_of_before(conn, &mut said).await?;
        let mut joined = self.inspect_checkpoints(conn, &before).await?;
        let heads = checkpoints::heads(conn).await?;
        self.chains = heads.len();
        let ends: BTreeMap<String, i64> =
            joined.iter().filter_map(|(chain, places)| Some((chain.clone(), *places.keys().next_back()?))).collect();
        let mut heads: BTreeMap<String, HeadRow> = heads.into_iter().map(|head| (head.chain.clone(), head)).collect();
        let mut followed = Followed::default();
        loop {
            let rows = full_scan::acts(conn, (&followed.name, followed.place), AT_ONCE).await?;
            if rows.is_empty() {
                self.inspect_end(&followed, &mut heads, &ends);
                break;
            }
            for row in rows {
                if row.chain != followed.name {
                    self.inspect_end(&followed, &mut heads, &ends);
                    followed = Followed { name: row.chain.clone(), place: 0, hash: before.clone() };
                }
                self.inspect_act(&row, &mut followed, &mut joined);
                self.hear(row, &mut said);
            }
        }
        for name in heads.keys() {
            self.faults.push(format!("the acts of chain {name} are missing"));
        }
        for (name, places) in joined {
            for place in places.keys() {
                self.faults
                    .push(format!("act {place} of chain {name}, which a checkpoint covers, is missing or was changed"));
            }
        }
        Ok(said)
    }

    /// The one chain from before there were several, and the hash at its end.
    async fn inspect_acts_of_before(&mut self, conn: &mut Conn, said: &mut OnRecord) -> Result<String, ServiceError> {
        let (mut number, mut hash) = (0, String::new());
        loop {
            let rows = full_scan::acts_of_before(conn, number, AT_ONCE).await?;
            if rows.is_empty() {
                return Ok(hash);
            }
            for row in rows {
                let follows = row.number == number + 1 && row.previous == hash;
                self.require(follows, || format!("act {} does not follow the one before it", row.number));
                let made = audit::link_of_before(&row.previous, row.number, as_act(&row));
                self.require(row.hash == made, || format!("act {} was changed", row.number));
                self.acts += 1;
                (number, hash) = (row.number, row.hash);
                if NUMBERED.contains(&&*row.action) {
                    said.issued.insert(row.subject);
                }
            }
        }
    }

    async fn inspect_checkpoints(&mut self, conn: &mut Conn, before: &str) -> Result<Joined, ServiceError> {
        let (mut number, mut hash, mut joined) = (0, before.to_owned(), Joined::default());
        loop {
            let rows = checkpoints::list(conn, number, AT_ONCE).await?;
            if rows.is_empty() {
                (self.checkpoints, self.last_checkpoint) = (number, hash);
                return Ok(joined);
            }
            for row in rows {
                let follows = row.number == number + 1 && row.previous == hash;
                self.require(follows, || format!("checkpoint {} does not follow the one before it", row.number));
                let made = checkpoints::link(&row.previous, row.number, &row.at, &row.heads);
                self.require(row.hash == made, || format!("checkpoint {} was changed", row.number));
                let heads: Vec<(String, i64, String)> = serde_json::from_str(&row.heads).unwrap_or_default();
                for (chain, place, hash) in heads {
                    joined.entry(chain).or_default().insert(place, hash);
                }
                (number, hash) = (row.number, row.hash);
            }
        }
    }

    fn inspect_act(&mut self, row: &ActRow, followed: &mut Followed, joined: &mut Joined) {
        let (chain, place) = (&row.chain, row.place);
        let follows = place == followed.place + 1 && row.previous == followed.hash;
        self.require(follows, || format!("act {place} of chain {chain} does not follow the one before it"));
        let made = audit::link(chain, &row.previous, place, as_act(row), &row.facts);
        self.require(row.hash == made, || format!("act {place} of chain {chain} was changed"));
        if let Some(places) = joined.get_mut(chain) {
            // One that is not as it was joined stays, and is found at the end.
            if places.get(&place).is_some_and(|hash| *hash == row.hash) {
                places.remove(&place);
            }
        }
        self.acts += 1;
        (followed.place, followed.hash) = (place, row.hash.clone());
    }

    /// What an act says of rows and packs.
    fn hear(&mut self, row: ActRow, said: &mut OnRecord) {
        let by = || format!("act {} of chain {}, {} of {}", row.place, row.chain, row.action, row.at);
        let facts: Vec<Fact> = if row.facts.is_empty() {
            Vec::new()
        } else {
            serde_json::from_str(&row.facts).unwrap_or_else(|_| {
                self.faults.push(format!("what {} records of rows cannot be read", by()));
                Vec::new()
            })
        };
        for fact in facts {
            said.rows.insert((fact.table.clone(), fact.key.clone()), Recorded { fact, by: by() });
        }
        if row.action == "record-tables"
            && let Some(tables) = row.subject.strip_prefix("tables/")
        {
            let tables = tables.replace('/', ", ");
            self.notes.push(format!("rows older than {} are known only as they stood then, in {tables}", row.at));
        }
        if NUMBERED.contains(&&*row.action) {
            said.issued.insert(row.subject);
        }
    }

    /// Whether a chain ends where it is said to end.
    fn inspect_end(
        &mut self,
        followed: &Followed,
        heads: &mut BTreeMap<String, HeadRow>,
        joined: &BTreeMap<String, i64>,
    ) {
        let Followed { name, place, hash } = followed;
        if name.is_empty() {
            return;
        }
        let joined = joined.get(name).copied().unwrap_or_default();
        let ends =
            heads.remove(name).is_some_and(|head| head.place == *place && head.hash == *hash && head.joined == joined);
        self.require(ends, || format!("chain {name} should end at act {place} and does not"));
    }
}

/// The actions of acts that issued a pack or made its number void.
const NUMBERED: [&str; 2] = ["issue-pack", "void-pack"];

fn as_act(row: &ActRow) -> Act<'_> {
    Act { at: &row.at, actor: &row.actor, action: &row.action, subject: &row.subject }
}
