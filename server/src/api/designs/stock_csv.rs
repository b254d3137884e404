//! Stock plans as CSV: a line for each cut in the order of sawing.

use crate::http::problem::Problem;
use axum::http::header;
use axum::response::{IntoResponse, Response};
use matchmark_export::tables::stock::{Planned, table};
use matchmark_export::{CSV, write_csv};
use matchmark_service::ServiceError;

/// The answer.
pub fn answer(plans: &[Planned]) -> Result<Response, Problem> {
    let text = write_csv(&table(plans), &[]).map_err(ServiceError::from)?;
    let kind = [(header::CONTENT_TYPE, CSV), (header::CONTENT_DISPOSITION, "attachment; filename=\"stock-plan.csv\"")];
    Ok((kind, text).into_response())
}
