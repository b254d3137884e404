//! Rules 2 and 3: what goes through, who is mitred, who runs on.

use super::{Order, Rules};
use crate::frame::fit::meeting;
use crate::geometry::Profile;
use crate::nodes::end::{End, Given};
use crate::nodes::limits::{AXES_MEET, DRAWN_NEAR, EQUAL, OPEN, SHARP, STRAIGHT_ON, in_steps};

/// What all others at a node are fitted to.
pub(super) enum Trunk {
    /// A mitred pair, one that runs on, or nothing that is open: something goes through, or stands as the document says.
    Settled(Vec<End>),
    /// One of these runs on.
    OneOf(Vec<End>),
}

impl Rules<'_> {
    pub(super) fn trunk(&self) -> Trunk {
        let none = Trunk::Settled(Vec::new());
        if !self.node.passing.is_empty() {
            return none;
        }
        let open: Vec<End> = self.node.ends.iter().filter(|end| end.is_open()).copied().collect();
        // An end alone is fitted to what it only grazes.
        if let ([_], false) = (&self.node.ends[..], self.stands_alone()) {
            return none;
        }
        let largest = open.iter().map(End::size).fold(0.0, f64::max);
        let stands = self.node.ends.iter().filter(|end| end.given == Given::Standing);
        if stands.into_iter().any(|end| end.size() >= largest - EQUAL) {
            return none;
        }
        let is_largest = |end: &&End| end.size() >= largest - EQUAL;
        let is_rectangular = open.iter().filter(is_largest).any(End::is_rectangular);
        let top: Vec<End> =
            open.iter().filter(is_largest).filter(|end| end.is_rectangular() == is_rectangular).copied().collect();
        let pairs = top.iter().enumerate().flat_map(|(number, a)| top[number + 1..].iter().map(move |b| [*a, *b]));
        let pairs: Vec<[End; 2]> = pairs.filter(|[a, b]| self.may_pair(a, b) && can_be_mitred(a, b)).collect();
        let at_least = |least: f64| pairs.iter().find(|[a, b]| a.axes(b).0 >= least);
        let pair = match self.order {
            Order::Ties => at_least(STRAIGHT_ON).or_else(|| at_least(OPEN)),
            Order::First => at_least(SHARP),
        };
        if let Some(pair) = pair {
            return Trunk::Settled(pair.to_vec());
        }
        if self.in_middle() && top.first().is_some_and(|end| self.hands.end(end.at) != Some(end.at)) {
            return none;
        }
        let alone = |end: &End| !self.in_middle() || self.hands.end(end.at) == Some(end.at);
        let mut candidates: Vec<End> = top.into_iter().filter(alone).collect();
        match (self.order, candidates.len()) {
            (_, 0 | 1) | (Order::First, _) => {
                candidates.truncate(1);
                Trunk::Settled(candidates)
            }
            _ => Trunk::OneOf(candidates),
        }
    }

    pub(super) fn in_middle(&self) -> bool {
        self.hands.is_in_middle(self.node)
    }

    /// No tube is a pair with itself, and on the middle plane only opposite hands, or two ends that lie in it, can be one.
    fn may_pair(&self, a: &End, b: &End) -> bool {
        let image = |end: &End| self.hands.end(end.at);
        if a.at.0 == b.at.0 {
            return false;
        }
        !self.in_middle() || image(a) == Some(b.at) || (image(a) == Some(a.at) && image(b) == Some(b.at))
    }
}

/// True when two ends have one outline on the plane that halves their angle, and axes that meet near both.
fn can_be_mitred(a: &End, b: &End) -> bool {
    let (at, apart) = meeting(&a.tip, &b.tip);
    let is_near = [a, b].iter().all(|end| in_steps(end.tip.origin.distance(at)) <= DRAWN_NEAR);
    in_steps(apart) <= AXES_MEET && is_near && have_one_outline(a, b)
}

fn have_one_outline(a: &End, b: &End) -> bool {
    let equal = |a: f64, b: f64| 2.0 * (a - b).abs() <= EQUAL;
    match (a.profile, b.profile) {
        (Profile::Round { outer, .. }, Profile::Round { outer: other, .. }) => equal(outer, other),
        (
            Profile::Rect { half_width: w, half_height: h, corner, .. },
            Profile::Rect { half_width, half_height, corner: other, .. },
        ) => {
            let Some(normal) = (a.away() - b.away()).try_normalize() else { return false };
            let turned = a.index.reflect(normal).dot(b.index).abs();
            equal(corner, other)
                && ((turned > 1.0 - 1e-4 && equal(w, half_width) && equal(h, half_height))
                    || (turned < 1e-2 && equal(w, half_height) && equal(h, half_width)))
        }
        _ => false,
    }
}
