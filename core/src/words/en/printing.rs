//! How to print at true scale, and how to check it.

use crate::words::groups::printing::Printing;

pub(in crate::words) static WORDS: Printing = Printing {
    heading_print: "Print",
    at_full_size: "Print at 100 %, also called actual size. Switch off every kind of fitting, shrinking or centring to the page.",
    measure_bars: "On every page with a wrap, a plate or a strip, measure both bars between their outer ticks with a steel rule: {bar} across and {bar} up. Accept a page only if both are within {allowed}. A printer can be right in one direction and wrong in the other, and right on one page and wrong on the next.",
    measure_tube: "Measure the tube before you print: outer diameter at two places square to each other. If it differs from the diameter printed on the wrap by more than {diameter}, stop and ask the supplier for wraps made for your tube.",
    try_wrap: "Cut out the wrap along its base line and its left edge and lay it round the real tube, printed side out. The left edge must meet the closure line at the other side, edge to line, without gap or overlap, all along. This checks the scale better than any rule. Paper thickness is already allowed for.",
    inches_in_64ths: "Lengths in these pages are inches to the nearest 64th, rounded from the millimetres of the design; set-outs and edges of hole strips are whole 16ths. Diameters, walls and section sizes are decimals. Templates are exact whatever the unit.",
    inches_in_thousandths: "Lengths in these pages are inches to a thousandth, rounded from the millimetres of the design; set-outs and edges of hole strips are whole tenths. Templates are exact whatever the unit.",
    heading_check: "Check this page first",
    paper: "These pages are made for paper of {width} x {height} {unit}. Measure both bars below.",
    corrected: "It is corrected for one printer, on which bars of {bar} came out {across} {unit} across and {up} {unit} up. Print it on that printer with the same settings only; both bars must now be {bar}.",
}
.checked();
