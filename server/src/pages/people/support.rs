//! One box for whatever a caller can tell, one answer. Whose kit it is shows only when asked for, and that goes on record.

use crate::http::App;
use crate::http::problem::Problem;
use crate::pages::form::fields::{FormFields, TextField, area};
use crate::pages::form::submission::Submission;
use crate::pages::kits::hold;
use crate::pages::layout;
use crate::pages::visitor::Visitor;
use crate::pages::words::{answered_on, class, counts, day, many, minute, number, pack_mark, pack_state, role, state};
use crate::words::Words;
use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use matchmark_service::{ChangeClass, Download, KitAnswer, LookUp, NewNote, PageState, PageStatus, RevisionState};
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
    Ok(show(&app, &visitor, &asked.q, found.as_ref(), &FormFields::empty(visitor.words)))
}

/// Adds a note to a kit.
pub async fn note(
    State(app): State<App>,
    Path(serial): Path<String>,
    submission: Submission,
) -> Result<Response, Problem> {
    let once = submission.once(&format!("kits/{serial}/notes"));
    let Submission { visitor, form, .. } = submission;
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
pub async fn person(
    State(app): State<App>,
    Path(serial): Path<String>,
    submission: Submission,
) -> Result<Response, Problem> {
    let kit = app.kit_with_customer(&submission.visitor.who, &serial).await?;
    let words = submission.visitor.words;
    let says = &words.person;
    let main = html! {
        h1 { (says.heading(html! { span.mono { (kit.serial) } })) }
        @if kit.customer.name.is_empty() { p { (says.erased()) } } @else {
            table {
                caption.unseen { (says.caption()) }
                tbody {
                    tr { th scope="row" { (says.name()) } td { (kit.customer.name) } }
                    tr { th scope="row" { (says.address()) } td { a href={"mailto:" (kit.customer.email)} { (kit.customer.email) } } }
                    tr { th scope="row" { (words.labels.order()) } td { (kit.order_number) } }
                }
            }
        }
        p.small { (says.on_record()) }
        p { a href={"/support?q=" (kit.serial)} { (says.back()) } }
    };
    Ok(layout::page(&app, &submission.visitor, "/support", &says.heading(&serial), &main))
}

fn show(app: &App, visitor: &Visitor, q: &str, found: Option<&LookUp>, form: &FormFields) -> Response {
    let words = visitor.words;
    let (says, heads) = (&words.support, &words.labels);
    let line = TextField { kind: "search", ..TextField::text("q", says.asked_label(), says.asked_hint()) };
    let main = html! {
        h1 { (says.heading()) }
        (form.summary())
        form method="get" action="/support" role="search" {
            div.row { (line.show(&FormFields::with(words, &[("q", q)]))) button type="submit" { (says.heading()) } }
        }
        @if let Some(found) = found {
            @if let Some(page) = &found.page { (scanned(words, page)) }
            @if found.kits.is_empty() && found.page.is_none() { p { (says.nothing()) } }
            @if found.more { p { (says.more()) } }
            @if let [one] = found.kits.as_slice() { (answer(visitor, one, form)) }
            @else if !found.kits.is_empty() {
                table.stack {
                    caption { (says.which_caption()) }
                    thead { tr { th scope="col" { (heads.kit()) } th scope="col" { (heads.revision()) } th scope="col" { (heads.order()) } } }
                    tbody {
                        @for answer in &found.kits {
                            tr {
                                th scope="row" data-is=(heads.kit()) { a.mono href={"/support?q=" (answer.kit.serial)} { (answer.kit.serial) } }
                                td data-is=(heads.revision()) { (answer.kit.design) " " (answer.kit.revision) }
                                td data-is=(heads.order()) { (answer.kit.order_number) }
                            }
                        }
                    }
                }
            }
        }
    };
    layout::page(app, visitor, "/support", &says.heading(), &main)
}

/// What to tell a caller who has a page in their hand.
fn scanned(words: &Words, page: &PageStatus) -> Markup {
    let says = &words.support;
    let class = match page.state {
        PageState::Current | PageState::Kept => "state",
        PageState::Recalled | PageState::NoticeFirst => "state stop",
        PageState::Superseded | PageState::Outdated | PageState::Withdrawn | PageState::Unknown => "state warn",
    };
    html! {
        div class=(class) {
            h2 { (says.scanned_heading()) }
            p { (page.words) }
            @if let Some(said) = page.page.as_ref().filter(|said| !said.pack.is_empty()) { p { (says.scanned(said.page, said.pages, &said.pack, &said.kit, &said.revision, &said.date)) } }
        }
    }
}

fn answer(visitor: &Visitor, found: &KitAnswer, form: &FormFields) -> Markup {
    let kit = &found.kit;
    let words = visitor.words;
    let (says, heads) = (&words.support, &words.labels);
    html! {
        div.plate {
            div.wide { h2 { span.cap { (heads.kit()) } span.big { (kit.serial) } } }
            div { span.cap { (heads.revision()) } span.big { (kit.revision) } }
            div { span.cap { (says.revision_is(&kit.revision)) } (state(words, found.revision.state)) }
            div { span.cap { (heads.design()) } (kit.design) }
            @if !kit.order_number.is_empty() { div { span.cap { (heads.order()) } (kit.order_number) } }
        }
        @for sheet in &found.stop_sheets {
            div.state.stop { p { span.mark aria-hidden="true" { "\u{25a0}" } (says.recalled_first(&sheet.revision)) }
                p { a href={"/kits/" (kit.serial) "/stop-sheets/" (sheet.revision)} { (says.stop_sheet_link()) } } }
        }
        @if let Some(hold) = &found.hold { (hold::for_desk(words, hold)) }
        @let (class_of_state, mark) = found.standing.state.map_or(("state warn", "\u{25cb}"), pack_mark);
        div class=(class_of_state) { p { span.mark aria-hidden="true" { (mark) } (found.standing.words) } }
        @match &found.since {
            None if found.revision.state == RevisionState::Published => div.state { p { span.mark aria-hidden="true" { "\u{25cf}" } (says.newest()) } },
            None => div.state.warn { p { span.mark aria-hidden="true" { "\u{25cb}" } (says.no_newest()) } },
            Some(since) => div.state.warn {
                p { span.mark aria-hidden="true" { "\u{25cb}" } @match &since.counts {
                    Some(changed) => (says.since(&since.current, &kit.revision, counts(words, changed))),
                    None => (says.since_unlike(&since.current, &kit.revision)),
                } }
                @for later in &since.mandatory { p { (says.since_mandatory(class(words, ChangeClass::Mandatory), &later.letter, &later.change_note)) } }
            },
        }
        div.row {
            a.button.quiet href={"/kits/" (kit.serial)} { (says.kit_link()) }
            form method="post" action={"/support/" (kit.serial) "/person"} { (visitor.mark()) button.quiet type="submit" { (says.person_button()) } }
        }
        (details(words, found))
        h2 { (says.notes_heading()) }
        @if found.notes.is_empty() { p { (says.none()) } }
        @for note in found.notes.iter().rev() {
            section.notice { p.small { (minute(words, &note.at)) } p.note { (note.text) } }
        }
        form method="post" action={"/support/" (kit.serial) "/notes"} {
            (visitor.mark_once())
            (area(form, "text", says.note_label(), says.note_hint(), 3))
            button type="submit" { (says.note_button()) }
        }
    }
}

fn details(words: &Words, found: &KitAnswer) -> Markup {
    let (says, heads) = (&words.support, &words.labels);
    html! {
        h2 { (says.notices_heading()) }
        @if found.notices.is_empty() { p { (says.none()) } }
        ul { @for notice in &found.notices { li {
            (says.notice(notice.number, class(words, notice.class), day(&notice.at), &notice.text))
            @if notice.acknowledged_at.is_some() {
                " " (says.notice_seen(answered_on(words, notice.acknowledged_at.as_deref(), notice.acknowledged_by.as_ref())))
            }
        } } }
        h2 { (says.packs_heading()) }
        @if found.packs.is_empty() { p { (says.none()) } } @else {
            table.stack {
                caption.unseen { (says.packs_caption()) }
                thead { tr { th scope="col" { (heads.pack()) } th scope="col" { (heads.revision()) } th scope="col" { (heads.issued()) } th scope="col" { (heads.standing()) } th scope="col" { (says.packs_head_fetched()) } } }
                tbody {
                    @for pack in found.packs.iter().rev() {
                        tr {
                            th scope="row" data-is=(heads.pack()) { a href={"/kits/" (pack.kit) "/packs/" (pack.number)} { (says.packs_number(pack.number)) } }
                            td data-is=(heads.revision()) { (pack.revision) }
                            td data-is=(heads.issued()) { (minute(words, &pack.issued_at)) }
                            td data-is=(heads.standing()) { (pack_state(words, pack.state)) " " (pack.words) }
                            td data-is=(says.packs_head_fetched()) {
                                (fetched(words, pack.downloads, found.downloads.iter().find(|fetched| fetched.pack == pack.number)))
                            }
                        }
                    }
                }
            }
        }
        @if !found.measured.is_empty() {
            h2 { (says.measured_heading()) }
            ul { @for (gauge, value) in &found.measured { li { (says.measured(gauge, number(*value))) } } }
        }
        @if !found.moves.is_empty() {
            h2 { (says.moves_heading()) }
            ul { @for step in &found.moves { li { (says.move_line(day(&step.at), &step.from, &step.to, &step.reason)) } } }
        }
    }
}

/// How often a pack was fetched, and by whom last, as far as their token says.
fn fetched(words: &Words, times: i64, last: Option<&Download>) -> String {
    let says = &words.support;
    let Some(last) = last else { return says.fetched(many(times), times) };
    let at = minute(words, &last.at);
    match (last.role.as_deref(), &last.name) {
        (Some(who), Some(name)) => says.fetched_named(many(times), times, at, role(words, who), name),
        (Some("builder"), None) => says.fetched_builder(many(times), times, at),
        (Some(who), None) => says.fetched_token(many(times), times, at, role(words, who)),
        (None, _) => says.fetched_gone(many(times), times, at),
    }
}
