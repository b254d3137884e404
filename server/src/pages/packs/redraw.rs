//! The form that has a pack drawn: for the supplier's people the next one, for a builder that of their own kit again.

use crate::http::App;
use crate::http::problem::Problem;
use crate::pages::form::deed::Deed;
use crate::pages::form::filled::{Filled, Line, choose};
use crate::pages::form::sure::{self, Answer, Question};
use crate::pages::layout;
use crate::pages::visitor::Visitor;
use crate::pages::words::day;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use matchmark_core::pack::{CheckBars, Hands, Paper, Units};
use matchmark_service::asking::for_packs;
use matchmark_service::{NewPack, PackView, Role};
use maud::html;

/// The form, filled in as the last pack of the kit was printed.
pub async fn form(State(app): State<App>, visitor: Visitor, Path(serial): Path<String>) -> Result<Response, Problem> {
    let kit = app.kit(&visitor.who, &serial).await?;
    let packs = app.packs(&visitor.who, &serial).await?;
    Ok(show(&app, &visitor, &serial, &as_before(&packs, &kit.revision)))
}

/// Has it drawn, or shows the form again with what is wrong. Whoever does it for a builder is asked once more where it takes the place of
/// another pack.
pub async fn issue(State(app): State<App>, Path(serial): Path<String>, deed: Deed) -> Result<Response, Problem> {
    let once = deed.once(&format!("kits/{serial}/packs"));
    let is_holder = matches!(deed.visitor.who.role, Role::Builder { .. });
    if deed.answer() != Answer::Yes && !is_holder && !app.was_sent(&once).await? {
        deed.visitor.who.may_support()?;
        app.may_issue_pack(&deed.visitor.who, &serial).await?;
        let packs = app.packs(&deed.visitor.who, &serial).await?;
        if let Some(before) = packs.iter().rev().find(|pack| pack.superseded_by.is_none()) {
            return Ok(sure::ask(&app, &deed, &replacing(&serial, before, hands_wanted(&deed.form))));
        }
    }
    let Deed { visitor, mut form, .. } = deed;
    let mut number = |name: &str| {
        let text = form.text(name).replace(',', ".");
        let read = text.parse::<f64>().ok().filter(|number| number.is_finite());
        if !text.is_empty() && read.is_none() {
            form = std::mem::take(&mut form).with_fault(name, "Give a number, such as 99.5.");
        }
        read
    };
    let paper_thickness = number("paper_thickness");
    let (across, up) = (number("check_bars-across"), number("check_bars-up"));
    if across.is_some() != up.is_some() && form.is_fine() {
        let missing = if across.is_none() { "check_bars-across" } else { "check_bars-up" };
        form = form.with_fault(missing, "Measure both bars, or leave both empty.");
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

fn hands_wanted(form: &Filled) -> Option<Hands> {
    Hands::ALL.into_iter().find(|hands| hands.name() == form.get("hands"))
}

/// Whether a pack is to take the place of the one before, or of what it has of one hand.
fn replacing(serial: &str, before: &PackView, hands: Option<Hands>) -> Question<'static> {
    let hands = hands.unwrap_or(before.print.hands);
    let of = format!("Pack {} of revision {}, issued {}", before.number, before.revision, day(&before.issued_at));
    let what = html! {
        @if hands == Hands::Both || hands == before.print.hands {
            p { (of) ", is replaced: whoever scans one of its pages is told to cross it out and to use the new one." }
        } @else if before.print.hands == Hands::Both {
            p { (of) ", stays for the " (hands.other().name()) " hand alone: whoever scans one of its pages is told to use the new one for the " (hands.name()) " hand and for the parts of neither." }
        } @else {
            p { (of) ", stays for the " (before.print.hands.name()) " hand, and the new one goes beside it." }
        }
        p { "Tell the builder, who has to print the new pack." }
    };
    Question {
        here: "/kits",
        title: format!("Issue a new pack for kit {serial}?"),
        what,
        yes: "Yes, issue it".to_owned(),
        no: Some(format!("/kits/{serial}")),
    }
}

fn show(app: &App, visitor: &Visitor, serial: &str, form: &Filled) -> Response {
    let is_builder = matches!(visitor.who.role, Role::Builder { .. });
    let heading = if is_builder { "Have the pack drawn again" } else { "Issue a pack" };
    let bars = "What it measures on an earlier print: 100 mm when the printer is true, 4 in when lengths are in inches. Empty: as in the last pack.";
    let main = html! {
        h1 { (heading) ": kit " span.mono { (serial) } }
        (form.summary())
        p { "The new pack takes the place of the last one: cross that one out. It has what was measured on the frame until now." }
        form method="post" action={"/kits/" (serial) "/packs"} {
            (visitor.mark_once())
            (choose(form, "paper", "Paper", "", &options(Paper::ALL.map(|paper| (paper.name(), paper.name())))))
            (choose(form, "units", "Lengths in", "", &options(Units::ALL.map(|units| (units.name(), unit_words(units))))))
            (choose(form, "hands", "Templates of", "Parts of neither hand are in every pack.", &options(Hands::ALL.map(|hands| (hands.name(), hand_words(hands))))))
            (Line { keys: "decimal", ..Line::text("paper_thickness", "Thickness of the paper", "mm, 0 to 0.5; 0.1 is common office paper.") }.show(form))
            (Line { keys: "decimal", ..Line::text("check_bars-across", "Check bar across", bars) }.show(form))
            (Line { keys: "decimal", ..Line::text("check_bars-up", "Check bar up", bars) }.show(form))
            button type="submit" { (heading) }
        }
        p { a href={"/kits/" (serial)} { "Back to the kit" } }
    };
    layout::page(app, visitor, "", &format!("{heading}: kit {serial}"), &main)
}

/// The form filled in as the last pack was printed, with both hands for the first one of another revision.
fn as_before(packs: &[PackView], revision: &str) -> Filled {
    let print = packs.last().map(|pack| pack.print).unwrap_or_default();
    let own = packs.last().filter(|pack| pack.revision == revision);
    let hands = own.map(|pack| pack.print.hands).unwrap_or_default();
    let thickness = print.paper_thickness.to_string();
    Filled::with(&[
        ("paper", print.paper.name()),
        ("units", print.units.name()),
        ("hands", hands.name()),
        ("paper_thickness", &thickness),
    ])
}

fn options<const N: usize>(choices: [(&str, &str); N]) -> Vec<(String, String)> {
    choices.map(|(value, words)| (value.to_owned(), words.to_owned())).into()
}

fn unit_words(units: Units) -> &'static str {
    match units {
        Units::Mm => "millimetres",
        Units::Inch => "inches as decimals",
        Units::InchFraction => "inches and 64ths",
    }
}

fn hand_words(hands: Hands) -> &'static str {
    match hands {
        Hands::Both => "both hands",
        Hands::Left => "the left hand only",
        Hands::Right => "the right hand only",
    }
}
