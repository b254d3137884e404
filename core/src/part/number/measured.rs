//! The numbers of one kit's parts, where what was measured on it changes some of them.

use super::master::Master;
use super::{Numbered, Numbers, PartKind};
use crate::part::Made;

/// Stands after the number of a part that measured values change. No number that is given or fixed holds this sign.
const MARK: &str = "/M";

/// Whether a part number is that of a part made to what was measured on one kit, and no other's.
#[must_use]
pub fn is_as_measured(number: &str) -> bool {
    number.contains(MARK)
}

impl Numbers {
    /// The numbers of a kit: a part that its measured values change has the number of the revision's part with a mark of its own,
    /// and one more where parts of one number are changed in different ways. `to_figure` is the frame of the same choices without
    /// measured values, whose parts have these numbers.
    #[must_use]
    pub fn as_measured(&self, to_figure: &Made, now: &Made) -> Self {
        let mut parts = Vec::with_capacity(self.parts.len());
        for part in &self.parts {
            let master = |made: &Made, id: &str| match part.kind {
                PartKind::Tube => made.member(id).map(|at| Master::tube(made, at)),
                PartKind::Plate => made.plate(id).map(|at| Master::plate(made, at)),
            };
            let mut as_drawn = Vec::new();
            let mut changed: Vec<(Master, Vec<String>)> = Vec::new();
            for id in &part.members {
                match (master(to_figure, id), master(now, id)) {
                    (Some(figure), Some(is)) if !figure.is_same(&is) => {
                        match changed.iter_mut().find(|(known, _)| known.is_same(&is)) {
                            Some((_, members)) => members.push(id.clone()),
                            None => changed.push((is, vec![id.clone()])),
                        }
                    }
                    _ => as_drawn.push(id.clone()),
                }
            }
            if !as_drawn.is_empty() {
                parts.push(Numbered { members: as_drawn, ..part.clone() });
            }
            for (place, (_, members)) in changed.into_iter().enumerate() {
                let which = if place == 0 { String::new() } else { (place + 1).to_string() };
                parts.push(Numbered { number: format!("{}{MARK}{which}", part.number), members, ..part.clone() });
            }
        }
        Self { parts, dashes: self.dashes.clone() }
    }
}
