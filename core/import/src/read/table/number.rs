//! Numbers as people write them. One style a column; nothing is guessed.

/// What is known of the decimal sign.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Decimal {
    Point,
    Comma,
}

/// Signs that set thousands apart besides point and comma: blanks and apostrophes.
const APART: [char; 7] = [' ', '\u{a0}', '\u{202f}', '\u{2009}', '\'', '\u{2019}', '\u{2007}'];

/// The decimal sign of a column, by all its texts; `None` where they could be read either way or do not agree.
/// `file` is the sign that other columns of the file have for certain, `quoted` is true where a comma cannot be a decimal sign
/// without quotes.
pub fn decimal(texts: &[&str], file: Option<Decimal>, quoted: bool) -> Option<Decimal> {
    match certain(texts) {
        Err(()) => None,
        Ok(Some(decimal)) => Some(decimal),
        Ok(None) => {
            let has = |sign| texts.iter().any(|text| text.contains(sign));
            match (has('.'), has(','), file) {
                (false, false, _) => Some(Decimal::Point),
                (_, _, Some(decimal)) => Some(decimal),
                // A point alone is a decimal sign where nothing in the file says otherwise.
                (true, false, None) => Some(Decimal::Point),
                // Commas that could be either set thousands apart in a file that divides by commas.
                (_, true, None) => quoted.then_some(Decimal::Point),
            }
        }
    }
}

/// The decimal sign where the texts leave no doubt; an error where they contradict each other.
pub fn certain(texts: &[&str]) -> Result<Option<Decimal>, ()> {
    let mut known = None;
    for text in texts {
        let (points, commas) = (text.matches('.').count(), text.matches(',').count());
        let own = match (points, commas) {
            (0, 0) => None,
            (_, 0) => {
                alone(text, '.', points).map(|is_decimal| if is_decimal { Decimal::Point } else { Decimal::Comma })
            }
            (0, _) => {
                alone(text, ',', commas).map(|is_decimal| if is_decimal { Decimal::Comma } else { Decimal::Point })
            }
            _ => Some(if text.rfind('.') > text.rfind(',') { Decimal::Point } else { Decimal::Comma }),
        };
        match (own, known) {
            (Some(own), Some(known)) if own != known => return Err(()),
            (Some(own), _) => known = Some(own),
            (None, _) => {}
        }
    }
    Ok(known)
}

/// Whether the only kind of sign in a text is the decimal sign; `None` where it could as well set thousands apart.
fn alone(text: &str, sign: char, count: usize) -> Option<bool> {
    if count > 1 {
        let digits = text.trim().trim_start_matches(['-', '+', '\u{2212}']);
        return joined(digits, sign).is_some().then_some(false);
    }
    let (whole, rest) = text.split_once(sign)?;
    let whole = whole.trim_start_matches(['-', '+', ' ', '\u{2212}']);
    let could_be_thousands = rest.len() == 3
        && rest.bytes().all(|byte| byte.is_ascii_digit())
        && (1..=3).contains(&whole.len())
        && !whole.starts_with('0');
    (!could_be_thousands).then_some(true)
}

/// A number of a column with this decimal sign; `None` when it is none.
pub fn read(text: &str, decimal: Decimal) -> Option<f64> {
    let (sign, other) = match decimal {
        Decimal::Point => ('.', ','),
        Decimal::Comma => (',', '.'),
    };
    let text = text.trim().replace('\u{2212}', "-");
    let (negative, digits) = match text.strip_prefix('-') {
        Some(digits) => (true, digits),
        None => (false, text.strip_prefix('+').unwrap_or(&text)),
    };
    let (digits, power) = match digits.find(['e', 'E']) {
        Some(at) => (&digits[..at], digits[at + 1..].parse::<i32>().ok().filter(|power| power.abs() < 30)?),
        None => (digits, 0),
    };
    let (whole, rest) = digits.split_once(sign).map_or((digits, ""), |(whole, rest)| (whole, rest));
    if !rest.bytes().all(|byte| byte.is_ascii_digit()) || (whole.is_empty() && rest.is_empty()) {
        return None;
    }
    let whole = joined(whole, other)?;
    let number: f64 = format!("{}{whole}.{rest}0e{power}", if negative { "-" } else { "" }).parse().ok()?;
    number.is_finite().then_some(number)
}

/// Digits whose thousands may be set apart by one sign, in groups of three.
fn joined(whole: &str, other: char) -> Option<String> {
    let is_apart = |letter: char| letter == other || APART.contains(&letter);
    let mut groups = whole.split(is_apart);
    let signs: Vec<char> = whole.chars().filter(|letter| is_apart(*letter)).collect();
    let first = groups.next().unwrap_or("");
    let rest: Vec<&str> = groups.collect();
    let is_digits = |text: &str| text.bytes().all(|byte| byte.is_ascii_digit());
    let one_sign = signs.windows(2).all(|pair| pair[0] == pair[1]);
    let grouped = rest.is_empty() || ((1..=3).contains(&first.len()) && rest.iter().all(|group| group.len() == 3));
    (one_sign && grouped && is_digits(first) && rest.iter().all(|group| is_digits(group)))
        .then(|| if whole.is_empty() { "0".to_owned() } else { first.to_owned() + &rest.concat() })
}

#[cfg(test)]
mod tests {
    use super::{Decimal, decimal, read};

    #[test]
    fn numbers_are_read_in_one_style_or_refused() {
        assert_eq!(read("1 172.5", Decimal::Point), Some(1172.5));
        assert_eq!(read("-1'172", Decimal::Point), Some(-1172.0));
        assert_eq!(read("1\u{202f}172,25", Decimal::Comma), Some(1172.25));
        assert_eq!(read("1.172.000,5", Decimal::Comma), Some(1_172_000.5));
        assert_eq!(read(",5", Decimal::Comma), Some(0.5));
        assert_eq!(read("1.5e-3", Decimal::Point), Some(0.0015));
        for wrong in
            ["1,234,5", "12.3.4", "#REF!", "NaN", "inf", "", "-", "1 17", "0x10", "1e999", "12 345 6", "1,2 345"]
        {
            assert_eq!(read(wrong, Decimal::Point), None, "{wrong}");
        }
    }

    #[test]
    fn the_decimal_sign_is_that_of_the_column_or_of_the_file() {
        assert_eq!(decimal(&["1,5", "1,234"], None, false), Some(Decimal::Comma));
        assert_eq!(decimal(&["1,234"], None, false), None);
        assert_eq!(decimal(&["1,234"], Some(Decimal::Comma), false), Some(Decimal::Comma));
        assert_eq!(decimal(&["1,234"], None, true), Some(Decimal::Point));
        assert_eq!(decimal(&["1.5", "2,5"], None, false), None);
        assert_eq!(decimal(&["1.234,5"], None, false), Some(Decimal::Comma));
        assert_eq!(decimal(&["7", "-8"], None, false), Some(Decimal::Point));
    }
}
