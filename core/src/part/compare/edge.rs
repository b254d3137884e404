//! The edge of a finished tube end: stations of its outer and its bore line for any clock angle.

use super::super::cut::Cut;
use crate::geometry::{Path, least_place};
use std::sync::Arc;

/// Regular places round the outline at which an edge is known at once. A multiple of four, so that a square tube turned by a
/// side lands on the same places.
pub(super) const SAMPLES: usize = 144;

/// Lines of an edge: outer surface and bore.
pub(super) const LINES: usize = 2;

/// Both lines of an edge at the regular places.
pub(super) type Samples = [[f64; SAMPLES]; LINES];

/// A line leaves its curve where its slope changes by more than this from step to step: at a kink, a jump or a stop.
const UNEVEN: f64 = 0.4;

/// A stretch of the outline that misses every target. The finished edge runs straight from stop to stop.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Gap {
    from: (f64, f64),
    to: (f64, f64),
}

/// The edge of one end. Stations are mm along the centreline from its start, so that they fall towards the first end.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Edge {
    cut: Arc<Cut>,
    /// Station of the end's datum, and the sense in which the cut's own stations grow.
    datum: f64,
    sense: f64,
    /// True for the edge of the mirror image: what stood at `u` stands at `-u`.
    mirrored: bool,
    perimeter: f64,
    gaps: [Vec<Gap>; LINES],
    samples: Box<Samples>,
    mean: [f64; LINES],
    spread: [f64; LINES],
    rough: bool,
    /// Station of an end that is sawn square and not cut yet.
    sawn: Option<f64>,
}

impl Edge {
    /// The edge that `cut` makes at the first end (0) or the last (1) of a part about `path`.
    pub fn of(path: &Path, end: usize, cut: &Cut) -> Self {
        let (tip, sense, station) = if end == 0 { (path.start(), -1.0, 0.0) } else { (path.end(), 1.0, path.length()) };
        let perimeter = cut.profile().perimeter();
        let mut edge = Self {
            cut: Arc::new(cut.clone()),
            datum: station + sense * (cut.end().datum - tip).dot(cut.end().outwards),
            sense,
            mirrored: false,
            perimeter,
            gaps: [Vec::new(), Vec::new()],
            samples: Box::new([[0.0; SAMPLES]; LINES]),
            mean: [0.0; LINES],
            spread: [0.0; LINES],
            rough: false,
            sawn: None,
        };
        // Where a tube leans out furthest it may miss between two regular places.
        let between = cut.places(1);
        for line in 0..LINES {
            let depth = cut.profile().wall() * line_share(line);
            let station = |u: f64| cut.contact(u, depth).map(|contact| contact.s);
            let mut found: [Option<f64>; SAMPLES] = [None; SAMPLES];
            for (number, found) in found.iter_mut().enumerate() {
                *found = station(place(perimeter, number));
            }
            if found.iter().any(Option::is_none) || between.iter().any(|&u| station(u).is_none()) {
                edge.gaps[line] = gaps(perimeter, &between, &station);
            }
            for (number, found) in found.iter().enumerate() {
                let u = place(perimeter, number);
                edge.samples[line][number] = edge.datum + sense * found.unwrap_or_else(|| edge.across(u, line));
            }
        }
        edge.sum_up();
        edge
    }

    fn sum_up(&mut self) {
        const JUMP: f64 = 1.0;
        let count = f64::from(u32::try_from(SAMPLES).unwrap_or(1));
        for line in 0..LINES {
            let mean = self.samples[line].iter().sum::<f64>() / count;
            let square = self.samples[line].iter().map(|x| (x - mean) * (x - mean)).sum::<f64>() / count;
            (self.mean[line], self.spread[line]) = (mean, square.sqrt());
        }
        let jumps = (0..LINES).any(|line| {
            let around = self.around(line, 0);
            around.windows(3).any(|at| (at[0] - 2.0 * at[1] + at[2]).abs() > JUMP)
        });
        self.rough = jumps || self.gaps.iter().any(|gaps| !gaps.is_empty());
    }

    /// The end as sawn square, before this edge is cut: so far beyond the furthest place of it.
    pub fn left_long(&self, by: f64) -> Self {
        let station = self.furthest() + self.sense * by;
        Self {
            gaps: [Vec::new(), Vec::new()],
            samples: Box::new([[station; SAMPLES]; LINES]),
            mean: [station; LINES],
            spread: [0.0; LINES],
            rough: false,
            sawn: Some(station),
            ..self.clone()
        }
    }

    /// The edge of the mirror image.
    pub fn mirrored(&self) -> Self {
        let mut image = self.clone();
        image.mirrored = !self.mirrored;
        for line in 0..LINES {
            image.samples[line] = core::array::from_fn(|number| self.samples[line][(SAMPLES - number) % SAMPLES]);
        }
        image
    }

    /// Stations at the regular places.
    pub fn samples(&self) -> &Samples {
        &self.samples
    }

    /// Mean station of each line.
    pub fn mean(&self) -> [f64; LINES] {
        self.mean
    }

    /// Root mean square of each line about its mean.
    pub fn spread(&self) -> [f64; LINES] {
        self.spread
    }

    /// True where part of the wall misses or the line jumps from one target to another, so that no curve through the regular
    /// places can be trusted.
    pub fn is_rough(&self) -> bool {
        self.rough
    }

    /// Station of a line at `u`, exactly.
    pub fn exact(&self, u: f64, line: usize) -> f64 {
        if let Some(station) = self.sawn {
            return station;
        }
        let u = if self.mirrored { -u } else { u };
        let depth = self.cut.profile().wall() * line_share(line);
        let s = self.cut.contact(u, depth).map_or_else(|| self.across(u, line), |contact| contact.s);
        self.datum + self.sense * s
    }

    /// Station of a line at `u` from the regular places (cubic with the neighbours' slopes: Catmull-Rom).
    fn near(&self, u: f64, line: usize) -> f64 {
        let (number, part) = split(u / self.step());
        let samples = &self.samples[line];
        let [a, b, c, d] = [SAMPLES - 1, 0, 1, 2].map(|step| samples[(number + step) % SAMPLES]);
        let (first, second, third) = (c - a, 2.0 * a - 5.0 * b + 4.0 * c - d, 3.0 * (b - c) + d - a);
        b + 0.5 * part * (first + part * (second + part * third))
    }

    /// The curve through the regular places at `SAMPLES` places a step apart, from `shift` steps on: stations, mm.
    pub fn row(&self, line: usize, shift: f64) -> [f64; SAMPLES] {
        let (first, part) = split(shift);
        let (square, cube) = (part * part, part * part * part);
        let weights = [
            2.0 * square - part - cube,
            2.0 - 5.0 * square + 3.0 * cube,
            part + 4.0 * square - 3.0 * cube,
            cube - square,
        ];
        weighted(&self.around(line, first), weights.map(|weight| 0.5 * weight))
    }

    /// Slopes of the same curve there, mm for a mm round the outline, and 1 where the curve is that of the line, 0 at kinks,
    /// jumps and stops.
    pub fn slopes(&self, line: usize, shift: f64) -> ([f64; SAMPLES], [f64; SAMPLES]) {
        let (first, part) = split(shift);
        let square = part * part;
        let weights = [
            4.0 * part - 1.0 - 3.0 * square,
            9.0 * square - 10.0 * part,
            1.0 + 8.0 * part - 9.0 * square,
            3.0 * square - 2.0 * part,
        ];
        let around = self.around(line, first);
        let limit = UNEVEN * self.step();
        let bends = |at: usize| (around[at] - 2.0 * around[at + 1] + around[at + 2]).abs() < limit;
        let even = core::array::from_fn(|number| if bends(number) && bends(number + 1) { 1.0 } else { 0.0 });
        (weighted(&around, weights.map(|weight| 0.5 * weight / self.step())), even)
    }

    /// Regular places in a row, from one before `first` to two after the place before `first`.
    fn around(&self, line: usize, first: usize) -> [f64; SAMPLES + 3] {
        let mut around = [0.0; SAMPLES + 3];
        let (mut at, mut done) = ((first + SAMPLES - 1) % SAMPLES, 0);
        while done < around.len() {
            let take = (SAMPLES - at).min(around.len() - done);
            around[done..done + take].copy_from_slice(&self.samples[line][at..at + take]);
            (at, done) = (0, done + take);
        }
        around
    }

    /// Width between two regular places, mm.
    pub fn step(&self) -> f64 {
        place(self.perimeter, 1)
    }

    /// Places of the outer line that stand out furthest (`sense` 1) or least far (-1) from the body, as far as the eye can
    /// tell; empty for an edge that is as good as square.
    pub fn extremes(&self, sense: f64) -> Vec<f64> {
        const BY_EYE: f64 = 0.5;
        let outwards = sense * self.sense;
        let height = |number: usize| outwards * self.samples[0][number % SAMPLES];
        let mut found = Vec::new();
        for number in 0..SAMPLES {
            let here = height(number);
            if here >= height(number + SAMPLES - 1) && here > height(number + 1) {
                let middle = place(self.perimeter, number);
                let u = least_place(middle - self.step(), middle + self.step(), 1e-4, |u| -outwards * self.exact(u, 0));
                found.push((u.rem_euclid(self.perimeter), outwards * self.exact(u, 0)));
            }
        }
        let top = found.iter().map(|place| place.1).fold(f64::NEG_INFINITY, f64::max);
        found.retain(|place| place.1 > top - BY_EYE);
        if self.height() < 2.0 * BY_EYE { Vec::new() } else { found.into_iter().map(|place| place.0).collect() }
    }

    /// Station of the furthest place of the outer line.
    pub fn furthest(&self) -> f64 {
        let outwards = |u: f64| self.sense * self.exact(u, 0);
        let regular = (0..SAMPLES).map(|number| place(self.perimeter, number));
        let best = regular.max_by(|a, b| outwards(*a).total_cmp(&outwards(*b))).unwrap_or(0.0);
        let u = least_place(best - self.step(), best + self.step(), 1e-4, |u| -outwards(u));
        self.sense * outwards(u).max(outwards(best))
    }

    /// How far out of the body the outer line stands at `u`, from any fixed station.
    pub fn outwards(&self, u: f64) -> f64 {
        self.sense * self.near(u, 0)
    }

    /// How far the outer line's furthest regular place stands beyond its nearest, mm.
    pub fn height(&self) -> f64 {
        let (low, high) = bounds(self.samples[0].iter().copied());
        high - low
    }

    /// The straight run over a gap, in the cut's own stations.
    fn across(&self, u: f64, line: usize) -> f64 {
        for gap in &self.gaps[line] {
            let at = gap.from.0 + (u - gap.from.0).rem_euclid(self.perimeter);
            if at <= gap.to.0 {
                let part = (at - gap.from.0) / (gap.to.0 - gap.from.0).max(1e-300);
                return gap.from.1 + part * (gap.to.1 - gap.from.1);
            }
        }
        // A miss narrower than the search for gaps: the nearest stop is as near as makes no difference.
        let nearest = self.gaps[line].iter().flat_map(|gap| [gap.from, gap.to]);
        let away = |stop: &(f64, f64)| {
            let off = (stop.0 - u).rem_euclid(self.perimeter);
            off.min(self.perimeter - off)
        };
        nearest.min_by(|a, b| away(a).total_cmp(&away(b))).map_or(0.0, |stop| stop.1)
    }
}

/// Four neighbours summed with their weights, place by place.
fn weighted(around: &[f64; SAMPLES + 3], [a, b, c, d]: [f64; 4]) -> [f64; SAMPLES] {
    core::array::from_fn(|at| a * around[at] + b * around[at + 1] + c * around[at + 2] + d * around[at + 3])
}

/// A whole number of steps round the outline, and the rest of a step.
fn split(steps: f64) -> (usize, f64) {
    let floor = steps.floor();
    let whole = floor.rem_euclid(f64::from(u32::try_from(SAMPLES).unwrap_or(1)));
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 0 and the number of samples")]
    let whole = whole as usize;
    (whole % SAMPLES, steps - floor)
}

/// Least and largest of some numbers.
pub(super) fn bounds(numbers: impl Iterator<Item = f64>) -> (f64, f64) {
    numbers.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), number| (low.min(number), high.max(number)))
}

/// Place of a regular sample, mm round the outline.
pub(super) fn place(perimeter: f64, number: usize) -> f64 {
    let part = |number: usize| f64::from(u32::try_from(number).unwrap_or(0));
    perimeter * part(number) / part(SAMPLES)
}

/// How deep in the wall a line lies, as a part of the wall.
fn line_share(line: usize) -> f64 {
    if line == 0 { 0.0 } else { 1.0 }
}

fn gaps(perimeter: f64, between: &[f64], station: &impl Fn(f64) -> Option<f64>) -> Vec<Gap> {
    let mut places: Vec<f64> = (0..SAMPLES).map(|number| place(perimeter, number)).collect();
    places.extend(between.iter().filter(|&&u| u < perimeter));
    places.sort_by(f64::total_cmp);
    let hits: Vec<bool> = places.iter().map(|&u| station(u).is_some()).collect();
    let count = places.len();
    // The last place that hits between `hit` and `miss`.
    let stop = |mut hit: f64, mut miss: f64| {
        for _ in 0..60 {
            let middle = 0.5 * (hit + miss);
            if station(middle).is_some() {
                hit = middle;
            } else {
                miss = middle;
            }
        }
        (hit, station(hit).unwrap_or(0.0))
    };
    let at = |number: usize| if number < count { places[number] } else { places[number - count] + perimeter };
    let mut gaps = Vec::new();
    for number in 0..count {
        if hits[number] && !hits[(number + 1) % count] {
            let back = (number + 2..=number + count).find(|&next| hits[next % count]).unwrap_or(number + count);
            gaps.push(Gap { from: stop(at(number), at(number + 1)), to: stop(at(back), at(back - 1)) });
        }
    }
    gaps
}
