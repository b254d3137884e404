//! Designs, from the draft to what becomes of their revisions, and what is computed of them.

pub(crate) mod changes;
pub(crate) mod compared;
pub(crate) mod creation;
pub(crate) mod described_joints;
pub(crate) mod design_file;
pub(crate) mod drafts;
pub(crate) mod drawings;
pub(crate) mod figures;
pub(crate) mod files;
pub(crate) mod publish;
pub(crate) mod review;
pub(crate) mod revisions;
pub(crate) mod saves;
pub(crate) mod sheets;
pub(crate) mod solids;
pub(crate) mod states;
pub(crate) mod status;
pub(crate) mod stock_plans;
pub(crate) mod touched;
