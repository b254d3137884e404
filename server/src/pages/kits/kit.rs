//! The page of a kit: what its builder needs, the most important first.

use crate::http::App;
use crate::http::files::hand_out;
use crate::http::problem::Problem;
use crate::pages::house::contact::ask;
use crate::pages::kits::hold;
use crate::pages::layout;
use crate::pages::notices::{builder, recalled};
use crate::pages::visitor::Visitor;
use crate::pages::words::{answered, count, day, pack_mark, pack_state, size, time};
use axum::extract::{Path, State};
use axum::http::{HeaderMap, Method};
use axum::response::Response;
use matchmark_core::pack::Hands;
use matchmark_service::{
    HoldView, KitNotice, KitView, NoticeState, PackState, PackView, RevisionState, Role, Standing, StopSheet,
    VoidNumber,
};
use maud::{Markup, html};

/// All that is shown of a kit.
struct Shown {
    kit: KitView,
    standing: Standing,
    stop_sheets: Vec<StopSheet>,
    notices: Vec<KitNotice>,
    packs: Vec<PackView>,
    void: Vec<VoidNumber>,
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
        void: app.void_packs(who, &serial).await?,
        hold: app.holds(who, &serial).await?.into_iter().find(|hold| hold.lifted_at.is_none()),
    };
    let contact = app.contact().await?;
    let here = format!("/kits/{serial}");
    let main = html! {
        (plate(&shown))
        (state(&shown))
        (hold::standing(&shown.kit.serial, shown.hold.as_ref()))
        (download_button(&shown))
        (again(&visitor, &shown))
        (notices(&visitor, &shown))
        (measured(&shown))
        (packs(&shown))
        (void(&shown))
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
            @for pack in shown.packs_in_force() {
                div { span.cap { "Pack to build from" } "No. " (pack.number) ", " (day(&pack.issued_at)) @if let Some(hand) = hand(pack) { ", " (hand) } }
            }
        }
    }
}

/// How the kit stands, in the words that the code on its pages leads to as well; before them the stop sheets that are open.
fn state(shown: &Shown) -> Markup {
    let standing = &shown.standing.kit;
    let (class, mark) = standing.state.map_or(("state warn", "\u{25cb}"), pack_mark);
    let is_recalled = standing.state == Some(PackState::Recalled);
    html! {
        @if shown.open_sheets().next().is_some() {
            @if !is_recalled {
                div class=(class) { p { span.mark aria-hidden="true" { (mark) } (standing.words) } }
            }
            div.state.stop role="alert" {
                @for sheet in shown.open_sheets() {
                    p { span.mark aria-hidden="true" { "\u{25a0}" } "Recalled: stop. Revision " (sheet.revision) " was recalled. Read the stop sheet to its end before anything else." }
                    p { a href={"/kits/" (shown.kit.serial) "/stop-sheets/" (sheet.revision)} { "Read the stop sheet of revision " (sheet.revision) } }
                }
            }
        } @else if is_recalled {
            @for sheet in shown.stop_sheets.iter().filter(|sheet| sheet.revision == shown.kit.revision) { (recalled::remedy(sheet)) }
        } @else {
            div class=(class) { p { span.mark aria-hidden="true" { (mark) } (standing.words) } }
        }
    }
}

fn download_button(shown: &Shown) -> Markup {
    if shown.pack().is_none() {
        return html! { p { "No pack of revision " (shown.kit.revision) " has been issued for this kit yet; ask the supplier for it." } };
    }
    if shown.open_sheets().next().is_some() {
        return html! { p { @if shown.hold.is_some() { "The pack stays closed while the kit is on hold." } @else { "The pack opens once the stop sheet is acknowledged." } } };
    }
    if shown.standing.state == RevisionState::Recalled {
        return recalled::no_pack(&shown.kit.revision);
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
        @let is_open = shown.hold.is_none() && shown.open_sheets().next().is_none();
        @for notice in shown.notices.iter().filter(|notice| notice.state != NoticeState::Done) { (builder::notice(visitor, notice, is_open)) }
        @let done: Vec<_> = shown.notices.iter().filter(|notice| notice.state == NoticeState::Done).collect();
        @if !done.is_empty() {
            h3 { "Done" }
            ul { @for notice in done { li { "Notice " (notice.number) ", done " (answered(notice.done_at.as_deref(), notice.done_by.as_ref())) ": " (notice.text)
                @if is_open && !notice.stopped && notice.work.is_some() { " " a href={"/kits/" (notice.kit) "/notices/" (notice.number) "/pages"} { "Its pages (PDF)" } } } } }
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
                        @let stopped = shown.open_sheets().next().is_some();
                        tr {
                            th scope="row" data-is="Pack" {
                                @if stopped || shown.hold.is_some() { "Pack " (pack.number) } @else { a href={"/kits/" (pack.kit) "/packs/" (pack.number)} { "Pack " (pack.number) } }
                            }
                            td data-is="Revision" { (pack.revision) @if pack.only_changes { " (changes only)" } @if let Some(hand) = hand(pack) { " (" (hand) ")" } }
                            td data-is="Issued" { (time(&pack.issued_at)) }
                            td data-is="Paper" { (pack.paper) }
                            td.figure data-is="Size" { (size(pack.size)) }
                            td data-is="Standing" {
                                (pack_state(pack.state)) " " (pack.words)
                            }
                        }
                    }
                }
            }
        }
    }
}

/// Numbers without a pack, so that nobody looks for one.
fn void(shown: &Shown) -> Markup {
    html! {
        @for number in &shown.void { p.small { (number.words) } }
    }
}

/// The way to a pack drawn again, for a builder who has one.
fn again(visitor: &Visitor, shown: &Shown) -> Markup {
    let may = matches!(visitor.who.role, Role::Builder { .. }) && shown.pack().is_some() && shown.hold.is_none();
    let is_open = shown.standing.state != RevisionState::Recalled && shown.open_sheets().next().is_none();
    html! {
        @if may && is_open {
            p { a.button.quiet href={"/kits/" (shown.kit.serial) "/packs"} { "Have the pack drawn again" } }
            p.small { "After measuring, or on other paper, in other units, for one hand, or for a printer that is off." }
        }
    }
}

/// What the supplier's people can do here.
fn desk(visitor: &Visitor, shown: &Shown) -> Markup {
    let serial = &shown.kit.serial;
    html! {
        h2 { "At the supplier's desk" }
        @if shown.hold.is_none() && shown.standing.state != RevisionState::Recalled { p { a.button.quiet href={"/kits/" (serial) "/packs"} { "Issue a new pack" } } }
        div.row {
            form method="post" action={"/kits/" (serial) "/card"} {
                (visitor.mark_once())
                button.quiet type="submit" { "Make a new access card" }
            }
            a.button.quiet href={"/support?q=" (serial)} { "Look up" }
            @if visitor.who.role == Role::Publisher { a.button.quiet href={"/kits/" (serial) "/holds"} { @if shown.hold.is_some() { "Lift the hold" } @else { "Put on hold" } } }
        }
        p.small { "A new card ends the code before it, and every sign-in made with that." }
    }
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
