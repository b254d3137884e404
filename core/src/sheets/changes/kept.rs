//! Changes as they are kept beside a notice: facts, from which the sentences are said when they are read.

use super::{ChangeKind, Changes, CheckChange, Measured, PartChange, Reason, StepChange, StepPlace, TrimRow, TrimStep};
use serde::{Deserialize, Serialize};

/// The form in which this version keeps them. Without a number they are of the first one, which kept sentences.
const VERSION: u32 = 2;

#[derive(Serialize, Deserialize)]
struct StoredChanges {
    #[serde(default)]
    version: u32,
    parts: Vec<KeptPart>,
    checks: Vec<KeptCheck>,
    steps: Vec<StepChange>,
    #[serde(default)]
    order: Vec<StepPlace>,
    #[serde(default)]
    trim_steps: Vec<TrimStep>,
}

#[derive(Serialize, Deserialize)]
struct KeptPart {
    member: String,
    kind: ChangeKind,
    old_number: Option<String>,
    new_number: Option<String>,
    trims: Vec<TrimRow>,
    drill: Vec<String>,
    overall: Option<f64>,
    #[serde(default)]
    reason: Option<Reason>,
    /// Of the first form.
    #[serde(default, skip_serializing)]
    words: String,
}

#[derive(Serialize, Deserialize)]
struct KeptCheck {
    name: String,
    #[serde(default)]
    what: KeptWhat,
    old: Option<f64>,
    new: Option<f64>,
}

#[derive(Serialize, Deserialize)]
#[serde(untagged)]
enum KeptWhat {
    Facts(Measured),
    /// Of the first form.
    Words(String),
}

impl Default for KeptWhat {
    fn default() -> Self {
        Self::Words(String::new())
    }
}

impl Changes {
    /// The text to keep; `None` where a figure is no number.
    #[must_use]
    pub fn kept(&self) -> Option<String> {
        let kept = StoredChanges {
            version: VERSION,
            parts: self.parts.iter().cloned().map(KeptPart::from).collect(),
            checks: self.checks.iter().cloned().map(KeptCheck::from).collect(),
            steps: self.steps.clone(),
            order: self.order.clone(),
            trim_steps: self.trim_steps.clone(),
        };
        serde_json::to_string(&kept).ok()
    }

    /// Reads what was kept; `None` for what no version up to this one kept.
    #[must_use]
    pub fn read(kept: &str) -> Option<Self> {
        let StoredChanges { version, parts, checks, steps, order, trim_steps } = serde_json::from_str(kept).ok()?;
        let parts = parts.into_iter().map(PartChange::from).collect();
        let checks = checks.into_iter().map(CheckChange::from).collect();
        (version <= VERSION).then_some(Self { parts, checks, steps, order, trim_steps })
    }
}

impl From<PartChange> for KeptPart {
    fn from(part: PartChange) -> Self {
        let PartChange { member, kind, old_number, new_number, trims, drill, overall, reason } = part;
        Self { member, kind, old_number, new_number, trims, drill, overall, reason, words: String::new() }
    }
}

impl From<KeptPart> for PartChange {
    fn from(part: KeptPart) -> Self {
        let KeptPart { member, kind, old_number, new_number, trims, drill, overall, reason, words } = part;
        let told = || (!words.is_empty()).then_some(Reason::Told { words });
        Self { member, kind, old_number, new_number, trims, drill, overall, reason: reason.or_else(told) }
    }
}

impl From<CheckChange> for KeptCheck {
    fn from(CheckChange { name, what, old, new }: CheckChange) -> Self {
        Self { name, what: KeptWhat::Facts(what), old, new }
    }
}

impl From<KeptCheck> for CheckChange {
    fn from(KeptCheck { name, what, old, new }: KeptCheck) -> Self {
        let what = match what {
            KeptWhat::Facts(what) => what,
            KeptWhat::Words(words) => Measured::Told { words },
        };
        Self { name, what, old, new }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::part::compare::Why;
    use crate::sheets::{Dimension, End, EndFace, Facing, Place, PlaceRound};

    fn part(member: &str, reason: Option<Reason>) -> PartChange {
        let (old_number, new_number) = (Some("F-101".to_owned()), None);
        let kind = ChangeKind::Replace;
        PartChange {
            member: member.to_owned(),
            kind,
            old_number,
            new_number,
            trims: Vec::new(),
            drill: Vec::new(),
            overall: Some(0.1 + 0.2),
            reason,
        }
    }

    #[test]
    fn what_is_kept_is_read_again_as_it_was() {
        let reasons = [
            Reason::TubeElsewhere,
            Reason::PlateElsewhere,
            Reason::Measured,
            Reason::Plate,
            Reason::Tube(Why::Section),
            Reason::Tube(Why::Bends { old: 1, new: 2 }),
            Reason::Tube(Why::Centreline { off: 0.1 + 0.7 }),
            Reason::Tube(Why::TooShort { by: 25.000_000_1, end: Some(1) }),
            Reason::Tube(Why::TooShort { by: 4.0, end: None }),
            Reason::Tube(Why::Hole { old: 3, off: None }),
            Reason::Told { words: "The old part is short.".to_owned() },
        ];
        let member = || "rail".to_owned();
        let face = |end, face| Place::Beyond { member: member(), by: 1.0 / 3.0, end, face };
        let in_line = |side| Place::InLine { on: member(), side, with: member(), end: Some(End::To) };
        let places = [
            [Place::EndMiddle { member: member(), end: End::To }, Place::BasePlane],
            [Place::Crown { member: member() }, in_line(PlaceRound::Clock { degrees: 90.5, faces: Facing::Up })],
            [in_line(PlaceRound::Side { faces: Facing::Back }), in_line(PlaceRound::Middle { faces: Facing::Left })],
            [
                in_line(PlaceRound::Turned { degrees: 12.0, faces: Facing::Down, towards: Facing::Forward }),
                Place::Corner { members: [member(), member()], end: End::From },
            ],
            [face(End::From, EndFace::Sawn), face(End::To, EndFace::Part { met: member() })],
            [
                Place::InFrom { member: member(), by: 2.0, end: End::From, face: EndFace::Cut },
                Place::Along { member: member(), from: 2.0, end: End::From, face: EndFace::Fitted },
            ],
            [Place::BendCorner { member: member(), bend: 2 }, Place::OnBase { x: 1.0, y: -2.0 }],
            [Place::InSpace { at: [1.0, 2.0, 3.5] }, Place::BasePlane],
        ];
        let checks = places.into_iter().map(|places| CheckChange {
            name: "check".to_owned(),
            what: Measured::Between { dimension: Dimension::Named { words: "Width".to_owned() }, places },
            old: None,
            new: Some(1.5),
        });
        let changes = Changes {
            parts: reasons.into_iter().map(Some).chain([None]).map(|reason| part("rail", reason)).collect(),
            checks: checks.collect(),
            steps: Vec::new(),
            order: Vec::new(),
            trim_steps: Vec::new(),
        };
        let kept = changes.kept().expect("figures are numbers");
        assert_eq!(Changes::read(&kept), Some(changes));
        assert!(!kept.contains("words\":\"\"") && kept.starts_with("{\"version\":2,"), "{kept}");
    }

    #[test]
    fn sentences_of_the_first_form_stay_and_what_a_later_version_kept_is_not_guessed_at() {
        let first = r#"{"parts":[{"member":"post","kind":"replace","old_number":null,"new_number":null,"trims":[],"drill":[],
            "overall":null,"words":"Too short."}],"checks":[{"name":"w","old":1.0,"new":2.0}],"steps":[]}"#;
        let read = Changes::read(first).expect("the first form");
        assert_eq!(read.parts[0].reason, Some(Reason::Told { words: "Too short.".to_owned() }));
        assert_eq!(read.checks[0].what, Measured::Told { words: String::new() });
        let kept = read.kept().expect("figures are numbers");
        assert_eq!(Changes::read(&kept), Some(read));
        assert_eq!(Changes::read(&kept.replacen("\"version\":2", "\"version\":3", 1)), None);
        assert_eq!(Changes::read(""), None);
    }
}
