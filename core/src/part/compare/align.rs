//! The rigid motion that lays one set of points on another with the least sum of squares.

use crate::geometry::DVec3;

/// A rigid motion: `turn` is a unit quaternion (w, x, y, z) about `from`, which is then moved to `to`.
#[derive(Debug, Clone, Copy)]
pub(super) struct Alignment {
    turn: [f64; 4],
    from: DVec3,
    to: DVec3,
    /// Largest distance of a moved point from its partner, mm.
    pub off: f64,
}

impl Alignment {
    /// Lays `moved` on `fixed`, point for point.
    ///
    /// Formula: the turn is the eigenvector of the largest eigenvalue of Horn's symmetric 4 x 4 matrix of the sums of products
    /// (Horn, closed-form solution of absolute orientation using unit quaternions, 1987).
    pub fn of(moved: &[DVec3], fixed: &[DVec3]) -> Self {
        let centre = |points: &[DVec3]| {
            let count = points.iter().fold(0.0, |count, _| count + 1.0);
            points.iter().copied().fold(DVec3::ZERO, |sum, point| sum + point) / f64::max(count, 1.0)
        };
        let (from, to) = (centre(moved), centre(fixed));
        let mut s = [[0.0; 3]; 3];
        for (p, q) in moved.iter().zip(fixed) {
            let (p, q) = ((*p - from).to_array(), (*q - to).to_array());
            for row in 0..3 {
                for column in 0..3 {
                    s[row][column] += p[row] * q[column];
                }
            }
        }
        let [[xx, xy, xz], [yx, yy, yz], [zx, zy, zz]] = s;
        let matrix = [
            [xx + yy + zz, yz - zy, zx - xz, xy - yx],
            [yz - zy, xx - yy - zz, xy + yx, zx + xz],
            [zx - xz, xy + yx, yy - xx - zz, yz + zy],
            [xy - yx, zx + xz, yz + zy, zz - xx - yy],
        ];
        let mut found = Self { turn: greatest_eigenvector(matrix), from, to, off: 0.0 };
        found.off = moved.iter().zip(fixed).map(|(p, q)| found.point(*p).distance(*q)).fold(0.0, f64::max);
        found
    }

    /// Where a point comes to lie.
    pub fn point(&self, point: DVec3) -> DVec3 {
        self.to + self.direction(point - self.from)
    }

    /// Where a direction comes to point.
    pub fn direction(&self, v: DVec3) -> DVec3 {
        let [w, x, y, z] = self.turn;
        let axis = DVec3::new(x, y, z);
        v + axis.cross(v) * (2.0 * w) + axis.cross(axis.cross(v)) * 2.0
    }
}

/// Jacobi's rotations on a symmetric matrix.
fn greatest_eigenvector(mut m: [[f64; 4]; 4]) -> [f64; 4] {
    let mut vectors = [[0.0; 4]; 4];
    for (number, row) in vectors.iter_mut().enumerate() {
        row[number] = 1.0;
    }
    for _ in 0..24 {
        for p in 0..3 {
            for q in p + 1..4 {
                if m[p][q].abs() <= 1e-300 {
                    continue;
                }
                let theta = (m[q][q] - m[p][p]) / (2.0 * m[p][q]);
                let t = theta.signum() / (theta.abs() + libm::hypot(theta, 1.0));
                let c = 1.0 / libm::hypot(t, 1.0);
                let s = t * c;
                for row in &mut m {
                    (row[p], row[q]) = (c * row[p] - s * row[q], s * row[p] + c * row[q]);
                }
                let (upper, lower) = (m[p], m[q]);
                m[p] = core::array::from_fn(|column| c * upper[column] - s * lower[column]);
                m[q] = core::array::from_fn(|column| s * upper[column] + c * lower[column]);
                for row in &mut vectors {
                    (row[p], row[q]) = (c * row[p] - s * row[q], s * row[p] + c * row[q]);
                }
            }
        }
    }
    let best = (1..4).fold(0, |best, next| if m[next][next] > m[best][best] { next } else { best });
    vectors.map(|row| row[best])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::turned;

    #[test]
    fn finds_a_known_turn_and_never_a_mirror_image() {
        let points =
            [DVec3::ZERO, DVec3::new(300.0, 0.0, 0.0), DVec3::new(300.0, 40.0, 0.0), DVec3::new(10.0, 90.0, 700.0)];
        let axis = DVec3::new(1.0, -2.0, 0.5).normalize();
        let there = points.map(|point| turned(point, axis, 2.9) + DVec3::new(5.0, 6.0, -7.0));
        let found = Alignment::of(&points, &there);
        assert!(found.off < 1e-9, "{}", found.off);
        assert!(found.direction(DVec3::X).distance(turned(DVec3::X, axis, 2.9)) < 1e-12);
        let image = points.map(|point| DVec3::new(point.x, -point.y, point.z));
        assert!(Alignment::of(&points, &image).off > 10.0);
        let flat = [points[0], points[1], points[2]];
        let turned_over = flat.map(|point| DVec3::new(point.x, -point.y, point.z));
        assert!(Alignment::of(&flat, &turned_over).off < 1e-9, "a flat figure is turned over");
    }
}
