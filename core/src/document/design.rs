//! The whole document: `matchmark-design/1`.

use super::field::{Field, record};
use super::finding::Findings;
use super::hole::Hole;
use super::kit::{Check, Choice, Class, Gauge, Step};
use super::member::Member;
use super::place::JsonPlace;
use super::plate::Plate;
use super::point::Point;
use super::scalar::{Coordinate, Name, Text};
use super::section::{Material, Section, Stock};
use crate::words::findings::document::DocumentFault;
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
        /// Stock lengths; when given, every section in use must have some.
        optional stock: Vec<Stock>,
        /// Points by name. A point `x.L` also gives `x.R`, mirrored across y = 0, unless `x.R` is given itself.
        required points: BTreeMap<String, Point>,
        /// Members in build order: an end with no explicit cut is fitted to the members and plates before it that it runs into.
        required members: Vec<Member>,
        /// Plates by name.
        optional plates: BTreeMap<String, Plate>,
        /// Holes through members by name.
        optional holes: BTreeMap<String, Hole>,
        /// Measured quantities by name.
        optional gauges: BTreeMap<String, Gauge>,
        /// Dimensions to check by name.
        optional checks: BTreeMap<String, Check>,
        /// Tolerance class of ISO 13920 for check dimensions that name none; B when absent.
        optional tolerance: Class,
        /// Height of the plane on which the frame is built, mm: what stands higher is held by packers, as the fit-up order says; 0 when absent.
        optional base: Coordinate,
        /// What is done between the members of the fit-up order.
        optional steps: Vec<Step>,
        /// Choices fixed for each kit, by name.
        optional options: BTreeMap<String, Choice>,
        /// Letters or digits before every part number.
        optional part_prefix: Name,
        /// Notes to the whole frame.
        optional notes: Vec<Text>,
    }
}

/// The format's own name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Format;

impl Field for Format {
    fn read(value: &Value, place: &JsonPlace<'_>, findings: &mut Findings) -> Option<Self> {
        if value.as_str() == Some(FORMAT) {
            return Some(Self);
        }
        findings.error("unknown-format", place, DocumentFault::UnknownFormat { format: FORMAT });
        None
    }

    fn schema() -> Value {
        json!({"const": FORMAT})
    }
}
