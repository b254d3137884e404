//! What check dimensions measure, and where.

use crate::pack::layout::figures::Figures;
use crate::sheets::{Dimension, End, EndFace, Facing, Place, PlaceRound};

impl Figures {
    /// What is measured, from where and to where.
    pub(in crate::pack) fn measured(self, dimension: &Dimension, [from, to]: &[Place; 2]) -> String {
        self.words.places.between(self.dimension(dimension), self.place(from), self.place(to))
    }

    /// What a check dimension is.
    pub(in crate::pack) fn dimension(self, dimension: &Dimension) -> String {
        let say = &self.words.places;
        match dimension {
            Dimension::Named { words } => words.clone(),
            Dimension::Distance => say.distance().to_owned(),
            Dimension::DistanceAlong { axis } => say.distance_along(axis.word()),
            Dimension::Spread => say.spread().to_owned(),
            Dimension::Height => say.height().to_owned(),
            Dimension::Diagonal => say.diagonal().to_owned(),
            Dimension::Width => say.width().to_owned(),
        }
    }

    /// A place, to follow "from" or "to".
    pub(in crate::pack) fn place(self, place: &Place) -> String {
        let say = &self.words.places;
        match place {
            Place::EndMiddle { member, end } => say.end_middle(self.end(*end), member),
            Place::BasePlane => say.base_plane().to_owned(),
            Place::Crown { member } => say.crown(member),
            Place::InLine { on, side, with, end } => match end {
                Some(end) => self.in_line(on, side, &say.with_end(self.end(*end), with)),
                None => self.in_line(on, side, with),
            },
            Place::Corner { members: [part, other], end } => say.corner(part, other, self.end(*end)),
            Place::Beyond { member, by, end, face } => {
                let (by, end) = (self.length(*by), self.end(*end));
                match face {
                    EndFace::Sawn => say.beyond_sawn(member, by, end),
                    EndFace::Cut => say.beyond_cut(member, by, end),
                    EndFace::Part { met } => say.beyond_part(member, by, end, met),
                    EndFace::Fitted => say.beyond_fitted(member, by, end),
                }
            }
            Place::InFrom { member, by, end, face } => {
                let (by, end) = (self.length(*by), self.end(*end));
                match face {
                    EndFace::Sawn => say.in_from_sawn(member, by, end),
                    EndFace::Cut => say.in_from_cut(member, by, end),
                    EndFace::Part { met } => say.in_from_part(member, by, end, met),
                    EndFace::Fitted => say.in_from_fitted(member, by, end),
                }
            }
            Place::Along { member, from, end, face } => self.along(member, *from, *end, face),
            Place::BendCorner { member, bend } => say.bend_corner(member, *bend),
            Place::OnBase { x, y } => say.on_base(self.length(*x), self.length(*y)),
            Place::InSpace { at } => {
                let [x, y, z] = at.map(|mm| self.length(mm));
                say.in_space(x, y, z)
            }
        }
    }

    fn along(self, member: &str, from: f64, end: End, face: &EndFace) -> String {
        let say = &self.words.places;
        let (from, end) = (self.length(from), self.end(end));
        match face {
            EndFace::Sawn => say.along_sawn(member, from, end),
            EndFace::Cut => say.along_cut(member, from, end),
            EndFace::Part { met } => say.along_part(member, from, end, met),
            EndFace::Fitted => say.along_fitted(member, from, end),
        }
    }

    fn in_line(self, on: &str, side: &PlaceRound, with: &str) -> String {
        let say = &self.words.places;
        match *side {
            PlaceRound::Clock { degrees, faces } => {
                say.at_clock(on, self.whole_degrees(degrees), self.facing(faces), with)
            }
            PlaceRound::Side { faces } => say.on_side(on, self.facing(faces), with),
            PlaceRound::Middle { faces } => say.on_middle(on, self.facing(faces), with),
            PlaceRound::Turned { degrees, faces, towards } => {
                say.turned(on, self.whole_degrees(degrees), self.facing(faces), self.facing(towards), with)
            }
        }
    }

    /// Which way something faces.
    pub(in crate::pack) fn facing(self, faces: Facing) -> &'static str {
        let say = &self.words.facing;
        match faces {
            Facing::Up => say.up(),
            Facing::Down => say.down(),
            Facing::Forward => say.forward(),
            Facing::Back => say.back(),
            Facing::Left => say.left(),
            Facing::Right => say.right(),
        }
    }
}
