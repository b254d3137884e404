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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::part::joint;
    use serde_json::{Value, json};
    use std::time::Duration;

    /// A thick tube fitted to tubes that wind over it: minutes of work.
    fn endless() -> String {
        let winding = |number: u32| {
            let z = 200.0 + 7.3 * f64::from(number);
            let corner = |at: u32| {
                let (row, half) = (at / 2, at % 2);
                let x = if (row + half) % 2 == 0 { -110.0 } else { 110.0 };
                json!([x, 7.0 * f64::from(row) - 108.5, z])
            };
            json!({"type": "bent", "path": (0..64).map(corner).collect::<Vec<Value>>(), "clr": 3, "od": 5})
        };
        let member = json!({
            "section": {"type": "round", "od": 200, "wall": 5},
            "datum": [0, 0, 0], "dir": [0.05, 0.02, 1], "ref": [1, 0, 0], "s_start": -100, "s_limit": 2000
        });
        let case = json!({"member": member, "targets": (0..64).map(winding).collect::<Vec<Value>>()});
        json!({"cases": vec![case; 50]}).to_string()
    }

    #[test]
    fn a_long_computation_ends_on_its_way() {
        let (text, flag) = (endless(), AtomicBool::new(false));
        let ended = std::thread::scope(|scope| {
            let work = scope.spawn(|| joint::solve_until(&text, Stop::when(&flag)));
            std::thread::sleep(Duration::from_millis(300));
            flag.store(true, Ordering::Relaxed);
            work.join().expect("no panic")
        });
        assert_eq!(ended.expect_err("it was not waited for").code(), "stopped");
    }
}
