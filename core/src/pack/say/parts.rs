//! Sizes, cuts, places of a jig, and what members are for.

use crate::document::RollStructure;
use crate::frame::{CutKind, PartSize};
use crate::pack::layout::figures::{Figures, members};
use crate::sheets::JigPlace;

impl Figures {
    /// How large a part is.
    pub(in crate::pack) fn part_size(self, size: PartSize) -> String {
        match size {
            PartSize::Tube(size) => self.size(size),
            PartSize::Plate(thickness) => self.words.sizes.plate(self.size_figure(thickness)),
        }
    }

    /// A cut and what it is fitted to; the bare cut where that is nothing.
    pub(in crate::pack) fn cut_and_fits(self, cut: CutKind, fits: &[String]) -> String {
        let say = &self.words.cuts;
        let parts = members(fits);
        match (cut, fits.is_empty()) {
            (CutKind::Square, true) => say.square().to_owned(),
            (CutKind::Mitre, true) => say.mitre().to_owned(),
            (CutKind::Cope, true) => say.cope().to_owned(),
            (CutKind::CopeAndMitre, true) => say.cope_and_mitre().to_owned(),
            (CutKind::Plug, true) => say.plug().to_owned(),
            (CutKind::Sleeve, true) => say.sleeve().to_owned(),
            (CutKind::Square, false) => say.square_to(parts),
            (CutKind::Mitre, false) => say.mitre_to(parts),
            (CutKind::Cope, false) => say.cope_to(parts),
            (CutKind::CopeAndMitre, false) => say.cope_and_mitre_to(parts),
            (CutKind::Plug, false) => say.plug_into(parts),
            (CutKind::Sleeve, false) => say.sleeve_over(parts),
        }
    }

    /// A place of a jig sheet.
    pub(in crate::pack) fn jig_place(self, place: JigPlace) -> String {
        let say = &self.words.jig_places;
        match place {
            JigPlace::BendStarts(bend) => say.bend_starts(bend),
            JigPlace::BendEnds(bend) => say.bend_ends(bend),
            JigPlace::Between(bend) => say.between_bends(bend, bend + 1),
        }
    }

    /// What a member is in a roll structure.
    pub(in crate::pack) fn roll_structure(self, what: RollStructure) -> &'static str {
        let say = &self.words.roll_structure;
        match what {
            RollStructure::MainHoop => say.main_hoop(),
            RollStructure::Hoop => say.hoop(),
            RollStructure::Stay => say.stay(),
            RollStructure::Brace => say.brace(),
        }
    }
}
