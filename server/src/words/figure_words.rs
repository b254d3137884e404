//! What of a part is not as it was recorded, in words.

use super::Words;
use matchmark_core::sheets::{End, FigureChange, FigureKind};

/// Such as `post.L, end 2: outer line by 0.020 mm`.
pub fn figure_words(words: &Words, change: &FigureChange) -> String {
    let says = &words.figure_change;
    let place = match change.end {
        Some(End::From) => says.end_1(&change.part),
        Some(End::To) => says.end_2(&change.part),
        None => change.part.clone(),
    };
    let by = change.by.map(|by| format!("{by:.3}"));
    match (change.what, by) {
        (FigureKind::Part, _) => says.one_version_only(place),
        (FigureKind::Overall, Some(by)) => says.overall(place, by),
        (FigureKind::Overall, None) => says.overall_count(place),
        (FigureKind::Path, Some(by)) => says.path(place, by),
        (FigureKind::Path, None) => says.path_count(place),
        (FigureKind::LongPoint, Some(by)) => says.long_point(place, by),
        (FigureKind::LongPoint, None) => says.long_point_count(place),
        (FigureKind::OuterLine, Some(by)) => says.outer_line(place, by),
        (FigureKind::OuterLine, None) => says.outer_line_count(place),
        (FigureKind::ReliefLine, Some(by)) => says.relief_line(place, by),
        (FigureKind::ReliefLine, None) => says.relief_line_count(place),
        (FigureKind::Bends, Some(by)) => says.bends(place, by),
        (FigureKind::Bends, None) => says.bends_count(place),
        (FigureKind::Holes, Some(by)) => says.holes(place, by),
        (FigureKind::Holes, None) => says.holes_count(place),
        (FigureKind::Size, Some(by)) => says.size(place, by),
        (FigureKind::Size, None) => says.size_count(place),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::words::EN;

    #[test]
    fn a_change_of_a_figure_is_said_with_its_place_and_unit() {
        let said = |what, end, by| figure_words(&EN, &FigureChange { part: "post.L".to_owned(), what, end, by });
        let outer = said(FigureKind::OuterLine, Some(End::To), Some(0.02));
        assert_eq!(outer, "post.L, end 2: outer line by 0.020 mm");
        assert_eq!(said(FigureKind::Holes, None, None), "post.L: holes: the number of places differs");
        assert_eq!(said(FigureKind::Part, None, None), "post.L: is in one version only");
    }
}
