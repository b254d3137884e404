//! What an import says: findings and questions as facts, each with its English sentence beside it. Nothing else in this crate holds words
//! for people.

pub mod answers;
pub mod dxf;
pub mod files;
pub mod join;
pub mod over;
pub mod place;
pub mod sections;
pub mod step;
pub mod table;
pub mod tubes;
pub mod write;
