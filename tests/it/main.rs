//! Whole-system tests and checks against published values.
