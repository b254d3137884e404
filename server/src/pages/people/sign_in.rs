//! Signing in: builders with the card of their kit, the supplier's people with their token; and out.

use crate::http::App;
use crate::http::problem::Problem;
use crate::http::session::{cookie, set_cookie};
use crate::listen::Peer;
use crate::pages::form::deed::{Deed, Sent};
use crate::pages::form::filled::{Filled, Line};
use crate::pages::house::contact::ask;
use crate::pages::house::home::begin;
use crate::pages::layout::open_page;
use crate::pages::then::on_this_service;
use axum::Extension;
use axum::extract::{Query, State};
use axum::http::{HeaderMap, HeaderName, HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};
use matchmark_service::{Principal, Role, ServiceError, SignIn};
use maud::html;
use serde::Deserialize;

const CLEAR_SITE_DATA: HeaderName = HeaderName::from_static("clear-site-data");

/// Where to go afterwards.
#[derive(Deserialize)]
pub struct Then {
    #[serde(default)]
    then: String,
}

/// Both ways to sign in.
pub async fn form(State(app): State<App>, Query(then): Query<Then>) -> Result<Response, Problem> {
    show(&app, &Filled::with(&[("then", &then.then)]), StatusCode::OK).await
}

/// Signs in a builder.
pub async fn with_card(
    State(app): State<App>,
    peer: Option<Extension<Peer>>,
    headers: HeaderMap,
    Sent(form): Sent,
) -> Result<Response, Problem> {
    let card = SignIn { serial: form.text("serial"), access_code: form.text("access_code") };
    let address = peer.map(|Extension(Peer(address))| address.ip());
    match app.sign_in(&card, address).await {
        Ok(view) => enter(&app, &headers, &view.token, form).await,
        Err(error) => {
            let status = match error {
                ServiceError::TooManyAttempts { .. } => StatusCode::TOO_MANY_REQUESTS,
                _ => StatusCode::UNPROCESSABLE_ENTITY,
            };
            show(&app, &form.refused(error)?, status).await
        }
    }
}

/// Signs in one of the supplier's people.
pub async fn with_token(State(app): State<App>, headers: HeaderMap, Sent(form): Sent) -> Result<Response, Problem> {
    let token = form.text("token");
    enter(&app, &headers, &token, form).await
}

/// Signs out. What the browser kept of the pages goes as well; not all cookies, because those of the supplier's other hosts would go with
/// them.
pub async fn out(State(app): State<App>, deed: Deed) -> Result<Response, Problem> {
    app.end_session(&deed.visitor.who, &deed.visitor.secret).await?;
    let cookie = [(header::SET_COOKIE, set_cookie(None, app.is_secure()))];
    let rest = [(CLEAR_SITE_DATA, HeaderValue::from_static("\"cache\", \"storage\""))];
    Ok((cookie, rest, Redirect::to("/")).into_response())
}

/// Begins a session, in the place of the one that the browser shows.
async fn enter(app: &App, headers: &HeaderMap, token: &str, form: Filled) -> Result<Response, Problem> {
    let before = cookie(headers, app.is_secure());
    let Some((secret, who)) = app.begin_session(token, before).await? else {
        let wrong = "This token is not one that the service gave out, or it has ended; check that it was copied whole.";
        return show(app, &form.with_fault("/token", wrong), StatusCode::UNPROCESSABLE_ENTITY).await;
    };
    let cookie = [(header::SET_COOKIE, set_cookie(Some(&secret), app.is_secure()))];
    Ok((cookie, Redirect::to(&afterwards(&who, form.get("then")))).into_response())
}

/// Where they were going, when that is a page of ours and theirs.
fn afterwards(who: &Principal, then: &str) -> String {
    let wanted = on_this_service(then).filter(|then| then != "/");
    let may = |then: &String| match &who.role {
        Role::Builder { kit } => {
            let rest = then.strip_prefix(&format!("/kits/{kit}"));
            rest.is_some_and(|rest| rest.is_empty() || rest.starts_with(['/', '?']))
        }
        Role::Publisher | Role::Support => true,
    };
    wanted.filter(may).unwrap_or_else(|| begin(&who.role))
}

async fn show(app: &App, form: &Filled, status: StatusCode) -> Result<Response, Problem> {
    let contact = app.contact().await?;
    let serial = Line::text("serial", "Serial of the kit", "As on the card, such as QF-0101.");
    let code = Line::text(
        "access_code",
        "Access code",
        "Four groups of four. Small letters and missing hyphens do not matter.",
    );
    let token = Line {
        kind: "password",
        autocomplete: "current-password",
        ..Line::text("token", "Token", "It is not kept in this browser.")
    };
    let main = html! {
        h1 { "Sign in" }
        (form.summary())
        h2 { "With the card of your kit" }
        form method="post" action="/sign-in" {
            input type="hidden" name="then" value=(form.get("then"));
            (serial.show(form))
            (code.show(form))
            button type="submit" { "Sign in with the card" }
        }
        h2 { "With a token, for the supplier's people" }
        form method="post" action="/sign-in/token" {
            input type="hidden" name="then" value=(form.get("then"));
            (token.show(&Filled::default().with_faults_of(form)))
            button type="submit" { "Sign in with the token" }
        }
        (ask(&contact))
        p { "Have the serial of your kit at hand; it stands on its card and on every page of a pack. A card that was lost is replaced by a new one." }
        @if !app.is_secure() {
            p.warnings { "This service is reached without encryption. Use it in your own network alone." }
        }
    };
    let page = open_page(app.supplier(), "Sign in", &main);
    Ok((status, [(header::CACHE_CONTROL, "no-store")], page).into_response())
}
