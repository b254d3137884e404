//! Signing in: builders with the card of their kit, the supplier's people with their token; and out.

use crate::http::App;
use crate::http::problem::Problem;
use crate::http::session::{cookie, set_cookie};
use crate::listen::Peer;
use crate::pages::form::fields::{FormFields, TextField};
use crate::pages::form::submission::{Sent, Submission};
use crate::pages::house::contact::ask;
use crate::pages::house::home::begin;
use crate::pages::layout::open_page;
use crate::pages::return_path::on_this_service;
use crate::words::{self, Words};
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
pub async fn form(
    State(app): State<App>,
    words: &'static Words,
    Query(then): Query<Then>,
) -> Result<Response, Problem> {
    show(&app, words, &FormFields::with(words, &[("then", &then.then)]), StatusCode::OK).await
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
            show(&app, words::of(&headers), &form.refused(error)?, status).await
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
pub async fn out(State(app): State<App>, submission: Submission) -> Result<Response, Problem> {
    app.end_session(&submission.visitor.who, &submission.visitor.secret).await?;
    let cookie = [(header::SET_COOKIE, set_cookie(None, app.is_secure()))];
    let rest = [(CLEAR_SITE_DATA, HeaderValue::from_static("\"cache\", \"storage\""))];
    Ok((cookie, rest, Redirect::to("/")).into_response())
}

/// Begins a session, in the place of the one that the browser shows.
async fn enter(app: &App, headers: &HeaderMap, token: &str, form: FormFields) -> Result<Response, Problem> {
    let before = cookie(headers, app.is_secure());
    let Some((secret, who)) = app.begin_session(token, before).await? else {
        let words = words::of(headers);
        let form = form.with_fault("/token", words.sign_in.token_wrong());
        return show(app, words, &form, StatusCode::UNPROCESSABLE_ENTITY).await;
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

async fn show(app: &App, words: &Words, form: &FormFields, status: StatusCode) -> Result<Response, Problem> {
    let contact = app.contact().await?;
    let says = &words.sign_in;
    let serial = TextField::text("serial", says.serial_label(), says.serial_hint());
    let code = TextField::text("access_code", says.code_label(), says.code_hint());
    let token = TextField {
        kind: "password",
        autocomplete: "current-password",
        ..TextField::text("token", says.token_label(), says.token_hint())
    };
    let main = html! {
        h1 { (says.heading()) }
        (form.summary())
        h2 { (says.card_heading()) }
        form method="post" action="/sign-in" {
            input type="hidden" name="then" value=(form.get("then"));
            (serial.show(form))
            (code.show(form))
            button type="submit" { (says.card_button()) }
        }
        h2 { (says.token_heading()) }
        form method="post" action="/sign-in/token" {
            input type="hidden" name="then" value=(form.get("then"));
            (token.show(&form.faults_alone()))
            button type="submit" { (says.token_button()) }
        }
        (ask(words, &contact))
        p { (says.lost()) }
        @if !app.is_secure() {
            p.warnings { (says.not_encrypted()) }
        }
    };
    let page = open_page(words, app.supplier(), &says.heading(), &main);
    Ok((status, [(header::CACHE_CONTROL, "no-store")], page).into_response())
}
