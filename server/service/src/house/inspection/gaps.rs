//! Numbers that restores left out.

use matchmark_store::restores::SkipRow;
use std::collections::BTreeMap;

/// First and last of each gap, by kit or design.
pub struct Gaps(BTreeMap<String, Vec<(i64, i64)>>);

impl Gaps {
    /// The gaps on record, in their order.
    pub fn of(rows: Vec<SkipRow>) -> Self {
        let mut gaps: BTreeMap<String, Vec<(i64, i64)>> = BTreeMap::new();
        for row in rows {
            gaps.entry(row.of).or_default().push((row.first, row.last));
        }
        Self(gaps)
    }

    /// The number that follows this one.
    pub fn next(&self, of: &str, number: i64) -> i64 {
        let gaps = self.0.get(of).into_iter().flatten();
        gaps.fold(number + 1, |next, (first, last)| if *first == next { last + 1 } else { next })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_left_out_is_passed_over_and_nothing_else() {
        let row = |first, last| SkipRow { of: "K-1".to_owned(), first, last };
        let gaps = Gaps::of(vec![row(4, 100), row(101, 200)]);
        let next = |number| gaps.next("K-1", number);
        assert_eq!([next(2), next(3), next(150), next(200)], [3, 201, 151, 201]);
        assert_eq!(gaps.next("K-2", 3), 4);
    }
}
