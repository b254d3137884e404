//! Jobs that issue packs for all kits of a revision.

use crate::http::App;
use crate::http::problem::Problem;
use crate::pages::form::deed::Deed;
use crate::pages::form::sure::{self, Answer, Question};
use crate::pages::layout;
use crate::pages::visitor::Visitor;
use crate::pages::words::{count, time};
use axum::extract::{Path, Query, State};
use axum::response::{IntoResponse, Redirect, Response};
use matchmark_service::{NewPackJob, PackJobKit, PackJobKitState, PackJobView, Page};
use maud::{Markup, html};
use serde::Deserialize;

/// Where to go on.
#[derive(Debug, Default, Deserialize)]
pub struct After {
    #[serde(default)]
    after: String,
}

/// All jobs, newest first.
pub async fn list(State(app): State<App>, visitor: Visitor, Query(after): Query<After>) -> Result<Response, Problem> {
    let listed = app.pack_jobs(&visitor.who, &Page { after: after.after, limit: 50 }).await?;
    let main = html! {
        h1 { "Jobs" }
        p { "Each issues a pack for every kit of a revision. Begin one on the page of the revision." }
        @if listed.items.is_empty() { p { "None yet." } } @else {
            table.stack {
                caption.unseen { "Jobs, newest first" }
                thead { tr { th scope="col" { "Job" } th scope="col" { "Revision" } th scope="col" { "State" } th scope="col" { "Kits" } th scope="col" { "Asked for" } } }
                tbody {
                    @for job in &listed.items {
                        tr {
                            th scope="row" data-is="Job" { a href={"/jobs/" (job.number)} { "Job " (job.number) } }
                            td data-is="Revision" { (job.design) " " (job.revision) }
                            td data-is="State" { (job.state.name()) }
                            td data-is="Kits" { (sums(job)) }
                            td data-is="Asked for" { (time(&job.created_at)) }
                        }
                    }
                }
            }
        }
        @if let Some(next) = &listed.next_after { p { a.button.quiet rel="next" href={"/jobs?after=" (next)} { "Next page" } } }
    };
    Ok(layout::page(&app, &visitor, "/jobs", "Jobs", &main))
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
    let main = html! {
        h1 { "Job " (job.number) ": packs of " span.mono { (job.design) } " " (job.revision) }
        div.state { p { "The job is " (job.state.name()) ": " (sums(&job)) "." } }
        @if job.kits > 0 {
            label for="far" { "Kits with a result" }
            @let far = job.kits - job.waiting - job.left;
            progress id="far" max=(job.kits) value=(far) { (far) " of " (job.kits) }
            p { (far) " of " (job.kits) "." @if job.left > 0 { " It was cancelled there: " (count(job.left, "kit was", "kits were")) " left as before." } }
        }
        @if !job.state.is_over() {
            div.row {
                a.button.quiet href={"/jobs/" (job.number)} { "Look again" }
                form method="post" action={"/jobs/" (job.number) "/cancel"} { (visitor.mark()) button.quiet type="submit" { "Cancel after the kit in hand" } }
            }
        }
        h2 { "Kits" }
        (kits(&listed.items))
        @if let Some(next) = &listed.next_after { p { a.button.quiet rel="next" href={"/jobs/" (job.number) "?after=" (next)} { "Next page" } } }
    };
    Ok(layout::page(&app, &visitor, "/jobs", &format!("Job {number}"), &main))
}

fn sums(job: &PackJobView) -> String {
    let named = [
        (job.issued, "issued"),
        (job.current, "current already"),
        (job.refused, "refused"),
        (job.left, "left"),
        (job.waiting, "waiting"),
    ];
    let said: Vec<String> =
        named.into_iter().filter(|(count, _)| *count > 0).map(|(count, word)| format!("{count} {word}")).collect();
    if said.is_empty() { "no kits".to_owned() } else { said.join(", ") }
}

fn kits(kits: &[PackJobKit]) -> Markup {
    html! {
        table.stack {
            caption.unseen { "What became of each kit" }
            thead { tr { th scope="col" { "Kit" } th scope="col" { "Result" } th scope="col" { "Pack" } } }
            tbody {
                @for kit in kits {
                    tr {
                        th scope="row" data-is="Kit" { a.mono href={"/kits/" (kit.kit)} { (kit.kit) } }
                        td data-is="Result" { (result(kit)) }
                        td data-is="Pack" { @if let Some(pack) = kit.pack { a href={"/kits/" (kit.kit) "/packs/" (pack)} { "Pack " (pack) } } }
                    }
                }
            }
        }
    }
}

fn result(kit: &PackJobKit) -> Markup {
    match kit.state {
        PackJobKitState::Waiting => html! { "waiting" },
        PackJobKitState::Issued => html! { span.tag.good { span aria-hidden="true" { "\u{25cf} " } "issued" } },
        PackJobKitState::Current => html! { span.tag { span aria-hidden="true" { "\u{25cb} " } "current already" } },
        PackJobKitState::Left => html! { "left as it was" },
        PackJobKitState::Refused => html! {
            span.tag.stop { span aria-hidden="true" { "\u{25a0} " } "refused" } " "
            @if let Some(problem) = &kit.problem { (problem.detail) }
        },
    }
}

/// Asks for a job.
pub async fn create(
    State(app): State<App>,
    Path((design, letter)): Path<(String, String)>,
    deed: Deed,
) -> Result<Response, Problem> {
    let once = deed.once(&format!("designs/{design}/revisions/{letter}/pack-jobs"));
    let job = app.create_pack_job(&deed.visitor.who, &design, &letter, &NewPackJob::default(), &once).await?;
    Ok(Redirect::to(&format!("/jobs/{}", job.number)).into_response())
}

/// Asks one to end.
pub async fn cancel(State(app): State<App>, Path(number): Path<String>, deed: Deed) -> Result<Response, Problem> {
    let job = app.pack_job(&deed.visitor.who, &number).await?;
    if deed.answer() != Answer::Yes && !job.state.is_over() {
        let what = html! {
            p { (count(job.waiting, "kit has not had its turn and is", "kits have not had their turn and are")) " left as before. Packs issued so far stay issued. A cancelled job does not go on; a new one does the rest." }
        };
        let question = Question {
            here: "/jobs",
            title: format!("Cancel job {number}?"),
            what,
            yes: "Yes, cancel it".to_owned(),
            no: Some(format!("/jobs/{number}")),
        };
        return Ok(sure::ask(&app, &deed, &question));
    }
    app.cancel_pack_job(&deed.visitor.who, &number).await?;
    Ok(Redirect::to(&format!("/jobs/{number}")).into_response())
}
