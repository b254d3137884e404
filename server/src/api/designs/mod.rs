//! Designs and what is computed of them.

mod changes;
mod cope_cases;
mod creation;
mod described_joints;
mod design_file;
mod drafts;
mod drawings;
mod figures;
pub mod files;
mod imports;
mod review;
mod revisions;
mod saves;
mod sheets;
mod solids;
mod states;
mod status;
mod stock_csv;
mod stock_plan;
mod stock_progress;
mod wraps;

use crate::http::App;
use axum::extract::DefaultBodyLimit;
use utoipa_axum::router::{OpenApiRouter, UtoipaMethodRouterExt};
use utoipa_axum::routes;

/// Their operations.
pub fn operations() -> OpenApiRouter<App> {
    OpenApiRouter::new()
        .routes(routes!(creation::create, creation::list))
        .routes(routes!(creation::read))
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
        .routes(routes!(files::list))
        .routes(routes!(files::read))
        .routes(routes!(cope_cases::solve))
        .routes(routes!(described_joints::wrap))
        .routes(routes!(described_joints::svg))
        .routes(routes!(described_joints::pdf))
        .routes(routes!(imports::read).layer(DefaultBodyLimit::max(imports::LIMIT)))
        .routes(routes!(stock_plan::solve))
        .routes(routes!(stock_plan::of_revision))
        .routes(routes!(stock_plan::of_kit))
        .routes(routes!(stock_plan::of_kits))
}
