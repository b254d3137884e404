//! What may become of a published revision: `/v1/designs/{design}/revisions/{letter}/...`

use crate::http::App;
use crate::http::body::Json;
use crate::http::caller::{Publisher, Supporter};
use crate::http::conditions::{keyed_once, once};
use crate::http::problem::Problem;
use axum::extract::{Path, State};
use axum::http::HeaderMap;
use matchmark_service::{Reason, Recall, RecallLedger, RevisionView};

/// Withdraw a revision
///
/// No new kits are sold with it and none is moved to it; kits that have it go on with it.
#[utoipa::path(post, path = "/v1/designs/{design}/revisions/{letter}/withdrawal", operation_id = "withdrawRevision",
    tag = "revisions", request_body = Reason,
    params(("design" = String, Path), ("letter" = String, Path), ("Idempotency-Key" = Option<String>, Header)),
    responses((status = 200, body = RevisionView)))]
pub async fn withdraw(
    State(app): State<App>,
    Publisher(who): Publisher,
    Path((design, letter)): Path<(String, String)>,
    headers: HeaderMap,
    body: Json<Reason>,
) -> Result<axum::Json<RevisionView>, Problem> {
    let once = once(&headers, &who, format!("designs/{design}/revisions/{letter}/withdrawal"), &body.bytes)?;
    Ok(axum::Json(app.withdraw(&who, &design, &letter, &body.value, &once).await?))
}

/// Recall a revision
///
/// Every holder is told to stop: no pack of it is issued, and those issued are handed out only after the kit's stop sheet was
/// acknowledged. Hazard, what to do and remedies are all needed, without words that make the hazard seem smaller.
#[utoipa::path(post, path = "/v1/designs/{design}/revisions/{letter}/recall", operation_id = "recallRevision",
    tag = "revisions", request_body = Recall,
    params(("design" = String, Path), ("letter" = String, Path), ("Idempotency-Key" = String, Header)),
    responses((status = 200, body = RevisionView)))]
pub async fn recall(
    State(app): State<App>,
    Publisher(who): Publisher,
    Path((design, letter)): Path<(String, String)>,
    headers: HeaderMap,
    body: Json<Recall>,
) -> Result<axum::Json<RevisionView>, Problem> {
    let once = keyed_once(&headers, &who, format!("designs/{design}/revisions/{letter}/recall"), &body.bytes)?;
    Ok(axum::Json(app.recall(&who, &design, &letter, &body.value, &once).await?))
}

/// Read who has acknowledged a recall
#[utoipa::path(get, path = "/v1/designs/{design}/revisions/{letter}/recall", operation_id = "readRecall",
    tag = "revisions",
    params(("design" = String, Path), ("letter" = String, Path)),
    responses((status = 200, body = RecallLedger)))]
pub async fn ledger(
    State(app): State<App>,
    Supporter(who): Supporter,
    Path((design, letter)): Path<(String, String)>,
) -> Result<axum::Json<RecallLedger>, Problem> {
    Ok(axum::Json(app.recall_ledger(&who, &design, &letter).await?))
}

/// Reinstate a revision
///
/// Puts a withdrawn or recalled revision in force again.
#[utoipa::path(post, path = "/v1/designs/{design}/revisions/{letter}/reinstatement", operation_id = "reinstateRevision",
    tag = "revisions", request_body = Reason,
    params(("design" = String, Path), ("letter" = String, Path), ("Idempotency-Key" = Option<String>, Header)),
    responses((status = 200, body = RevisionView)))]
pub async fn reinstate(
    State(app): State<App>,
    Publisher(who): Publisher,
    Path((design, letter)): Path<(String, String)>,
    headers: HeaderMap,
    body: Json<Reason>,
) -> Result<axum::Json<RevisionView>, Problem> {
    let once = once(&headers, &who, format!("designs/{design}/revisions/{letter}/reinstatement"), &body.bytes)?;
    Ok(axum::Json(app.reinstate(&who, &design, &letter, &body.value, &once).await?))
}
