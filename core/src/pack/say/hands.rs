//! How to know the left part of a pair from the right one.

use crate::pack::layout::figures::Figures;
use crate::part::compare::{Mark, PlateFeature, PlateTell, Side, Tell};
use crate::sheets::{End, HandTell};

impl Figures {
    /// One sentence to the one who holds the part of a hand.
    pub(in crate::pack) fn hand(self, tell: &HandTell, hand: Side) -> String {
        match tell {
            HandTell::Tube(tell) => self.tube_hand(tell, hand),
            HandTell::Plate(tell) => self.plate_hand(tell, hand),
        }
    }

    fn tube_hand(self, tell: &Tell, hand: Side) -> String {
        let say = &self.words.hand;
        match *tell {
            Tell::Sideways { from, up, other, side, degrees, .. } => {
                let found = self.found(other, from, on_hand(side, hand), degrees);
                let seen = say.look(self.end(End::at(from)), self.turned_up(up, from), found);
                let is_hole = |mark: Mark| matches!(mark, Mark::Hole { .. });
                if is_hole(up) || is_hole(other) { say.until_drilled(seen) } else { seen }
            }
            Tell::Uneven { end, side, degrees, longer } => {
                let (end, degrees, by) = (self.end(End::at(end)), self.whole_degrees(degrees), self.length(longer));
                match on_hand(side, hand) {
                    Side::Left => say.uneven_left(end, degrees, by),
                    Side::Right => say.uneven_right(end, degrees, by),
                }
            }
            Tell::Nothing { deviation } => match hand {
                Side::Left => say.nothing_left(self.length(deviation)),
                Side::Right => say.nothing_right(self.length(deviation)),
            },
        }
    }

    /// What is turned upwards, seen from an end.
    fn turned_up(self, mark: Mark, from: usize) -> String {
        let say = &self.words.hand;
        match mark {
            Mark::LongPoint(end) if end == from => say.top_long_point_here().to_owned(),
            Mark::LongPoint(end) => say.top_long_point_of(self.end(End::at(end))),
            Mark::Throat(end) if end == from => say.top_throat_here().to_owned(),
            Mark::Throat(end) => say.top_throat_of(self.end(End::at(end))),
            Mark::Hole { diameter, after_bend: 0, along, .. } => {
                say.top_hole_from_end(self.length(diameter), self.length(along), self.end(End::From))
            }
            Mark::Hole { diameter, after_bend, along, .. } => {
                say.top_hole_after_bend(self.length(diameter), self.length(along), after_bend)
            }
            Mark::Bend(number) => say.top_bend(number + 1),
        }
    }

    /// To which side something lies, seen from an end.
    fn found(self, mark: Mark, from: usize, side: Side, degrees: f64) -> String {
        let say = &self.words.hand;
        let is_left = side == Side::Left;
        let degrees = self.whole_degrees(degrees);
        let end = |end: usize| self.end(End::at(end));
        match (mark, is_left) {
            (Mark::LongPoint(at), true) if at == from => say.long_point_here_left(degrees),
            (Mark::LongPoint(at), false) if at == from => say.long_point_here_right(degrees),
            (Mark::LongPoint(at), true) => say.long_point_of_left(end(at), degrees),
            (Mark::LongPoint(at), false) => say.long_point_of_right(end(at), degrees),
            (Mark::Throat(at), true) if at == from => say.throat_here_left(degrees),
            (Mark::Throat(at), false) if at == from => say.throat_here_right(degrees),
            (Mark::Throat(at), true) => say.throat_of_left(end(at), degrees),
            (Mark::Throat(at), false) => say.throat_of_right(end(at), degrees),
            (Mark::Hole { diameter, after_bend, along, .. }, _) => {
                let [diameter, along] = [diameter, along].map(|mm| self.length(mm));
                match (after_bend, is_left) {
                    (0, true) => say.hole_from_end_left(diameter, along, end(0), degrees),
                    (0, false) => say.hole_from_end_right(diameter, along, end(0), degrees),
                    (bend, true) => say.hole_after_bend_left(diameter, along, bend, degrees),
                    (bend, false) => say.hole_after_bend_right(diameter, along, bend, degrees),
                }
            }
            (Mark::Bend(number), true) => say.bend_left(number + 1, degrees),
            (Mark::Bend(number), false) => say.bend_right(number + 1, degrees),
        }
    }

    fn plate_hand(self, tell: &PlateTell, hand: Side) -> String {
        let say = &self.words.plate_hand;
        match *tell {
            PlateTell::Beside { edge, feature, above, side, offset } => {
                let [edge, above, by] = [edge, above, offset].map(|mm| self.whole_length(mm));
                match (feature, on_hand(side, hand)) {
                    (PlateFeature::Hole(diameter), Side::Left) => say.hole_left(edge, self.length(diameter), above, by),
                    (PlateFeature::Hole(diameter), Side::Right) => {
                        say.hole_right(edge, self.length(diameter), above, by)
                    }
                    (PlateFeature::Corner, Side::Left) => say.corner_left(edge, above, by),
                    (PlateFeature::Corner, Side::Right) => say.corner_right(edge, above, by),
                }
            }
            PlateTell::Nothing { deviation } => match (deviation.is_finite(), hand) {
                (true, Side::Left) => say.nothing_left(self.length(deviation)),
                (true, Side::Right) => say.nothing_right(self.length(deviation)),
                (false, Side::Left) => say.other_face_left().to_owned(),
                (false, Side::Right) => say.other_face_right().to_owned(),
            },
        }
    }
}

/// A side that is told of the left part, on the part of a hand.
fn on_hand(side: Side, hand: Side) -> Side {
    if hand == Side::Left { side } else { side.other() }
}
