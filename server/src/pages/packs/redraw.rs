//! The form that has a pack drawn: for the supplier's people the next one, for a builder that of their own kit again.

use crate::http::App;
use crate::http::problem::Problem;
use crate::pages::form::confirmation::{self, Answer, Question};
use crate::pages::form::fields::{FormFields, TextField, choose};
use crate::pages::form::submission::Submission;
use crate::pages::layout;
use crate::pages::visitor::Visitor;
use crate::pages::words::{day, paper};
use crate::words::Words;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use matchmark_core::pack::{CheckBars, Hands, Paper, Units};
use matchmark_service::request_identity::for_packs;
use matchmark_service::{NewPack, PackView, Role};
use maud::{Render, html};

/// The form, filled in as the last pack of the kit was printed.
pub async fn form(State(app): State<App>, visitor: Visitor, Path(serial): Path<String>) -> Result<Response, Problem> {
    let kit = app.kit(&visitor.who, &serial).await?;
    let packs = app.packs(&visitor.who, &serial).await?;
    Ok(show(&app, &visitor, &serial, &as_before(visitor.words, &packs, &kit.revision)))
}

/// Has it drawn, or shows the form again with what is wrong. Whoever does it for a builder is asked once more where it takes the place of
/// another pack.
pub async fn issue(
    State(app): State<App>,
    Path(serial): Path<String>,
    submission: Submission,
) -> Result<Response, Problem> {
    let once = submission.once(&format!("kits/{serial}/packs"));
    let is_holder = matches!(submission.visitor.who.role, Role::Builder { .. });
    if submission.answer() != Answer::Yes && !is_holder && !app.was_sent(&once).await? {
        submission.visitor.who.may_support()?;
        app.may_issue_pack(&submission.visitor.who, &serial).await?;
        let packs = app.packs(&submission.visitor.who, &serial).await?;
        if let Some(before) = packs.iter().rev().find(|pack| pack.superseded_by.is_none()) {
            return Ok(confirmation::ask(
                &app,
                &submission,
                &replacing(submission.visitor.words, &serial, before, hands_wanted(&submission.form)),
            ));
        }
    }
    let Submission { visitor, mut form, .. } = submission;
    let says = &visitor.words.redraw;
    let mut read = |name: &str| {
        let text = form.text(name).replace(',', ".");
        let read = text.parse::<f64>().ok().filter(|number| number.is_finite());
        if !text.is_empty() && read.is_none() {
            form.add_fault(name, says.no_number());
        }
        read
    };
    let paper_thickness = read("paper_thickness");
    let (across, up) = (read("check_bars-across"), read("check_bars-up"));
    if across.is_some() != up.is_some() && form.is_fine() {
        let missing = if across.is_none() { "check_bars-across" } else { "check_bars-up" };
        form = form.with_fault(missing, says.one_bar());
    }
    let new = NewPack {
        paper: Paper::ALL.into_iter().find(|paper| paper.name() == form.get("paper")),
        paper_thickness,
        check_bars: across.zip(up).map(|(across, up)| CheckBars { across, up }),
        units: Units::ALL.into_iter().find(|units| units.name() == form.get("units")),
        hands: hands_wanted(&form),
        only_changes: false,
    };
    if form.is_fine()
        && let Err(error) = for_packs(app.issue_pack(&visitor.who, &serial, &new, &once)).await
    {
        form = form.refused(error)?;
    }
    if form.is_fine() {
        return Ok(Redirect::to(&format!("/kits/{serial}")).into_response());
    }
    Ok((StatusCode::UNPROCESSABLE_ENTITY, show(&app, &visitor, &serial, &form)).into_response())
}

fn hands_wanted(form: &FormFields) -> Option<Hands> {
    Hands::ALL.into_iter().find(|hands| hands.name() == form.get("hands"))
}

/// Whether a pack is to take the place of the one before, or of what it has of one hand.
fn replacing(words: &Words, serial: &str, before: &PackView, hands: Option<Hands>) -> Question<'static> {
    let hands = hands.unwrap_or(before.print.hands);
    let says = &words.redraw;
    let (number, revision, issued) = (before.number, &before.revision, day(&before.issued_at));
    let becomes = match (before.print.hands, hands) {
        (Hands::Both, Hands::Right) => says.sure_left_stays(number, revision, issued),
        (Hands::Both, Hands::Left) => says.sure_right_stays(number, revision, issued),
        (Hands::Left, Hands::Right) => says.sure_beside_left(number, revision, issued),
        (Hands::Right, Hands::Left) => says.sure_beside_right(number, revision, issued),
        (_, Hands::Both) | (Hands::Left, Hands::Left) | (Hands::Right, Hands::Right) => {
            says.sure_replaced(number, revision, issued)
        }
    };
    let what = html! {
        p { (becomes) }
        p { (says.sure_tell()) }
    };
    Question {
        here: "/kits",
        title: says.sure_heading(serial),
        what,
        yes: says.sure_yes().to_owned(),
        no: Some(format!("/kits/{serial}")),
    }
}

fn show(app: &App, visitor: &Visitor, serial: &str, form: &FormFields) -> Response {
    let is_builder = matches!(visitor.who.role, Role::Builder { .. });
    let says = &visitor.words.redraw;
    let heading =
        |serial: &dyn Render| if is_builder { says.builder_heading(serial) } else { says.desk_heading(serial) };
    let button = if is_builder { says.builder_button() } else { says.desk_button() };
    let main = html! {
        h1 { (heading(&html! { span.mono { (serial) } })) }
        (form.summary())
        p { (says.about()) }
        form method="post" action={"/kits/" (serial) "/packs"} {
            (visitor.mark_once())
            (choose(form, "paper", says.paper_label(), "", &options(Paper::ALL.map(|size| (size.name(), paper(visitor.words, size.name()))))))
            (choose(form, "units", says.units_label(), "", &options(Units::ALL.map(|units| (units.name(), unit_words(visitor.words, units))))))
            (choose(form, "hands", says.hands_label(), says.hands_hint(), &options(Hands::ALL.map(|hands| (hands.name(), hand_words(visitor.words, hands))))))
            (TextField { keys: "decimal", ..TextField::text("paper_thickness", says.thickness_label(), says.thickness_hint()) }.show(form))
            (TextField { keys: "decimal", ..TextField::text("check_bars-across", says.bar_across_label(), says.bar_hint()) }.show(form))
            (TextField { keys: "decimal", ..TextField::text("check_bars-up", says.bar_up_label(), says.bar_hint()) }.show(form))
            button type="submit" { (button) }
        }
        p { a href={"/kits/" (serial)} { (says.back()) } }
    };
    layout::page(app, visitor, "", &heading(&serial), &main)
}

/// The form filled in as the last pack was printed, with both hands for the first one of another revision.
fn as_before(words: &'static Words, packs: &[PackView], revision: &str) -> FormFields {
    let print = packs.last().map(|pack| pack.print).unwrap_or_default();
    let own = packs.last().filter(|pack| pack.revision == revision);
    let hands = own.map(|pack| pack.print.hands).unwrap_or_default();
    let thickness = print.paper_thickness.to_string();
    FormFields::with(
        words,
        &[
            ("paper", print.paper.name()),
            ("units", print.units.name()),
            ("hands", hands.name()),
            ("paper_thickness", &thickness),
        ],
    )
}

fn options<const N: usize>(choices: [(&str, &str); N]) -> Vec<(String, String)> {
    choices.map(|(value, words)| (value.to_owned(), words.to_owned())).into()
}

fn unit_words(words: &Words, units: Units) -> &'static str {
    match units {
        Units::Mm => words.redraw.units_mm(),
        Units::Inch => words.redraw.units_inch(),
        Units::InchFraction => words.redraw.units_fraction(),
    }
}

fn hand_words(words: &Words, hands: Hands) -> &'static str {
    match hands {
        Hands::Both => words.redraw.hands_both(),
        Hands::Left => words.redraw.hands_left(),
        Hands::Right => words.redraw.hands_right(),
    }
}
