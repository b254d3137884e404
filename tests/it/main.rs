//! Whole-system tests and checks against published values.

mod access;
mod audit;
mod command_line;
mod conditions;
mod demo;
mod fixtures;
mod immutability;
mod life_cycle;
mod lists;
mod problems;
mod repeats;
mod server;
