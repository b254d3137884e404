//! `/v1/contact`

use crate::http::App;
use crate::http::body::Json;
use crate::http::caller::Publisher;
use crate::http::problem::Problem;
use axum::extract::State;
use matchmark_service::{ContactView, NewContact};

/// Read whom to ask
///
/// The supplier and how to reach them, as covers and stop sheets have it. Anyone may ask.
#[utoipa::path(get, path = "/v1/contact", operation_id = "readContact", tag = "service", security(()),
    responses((status = 200, body = ContactView)))]
pub async fn read(State(app): State<App>) -> Result<axum::Json<ContactView>, Problem> {
    Ok(axum::Json(app.contact().await?))
}

/// Say anew whom to ask
///
/// Packs and stop sheets drawn from then on carry it; what is issued stays as it is. The same again changes nothing.
#[utoipa::path(put, path = "/v1/contact", operation_id = "writeContact", tag = "service", request_body = NewContact,
    responses((status = 200, body = ContactView)))]
pub async fn write(
    State(app): State<App>,
    Publisher(who): Publisher,
    body: Json<NewContact>,
) -> Result<axum::Json<ContactView>, Problem> {
    Ok(axum::Json(app.set_contact(&who, &body.value).await?))
}
