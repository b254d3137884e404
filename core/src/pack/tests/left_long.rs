//! A part whose end is still left long can become a longer one; what is said holds for an end that was trimmed too.

use super::delta::{drawn, issue_of, pages_before, words};
use super::revised;
use crate::pack::layout::figures::Figures;
use crate::pack::*;
use crate::sheets::{ChangeKind, Changes, End, PartChange, TrimRow};
use crate::words::EN;

fn part<'a>(changes: &'a Changes, member: &str) -> &'a PartChange {
    changes.parts.iter().find(|part| part.member == member).expect("the part")
}

fn overall(sheets: &Sheets) -> f64 {
    sheets.cut_sheet.rows.iter().find(|row| row.member == "rear_rail.L").expect("a row").overall
}

/// What becomes of the rear rail, left 20 mm long, when its tip is moved along it by so much.
fn rail(by: f64) -> ([Sheets; 2], Changes, f64) {
    let [x, y] = [-1270.0, 307.25 - 561.25];
    let share = 1.0 + by / f64::hypot(x, y);
    let tip = format!("\"rear_tip.L\":        [{:.6}, {:.6}, 25]", x * share, 561.25 + y * share);
    let (sheets, changes) = revised(&[("\"rear_tip.L\":        [-1270, 307.25, 25]", &tip)]);
    let longer = overall(&sheets[1]) - overall(&sheets[0]);
    assert!((longer - by).abs() < 0.01, "{longer}");
    (sheets, changes, longer)
}

#[test]
fn a_part_left_long_serves_a_longer_one_while_it_is_long() {
    let ([old, new], changes, longer) = rail(5.4);
    let rail = part(&changes, "rear_rail.L");
    assert_eq!(rail.kind, ChangeKind::Rework, "{}", say::part_change(rail));
    let [TrimRow { end: End::To, old_end: End::To, most, least, left_long, while_long: true, .. }] = rail.trims[..]
    else {
        panic!("{:?}", rail.trims)
    };
    // 20 mm were left; what the new part is longer is taken from them.
    assert!(
        (most - (20.0 - longer)).abs() < 0.01 && (least - most).abs() < 0.01 && left_long == 20.0,
        "{most} {least}"
    );
    for said in ["still has the 20.0 mm", "scrap"] {
        assert!(say::part_change(rail).contains(said), "{}", say::part_change(rail));
    }
    let issue = issue_of(changes.clone(), pages_before(&old, Paper::A4), Paper::A4);
    let said = words(&drawn(&new, &issue), "What changed");
    for told in [
        "If end 2 still has the 20 mm that were left long: trim it, 14.6 mm all round",
        "whatever its new sheets say: mark it with wrap rear_rail.L, end 2, and cut no sooner than that says.",
        "If it is trimmed already, the part is scrap",
    ] {
        assert!(said.contains(told), "{told}: {said}");
    }
}

#[test]
fn what_is_left_long_does_not_reach_further_than_it_is() {
    let (_, changes, _) = rail(25.0);
    let rail = part(&changes, "rear_rail.L");
    assert_eq!(rail.kind, ChangeKind::Replace);
    assert!(say::part_change(rail).contains("25.0 mm too short"), "{}", say::part_change(rail));
}

#[test]
fn a_shorter_part_is_trimmed_by_more_while_it_is_long() {
    let ([old, new], changes, _) = rail(-3.0);
    let rail = part(&changes, "rear_rail.L");
    assert_eq!((rail.kind, rail.trims[0].while_long, rail.trims[0].left_long), (ChangeKind::Rework, false, 20.0));
    let issue = issue_of(changes.clone(), pages_before(&old, Paper::A4), Paper::A4);
    let said = words(&drawn(&new, &issue), "What changed");
    assert!(said.contains("Trim end 2, 3.0 mm all round, 20 mm more while it is left long"), "{said}");
}

/// The wrap of the front end takes the rear end as still left long by 20 mm. Where it is the only cut, nobody knows whether the rear end
/// is trimmed by then: both distances are told, and neither is that of the other state.
#[test]
fn one_cut_is_set_out_by_what_is_so_then() {
    let trims: Vec<TrimRow> = {
        let (sheets, changes) = revised(&[(
            "\"leave_long\": {\"to\": 20, \"trim_to_after\": \"gearbox_cross\"}",
            "\"gap\": 1.5, \"leave_long\": {\"to\": 20, \"trim_to_after\": \"gearbox_cross\"}",
        )]);
        let rail = part(&changes, "rear_rail.L");
        assert_eq!(rail.kind, ChangeKind::Rework, "{}", say::part_change(rail));
        let wrap = sheets[1].wraps.iter().find(|wrap| wrap.member == "rear_rail.L" && wrap.end == End::From);
        let wrap = wrap.expect("a wrap");
        assert_eq!(wrap.set_out.datum, crate::sheets::Datum::LongEnd { by: 20.0 });
        let set_out = rail.trims[0].set_out.expect("a set-out");
        assert!((set_out.nominal - wrap.set_out.distance).abs() < 1e-6);
        assert!((set_out.more + 20.0).abs() < 1e-6 && set_out.old_long == 20.0 && !set_out.from_old_cut);
        let issue = issue_of(changes.clone(), pages_before(&sheets[0], Paper::A4), Paper::A4);
        let said = words(&drawn(&sheets[1], &issue), "What changed");
        let figures = Figures { units: Units::Mm, words: &EN };
        let long = figures.taped(wrap.set_out.distance);
        let [short, long] = [long - 20.0, long].map(|mm| figures.short_length(mm));
        let told = format!(
            "Set-out {short} from the long point of the cut at end 2: 20 mm less than the {long} on its sheet, and the length to check before you cut is 20 mm less too; if that end is still left long, {long} from its sawn end."
        );
        assert!(said.contains(&told), "{told}: {said}");
        rail.trims.clone()
    };
    assert_eq!(trims.len(), 1);
}
