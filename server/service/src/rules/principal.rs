//! Who calls, and what they may do. Everything not granted here is refused.

use crate::ServiceError;

/// The bearer of a token.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Principal {
    /// Id of the token, for the records.
    pub token: String,
    /// What the token is good for.
    pub role: Role,
    /// Whether it only reads.
    pub read_only: bool,
}

/// What a token is good for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Role {
    /// Everything.
    Publisher,
    /// Reads everything, issues packs and hands out builder tokens.
    Support,
    /// Reads one kit, its packs and the sheets of its revision.
    Builder {
        /// Serial of the kit.
        kit: String,
    },
}

impl Principal {
    /// May change anything at all.
    pub fn may_change(&self) -> Result<(), ServiceError> {
        if self.read_only { Err(ServiceError::ReadsOnly) } else { Ok(()) }
    }

    /// May change designs, publish and register kits.
    pub fn may_publish(&self) -> Result<(), ServiceError> {
        match self.role {
            Role::Publisher => Ok(()),
            Role::Support => Err(ServiceError::Forbidden),
            Role::Builder { .. } => Err(ServiceError::Hidden),
        }
    }

    /// May do what the supplier's own people do.
    pub fn may_support(&self) -> Result<(), ServiceError> {
        match self.role {
            Role::Publisher | Role::Support => Ok(()),
            Role::Builder { .. } => Err(ServiceError::Hidden),
        }
    }

    /// May read this kit.
    pub fn may_read_kit(&self, serial: &str) -> Result<(), ServiceError> {
        match &self.role {
            Role::Publisher | Role::Support => Ok(()),
            Role::Builder { kit } if kit == serial => Ok(()),
            Role::Builder { .. } => Err(ServiceError::Hidden),
        }
    }
}
