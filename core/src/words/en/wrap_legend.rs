//! What the lines of a wrap mean.

use crate::words::groups::wrap_legend::WrapLegend;

pub(in crate::words) static WORDS: WrapLegend = WrapLegend {
    trim_line: "trim line: mark it and cut on it; it is the end of the finished part",
    outer_line: "outer line: cut the paper along it, trace that edge on the tube and cut there; what lies beyond it, away from the arrow, is waste",
    relief_line: "relief line: how far back a square cut must stand; between the lines grind from the inside only",
    long_points: "long point of this cut; and the other end's long point: draw a line along the tube from there, and set it on that",
    index_lines: "index lines: set each on the line of the tube with its number",
    fold_lines: "fold lines: edges of the flat sides; between two of them the paper goes round a corner",
    bevels: "figures along the outer line: angle between the two surfaces, degrees",
    step_by_step: "step by step: see the page on how to print, check scale and use a wrap",
}
.checked();
