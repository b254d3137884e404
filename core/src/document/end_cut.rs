//! How an end is cut.

use super::field::{Field, record, refuse_unknown, wrong_kind};
use super::finding::Findings;
use super::place::JsonPlace;
use super::point::{Direction, PointRef};
use super::scalar::{Angle, Length, Name};
use crate::words::findings::document::DocumentFault;
use crate::words::findings::values::Wanted;
use serde_json::{Value, json};

record! {
    /// A cut by one plane: give `with` or `normal`.
    pub struct Mitre {
        /// Another straight member that shares this end's point: cut on the plane that joins both outlines.
        optional with: Name,
        /// Direction square to the plane of the cut.
        optional normal: Direction,
        /// A point of the plane; this end's own point when absent.
        optional through: PointRef,
    }
}

record! {
    /// A cut flush with a face.
    pub struct FaceCut {
        /// The member or plate whose face it is.
        required of: Name,
        /// Clock angle of a member's face, degrees; the face that this end comes upon when absent.
        optional clock: Angle,
    }
}

record! {
    /// A square end that slides into the bore of another tube.
    pub struct Plug {
        /// The tube that it slides into.
        required into: Name,
        /// How deep it must sit, mm.
        required depth: Length,
    }
}

record! {
    /// A square end that slides over the outside of another tube.
    pub struct Sleeve {
        /// The tube that it slides over.
        required over: Name,
        /// How far it must reach over it, mm.
        required depth: Length,
    }
}

/// How an end is cut.
#[derive(Debug, Clone, PartialEq)]
pub enum EndCut {
    /// Square to the tube.
    Square,
    /// Fitted to members and plates, cut by a plane, or both.
    Fitted {
        /// Members and plates that it is fitted to.
        cope: Vec<Name>,
        /// A plane.
        mitre: Option<Mitre>,
        /// A face.
        face: Option<FaceCut>,
    },
    /// Inside another tube.
    Plug(Plug),
    /// Over another tube.
    Sleeve(Sleeve),
}

impl Field for EndCut {
    fn read(value: &Value, place: &JsonPlace<'_>, findings: &mut Findings) -> Option<Self> {
        if value.as_str() == Some("square") {
            return Some(Self::Square);
        }
        let Some(entries) = value.as_object() else {
            wrong_kind(Wanted::EndCut, value, place, findings);
            return None;
        };
        refuse_unknown(entries, &["cope", "mitre", "face", "plug", "sleeve"], place, findings);
        let known = |name: &&str| entries.contains_key(*name);
        let inside = ["plug", "sleeve"].iter().filter(|name| known(name)).count();
        let planes = ["mitre", "face"].iter().filter(|name| known(name)).count();
        let copes = usize::from(known(&"cope"));
        if !matches!((inside, planes, copes), (1, 0, 0) | (0, 1, 0 | 1) | (0, 0, 1)) {
            findings.error("wrong-kind", place, DocumentFault::SeveralCuts { wanted: Wanted::EndCut });
            return None;
        }
        fn part<T: Field>(
            entries: &serde_json::Map<String, Value>,
            name: &str,
            place: &JsonPlace<'_>,
            findings: &mut Findings,
        ) -> Option<Option<T>> {
            match entries.get(name) {
                Some(value) => T::read(value, &JsonPlace::Name(place, name), findings).map(Some),
                None => Some(None),
            }
        }
        if let Some(plug) = part::<Plug>(entries, "plug", place, findings)? {
            return Some(Self::Plug(plug));
        }
        if let Some(sleeve) = part::<Sleeve>(entries, "sleeve", place, findings)? {
            return Some(Self::Sleeve(sleeve));
        }
        let cope: Option<Option<Vec<Name>>> = part(entries, "cope", place, findings);
        if cope.as_ref().is_some_and(|cope| cope.as_ref().is_some_and(Vec::is_empty)) {
            findings.error("empty-cope", &JsonPlace::Name(place, "cope"), DocumentFault::CopeOfNothing);
            return None;
        }
        let (mitre, face) = (part(entries, "mitre", place, findings), part(entries, "face", place, findings));
        Some(Self::Fitted { cope: cope?.unwrap_or_default(), mitre: mitre?, face: face? })
    }

    fn schema() -> Value {
        let mut targets = Vec::<Name>::schema();
        targets["minItems"] = 1.into();
        let alone = |name: &str, schema: Value| {
            json!({
                "type": "object", "additionalProperties": false, "required": [name],
                "properties": {name: schema, "cope": targets},
            })
        };
        let inside = |name: &str, schema: Value| json!({"type": "object", "additionalProperties": false, "required": [name], "properties": {name: schema}});
        json!({"oneOf": [
            {"const": "square"},
            inside("cope", targets.clone()),
            alone("mitre", Mitre::schema()),
            alone("face", FaceCut::schema()),
            inside("plug", Plug::schema()),
            inside("sleeve", Sleeve::schema()),
        ]})
    }
}
