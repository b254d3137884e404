//! Durations counted by how long they are.

use std::time::Duration;

/// How many durations were at most so long.
pub struct Histogram {
    bounds: &'static [f64],
    /// One for each bound, and one for what is longer than all of them.
    counts: Vec<u64>,
    sum: f64,
}

impl Histogram {
    /// An empty one with these bounds in seconds, which rise.
    pub fn new(bounds: &'static [f64]) -> Self {
        Self { bounds, counts: vec![0; bounds.len() + 1], sum: 0.0 }
    }

    /// Counts a duration.
    pub fn add(&mut self, took: Duration) {
        let seconds = took.as_secs_f64();
        let place = self.bounds.iter().take_while(|bound| seconds > **bound).count();
        self.counts[place] += 1;
        self.sum += seconds;
    }

    /// Each bound, and how many durations were at most as long.
    pub fn within(&self) -> impl Iterator<Item = (f64, u64)> {
        let sums = self.counts.iter().scan(0, |sum, count| {
            *sum += count;
            Some(*sum)
        });
        self.bounds.iter().copied().zip(sums)
    }

    /// How many there were.
    pub fn count(&self) -> u64 {
        self.counts.iter().sum()
    }

    /// How long they were together, s.
    pub fn sum(&self) -> f64 {
        self.sum
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_duration_is_counted_under_every_bound_that_it_does_not_pass() {
        let mut histogram = Histogram::new(&[0.1, 1.0]);
        for milliseconds in [50, 100, 101, 1000, 2749] {
            histogram.add(Duration::from_millis(milliseconds));
        }
        assert_eq!(histogram.within().collect::<Vec<_>>(), [(0.1, 2), (1.0, 4)]);
        assert_eq!(histogram.count(), 5);
        assert!((histogram.sum() - 4.0).abs() < 1e-12);
    }
}
