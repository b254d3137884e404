//! Whether a long computation is still wanted.

use core::sync::atomic::{AtomicBool, Ordering};

/// Asked between one step of a long computation and the next. Once it says to stop it always does.
#[derive(Debug, Clone, Copy)]
pub struct Stop<'a>(Option<&'a AtomicBool>);

/// A computation was given up before its end.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("the computation was given up before its end")]
pub struct Stopped;

impl<'a> Stop<'a> {
    /// For what is computed to its end.
    pub const NEVER: Self = Self(None);

    /// As soon as the flag is set, which is never taken back.
    #[must_use]
    pub fn when(flag: &'a AtomicBool) -> Self {
        Self(Some(flag))
    }

    /// Whether to stop now.
    #[must_use]
    #[inline]
    pub fn asked(self) -> bool {
        self.0.is_some_and(|flag| flag.load(Ordering::Relaxed))
    }

    /// Goes on, or ends what is computed.
    ///
    /// # Errors
    /// [`Stopped`] when it is no longer wanted.
    #[inline]
    pub fn check(self) -> Result<(), Stopped> {
        if self.asked() { Err(Stopped) } else { Ok(()) }
    }
}
