//! The facts that findings are about, each with its sentence.

pub(crate) mod document;
pub(crate) mod frame;
pub(crate) mod part;
pub(crate) mod sheets;
