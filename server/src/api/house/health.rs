//! Whether the service is alive and ready.

use crate::http::problem::Problem;
use crate::http::{App, problem_kinds as kinds};
use crate::words::of_request;
use axum::Json;
use axum::extract::State;
use serde::Serialize;
use utoipa::ToSchema;

/// A good state.
#[derive(Serialize, ToSchema)]
pub struct Health {
    status: &'static str,
    version: &'static str,
}

const GOOD: Health = Health { status: "ok", version: env!("CARGO_PKG_VERSION") };

/// Ask whether the process answers
#[utoipa::path(get, path = "/healthz", operation_id = "askAlive",
    tag = "health", responses((status = 200, body = Health)))]
pub async fn alive() -> Json<Health> {
    Json(GOOD)
}

/// Ask whether it can take work
#[utoipa::path(get, path = "/readyz", operation_id = "askReady",
    tag = "health", responses((status = 200, body = Health)))]
pub async fn ready(State(app): State<App>) -> Result<Json<Health>, Problem> {
    match app.ready().await {
        Ok(()) => Ok(Json(GOOD)),
        Err(error) => {
            tracing::error!(%error, "not ready");
            Err(Problem::new(&kinds::NOT_READY, error.said(of_request().service)))
        }
    }
}
