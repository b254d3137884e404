//! What changed between revisions, for kits with the same choices: computed once a pair, because revisions never change.

use crate::{Service, ServiceError};
use matchmark_core::document::OneKit;
use matchmark_core::sheets::Changes;
use std::collections::{BTreeMap, HashMap};
use std::sync::{Arc, Mutex, PoisonError};

const REMEMBERED: usize = 256;

/// Design, old letter, new letter, choices as JSON.
type Pair = (String, String, String, String);

/// The pairs computed so far.
#[derive(Default)]
pub(crate) struct Compared(Mutex<HashMap<Pair, Option<Arc<Changes>>>>);

impl Service {
    /// What changed between two revisions for kits with these choices; `None` when one of them does not have the choices.
    pub(crate) async fn compare(
        &self,
        design: &str,
        from: &str,
        to: &str,
        choices: &str,
    ) -> Result<Option<Arc<Changes>>, ServiceError> {
        let pair = (design.to_owned(), from.to_owned(), to.to_owned(), choices.to_owned());
        let known = self.compared.0.lock().unwrap_or_else(PoisonError::into_inner).get(&pair).cloned();
        if let Some(known) = known {
            return Ok(known);
        }
        let kit = kit_with(choices)?;
        let old = self.known_sheets(design, from, kit.clone()).await?;
        let new = self.known_sheets(design, to, kit).await?;
        let changes = self.engine.changes(old.evaluated(), new.evaluated()).await?.map(Arc::new);
        let mut remembered = self.compared.0.lock().unwrap_or_else(PoisonError::into_inner);
        if remembered.len() >= REMEMBERED {
            remembered.clear();
        }
        remembered.insert(pair, changes.clone());
        Ok(changes)
    }
}

/// A kit with these choices and nothing measured.
pub(crate) fn kit_with(choices: &str) -> Result<OneKit, ServiceError> {
    let choices: BTreeMap<String, String> =
        serde_json::from_str(choices).map_err(|_| ServiceError::Inconsistent("the choices of a kit cannot be read"))?;
    Ok(OneKit { choices, ..OneKit::default() })
}
