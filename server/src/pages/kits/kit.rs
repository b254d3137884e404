//! The page of a kit: what its builder needs, the most important first.

use crate::http::App;
use crate::http::files::hand_out;
use crate::http::problem::Problem;
use crate::pages::designs::files;
use crate::pages::house::contact::ask;
use crate::pages::kits::hold;
use crate::pages::layout;
use crate::pages::notices::{builder, recalled};
use crate::pages::visitor::Visitor;
use crate::pages::words::{answered_on, day, many, number, pack_mark, pack_state, paper, size, time};
use crate::words::Words;
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

    /// Whether files for machines are given out of it.
    fn gives_files(&self) -> bool {
        self.hold.is_none() && self.standing.state != RevisionState::Recalled && self.open_sheets().next().is_none()
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
    let words = visitor.words;
    let main = html! {
        (plate(words, &shown))
        (state(words, &shown))
        (hold::standing(words, &shown.kit.serial, shown.hold.as_ref()))
        (download_button(words, &shown))
        (again(&visitor, &shown))
        (notices(&visitor, &shown))
        (measured(words, &shown))
        (packs(words, &shown))
        (void(&shown))
        @if shown.gives_files() { (files::section(words, &here)) }
        @if !matches!(who.role, Role::Builder { .. }) { (desk(&visitor, &shown)) }
        (ask(words, &contact))
        p.warnings { (words.kit.cautions()) }
    };
    Ok(layout::page(&app, &visitor, &here, &words.kit.title(&serial), &main))
}

fn plate(words: &Words, shown: &Shown) -> Markup {
    let heads = &words.labels;
    let kit = &shown.kit;
    html! {
        div.plate {
            div.wide { h1 { span.cap { (heads.kit()) } span.big { (kit.serial) } } }
            div { span.cap { (heads.revision()) } span.big { (kit.revision) } }
            div { span.cap { (heads.design()) } (kit.design) }
            @for (option, choice) in &kit.choices {
                div { span.cap { (option) } (choice) }
            }
            @for pack in shown.packs_in_force() {
                @let (called, which) = called(words, shown, pack);
                div { span.cap { (called) } (which) }
            }
        }
    }
}

/// What a pack is called on the plate: the one to build from, where nothing is against that; and which it is.
fn called(words: &Words, shown: &Shown, pack: &PackView) -> (&'static str, String) {
    let says = &words.kit;
    let issued = day(&pack.issued_at);
    let which = match pack.print.hands {
        Hands::Both => says.build_from_both(pack.number, issued),
        Hands::Left => says.build_from_left(pack.number, issued),
        Hands::Right => says.build_from_right(pack.number, issued),
    };
    match pack.state {
        PackState::Recalled => (says.latest(), says.latest_recalled(which)),
        _ if shown.hold.is_some() => (says.latest(), says.latest_held(which)),
        state if waits(state) => (says.latest(), says.latest_not_yet(which)),
        PackState::Outdated => (says.latest(), says.latest_outdated(which)),
        _ => (says.build_from(), which),
    }
}

/// Whether something is to be read, done or asked before anybody builds from a pack.
fn waits(state: PackState) -> bool {
    matches!(state, PackState::NoticeFirst | PackState::Withdrawn)
}

/// How the kit stands, in the words that the code on its pages leads to as well; before them the stop sheets that are open.
fn state(words: &Words, shown: &Shown) -> Markup {
    let says = &words.kit;
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
                    p { span.mark aria-hidden="true" { "\u{25a0}" } (says.recalled_stop(&sheet.revision, &shown.kit.serial)) }
                    p { a href={"/kits/" (shown.kit.serial) "/stop-sheets/" (sheet.revision)} { (says.stop_sheet_link(&sheet.revision)) } }
                }
            }
        } @else if is_recalled {
            @for sheet in shown.stop_sheets.iter().filter(|sheet| sheet.revision == shown.kit.revision) { (recalled::remedy(words, sheet)) }
        } @else {
            div class=(class) { p { span.mark aria-hidden="true" { (mark) } (standing.words) } }
        }
    }
}

fn download_button(words: &Words, shown: &Shown) -> Markup {
    let says = &words.kit;
    if shown.pack().is_none() {
        return html! { p { (says.no_pack(&shown.kit.revision)) } };
    }
    if shown.open_sheets().next().is_some() {
        return html! { p { @if shown.hold.is_some() { (says.closed_by_hold()) } @else { (says.closed_by_sheet()) } } };
    }
    if shown.standing.state == RevisionState::Recalled {
        return recalled::no_pack(words, &shown.kit.revision);
    }
    if shown.hold.is_some() {
        return html! {};
    }
    html! {
        @for pack in shown.packs_in_force() {
            p { a.button.quiet[waits(pack.state)].great[!waits(pack.state)] href={"/kits/" (pack.kit) "/packs/" (pack.number)} {
                @let (pages, size) = (pack.pages, size(words, pack.size));
                @match pack.print.hands {
                    Hands::Both => (says.download_both(many(pages), pages, pack.number, size)),
                    Hands::Left => (says.download_left(many(pages), pages, pack.number, size)),
                    Hands::Right => (says.download_right(many(pages), pages, pack.number, size)),
                }
            } }
        }
    }
}

fn notices(visitor: &Visitor, shown: &Shown) -> Markup {
    let says = &visitor.words.kit;
    html! {
        h2 { (says.notices_heading()) }
        @if shown.notices.is_empty() { p { (says.notices_none()) } }
        @let work = &visitor.words.kit_notice;
        @let in_the_way = if shown.hold.is_some() { Some(work.held()) } else { shown.open_sheets().next().map(|_| work.sheet_first()) };
        @let is_open = in_the_way.is_none();
        @for notice in shown.notices.iter().filter(|notice| notice.state != NoticeState::Done) { (builder::notice(visitor, notice, in_the_way)) }
        @let done: Vec<_> = shown.notices.iter().filter(|notice| notice.state == NoticeState::Done).collect();
        @if !done.is_empty() {
            h3 { (says.notices_done_heading()) }
            ul { @for notice in done { li {
                @let when = answered_on(visitor.words, notice.done_at.as_deref(), notice.done_by.as_ref());
                (says.notice_done(notice.number, when, &notice.text))
                @if is_open && !notice.stopped && notice.work.is_some() { " " a href={"/kits/" (notice.kit) "/notices/" (notice.number) "/pages"} { (says.notice_pages_link()) } } } } }
        }
    }
}

fn measured(words: &Words, shown: &Shown) -> Markup {
    let says = &words.kit;
    html! {
        @if !shown.standing.gauges.is_empty() {
            h2 { (says.measured_heading()) }
            p { (says.measured_about()) }
            table.stack {
                caption.unseen { (says.measured_caption()) }
                thead { tr { th scope="col" { (says.measured_head_what()) } th.figure scope="col" { (says.measured_head_value()) } th.figure scope="col" { (says.measured_head_nominal()) } th.figure scope="col" { (says.measured_head_limits()) } } }
                tbody {
                    @for gauge in &shown.standing.gauges {
                        tr {
                            th scope="row" { (gauge.what) }
                            td.figure data-is=(says.measured_head_value()) { @match (gauge.measured, &gauge.taken_back) { (Some(value), _) => (number(value)), (None, Some(at)) => (says.measured_taken_back(day(at))), (None, None) => (says.measured_not_yet()) } }
                            td.figure data-is=(says.measured_head_nominal()) { (number(gauge.nominal)) }
                            td.figure data-is=(says.measured_head_limits()) { (says.measured_limits(number(gauge.least), number(gauge.most))) }
                        }
                    }
                }
            }
            p { a.button.quiet href={"/kits/" (shown.kit.serial) "/measurements"} { (says.measured_link()) } }
        }
    }
}

fn packs(words: &Words, shown: &Shown) -> Markup {
    let (says, heads) = (&words.kit, &words.labels);
    html! {
        h2 { (says.packs_heading()) }
        @if shown.packs.is_empty() { p { (says.packs_none()) } } @else {
            table.stack {
                caption.unseen { (says.packs_caption()) }
                thead { tr { th scope="col" { (heads.pack()) } th scope="col" { (heads.revision()) } th scope="col" { (heads.issued()) } th scope="col" { (says.packs_head_paper()) } th.figure scope="col" { (says.packs_head_size()) } th scope="col" { (heads.standing()) } } }
                tbody {
                    @for pack in shown.packs.iter().rev() {
                        @let stopped = shown.open_sheets().next().is_some();
                        tr {
                            th scope="row" data-is=(heads.pack()) {
                                @let name = says.packs_number(pack.number);
                                @if stopped || shown.hold.is_some() { (name) } @else { a href={"/kits/" (pack.kit) "/packs/" (pack.number)} { (name) } }
                            }
                            td data-is=(heads.revision()) {
                                (pack.revision)
                                @if pack.only_changes { " " (says.packs_only_changes()) }
                                @match pack.print.hands { Hands::Both => {} Hands::Left => { " " (says.packs_left()) } Hands::Right => { " " (says.packs_right()) } }
                            }
                            td data-is=(heads.issued()) { (time(words, &pack.issued_at)) }
                            td data-is=(says.packs_head_paper()) { (paper(words, &pack.paper)) }
                            td.figure data-is=(says.packs_head_size()) { (size(words, pack.size)) }
                            td data-is=(heads.standing()) {
                                (pack_state(words, pack.state)) " " (pack.words)
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
    let says = &visitor.words.kit;
    html! {
        @if may && is_open {
            p { a.button.quiet href={"/kits/" (shown.kit.serial) "/packs"} { (says.redraw_link()) } }
            p.small { (says.redraw_about()) }
        }
    }
}

/// What the supplier's people can do here.
fn desk(visitor: &Visitor, shown: &Shown) -> Markup {
    let serial = &shown.kit.serial;
    let says = &visitor.words.desk;
    html! {
        h2 { (says.heading()) }
        @if shown.hold.is_none() && shown.standing.state != RevisionState::Recalled { p { a.button.quiet href={"/kits/" (serial) "/packs"} { (says.issue_link()) } } }
        div.row {
            form method="post" action={"/kits/" (serial) "/card"} {
                (visitor.mark_once())
                button.quiet type="submit" { (says.card_button()) }
            }
            a.button.quiet href={"/support?q=" (serial)} { (says.look_up_link()) }
            @if visitor.who.role == Role::Publisher { a.button.quiet href={"/kits/" (serial) "/holds"} { @if shown.hold.is_some() { (says.lift_link()) } @else { (says.hold_link()) } } }
        }
        p.small { (says.card_about()) }
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
