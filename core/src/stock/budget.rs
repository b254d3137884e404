//! When to stop.

/// The caller's word, remembered once it was to stop.
pub struct Budget<'a> {
    spent: bool,
    ask: &'a mut dyn FnMut() -> bool,
}

impl<'a> Budget<'a> {
    /// `ask` says whether to stop.
    pub fn new(ask: &'a mut dyn FnMut() -> bool) -> Self {
        Self { spent: false, ask }
    }

    /// Whether to stop now.
    pub fn spent(&mut self) -> bool {
        self.spent = self.spent || (self.ask)();
        self.spent
    }
}
