//! Flat areas with holes as triangles.

use earcut::Earcut;

/// An area between a ring and the rings of its holes, as triangles of the places in order: those of the outer ring first. They run
/// anticlockwise in the plane.
pub(super) fn triangles(rings: &[Vec<[f64; 2]>]) -> Vec<[u32; 3]> {
    let places: Vec<[f64; 2]> = rings.iter().flatten().copied().collect();
    let mut starts: Vec<u32> = Vec::new();
    let mut count = 0_usize;
    for ring in rings {
        starts.extend(u32::try_from(count));
        count += ring.len();
    }
    let mut found: Vec<u32> = Vec::new();
    Earcut::new().earcut(places.iter().copied(), &starts[1..], &mut found);
    let turned = |[a, b, c]: [u32; 3]| {
        let [p, q, r] = [a, b, c].map(|place| places[place as usize]);
        let area = (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
        if area < 0.0 { [a, c, b] } else { [a, b, c] }
    };
    found.as_chunks::<3>().0.iter().copied().map(turned).collect()
}

#[cfg(test)]
mod tests {
    use super::triangles;

    #[test]
    fn a_square_with_a_hole_keeps_its_area() {
        let square = vec![[0.0, 0.0], [10.0, 0.0], [10.0, 10.0], [0.0, 10.0]];
        let hole = vec![[4.0, 4.0], [4.0, 6.0], [6.0, 6.0], [6.0, 4.0]];
        let places: Vec<[f64; 2]> = square.iter().chain(&hole).copied().collect();
        let area = |[a, b, c]: [u32; 3]| {
            let [p, q, r] = [a, b, c].map(|at| places[at as usize]);
            ((q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])) / 2.0
        };
        let areas: Vec<f64> = triangles(&[square, hole]).into_iter().map(area).collect();
        assert!(areas.iter().all(|area| *area > 0.0), "{areas:?}");
        assert!((areas.iter().sum::<f64>() - 96.0).abs() < 1e-9);
    }
}
