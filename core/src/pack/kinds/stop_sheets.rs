//! Stop sheets: what the holder of a recalled kit reads before anything else.

use super::cover::contents_of;
use super::notices::lines;
use crate::drawing::{Anchor, Area, Ink, Lettering, Path, Text, Weight};
use crate::pack::layout::flow::Flow;
use crate::pack::layout::furniture::Furniture;
use crate::pack::layout::lines::break_lines;
use crate::pack::{Content, OnPage, Recall, RenderError, SheetKind};
use crate::sheets::Sheets;

/// Height of the band with the heading, mm.
const BAND: f64 = 14.0;

/// A sheet for each recall.
pub(in crate::pack) fn pages(_: &Sheets, furniture: Furniture) -> Result<Vec<Content>, RenderError> {
    Ok(furniture.issue.recalls.iter().flat_map(|recall| sheet(recall, furniture)).collect())
}

/// What the sheet of a recall is called.
pub(in crate::pack) fn title(recall: &Recall, furniture: Furniture) -> String {
    furniture.words.stop_sheets.title(&recall.revision)
}

/// The sheet of one recall.
pub(in crate::pack) fn sheet(recall: &Recall, furniture: Furniture) -> Vec<Content> {
    let (area, say) = (furniture.content_area(), &furniture.words.stop_sheets);
    let mut flow = Flow::new(furniture, area, "");
    let band = Area { y: area.top() - BAND, height: BAND, ..area };
    flow.page().path(Path::filled(band, Ink::Black));
    let heading = say.band();
    let choices = [Lettering::Display, Lettering::Title, Lettering::Heading];
    let width = |lettering: Lettering| furniture.letters.width(heading, lettering, Weight::Bold);
    let lettering =
        choices.into_iter().find(|lettering| width(*lettering) < band.width - 6.0).unwrap_or(Lettering::Body);
    let at = [band.x + band.width / 2.0, band.y + (BAND - lettering.height()) / 2.0];
    flow.page().text(Text::new(heading, at).lettered(lettering).bold().anchored(Anchor::Middle).inked(Ink::White));
    flow.skip(BAND + 5.0);
    let mut large = |words: &str, face: Weight, below: f64| {
        for line in lines(words) {
            for line in break_lines(furniture.letters, &line, Lettering::Heading, face, area.width) {
                flow.need(Lettering::Heading.leading());
                flow.line(&line, area.x, Lettering::Heading, face);
            }
            flow.skip(1.0);
        }
        flow.skip(below);
    };
    let issue = furniture.issue;
    large(say.first(), Weight::Bold, 4.0);
    let recalled = say.recalled(&issue.kit, &issue.design, &recall.revision, &recall.date, &issue.supplier);
    large(&recalled, Weight::Regular, 4.0);
    if !issue.revision.is_empty() && issue.revision != recall.revision {
        large(&say.pack_of_another(&issue.revision, &recall.revision), Weight::Regular, 4.0);
    }
    for (heading, words) in [
        (say.heading_hazard(), &recall.hazard),
        (say.heading_what_to_do(), &recall.what_to_do),
        (say.heading_remedies(), &recall.remedies),
    ] {
        large(heading, Weight::Bold, 0.0);
        large(words, Weight::Regular, 5.0);
    }
    if !issue.contact.is_empty() {
        large(say.heading_contact(), Weight::Bold, 0.0);
        large(&issue.contact, Weight::Regular, 5.0);
    }
    contents_of(flow, OnPage::of_frame(SheetKind::StopSheet, title(recall, furniture)))
}
