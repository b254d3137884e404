//! The figures that were recorded of published revisions: added, never changed.

use super::row::row;
use super::{Conn, StoreError, sql};
use sqlx_macros::FromRow;

row! {
    /// Figures as recorded.
    #[derive(Debug, Clone, FromRow)]
    pub struct FiguresRow of "revision_figures", insert {
        pub design: String,
        pub letter: String,
        /// JSON object of option and choice.
        pub choices: String,
        /// From 1 for each combination of choices; the greatest is in force.
        pub number: i64,
        /// JSON.
        pub figures: String,
        pub sha256: String,
        /// Version of the engine that computed them.
        pub engine: String,
        pub at: String,
        /// Id of a token, or `system`.
        pub token: String,
    }
}

/// Adds figures, unless some with this number are there.
pub async fn insert(conn: &mut Conn, row: &FiguresRow) -> Result<(), StoreError> {
    row.insert(&[]).then("ON CONFLICT (design, letter, choices, number) DO NOTHING").execute(conn).await
}

/// The figures in force of a revision with these choices.
pub async fn in_force(
    conn: &mut Conn,
    design: &str,
    letter: &str,
    choices: &str,
) -> Result<Option<FiguresRow>, StoreError> {
    FiguresRow::select("WHERE design = $1 AND letter = $2 AND choices = $3 ORDER BY number DESC LIMIT 1")
        .bind(design)
        .bind(letter)
        .bind(choices)
        .optional(conn)
        .await
}

/// The combinations of choices that figures of a revision are recorded for.
pub async fn choices(conn: &mut Conn, design: &str, letter: &str) -> Result<Vec<String>, StoreError> {
    let rows: Vec<(String,)> =
        sql("SELECT DISTINCT choices FROM revision_figures WHERE design = $1 AND letter = $2 ORDER BY choices")
            .bind(design)
            .bind(letter)
            .all(conn)
            .await?;
    Ok(rows.into_iter().map(|(choices,)| choices).collect())
}
