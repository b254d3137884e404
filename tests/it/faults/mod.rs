//! What is acknowledged survives: a killed process, a power cut, a disk that fails or is full.

mod disk;
mod killed;
mod power_cut;

use crate::server::Server;
use serde_json::Value;

/// A whole number from the environment, for longer runs.
fn wanted(variable: &str, usually: usize) -> usize {
    std::env::var(variable).map_or(usually, |text| text.parse().unwrap_or_else(|_| panic!("{variable} is a number")))
}

/// All items of a list that is longer than a page.
fn all(server: &Server, token: &str, path: &str, name: &str) -> Vec<Value> {
    let (mut items, mut next) = (Vec::new(), format!("{path}?page_size=200"));
    loop {
        let page = server.get(&next, token).expect(200).json();
        items.extend(page[name].as_array().unwrap().clone());
        match page["next"].as_str() {
            Some(cursor) => next = format!("{path}?page_size=200&cursor={cursor}"),
            None => return items,
        }
    }
}
