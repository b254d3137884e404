//! One box for whatever a caller can tell, one answer. Whose kit it is shows only when asked for, and that goes on record.

use crate::http::App;
use crate::http::problem::Problem;
use crate::pages::form::deed::Deed;
use crate::pages::form::filled::{Filled, Line, area};
use crate::pages::kits::hold;
use crate::pages::layout;
use crate::pages::visitor::Visitor;
use crate::pages::words::{answered, class, count, counts, day, minute, pack_mark, pack_state, state};
use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use matchmark_service::{Download, KitAnswer, LookUp, NewNote, PageState, PageStatus, RevisionState};
use maud::{Markup, html};
use serde::Deserialize;

/// What the caller could tell.
#[derive(Debug, Default, Deserialize)]
pub struct Asked {
    #[serde(default)]
    q: String,
}

/// The box, and the answer when something was asked.
pub async fn look_up(
    State(app): State<App>,
    visitor: Visitor,
    Query(asked): Query<Asked>,
) -> Result<Response, Problem> {
    visitor.who.may_support()?;
    let found = match asked.q.trim() {
        "" => None,
        text => Some(app.look_up(&visitor.who, text).await?),
    };
    Ok(show(&app, &visitor, &asked.q, found.as_ref(), &Filled::default()))
}

/// Adds a note to a kit.
pub async fn note(State(app): State<App>, Path(serial): Path<String>, deed: Deed) -> Result<Response, Problem> {
    let once = deed.once(&format!("kits/{serial}/notes"));
    let Deed { visitor, form, .. } = deed;
    let new = NewNote { text: form.text("text") };
    if let Err(error) = app.add_note(&visitor.who, &serial, &new, &once).await {
        let form = form.refused(error)?;
        let found = app.look_up(&visitor.who, &serial).await?;
        let again = show(&app, &visitor, &serial, Some(&found), &form);
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, again).into_response());
    }
    Ok(Redirect::to(&format!("/support?q={serial}")).into_response())
}

/// Shows whose kit it is.
pub async fn person(State(app): State<App>, Path(serial): Path<String>, deed: Deed) -> Result<Response, Problem> {
    let kit = app.kit_with_customer(&deed.visitor.who, &serial).await?;
    let main = html! {
        h1 { "Customer of kit " span.mono { (kit.serial) } }
        @if kit.customer.name.is_empty() { p { "Erased." } } @else {
            table {
                caption.unseen { "The customer" }
                tbody {
                    tr { th scope="row" { "Name" } td { (kit.customer.name) } }
                    tr { th scope="row" { "Address" } td { a href={"mailto:" (kit.customer.email)} { (kit.customer.email) } } }
                    tr { th scope="row" { "Order" } td { (kit.order_number) } }
                }
            }
        }
        p.small { "That you looked is on record." }
        p { a href={"/support?q=" (kit.serial)} { "Back to the kit" } }
    };
    Ok(layout::page(&app, &deed.visitor, "/support", &format!("Customer of kit {serial}"), &main))
}

fn show(app: &App, visitor: &Visitor, q: &str, found: Option<&LookUp>, form: &Filled) -> Response {
    let line = Line {
        kind: "search",
        ..Line::text(
            "q",
            "What the caller can tell",
            "A serial, a name, an address, an order, or what a scanned code says.",
        )
    };
    let main = html! {
        h1 { "Look up" }
        (form.summary())
        form method="get" action="/support" role="search" {
            div.row { (line.show(&Filled::with(&[("q", q)]))) button type="submit" { "Look up" } }
        }
        @if let Some(found) = found {
            @if let Some(page) = &found.page { (scanned(page)) }
            @if found.kits.is_empty() && found.page.is_none() { p { "Nothing is like that. Ask for the serial: it stands on every page of a pack, and on the card." } }
            @if found.more { p { "There are more; ask for more of the name, or for the serial." } }
            @if let [one] = found.kits.as_slice() { (answer(visitor, one, form)) }
            @else if !found.kits.is_empty() {
                table.stack {
                    caption { "Which of these?" }
                    thead { tr { th scope="col" { "Kit" } th scope="col" { "Revision" } th scope="col" { "Order" } } }
                    tbody {
                        @for answer in &found.kits {
                            tr {
                                th scope="row" data-is="Kit" { a.mono href={"/support?q=" (answer.kit.serial)} { (answer.kit.serial) } }
                                td data-is="Revision" { (answer.kit.design) " " (answer.kit.revision) }
                                td data-is="Order" { (answer.kit.order_number) }
                            }
                        }
                    }
                }
            }
        }
    };
    layout::page(app, visitor, "/support", "Look up", &main)
}

/// What to tell a caller who has a page in their hand.
fn scanned(page: &PageStatus) -> Markup {
    let class = match page.state {
        PageState::Current | PageState::Kept => "state",
        PageState::Recalled | PageState::NoticeFirst => "state stop",
        PageState::Superseded | PageState::Outdated | PageState::Withdrawn | PageState::Unknown => "state warn",
    };
    html! {
        div class=(class) {
            h2 { "The page in the caller's hand" }
            p { (page.words) }
            @if let Some(said) = page.page.as_ref().filter(|said| !said.pack.is_empty()) { p { "Page " (said.page) " of " (said.pages) " of pack " (said.pack) " of kit " (said.kit) ", revision " (said.revision) ", " (said.date) "." } }
        }
    }
}

fn answer(visitor: &Visitor, found: &KitAnswer, form: &Filled) -> Markup {
    let kit = &found.kit;
    html! {
        div.plate {
            div.wide { h2 { span.cap { "Kit" } span.big { (kit.serial) } } }
            div { span.cap { "Revision" } span.big { (kit.revision) } }
            div { span.cap { "State" } (state(found.revision.state)) }
            div { span.cap { "Design" } (kit.design) }
            @if !kit.order_number.is_empty() { div { span.cap { "Order" } (kit.order_number) } }
        }
        @for sheet in &found.stop_sheets {
            div.state.stop { p { span.mark aria-hidden="true" { "\u{25a0}" } "Speak of this first: revision " (sheet.revision) " is recalled, and its stop sheet is not acknowledged." }
                p { a href={"/kits/" (kit.serial) "/stop-sheets/" (sheet.revision)} { "Read the stop sheet to the caller" } } }
        }
        @if let Some(hold) = &found.hold { (hold::for_desk(hold)) }
        @let (class_of_state, mark) = found.standing.state.map_or(("state warn", "\u{25cb}"), pack_mark);
        div class=(class_of_state) { p { span.mark aria-hidden="true" { (mark) } (found.standing.words) } }
        @match &found.since {
            None if found.revision.state == RevisionState::Published => div.state { p { span.mark aria-hidden="true" { "\u{25cf}" } "It has the newest revision in force." } },
            None => div.state.warn { p { span.mark aria-hidden="true" { "\u{25cb}" } "No revision of this design is in force that it could be moved to." } },
            Some(since) => div.state.warn {
                p { span.mark aria-hidden="true" { "\u{25cb}" } "The newest in force is " (since.current) ". Since " (kit.revision) ": "
                    @match &since.counts { Some(changed) => (counts(changed)), None => "cannot be compared for the kit's choices" } "." }
                @for later in &since.mandatory { p { (class(matchmark_service::ChangeClass::Mandatory)) " in " (later.letter) ": " (later.change_note) } }
            },
        }
        div.row {
            a.button.quiet href={"/kits/" (kit.serial)} { "The kit's own page" }
            form method="post" action={"/support/" (kit.serial) "/person"} { (visitor.mark()) button.quiet type="submit" { "Show whose kit it is" } }
        }
        (details(found))
        h2 { "Notes" }
        @if found.notes.is_empty() { p { "None." } }
        @for note in found.notes.iter().rev() {
            section.notice { p.small { (minute(&note.at)) } p.note { (note.text) } }
        }
        form method="post" action={"/support/" (kit.serial) "/notes"} {
            (visitor.mark_once())
            (area(form, "text", "Add a note", "The builder does not see it.", 3))
            button type="submit" { "Keep the note" }
        }
    }
}

fn details(found: &KitAnswer) -> Markup {
    html! {
        h2 { "Notices outstanding" }
        @if found.notices.is_empty() { p { "None." } }
        ul { @for notice in &found.notices { li { "Notice " (notice.number) " " (class(notice.class)) " of " (day(&notice.at)) ": " (notice.text)
            @if notice.acknowledged_at.is_some() { " Seen " (answered(notice.acknowledged_at.as_deref(), notice.acknowledged_by.as_ref())) "." } } } }
        h2 { "Packs" }
        @if found.packs.is_empty() { p { "None." } } @else {
            table.stack {
                caption.unseen { "Packs, newest first" }
                thead { tr { th scope="col" { "Pack" } th scope="col" { "Revision" } th scope="col" { "Issued" } th scope="col" { "Standing" } th scope="col" { "Fetched" } } }
                tbody {
                    @for pack in found.packs.iter().rev() {
                        tr {
                            th scope="row" data-is="Pack" { a href={"/kits/" (pack.kit) "/packs/" (pack.number)} { "Pack " (pack.number) } }
                            td data-is="Revision" { (pack.revision) }
                            td data-is="Issued" { (minute(&pack.issued_at)) }
                            td data-is="Standing" { (pack_state(pack.state)) " " (pack.words) }
                            td data-is="Fetched" { (count(pack.downloads, "time", "times"))
                                @if let Some(last) = found.downloads.iter().find(|fetched| fetched.pack == pack.number) { ", last " (minute(&last.at)) " by " (fetcher(last)) } }
                        }
                    }
                }
            }
        }
        @if !found.measured.is_empty() {
            h2 { "As built" }
            ul { @for (gauge, value) in &found.measured { li { (gauge) ": " (value) " mm" } } }
        }
        @if !found.moves.is_empty() {
            h2 { "Moves" }
            ul { @for step in &found.moves { li { (day(&step.at)) ", " (step.from) " to " (step.to) ": " (step.reason) } } }
        }
    }
}

/// Who fetched a pack, as far as their token says.
fn fetcher(fetched: &Download) -> String {
    match (&fetched.role, &fetched.name) {
        (Some(role), Some(name)) => format!("{role} {name}"),
        (Some(role), None) => match role.as_str() {
            "builder" => "the builder".to_owned(),
            role => format!("a token of {role}"),
        },
        (None, _) => "a token that is gone".to_owned(),
    }
}
