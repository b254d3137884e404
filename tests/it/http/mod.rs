//! What holds for every route.

mod access;
mod conditions;
mod cors;
mod encodings;
mod examples;
mod lists;
mod problems;
mod proxied;
mod repeats;
mod requests;
mod shown_once;
mod wrong_types;
