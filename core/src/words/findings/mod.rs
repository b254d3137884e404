//! What findings and refusals of requests are about: a fact each, with its sentence. The API answers in English.

pub(crate) mod code;
pub(crate) mod document;
pub(crate) mod frame;
pub(crate) mod joint;
pub(crate) mod mixed_pages;
pub(crate) mod paper;
pub(crate) mod part;
pub(crate) mod path;
pub(crate) mod seal;
pub(crate) mod sheets;
pub(crate) mod solid;
pub(crate) mod stock;
pub(crate) mod values;

#[cfg(test)]
mod tests;
