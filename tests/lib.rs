//! Nothing lives here: see `it/`.
