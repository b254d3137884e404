//! The HTTP face: one file a resource, handlers that read the request, call one use case and write the answer.

mod accept;
mod access_code;
mod body;
mod boxes;
mod caller;
mod changes;
pub mod conditions;
mod contact;
mod customers;
mod deliveries;
mod design_file;
mod designs;
mod distinct;
mod downloads;
mod drafts;
mod drain;
mod drawings;
mod examples;
mod figures;
mod finish;
mod health;
mod holds;
mod joint;
mod joints;
mod kit_imports;
mod kits;
mod limits;
mod measure;
mod measurements;
mod moves;
mod notes;
pub mod notices;
mod openapi;
mod pack_job_events;
mod pack_jobs;
pub mod packs;
mod page_status;
mod paging;
pub mod problem;
pub mod problem_kinds;
pub mod query;
mod ranges;
mod review;
mod revisions;
mod saves;
mod schemas;
mod sheets;
mod sign_in;
mod solids;
mod states;
mod status;
mod stock_csv;
mod stock_news;
mod stock_plan;
mod stop_sheets;
mod support;
mod tokens;
mod wraps;

use crate::config::Callers;
use crate::pages;
use axum::extract::DefaultBodyLimit;
use axum::{Router, middleware};
use matchmark_service::Service;
use std::sync::Arc;
use tower_http::catch_panic::CatchPanicLayer;
use utoipa_axum::router::{OpenApiRouter, UtoipaMethodRouterExt};
use utoipa_axum::routes;

/// What every handler works with.
pub type App = Arc<Service>;

pub use measure::router as metrics_router;

/// All routes, for callers who may take so much.
pub fn router(app: App, callers: &Callers) -> Router {
    let metrics = Arc::clone(app.metrics());
    let (routes, described) = operations().split_for_parts();
    routes
        .merge(pages::router())
        .with_state(Arc::clone(&app))
        .merge(openapi::docs(described))
        .layer(CatchPanicLayer::new())
        .layer(DefaultBodyLimit::max(body::LIMIT))
        .layer(middleware::from_fn_with_state(limits::Limits::new(callers), limits::limit))
        .layer(middleware::from_fn_with_state(drain::LeastRate(callers.least_rate), drain::drain))
        .layer(middleware::from_fn_with_state(app, finish::finish))
        .layer(middleware::from_fn_with_state(metrics, measure::measure))
}

/// The operations that the OpenAPI document describes.
fn operations() -> OpenApiRouter<App> {
    OpenApiRouter::with_openapi(openapi::heading())
        .merge(of_designs())
        .merge(of_sheets())
        .merge(of_kits())
        .merge(of_the_house())
}

/// Designs, from the draft to what becomes of their revisions.
fn of_designs() -> OpenApiRouter<App> {
    OpenApiRouter::new()
        .routes(routes!(designs::create, designs::list))
        .routes(routes!(designs::read))
        .routes(routes!(drafts::write, drafts::read))
        .routes(routes!(drafts::findings))
        .routes(routes!(drafts::pack))
        .routes(routes!(drafts::changes))
        .routes(routes!(drafts::touched))
        .routes(routes!(review::read))
        .routes(routes!(review::freeze))
        .routes(routes!(review::thaw))
        .routes(routes!(saves::list))
        .routes(routes!(saves::read))
        .routes(routes!(saves::restore))
        .routes(routes!(revisions::publish, revisions::list))
        .routes(routes!(revisions::read))
        .routes(routes!(revisions::document))
        .routes(routes!(figures::read, figures::take))
        .routes(routes!(states::withdraw))
        .routes(routes!(states::recall, states::ledger))
        .routes(routes!(states::reinstate))
        .routes(routes!(design_file::export))
        .routes(routes!(design_file::import).layer(DefaultBodyLimit::max(design_file::LIMIT)))
        .routes(routes!(status::read))
}

/// What is computed of a revision.
fn of_sheets() -> OpenApiRouter<App> {
    OpenApiRouter::new()
        .routes(routes!(sheets::members))
        .routes(routes!(sheets::member))
        .routes(routes!(sheets::cut_sheet))
        .routes(routes!(sheets::bend_sheets))
        .routes(routes!(sheets::fit_up))
        .routes(routes!(sheets::parts))
        .routes(routes!(sheets::plates))
        .routes(routes!(sheets::hole_strips))
        .routes(routes!(sheets::jig_sheets))
        .routes(routes!(sheets::checks))
        .routes(routes!(sheets::mass))
        .routes(routes!(changes::read))
        .routes(routes!(wraps::list))
        .routes(routes!(wraps::read))
        .routes(routes!(wraps::svg))
        .routes(routes!(wraps::pdf))
        .routes(routes!(drawings::svg))
        .routes(routes!(solids::step))
}

/// Kits, what is handed out for them and what their holders are told.
fn of_kits() -> OpenApiRouter<App> {
    OpenApiRouter::new()
        .routes(routes!(kits::create, kits::list))
        .routes(routes!(kits::read))
        .routes(routes!(kit_imports::create))
        .routes(routes!(access_code::renew))
        .routes(routes!(boxes::write, boxes::read))
        .routes(routes!(holds::put, holds::list))
        .routes(routes!(holds::lift))
        .routes(routes!(moves::create, moves::list))
        .routes(routes!(notes::add, notes::list))
        .routes(routes!(measurements::add, measurements::read))
        .routes(routes!(measurements::history))
        .routes(routes!(notices::raise, notices::list))
        .routes(routes!(notices::read))
        .routes(routes!(notices::outstanding))
        .routes(routes!(notices::of_kit))
        .routes(routes!(notices::pages))
        .routes(routes!(notices::acknowledge))
        .routes(routes!(notices::complete))
        .routes(routes!(stop_sheets::list))
        .routes(routes!(stop_sheets::read))
        .routes(routes!(stop_sheets::pdf))
        .routes(routes!(stop_sheets::acknowledge))
        .routes(routes!(packs::issue, packs::list))
        .routes(routes!(packs::read))
        .routes(routes!(packs::file))
        .routes(routes!(packs::manifest))
        .routes(routes!(downloads::list))
        .routes(routes!(pack_jobs::create))
        .routes(routes!(pack_jobs::list))
        .routes(routes!(pack_jobs::read))
        .routes(routes!(pack_jobs::kits))
        .routes(routes!(pack_jobs::events))
        .routes(routes!(pack_jobs::cancel))
        .routes(routes!(page_status::status))
        .routes(routes!(page_status::file))
        .routes(routes!(page_status::public_key))
}

/// People, single joints, plans for the saw, and the service itself.
fn of_the_house() -> OpenApiRouter<App> {
    OpenApiRouter::new()
        .routes(routes!(deliveries::list))
        .routes(routes!(deliveries::retry))
        .routes(routes!(customers::list))
        .routes(routes!(customers::read))
        .routes(routes!(customers::export))
        .routes(routes!(customers::erase))
        .routes(routes!(tokens::builder))
        .routes(routes!(tokens::supplier, tokens::list))
        .routes(routes!(tokens::revoke))
        .routes(routes!(tokens::rotate))
        .routes(routes!(sign_in::sign_in))
        .routes(routes!(support::look_up))
        .routes(routes!(contact::read, contact::write))
        .routes(routes!(joint::solve))
        .routes(routes!(joints::wrap))
        .routes(routes!(joints::svg))
        .routes(routes!(joints::pdf))
        .routes(routes!(stock_plan::solve))
        .routes(routes!(stock_plan::of_revision))
        .routes(routes!(stock_plan::of_kit))
        .routes(routes!(stock_plan::of_kits))
        .routes(routes!(schemas::design))
        .routes(routes!(health::alive))
        .routes(routes!(health::ready))
}
