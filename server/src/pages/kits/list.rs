//! Kits as the supplier's people list and register them, and the card that goes into the box.

use crate::http::App;
use crate::http::problem::Problem;
use crate::http::query::escaped;
use crate::pages::form::confirmation::{self, Answer, Question};
use crate::pages::form::fields::{FormFields, TextField, area, choose};
use crate::pages::form::submission::Submission;
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
    let form = FormFields::with(visitor.words, &fields);
    let next = listed.next_after.as_ref().map(|after| {
        let query: Vec<String> = fields.iter().map(|(name, value)| format!("{name}={}", escaped(value))).collect();
        format!("/kits?{}&after={}", query.join("&"), escaped(after))
    });
    let (says, heads) = (&visitor.words.kits, &visitor.words.labels);
    let main = html! {
        h1 { (says.heading()) }
        @if visitor.who.role == Role::Publisher {
            div.row {
                a.button href="/kits/new" { (says.new_link()) }
                a.button.quiet href="/kits/import" { (says.import_link()) }
            }
        }
        form method="get" action="/kits" role="search" {
            div.row {
                (TextField::text("serial", says.narrow_serial(), "").show(&form))
                (TextField::text("design", heads.design(), "").show(&form))
                (TextField::text("revision", heads.revision(), "").show(&form))
                (TextField::text("order_number", heads.order(), "").show(&form))
                @if !wanted.choices.is_empty() { (TextField::text("choices", says.narrow_choices(), "").show(&form)) }
                button.quiet type="submit" { (says.narrow_button()) }
            }
        }
        @if listed.items.is_empty() { p { (says.none()) } } @else {
            table.stack {
                @let count = listed.items.len();
                caption { @if next.is_some() { (says.some(count, count)) } @else { (says.all(count, count)) } }
                thead { tr { th scope="col" { (says.head_serial()) } th scope="col" { (heads.design()) } th scope="col" { (heads.revision()) } th scope="col" { (heads.order()) } th scope="col" { (says.head_registered()) } } }
                tbody {
                    @for kit in &listed.items {
                        tr {
                            th scope="row" data-is=(says.head_serial()) { a.mono href={"/kits/" (kit.serial)} { (kit.serial) } }
                            td data-is=(heads.design()) { a href={"/designs/" (kit.design)} { (kit.design) } }
                            td data-is=(heads.revision()) { (kit.revision) }
                            td data-is=(heads.order()) { (kit.order_number) }
                            td data-is=(says.head_registered()) { (day(&kit.created_at)) }
                        }
                    }
                }
            }
        }
        @if let Some(next) = next { p { a.button.quiet rel="next" href=(next) { (heads.next_page()) } } }
    };
    Ok(layout::page(&app, &visitor, "/kits", &says.heading(), &main))
}

/// The form for a new kit.
pub async fn new(State(app): State<App>, visitor: Visitor) -> Result<Response, Problem> {
    visitor.who.may_publish()?;
    show(&app, &visitor, &FormFields::empty(visitor.words)).await
}

/// Registers a kit.
pub async fn create(State(app): State<App>, submission: Submission) -> Result<Response, Problem> {
    let once = submission.once("kits");
    let Submission { visitor, form, .. } = submission;
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

async fn show(app: &App, visitor: &Visitor, form: &FormFields) -> Result<Response, Problem> {
    let page = Page { after: String::new(), limit: 200 };
    let designs = app.designs(&visitor.who, &page).await?.items;
    let designs: Vec<(String, String)> = designs.into_iter().map(|design| (design.id, design.name)).collect();
    let (says, heads) = (&visitor.words.new_kit, &visitor.words.labels);
    let main = html! {
        h1 { (says.heading()) }
        (form.summary())
        form method="post" action="/kits/new" {
            (visitor.mark_once())
            (TextField::text("serial", says.serial(), says.serial_hint()).show(form))
            (choose(form, "design", heads.design(), "", &designs))
            (TextField::text("revision", says.revision(), says.revision_hint()).show(form))
            (area(form, "choices", says.choices(), says.choices_hint(), 2))
            (TextField::text("order_number", heads.order(), says.order_hint()).show(form))
            (TextField::text("customer-name", says.customer_name(), "").show(form))
            (TextField { kind: "email", keys: "email", ..TextField::text("customer-email", says.customer_email(), "") }.show(form))
            button type="submit" { (says.button()) }
        }
    };
    Ok(layout::page(app, visitor, "/kits", &says.heading(), &main))
}

/// Makes a new access code and shows the card. The form sent again shows the same card for as long as it is the one of the kit, and never makes
/// another.
pub async fn card(
    State(app): State<App>,
    Path(serial): Path<String>,
    submission: Submission,
) -> Result<Response, Problem> {
    let who = &submission.visitor.who;
    who.may_support()?;
    let kit = app.kit(who, &serial).await?;
    let says = &submission.visitor.words.card;
    if submission.answer() != Answer::Yes {
        let what = html! {
            p { (says.sure_code_ends()) }
            p { (says.sure_shown_once()) }
        };
        let question = Question {
            here: "/kits",
            title: says.sure_heading(&kit.serial),
            what,
            yes: says.sure_yes().to_owned(),
            no: Some(format!("/kits/{}", kit.serial)),
        };
        return Ok(confirmation::ask(&app, &submission, &question));
    }
    let once = submission.once(&format!("kits/{serial}/card"));
    let card = app.new_access_code(who, &serial, &once).await?;
    let main = html! {
        h1 { (says.heading(html! { span.mono { (card.kit) } })) }
        p.unprinted { (says.print_now()) }
        div.card {
            p { (card.supplier) }
            p { (submission.visitor.words.labels.kit()) br; span.code { (card.kit) } }
            p { (says.code()) br; span.code { (card.access_code) } }
            @for line in &card.lines { p.small { (line) } }
        }
        p.unprinted { a href={"/kits/" (card.kit)} { (says.back()) } }
    };
    Ok(layout::page(&app, &submission.visitor, "/kits", &says.heading(&serial), &main))
}
