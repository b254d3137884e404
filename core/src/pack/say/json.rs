//! Rows of sheets as JSON: facts that are sentences there are said in English, with lengths in mm.

use super::in_english;
use crate::part::compare::Side;
use crate::sheets::{self, ChangeKind, TrimRow};
use serde::{Serialize, Serializer};

/// A dimension to check before and after welding.
#[derive(Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
struct CheckRow<'a> {
    /// Its name: as declared, or made from what it measures.
    name: &'a str,
    /// What is measured, in words.
    what: String,
    /// True when the design declares it; false when the engine proposes it.
    declared: bool,
    /// From where and to where, by the marks of tubes, in words that follow "from" and "to"; figures are followed by `mm`.
    between: [String; 2],
    /// Where it is measured from, in the frame, mm.
    from: [f64; 3],
    /// Where it is measured to.
    to: [f64; 3],
    /// What it should measure, mm.
    nominal: f64,
    /// Tolerance class of ISO 13920: A, B, C or D.
    class: &'static str,
    /// What it may be off by, mm; `None` where the standard gives no figure for this length.
    tolerance: Option<f64>,
}

impl<'a> CheckRow<'a> {
    fn of(row: &'a sheets::CheckRow) -> Self {
        let english = in_english();
        Self {
            name: &row.name,
            what: english.dimension(&row.what),
            declared: row.declared,
            between: row.between.each_ref().map(|place| english.place(place)),
            from: row.from,
            to: row.to,
            nominal: row.nominal,
            class: row.class.word(),
            tolerance: row.tolerance,
        }
    }
}

/// A place to hold or to measure.
#[derive(Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
struct JigPoint {
    /// What it is, in words.
    what: String,
    /// Where it is.
    at: [f64; 3],
    /// Height over the base plane, mm.
    height: f64,
}

impl JigPoint {
    fn of(point: &sheets::JigPoint) -> Self {
        Self { what: in_english().jig_place(point.what), at: point.at, height: point.height }
    }
}

/// A left and a right part.
#[derive(Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
struct Pair<'a> {
    /// Id of the left one, at +y.
    left: &'a str,
    /// Id of the right one, at -y.
    right: &'a str,
    /// Part number of the left one.
    left_number: &'a str,
    /// Part number of the right one.
    right_number: &'a str,
    /// True when they are two parts; false when either goes in either place.
    handed: bool,
    /// Most by which one differs from the other when laid on it as well as can be, mm; `None` where no way of laying compares.
    deviation: Option<f64>,
    /// How to know the left one on the bench; empty when they are interchangeable.
    tell_left: String,
    /// How to know the right one on the bench.
    tell_right: String,
}

impl<'a> Pair<'a> {
    fn of(pair: &'a sheets::Pair) -> Self {
        let tell = |hand| pair.tell.map_or_else(String::new, |tell| in_english().hand(&tell, hand));
        Self {
            left: &pair.left,
            right: &pair.right,
            left_number: &pair.left_number,
            right_number: &pair.right_number,
            handed: pair.handed,
            deviation: pair.deviation,
            tell_left: tell(Side::Left),
            tell_right: tell(Side::Right),
        }
    }
}

/// One member or plate.
#[derive(Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
struct PartChange<'a> {
    /// Id of the member or plate.
    member: &'a str,
    /// What became of it.
    kind: ChangeKind,
    /// Part number in the old revision; `None` when it was not there.
    old_number: Option<&'a str>,
    /// Part number in the new revision; `None` when it is not there.
    new_number: Option<&'a str>,
    /// Ends to trim, each with the new revision's wrap.
    trims: &'a [TrimRow],
    /// Names of holes to drill.
    drill: &'a [String],
    /// Change of the overall length, new less old, mm; `None` when one is missing or it is a plate.
    overall: Option<f64>,
    /// One sentence that says what to do or why.
    words: String,
}

impl<'a> PartChange<'a> {
    fn of(part: &'a sheets::PartChange) -> Self {
        Self {
            member: &part.member,
            kind: part.kind,
            old_number: part.old_number.as_deref(),
            new_number: part.new_number.as_deref(),
            trims: &part.trims,
            drill: &part.drill,
            overall: part.overall,
            words: in_english().part_change(part),
        }
    }
}

/// A check dimension that changed.
#[derive(Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
struct CheckChange<'a> {
    /// Its name.
    name: &'a str,
    /// What is measured, in words.
    #[cfg_attr(feature = "openapi", schema(required = false))]
    what: String,
    /// What it was, mm; `None` when it was not there.
    old: Option<f64>,
    /// What it is, mm; `None` when it is not there any more.
    new: Option<f64>,
}

impl<'a> CheckChange<'a> {
    fn of(check: &'a sheets::CheckChange) -> Self {
        Self { name: &check.name, what: in_english().check_change(check), old: check.old, new: check.new }
    }
}

macro_rules! said {
    ($($row:ident)*) => {
        $(
            impl Serialize for sheets::$row {
                fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                    $row::of(self).serialize(serializer)
                }
            }

            #[cfg(feature = "openapi")]
            impl utoipa::PartialSchema for sheets::$row {
                fn schema() -> utoipa::openapi::RefOr<utoipa::openapi::Schema> {
                    <$row as utoipa::PartialSchema>::schema()
                }
            }

            #[cfg(feature = "openapi")]
            impl utoipa::ToSchema for sheets::$row {
                fn name() -> std::borrow::Cow<'static, str> {
                    <$row as utoipa::ToSchema>::name()
                }

                fn schemas(schemas: &mut Vec<(String, utoipa::openapi::RefOr<utoipa::openapi::Schema>)>) {
                    <$row as utoipa::ToSchema>::schemas(schemas);
                }
            }
        )*
    };
}

said! { CheckRow JigPoint Pair PartChange CheckChange }
