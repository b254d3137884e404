//! A linear program that grows by columns: revised simplex with a dense inverse.
//!
//! Rows are equations with a right side that is not negative. The first basis is one column of the identity a row.

/// Smaller than this counts as nothing.
const EPS: f64 = 1e-9;

/// The program at its present vertex. `V` names columns.
pub struct Simplex<V> {
    rows: usize,
    inverse: Vec<f64>,
    /// Which column is basic in each row, and its level.
    pub basis: Vec<(V, f64)>,
    /// Price of each row: the duals.
    pub prices: Vec<f64>,
}

impl<V> Simplex<V> {
    /// A program whose basic columns are the identity, with their costs and levels.
    pub fn new(first: Vec<(V, f64, f64)>) -> Self {
        let rows = first.len();
        let mut inverse = vec![0.0; rows * rows];
        for row in 0..rows {
            inverse[row * rows + row] = 1.0;
        }
        let prices = first.iter().map(|(_, cost, _)| *cost).collect();
        let basis = first.into_iter().map(|(name, _, level)| (name, level)).collect();
        Self { rows, inverse, basis, prices }
    }

    /// What a column with these entries costs beyond the prices of its rows.
    pub fn reduced(&self, column: &[(usize, f64)], cost: f64) -> f64 {
        cost - column.iter().map(|&(row, entry)| self.prices[row] * entry).sum::<f64>()
    }

    /// Brings a column into the basis. Says whether it could.
    pub fn enter(&mut self, name: V, column: &[(usize, f64)], cost: f64) -> bool {
        let rows = self.rows;
        let mut change = vec![0.0; rows];
        for (row, change) in change.iter_mut().enumerate() {
            let line = &self.inverse[row * rows..(row + 1) * rows];
            *change = column.iter().map(|&(place, entry)| line[place] * entry).sum();
        }
        let mut leaves: Option<(usize, f64)> = None;
        for row in 0..rows {
            if change[row] > 1e-7 {
                let ratio = self.basis[row].1.max(0.0) / change[row];
                let better = match leaves {
                    None => true,
                    Some((best, least)) => ratio < least - EPS || (ratio < least + EPS && change[row] > change[best]),
                };
                if better {
                    leaves = Some((row, ratio));
                }
            }
        }
        let Some((pivot, step)) = leaves else { return false };
        let reduced = self.reduced(column, cost);
        let scale = 1.0 / change[pivot];
        let mut line: Vec<f64> = self.inverse[pivot * rows..(pivot + 1) * rows].to_vec();
        for entry in &mut line {
            *entry *= scale;
        }
        for (row, &factor) in change.iter().enumerate() {
            if row == pivot {
                self.inverse[pivot * rows..(pivot + 1) * rows].copy_from_slice(&line);
            } else if factor != 0.0 {
                for (entry, by) in self.inverse[row * rows..(row + 1) * rows].iter_mut().zip(&line) {
                    *entry -= factor * by;
                }
                self.basis[row].1 -= factor * step;
            }
        }
        for (price, by) in self.prices.iter_mut().zip(&line) {
            *price += reduced * by;
        }
        self.basis[pivot] = (name, step);
        true
    }
}
