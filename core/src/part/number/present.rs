//! The numbers of the parts that one kit has.

use super::{Numbered, Numbers};
use crate::part::{Made, PartKind};
use std::collections::BTreeSet;

impl Numbers {
    /// Those of the parts that are there: without members that the choices of a kit leave out, and with the parts that only other
    /// choices than the first have. A revision gives these no numbers of their own, so each goes by its mark, and none is left out.
    #[must_use]
    pub fn present(&self, made: &Made) -> Self {
        let is_there = |kind: PartKind, id: &str| match kind {
            PartKind::Tube => made.member(id).is_some(),
            PartKind::Plate => made.plate(id).is_some(),
        };
        let mut parts: Vec<Numbered> = Vec::with_capacity(self.parts.len());
        for part in &self.parts {
            let members: Vec<String> = part.members.iter().filter(|id| is_there(part.kind, id)).cloned().collect();
            if !members.is_empty() {
                parts.push(Numbered { members, ..part.clone() });
            }
        }
        let numbered: BTreeSet<String> = parts.iter().flat_map(|part| part.members.iter().cloned()).collect();
        let tubes = made.frame.members.iter().map(|member| (PartKind::Tube, &member.id));
        let plates = made.frame.plates.iter().map(|plate| (PartKind::Plate, &plate.id));
        let others = tubes.chain(plates).filter(|(_, id)| !numbered.contains(*id));
        parts.extend(others.map(|(kind, id)| Numbered {
            number: id.clone(),
            base: None,
            kind,
            members: vec![id.clone()],
        }));
        Self { parts, dashes: self.dashes.clone() }
    }
}

#[cfg(test)]
mod tests {
    use crate::document::OneKit;
    use crate::{evaluate, evaluate_for};

    const DESIGN: &str = r#"{
        "format": "matchmark-design/1", "name": "Rack", "part_prefix": "R",
        "materials": {"steel": {"name": "S235", "density": 7850}},
        "sections": {"tube": {"round": {"od": 30, "wall": 2}, "material": "steel"}},
        "points": {},
        "options": {"side": {"what": "Side of the hook", "choices": ["left", "right"]}},
        "members": [
            {"id": "rail", "section": "tube", "from": [0, 0, 0], "to": [900, 0, 0]},
            {"id": "hook_left", "section": "tube", "from": [200, 0, 0], "to": [200, 0, 300], "when": {"side": "left"}},
            {"id": "hook_right", "section": "tube", "from": [700, 0, 0], "to": [700, 0, 500], "when": {"side": "right"}}
        ]
    }"#;

    #[test]
    fn a_part_that_only_another_choice_has_goes_by_its_mark_and_none_that_is_left_out_is_listed() {
        let mut drawn = evaluate(DESIGN);
        let numbers = drawn.number(None).unwrap();
        let kit = OneKit { choices: [("side".to_owned(), "right".to_owned())].into(), ..OneKit::default() };
        let mut right = evaluate_for(DESIGN, &kit);
        right.put_numbers(&numbers);
        let listed: Vec<(String, Vec<String>)> =
            right.sheets.unwrap().parts.into_iter().map(|row| (row.number, row.members)).collect();
        let rail = numbers.of("rail").unwrap().to_owned();
        let wanted = [(rail, vec!["rail".to_owned()]), ("hook_right".to_owned(), vec!["hook_right".to_owned()])];
        assert_eq!(listed, wanted);
    }
}
