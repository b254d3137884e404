//! The figures of every part as a record: what another version of the engine is held against, so that a revision stays what it was.

use super::End;
use crate::part::{CutLine, Made, Part, PartEnd};
use serde::{Deserialize, Serialize};

/// Places round a tube at which a cut line is recorded.
const PLACES: u32 = 48;

/// Figures in a millimetre, and in a degree: a thousandth of either.
const FINE: f64 = 1000.0;

/// By so many thousandths figures may differ and still be the same: 0.01 mm or degrees, below what is printed and sawn.
const SAME_WITHIN: i64 = 10;

/// The figures of all parts of a frame, in build order, then of its plates.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Figures {
    /// One a member.
    pub tubes: Vec<TubeFigures>,
    /// One a plate.
    pub plates: Vec<PlateFigures>,
}

/// The figures of a tube, thousandths of a millimetre or degree.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct TubeFigures {
    /// Id of the member.
    pub member: String,
    /// Long point to long point.
    pub overall: i64,
    /// Developed length of the centreline's path.
    pub path: i64,
    /// Both ends, first end first.
    pub ends: [EndFigures; 2],
    /// Straight before each bend, turn of the tube, change of direction, radius.
    pub bends: Vec<[i64; 4]>,
    /// Station, clock angle and diameter of each hole.
    pub holes: Vec<[i64; 3]>,
}

/// The figures of one end: stations of both lines at equal clock angles; none where the wall misses.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct EndFigures {
    /// Clock angle of the long point.
    pub longest_at: i64,
    /// Station of the long point.
    pub longest: i64,
    /// Outer line; empty at a square end.
    pub outer: Vec<Option<i64>>,
    /// Relief line; empty at a square end.
    pub relief: Vec<Option<i64>>,
}

/// The figures of a plate, thousandths of a millimetre.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct PlateFigures {
    /// Name of the plate.
    pub plate: String,
    /// Width, height and thickness.
    pub size: [i64; 3],
    /// Centre and diameter of each hole.
    pub holes: Vec<[i64; 3]>,
}

/// One thing about a part that is not what it was.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct FigureChange {
    /// Id of the member or name of the plate.
    pub part: String,
    /// What of it.
    pub what: FigureKind,
    /// At which end; `None` where it is not about one.
    pub end: Option<End>,
    /// By how much at the worst place, mm or degrees; `None` where something is there in one of both only.
    pub by: Option<f64>,
}

/// What of a part is not what it was.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[serde(rename_all = "kebab-case")]
pub enum FigureKind {
    /// It is there in one of both only.
    Part,
    /// Long point to long point, mm.
    Overall,
    /// Developed length, mm.
    Path,
    /// Clock angle of the long point, degrees.
    LongPoint,
    /// The line where the outside meets the other tube, mm.
    OuterLine,
    /// The line at which a cut square to the tube must stop, mm.
    ReliefLine,
    /// A bend, mm or degrees.
    Bends,
    /// A hole, mm or degrees.
    Holes,
    /// Size of a plate, mm.
    Size,
}

impl Figures {
    /// The figures of what is made.
    #[must_use]
    pub fn of(made: &Made) -> Self {
        let tubes = made.parts.iter().map(|part| TubeFigures::of(made, part)).collect();
        let plates = made.frame.plates.iter().map(|placed| {
            let (low, high) = placed.plate.outline.bounds();
            PlateFigures {
                plate: placed.id.clone(),
                size: [high[0] - low[0], high[1] - low[1], placed.plate.thickness].map(fine),
                holes: placed.holes.iter().map(|hole| [hole.at[0], hole.at[1], hole.diameter].map(fine)).collect(),
            }
        });
        Self { tubes, plates: plates.collect() }
    }

    /// What is not as it was, part by part; empty when everything agrees within 0.01 mm and 0.01 degrees.
    #[must_use]
    pub fn changes_to(&self, now: &Self) -> Vec<FigureChange> {
        let mut changes = Vec::new();
        for tube in &self.tubes {
            match now.tubes.iter().find(|other| other.member == tube.member) {
                Some(other) => tube.changes_to(other, &mut changes),
                None => changes.push(FigureChange::presence(&tube.member)),
            }
        }
        for plate in &self.plates {
            match now.plates.iter().find(|other| other.plate == plate.plate) {
                Some(other) => plate.changes_to(other, &mut changes),
                None => changes.push(FigureChange::presence(&plate.plate)),
            }
        }
        let is_known = |id: &str| {
            self.tubes.iter().any(|tube| tube.member == id) || self.plates.iter().any(|plate| plate.plate == id)
        };
        let ids = now.tubes.iter().map(|tube| &tube.member).chain(now.plates.iter().map(|plate| &plate.plate));
        changes.extend(ids.filter(|id| !is_known(id)).map(|id| FigureChange::presence(id)));
        changes
    }
}

impl FigureChange {
    fn presence(part: &str) -> Self {
        Self { part: part.to_owned(), what: FigureKind::Part, end: None, by: None }
    }
}

impl TubeFigures {
    fn of(made: &Made, part: &Part) -> Self {
        let rows = part.bends.rows.iter();
        Self {
            member: made.frame.members[part.member].id.clone(),
            overall: fine(part.overall()),
            path: fine(part.length),
            ends: [0, 1].map(|end| EndFigures::of(&part.ends[end])),
            bends: rows
                .map(|bend| [bend.feed, bend.rotate.to_degrees(), bend.angle.to_degrees(), bend.radius].map(fine))
                .collect(),
            holes: part
                .holes
                .iter()
                .map(|hole| [hole.station, hole.clock.to_degrees(), hole.diameter].map(fine))
                .collect(),
        }
    }

    fn changes_to(&self, now: &Self, changes: &mut Vec<FigureChange>) {
        let mut note = |what, end, by: Option<Option<i64>>| {
            changes.extend(by.map(|by| FigureChange { part: self.member.clone(), what, end, by: by.map(coarse) }));
        };
        note(FigureKind::Overall, None, apart(&[self.overall], &[now.overall]));
        note(FigureKind::Path, None, apart(&[self.path], &[now.path]));
        for (end, (was, is)) in [End::From, End::To].into_iter().zip(self.ends.iter().zip(&now.ends)) {
            note(FigureKind::LongPoint, Some(end), turned(was.longest_at, is.longest_at));
            note(FigureKind::OuterLine, Some(end), lines_apart(&was.outer, &is.outer));
            note(FigureKind::ReliefLine, Some(end), lines_apart(&was.relief, &is.relief));
        }
        note(FigureKind::Bends, None, apart(self.bends.as_flattened(), now.bends.as_flattened()));
        note(FigureKind::Holes, None, apart(self.holes.as_flattened(), now.holes.as_flattened()));
    }
}

impl PlateFigures {
    fn changes_to(&self, now: &Self, changes: &mut Vec<FigureChange>) {
        let mut note = |what, by: Option<Option<i64>>| {
            changes.extend(by.map(|by| FigureChange { part: self.plate.clone(), what, end: None, by: by.map(coarse) }));
        };
        note(FigureKind::Size, apart(&self.size, &now.size));
        note(FigureKind::Holes, apart(self.holes.as_flattened(), now.holes.as_flattened()));
    }
}

impl EndFigures {
    fn of(end: &PartEnd) -> Self {
        let profile = end.cut.profile();
        let [outer, relief] = if end.kind.is_square() {
            [Vec::new(), Vec::new()]
        } else {
            [&end.outer, &end.relief].map(|line| stations(line, profile.perimeter()))
        };
        let longest_at = if end.kind.is_square() { 0 } else { fine(profile.clock(end.longest.u).to_degrees()) };
        Self { longest_at, longest: fine(end.longest.s), outer, relief }
    }
}

/// Stations of a line at equal steps round the outline.
fn stations(line: &CutLine, perimeter: f64) -> Vec<Option<i64>> {
    let places = (0..PLACES).map(|place| perimeter * f64::from(place) / f64::from(PLACES));
    line.along(places).map(|station| station.map(fine)).collect()
}

/// How far apart figures are at the worst place: nothing when they are the same, no figure where there are more of one.
fn apart(was: &[i64], is: &[i64]) -> Option<Option<i64>> {
    if was.len() != is.len() {
        return Some(None);
    }
    let most = was.iter().zip(is).map(|(was, is)| (was - is).abs()).max().unwrap_or(0);
    (most > SAME_WITHIN).then_some(Some(most))
}

/// The same for the stations of a line, where the wall may miss at some places.
fn lines_apart(was: &[Option<i64>], is: &[Option<i64>]) -> Option<Option<i64>> {
    if was.len() != is.len() || was.iter().zip(is).any(|(was, is)| was.is_some() != is.is_some()) {
        return Some(None);
    }
    let both = was.iter().zip(is).filter_map(|(was, is)| Some(((*was)?, (*is)?)));
    let (was, is): (Vec<i64>, Vec<i64>) = both.unzip();
    apart(&was, &is)
}

/// The same for clock angles, the short way round.
fn turned(was: i64, is: i64) -> Option<Option<i64>> {
    let full = 360_000;
    let between = (was - is).rem_euclid(full);
    let least = between.min(full - between);
    (least > SAME_WITHIN).then_some(Some(least))
}

#[allow(clippy::cast_possible_truncation)]
fn fine(value: f64) -> i64 {
    (value * FINE).round() as i64
}

#[allow(clippy::cast_precision_loss)]
fn coarse(value: i64) -> f64 {
    value as f64 / FINE
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two posts on a rail, one moved by this much along it.
    fn figures(moved: f64) -> Figures {
        let text = format!(
            r#"{{"format": "matchmark-design/1", "name": "Rail",
            "materials": {{"steel": {{"name": "S235", "density": 7850}}}},
            "sections": {{"tube": {{"round": {{"od": 50, "wall": 2}}, "material": "steel"}}}},
            "points": {{"a": [0, 500, 0], "b": [0, -500, 0], "c": [0, 100, 0], "d": [0, {}, 400], "e": [0, -100, 0], "f": [0, -100, 400]}},
            "members": [
                {{"id": "rail", "section": "tube", "from": "a", "to": "b", "ends": {{"from": "square", "to": "square"}}}},
                {{"id": "post", "section": "tube", "from": "c", "to": "d", "ends": {{"to": "square"}}}},
                {{"id": "other", "section": "tube", "from": "e", "to": "f", "ends": {{"to": "square"}}}}
            ]}}"#,
            100.0 + moved
        );
        Figures::of(crate::evaluate(&text).made.as_deref().unwrap())
    }

    #[test]
    fn the_same_frame_has_the_same_figures_after_being_written_and_read() {
        let text = serde_json::to_string(&figures(0.0)).unwrap();
        let read: Figures = serde_json::from_str(&text).unwrap();
        assert_eq!(read, figures(0.0));
        assert!(read.changes_to(&figures(0.0)).is_empty());
    }

    #[test]
    fn what_is_below_a_hundredth_is_the_same_and_what_is_above_is_named_with_its_part() {
        // The post leans by 0.004 mm on 400: its cut moves by less.
        assert!(figures(0.0).changes_to(&figures(0.004)).is_empty());
        let changes = figures(0.0).changes_to(&figures(2.0));
        assert!(changes.iter().all(|change| change.part == "post"), "{changes:?}");
        let line = changes.iter().find(|change| change.what == FigureKind::OuterLine).unwrap();
        // A lean of 2 on 400 tilts the outer line of a tube of 50 by 25 * 2 / 400 to either side.
        assert_eq!(line.end, Some(End::From));
        assert!((line.by.unwrap() - 0.125).abs() < 0.02, "{line:?}");
    }

    #[test]
    fn a_part_that_came_or_went_is_named() {
        let mut fewer = figures(0.0);
        fewer.tubes.pop();
        for changes in [fewer.changes_to(&figures(0.0)), figures(0.0).changes_to(&fewer)] {
            assert_eq!(changes, vec![FigureChange::presence("other")]);
        }
    }
}
