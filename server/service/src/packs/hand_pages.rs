//! Pages of a whole pack of which a later one of one hand replaced a part, by what its account says that they hold.

use crate::rules::drawn_with::print_of;
use crate::rules::standing::facts::{Fact, Hand};
use crate::rules::standing::{PackStanding, Standings};
use crate::{PageState, Service, ServiceError};
use matchmark_core::pack::{Hands, ListedPage, OnPage, SheetKind};
use matchmark_core::seal::PageStatement;
use matchmark_store::packs::PackRow;
use serde::Deserialize;

/// What is read of the account of a pack.
#[derive(Deserialize)]
struct Account {
    pages: Vec<ListedPage>,
}

impl Service {
    /// How a page stands whose pack goes on for one hand alone; `None` where it stands as that pack does. The cover speaks for the whole
    /// pack.
    pub(crate) async fn page_of_hand(
        &self,
        page: &PageStatement,
        pack: &PackRow,
        standings: &Standings,
    ) -> Result<Option<(PageState, Vec<Fact>)>, ServiceError> {
        let later = standings.replaced_in_part(pack).filter(|_| !pack.manifest_sha256.is_empty());
        let Some(later) = later else { return Ok(None) };
        let account = self.store.blobs().read(&pack.manifest_sha256).await?;
        let Account { pages } = serde_json::from_slice(&account)
            .map_err(|_| ServiceError::Inconsistent("the account of a pack cannot be read"))?;
        let listed = usize::from(page.page).checked_sub(1).and_then(|index| pages.get(index));
        let Some(listed) = listed else { return Ok(None) };
        let holds = listed.holds();
        if holds.iter().any(|on| on.kind == SheetKind::Cover) {
            return Ok(None);
        }
        let stays = print_of(later).hands.other();
        let hands = hands_in(&holds);
        if !listed.true_scale || !hands.contains(&stays) {
            return Ok(Some((PageState::Superseded, standings.page_replaced(page.page, pack, later))));
        }
        if hands.iter().all(|hand| *hand == stays) {
            return Ok(None);
        }
        let PackStanding { state, mut facts } = standings.but_for_hold(pack);
        facts.splice(0..0, Hand::of(stays).map(|stays| Fact::PageStaysInPart { stays }));
        Ok(Some((state.into(), facts)))
    }
}

/// The hand of each mark that a page of templates is of; both for a template of neither hand.
fn hands_in(holds: &[OnPage]) -> Vec<Hands> {
    let mut found = Vec::new();
    for template in holds {
        let of_template: Vec<Hands> = template
            .parts
            .iter()
            .filter_map(|mark| match mark {
                left if left.ends_with(".L") => Some(Hands::Left),
                right if right.ends_with(".R") => Some(Hands::Right),
                _ => None,
            })
            .collect();
        found.extend(if of_template.is_empty() { vec![Hands::Both] } else { of_template });
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_account_of_a_page_of_templates_tells_their_hands() {
        for (listed, hands) in [
            (
                r#""holds": [{"kind": "wrap", "parts": ["sill.L"], "end": "from", "title": "a"},
                {"kind": "wrap", "parts": ["sill.L"], "end": "to", "title": "b"}]"#,
                vec![Hands::Left, Hands::Left],
            ),
            (
                r#""holds": [{"kind": "plate", "parts": ["hoop_plate.L", "hoop_plate.R"], "title": "a"}]"#,
                vec![Hands::Left, Hands::Right],
            ),
            (r#""holds": [{"kind": "hole_strip", "parts": ["harness_bar"], "title": "a"}]"#, vec![Hands::Both]),
            // As accounts were before they said what stands on a page.
            (r#""title": "Wrap stay_cross, to end; Wrap stay_strut.R, from end""#, vec![Hands::Both, Hands::Right]),
            (r#""title": "Plates hoop_plate.L, hoop_plate.R""#, vec![Hands::Left, Hands::Right]),
        ] {
            let title = if listed.contains(r#""holds""#) { r#""title": "x", "# } else { "" };
            let page: ListedPage =
                serde_json::from_str(&format!(r#"{{"page": 1, "true_scale": true, {title}{listed}}}"#))
                    .expect("a page");
            assert_eq!(hands_in(&page.holds()), hands, "{listed}");
        }
    }
}
