//! Rebuilds the binary when a migration is added: the macro that embeds them only watches the files it already knows.

fn main() {
    println!("cargo:rerun-if-changed=../../migrations/sqlite");
    println!("cargo:rerun-if-changed=../../migrations/postgres");
}
