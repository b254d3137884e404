//! What is asked: parts, bars and the saw.

use crate::document::pointer_step;
use crate::words::findings::stock::StockFault;
use serde::Deserialize;

/// Most entries of parts.
pub const MOST_PART_ENTRIES: usize = 2_000;

/// Most entries of stock.
pub const MOST_STOCK_ENTRIES: usize = 50;

/// Most parts in all.
pub const MOST_PARTS: u64 = 20_000;

/// Longest bar or part, mm.
pub const MOST_LENGTH: f64 = 100_000.0;

/// Highest price of a bar.
pub const MOST_PRICE: f64 = 1.0e6;

/// Seconds given when the request has no time limit.
pub const USUAL_SECONDS: f64 = 5.0;

/// Longest time limit, s.
pub const MOST_SECONDS: f64 = 60.0;

/// Steepest mitre, degrees from square.
pub const STEEPEST_MITRE: f64 = 80.0;

/// Most equal bars cut together.
pub const MOST_BUNDLE: u32 = 1_000;

/// Parts to be cut from bars of one section.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema), schema(as = StockPlanRequest))]
#[serde(deny_unknown_fields)]
pub struct Request {
    /// Width of the saw cut, mm: lost between neighbouring parts, and after the last one unless it ends flush with the bar.
    pub kerf: f64,
    /// Cut off the first end of each bar, mm; nothing when absent. The width of that cut belongs to it.
    #[serde(default)]
    pub trim: f64,
    /// Size of the tube; needed when a part has a mitre.
    #[serde(default)]
    pub section: Option<Size>,
    /// Shortest remnant worth keeping, mm. With it, a bundle or a mitre the plan has sums, saw strokes and every cut in order.
    #[serde(default)]
    pub min_remnant: Option<f64>,
    /// Most equal bars that are cut together, 1 to 1000; 1 when absent.
    #[serde(default)]
    pub bundle: Option<u32>,
    /// The bars, 1 to 50 entries.
    pub stock: Vec<Stock>,
    /// The parts, 1 to 2000 entries and 20 000 parts at most.
    pub parts: Vec<WantedPart>,
    /// Seconds after which the best plan so far is given, more than 0 and at most 60; 5 when absent.
    #[serde(default)]
    pub time_limit_s: Option<f64>,
}

/// Outside of a tube, as its design gives it.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize, serde::Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema), schema(as = StockPlanSize))]
#[serde(rename_all = "lowercase", deny_unknown_fields)]
pub enum Size {
    /// A round tube.
    Round(RoundSize),
    /// A rectangular tube.
    Rect(RectSize),
}

/// Outside of a round tube.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize, serde::Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema), schema(as = StockPlanRound))]
#[serde(deny_unknown_fields)]
pub struct RoundSize {
    /// Outer diameter, mm.
    pub od: f64,
}

/// Outside of a rectangular tube.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize, serde::Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema), schema(as = StockPlanRect))]
#[serde(deny_unknown_fields)]
pub struct RectSize {
    /// Outer width, mm: across the index line.
    pub width: f64,
    /// Outer height, mm: from the side with the index line to the side opposite.
    pub height: f64,
    /// Outer corner radius, mm; sharp when absent.
    #[serde(default)]
    pub corner: f64,
}

/// Bars of one length.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema), schema(as = StockPlanBars))]
#[serde(deny_unknown_fields)]
pub struct Stock {
    /// Length of a bar, mm.
    pub length: f64,
    /// Price of a bar, read to a ten-thousandth. All entries have one, or none: then the plan uses the least length.
    #[serde(default)]
    pub price: Option<f64>,
    /// How many there are; any number when absent or null.
    #[serde(default)]
    pub count: Option<u32>,
}

/// Equal parts.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema), schema(as = StockPlanPart))]
#[serde(deny_unknown_fields)]
pub struct WantedPart {
    /// What the plan calls it; once in a request.
    pub id: String,
    /// Length to be cut, mm, with whatever the saw is to leave on.
    pub length: f64,
    /// How many, 1 or more.
    pub count: u32,
    /// The mitre at its first end; square when absent.
    #[serde(default)]
    pub from: Option<Mitre>,
    /// The mitre at its other end; square when absent.
    #[serde(default)]
    pub to: Option<Mitre>,
}

/// A plane cut at one end of a straight part. The part's length is then that from long point to long point.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize, serde::Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema), schema(as = StockPlanMitre))]
#[serde(deny_unknown_fields)]
pub struct Mitre {
    /// Angle from a square cut, degrees, 0 to 80.
    pub mitre_deg: f64,
    /// Clock angle of the side on which the cut runs out longest, degrees, right-handed about the direction from the first end to the
    /// other: the long point of a round tube, the middle of the long side of a rectangular one, whose clock angle 0 is at its height.
    #[serde(default)]
    pub long_side_deg: f64,
}

/// Why there is no plan.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("{message}")]
pub struct StockError {
    code: &'static str,
    pointer: String,
    message: String,
}

impl StockError {
    /// Stable code, such as `stock-part-too-long`.
    #[must_use]
    pub fn code(&self) -> &'static str {
        self.code
    }

    /// JSON Pointer to the place in the request.
    #[must_use]
    pub fn pointer(&self) -> &str {
        &self.pointer
    }

    pub(super) fn new(code: &'static str, pointer: impl Into<String>, fact: impl std::fmt::Display) -> Self {
        Self { code, pointer: pointer.into(), message: fact.to_string() }
    }
}

impl Request {
    /// Whether the plan is to say more than bars and cuts.
    #[must_use]
    pub fn in_full(&self) -> bool {
        self.min_remnant.is_some() || self.bundle.is_some() || self.is_mitred()
    }

    /// Whether some part has a sloped end.
    #[must_use]
    pub fn is_mitred(&self) -> bool {
        let sloped = |mitre: &Option<Mitre>| mitre.is_some_and(|mitre| mitre.mitre_deg != 0.0);
        self.parts.iter().any(|part| sloped(&part.from) || sloped(&part.to))
    }

    /// Reads a request.
    ///
    /// # Errors
    /// [`StockError`] `stock-request` at the place that is not as it must be.
    pub fn read(text: &str) -> Result<Self, StockError> {
        let mut reader = serde_json::Deserializer::from_str(text);
        let request: Self = serde_path_to_error::deserialize(&mut reader).map_err(|error| {
            let pointer: String = error.path().iter().map(step).collect();
            StockError::new("stock-request", pointer, StockFault::NoRequest { error: &error.inner().to_string() })
        })?;
        reader.end().map_err(|error| {
            StockError::new("stock-request", "", StockFault::SomethingFollows { error: &error.to_string() })
        })?;
        Ok(request)
    }

    /// Seconds to be spent at most.
    ///
    /// # Errors
    /// [`StockError`] `stock-time` when the time limit is out of bounds.
    pub fn seconds(&self) -> Result<f64, StockError> {
        let seconds = self.time_limit_s.unwrap_or(USUAL_SECONDS);
        if seconds > 0.0 && seconds <= MOST_SECONDS {
            return Ok(seconds);
        }
        let fact = StockFault::TimeLimit { most_seconds: MOST_SECONDS, seconds };
        Err(StockError::new("stock-time", "/time_limit_s", fact))
    }
}

fn step(segment: &serde_path_to_error::Segment) -> String {
    use serde_path_to_error::Segment;
    match segment {
        Segment::Seq { index } => format!("/{index}"),
        Segment::Map { key } => format!("/{}", pointer_step(key)),
        Segment::Enum { .. } | Segment::Unknown => String::new(),
    }
}
