//! What builders measured: kept as it comes, taken into account in the packs of their kit, and taken back where it was a mistake.

use crate::rules::events::{EventType, Happened};
use crate::rules::lookup::{known_document, known_kit, readable_kit};
use crate::words::of_problems;
use crate::{FieldError, IdempotentCall, Principal, Service, ServiceError};
use matchmark_core::document::{self, Finding, OneKit, Severity};
use matchmark_core::sheets::{ChangeKind, Changes};
use matchmark_store::Conn;
use matchmark_store::audit::{self, Act};
use matchmark_store::kits::KitRow;
use matchmark_store::measurements::{self, MeasurementRow};
use serde::Serialize;
use std::collections::BTreeMap;
use utoipa::ToSchema;

/// The measured values of a kit and what they change.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct Measured {
    /// Serial of the kit.
    pub kit: String,
    /// The newest value of each gauge that has one, mm.
    pub measured: BTreeMap<String, f64>,
    /// When the value of a gauge was taken back that has none now, RFC 3339 in UTC.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub taken_back: BTreeMap<String, String>,
    /// Parts that differ from those of a frame with nominal values; all others are as in the revision.
    pub affected: Vec<Affected>,
}

/// A value as it was measured.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct MeasurementView {
    /// Number within the kit, from 1.
    pub number: i64,
    /// Name of the gauge.
    pub gauge: String,
    /// Value, mm; null where the value before was taken back.
    pub value: Option<f64>,
    /// When it was told or taken back, RFC 3339 in UTC.
    pub at: String,
    /// Id of the token that did so.
    pub by: String,
}

/// A part that measured values change.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct Affected {
    /// Id of the member or plate.
    pub member: String,
    /// What the measured values make of it: `moved`, `rework` or `replace` compared with the part made to nominal values.
    pub kind: ChangeKind,
    /// Change of its overall length, mm; absent for a plate.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub overall: Option<f64>,
}

impl Service {
    /// Adds measured values to a kit; `None` takes the value of its gauge back, so that parts are made to nominal size again. Values
    /// outside their limits are refused, all of them, with the limit named.
    pub async fn measure(
        &self,
        who: &Principal,
        serial: &str,
        values: &BTreeMap<String, Option<f64>>,
        once: &IdempotentCall,
    ) -> Result<Measured, ServiceError> {
        loop {
            let (kit, before) = {
                let mut read = self.store.read().await?;
                if once.was_done(&mut read).await? {
                    drop(read);
                    return self.measured(who, serial).await;
                }
                let kit = readable_kit(&mut read, who, serial).await?;
                let before = known_kit(&mut read, &kit).await?;
                let new =
                    values.iter().filter(|(gauge, value)| value.is_some() || !before.measured.contains_key(*gauge));
                let new = new.map(|(gauge, _)| gauge.as_str());
                must_be_gauges(new, &known_document(&mut read, &kit.design, &kit.revision).await?)?;
                (kit, before)
            };
            let mut after = before.clone();
            for (gauge, value) in values {
                match value {
                    Some(value) => after.measured.insert(gauge.clone(), *value),
                    None => after.measured.remove(gauge),
                };
            }
            let mut measured = self.measured_of(&kit, &after).await?;
            let stamp = self.clock.stamp();
            let mut write = self.store.write().await?;
            let now = readable_kit(&mut write, who, serial).await?;
            // Limits are those of the revision, and values are good or not together.
            let is_as_before = now.revision == kit.revision && known_kit(&mut write, &now).await? == before;
            if !is_as_before || once.was_done(&mut write).await? {
                continue;
            }
            once.note(&mut write, stamp.at()).await?;
            let mut gauges = Vec::new();
            for (gauge, &value) in values {
                let was = before.measured.get(gauge).copied();
                let Some(told) = value.or(was) else { continue };
                let row = MeasurementRow { gauge: gauge.clone(), value: told, is_taken_back: value.is_none() };
                measurements::insert(&mut write, serial, &row, stamp.at(), &who.token).await?;
                gauges.push(row.gauge);
            }
            measured.taken_back = taken_back(&mut write, serial).await?;
            let subject = format!("kits/{serial}/measurements");
            let act = Act { at: stamp.at(), actor: &who.token, action: "measure-kit", subject: &subject };
            audit::append(&mut write, act).await?;
            if !gauges.is_empty() {
                let happened = Happened::to_kit(EventType::KitMeasured, serial, &kit.design, &kit.revision);
                let happened = happened.at("/measurements").with(|facts| facts.gauges = gauges);
                self.happened(&mut write, happened, &stamp).await?;
            }
            write.commit().await?;
            self.delivery_news.notify_one();
            return Ok(measured);
        }
    }

    /// The measured values of a kit.
    pub async fn measured(&self, who: &Principal, serial: &str) -> Result<Measured, ServiceError> {
        let kit = {
            let mut read = self.store.read().await?;
            readable_kit(&mut read, who, serial).await?
        };
        let one_kit = self.one_kit(&kit).await?;
        let mut measured = self.measured_of(&kit, &one_kit).await?;
        measured.taken_back = taken_back(&mut self.store.read().await?, serial).await?;
        Ok(measured)
    }

    /// All that was measured of a kit, oldest first.
    pub async fn measurement_history(
        &self,
        who: &Principal,
        serial: &str,
    ) -> Result<Vec<MeasurementView>, ServiceError> {
        let mut read = self.store.read().await?;
        readable_kit(&mut read, who, serial).await?;
        let rows = measurements::list(&mut read, serial).await?.into_iter().map(|row| MeasurementView {
            number: row.number,
            gauge: row.gauge,
            value: row.taken_back.is_none().then_some(row.value),
            at: row.at,
            by: row.token,
        });
        Ok(rows.collect())
    }

    /// What the engine needs to know of a kit.
    pub(crate) async fn one_kit(&self, kit: &KitRow) -> Result<OneKit, ServiceError> {
        let mut read = self.store.read().await?;
        known_kit(&mut read, kit).await
    }

    async fn measured_of(&self, kit: &KitRow, one_kit: &OneKit) -> Result<Measured, ServiceError> {
        let to_figure = OneKit { measured: BTreeMap::new(), ..one_kit.clone() };
        let old = self.known_sheets(&kit.design, &kit.revision, to_figure).await?;
        let new = self.known_sheets(&kit.design, &kit.revision, one_kit.clone()).await?;
        let (old, new) = (old.evaluated(), new.evaluated());
        let errors: Vec<Finding> =
            new.evaluation.findings.iter().filter(|finding| finding.severity == Severity::Error).cloned().collect();
        if !errors.is_empty() {
            return Err(ServiceError::NotMeasurable(errors.into_iter().map(as_sent).collect()));
        }
        let changes = self.engine.changes(old, new).await?;
        let parts = changes.map_or_else(Vec::new, |Changes { parts, .. }| parts);
        let affected = parts.into_iter().filter(|part| part.kind != ChangeKind::Unchanged).map(|part| Affected {
            member: part.member,
            kind: part.kind,
            overall: part.overall,
        });
        Ok(Measured {
            kit: kit.serial.clone(),
            measured: one_kit.measured.clone(),
            taken_back: BTreeMap::new(),
            affected: affected.collect(),
        })
    }
}

/// A finding with the place of the value in what was sent, rather than that of the gauge in the document.
fn as_sent(mut finding: Finding) -> Finding {
    if let Some(gauge) = finding.pointer.strip_prefix("/gauges") {
        finding.pointer = gauge.to_owned();
    }
    finding
}

/// When the value of each gauge was taken back that has none now.
pub(crate) async fn taken_back(conn: &mut Conn, serial: &str) -> Result<BTreeMap<String, String>, ServiceError> {
    let last = measurements::last(measurements::list(conn, serial).await?);
    Ok(last.into_iter().filter(|(_, row)| row.taken_back.is_some()).map(|(gauge, row)| (gauge, row.at)).collect())
}

/// Refuses gauges that the kit's revision does not have.
fn must_be_gauges<'a>(named: impl Iterator<Item = &'a str>, document: &str) -> Result<(), ServiceError> {
    let gauges = document::read(document).design.and_then(|design| design.gauges).unwrap_or_default();
    let unknown = named.filter(|name| !gauges.contains_key(*name));
    let known: Vec<&str> = gauges.keys().map(String::as_str).collect();
    let detail = match known.as_slice() {
        [] => of_problems().fields.nothing_to_measure().to_owned(),
        known => of_problems().fields.gauges(known.join(", ")),
    };
    let errors: Vec<FieldError> =
        unknown.map(|name| FieldError { pointer: format!("/{name}"), detail: detail.clone() }).collect();
    if errors.is_empty() { Ok(()) } else { Err(ServiceError::Invalid(errors)) }
}
