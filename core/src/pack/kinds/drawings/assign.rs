//! Who gets which place, at the least cost of all.

/// For each row its column, so that no two share one and the sum of `costs` is least (the Hungarian method with potentials).
/// There are at least as many columns as rows.
pub(super) fn assign(costs: &[Vec<f64>]) -> Vec<usize> {
    let rows = costs.len();
    let columns = costs.first().map_or(0, Vec::len);
    // Row and column 0 stand for none.
    let (mut row_price, mut column_price) = (vec![0.0; rows + 1], vec![0.0; columns + 1]);
    let mut row_of = vec![0; columns + 1];
    for row in 1..=rows {
        row_of[0] = row;
        let mut at = 0;
        let mut least = vec![f64::INFINITY; columns + 1];
        let mut before = vec![0; columns + 1];
        let mut used = vec![false; columns + 1];
        while row_of[at] != 0 {
            used[at] = true;
            let here = row_of[at];
            let (mut step, mut next) = (f64::INFINITY, 0);
            for column in 1..=columns {
                if used[column] {
                    continue;
                }
                let reduced = costs[here - 1][column - 1] - row_price[here] - column_price[column];
                if reduced < least[column] {
                    (least[column], before[column]) = (reduced, at);
                }
                if least[column] < step {
                    (step, next) = (least[column], column);
                }
            }
            for column in 0..=columns {
                if used[column] {
                    row_price[row_of[column]] += step;
                    column_price[column] -= step;
                } else {
                    least[column] -= step;
                }
            }
            at = next;
        }
        while at != 0 {
            row_of[at] = row_of[before[at]];
            at = before[at];
        }
    }
    let mut assigned = vec![0; rows];
    for column in 1..=columns {
        if row_of[column] != 0 {
            assigned[row_of[column] - 1] = column - 1;
        }
    }
    assigned
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_other_choice_costs_less() {
        let mut figure = 7_u32;
        let mut next = || {
            figure = figure.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            f64::from(figure >> 16)
        };
        for _ in 0..50 {
            let costs: Vec<Vec<f64>> = (0..4).map(|_| (0..6).map(|_| next()).collect()).collect();
            let sum = |columns: &[usize]| columns.iter().zip(&costs).map(|(&column, row)| row[column]).sum::<f64>();
            let assigned = assign(&costs);
            let mut least = f64::INFINITY;
            for number in 0..6_usize.pow(4) {
                let columns: Vec<usize> = (0..4).map(|row| number / 6_usize.pow(row) % 6).collect();
                let is_apart = (0..4).all(|a| (0..a).all(|b| columns[a] != columns[b]));
                if is_apart {
                    least = least.min(sum(&columns));
                }
            }
            assert_eq!(sum(&assigned), least);
        }
        assert_eq!(assign(&[]), [0; 0]);
    }
}
