//! What API and pages share: who calls, what they may send, how answers and problems are written.

pub mod accept;
pub mod body;
pub mod caller;
pub mod compression;
pub mod conditions;
pub mod content_tag;
pub mod cors;
pub mod event_stream;
pub mod exported;
pub mod files;
pub mod limits;
pub mod paging;
pub mod problem;
pub mod problem_kinds;
pub mod query;
pub mod ranges;
pub mod request_metrics;
pub mod response;
pub mod session;
pub mod strict_json;
pub mod unread_body;

use matchmark_service::Service;
use std::sync::Arc;

/// What every handler works with.
pub type App = Arc<Service>;
