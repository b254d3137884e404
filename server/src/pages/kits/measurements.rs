//! The form for what a builder measured on their frame.

use crate::http::App;
use crate::http::problem::Problem;
use crate::pages::form::fields::{FormFields, TextField};
use crate::pages::form::submission::Submission;
use crate::pages::layout;
use crate::pages::visitor::Visitor;
use crate::pages::words::number;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use matchmark_service::GaugeView;
use maud::html;
use std::collections::BTreeMap;

/// The form, with what was measured before.
pub async fn form(State(app): State<App>, visitor: Visitor, Path(serial): Path<String>) -> Result<Response, Problem> {
    let gauges = app.standing(&visitor.who, &serial).await?.gauges;
    let before: Vec<(String, String)> = gauges
        .iter()
        .filter_map(|gauge| Some((format!("measured-{}", gauge.name), gauge.measured?.to_string())))
        .collect();
    let before: Vec<(&str, &str)> = before.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
    Ok(show(&app, &visitor, &serial, &gauges, &FormFields::with(visitor.words, &before)))
}

/// Takes the values in, or shows the form again with what is wrong.
pub async fn add(
    State(app): State<App>,
    Path(serial): Path<String>,
    submission: Submission,
) -> Result<Response, Problem> {
    let once = submission.once(&format!("kits/{serial}/measurements"));
    let Submission { visitor, mut form, .. } = submission;
    let gauges = app.standing(&visitor.who, &serial).await?.gauges;
    let says = &visitor.words.measurements;
    let mut values = BTreeMap::new();
    for gauge in &gauges {
        let field = format!("measured-{}", gauge.name);
        let text = form.text(&field).replace(',', ".");
        if text.is_empty() {
            continue;
        }
        match text.parse::<f64>() {
            Ok(value) if value.is_finite() && (gauge.least..=gauge.most).contains(&value) => {
                if gauge.measured != Some(value) {
                    values.insert(gauge.name.clone(), value);
                }
            }
            Ok(_) => {
                let wrong = says.outside(number(gauge.least), number(gauge.most));
                form = form.with_fault(&field, &wrong);
            }
            Err(_) => form = form.with_fault(&field, says.no_number()),
        }
    }
    if form.is_fine()
        && !values.is_empty()
        && let Err(error) = app.measure(&visitor.who, &serial, &values, &once).await
    {
        form = form.refused(error)?;
    }
    if form.is_fine() {
        return Ok(Redirect::to(&format!("/kits/{serial}")).into_response());
    }
    let again = show(&app, &visitor, &serial, &gauges, &form);
    Ok((StatusCode::UNPROCESSABLE_ENTITY, again).into_response())
}

fn show(app: &App, visitor: &Visitor, serial: &str, gauges: &[GaugeView], form: &FormFields) -> Response {
    let says = &visitor.words.measurements;
    let main = html! {
        h1 { (says.heading(html! { span.mono { (serial) } })) }
        (form.summary())
        p { (says.about()) }
        form method="post" action={"/kits/" (serial) "/measurements"} {
            (visitor.mark_once())
            @for gauge in gauges {
                @let hint = says.hint(number(gauge.least), number(gauge.most), number(gauge.nominal));
                @let name = format!("measured-{}", gauge.name);
                (TextField { keys: "decimal", ..TextField::text(&name, &gauge.what, &hint) }.show(form))
            }
            button type="submit" { (says.button()) }
        }
        p { a href={"/kits/" (serial)} { (says.back()) } }
    };
    layout::page(app, visitor, "", &says.heading(serial), &main)
}
