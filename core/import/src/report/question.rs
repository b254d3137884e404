//! What no file says.

use serde::Serialize;
use serde_json::Value;

/// The field of the answers that a question is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema), schema(as = ImportQuestionField))]
#[serde(rename_all = "snake_case")]
pub enum QuestionField {
    /// `unit`.
    Unit,
    /// `axes`.
    Axes,
    /// `origin`.
    Origin,
    /// `sections`.
    Sections,
    /// `join_in_line`.
    JoinInLine,
    /// `radius`.
    Radius,
    /// `columns`.
    Columns,
}

/// A question that only a person can answer.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema), schema(as = ImportQuestion))]
pub struct Question {
    /// The field of the answers that answers it.
    pub field: QuestionField,
    /// True when there is no design before it is answered.
    pub stops: bool,
    /// The question.
    pub text: String,
    /// What was taken without an answer; null where nothing was.
    pub default: Value,
    /// Figures to answer by.
    pub figures: Value,
}
