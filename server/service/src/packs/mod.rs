//! Packs: drawing and issuing them, and what is said of their files and pages afterwards.

pub(crate) mod downloads;
pub(crate) mod drawn_with;
pub(crate) mod files;
pub(crate) mod hand_pages;
pub(crate) mod issue;
pub(crate) mod issued_files;
mod job_faults;
pub(crate) mod job_work;
pub(crate) mod jobs;
pub(crate) mod kept_pages;
pub(crate) mod loose_pages;
pub(crate) mod new_pack;
pub(crate) mod page_facts;
mod pages_before;
pub(crate) mod scanned_sheet;
