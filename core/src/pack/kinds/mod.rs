//! One file or folder a page kind, and the list of them: their order, what they are called, and what they are to a machine.

pub(super) mod about;
pub(super) mod bend_sheet;
pub(super) mod changes;
pub(super) mod checks;
pub(super) mod cover;
pub(super) mod cut_sheet;
pub(super) mod drawings;
pub(super) mod fit_up;
pub(super) mod hole_strips;
pub(super) mod jig_sheets;
pub(super) mod notices;
pub(super) mod pairs;
pub(super) mod parts_list;
pub(super) mod plates;
pub(super) mod printing;
pub(super) mod stock_plan;
pub(super) mod stop_sheets;
pub(super) mod wraps;

use super::layout::content::Content;
use super::layout::furniture::Furniture;
use crate::render::RenderError;
use crate::sheets::Sheets;
use crate::words::groups::kinds::Kinds;
use Pages::{OfFrame, OfSheets};
use drawings::Standing;
use serde::{Deserialize, Serialize};

/// What a sheet on a page is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[serde(rename_all = "snake_case")]
pub enum SheetKind {
    /// The cover.
    Cover,
    /// The list of all pages by part.
    ListOfPages,
    /// A stop sheet.
    StopSheet,
    /// The notices to the holder of the kit.
    Notices,
    /// What changed since the pack before.
    Changes,
    /// Notes on the frame, and where zero is.
    About,
    /// How to print, and how to read a wrap.
    Printing,
    /// Drawings of the whole frame.
    Drawings,
    /// The parts list.
    PartsList,
    /// Left and right parts.
    Pairs,
    /// The cut sheet.
    CutSheet,
    /// The stock plan.
    StockPlan,
    /// The bend sheet of a part.
    BendSheet,
    /// The jig sheet of a part.
    JigSheet,
    /// The fit-up order.
    FitUp,
    /// The check dimensions.
    Checks,
    /// The wrap of an end.
    Wrap,
    /// The template of plates that share it.
    Plate,
    /// The strip of holes of a tube.
    HoleStrip,
}

/// A page kind: what it is called in the contents and how its pages are made.
pub(super) struct Kind {
    pub(super) name: fn(&Kinds) -> &'static str,
    pub(super) pages: Pages,
}

/// Pages of one kind, or why they cannot be drawn.
type Drawn = Result<Vec<Content>, RenderError>;

/// What the pages of a kind are made of.
pub(super) enum Pages {
    OfSheets(fn(&Sheets, Furniture) -> Drawn),
    /// Of the sheets and the whole frame as it is seen, where there is one.
    OfFrame(fn(&Sheets, Option<&Standing>, Furniture) -> Drawn),
}

/// The page kinds after the cover, in the order of the pack.
pub(super) const KINDS: [Kind; 17] = [
    Kind { name: Kinds::stop_sheets, pages: OfSheets(stop_sheets::pages) },
    Kind { name: Kinds::notices, pages: OfSheets(notices::pages) },
    Kind { name: Kinds::changes, pages: OfSheets(changes::pages) },
    Kind { name: Kinds::about, pages: OfFrame(about::pages) },
    Kind { name: Kinds::printing, pages: OfSheets(printing::pages) },
    Kind { name: Kinds::drawings, pages: OfFrame(drawings::pages) },
    Kind { name: Kinds::parts_list, pages: OfSheets(parts_list::pages) },
    Kind { name: Kinds::pairs, pages: OfSheets(pairs::pages) },
    Kind { name: Kinds::cut_sheet, pages: OfSheets(cut_sheet::pages) },
    Kind { name: Kinds::stock_plan, pages: OfSheets(stock_plan::pages) },
    Kind { name: Kinds::bend_sheets, pages: OfSheets(bend_sheet::pages) },
    Kind { name: Kinds::jig_sheets, pages: OfSheets(jig_sheets::pages) },
    Kind { name: Kinds::fit_up, pages: OfFrame(fit_up::pages) },
    Kind { name: Kinds::checks, pages: OfFrame(checks::pages) },
    Kind { name: Kinds::wraps, pages: OfSheets(wraps::pages) },
    Kind { name: Kinds::plates, pages: OfSheets(plates::pages) },
    Kind { name: Kinds::hole_strips, pages: OfSheets(hole_strips::pages) },
];
