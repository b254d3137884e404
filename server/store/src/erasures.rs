//! Which customers were erased, kept beside the database, so that a database restored from a backup of before can have them
//! erased again. An id says nothing about a person.

use super::StoreError;
use super::objects::{Group, Objects};

/// The list.
#[derive(Debug, Clone)]
pub struct Erasures(Objects);

impl Erasures {
    /// The list among these objects.
    pub fn among(objects: Objects) -> Self {
        Self(objects)
    }

    /// Puts a customer on the list; belongs before the write that erases them.
    pub async fn add(&self, customer: &str, at: &str) -> Result<(), StoreError> {
        self.0.put(Group::Erasures, customer, at.as_bytes().to_vec()).await
    }

    /// Ids of all who were erased.
    pub async fn all(&self) -> Result<Vec<String>, StoreError> {
        self.0.names(Group::Erasures).await
    }
}
