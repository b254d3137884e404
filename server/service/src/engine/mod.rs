//! Runs the engine off the threads that serve: a few computations at once, others wait their turn, and too many are turned away.
//! What nobody waits for any more ends, and so does what takes too long.

pub mod files;
mod turns;

use crate::ServiceError;
use crate::metrics::Metrics;
use crate::rules::request_identity::{self, RequestIdentity};
use crate::words::of_problems;
use matchmark_core::document::{Finding, OneKit};
use matchmark_core::joint;
use matchmark_core::pack::{self, Issue, Pack, Recall, ViewWanted};
use matchmark_core::part::Numbers;
use matchmark_core::sheets::{Changes, Sheets, Wrap};
use matchmark_core::solid::SolidHeading;
use matchmark_core::stock::{self, Plan, Progress, StockError};
use matchmark_core::{Evaluation, JointRequest, OneJoint, Stop, Stopped, one_joint};
use matchmark_import::{Answers, Import, SourceFile};
use serde_json::Value;
use std::collections::VecDeque;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, OnceLock, PoisonError};
use std::time::{Duration, Instant};
use tokio::sync::mpsc;
use turns::{Turn, Turns};

const PATIENCE: Duration = Duration::from_secs(10);
const REMEMBERED: usize = 16;

/// Fewest and most computations at once, and most threads for each.
const FEWEST: usize = 4;
const MOST: usize = 16;
const MOST_THREADS: usize = 8;

/// The stock plan of a request, or the best that its time allows. `watch` is told now and then how long it has run and how far it is,
/// and says whether to stop.
pub fn stock_plan(
    request: &stock::Request,
    watch: &mut dyn FnMut(Duration, Progress) -> bool,
) -> Result<Plan, StockError> {
    let allowed = Duration::from_secs_f64(request.seconds()?);
    let start = Instant::now();
    stock::solve(request, &mut |progress| {
        let elapsed = start.elapsed();
        elapsed >= allowed || watch(elapsed, progress)
    })
}

/// What is told of a stock plan on its way.
#[derive(Debug)]
pub enum StockNews {
    /// How long it has run and how far it is.
    Progress(Duration, Progress),
    /// It is done.
    Done(Result<Plan, StockError>),
}

/// From one progress to the next.
const NEWS_EVERY: Duration = Duration::from_millis(250);

/// Tells a computation, when dropped, that nobody waits for it any more.
#[derive(Default)]
struct Waiting(Arc<AtomicBool>);

impl Drop for Waiting {
    fn drop(&mut self) {
        self.0.store(true, Ordering::Relaxed);
    }
}

/// The pack of an evaluation.
pub fn pack(evaluation: &Evaluation, issue: &Issue, stop: Stop) -> Result<Pack, ServiceError> {
    Ok(pack::render_until(sheets(evaluation)?, issue, stop)?)
}

fn sheets(evaluation: &Evaluation) -> Result<&Sheets, ServiceError> {
    evaluation.sheets.as_ref().ok_or(ServiceError::NotDrawn {
        code: "design-has-errors",
        message: of_problems().new_pack.design_errors().to_owned(),
    })
}

/// What is to be computed.
#[derive(Debug, Clone, PartialEq)]
pub struct Wanted {
    /// The document.
    pub document: String,
    /// The kit it is computed for.
    pub kit: OneKit,
    /// Where its part numbers come from.
    pub numbers: Numbering,
}

/// Where part numbers come from.
#[derive(Debug, Clone, PartialEq)]
pub enum Numbering {
    /// Given now, after those of the revision before, if there is one: its document and its numbers.
    After(Option<(String, Numbers)>),
    /// Given when the revision was published.
    Given(Numbers),
}

/// What a document came to, with its part numbers.
#[derive(Debug)]
pub struct Evaluated {
    /// Sheets and findings.
    pub evaluation: Evaluation,
    /// The numbers; none where an error stands in the way.
    pub numbers: Numbers,
}

impl Evaluated {
    /// The sheets, when there is no error.
    pub fn sheets(&self) -> Result<&Sheets, ServiceError> {
        sheets(&self.evaluation)
    }

    fn of(wanted: &Wanted, stop: Stop) -> Result<Self, Stopped> {
        let mut evaluation = matchmark_core::evaluate_until(&wanted.document, &wanted.kit, stop)?;
        let numbers = match &wanted.numbers {
            Numbering::After(None) => evaluation.number_until(None, stop)?.unwrap_or_default(),
            Numbering::After(Some((before, numbers))) => {
                let before = matchmark_core::evaluate_until(before, &OneKit::default(), stop)?;
                evaluation.number_until(Some((&before, numbers)), stop)?.unwrap_or_default()
            }
            Numbering::Given(numbers) => evaluation.put_numbers(numbers),
        };
        Ok(Self { evaluation, numbers })
    }
}

/// What was wanted and what it came to, the latest first.
type Remembered = VecDeque<(Wanted, Arc<Evaluated>)>;

/// The places that this machine has.
fn places() -> Option<Turns> {
    let processors = std::thread::available_parallelism().map_or(1, usize::from);
    let turns = Turns::new(processors.clamp(FEWEST, MOST), processors.min(MOST_THREADS));
    turns.inspect_err(|error| tracing::error!(%error, "there are no threads to compute on")).ok()
}

/// The engine with its places and the evaluations it remembers.
pub struct Engine {
    /// Made when first needed; none when the system gave no threads for them.
    turns: OnceLock<Option<Turns>>,
    budget: Duration,
    remembered: Arc<Mutex<Remembered>>,
    metrics: Arc<Metrics>,
}

impl Engine {
    /// A computation for each processor at once, within this time each.
    pub fn new(metrics: Arc<Metrics>, budget: Duration) -> Self {
        Self { turns: OnceLock::new(), budget, remembered: Arc::default(), metrics }
    }

    /// What a document comes to.
    pub async fn evaluate(&self, wanted: Wanted) -> Result<Arc<Evaluated>, ServiceError> {
        let remembered = Arc::clone(&self.remembered);
        self.run(move |stop| {
            let mut known = remembered.lock().unwrap_or_else(PoisonError::into_inner);
            let found = known.iter().find(|(before, _)| *before == wanted);
            if let Some((_, evaluated)) = found {
                return Ok(Arc::clone(evaluated));
            }
            drop(known);
            let evaluated = Arc::new(Evaluated::of(&wanted, stop)?);
            known = remembered.lock().unwrap_or_else(PoisonError::into_inner);
            known.truncate(REMEMBERED - 1);
            known.push_front((wanted, Arc::clone(&evaluated)));
            Ok(evaluated)
        })
        .await
    }

    /// What is found in a document over all its choices.
    pub async fn check_all_choices(&self, document: String) -> Result<Vec<Finding>, ServiceError> {
        self.run(move |stop| Ok(matchmark_core::check_all_choices_until(&document, stop)?)).await
    }

    /// What changed from an old revision to a new one; `None` when one of them has errors.
    pub async fn changes(&self, old: Arc<Evaluated>, new: Arc<Evaluated>) -> Result<Option<Changes>, ServiceError> {
        self.run(move |stop| Ok(new.evaluation.changes_until(&new.numbers, &old.evaluation, &old.numbers, stop)?)).await
    }

    /// The pack of an evaluation that has sheets.
    pub async fn pack(&self, evaluated: Arc<Evaluated>, issue: Issue) -> Result<Pack, ServiceError> {
        let metrics = Arc::clone(&self.metrics);
        self.run(move |stop| {
            let begun = Instant::now();
            let drawn = pack(&evaluated.evaluation, &issue, stop);
            if drawn.is_ok() {
                metrics.pack_drawn(begun.elapsed());
            }
            drawn
        })
        .await
    }

    /// Wraps as pages of PDF.
    pub async fn wraps_pdf(
        &self,
        evaluated: Arc<Evaluated>,
        wraps: Vec<Wrap>,
        issue: Issue,
    ) -> Result<Vec<u8>, ServiceError> {
        self.run(move |stop| {
            let wraps: Vec<&Wrap> = wraps.iter().collect();
            Ok(pack::wraps_pdf_until(sheets(&evaluated.evaluation)?, &wraps, &issue, stop)?)
        })
        .await
    }

    /// A stop sheet as pages of PDF.
    pub async fn stop_sheet_pdf(&self, recall: Recall, issue: Issue) -> Result<Vec<u8>, ServiceError> {
        self.run(move |_| Ok(pack::stop_sheet_pdf(&recall, &issue)?)).await
    }

    /// One wrap as SVG.
    pub async fn wrap_svg(&self, evaluated: Arc<Evaluated>, wrap: Wrap, issue: Issue) -> Result<String, ServiceError> {
        self.run(move |_| Ok(pack::wrap_svg(sheets(&evaluated.evaluation)?, &wrap, &issue)?)).await
    }

    /// A view of the frame as SVG.
    pub async fn view_svg(
        &self,
        evaluated: Arc<Evaluated>,
        wanted: ViewWanted,
        issue: Issue,
    ) -> Result<String, ServiceError> {
        self.run(move |stop| Ok(pack::view_svg(sheets(&evaluated.evaluation)?, &wanted, &issue, stop)?)).await
    }

    /// The finished part of a member as a solid.
    pub async fn solid(
        &self,
        evaluated: Arc<Evaluated>,
        member: String,
        heading: SolidHeading,
    ) -> Result<String, ServiceError> {
        self.run(move |stop| Ok(evaluated.evaluation.solid_step_until(&member, &heading, stop)?)).await
    }

    /// A frame read from files, with what is found in its design.
    pub async fn import(
        &self,
        files: Vec<SourceFile>,
        answers: Answers,
        existing: Option<Value>,
    ) -> Result<(Import, Vec<Finding>), ServiceError> {
        self.run(move |stop| {
            let import = matchmark_import::import(&files, answers, existing.as_ref(), stop)?;
            let text = import.design.as_ref().map(ToString::to_string);
            let evaluation =
                text.map(|text| matchmark_core::evaluate_until(&text, &OneKit::default(), stop)).transpose()?;
            Ok((import, evaluation.map_or_else(Vec::new, |evaluation| evaluation.findings)))
        })
        .await
    }

    /// A described joint.
    pub async fn one_joint(&self, request: JointRequest) -> Result<OneJoint, ServiceError> {
        self.run(move |stop| one_joint(&request, stop)?.map_err(ServiceError::JointHasErrors)).await
    }

    /// One end or several, JSON in and out.
    pub async fn joint(&self, text: String) -> Result<String, ServiceError> {
        self.run(move |stop| Ok(joint::solve_until(&text, stop)?)).await
    }

    /// A stock plan. It is given up when the caller goes away.
    pub async fn stock_plan(&self, request: stock::Request) -> Result<Plan, ServiceError> {
        let within = self.time_for(&request)?;
        self.run_within(within, move |stop| Ok(stock_plan(&request, &mut |_, _| stop.asked())?)).await
    }

    /// A stock plan with news on its way. It is given up when the receiver goes away.
    pub async fn stock_plan_with_news(
        &self,
        request: stock::Request,
    ) -> Result<mpsc::Receiver<StockNews>, ServiceError> {
        let (sender, receiver) = mpsc::channel(16);
        let turn = self.turn().await?;
        tokio::task::spawn_blocking(move || {
            let mut told = Duration::ZERO;
            let plan = turn.work(|| {
                stock_plan(&request, &mut |elapsed, progress| {
                    if elapsed >= told + NEWS_EVERY {
                        told = elapsed;
                        // A reader that is behind misses some news, never the plan.
                        let _ = sender.try_send(StockNews::Progress(elapsed, progress));
                    }
                    sender.is_closed()
                })
            });
            // Whoever is slow to read holds up nobody else.
            drop(turn);
            let _ = sender.blocking_send(StockNews::Done(plan));
        });
        Ok(receiver)
    }

    /// A plan has the time that was asked for it, and some more to end.
    fn time_for(&self, request: &stock::Request) -> Result<Duration, ServiceError> {
        Ok(self.budget + Duration::from_secs_f64(request.seconds()?))
    }

    async fn turn(&self) -> Result<Turn, ServiceError> {
        let Some(turns) = self.turns.get_or_init(places) else { return Err(ServiceError::Busy) };
        let turn = turns.take(RequestIdentity::party(), request_identity::is_for_packs());
        match tokio::time::timeout(PATIENCE, turn).await {
            Ok(Some(turn)) => Ok(turn),
            _ => Err(ServiceError::Busy),
        }
    }

    async fn run<T: Send + 'static>(
        &self,
        work: impl FnOnce(Stop) -> Result<T, ServiceError> + Send + 'static,
    ) -> Result<T, ServiceError> {
        self.run_within(self.budget, work).await
    }

    /// Does work when its turn has come. When this future is dropped, because its caller went away, the work is told to end, and so
    /// it is when its time is over. Its place is free when it has ended.
    async fn run_within<T: Send + 'static>(
        &self,
        budget: Duration,
        work: impl FnOnce(Stop) -> Result<T, ServiceError> + Send + 'static,
    ) -> Result<T, ServiceError> {
        let turn = self.turn().await?;
        let waiting = Waiting::default();
        let gone = Arc::clone(&waiting.0);
        let work = tokio::task::spawn_blocking(move || turn.work(|| work(Stop::when(&gone))));
        match tokio::time::timeout(budget, work).await {
            Ok(done) => done.map_err(|_| ServiceError::CutOff)?,
            Err(_) => Err(ServiceError::OutOfTime { seconds: budget.as_secs() }),
        }
    }
}
