//! Who acts: tokens, access codes, sessions, customers, and the look-up of support.

pub(crate) mod access_code;
pub(crate) mod customers;
pub(crate) mod sessions;
pub(crate) mod sign_in;
pub(crate) mod support;
pub(crate) mod tokens;
