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

#[cfg(test)]
mod tests {
    use super::letter;

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
