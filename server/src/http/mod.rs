//! What API and pages share: who calls, what they may send, how answers and problems are written.

pub mod accept;
pub mod body;
pub mod caller;
pub mod conditions;
pub mod distinct;
pub mod drain;
pub mod files;
pub mod finish;
pub mod limits;
pub mod measure;
pub mod paging;
pub mod problem;
pub mod problem_kinds;
pub mod query;
pub mod ranges;
pub mod session;

use matchmark_service::Service;
use std::sync::Arc;

/// What every handler works with.
pub type App = Arc<Service>;
