//! Runs the engine off the threads that serve: a few computations at once, others wait their turn, and too many are turned away.

use matchmark_core::document::Finding;
use matchmark_core::pack::{self, Issue, RenderError};
use matchmark_core::part::joint::{self, JointError};
use matchmark_core::render::{SolidError, SolidHeading};
use matchmark_core::sheets::{Sheets, Wrap};
use matchmark_core::{Evaluation, JointRequest, OneJoint, one_joint, solid_step};
use std::collections::VecDeque;
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;
use tokio::sync::Semaphore;

/// Thickness of the paper wraps are printed on, mm: 80 g/m2 office paper (common practice).
pub const PAPER_THICKNESS: f64 = 0.10;

const PATIENCE: Duration = Duration::from_secs(10);
const REMEMBERED: usize = 16;

/// Why a computation gave nothing.
#[derive(Debug)]
pub enum EngineError {
    /// Too many are waiting.
    Busy,
    /// It was cut off, which is our fault.
    CutOff,
    /// Something could not be drawn.
    NotDrawn {
        /// Stable code.
        code: &'static str,
        /// The cause.
        message: String,
    },
    /// A joint that cannot be computed.
    Joint {
        /// Stable code.
        code: &'static str,
        /// Place in the text.
        pointer: String,
        /// The cause.
        message: String,
    },
    /// A described joint that cannot be made.
    JointFindings(Vec<Finding>),
}

impl From<SolidError> for EngineError {
    fn from(error: SolidError) -> Self {
        Self::NotDrawn { code: error.code(), message: error.to_string() }
    }
}

impl From<RenderError> for EngineError {
    fn from(error: RenderError) -> Self {
        Self::NotDrawn { code: error.code(), message: error.to_string() }
    }
}

impl From<JointError> for EngineError {
    fn from(error: JointError) -> Self {
        Self::Joint { code: error.code(), pointer: error.pointer().to_owned(), message: error.to_string() }
    }
}

/// The pack of an evaluation.
pub fn pack_pdf(evaluation: &Evaluation, issue: &Issue) -> Result<Vec<u8>, EngineError> {
    Ok(pack::render(sheets(evaluation)?, issue)?)
}

fn sheets(evaluation: &Evaluation) -> Result<&Sheets, EngineError> {
    evaluation
        .sheets
        .as_ref()
        .ok_or(EngineError::NotDrawn { code: "design-has-errors", message: "The design has errors.".to_owned() })
}

/// Texts and what they came to, the latest first.
type Remembered = VecDeque<(String, Arc<Evaluation>)>;

/// The engine with its turnstile and the evaluations it remembers.
pub struct Engine {
    turnstile: Arc<Semaphore>,
    remembered: Arc<Mutex<Remembered>>,
}

impl Engine {
    /// One computation for each processor at once.
    pub fn new() -> Self {
        let processors = std::thread::available_parallelism().map_or(1, usize::from);
        Self { turnstile: Arc::new(Semaphore::new(processors)), remembered: Arc::default() }
    }

    /// What a document's text comes to.
    pub async fn evaluate(&self, text: String) -> Result<Arc<Evaluation>, EngineError> {
        let remembered = Arc::clone(&self.remembered);
        self.run(move || {
            let mut known = remembered.lock().unwrap_or_else(PoisonError::into_inner);
            let found = known.iter().find(|(document, _)| *document == text);
            if let Some((_, evaluation)) = found {
                return Arc::clone(evaluation);
            }
            drop(known);
            let evaluation = Arc::new(matchmark_core::evaluate(&text));
            known = remembered.lock().unwrap_or_else(PoisonError::into_inner);
            known.truncate(REMEMBERED - 1);
            known.push_front((text, Arc::clone(&evaluation)));
            evaluation
        })
        .await
    }

    /// The pack of an evaluation that has sheets.
    pub async fn pack(&self, evaluation: Arc<Evaluation>, issue: Issue) -> Result<Vec<u8>, EngineError> {
        self.run(move || pack_pdf(&evaluation, &issue)).await?
    }

    /// One wrap as a page of PDF.
    pub async fn wrap_pdf(
        &self,
        evaluation: Arc<Evaluation>,
        wrap: Wrap,
        issue: Issue,
    ) -> Result<Vec<u8>, EngineError> {
        self.run(move || Ok(pack::wrap_pdf(sheets(&evaluation)?, &wrap, &issue)?)).await?
    }

    /// One wrap as SVG.
    pub async fn wrap_svg(&self, wrap: Wrap, issue: Issue) -> Result<String, EngineError> {
        self.run(move || Ok(pack::wrap_svg(&wrap, &issue)?)).await?
    }

    /// The finished part of a member of a document as a solid.
    pub async fn solid(&self, text: String, member: String, heading: SolidHeading) -> Result<String, EngineError> {
        self.run(move || Ok(solid_step(&text, &member, &heading)?)).await?
    }

    /// A described joint.
    pub async fn one_joint(&self, request: JointRequest) -> Result<OneJoint, EngineError> {
        self.run(move || one_joint(&request).map_err(EngineError::JointFindings)).await?
    }

    /// One end or several, JSON in and out.
    pub async fn joint(&self, text: String) -> Result<String, EngineError> {
        self.run(move || Ok(joint::solve(&text)?)).await?
    }

    async fn run<T: Send + 'static>(&self, work: impl FnOnce() -> T + Send + 'static) -> Result<T, EngineError> {
        let turn = Arc::clone(&self.turnstile).acquire_owned();
        let Ok(Ok(permit)) = tokio::time::timeout(PATIENCE, turn).await else {
            return Err(EngineError::Busy);
        };
        let done = tokio::task::spawn_blocking(move || {
            let _permit = permit;
            work()
        });
        done.await.map_err(|_| EngineError::CutOff)
    }
}
