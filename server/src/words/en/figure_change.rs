//! What of a part is not as it was recorded.

use crate::words::groups::figure_change::FigureChanges;

pub const WORDS: FigureChanges = FigureChanges {
    end_1: "{part}, end 1",
    end_2: "{part}, end 2",
    one_version_only: "{place}: is in one version only",
    overall: "{place}: overall length by {by} mm",
    path: "{place}: developed length by {by} mm",
    long_point: "{place}: clock angle of the long point by {by} degrees",
    outer_line: "{place}: outer line by {by} mm",
    relief_line: "{place}: relief line by {by} mm",
    bends: "{place}: bends by {by} mm or degrees",
    holes: "{place}: holes by {by} mm or degrees",
    size: "{place}: size by {by} mm",
    overall_count: "{place}: overall length: the number of places differs",
    path_count: "{place}: developed length: the number of places differs",
    long_point_count: "{place}: clock angle of the long point: the number of places differs",
    outer_line_count: "{place}: outer line: the number of places differs",
    relief_line_count: "{place}: relief line: the number of places differs",
    bends_count: "{place}: bends: the number of places differs",
    holes_count: "{place}: holes: the number of places differs",
    size_count: "{place}: size: the number of places differs",
}
.checked();
