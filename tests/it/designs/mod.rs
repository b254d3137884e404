//! Designs, from the draft to what becomes of their revisions.

mod changes_found;
mod choices;
mod design_file;
mod drawings;
mod figures;
mod files;
mod immutability;
mod imports;
mod joints;
mod life_cycle;
mod review;
mod saves;
mod solids;
mod states;
mod status;
mod stock_plans;
