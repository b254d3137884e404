//! The page of a kit: what its builder needs, the most important first.

use super::builder;
use super::contact::ask;
use super::deed::Deed;
use super::filled::{Filled, choose};
use super::hold;
use super::layout;
use super::visitor::Visitor;
use super::words::{count, day, size, time};
use crate::api::App;
use crate::api::packs::hand_out;
use crate::api::problem::Problem;
use crate::service::{
    HoldView, KitNotice, KitView, NewPack, NoticeState, PackState, PackView, RevisionState, Role, Standing, StopSheet,
};
use axum::extract::{Path, State};
use axum::http::{HeaderMap, Method};
use axum::response::{IntoResponse, Redirect, Response};
use matchmark_core::pack::{Hands, Paper, Units};
use maud::{Markup, html};

/// All that is shown of a kit.
struct Shown {
    kit: KitView,
    standing: Standing,
    stop_sheets: Vec<StopSheet>,
    notices: Vec<KitNotice>,
    packs: Vec<PackView>,
    hold: Option<HoldView>,
}

impl Shown {
    /// The pack to print: the last one of the kit's own revision.
    fn pack(&self) -> Option<&PackView> {
        self.packs.iter().rev().find(|pack| pack.revision == self.kit.revision)
    }

    /// The packs to work from: the one to print, after those of the other hand that go with it.
    fn packs_in_force(&self) -> impl Iterator<Item = &PackView> {
        let last = self.pack().map(|pack| pack.number);
        let in_force = move |pack: &&PackView| {
            Some(pack.number) == last || (pack.superseded_by.is_none() && pack.revision == self.kit.revision)
        };
        self.packs.iter().filter(in_force)
    }

    /// The stop sheets that were not acknowledged.
    fn open_sheets(&self) -> impl Iterator<Item = &StopSheet> {
        self.stop_sheets.iter().filter(|sheet| sheet.acknowledged_at.is_none())
    }
}

/// The page.
pub async fn page(State(app): State<App>, visitor: Visitor, Path(serial): Path<String>) -> Result<Response, Problem> {
    let who = &visitor.who;
    let shown = Shown {
        kit: app.kit(who, &serial).await?,
        standing: app.standing(who, &serial).await?,
        stop_sheets: app.stop_sheets(who, &serial).await?,
        notices: app.kit_notices(who, &serial).await?,
        packs: app.packs(who, &serial).await?,
        hold: app.holds(who, &serial).await?.into_iter().find(|hold| hold.lifted_at.is_none()),
    };
    let contact = app.contact().await?;
    let here = format!("/kits/{serial}");
    let main = html! {
        (plate(&shown))
        (state(&shown))
        (hold::standing(&shown.kit.serial, shown.hold.as_ref()))
        (download_button(&shown))
        (notices(&visitor, &shown))
        (measured(&shown))
        (packs(&shown))
        @if !matches!(who.role, Role::Builder { .. }) { (desk(&visitor, &shown)) }
        (ask(&contact))
        p.warnings {
            "Never mix pages of two revisions. Print at 100 %, without fitting to the page, and measure the check bars before you cut. "
            "Zinc, paint and oil give off poisonous fumes when they are welded: grind them off, and let fresh air in."
        }
    };
    Ok(layout::page(&app, &visitor, &here, &format!("Kit {serial}"), &main))
}

fn plate(shown: &Shown) -> Markup {
    let kit = &shown.kit;
    html! {
        div.plate {
            div.wide { h1 { span.cap { "Kit" } span.big { (kit.serial) } } }
            div { span.cap { "Revision" } span.big { (kit.revision) } }
            div { span.cap { "Design" } (kit.design) }
            @for (option, choice) in &kit.choices {
                div { span.cap { (option) } (choice) }
            }
            @if let Some(pack) = shown.pack() {
                div { span.cap { "Newest pack" } "No. " (pack.number) ", " (day(&pack.issued_at)) }
            }
        }
    }
}

/// The standing of the kit in one sentence.
fn state(shown: &Shown) -> Markup {
    let revision = &shown.kit.revision;
    if shown.open_sheets().next().is_some() {
        return html! {
            div.state.stop role="alert" {
                @for sheet in shown.open_sheets() {
                    p { span.mark aria-hidden="true" { "\u{25a0}" } "Recalled: stop. Revision " (sheet.revision) " was recalled. Read the stop sheet to its end before anything else." }
                    p { a href={"/kits/" (shown.kit.serial) "/stop-sheets/" (sheet.revision)} { "Read the stop sheet of revision " (sheet.revision) } }
                }
            }
        };
    }
    match (shown.standing.state, &shown.standing.newer) {
        (RevisionState::Recalled, _) => html! {
            div.state.stop { p { span.mark aria-hidden="true" { "\u{25a0}" } "Recalled: revision " (revision) " was recalled. You have acknowledged the stop sheet; do what it says." }
                p { a href={"/kits/" (shown.kit.serial) "/stop-sheets/" (revision)} { "Read it again" } } }
        },
        (RevisionState::Withdrawn, _) => html! {
            div.state.warn { p { span.mark aria-hidden="true" { "\u{25b3}" } "Withdrawn: no more kits are sold with revision " (revision) ". Yours may go on with it; ask the supplier why before you cut." } }
        },
        (_, Some(newer)) => html! {
            div.state { p { span.mark aria-hidden="true" { "\u{25cb}" } "Right for your kit: revision " (revision) ". The design has a newer revision, " (newer)
                "; your kit keeps its own until the supplier moves it. Never mix pages of both." } }
        },
        (_, None) => html! {
            div.state { p { span.mark aria-hidden="true" { "\u{25cf}" } "Current: revision " (revision) " is the newest of the design, and the one of your kit." } }
        },
    }
}

fn download_button(shown: &Shown) -> Markup {
    let Some(pack) = shown.pack() else {
        return html! { p { "No pack of revision " (shown.kit.revision) " has been issued for this kit yet; ask the supplier for it." } };
    };
    if shown.open_sheets().any(|sheet| sheet.revision == pack.revision) {
        return html! { p { "The pack opens once the stop sheet is acknowledged." } };
    }
    if shown.hold.is_some() {
        return html! {};
    }
    html! {
        @for pack in shown.packs_in_force() {
            p { a.button.great href={"/kits/" (pack.kit) "/packs/" (pack.number)} {
                "Download pack " (pack.number) " (PDF, " @if let Some(hand) = hand(pack) { (hand) ", " } (size(pack.size)) ", " (count(pack.pages, "page", "pages")) ")"
            } }
        }
    }
}

/// Whose templates a pack holds, where it leaves some out.
fn hand(pack: &PackView) -> Option<String> {
    (pack.print.hands != Hands::Both).then(|| format!("{}-hand templates", pack.print.hands.name()))
}

fn notices(visitor: &Visitor, shown: &Shown) -> Markup {
    html! {
        h2 { "Notices" }
        @if shown.notices.is_empty() { p { "None for this kit." } }
        @let is_open = shown.hold.is_none() && !shown.open_sheets().any(|sheet| sheet.revision == shown.kit.revision);
        @for notice in shown.notices.iter().filter(|notice| notice.state != NoticeState::Done) { (builder::notice(visitor, notice, is_open)) }
        @let done: Vec<_> = shown.notices.iter().filter(|notice| notice.state == NoticeState::Done).collect();
        @if !done.is_empty() {
            h3 { "Done" }
            ul { @for notice in done { li { "Notice " (notice.number) ", done " @if let Some(at) = &notice.done_at { (day(at)) } ": " (notice.text) } } }
        }
    }
}

fn measured(shown: &Shown) -> Markup {
    html! {
        @if !shown.standing.gauges.is_empty() {
            h2 { "As built" }
            p { "What you measured on your frame. Packs issued afterwards fit it." }
            table.stack {
                caption.unseen { "Measured values" }
                thead { tr { th scope="col" { "What" } th.figure scope="col" { "Measured, mm" } th.figure scope="col" { "To the figure, mm" } th.figure scope="col" { "Limits, mm" } } }
                tbody {
                    @for gauge in &shown.standing.gauges {
                        tr {
                            th scope="row" { (gauge.what) }
                            td.figure data-is="Measured, mm" { @match gauge.measured { Some(value) => (value), None => "not yet" } }
                            td.figure data-is="To the figure, mm" { (gauge.nominal) }
                            td.figure data-is="Limits, mm" { (gauge.least) " to " (gauge.most) }
                        }
                    }
                }
            }
            p { a.button.quiet href={"/kits/" (shown.kit.serial) "/measurements"} { "Enter measured values" } }
        }
    }
}

fn packs(shown: &Shown) -> Markup {
    html! {
        h2 { "Packs" }
        @if shown.packs.is_empty() { p { "None yet." } } @else {
            table.stack {
                caption.unseen { "Packs issued for this kit, newest first" }
                thead { tr { th scope="col" { "Pack" } th scope="col" { "Revision" } th scope="col" { "Issued" } th scope="col" { "Paper" } th.figure scope="col" { "Size" } th scope="col" { "Standing" } } }
                tbody {
                    @for pack in shown.packs.iter().rev() {
                        @let stopped = shown.open_sheets().any(|sheet| sheet.revision == pack.revision);
                        tr {
                            th scope="row" data-is="Pack" {
                                @if stopped || shown.hold.is_some() { "Pack " (pack.number) } @else { a href={"/kits/" (pack.kit) "/packs/" (pack.number)} { "Pack " (pack.number) } }
                            }
                            td data-is="Revision" { (pack.revision) @if pack.only_changes { " (changes only)" } @if let Some(hand) = hand(pack) { " (" (hand) ")" } }
                            td data-is="Issued" { (time(&pack.issued_at)) }
                            td data-is="Paper" { (pack.paper) }
                            td.figure data-is="Size" { (size(pack.size)) }
                            td data-is="Standing" {
                                @match pack.state {
                                    PackState::Recalled => span.tag.stop { span aria-hidden="true" { "\u{25a0} " } "recalled" },
                                    PackState::Superseded => span.tag { span aria-hidden="true" { "\u{25cb} " } "superseded" },
                                    PackState::Withdrawn => span.tag { span aria-hidden="true" { "\u{25b3} " } "withdrawn" },
                                    PackState::Current => span.tag.good { span aria-hidden="true" { "\u{25cf} " } "newest" },
                                }
                            }
                        }
                    }
                }
            }
        }
    }
}

/// What the supplier's people can do here.
fn desk(visitor: &Visitor, shown: &Shown) -> Markup {
    let serial = &shown.kit.serial;
    html! {
        h2 { "At the supplier's desk" }
        @if shown.hold.is_none() { form method="post" action={"/kits/" (serial) "/packs"} {
            (visitor.mark_once())
            (choose(&as_before(shown), "paper", "Paper", "", &options(Paper::ALL.map(|paper| (paper.name(), paper.name())))))
            (choose(&as_before(shown), "units", "Lengths in", "", &options(Units::ALL.map(|units| (units.name(), unit_words(units))))))
            (choose(&as_before(shown), "hands", "Templates of", "Parts of neither hand are in every pack.", &options(Hands::ALL.map(|hands| (hands.name(), hand_words(hands))))))
            button.quiet type="submit" { "Issue a new pack" }
        } }
        div.row {
            form method="post" action={"/kits/" (serial) "/card"} {
                (visitor.mark())
                button.quiet type="submit" { "Make a new access card" }
            }
            a.button.quiet href={"/support?q=" (serial)} { "Look up" }
            @if visitor.who.role == Role::Publisher { a.button.quiet href={"/kits/" (serial) "/holds"} { @if shown.hold.is_some() { "Lift the hold" } @else { "Put on hold" } } }
        }
        p.small { "A new card ends the code before it, and every sign-in made with that." }
    }
}

/// The form of a new pack, filled in as the last one was printed.
fn as_before(shown: &Shown) -> Filled {
    let print = shown.packs.last().map(|pack| pack.print).unwrap_or_default();
    let hands = shown.pack().map(|pack| pack.print.hands).unwrap_or_default();
    Filled::with(&[("paper", print.paper.name()), ("units", print.units.name()), ("hands", hands.name())])
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

/// Issues a pack, printed as chosen; paper thickness and check bars are those of the last one.
pub async fn issue(State(app): State<App>, Path(serial): Path<String>, deed: Deed) -> Result<Response, Problem> {
    let once = deed.once(&format!("kits/{serial}/packs"));
    let new = NewPack {
        paper: Paper::ALL.into_iter().find(|paper| paper.name() == deed.form.get("paper")),
        units: Units::ALL.into_iter().find(|units| units.name() == deed.form.get("units")),
        hands: Hands::ALL.into_iter().find(|hands| hands.name() == deed.form.get("hands")),
        ..NewPack::default()
    };
    app.issue_pack(&deed.visitor.who, &serial, &new, &once).await?;
    Ok(Redirect::to(&format!("/kits/{serial}")).into_response())
}

/// Hands out a pack.
pub async fn download(
    State(app): State<App>,
    visitor: Visitor,
    Path((serial, number)): Path<(String, String)>,
    method: Method,
    headers: HeaderMap,
) -> Result<Response, Problem> {
    hand_out(&app, &visitor.who, &serial, &number, &method, &headers).await
}
