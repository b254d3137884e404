//! Rows held against what the acts say of them.

use super::Inspection;
use super::acts::{OnRecord, Recorded};
use crate::ServiceError;
use matchmark_store::Conn;
use matchmark_store::record::{self, Cells, Fact, NOT_RECORDED, TABLES, Table};

impl Inspection {
    /// Looks at every row of every table that is on record.
    pub(super) async fn inspect_rows(&mut self, conn: &mut Conn, mut said: OnRecord) -> Result<(), ServiceError> {
        let unrecorded = record::unrecorded(conn).await?;
        for table in TABLES {
            if unrecorded.contains(&table) {
                self.faults
                    .push(format!("the rows of {} are not on record yet; start `matchmark serve` once", table.name));
                continue;
            }
            let mut after: Option<Cells> = None;
            loop {
                let mut rows = record::page(conn, table, after.as_ref()).await?;
                for cells in &rows {
                    let key = table.key_of(cells);
                    let recorded = said.rows.remove(&(table.name.to_owned(), key.clone()));
                    let salt = if table.names_people { record::salt(conn, table, &key).await? } else { String::new() };
                    self.inspect_row(table, &Fact::of(table, &key, Some(cells), &salt), recorded);
                }
                let Some(last) = rows.pop() else { break };
                after = Some(last);
            }
        }
        let left = said.rows.into_values().filter(|recorded| recorded.fact.row.is_some());
        let mut missing: Vec<String> = left
            .map(|Recorded { fact, by }| format!("{} {} is missing, which {by} left", fact.table, fact.key.join(" ")))
            .collect();
        missing.sort_unstable();
        self.faults.append(&mut missing);
        let not: Vec<String> = NOT_RECORDED.iter().map(|(table, what)| format!("{table} ({what})")).collect();
        self.notes.push(format!("not on record, so a change would not show: {}, audit.number (the order in which acts of different chains came)", not.join(", ")));
        Ok(())
    }

    fn inspect_row(&mut self, table: &Table, now: &Fact, recorded: Option<Recorded>) {
        let place = format!("{} {}", table.name, now.key.join(" "));
        let fault = match recorded {
            None => format!("{place} is not on record"),
            Some(Recorded { fact, by }) if fact.row.is_none() => format!("{place} is there, though {by} deleted it"),
            Some(Recorded { fact, .. }) if fact.row == now.row => return,
            Some(Recorded { fact, by }) => {
                format!("{place}: {} has changed since {by}", fact.differences(now).join(", "))
            }
        };
        self.faults.push(fault);
    }
}
