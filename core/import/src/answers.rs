//! What a person says beside the files, because no file says it.

use crate::report::{Code, Notes};
use crate::unit::Unit;
use crate::words::answers::{AnswerFact, AnswerPlace};
use serde::Deserialize;
use std::collections::BTreeMap;

/// Answers to the questions of a report. All fields are optional.
#[derive(Debug, Clone, Default, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema), schema(as = ImportAnswers))]
pub struct Answers {
    /// Name of the design; the first file's name when absent.
    #[serde(default)]
    pub name: Option<String>,
    /// Unit of the coordinates, where the file states none or a wrong one.
    #[serde(default)]
    pub unit: Option<Unit>,
    /// Which axis of the source is the design's x, y and z, such as `["y", "-x", "z"]`; `-x` is reversed.
    #[serde(default)]
    pub axes: Option<[String; 3]>,
    /// Coordinates of the design's zero in the source, in its unit and axes.
    #[serde(default)]
    pub origin: Option<[f64; 3]>,
    /// Layers or names that are tubes, and their sizes in mm. `*` is everything. What is not named is no tube.
    #[serde(default)]
    pub sections: Option<BTreeMap<String, Size>>,
    /// Whether pieces in one line on one layer are one tube; yes when absent.
    #[serde(default)]
    pub join_in_line: Option<bool>,
    /// Bend radius of sharp corners, mm. 0 makes each piece a tube of its own.
    #[serde(default)]
    pub radius: Option<Radii>,
    /// What headers of tables mean: header to one of the meanings of the handbook, such as `"Rohr": "member"`.
    #[serde(default)]
    pub columns: Option<BTreeMap<String, String>>,
    /// Ends closer than this are one point, mm; 0.1 when absent.
    #[serde(default)]
    pub tolerance: Option<f64>,
    /// Fields that this version does not know.
    #[serde(flatten)]
    #[cfg_attr(feature = "openapi", schema(ignore))]
    pub unknown: BTreeMap<String, serde_json::Value>,
}

/// Size of a section in mm.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(
    untagged,
    deny_unknown_fields,
    expecting = "a size in mm: `od` and `wall`, or `width`, `height`, `wall` and `corner`"
)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema), schema(as = ImportSize))]
pub enum Size {
    /// A round tube.
    Round {
        /// Outer diameter, mm.
        od: f64,
        /// Wall, mm.
        wall: f64,
    },
    /// A rectangular tube.
    Rect {
        /// Outer width, mm.
        width: f64,
        /// Outer height, mm.
        height: f64,
        /// Wall, mm.
        wall: f64,
        /// Outer corner radius, mm.
        corner: f64,
    },
}

/// Bend radii of sharp corners.
#[derive(Debug, Clone, Deserialize)]
#[serde(untagged, expecting = "a radius in mm, or an object of `by_layer` and `by_tube_near`")]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema), schema(as = ImportRadii))]
pub enum Radii {
    /// One for all.
    All(f64),
    /// By layer, or by tube.
    Some(RadiiOfSome),
}

/// Bend radii by layer, or by tube.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema), schema(as = ImportRadiiOfSome))]
pub struct RadiiOfSome {
    /// By layer or section.
    #[serde(default)]
    pub by_layer: BTreeMap<String, f64>,
    /// By a corner of the tube.
    #[serde(default)]
    pub by_tube_near: Vec<RadiusNear>,
}

/// The bend radius of the tube that has a corner at a place.
#[derive(Debug, Clone, Copy, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema), schema(as = ImportRadiusNear))]
pub struct RadiusNear {
    /// A corner of the tube: design coordinates in mm, or the source's own coordinates.
    pub at: [f64; 3],
    /// Bend radius, mm; in the unit of the source where `at` is.
    pub radius: f64,
}

impl Answers {
    /// Reads answers; what cannot be read is an error of the report.
    pub fn read(text: &str, notes: &mut Notes) -> Option<Self> {
        let mut deserializer = serde_json::Deserializer::from_str(text);
        match serde_path_to_error::deserialize::<_, Self>(&mut deserializer) {
            Ok(answers) => answers.checked(notes),
            Err(error) => {
                let (path, inner) = (error.path().to_string(), error.inner().to_string());
                notes.error(
                    Code::BadAnswers,
                    AnswerPlace::Anywhere.to_string(),
                    AnswerFact::NotReadable { path: &path, reason: &inner },
                );
                None
            }
        }
    }

    /// These answers, when their figures can be meant; otherwise errors of the report.
    pub fn checked(self, notes: &mut Notes) -> Option<Self> {
        for name in self.unknown.keys().take(20) {
            notes.warning(Code::UnknownAnswer, AnswerPlace::Anywhere.to_string(), AnswerFact::NotAskedFor { name });
        }
        let mut wrong = |fact: AnswerFact<'_>| notes.error(Code::BadAnswers, AnswerPlace::Anywhere.to_string(), fact);
        let mut right = true;
        if self.tolerance.is_some_and(|tolerance| !(0.0..=1.0).contains(&tolerance)) {
            wrong(AnswerFact::ToleranceOutside);
            right = false;
        }
        if self.origin.is_some_and(|origin| origin.iter().any(|at| !at.is_finite() || at.abs() > 1e9)) {
            wrong(AnswerFact::OriginOutside);
            right = false;
        }
        for (name, size) in self.sections.iter().flatten() {
            if !size.is_in_range() {
                wrong(AnswerFact::SizeOutside { section: name });
                right = false;
            }
        }
        right.then_some(self)
    }

    /// Size of a layer or name, where it was told; `*` is everything.
    #[must_use]
    pub fn section(&self, layer: &str) -> Option<Size> {
        let sections = self.sections.as_ref()?;
        let same = |(name, _): &(&String, &Size)| name.to_lowercase() == layer.to_lowercase();
        sections
            .get(layer)
            .or_else(|| sections.iter().find(same).map(|(_, size)| size))
            .or_else(|| sections.get("*"))
            .copied()
    }
}

impl Size {
    /// Whether the format allows this size.
    #[must_use]
    pub fn is_in_range(&self) -> bool {
        let outside = |size: f64| (3.0..=1000.0).contains(&size);
        match *self {
            Self::Round { od, wall } => outside(od) && wall >= 0.2 && 2.0 * wall < od,
            Self::Rect { width, height, wall, corner } => {
                let least = width.min(height);
                outside(width)
                    && outside(height)
                    && wall >= 0.2
                    && 2.0 * wall < least
                    && (0.0..=least / 2.0).contains(&corner)
            }
        }
    }

    /// The greatest size across, mm.
    #[must_use]
    pub fn across(&self) -> f64 {
        match *self {
            Self::Round { od, .. } => od,
            Self::Rect { width, height, .. } => width.max(height),
        }
    }

    /// The size scaled alike in all directions.
    #[must_use]
    pub fn scaled(self, by: f64) -> Self {
        match self {
            Self::Round { od, wall } => Self::Round { od: od * by, wall: wall * by },
            Self::Rect { width, height, wall, corner } => {
                Self::Rect { width: width * by, height: height * by, wall: wall * by, corner: corner * by }
            }
        }
    }
}
