//! How to print at true scale, how to check it, and how to use a wrap.

use super::cover::contents_of;
use crate::pack::layout::check_bar;
use crate::pack::layout::flow::Flow;
use crate::pack::layout::furniture::Furniture;
use crate::pack::{CheckBars, Content, RenderError, Units};
use crate::sheets::Sheets;

const PRINTING: [&str; 4] = [
    "Print at 100 %, also called actual size. Switch off every kind of fitting, shrinking or centring to the page.",
    "On every page with a wrap, a plate or a strip, measure both bars between their outer ticks with a steel rule: {bar} across and {bar} up. Accept a page only if both are within {allowed}. A printer can be right in one direction and wrong in the other, and right on one page and wrong on the next.",
    "Measure the tube before you print: outer diameter at two places square to each other. If it differs from the diameter printed on the wrap by more than {diameter}, stop and ask the supplier for wraps made for your tube.",
    "Cut out the wrap along its base line and its left edge and lay it round the real tube, printed side out. The left edge must meet the closure line at the other side, edge to line, without gap or overlap, all along. This checks the scale better than any rule. Paper thickness is already allowed for.",
];

const READING: [&str; 11] = [
    "A mark, such as stay.L, is a place in the frame; a part number is what is made. Parts of one number are equal, and any of them goes in any of its places. Write both on the tube, clear of the cuts: the part number, because it stays with the part wherever it goes, and the mark of the wraps that it is cut by, because from and to are the ends of that mark. A number with /M is that of a part made to what was measured on this kit. What you cut out says pack, kit, part number and overall length; where room is short it has only P. with the pack's number, the kit's serial, the part number and the length, in this order.",
    "Find the part by its mark. Compare mark, section, revision and kit with the title strip and with the part. Parts of the left and right side can look alike and not be: check the mark and the arrow before every cut.",
    "Scribe the index line: a straight line along the whole tube; the seam of a welded tube will do, unless a note says where the seam goes. It is the line at 0 deg; mark those at 90, 180 and 270 deg from it at quarter turns. Write from and to on its two ends before you cut either, or as the saw leaves them where the stock plan names them: a blank is the same both ways, a part is not. Clock angles are counted clockwise as seen when you look along the tube from its from end to its to end.",
    "Saw the blank to the length on the cut sheet: square where the stock plan names no angle. An end that the stock plan saws at an angle is finished: its wrap checks it, and its long point, at the clock angle on the wrap, says where the index line goes. Where nothing is left long, a sawn end stands where the long point of that end's cut will be, so either end can be cut first: measure from the sawn end. Once an end is cut, measure from its long point: the point of the cut that reaches out most along the tube.",
    "From that point measure the set-out along the tube, parallel to its axis, and mark it all round. For a bent part measure from the tangent mark that the wrap names: it says which bend and whether it starts or ends there, and where that mark is on the bend sheet. For a square end measure from the sawn end; where that is still left long the wrap counts that in.",
    "Lay the base line of the wrap, which is its lower edge, on that mark, with the arrow towards the other end.",
    "Turn the wrap until its index lines lie on those of the tube, each on its own number. Check the line opposite too: if 180 deg is off while 0 deg is on, the wrap is not at true scale or not square.",
    "Check the dash-dot lines: one is the long point of this cut, the other leads to the long point of the other end's cut. To find that, stand the cut end on a flat plate: it touches there. Where it touches at two places, take the one at the clock angle printed. Draw a line along the tube from it: the dash-dot line must lie on that. Both ends are then clocked right against each other.",
    "Before you cut, measure from where the set-out begins to the highest point of the outer line: the figure stands on the page. For a tube that is not bent it is the overall length. If it is off, nothing is lost yet.",
    "Trace the outer line, the heavy continuous one, along the edge of the paper cut out there: it is where the outside of this tube meets the other tube. Take the wrap off, cut on the waste side, which is the one towards the end, and dress back to the line.",
    "Open the throat. Where the dashed relief line stands back from the outer line, the inside of the wall touches first: grind the inside of the edge until the outside closes on the other tube. A cut made square through the wall must go back as far as the relief line to clear; between the two lines metal goes from the inside only, and never behind the relief line.",
];

const SPECIAL: [&str; 7] = [
    "Figures along the outer line are the angles between the two surfaces there, in degrees. Where they are small there is room for little weld; where they are near 180 deg the surfaces run into each other.",
    "Ends left long: saw the blank with its extra length, and bend it where it is bent. Each is trimmed by its own wrap at the step of the fit-up order that its wrap and the cut sheet name: before what meets it is put in place, and no sooner. A bend is never exact to the millimetre, so spread and rise are measured between the trim lines while the ends are still long.",
    "Handed parts: a part and its mirror image are two parts. Where two marks differ only in their last letter, never swap parts or wraps, and never lay a wrap with its printed side in: that cuts the opposite hand.",
    "Rectangular tubes: crease the wrap on its dashed fold lines and lay it on side by side, each side on the one of its clock angle; the index lines run along the middles of the sides. Between two fold lines the paper goes round a corner. Where the corners of your tube are rounder or sharper than printed the wrap will not close: stop and ask.",
    "Hole strips: both edges are set. Mark the tube all round at the two distances printed on the strip, from the datum that its page names, and lay the strip between the marks with its arrow towards the to end and its index lines on those of the tube. Punch every centre through the paper, take the strip off, and compare the punch marks with the list before you drill. Where a page has a list only, mark by measure.",
    "Plates: the drawing is the face that its page names. Fix it flat on the sheet, punch the centres through the paper, and mark the outline. A dashed circle is a countersink on the face shown. A drawing that says it is not at true scale is never laid on metal.",
    "Where a wrap says that part of the wall misses, no line is printed there. Nothing is cut there before the joint has been looked at and the supplier asked.",
];

/// The pages on printing and on reading a wrap, with both check bars.
pub(in crate::pack) fn pages(_: &Sheets, furniture: Furniture) -> Result<Vec<Content>, RenderError> {
    let area = furniture.content_area();
    let title = "How to print and check scale";
    let mut flow = Flow::new(furniture, area, title);
    flow.heading("Print");
    let print = furniture.issue.print;
    let units = print.units;
    let bar = check_bar::length_words(units);
    let diameter = if units == Units::Mm { "0.3 mm" } else { "0.012 in" };
    let said = |words: &&str| {
        let words = words.replace("{bar}", bar).replace("{diameter}", diameter);
        words.replace("{allowed}", check_bar::allowed_words(units))
    };
    numbered(&mut flow, &PRINTING.iter().map(said).collect::<Vec<_>>());
    if units != Units::Mm {
        flow.paragraph(match units {
            Units::InchFraction => "Lengths in this pack are inches to the nearest 64th, rounded from the millimetres of the design; set-outs and edges of hole strips are whole 16ths. Diameters, walls and section sizes are decimals. Templates are exact whatever the unit.",
            _ => "Lengths in this pack are inches to a thousandth, rounded from the millimetres of the design; set-outs and edges of hole strips are whole tenths. Templates are exact whatever the unit.",
        });
    }
    flow.heading("Check this page first");
    let figures = furniture.figures();
    let [width, height] = print.paper.size().map(|mm| figures.short(mm));
    flow.paragraph(&format!(
        "This pack is made for paper of {width} x {height} {}. Measure both bars below.",
        figures.unit()
    ));
    if let Some(CheckBars { across, up }) = print.check_bars.filter(|_| print.stretch() != [1.0; 2]) {
        let unit = figures.unit();
        flow.paragraph(&format!(
            "It is corrected for one printer, on which bars of {bar} came out {across} {unit} across and {up} {unit} up. Print it on that printer with the same settings only; both bars must now be {bar}."
        ));
    }
    let height = check_bar::LENGTH + 6.0;
    flow.need(height);
    let foot = flow.top() - height + 2.0;
    flow.page().append(check_bar::across([area.x + 24.0, foot + 46.0], furniture));
    flow.page().append(check_bar::upright([area.x + 12.0, foot], furniture));
    flow.skip(height + 4.0);
    flow.heading("Read and use a wrap");
    numbered(&mut flow, &READING);
    flow.heading("Special cases");
    numbered(&mut flow, &SPECIAL);
    Ok(contents_of(flow, title))
}

fn numbered(flow: &mut Flow, paragraphs: &[impl AsRef<str>]) {
    for (index, paragraph) in paragraphs.iter().enumerate() {
        flow.marked(&(index + 1).to_string(), paragraph.as_ref());
    }
}
