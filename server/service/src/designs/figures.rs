//! A revision stays what it was: what this version of the engine computes is held against what was recorded when it was published.

use crate::designs::compared::kit_with;
use crate::designs::sheets::numbering;
use crate::engine::{Engine, Evaluated, Numbering, Wanted};
use crate::rules::lookup::{known_document, known_revision};
use crate::words::of_problems;
use crate::{FieldError, IdempotentCall, Principal, Service, ServiceError};
use matchmark_core::document::{self, OneKit};
use matchmark_core::sheets::{FigureChange, Figures};
use matchmark_store::audit::{self, Act};
use matchmark_store::figures::{self, FiguresRow};
use matchmark_store::hash::sha256_hex;
use matchmark_store::{Conn, designs, revisions};
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, HashSet};
use std::sync::{Arc, Mutex, PoisonError};
use utoipa::ToSchema;

/// Version of the engine of this process.
pub(crate) const ENGINE: &str = env!("CARGO_PKG_VERSION");

/// Design, letter and choices for which this process computes what was recorded.
#[derive(Default)]
pub(crate) struct Agreed(Mutex<HashSet<(String, String, String)>>);

/// What this version of the engine makes of a published revision, against what was recorded of it.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct FiguresView {
    /// Letter of the revision.
    pub revision: String,
    /// True when everything agrees within 0.01 mm and 0.01 degrees. Otherwise nothing of the revision is handed out until a publisher has taken
    /// the figures.
    pub agrees: bool,
    /// Version of the engine that computes now.
    pub engine: String,
    /// SHA-256 of what it computes, to be named when the figures are taken.
    pub sha256: String,
    /// One a combination of choices that figures are recorded for.
    pub combinations: Vec<CombinationFigures>,
}

/// The same for one combination of choices.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct CombinationFigures {
    /// Option and choice; empty for the first choices.
    pub choices: BTreeMap<String, String>,
    /// Version of the engine whose figures are in force.
    pub engine: String,
    /// Since when they are, RFC 3339 in UTC.
    pub at: String,
    /// What is not as recorded.
    pub changes: Vec<FigureChange>,
}

/// Figures that a publisher has looked at and takes.
#[derive(Debug, Clone, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(example = json!({"sha256": "9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08"}))]
pub struct TakeFigures {
    /// SHA-256 of the figures as they were read.
    pub sha256: String,
}

/// What one combination of choices comes to now.
struct Now {
    choices: String,
    recorded: FiguresRow,
    text: String,
    changes: Vec<FigureChange>,
}

impl Service {
    /// Refuses what this version of the engine makes of a revision where that is not what was recorded; records it where nothing was.
    pub(crate) async fn must_agree(
        &self,
        design: &str,
        letter: &str,
        kit: &OneKit,
        evaluated: &Arc<Evaluated>,
    ) -> Result<(), ServiceError> {
        let asked = (design.to_owned(), letter.to_owned(), choices_text(&kit.choices)?);
        if self.agreed.0.lock().unwrap_or_else(PoisonError::into_inner).contains(&asked) {
            return Ok(());
        }
        let (choices, nominal, recorded) = {
            let mut conn = self.store.read().await?;
            let document = known_document(&mut conn, design, letter).await?;
            let settled = document::read(&document).design.map(|design| kit.settled_choices(&design));
            let choices = choices_text(&settled.unwrap_or_default())?;
            let recorded = figures::in_force(&mut conn, design, letter, &choices).await?;
            let nominal = if kit.measured.is_empty() {
                Arc::clone(evaluated)
            } else {
                nominal(&mut conn, &self.engine, design, letter, &choices).await?
            };
            (choices, nominal, recorded)
        };
        let Some(now) = figures_of(&nominal) else { return Ok(()) };
        let recorded = match recorded {
            Some(row) => Some(row),
            None => self.record_first((design, letter), &choices, &text(&now)?).await?,
        };
        if let Some(row) = recorded {
            let changes = read(&row)?.changes_to(&now);
            if !changes.is_empty() {
                let parts: HashSet<&str> = changes.iter().map(|change| change.part.as_str()).collect();
                return Err(ServiceError::FiguresDiffer {
                    design: design.to_owned(),
                    letter: letter.to_owned(),
                    parts: parts.len(),
                    engine: row.engine,
                });
            }
        }
        self.agreed.0.lock().unwrap_or_else(PoisonError::into_inner).insert(asked);
        Ok(())
    }

    /// Records figures where there are none yet; returns those that another call recorded meanwhile.
    async fn record_first(
        &self,
        revision: (&str, &str),
        choices: &str,
        figures: &str,
    ) -> Result<Option<FiguresRow>, ServiceError> {
        let stamp = self.clock.stamp();
        let mut write = self.store.write().await?;
        let meanwhile = figures::in_force(&mut write, revision.0, revision.1, choices).await?;
        if meanwhile.is_none() {
            record(&mut write, revision, choices, figures, stamp.at(), "system").await?;
            write.commit().await?;
        }
        Ok(meanwhile)
    }

    /// What this version of the engine makes of a revision, against what was recorded.
    pub async fn figures(&self, who: &Principal, design: &str, letter: &str) -> Result<FiguresView, ServiceError> {
        who.may_support()?;
        view(letter, &self.figures_now(design, letter).await?)
    }

    /// Takes the figures that this version computes, as read before. Repeated, it changes nothing.
    pub async fn take_figures(
        &self,
        who: &Principal,
        design: &str,
        letter: &str,
        taken: &TakeFigures,
        once: &IdempotentCall,
    ) -> Result<FiguresView, ServiceError> {
        who.may_publish()?;
        let mut now = self.figures_now(design, letter).await?;
        if whole_sha256(&now) != taken.sha256 {
            return Err(ServiceError::Invalid(vec![FieldError {
                pointer: "/sha256".to_owned(),
                detail: of_problems().fields.figures_hash().to_owned(),
            }]));
        }
        let stamp = self.clock.stamp();
        let mut write = self.store.write().await?;
        if once.answered::<String>(&mut write).await?.is_none() {
            for one in now.iter_mut().filter(|one| !one.changes.is_empty()) {
                let row = record(&mut write, (design, letter), &one.choices, &one.text, stamp.at(), &who.token).await?;
                (one.recorded, one.changes) = (row, Vec::new());
            }
            once.record(&mut write, &taken.sha256, stamp.at()).await?;
            write.commit().await?;
        }
        view(letter, &now)
    }

    /// The figures of a document that is about to be published, for each combination of its choices that is looked at.
    pub(crate) async fn figures_to_record(&self, document: &str) -> Result<Vec<(String, String)>, ServiceError> {
        let mut all = Vec::new();
        for choices in matchmark_core::looked_at_choices(document) {
            let key = choices_text(&choices)?;
            let kit = OneKit { choices, ..OneKit::default() };
            let wanted = Wanted { document: document.to_owned(), kit, numbers: Numbering::After(None) };
            if let Some(figures) = figures_of(&*self.engine.evaluate(wanted).await?) {
                all.push((key, text(&figures)?));
            }
        }
        Ok(all)
    }

    async fn figures_now(&self, design: &str, letter: &str) -> Result<Vec<Now>, ServiceError> {
        let mut conn = self.store.read().await?;
        figures_now(&mut conn, &self.engine, design, letter).await
    }
}

/// All revisions whose figures are not as recorded, each with its design, and how many were looked at. Reads the database as it is,
/// which may be one of an earlier version.
pub async fn figures_that_differ(
    conn: &mut Conn,
    engine: &Engine,
) -> Result<(usize, Vec<(String, FiguresView)>), ServiceError> {
    let (mut looked_at, mut differ) = (0, Vec::new());
    for design in designs::ids(conn).await? {
        for row in revisions::list(conn, &design).await? {
            let found = view(&row.letter, &figures_now(conn, engine, &design, &row.letter).await?)?;
            looked_at += 1;
            if !found.agrees {
                differ.push((design.clone(), found));
            }
        }
    }
    Ok((looked_at, differ))
}

async fn figures_now(conn: &mut Conn, engine: &Engine, design: &str, letter: &str) -> Result<Vec<Now>, ServiceError> {
    known_revision(conn, design, letter).await?;
    let mut now = Vec::new();
    for choices in figures::choices(conn, design, letter).await? {
        let Some(recorded) = figures::in_force(conn, design, letter, &choices).await? else { continue };
        let nominal = nominal(conn, engine, design, letter, &choices).await?;
        let computed = figures_of(&nominal).unwrap_or_default();
        let changes = read(&recorded)?.changes_to(&computed);
        now.push(Now { choices, text: text(&computed)?, recorded, changes });
    }
    Ok(now)
}

/// What a revision comes to with these choices and nothing measured.
async fn nominal(
    conn: &mut Conn,
    engine: &Engine,
    design: &str,
    letter: &str,
    choices: &str,
) -> Result<Arc<Evaluated>, ServiceError> {
    let revision = known_revision(conn, design, letter).await?;
    let document = known_document(conn, design, letter).await?;
    let wanted = Wanted { document, kit: kit_with(choices)?, numbers: numbering(&revision)? };
    engine.evaluate(wanted).await
}

/// Puts figures on record, and returns the record; belongs in the transaction that calls for it.
pub(crate) async fn record(
    conn: &mut Conn,
    (design, letter): (&str, &str),
    choices: &str,
    figures: &str,
    at: &str,
    token: &str,
) -> Result<FiguresRow, ServiceError> {
    let before = figures::in_force(conn, design, letter, choices).await?.map_or(0, |row| row.number);
    let row = FiguresRow {
        design: design.to_owned(),
        letter: letter.to_owned(),
        choices: choices.to_owned(),
        number: before + 1,
        figures: figures.to_owned(),
        sha256: sha256_hex(figures),
        engine: ENGINE.to_owned(),
        at: at.to_owned(),
        token: token.to_owned(),
    };
    figures::insert(conn, &row).await?;
    let subject = format!("designs/{design}/revisions/{letter}/figures/{choices}/{}/{}", row.number, row.sha256);
    audit::append(conn, Act { at, actor: token, action: "record-figures", subject: &subject }).await?;
    Ok(row)
}

fn view(letter: &str, now: &[Now]) -> Result<FiguresView, ServiceError> {
    let combinations = now.iter().map(|one| {
        Ok(CombinationFigures {
            choices: kit_with(&one.choices)?.choices,
            engine: one.recorded.engine.clone(),
            at: one.recorded.at.clone(),
            changes: one.changes.clone(),
        })
    });
    Ok(FiguresView {
        revision: letter.to_owned(),
        agrees: now.iter().all(|one| one.changes.is_empty()),
        engine: ENGINE.to_owned(),
        sha256: whole_sha256(now),
        combinations: combinations.collect::<Result<_, ServiceError>>()?,
    })
}

/// The hash of what is computed now for all combinations, each on two lines.
fn whole_sha256(now: &[Now]) -> String {
    let lines: String = now.iter().map(|one| format!("{}\n{}\n", one.choices, sha256_hex(&one.text))).collect();
    sha256_hex(format!("matchmark-figures/1\n{lines}"))
}

fn figures_of(evaluated: &Evaluated) -> Option<Figures> {
    evaluated.evaluation.made.as_deref().map(Figures::of)
}

fn text(figures: &Figures) -> Result<String, ServiceError> {
    serde_json::to_string(figures).map_err(|_| ServiceError::Inconsistent("figures cannot be written"))
}

fn read(row: &FiguresRow) -> Result<Figures, ServiceError> {
    serde_json::from_str(&row.figures)
        .map_err(|_| ServiceError::Inconsistent("the recorded figures of a revision cannot be read"))
}

fn choices_text(choices: &BTreeMap<String, String>) -> Result<String, ServiceError> {
    serde_json::to_string(choices).map_err(|_| ServiceError::Inconsistent("choices cannot be written"))
}
