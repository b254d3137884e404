//! Names that the format allows: 1 to 60 letters, digits, `_`, `-` and `.`, the first a letter or digit.

use matchmark_core::document::is_hidden;
use std::collections::BTreeMap;

/// Longest name here, so that `.L` and a number fit.
const MOST: usize = 50;

/// A text as a name; `None` when nothing of it can be one.
pub fn allowed(text: &str) -> Option<String> {
    let mut name = String::new();
    for letter in text.trim().chars() {
        let letter = match letter {
            'ä' | 'à' | 'á' | 'â' => 'a',
            'ö' | 'ó' | 'ô' | 'ò' => 'o',
            'ü' | 'ù' | 'ú' | 'û' => 'u',
            'é' | 'è' | 'ê' | 'ë' => 'e',
            'ß' => 's',
            '×' => 'x',
            'Ä' => 'A',
            'Ö' => 'O',
            'Ü' => 'U',
            'É' => 'E',
            other if other.is_ascii_alphanumeric() || "_.-".contains(other) => other,
            _ => '-',
        };
        if letter == '-' && name.ends_with('-') {
            continue;
        }
        name.push(letter);
    }
    let name: String = name.trim_matches(['-', '_', '.']).chars().take(MOST).collect();
    let name = name.trim_end_matches(['-', '_', '.']);
    (!name.is_empty()).then(|| name.to_owned())
}

/// Words for people as the format allows them: on one line, with this many letters at most. Empty where nothing is left.
pub fn words(text: &str, most: usize) -> String {
    let shown: String = text.chars().map(|letter| if is_hidden(letter) { ' ' } else { letter }).collect();
    shown.split_whitespace().collect::<Vec<_>>().join(" ").chars().take(most).collect()
}

/// A name without what tells left from right at its end: `.L`, `_R`, `-left` and the like.
pub fn without_hand(name: &str) -> &str {
    const HANDS: [&str; 12] =
        [".L", ".R", "_L", "_R", "-L", "-R", "_left", "_right", "-left", "-right", ".left", ".right"];
    let stem = HANDS.iter().find_map(|hand| {
        let at = name.len().checked_sub(hand.len())?;
        (name.is_char_boundary(at) && name[at..].eq_ignore_ascii_case(hand)).then(|| &name[..at])
    });
    stem.filter(|stem| !stem.is_empty()).unwrap_or(name)
}

/// Names that are taken, with the number to try next. Names that differ by capitals alone count as one.
#[derive(Debug, Default)]
pub struct Taken {
    names: BTreeMap<String, usize>,
    pairs: BTreeMap<String, usize>,
}

impl Taken {
    /// The name, or with a number after it where it is taken.
    pub fn take(&mut self, name: &str) -> String {
        let mut number = self.names.get(&name.to_lowercase()).copied().unwrap_or(1);
        loop {
            let free = if number == 1 { name.to_owned() } else { format!("{name}-{number}") };
            number += 1;
            let is_free = number == 2 || !self.names.contains_key(&free.to_lowercase());
            if is_free {
                self.names.insert(name.to_lowercase(), number);
                self.names.entry(free.to_lowercase()).or_insert(2);
                return free;
            }
        }
    }

    /// The left one's name of a pair, where neither hand's is taken.
    pub fn take_pair(&mut self, stem: &str) -> String {
        loop {
            let number = self.pairs.entry(stem.to_lowercase()).or_default();
            *number += 1;
            let stem = if *number == 1 { stem.to_owned() } else { format!("{stem}-{number}") };
            let hands = ["", ".L", ".R"].map(|hand| format!("{stem}{hand}"));
            if hands.iter().all(|name| !self.names.contains_key(&name.to_lowercase())) {
                hands.iter().for_each(|name| drop(self.take(name)));
                return hands[1].clone();
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Taken, allowed, without_hand};

    #[test]
    fn names_become_what_the_format_allows() {
        assert_eq!(allowed("Tube 33.7x2.6").as_deref(), Some("Tube-33.7x2.6"));
        assert_eq!(allowed(" Ø33,7×2,6 ").as_deref(), Some("33-7x2-6"));
        assert_eq!(allowed("Längsträger").as_deref(), Some("Langstrager"));
        assert_eq!(allowed("管").as_deref(), None);
        assert!(allowed(&"x".repeat(200)).is_some_and(|name| name.len() <= 60));
    }

    #[test]
    fn hands_are_told_by_the_end_of_a_name() {
        assert_eq!(
            ["sill.L", "sill_right", "sill", ".L", "FUEL"].map(without_hand),
            ["sill", "sill", "sill", ".L", "FUEL"]
        );
    }

    #[test]
    fn no_name_is_given_twice() {
        let mut taken = Taken::default();
        assert_eq!([taken.take("a"), taken.take("A"), taken.take("a")], ["a", "A-2", "a-3"]);
        assert_eq!([taken.take("b.R"), taken.take_pair("b"), taken.take_pair("b")], ["b.R", "b-2.L", "b-3.L"]);
        assert_eq!(taken.take("b-2.L"), "b-2.L-2");
    }
}
