//! How figures are written, the same on every sheet.

use crate::sheets::{Datum, End, SetOut};

/// A length to 0.1 mm, without its unit.
pub(super) fn tenths(mm: f64) -> String {
    plain(mm, 1)
}

/// A length with its unit, to 0.1 mm.
pub(super) fn length(mm: f64) -> String {
    format!("{} mm", tenths(mm))
}

/// A length with its unit, to 0.01 mm.
pub(super) fn fine_length(mm: f64) -> String {
    format!("{} mm", plain(mm, 2))
}

/// A length without trailing zeros, to 0.1 mm.
pub(super) fn short_length(mm: f64) -> String {
    tenths(mm).trim_end_matches(".0").to_owned()
}

/// An angle to 0.1 degrees.
pub(super) fn angle(degrees: f64) -> String {
    format!("{} deg", plain(degrees, 1))
}

/// A clock angle in [0, 360), to 0.1 degrees, so that it reads like the index lines.
pub(super) fn clock(degrees: f64) -> String {
    let turned = degrees.rem_euclid(360.0);
    angle(if turned >= 359.95 { 0.0 } else { turned })
}

/// A length to 0.01 mm without its unit and without trailing zeros, as it stands on a drill.
pub(super) fn hundredths(mm: f64) -> String {
    plain(mm, 2).trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// A mass in kg, to a gram.
pub(super) fn mass(kg: f64) -> String {
    plain(kg, 3)
}

/// A decimal that is never minus nought.
fn plain(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    match text.strip_prefix('-') {
        Some(rest) if rest.bytes().all(|byte| byte == b'0' || byte == b'.') => rest.to_owned(),
        _ => text,
    }
}

/// The name of an end.
pub(super) fn end_name(end: End) -> &'static str {
    match end {
        End::From => "from",
        End::To => "to",
    }
}

/// The other end.
pub(super) fn other_end(end: End) -> End {
    match end {
        End::From => End::To,
        End::To => End::From,
    }
}

/// From where a set-out is measured.
pub(super) fn datum(set_out: SetOut, other_is_square: bool) -> String {
    match set_out.datum {
        Datum::OtherEnd if other_is_square => "from the sawn end".to_owned(),
        Datum::OtherEnd => "from the furthest point of the other end's cut".to_owned(),
        Datum::TangentMark { bend } => format!("from the tangent mark of bend {bend}"),
    }
}

/// What an end's cut fits, such as `cope to main_hoop` or `plug into rail`; the bare cut where it fits nothing.
pub(super) fn cut_and_fits(cut: &str, fits: &[String]) -> String {
    let how = match cut {
        _ if fits.is_empty() => return cut.to_owned(),
        "plug" => "into",
        "sleeve" => "over",
        _ => "to",
    };
    format!("{cut} {how} {}", members(fits))
}

/// Several members in one line.
pub(super) fn members(ids: &[String]) -> String {
    ids.join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_written_plainly() {
        assert_eq!(length(812.349), "812.3 mm");
        assert_eq!(tenths(-0.04), "0.0");
        assert_eq!(tenths(-0.06), "-0.1");
        assert_eq!(short_length(504.0), "504");
        assert_eq!(clock(-137.0), "223.0 deg");
        assert_eq!(clock(-0.01), "0.0 deg");
    }
}
