//! What is said when a revision is withdrawn, recalled or put in force again, and when a hold is lifted.

use crate::ServiceError;
use crate::rules::valid::Checks;
use crate::words::of_problems;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// Why a revision is withdrawn, or is in force again.
#[derive(Debug, Clone, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(example = json!({"reason": "The bracket at the rear foot is too weak for the heavier drive."}))]
pub struct Reason {
    /// The reason, for those who hold the revision.
    #[serde(default)]
    pub reason: String,
}

impl Reason {
    /// Refuses a text that will not do.
    pub fn check(&self) -> Result<(), ServiceError> {
        let mut checks = Checks::default();
        checks.note("/reason", &self.reason);
        checks.done()
    }
}

/// A recall. All of it is needed.
#[derive(Debug, Clone, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(example = json!({
    "hazard": "The main hoop can tear off its feet when the vehicle rolls over. People in it can be killed.",
    "what_to_do": "Stop building. Do not drive a vehicle with this frame. Keep all parts.",
    "remedies": "We replace both foot plates and the hoop free of charge, or take the kit back for its full price."
}))]
pub struct Recall {
    /// What can happen, in plain words that do not soften it.
    #[serde(default)]
    pub hazard: String,
    /// What holders must do now.
    #[serde(default)]
    pub what_to_do: String,
    /// What the supplier offers them.
    #[serde(default)]
    pub remedies: String,
}

/// Beginnings of words that make a hazard seem smaller, with what is said of each. After Article 36 of Regulation (EU) 2023/988, from
/// memory: voluntary, precautionary, discretionary, in rare or specific situations, no accidents reported. The others are a judgement.
const SOFTENING: [&str; 12] = [
    "voluntar",
    "precautionary",
    "as a precaution",
    "by way of precaution",
    "abundance of caution",
    "discretionary",
    "rare ",
    "rarely",
    "specific situation",
    "no accident",
    "no reported",
    "unlikely",
];

impl Recall {
    /// Refuses texts that will not do.
    pub fn check(&self) -> Result<(), ServiceError> {
        let mut checks = Checks::default();
        for (pointer, text) in
            [("/hazard", &self.hazard), ("/what_to_do", &self.what_to_do), ("/remedies", &self.remedies)]
        {
            checks.note(pointer, text);
            let lower = text.to_lowercase();
            if let Some(at) = SOFTENING.into_iter().find_map(|begin| lower.find(begin)) {
                let words: Vec<&str> = lower[at..].split_whitespace().take(2).collect();
                let words = words.join(" ");
                checks.refuse(pointer, of_problems().fields.softening(words));
            }
        }
        checks.done()
    }
}
