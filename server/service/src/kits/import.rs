//! Many kits at once, from comma-separated values (RFC 4180): all of them, or none and every fault by its line.

use crate::kits::registration::{alike as kits_alike, check_new_kit, register};
use crate::notices::late::{Alike, Late};
use crate::rules::events::{EventType, Happened};
use crate::rules::states::{self, RevisionState};
use crate::rules::valid::Checks;
use crate::words::of_problems;
use crate::{Customer, FieldError, IdempotentCall, NewKit, Principal, Service, ServiceError};
use matchmark_store::audit::{self, Act};
use matchmark_store::{designs, kits, revisions};
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, BTreeSet, HashSet};
use utoipa::ToSchema;

/// Most kits of one file.
const MOST: usize = 5000;

const NEEDED: [&str; 5] = ["serial", "design", "revision", "customer_name", "customer_email"];
const ALSO: [&str; 2] = ["order_number", "choices"];

/// What came of a file of kits.
#[derive(Debug, Clone, Serialize, Deserialize, ToSchema)]
pub struct Imported {
    /// Number of kits registered.
    pub kits: usize,
    /// Their serials, in order of the file.
    pub serials: Vec<String>,
}

/// A kit and the line it stands on.
struct Row {
    line: u64,
    kit: NewKit,
}

impl Service {
    /// Registers all kits of a file.
    pub async fn import_kits(
        &self,
        who: &Principal,
        text: &str,
        once: &IdempotentCall,
    ) -> Result<Imported, ServiceError> {
        who.may_publish()?;
        {
            let mut read = self.store.read().await?;
            if let Some(answer) = once.answered(&mut read).await? {
                return Ok(answer);
            }
        }
        let (rows, mut faults) = read(text);
        self.compare_with_kept(&rows, &mut faults).await?;
        if !faults.0.is_empty() {
            faults.0.sort_by_key(|(line, _)| *line);
            return Err(ServiceError::KitsNotImported(faults.0.into_iter().map(|(_, fault)| fault).collect()));
        }
        let alike: HashSet<Alike> = rows.iter().map(|row| kits_alike(&row.kit)).collect();
        let mut late = Late::default();
        let mut write = self.write_knowing(&mut late, &alike.into_iter().collect::<Vec<_>>()).await?;
        let stamp = self.clock.stamp();
        if let Some(answer) = once.answered(&mut write).await? {
            return Ok(answer);
        }
        let mut serials = Vec::new();
        for Row { kit, .. } in rows {
            states::must_take_kits(&mut write, &kit.design, &kit.revision).await?;
            let (serial, alike) = (kit.serial.clone(), kits_alike(&kit));
            register(&mut write, kit, stamp.at(), &who.token).await?;
            let happened = Happened::to_kit(EventType::KitRegistered, &serial, &alike.design, &alike.revision);
            self.happened(&mut write, happened, &stamp).await?;
            self.tell_late(&mut write, &mut late, &serial, &alike, &stamp).await?;
            serials.push(serial);
        }
        let subject = format!("kit-imports/{}", serials.len());
        let act = Act { at: stamp.at(), actor: &who.token, action: "import-kits", subject: &subject };
        audit::append(&mut write, act).await?;
        let imported = Imported { kits: serials.len(), serials };
        once.record(&mut write, &imported, stamp.at()).await?;
        write.commit().await?;
        self.delivery_news.notify_one();
        Ok(imported)
    }

    /// What is wrong with rows against what is there.
    async fn compare_with_kept(&self, rows: &[Row], faults: &mut Faults) -> Result<(), ServiceError> {
        let says = &of_problems().kit_file;
        let mut serials = BTreeMap::new();
        let mut choices = BTreeSet::new();
        for Row { line, kit } in rows {
            if let Some(first) = serials.insert(&kit.serial, *line) {
                faults.add(*line, "serial", &says.serial_twice(first, &kit.serial));
            }
            let mut read = self.store.read().await?;
            if kits::find(&mut read, &kit.serial).await?.is_some() {
                faults.add(*line, "serial", &says.serial_taken(&kit.serial));
            }
            if designs::find(&mut read, &kit.design).await?.is_none() {
                faults.add(*line, "design", &says.no_design(&kit.design));
                continue;
            }
            if revisions::find(&mut read, &kit.design, &kit.revision).await?.is_none() {
                let told = says.no_revision(&kit.design, &kit.revision);
                faults.add(*line, "revision", &told);
                continue;
            }
            let state = states::of_design(&mut read, &kit.design).await?.of(&kit.revision);
            match state {
                RevisionState::Withdrawn => faults.add(*line, "revision", &says.withdrawn(&kit.revision)),
                RevisionState::Recalled => faults.add(*line, "revision", &says.recalled(&kit.revision)),
                RevisionState::Published | RevisionState::Superseded => {}
            }
            drop(read);
            let wanted = (&kit.design, &kit.revision, &kit.choices);
            if choices.contains(&wanted) {
                continue;
            }
            match self.check_choices(kit).await {
                Ok(()) => drop(choices.insert(wanted)),
                Err(ServiceError::Invalid(errors)) => {
                    for error in errors {
                        faults.add(*line, "choices", &error.detail);
                    }
                }
                Err(error) => return Err(error),
            }
        }
        Ok(())
    }
}

/// What is wrong, by line.
#[derive(Default)]
struct Faults(Vec<(u64, FieldError)>);

impl Faults {
    fn add(&mut self, line: u64, column: &str, detail: &str) {
        let fault = FieldError {
            pointer: format!("/{line}/{column}"),
            detail: of_problems().kit_file.at(line, column, detail),
        };
        self.0.push((line, fault));
    }
}

/// The line on which a row begins that follows this place in the text: the break between a CR LF may still lie before it.
fn line_at(text: &str, byte: u64) -> u64 {
    let bytes = text.as_bytes();
    let mut at = usize::try_from(byte).unwrap_or(usize::MAX).min(bytes.len());
    while bytes.get(at).is_some_and(|byte| matches!(byte, b'\r' | b'\n')) {
        at += 1;
    }
    1 + bytes[..at].iter().filter(|byte| **byte == b'\n').map(|_| 1_u64).sum::<u64>()
}

/// The kits of a file as far as they can be read, and what is wrong with it by itself.
fn read(text: &str) -> (Vec<Row>, Faults) {
    let says = &of_problems().kit_file;
    let mut faults = Faults::default();
    let mut reader = csv::ReaderBuilder::new().flexible(true).trim(csv::Trim::All).from_reader(text.as_bytes());
    let heading = match reader.headers() {
        Ok(heading) => heading.clone(),
        Err(error) => {
            faults.add(1, "", &error.to_string());
            return (Vec::new(), faults);
        }
    };
    let columns: Vec<&str> = heading.iter().map(|name| name.trim_start_matches('\u{feff}')).collect();
    for needed in NEEDED.into_iter().filter(|needed| !columns.contains(needed)) {
        faults.add(1, needed, says.column_missing());
    }
    for (index, name) in columns.iter().enumerate() {
        if !NEEDED.contains(name) && !ALSO.contains(name) {
            faults.add(1, name, &says.no_column(NEEDED.into_iter().chain(ALSO).collect::<Vec<_>>().join(", ")));
        }
        if columns.iter().take(index).any(|before| before == name) {
            faults.add(1, name, says.column_twice());
        }
    }
    if !faults.0.is_empty() {
        return (Vec::new(), faults);
    }
    let mut rows = Vec::new();
    for record in reader.records() {
        let record = match record {
            Ok(record) => record,
            Err(error) => {
                let line = error.position().map_or(0, |place| line_at(text, place.byte()));
                faults.add(line, "", &error.to_string());
                continue;
            }
        };
        let line = record.position().map_or(0, |place| line_at(text, place.byte()));
        if record.len() != columns.len() {
            faults.add(line, "", &says.values(record.len(), columns.len()));
            continue;
        }
        if rows.len() == MOST {
            faults.add(line, "", &says.most(MOST));
            break;
        }
        let value = |name: &str| {
            let index = columns.iter().position(|column| *column == name);
            index.and_then(|index| record.get(index)).unwrap_or_default().to_owned()
        };
        let Some(choices) = choices(&value("choices")) else {
            faults.add(line, "choices", says.choices());
            continue;
        };
        let kit = NewKit {
            serial: value("serial"),
            design: value("design"),
            revision: value("revision"),
            choices,
            order_number: value("order_number"),
            customer: Customer { name: value("customer_name"), email: value("customer_email") },
        };
        let mut checks = Checks::default();
        check_new_kit(&mut checks, &kit);
        if let Err(ServiceError::Invalid(errors)) = checks.done() {
            for error in errors {
                faults.add(line, &error.pointer.trim_start_matches('/').replace('/', "_"), &error.detail);
            }
        }
        rows.push(Row { line, kit });
    }
    if rows.is_empty() && faults.0.is_empty() {
        faults.add(1, "", says.no_kits());
    }
    (rows, faults)
}

fn choices(text: &str) -> Option<BTreeMap<String, String>> {
    let parts = text.split(';').map(str::trim).filter(|part| !part.is_empty());
    parts.map(|part| part.split_once('=').map(|(a, b)| (a.trim().to_owned(), b.trim().to_owned()))).collect()
}
