//! What of a part is not as it was recorded, in words.

use matchmark_core::sheets::{End, FigureChange, FigureKind};

/// Such as `post.L, end 2: outer line by 0.020 mm`.
pub fn figure_words(change: &FigureChange) -> String {
    let what = match change.what {
        FigureKind::Part => "is in one version only",
        FigureKind::Overall => "overall length",
        FigureKind::Path => "developed length",
        FigureKind::LongPoint => "clock angle of the long point",
        FigureKind::OuterLine => "outer line",
        FigureKind::ReliefLine => "relief line",
        FigureKind::Bends => "bends",
        FigureKind::Holes => "holes",
        FigureKind::Size => "size",
    };
    let end = match change.end {
        Some(End::From) => ", end 1",
        Some(End::To) => ", end 2",
        None => "",
    };
    let by = match (change.what, change.by) {
        (FigureKind::Part, _) => String::new(),
        (FigureKind::LongPoint, Some(by)) => format!(" by {by:.3} degrees"),
        (FigureKind::Bends | FigureKind::Holes, Some(by)) => format!(" by {by:.3} mm or degrees"),
        (_, Some(by)) => format!(" by {by:.3} mm"),
        (_, None) => ": the number of places differs".to_owned(),
    };
    format!("{}{end}: {what}{by}", change.part)
}
