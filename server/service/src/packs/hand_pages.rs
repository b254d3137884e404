//! Pages of a whole pack of which a later one of one hand replaced a part, by what their titles name.

use crate::rules::drawn_with::print_of;
use crate::rules::standing::facts::{Fact, Hand};
use crate::rules::standing::{PackStanding, Standings};
use crate::{PageState, Service, ServiceError};
use matchmark_core::pack::Hands;
use matchmark_core::seal::PageStatement;
use matchmark_store::packs::PackRow;
use serde::Deserialize;

/// What is read of the account of a pack.
#[derive(Deserialize)]
struct Account {
    pages: Vec<Listed>,
}

#[derive(Deserialize)]
struct Listed {
    title: String,
    true_scale: bool,
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
        let (Some(cover), Some(listed)) = (pages.first(), listed) else { return Ok(None) };
        if listed.title == cover.title {
            return Ok(None);
        }
        let stays = print_of(later).hands.other();
        let hands = hands_in(&listed.title);
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

/// The hand of each mark that the title of a page of templates names; both for a template of neither hand.
fn hands_in(title: &str) -> Vec<Hands> {
    let mut found = Vec::new();
    for template in title.split(';') {
        let marks = template.split([' ', ',']);
        let of_template: Vec<Hands> = marks
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
    fn the_title_of_a_page_of_templates_tells_their_hands() {
        for (title, hands) in [
            ("Wrap sill.L, from end; Wrap sill.L, to end", vec![Hands::Left, Hands::Left]),
            ("Wrap stay_cross, to end; Wrap stay_strut.R, from end", vec![Hands::Both, Hands::Right]),
            ("Plates hoop_plate.L, hoop_plate.R", vec![Hands::Left, Hands::Right]),
            ("Holes harness_bar", vec![Hands::Both]),
        ] {
            assert_eq!(hands_in(title), hands, "{title}");
        }
    }
}
