//! Units of length that a file or a person can name.

use serde::{Deserialize, Serialize};

/// A unit of length.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema), schema(as = ImportUnit))]
pub enum Unit {
    /// Millimetre.
    #[serde(rename = "mm")]
    Millimetre,
    /// Centimetre.
    #[serde(rename = "cm")]
    Centimetre,
    /// Metre.
    #[serde(rename = "m")]
    Metre,
    /// Inch of 25.4 mm.
    #[serde(rename = "in")]
    Inch,
    /// Foot of 12 inches.
    #[serde(rename = "ft")]
    Foot,
    /// Yard of 3 feet.
    #[serde(rename = "yd")]
    Yard,
}

impl Unit {
    /// How many mm it is.
    #[must_use]
    pub fn mm(self) -> f64 {
        match self {
            Self::Millimetre => 1.0,
            Self::Centimetre => 10.0,
            Self::Metre => 1000.0,
            Self::Inch => 25.4,
            Self::Foot => 304.8,
            Self::Yard => 914.4,
        }
    }

    /// Its sign.
    #[must_use]
    pub fn sign(self) -> &'static str {
        match self {
            Self::Millimetre => "mm",
            Self::Centimetre => "cm",
            Self::Metre => "m",
            Self::Inch => "in",
            Self::Foot => "ft",
            Self::Yard => "yd",
        }
    }

    /// The unit of a word as people write it in tables: `mm`, `inch`, `zoll`, `metre`.
    #[must_use]
    pub fn of_word(word: &str) -> Option<Self> {
        Some(match word.to_lowercase().trim_end_matches('.') {
            "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" | "millimètre" | "millimètres"
            | "milímetros" | "millimetri" => Self::Millimetre,
            "cm" | "centimetre" | "centimetres" | "centimeter" | "centimeters" | "zentimeter" => Self::Centimetre,
            "m" | "metre" | "metres" | "meter" | "meters" | "mètre" | "mètres" | "metri" | "metros" => Self::Metre,
            "in" | "inch" | "inches" | "\"" | "″" | "zoll" | "pouce" | "pouces" | "po" | "pollici" | "pulgadas" => {
                Self::Inch
            }
            "ft" | "foot" | "feet" | "fuss" | "fuß" | "pied" | "pieds" => Self::Foot,
            "yd" | "yard" | "yards" => Self::Yard,
            _ => return None,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::Unit;

    #[test]
    fn an_inch_is_25_4_mm_and_the_others_follow() {
        // International yard and pound agreement of 1959: 1 yd = 0.9144 m.
        assert!((Unit::Yard.mm() - 36.0 * Unit::Inch.mm()).abs() < 1e-9);
        assert!((Unit::Foot.mm() - 12.0 * Unit::Inch.mm()).abs() < 1e-9);
        assert_eq!(Unit::of_word("Zoll"), Some(Unit::Inch));
        assert_eq!(Unit::of_word("kg"), None);
    }
}
