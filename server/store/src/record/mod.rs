//! What a write leaves on record: its acts, and of each row that it touched what the row holds now, as hashes, so that a change
//! behind the service's back shows. `Sql::execute` notes the rows by itself; they go into the chains when the write ends.

mod flush;
mod row;
mod standing;
mod tables;

pub use flush::flush;
pub use row::{Cells, Fact, cells};
pub use standing::{page, put_on_record, salt, strange_salts, unrecorded};
pub use tables::{NOT_RECORDED, TABLES, Table, written};

use super::audit::Act;
use std::collections::BTreeMap;

/// An act on its way into its chain.
#[derive(Debug, Clone)]
struct Done {
    at: String,
    actor: String,
    action: String,
    subject: String,
}

/// What a row was left as.
#[derive(Debug)]
struct Noted {
    chain: String,
    fact: Fact,
    /// For a row that may name people.
    salt: Option<String>,
}

/// What a write has done so far and not yet put into the chains.
#[derive(Debug, Default)]
pub struct Pending {
    acts: Vec<Done>,
    /// By table and key; the last state counts.
    rows: BTreeMap<(&'static str, Vec<String>), Noted>,
    /// When the write was begun and by whom, as its first act says.
    first: Option<(String, String)>,
}

impl Pending {
    /// Takes note of an act.
    pub fn act(&mut self, act: Act<'_>) {
        self.first.get_or_insert_with(|| (act.at.to_owned(), act.actor.to_owned()));
        self.acts.push(Done {
            at: act.at.to_owned(),
            actor: act.actor.to_owned(),
            action: act.action.to_owned(),
            subject: act.subject.to_owned(),
        });
    }

    /// Takes note of a row as it is now, or as it was before it was deleted.
    pub fn row(&mut self, table: &'static Table, cells: &Cells, gone: bool) {
        let key = table.key_of(cells);
        let salt = table.names_people.then(crate::secret::id);
        let fact = Fact::of(table, &key, (!gone).then_some(cells), salt.as_deref().unwrap_or_default());
        self.rows.insert((table.name, key), Noted { chain: table.chain_of(cells), fact, salt });
    }

    /// How many rows were noted.
    pub fn rows(&self) -> usize {
        self.rows.len()
    }
}
