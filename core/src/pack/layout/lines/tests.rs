//! Lines that break and lines that are cut off.

use super::*;
use crate::render::letters;

#[test]
fn lines_break_at_spaces_and_within_words_that_are_too_long() {
    let letters = letters().expect("compiled in");
    let text = "the index line and averyveryverylongnamewithoutanyspace.L end";
    let lines = break_lines(letters, text, Lettering::Body, Weight::Regular, 30.0);
    assert!(lines.len() > 2);
    for line in &lines {
        assert!(letters.width(line, Lettering::Body, Weight::Regular) <= 30.0);
    }
    let letters_of = |text: &str| text.replace(' ', "");
    assert_eq!(letters_of(&lines.concat()), letters_of(text));
}

#[test]
fn a_fraction_stays_with_its_whole_and_a_hand_with_its_name() {
    let letters = letters().expect("compiled in");
    let broken = |text: &str, width: f64| break_lines(letters, text, Lettering::Body, Weight::Regular, width);
    let all = broken("from 127 57/64 in to 3/8 in", 200.0);
    assert_eq!(all, ["from 127 57/64 in to 3/8 in"]);
    for width in 18..40 {
        let lines = broken("from 127 57/64 in to 3/8 in", f64::from(width));
        assert!(lines.iter().any(|line| line.contains("127 57/64")), "{lines:?}");
    }
    let width = letters.width("door_front_diag.", Lettering::Body, Weight::Regular) + 0.1;
    assert_eq!(broken("door_front_diag.L", width), ["door_front_", "diag.L"]);
}

#[test]
fn a_line_that_fits_in_no_height_is_cut_visibly() {
    let letters = letters().expect("compiled in");
    let choices = [Lettering::Body, Lettering::Small];
    let (line, lettering) = fit_line(letters, &"long ".repeat(30), Weight::Bold, 20.0, &choices);
    assert!(line.ends_with('…'));
    assert!(letters.width(&line, lettering, Weight::Bold) <= 20.0);
    let whole = fit_line(letters, "B", Weight::Bold, 20.0, &choices);
    assert_eq!(whole, ("B".to_owned(), Lettering::Body));
}
