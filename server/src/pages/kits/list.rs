//! Kits as the supplier's people list and register them, and the card that goes into the box.

use crate::http::App;
use crate::http::problem::Problem;
use crate::http::query::escaped;
use crate::pages::form::deed::Deed;
use crate::pages::form::filled::{Filled, Line, area, choose};
use crate::pages::form::sure::{self, Answer, Question};
use crate::pages::layout;
use crate::pages::visitor::Visitor;
use crate::pages::words::day;
use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use matchmark_service::{Customer, KitsWanted, NewKit, Page, Role};
use maud::html;
use serde::Deserialize;
use std::collections::BTreeMap;

const PAGE: usize = 50;

/// Which kits.
#[derive(Debug, Default, Deserialize)]
pub struct Wanted {
    #[serde(default)]
    serial: String,
    #[serde(default)]
    design: String,
    #[serde(default)]
    revision: String,
    #[serde(default)]
    order_number: String,
    /// JSON object, as the preview of a draft asks for it.
    #[serde(default)]
    choices: String,
    #[serde(default)]
    after: String,
}

/// The list, with a form that narrows it. It names no customer: look-ups do, and go on record.
pub async fn list(State(app): State<App>, visitor: Visitor, Query(wanted): Query<Wanted>) -> Result<Response, Problem> {
    let given = |text: &str| Some(text.trim().to_owned()).filter(|text| !text.is_empty());
    let filter = KitsWanted {
        serial: given(&wanted.serial).map(|serial| serial.to_uppercase()),
        design: given(&wanted.design),
        revision: given(&wanted.revision).map(|letter| letter.to_uppercase()),
        order_number: given(&wanted.order_number),
        choices: given(&wanted.choices),
        ..KitsWanted::default()
    };
    let page = Page { after: wanted.after.clone(), limit: PAGE };
    let listed = app.kits(&visitor.who, &filter, &page).await?;
    let fields = [
        ("serial", wanted.serial.as_str()),
        ("design", &wanted.design),
        ("revision", &wanted.revision),
        ("order_number", &wanted.order_number),
        ("choices", &wanted.choices),
    ];
    let form = Filled::with(&fields);
    let next = listed.next_after.as_ref().map(|after| {
        let query: Vec<String> = fields.iter().map(|(name, value)| format!("{name}={}", escaped(value))).collect();
        format!("/kits?{}&after={}", query.join("&"), escaped(after))
    });
    let main = html! {
        h1 { "Kits" }
        @if visitor.who.role == Role::Publisher {
            div.row {
                a.button href="/kits/new" { "New kit" }
                a.button.quiet href="/kits/import" { "Import many" }
            }
        }
        form method="get" action="/kits" role="search" {
            div.row {
                (Line::text("serial", "Serial begins with", "").show(&form))
                (Line::text("design", "Design", "").show(&form))
                (Line::text("revision", "Revision", "").show(&form))
                (Line::text("order_number", "Order", "").show(&form))
                @if !wanted.choices.is_empty() { (Line::text("choices", "Choices", "").show(&form)) }
                button.quiet type="submit" { "Narrow" }
            }
        }
        @if listed.items.is_empty() { p { "No kit is like that." } } @else {
            table.stack {
                caption { (listed.items.len()) " kits" @if next.is_some() { ", and more on the next page" } }
                thead { tr { th scope="col" { "Serial" } th scope="col" { "Design" } th scope="col" { "Revision" } th scope="col" { "Order" } th scope="col" { "Registered" } } }
                tbody {
                    @for kit in &listed.items {
                        tr {
                            th scope="row" data-is="Serial" { a.mono href={"/kits/" (kit.serial)} { (kit.serial) } }
                            td data-is="Design" { a href={"/designs/" (kit.design)} { (kit.design) } }
                            td data-is="Revision" { (kit.revision) }
                            td data-is="Order" { (kit.order_number) }
                            td data-is="Registered" { (day(&kit.created_at)) }
                        }
                    }
                }
            }
        }
        @if let Some(next) = next { p { a.button.quiet rel="next" href=(next) { "Next page" } } }
    };
    Ok(layout::page(&app, &visitor, "/kits", "Kits", &main))
}

/// The form for a new kit.
pub async fn new(State(app): State<App>, visitor: Visitor) -> Result<Response, Problem> {
    visitor.who.may_publish()?;
    show(&app, &visitor, &Filled::default()).await
}

/// Registers a kit.
pub async fn create(State(app): State<App>, deed: Deed) -> Result<Response, Problem> {
    let once = deed.once("kits");
    let Deed { visitor, form, .. } = deed;
    let mut choices = BTreeMap::new();
    for line in form.text("choices").lines().map(str::trim).filter(|line| !line.is_empty()) {
        let (option, choice) = line.split_once('=').unwrap_or((line, ""));
        choices.insert(option.trim().to_owned(), choice.trim().to_owned());
    }
    let kit = NewKit {
        serial: form.text("serial"),
        design: form.text("design"),
        revision: form.text("revision").to_uppercase(),
        choices,
        order_number: form.text("order_number"),
        customer: Customer { name: form.text("customer-name"), email: form.text("customer-email") },
    };
    match app.create_kit(&visitor.who, kit, &once).await {
        Ok(kit) => Ok(Redirect::to(&format!("/kits/{}", kit.serial)).into_response()),
        Err(error) => {
            let again = show(&app, &visitor, &form.refused(error)?).await?;
            Ok((StatusCode::UNPROCESSABLE_ENTITY, again).into_response())
        }
    }
}

async fn show(app: &App, visitor: &Visitor, form: &Filled) -> Result<Response, Problem> {
    let page = Page { after: String::new(), limit: 200 };
    let designs = app.designs(&visitor.who, &page).await?.items;
    let designs: Vec<(String, String)> = designs.into_iter().map(|design| (design.id, design.name)).collect();
    let main = html! {
        h1 { "New kit" }
        (form.summary())
        form method="post" action="/kits/new" {
            (visitor.mark_once())
            (Line::text("serial", "Serial", "Capital letters, digits and hyphens; printed on every page.").show(form))
            (choose(form, "design", "Design", "", &designs))
            (Line::text("revision", "Revision in the box", "Its letter.").show(form))
            (area(form, "choices", "Choices", "A line each, such as drive=right. An option that is not named has its first choice.", 2))
            (Line::text("order_number", "Order", "May be empty.").show(form))
            (Line::text("customer-name", "Name of the customer", "").show(form))
            (Line { kind: "email", keys: "email", ..Line::text("customer-email", "Their address for electronic mail", "") }.show(form))
            button type="submit" { "Register the kit" }
        }
    };
    Ok(layout::page(app, visitor, "/kits", "New kit", &main))
}

/// Makes a new access code and shows the card. The form sent again shows the same card for as long as it is the one of the kit, and never makes
/// another.
pub async fn card(State(app): State<App>, Path(serial): Path<String>, deed: Deed) -> Result<Response, Problem> {
    let who = &deed.visitor.who;
    who.may_support()?;
    let kit = app.kit(who, &serial).await?;
    if deed.answer() != Answer::Yes {
        let what = html! {
            p { "If the kit has a card, its code ends at once, and with it every sign-in that was made with it." }
            p { "The new code is shown once: have a printer at hand." }
        };
        let question = Question {
            here: "/kits",
            title: format!("Make a new access card for kit {}?", kit.serial),
            what,
            yes: "Yes, make a new card".to_owned(),
            no: Some(format!("/kits/{}", kit.serial)),
        };
        return Ok(sure::ask(&app, &deed, &question));
    }
    let once = deed.once(&format!("kits/{serial}/card"));
    let card = app.new_access_code(who, &serial, &once).await?;
    let main = html! {
        h1 { "Access card of kit " span.mono { (card.kit) } }
        p.unprinted { "Print it now and put it in the box. Once you have left this page the code is not shown again; the one before it has ended." }
        div.card {
            p { (card.supplier) }
            p { "Kit" br; span.code { (card.kit) } }
            p { "Access code" br; span.code { (card.access_code) } }
            @for line in &card.lines { p.small { (line) } }
        }
        p.unprinted { a href={"/kits/" (card.kit)} { "Back to the kit" } }
    };
    Ok(layout::page(&app, &deed.visitor, "/kits", &format!("Access card of kit {serial}"), &main))
}
