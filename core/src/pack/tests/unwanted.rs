//! What nobody wants any more is not computed.

use super::demo_sheets;
use crate::document::OneKit;
use crate::pack::fixture::issue;
use crate::pack::*;
use crate::solid::{SolidError, SolidHeading};
use crate::view::Look;
use crate::{Stopped, check_all_choices_until, evaluate_until};
use core::sync::atomic::AtomicBool;

#[test]
fn what_is_not_wanted_is_not_computed() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../server/demo/rev_b.json");
    let text = std::fs::read_to_string(path).expect("the demo");
    let mut made = crate::evaluate(&text);
    let numbers = made.number(None).expect("no errors");
    let flag = AtomicBool::new(true);
    let stop = Stop::when(&flag);
    assert_eq!(evaluate_until(&text, &OneKit::default(), stop).err(), Some(Stopped));
    assert_eq!(check_all_choices_until(&text, stop).err(), Some(Stopped));
    assert_eq!(made.changes_until(&numbers, &made, &numbers, stop).err(), Some(Stopped));
    assert_eq!(made.number_until(None, stop).err(), Some(Stopped));

    let (sheets, issue) = (demo_sheets(), issue(Paper::A4, Status::Issued));
    assert_eq!(render_until(&sheets, &issue, stop).err(), Some(RenderError::Stopped));
    let wraps: Vec<&Wrap> = sheets.wraps.iter().take(2).collect();
    assert_eq!(wraps_pdf_until(&sheets, &wraps, &issue, stop).err(), Some(RenderError::Stopped));
    let wanted = ViewWanted { look: Look::LEFT, members: Vec::new(), labels: true };
    assert_eq!(view_svg(&sheets, &wanted, &issue, stop).err(), Some(RenderError::Stopped));
    let [part, description, organization, date] = ["a", "b", "c", "2026-11-20"].map(str::to_owned);
    let heading = SolidHeading { part, description, organization, date };
    let member = &sheets.cut_sheet.rows[0].member;
    assert_eq!(made.solid_step_until(member, &heading, stop).err(), Some(SolidError::Stopped));
}
