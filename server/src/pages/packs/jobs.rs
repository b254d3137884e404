//! Jobs that issue packs for all kits of a revision.

use crate::http::App;
use crate::http::problem::Problem;
use crate::pages::form::confirmation::{self, Answer, Question};
use crate::pages::form::submission::Submission;
use crate::pages::layout;
use crate::pages::visitor::Visitor;
use crate::pages::words::{list, many, tag, time};
use crate::words::Words;
use axum::extract::{Path, Query, State};
use axum::response::{IntoResponse, Redirect, Response};
use matchmark_service::{NewPackJob, PackJobKit, PackJobKitState, PackJobState, PackJobView, Page};
use maud::{Markup, html};
use serde::Deserialize;

/// Where to go on.
#[derive(Debug, Default, Deserialize)]
pub struct After {
    #[serde(default)]
    after: String,
}

/// All jobs, newest first.
pub async fn all(State(app): State<App>, visitor: Visitor, Query(after): Query<After>) -> Result<Response, Problem> {
    let listed = app.pack_jobs(&visitor.who, &Page { after: after.after, limit: 50 }).await?;
    let words = visitor.words;
    let (says, heads) = (&words.jobs, &words.labels);
    let main = html! {
        h1 { (says.heading()) }
        p { (says.about()) }
        @if listed.items.is_empty() { p { (says.none()) } } @else {
            table.stack {
                caption.unseen { (says.caption()) }
                thead { tr { th scope="col" { (says.head_job()) } th scope="col" { (heads.revision()) } th scope="col" { (heads.state()) } th scope="col" { (heads.kits()) } th scope="col" { (says.head_asked()) } } }
                tbody {
                    @for job in &listed.items {
                        tr {
                            th scope="row" data-is=(says.head_job()) { a href={"/jobs/" (job.number)} { (says.number(job.number)) } }
                            td data-is=(heads.revision()) { (job.design) " " (job.revision) }
                            td data-is=(heads.state()) { (state(words, job.state)) }
                            td data-is=(heads.kits()) { (sums(words, job)) }
                            td data-is=(says.head_asked()) { (time(words, &job.created_at)) }
                        }
                    }
                }
            }
        }
        @if let Some(next) = &listed.next_after { p { a.button.quiet rel="next" href={"/jobs?after=" (next)} { (heads.next_page()) } } }
    };
    Ok(layout::page(&app, &visitor, "/jobs", &says.heading(), &main))
}

/// How far one is, and what became of each kit.
pub async fn read(
    State(app): State<App>,
    visitor: Visitor,
    Path(number): Path<String>,
    Query(after): Query<After>,
) -> Result<Response, Problem> {
    let job = app.pack_job(&visitor.who, &number).await?;
    let listed = app.pack_job_kits(&visitor.who, &number, &Page { after: after.after, limit: 200 }).await?;
    let words = visitor.words;
    let (says, heads) = (&words.jobs, &words.labels);
    let main = html! {
        h1 { (says.job_heading(job.number, html! { span.mono { (job.design) } }, &job.revision)) }
        div.state { p { (standing(words, &job)) } }
        @if job.kits > 0 {
            label for="far" { (says.far_label()) }
            @let far = job.kits - job.waiting - job.left;
            progress id="far" max=(job.kits) value=(far) { (says.far_value(far, job.kits)) }
            p { (says.far_sentence(far, job.kits)) @if job.left > 0 { " " (says.far_left(many(job.left), job.left)) } }
        }
        @if !job.state.is_over() {
            div.row {
                a.button.quiet href={"/jobs/" (job.number)} { (says.reload_link()) }
                form method="post" action={"/jobs/" (job.number) "/cancel"} { (visitor.mark()) button.quiet type="submit" { (says.cancel_button()) } }
            }
        }
        h2 { (says.kits_heading()) }
        (kits(words, &listed.items))
        @if let Some(next) = &listed.next_after { p { a.button.quiet rel="next" href={"/jobs/" (job.number) "?after=" (next)} { (heads.next_page()) } } }
    };
    Ok(layout::page(&app, &visitor, "/jobs", &says.number(&number), &main))
}

/// The state of a job, as a word.
fn state(words: &Words, state: PackJobState) -> &'static str {
    let says = &words.job_state;
    match state {
        PackJobState::Waiting => says.waiting(),
        PackJobState::Running => says.running(),
        PackJobState::Cancelling => says.cancelling(),
        PackJobState::Cancelled => says.cancelled(),
        PackJobState::Done => says.done(),
    }
}

/// The state of a job and its sums, as a sentence.
fn standing(words: &Words, job: &PackJobView) -> String {
    let (says, sums) = (&words.jobs, sums(words, job));
    match job.state {
        PackJobState::Waiting => says.job_waiting(sums),
        PackJobState::Running => says.job_running(sums),
        PackJobState::Cancelling => says.job_cancelling(sums),
        PackJobState::Cancelled => says.job_cancelled(sums),
        PackJobState::Done => says.job_done(sums),
    }
}

fn sums(words: &Words, job: &PackJobView) -> String {
    let says = &words.job_state;
    let PackJobView { issued, current, refused, left, waiting, .. } = *job;
    let sums = [
        (issued > 0, says.sums_issued(many(issued), issued)),
        (current > 0, says.sums_current(many(current), current)),
        (refused > 0, says.sums_refused(many(refused), refused)),
        (left > 0, says.sums_left(many(left), left)),
        (waiting > 0, says.sums_waiting(many(waiting), waiting)),
    ];
    list(words, sums).unwrap_or_else(|| says.sums_none().to_owned())
}

fn kits(words: &Words, kits: &[PackJobKit]) -> Markup {
    let (says, heads) = (&words.jobs, &words.labels);
    html! {
        table.stack {
            caption.unseen { (says.kits_caption()) }
            thead { tr { th scope="col" { (heads.kit()) } th scope="col" { (says.kits_head_result()) } th scope="col" { (heads.pack()) } } }
            tbody {
                @for kit in kits {
                    tr {
                        th scope="row" data-is=(heads.kit()) { a.mono href={"/kits/" (kit.kit)} { (kit.kit) } }
                        td data-is=(says.kits_head_result()) { (result(words, kit)) }
                        td data-is=(heads.pack()) { @if let Some(pack) = kit.pack { a href={"/kits/" (kit.kit) "/packs/" (pack)} { (says.kits_pack(pack)) } } }
                    }
                }
            }
        }
    }
}

fn result(words: &Words, kit: &PackJobKit) -> Markup {
    let says = &words.job_state;
    match kit.state {
        PackJobKitState::Waiting => html! { (says.waiting()) },
        PackJobKitState::Issued => tag("tag good", "\u{25cf}", says.kit_issued()),
        PackJobKitState::Current => tag("tag", "\u{25cb}", says.kit_current()),
        PackJobKitState::Left => html! { (says.kit_left()) },
        PackJobKitState::Refused => html! {
            (tag("tag stop", "\u{25a0}", says.kit_refused())) " "
            @if let Some(problem) = &kit.problem { (problem.detail) }
        },
    }
}

/// Asks for a job.
pub async fn create(
    State(app): State<App>,
    Path((design, letter)): Path<(String, String)>,
    submission: Submission,
) -> Result<Response, Problem> {
    let once = submission.once(&format!("designs/{design}/revisions/{letter}/pack-jobs"));
    let job = app.create_pack_job(&submission.visitor.who, &design, &letter, &NewPackJob::default(), &once).await?;
    Ok(Redirect::to(&format!("/jobs/{}", job.number)).into_response())
}

/// Asks one to end.
pub async fn cancel(
    State(app): State<App>,
    Path(number): Path<String>,
    submission: Submission,
) -> Result<Response, Problem> {
    let job = app.pack_job(&submission.visitor.who, &number).await?;
    if submission.answer() != Answer::Yes && !job.state.is_over() {
        let says = &submission.visitor.words.jobs;
        let what = html! {
            p { (says.cancel_sure_left(many(job.waiting), job.waiting)) " " (says.cancel_sure_issued()) }
        };
        let question = Question {
            here: "/jobs",
            title: says.cancel_sure_heading(&number),
            what,
            yes: says.cancel_sure_yes().to_owned(),
            no: Some(format!("/jobs/{number}")),
        };
        return Ok(confirmation::ask(&app, &submission, &question));
    }
    app.cancel_pack_job(&submission.visitor.who, &number).await?;
    Ok(Redirect::to(&format!("/jobs/{number}")).into_response())
}
