//! Text that is never shown.

/// Text that is never shown.
#[derive(Clone)]
pub struct Secret(String);

impl Secret {
    /// The text.
    pub fn reveal(&self) -> &str {
        &self.0
    }
}

impl From<&str> for Secret {
    fn from(text: &str) -> Self {
        Self(text.to_owned())
    }
}

impl std::fmt::Debug for Secret {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        formatter.write_str("(secret)")
    }
}
