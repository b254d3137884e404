//! The types of `matchmark-design/1`.

use super::field::{Field, record, refuse_unknown, wrong_kind};
use super::finding::Findings;
use super::place::Place;
use super::scalar::{BendRadius, Component, Coordinate, Density, Diameter, Gap, Length, Name, Springback, Text, Wall};
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// The value of `format`.
pub const FORMAT: &str = "matchmark-design/1";

record! {
    /// A frame design. Lengths in mm, angles in degrees, axes of ISO 8855: x forward, y left, z up.
    pub struct Design {
        /// Always `matchmark-design/1`.
        required format: Format,
        /// Name of the design, as printed on every page.
        required name: Text,
        /// What the frame is, in a sentence.
        optional description: Text,
        /// Materials by name.
        required materials: BTreeMap<String, Material>,
        /// Tube sections by name.
        required sections: BTreeMap<String, Section>,
        /// Points by name. A point `x.L` also gives `x.R`, mirrored across y = 0, unless `x.R` is given itself.
        required points: BTreeMap<String, Point>,
        /// Members in build order: an end with no explicit cut is fitted to the members before it that it runs into.
        required members: Vec<Member>,
        /// Notes to the whole frame.
        optional notes: Vec<Text>,
    }
}

/// The format's own name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Format;

impl Field for Format {
    fn read(value: &Value, place: &Place<'_>, findings: &mut Findings) -> Option<Self> {
        if value.as_str() == Some(FORMAT) {
            return Some(Self);
        }
        findings.error("unknown-format", place, format!("This reader knows the format `{FORMAT}`. Write that here."));
        None
    }

    fn schema() -> Value {
        json!({"const": FORMAT})
    }
}

record! {
    /// A material.
    pub struct Material most 100 {
        /// Grade and condition, as a buyer would order it.
        required name: Text,
        /// Density in kg/m3; 7850 for carbon steel (EN 10220).
        required density: Density,
    }
}

record! {
    /// A tube section.
    pub struct Section most 200 {
        /// A round tube.
        required round: Round,
        /// Name of its material.
        required material: Name,
        /// Degrees that a bend of 90 degrees opens again, from a trial bend of this section.
        optional springback: Springback,
        /// Shortest straight that the bender can hold between bends, mm.
        optional clamp: Length,
    }
}

record! {
    /// A round tube's size.
    pub struct Round {
        /// Outer diameter, mm.
        required od: Diameter,
        /// Wall, mm.
        required wall: Wall,
    }
}

record! {
    /// A tube of the frame: straight with `from` and `to`, or bent with `path` and `radius`.
    pub struct Member most 25_000 {
        /// Id, unique in the design. Ends in `.L` or `.R` when `mirror` is set.
        required id: Name,
        /// Name of its section.
        required section: Name,
        /// Where a straight member starts.
        optional from: PointRef,
        /// Where a straight member ends.
        optional to: PointRef,
        /// Corner points of a bent member's centreline, first end to last.
        optional path: Vec<PointRef>,
        /// Centreline radius of its bends, mm.
        optional radius: BendRadius,
        /// True to add the opposite-hand member, mirrored across y = 0, right after this one.
        optional mirror: bool,
        /// Explicit end cuts.
        optional ends: Ends,
        /// Root gap left at coped ends, mm; 0 when absent.
        optional gap: Gap,
        /// What is left long at the ends, to be trimmed when it is fitted.
        optional leave_long: LeaveLong,
        /// A word to the fitter.
        optional note: Text,
    }
}

record! {
    /// Explicit cuts of the two ends.
    pub struct Ends {
        /// Cut at the first end.
        optional from: EndCut,
        /// Cut at the last end.
        optional to: EndCut,
    }
}

record! {
    /// What is left long, mm.
    pub struct LeaveLong {
        /// At the first end.
        optional from: Length,
        /// At the last end.
        optional to: Length,
    }
}

record! {
    /// A cut by one plane: give `with` or `normal`.
    pub struct Mitre {
        /// Another straight member of equal section that shares this end's point: cut on the plane that halves their angle.
        optional with: Name,
        /// Direction square to the plane of the cut.
        optional normal: Direction,
        /// A point of the plane; this end's own point when absent.
        optional through: PointRef,
    }
}

/// How an end is cut.
#[derive(Debug, Clone, PartialEq)]
pub enum EndCut {
    /// Square to the tube.
    Square,
    /// By a plane.
    Mitre(Mitre),
    /// Fitted to the named members.
    Cope(Vec<Name>),
}

impl Field for EndCut {
    fn read(value: &Value, place: &Place<'_>, findings: &mut Findings) -> Option<Self> {
        const WANTED: &str = "\"square\", {\"mitre\": ...} or {\"cope\": [...]}";
        if value.as_str() == Some("square") {
            return Some(Self::Square);
        }
        let Some(entries) = value.as_object() else {
            findings.error("wrong-kind", place, format!("This is not an end cut. Write {WANTED}."));
            return None;
        };
        refuse_unknown(entries, &["mitre", "cope"], place, findings);
        match (entries.get("mitre"), entries.get("cope")) {
            (Some(mitre), None) => Mitre::read(mitre, &Place::Name(place, "mitre"), findings).map(Self::Mitre),
            (None, Some(cope)) => {
                let place = Place::Name(place, "cope");
                let targets = Vec::read(cope, &place, findings)?;
                if targets.is_empty() {
                    findings.error(
                        "empty-cope",
                        &place,
                        "This cope names no member. Name those that the end is fitted to.".into(),
                    );
                    return None;
                }
                Some(Self::Cope(targets))
            }
            _ => {
                findings.error("wrong-kind", place, format!("An end has exactly one cut. Write {WANTED}."));
                None
            }
        }
    }

    fn schema() -> Value {
        let mut targets = Vec::<Name>::schema();
        targets["minItems"] = 1.into();
        json!({"oneOf": [
            {"const": "square"},
            {"type": "object", "additionalProperties": false, "required": ["mitre"], "properties": {"mitre": Mitre::schema()}},
            {"type": "object", "additionalProperties": false, "required": ["cope"], "properties": {"cope": targets}},
        ]})
    }
}

/// A place in the frame: x forward, y left, z up, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point(pub [f64; 3]);

impl Field for Point {
    const MOST: usize = 100_000;

    fn read(value: &Value, place: &Place<'_>, findings: &mut Findings) -> Option<Self> {
        triple::<Coordinate>(value, "three coordinates [x, y, z] in mm", place, findings)
            .map(|[x, y, z]| Self([x.get(), y.get(), z.get()]))
    }

    fn schema() -> Value {
        json!({"type": "array", "minItems": 3, "maxItems": 3, "items": Coordinate::schema()})
    }
}

/// A direction, of any length but zero.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Direction(pub [f64; 3]);

impl Field for Direction {
    fn read(value: &Value, place: &Place<'_>, findings: &mut Findings) -> Option<Self> {
        let [x, y, z] = triple::<Component>(value, "three components [x, y, z]", place, findings)?.map(Component::get);
        if x * x + y * y + z * z < 1e-12 {
            findings.error(
                "zero-direction",
                place,
                "This direction has no length. Give at least one component of about 1.".into(),
            );
            return None;
        }
        Some(Self([x, y, z]))
    }

    fn schema() -> Value {
        json!({"type": "array", "minItems": 3, "maxItems": 3, "items": Component::schema()})
    }
}

fn triple<T: Field + Copy>(value: &Value, wanted: &str, place: &Place<'_>, findings: &mut Findings) -> Option<[T; 3]> {
    let Some([x, y, z]) = value.as_array().map(Vec::as_slice) else {
        wrong_kind(wanted, value, place, findings);
        return None;
    };
    let read =
        [(0, x), (1, y), (2, z)].map(|(index, component)| T::read(component, &Place::Item(place, index), findings));
    match read {
        [Some(x), Some(y), Some(z)] => Some([x, y, z]),
        _ => None,
    }
}

/// A point by name or by its coordinates.
#[derive(Debug, Clone, PartialEq)]
pub enum PointRef {
    /// A name of `points`.
    Named(Name),
    /// Coordinates in place.
    Here(Point),
}

impl Field for PointRef {
    const MOST: usize = 64;

    fn read(value: &Value, place: &Place<'_>, findings: &mut Findings) -> Option<Self> {
        match value {
            Value::String(_) => Name::read(value, place, findings).map(Self::Named),
            Value::Array(_) => Point::read(value, place, findings).map(Self::Here),
            _ => {
                wrong_kind("the name of a point or [x, y, z]", value, place, findings);
                None
            }
        }
    }

    fn schema() -> Value {
        json!({"oneOf": [Name::schema(), Point::schema()]})
    }
}

impl Field for bool {
    fn read(value: &Value, place: &Place<'_>, findings: &mut Findings) -> Option<Self> {
        if value.is_boolean() {
            return value.as_bool();
        }
        wrong_kind("true or false", value, place, findings);
        None
    }

    fn schema() -> Value {
        json!({"type": "boolean"})
    }
}
