//! Which tables are on record, and in which chain each of their rows is.

use super::Cells;
use serde_json::Value;

/// Whose chain the rows of a table are in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Of {
    /// That of the kit whose serial is the first column of the key.
    Kit,
    /// That of the design whose id is the first column of the key.
    Design,
    /// That of the house: people, tokens, keys.
    House,
}

/// Name of the chain of the house.
pub const HOUSE: &str = "house";

/// A table whose rows are on record.
#[derive(Debug, PartialEq, Eq)]
pub struct Table {
    /// Its name.
    pub name: &'static str,
    /// Columns of its key.
    pub key: &'static [&'static str],
    of: Of,
    /// Whether people may be named in it, so that its hashes are salted.
    pub names_people: bool,
}

const fn table(name: &'static str, of: Of, key: &'static [&'static str]) -> Table {
    Table { name, key, of, names_people: false }
}

const fn naming_people(table: Table) -> Table {
    Table { names_people: true, ..table }
}

/// All tables whose rows are on record.
pub static TABLES: &[Table] = &[
    table("designs", Of::Design, &["id"]),
    table("draft_saves", Of::Design, &["design", "number"]),
    table("draft_reviews", Of::Design, &["design", "number"]),
    table("revisions", Of::Design, &["design", "number"]),
    table("revision_figures", Of::Design, &["design", "letter", "choices", "number"]),
    table("revision_states", Of::Design, &["design", "letter", "number"]),
    table("notices", Of::Design, &["design", "number"]),
    table("notice_groups", Of::Design, &["design", "number", "part"]),
    table("kits", Of::Kit, &["serial"]),
    table("packs", Of::Kit, &["kit", "number"]),
    table("pack_numbers", Of::Kit, &["kit", "number"]),
    table("measurements", Of::Kit, &["kit", "number"]),
    table("kit_moves", Of::Kit, &["kit", "number"]),
    table("notice_kits", Of::Kit, &["kit", "number"]),
    table("recall_acknowledgements", Of::Kit, &["kit", "letter", "number"]),
    naming_people(table("kit_notes", Of::Kit, &["kit", "number"])),
    naming_people(table("kit_holds", Of::Kit, &["kit", "number"])),
    naming_people(table("customers", Of::House, &["id"])),
    table("tokens", Of::House, &["id"]),
    table("signing_keys", Of::House, &["purpose", "number"]),
    table("revoked_keys", Of::House, &["public_key"]),
    table("supplier_contacts", Of::House, &["number"]),
    table("recorded_tables", Of::House, &["name"]),
    table("restores", Of::House, &["number"]),
    table("kit_skips", Of::Kit, &["kit", "first"]),
    table("design_skips", Of::Design, &["design", "what", "first"]),
    table("identity", Of::House, &["one"]),
];

/// Tables whose rows, and columns whose values, are on no record, and why that does no harm.
pub const NOT_RECORDED: &[(&str, &str)] = &[
    ("deliveries", "messages on their way to holders"),
    ("downloads", "how often a pack was fetched"),
    ("events", "what is on record itself, as other programs are told of it"),
    ("idempotency", "answers kept for repeated calls"),
    ("pack_job_kits", "the progress of background work"),
    ("pack_jobs", "background work"),
    ("probe", "a row that is written to test whether writing works"),
    ("sessions", "who is signed in on the pages"),
    ("sign_in_failures", "failed sign-ins that still count"),
    ("_sqlx_migrations.execution_time", "how long a step of the schema took"),
    ("_sqlx_migrations.installed_on", "when a step of the schema was applied"),
    ("written_blobs", "files of packs that a sweep looks at"),
];

impl Table {
    /// The key of a row, as text.
    pub fn key_of(&self, cells: &Cells) -> Vec<String> {
        let text = |column: &&str| match cells.get(*column) {
            Some(Value::String(text)) => text.clone(),
            Some(other) => other.to_string(),
            None => String::new(),
        };
        self.key.iter().map(text).collect()
    }

    /// Name of the chain of a row.
    pub fn chain_of(&self, cells: &Cells) -> String {
        let first = self.key_of(cells).into_iter().next().unwrap_or_default();
        match self.of {
            Of::Kit => format!("kits/{first}"),
            Of::Design => format!("designs/{first}"),
            Of::House => HOUSE.to_owned(),
        }
    }
}

/// The table on record that a statement writes to, if it does.
pub fn written(statement: &str) -> Option<&'static Table> {
    let rest = ["INSERT INTO ", "UPDATE ", "DELETE FROM "].iter().find_map(|verb| statement.strip_prefix(verb))?;
    let name = rest.split([' ', '(']).next()?;
    TABLES.iter().find(|table| table.name == name)
}

/// The chain that an act belongs to: that of the kit or design that it was done to, else that of the house.
pub fn chain_of_act(subject: &str) -> String {
    let mut parts = subject.splitn(3, '/');
    match (parts.next(), parts.next()) {
        (Some(what @ ("kits" | "designs")), Some(id)) if !id.is_empty() => format!("{what}/{id}"),
        _ => HOUSE.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{BlobsAt, Store, sql};

    /// Tables that are the record itself.
    const THE_RECORD: [&str; 4] = ["audit", "chain_heads", "checkpoints", "row_salts"];

    #[tokio::test]
    async fn every_table_is_on_record_or_is_said_not_to_be() {
        let directory = tempfile::tempdir().unwrap();
        let store = Store::open(directory.path(), None, &BlobsAt::Directory, "").await.unwrap();
        let there: Vec<(String,)> = sql("SELECT name FROM pragma_table_list WHERE schema = 'main' AND type = 'table' \
             AND name NOT LIKE 'sqlite\\_%' ESCAPE '\\' AND name NOT LIKE '\\_sqlx%' ESCAPE '\\' ORDER BY name")
        .all(&mut store.read().await.unwrap())
        .await
        .unwrap();
        let there: Vec<String> = there.into_iter().map(|(name,)| name).collect();
        let not = NOT_RECORDED.iter().map(|(name, _)| *name).filter(|name| !name.contains('.')).chain(THE_RECORD);
        let mut said: Vec<&str> = TABLES.iter().map(|table| table.name).chain(not).collect();
        said.sort_unstable();
        assert_eq!(there, said);
    }

    #[test]
    fn a_statement_says_which_table_it_writes_to() {
        let name = |statement: &str| written(statement).map(|table| table.name);
        assert_eq!(name("INSERT INTO kits (serial) VALUES ($1)"), Some("kits"));
        assert_eq!(name("UPDATE kit_notes SET text = ''"), Some("kit_notes"));
        assert_eq!(name("DELETE FROM tokens"), Some("tokens"));
        assert_eq!(name("DELETE FROM sessions WHERE expires_at < $1"), None);
        assert_eq!(name("SELECT serial FROM kits"), None);
    }

    #[test]
    fn an_act_is_in_the_chain_of_what_it_was_done_to() {
        assert_eq!(chain_of_act("kits/QF-0101/packs/1/ab"), "kits/QF-0101");
        assert_eq!(chain_of_act("designs/fenrunner-two"), "designs/fenrunner-two");
        assert_eq!(chain_of_act("tokens/12"), "house");
        assert_eq!(chain_of_act("kits"), "house");
    }
}
