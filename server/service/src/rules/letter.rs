//! Revision letters.
//!
//! Source: ASME Y14.35 practice: the letters I, O, Q, S, X and Z are left out; after Y follow AA, AB and so on.

const LETTERS: [char; 20] =
    ['A', 'B', 'C', 'D', 'E', 'F', 'G', 'H', 'J', 'K', 'L', 'M', 'N', 'P', 'R', 'T', 'U', 'V', 'W', 'Y'];

/// The letter of the revision with this number, counted from 1.
pub fn letter(number: u32) -> String {
    let base = LETTERS.len();
    let mut left = number as usize;
    let mut reversed = Vec::new();
    while left > 0 {
        left -= 1;
        reversed.push(LETTERS[left % base]);
        left /= base;
    }
    reversed.iter().rev().collect()
}

/// The number of the revision with this letter; none for what is no letter of a revision.
pub fn number(letter: &str) -> Option<u32> {
    let base = u32::try_from(LETTERS.len()).ok()?;
    let place = |sign: char| u32::try_from(LETTERS.iter().position(|known| *known == sign)?).ok();
    let number =
        letter.chars().try_fold(0_u32, |number, sign| number.checked_mul(base)?.checked_add(place(sign)? + 1))?;
    Some(number).filter(|number| *number > 0)
}

#[cfg(test)]
mod tests {
    use super::{letter, number};

    #[test]
    fn a_letter_says_its_number() {
        for wanted in [1, 8, 9, 20, 21, 22, 420, 421, 9_000] {
            assert_eq!(number(&letter(wanted)), Some(wanted));
        }
        for none in ["", "I", "a", "A1", "YYYYYYYYYYYY"] {
            assert_eq!(number(none), None);
        }
    }

    #[test]
    fn goes_round_the_letters_that_are_left_out() {
        let first: Vec<String> = (1..=22).map(letter).collect();
        assert_eq!(first.join(" "), "A B C D E F G H J K L M N P R T U V W Y AA AB");
    }

    #[test]
    fn double_letters_run_out_after_yy() {
        assert_eq!(letter(20 + 20 * 20), "YY");
        assert_eq!(letter(20 + 20 * 20 + 1), "AAA");
    }
}
