//! When to stop, and how far the search is.

/// How far a search is.
#[derive(Debug, Clone, Copy, PartialEq, Default, serde::Serialize)]
pub struct Progress {
    /// What the best plan so far costs; `None` before there is one.
    pub best: Option<f64>,
    /// What no plan goes below, as far as is proven.
    pub bound: f64,
}

/// The caller's word, remembered once it was to stop, and an allowance for one stage of the work.
pub struct Budget<'a> {
    /// Told with every question.
    pub progress: Progress,
    over: bool,
    left: u64,
    ask: &'a mut dyn FnMut(Progress) -> bool,
}

impl<'a> Budget<'a> {
    /// `ask` is told how far the search is and says whether to stop.
    pub fn new(ask: &'a mut dyn FnMut(Progress) -> bool) -> Self {
        Self { progress: Progress::default(), over: false, left: u64::MAX, ask }
    }

    /// Begins a stage of so many questions.
    pub fn allow(&mut self, questions: u64) {
        self.left = questions;
    }

    /// Whether the caller's word was to stop.
    pub fn over(&self) -> bool {
        self.over
    }

    /// Whether to stop now.
    pub fn spent(&mut self) -> bool {
        if self.over || self.left == 0 {
            return true;
        }
        self.left -= 1;
        self.over = (self.ask)(self.progress);
        self.over
    }
}
