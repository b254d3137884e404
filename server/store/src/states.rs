//! What was said of revisions after they were published: withdrawn, recalled, reinstated; and who acknowledged a recall.

use super::{Conn, StoreError, sql};
use sqlx_macros::FromRow;

/// A recorded state.
#[derive(Debug, FromRow)]
pub struct StateRow {
    pub letter: String,
    pub state: String,
    pub reason: String,
    pub hazard: String,
    pub what_to_do: String,
    pub remedies: String,
    pub at: String,
    pub token: String,
}

/// A revision and what was last said of it.
#[derive(Debug, FromRow)]
pub struct StandingRow {
    pub letter: String,
    pub state: Option<String>,
}

/// Revisions of a design in order, each with its newest recorded state.
pub async fn standings(conn: &mut Conn, design: &str) -> Result<Vec<StandingRow>, StoreError> {
    sql("SELECT letter, (SELECT state FROM revision_states \
         WHERE revision_states.design = revisions.design AND revision_states.letter = revisions.letter \
         ORDER BY revision_states.number DESC LIMIT 1) AS state \
         FROM revisions WHERE design = $1 ORDER BY number")
    .bind(design)
    .all(conn)
    .await
}

/// All that was said of the revisions of a design, in order.
pub async fn list(conn: &mut Conn, design: &str) -> Result<Vec<StateRow>, StoreError> {
    sql("SELECT letter, state, reason, hazard, what_to_do, remedies, at, token FROM revision_states \
         WHERE design = $1 ORDER BY letter, number")
    .bind(design)
    .all(conn)
    .await
}

/// Adds a state after all others of its revision.
pub async fn insert(conn: &mut Conn, design: &str, row: &StateRow) -> Result<(), StoreError> {
    sql("INSERT INTO revision_states (design, letter, number, state, reason, hazard, what_to_do, remedies, at, token) \
         SELECT $1, $2, COALESCE(MAX(number), 0) + 1, $3, $4, $5, $6, $7, $8, $9 \
         FROM revision_states WHERE design = $1 AND letter = $2")
    .bind(design)
    .bind(&row.letter)
    .bind(&row.state)
    .bind(&row.reason)
    .bind(&row.hazard)
    .bind(&row.what_to_do)
    .bind(&row.remedies)
    .bind(&row.at)
    .bind(&row.token)
    .execute(conn)
    .await
}

/// A recall that concerns a kit.
#[derive(Debug, FromRow)]
pub struct RecallRow {
    pub design: String,
    pub design_name: String,
    pub letter: String,
    pub number: i64,
    pub hazard: String,
    pub what_to_do: String,
    pub remedies: String,
    pub at: String,
    pub acknowledged_at: Option<String>,
    /// Id of the token that acknowledged it, its role and name.
    pub acknowledged_by: Option<String>,
    pub acknowledged_role: Option<String>,
    pub acknowledged_name: Option<String>,
}

/// Recalls that stand, of the revision of a kit, of those it has packs of, and of those that a notice which is done brought parts of.
pub async fn recalls_of_kit(conn: &mut Conn, kit: &str) -> Result<Vec<RecallRow>, StoreError> {
    sql("SELECT said.design, designs.name AS design_name, said.letter, said.number, said.hazard, said.what_to_do, \
         said.remedies, said.at, acks.at AS acknowledged_at, acks.token AS acknowledged_by, \
         tokens.role AS acknowledged_role, tokens.name AS acknowledged_name \
         FROM kits JOIN revision_states AS said ON said.design = kits.design \
         JOIN designs ON designs.id = kits.design \
         LEFT JOIN recall_acknowledgements AS acks ON acks.kit = kits.serial \
         AND acks.letter = said.letter AND acks.number = said.number \
         LEFT JOIN tokens ON tokens.id = acks.token \
         WHERE kits.serial = $1 AND said.state = 'recalled' \
         AND said.number = (SELECT MAX(newer.number) FROM revision_states AS newer \
         WHERE newer.design = said.design AND newer.letter = said.letter) \
         AND (said.letter = kits.revision OR EXISTS \
         (SELECT 1 FROM packs WHERE packs.kit = $1 AND packs.revision = said.letter) OR EXISTS \
         (SELECT 1 FROM notice_kits JOIN notices ON notices.design = notice_kits.design \
         AND notices.number = notice_kits.number WHERE notice_kits.kit = $1 AND notice_kits.done_at IS NOT NULL \
         AND notices.design = said.design AND notices.to_revision = said.letter)) \
         ORDER BY said.letter")
    .bind(kit)
    .all(conn)
    .await
}

/// Records that the holder of a kit has read a recall.
pub async fn acknowledge(
    conn: &mut Conn,
    kit: &str,
    recall: &RecallRow,
    at: &str,
    token: &str,
) -> Result<(), StoreError> {
    sql("INSERT INTO recall_acknowledgements (kit, design, letter, number, at, token) VALUES ($1, $2, $3, $4, $5, $6)")
        .bind(kit)
        .bind(&recall.design)
        .bind(&recall.letter)
        .bind(recall.number)
        .bind(at)
        .bind(token)
        .execute(conn)
        .await
}

/// Who of those that a recall concerns has acknowledged it.
#[derive(Debug, FromRow)]
pub struct HolderRow {
    pub kit: String,
    pub acknowledged_at: Option<String>,
    /// Id of the token that acknowledged it, its role and name.
    pub acknowledged_by: Option<String>,
    pub acknowledged_role: Option<String>,
    pub acknowledged_name: Option<String>,
}

/// The holders of a revision with their acknowledgement of its newest recall.
pub async fn ledger(conn: &mut Conn, design: &str, letter: &str) -> Result<Vec<HolderRow>, StoreError> {
    sql("SELECT kits.serial AS kit, acks.at AS acknowledged_at, acks.token AS acknowledged_by, \
         tokens.role AS acknowledged_role, tokens.name AS acknowledged_name \
         FROM kits LEFT JOIN recall_acknowledgements AS acks ON acks.kit = kits.serial \
         AND acks.letter = $2 AND acks.number = (SELECT MAX(said.number) FROM revision_states AS said \
         WHERE said.design = $1 AND said.letter = $2) \
         LEFT JOIN tokens ON tokens.id = acks.token \
         WHERE kits.design = $1 AND (kits.revision = $2 OR EXISTS \
         (SELECT 1 FROM packs WHERE packs.kit = kits.serial AND packs.revision = $2) OR EXISTS \
         (SELECT 1 FROM notice_kits JOIN notices ON notices.design = notice_kits.design \
         AND notices.number = notice_kits.number WHERE notice_kits.kit = kits.serial \
         AND notice_kits.done_at IS NOT NULL AND notices.design = $1 AND notices.to_revision = $2)) \
         ORDER BY kits.serial")
    .bind(design)
    .bind(letter)
    .all(conn)
    .await
}
