//! Cautions for cutting, grinding and welding, in their order; sources are named where a figure has one.

use crate::words::groups::cautions::Cautions;

pub(in crate::words) static WORDS: Cautions = Cautions {
    codes_first: "Local codes, the instructions of your machines and licensed practice come first. These pages are not an approval of anything.",
    eyes: "Eyes: wear eye protection to EN ISO 16321-1 or to EN 166, which it replaces (old certificates run on to 2030 at the latest), or to ANSI Z87.1, whenever tube is sawn, drilled, ground or brushed; under a welding shield too.",
    grinding: "Grinding and cutting: guards on, the right disc for the speed, ear protection, nobody in line with the sparks. Keep loose clothing, hair and gloves clear of rotating tools.",
    clamping: "Clamp the work before you saw, drill, grind or bend. A tube held by hand spins or climbs.",
    edges: "Edges of cut tube are sharp: deburr inside and outside, and wear gloves to carry parts, never at a rotating tool.",
    fumes: "Fumes: ventilate, and keep your head out of the plume. Never weld or heat zinc or other coatings: take them off to bare metal first, well beyond the heat.",
    fire: "Fire: clear or cover what can burn, keep an extinguisher at hand, and keep watch for at least one hour after hot work ends. Something can smoulder for half an hour and longer before it burns. Stop hot work early enough to keep that watch.",
    competence: "Welding a structure that people rely on is work for a competent welder. Try each joint on scrap of the same tube first.",
    roll_structure: "Roll structures are subject to the rules of the governing body and to inspection by a competent person, before they are used and after any repair. A rule mentioned in these pages is quoted for information only.",
    tack_first: "Tack everything, measure, and only then weld; check widths and diagonals after each stage, and trust tape and square above any template.",
    disagreement: "If a part, a page and the frame disagree, stop and ask the supplier before you cut.",
}
.checked();
