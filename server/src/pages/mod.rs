//! Pages for people: HTML made here, no script needed. They call the use cases that the API calls; who may do what is decided there.

mod builder;
mod contact;
mod deed;
mod designs;
mod failed;
mod figures;
mod filled;
mod handbook;
mod hold;
mod home;
mod import;
mod jobs;
mod kit;
mod kits;
mod layout;
mod measure;
mod notices;
mod page_status;
mod publish;
mod raise;
mod recalled;
mod redraw;
mod review;
mod revision;
mod sign_in;
mod stop_sheet;
mod style;
mod support;
mod sure;
mod then;
mod visitor;
mod words;

pub use failed::{page as failed, wanted as failed_wanted};
pub use visitor::shown_session;

use crate::api::App;
use axum::Router;
use axum::routing::{get, post};

/// All pages.
pub fn router() -> Router<App> {
    Router::new()
        .route("/", get(home::home))
        .route("/style.css", get(style::sheet))
        .route("/icon.svg", get(style::icon))
        .route("/problems", get(home::problems))
        .route("/problems/{slug}", get(home::problem))
        .route("/handbook", get(handbook::first))
        .route("/handbook/{page}", get(handbook::page))
        .route("/handbook/pictures/{picture}", get(handbook::picture))
        .route("/P/{code}", get(page_status::page))
        .route("/sign-in", get(sign_in::form).post(sign_in::with_card))
        .route("/sign-in/token", post(sign_in::with_token))
        .route("/sign-out", post(sign_in::out))
        .route("/kits", get(kits::list))
        .route("/kits/new", get(kits::new).post(kits::create))
        .route("/kits/import", get(import::form).post(import::import))
        .route("/kits/{serial}", get(kit::page))
        .route("/kits/{serial}/card", post(kits::card))
        .route("/kits/{serial}/packs", get(redraw::form).post(redraw::issue))
        .route("/kits/{serial}/packs/{number}", get(kit::download))
        .route("/kits/{serial}/holds", get(hold::form).post(hold::put))
        .route("/kits/{serial}/holds/{hold}/lifting", post(hold::lift))
        .route("/kits/{serial}/measurements", get(measure::form).post(measure::add))
        .route("/kits/{serial}/notices/{number}/pages", get(builder::pages))
        .route("/kits/{serial}/notices/{number}/seen", post(builder::seen))
        .route("/kits/{serial}/notices/{number}/done", post(builder::done))
        .route("/kits/{serial}/stop-sheets/{letter}", get(stop_sheet::read).post(stop_sheet::acknowledge))
        .route("/kits/{serial}/stop-sheets/{letter}/print", get(stop_sheet::print))
        .route("/designs", get(designs::list))
        .route("/designs/{design}", get(designs::read))
        .route("/designs/{design}/draft", get(designs::draft))
        .route("/designs/{design}/draft/freeze", post(review::freeze))
        .route("/designs/{design}/draft/thaw", post(review::thaw))
        .route("/designs/{design}/publish", get(publish::form).post(publish::publish))
        .route("/designs/{design}/notices/new", get(raise::form).post(raise::raise))
        .route("/designs/{design}/revisions/{letter}", get(revision::read))
        .route("/designs/{design}/revisions/{letter}/figures", get(figures::read).post(figures::take))
        .route("/designs/{design}/revisions/{letter}/withdrawal", post(revision::withdraw))
        .route("/designs/{design}/revisions/{letter}/recall", post(revision::recall))
        .route("/designs/{design}/revisions/{letter}/reinstatement", post(revision::reinstate))
        .route("/designs/{design}/revisions/{letter}/jobs", post(jobs::create))
        .route("/contact", get(contact::form).post(contact::change))
        .route("/notices", get(notices::outstanding))
        .route("/jobs", get(jobs::list))
        .route("/jobs/{job}", get(jobs::read))
        .route("/jobs/{job}/cancel", post(jobs::cancel))
        .route("/support", get(support::look_up))
        .route("/support/{serial}/notes", post(support::note))
        .route("/support/{serial}/person", post(support::person))
}
