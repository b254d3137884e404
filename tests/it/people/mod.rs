//! Who acts.

mod customers;
mod sign_in;
mod support;
