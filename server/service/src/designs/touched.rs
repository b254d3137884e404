//! Which kits a draft would touch if it were published, and how: to be looked at before publishing.

use crate::designs::compared::kit_with;
use crate::engine::{Numbering, Wanted};
use crate::rules::lookup::known_draft;
use crate::{Principal, Service, ServiceError};
use matchmark_core::document::Severity;
use matchmark_core::sheets::{ChangeKind, Changes};
use matchmark_store::kits::{self, KitGroup};
use serde::Serialize;
use std::sync::Arc;
use utoipa::ToSchema;

/// How many serials of a group are named.
const NAMED: i64 = 100;

/// What publishing the draft would mean for the kits there are.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct Touched {
    /// The design.
    pub design: String,
    /// SHA-256 of the draft that was looked at, its entity tag.
    pub draft_sha256: String,
    /// Number of kits with parts, check dimensions or steps that change.
    pub kits_touched: i64,
    /// Number of kits that stay as they are.
    pub kits_untouched: i64,
    /// Kits by revision and choices: those of a group have the same parts.
    pub groups: Vec<TouchedGroup>,
}

/// Kits of one revision with the same choices.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct TouchedGroup {
    /// Letter of their revision.
    pub revision: String,
    /// Choice by option, as JSON.
    #[schema(value_type = std::collections::BTreeMap<String, String>)]
    pub choices: serde_json::Value,
    /// How many.
    pub kits: i64,
    /// Their serials, the first hundred; `GET /v1/kits` with design, revision and choices lists all of them.
    pub serials: Vec<String>,
    /// False when the draft does not have their choices, so that they cannot be compared.
    pub comparable: bool,
    /// True when anything changes for them.
    pub touched: bool,
    /// Parts by what becomes of them.
    pub counts: Counts,
    /// What changes; parts that do not are left out.
    pub changes: Option<Changes>,
}

/// Parts by what becomes of them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, ToSchema)]
pub struct Counts {
    /// The same part in the same place.
    pub unchanged: usize,
    /// The same part in another place.
    pub moved: usize,
    /// Old parts that can be made into new ones.
    pub rework: usize,
    /// Old parts that cannot serve.
    pub replace: usize,
    /// New parts.
    pub added: usize,
    /// Parts no longer used.
    pub removed: usize,
}

impl Counts {
    /// The counts of a comparison.
    pub fn of(changes: &Changes) -> Self {
        let mut counts = Self::default();
        for part in &changes.parts {
            *match part.kind {
                ChangeKind::Unchanged => &mut counts.unchanged,
                ChangeKind::Moved => &mut counts.moved,
                ChangeKind::Rework => &mut counts.rework,
                ChangeKind::Replace => &mut counts.replace,
                ChangeKind::Added => &mut counts.added,
                ChangeKind::Removed => &mut counts.removed,
            } += 1;
        }
        counts
    }
}

impl Service {
    /// Which kits the draft would touch, and how.
    pub async fn touched(&self, who: &Principal, design: &str) -> Result<Touched, ServiceError> {
        who.may_support()?;
        let (draft, groups) = {
            let mut read = self.store.read().await?;
            (known_draft(&mut read, design).await?, kits::groups(&mut read, design).await?)
        };
        let nominal = self.evaluated_draft(design, draft.body.clone()).await?;
        let findings = &nominal.evaluation.findings;
        if findings.iter().any(|finding| finding.severity == Severity::Error) {
            return Err(ServiceError::DesignHasErrors(findings.clone()));
        }
        let mut touched = Touched {
            design: design.to_owned(),
            draft_sha256: draft.sha256,
            kits_touched: 0,
            kits_untouched: 0,
            groups: Vec::new(),
        };
        for group in groups {
            let kit = kit_with(&group.choices)?;
            let old = self.known_sheets(design, &group.revision, kit.clone()).await?;
            let numbers = Numbering::Given(nominal.numbers.clone());
            let new = self.engine.evaluate(Wanted { document: draft.body.clone(), kit, numbers }).await?;
            let changes = self.engine.changes(old.evaluated(), Arc::clone(&new)).await?;
            let serials = {
                let mut read = self.store.read().await?;
                kits::serials(&mut read, design, &group, NAMED).await?
            };
            let group = TouchedGroup::of(group, serials, changes);
            *if group.touched { &mut touched.kits_touched } else { &mut touched.kits_untouched } += group.kits;
            touched.groups.push(group);
        }
        Ok(touched)
    }
}

impl TouchedGroup {
    fn of(group: KitGroup, serials: Vec<String>, changes: Option<Changes>) -> Self {
        Self {
            choices: serde_json::from_str(&group.choices).unwrap_or_default(),
            revision: group.revision,
            kits: group.kits,
            serials,
            comparable: changes.is_some(),
            touched: changes.as_ref().is_none_or(|changes| !changes.is_empty()),
            counts: changes.as_ref().map(Counts::of).unwrap_or_default(),
            changes: changes.map(|mut changes| {
                changes.parts.retain(|part| part.kind != ChangeKind::Unchanged);
                changes
            }),
        }
    }
}
