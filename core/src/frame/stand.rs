//! What will stand where an end is fitted: the others as their own ends are cut, near the end that is looked from.

use super::fit::tip;
use super::{Fit, Frame, Member, Target, bar};
use crate::geometry::{
    Beam, Cope, CutBar, Cylinder, DVec3, HalfSpace, Obstacle, Piece, Profile, Ray, RoundedPrism, Solid,
};

/// Tubes whose outsides differ by no more across, and whose axes lie no further apart, go on as one, mm (judgement).
const ONE_TUBE: f64 = 0.05;

/// Axes that lean against each other by no more go on as one, radians.
const IN_LINE: f64 = 1e-3;

/// Lines tried round a coped end.
const TRIED: u32 = 24;

/// What lies this little outside another tube is inside it, mm.
const HIDDEN: f64 = 1e-6;

/// The part of space in which an end looks for what it is fitted to.
pub(crate) struct Zone<'a> {
    /// The end's point, and its direction out of the body.
    pub(crate) line: Ray,
    /// From where to where along it.
    pub(crate) stretch: [f64; 2],
    /// How far about it, mm.
    pub(crate) reach: f64,
    /// Everything that it is fitted to.
    pub(crate) targets: &'a [Target],
}

/// So many times the reach of both tubes past what it lost a bar is made longer: so far that lines seldom meet what would be its
/// own end there.
const CLEAR: f64 = 4.0;

/// What one end of a bar lost, and how far the bar must be made longer for that to be all.
#[derive(Default)]
struct Lost {
    plane: Option<HalfSpace>,
    cope: Option<Cope>,
    longer: f64,
}

impl Frame {
    /// A member or plate as it will stand, grown by `gap` mm where it is a member. Only what it loses in the zone is looked at.
    pub(crate) fn standing(&self, target: Target, gap: f64, zone: &Zone<'_>) -> Solid {
        self.left_of(target, gap, zone, true)
    }

    fn left_of(&self, target: Target, gap: f64, zone: &Zone<'_>, with_copes: bool) -> Solid {
        let Target::Member(position) = target else { return self.solid(target, gap) };
        let member = &self.members[position];
        let lost = [0, 1].map(|end| self.lost(member, end, gap, zone, with_copes));
        if lost.iter().all(Option::is_none) {
            return self.solid(target, gap);
        }
        let mut pieces = bar(&member.path, self.section(member).profile, member.index, gap).pieces().to_vec();
        let last = member.path.legs.len() - 1;
        let [first_lost, last_lost] = lost.map(Option::unwrap_or_default);
        if last == 0 {
            pieces[0] = cut(&pieces[0], first_lost, last_lost);
        } else {
            pieces[0] = cut(&pieces[0], first_lost, Lost::default());
            pieces[last] = cut(&pieces[last], Lost::default(), last_lost);
        }
        Solid::new(pieces)
    }

    /// What an end lost in the zone; `None` where it ends as the bar does.
    fn lost(&self, member: &Member, end: usize, gap: f64, zone: &Zone<'_>, with_copes: bool) -> Option<Lost> {
        let fit = &member.ends[end];
        if fit.kind.is_square() {
            return None;
        }
        let (tip, reach) = (tip(member, end), self.section(member).profile.reach());
        let kept = fit.plane.map(|plane| HalfSpace { point: plane.point - plane.normal * gap, normal: -plane.normal });
        let [least, most] = kept.map_or([0.0; 2], |plane| crossed(&plane, &tip, reach));
        let is_coped = with_copes && !fit.targets.is_empty();
        let farthest = self.farthest(fit, reach);
        let along = (tip.origin - zone.line.origin).dot(zone.line.direction).clamp(zone.stretch[0], zone.stretch[1]);
        let past = most.max(0.0).max(-least) + if is_coped { farthest } else { 0.0 };
        if zone.line.at(along).distance(tip.origin) > zone.reach + reach + gap + past {
            return None;
        }
        if is_coped {
            let far = most.max(0.0) + farthest;
            let cope = self.cope(member, end, &tip, [far, gap], zone);
            let clear = most.max(0.0) + CLEAR * (reach + zone.reach);
            // So far that no line meets what would be its own end there.
            let longer = if cope.is_some() { far } else { clear };
            return (kept.is_some() || cope.is_some()).then_some(Lost { plane: kept, cope, longer });
        }
        let is_square = |plane: &HalfSpace| plane.normal.distance(tip.direction) < 1e-9 && least.abs() <= gap + 1e-9;
        kept.filter(|plane| !is_square(plane)).map(|plane| Lost {
            plane: Some(plane),
            cope: None,
            longer: most.max(0.0) + CLEAR * (reach + zone.reach),
        })
    }

    /// How far past its drawn end a coped one looks for what it is fitted to.
    fn farthest(&self, fit: &Fit, reach: f64) -> f64 {
        let across = |target: &Target| match *target {
            Target::Member(other) => self.section(&self.members[other]).profile.reach() * 2.0,
            Target::Plate(plate) => self.plates[plate].plate.thickness,
        };
        2.0 * reach + fit.targets.iter().map(across).fold(0.0, f64::max)
    }

    /// What a cope took off an end; `None` where all that it took lies inside what the zone's end is fitted to as well, so that
    /// nobody sees it.
    fn cope(&self, member: &Member, end: usize, tip: &Ray, [far, gap]: [f64; 2], seen: &Zone<'_>) -> Option<Cope> {
        let leg = if end == 0 { member.path.first() } else { member.path.last() };
        let back = if member.path.arcs.is_empty() { leg.length / 2.0 } else { leg.length };
        let profile = self.section(member).profile;
        let fit = &member.ends[end];
        let zone = Zone { line: *tip, stretch: [-back, far], reach: profile.reach(), targets: &[] };
        let index = if end == 0 { member.index } else { member.path.carried(member.index) };
        let lines = Beam { origin: tip.origin, x: index, y: tip.direction.cross(index), direction: tip.direction };
        let near = |target: Target| {
            let solid = self.left_of(target, member.gap, &zone, false).near(tip, -back, far, 2.0 * profile.reach());
            let obstacle = |piece: &Piece| Obstacle::new(piece.clone(), &lines, profile.reach() + gap, back);
            let is_seen = seen.targets.contains(&target);
            solid.pieces().iter().filter_map(obstacle).map(|obstacle| (is_seen, obstacle)).collect::<Vec<_>>()
        };
        let obstacles: Vec<(bool, Obstacle)> = fit.targets.iter().flat_map(|&target| near(target)).collect();
        let (mut is_hidden, mut met) = (true, Vec::with_capacity(TRIED as usize + 1));
        for spot in profile.ring(TRIED) {
            let hits = obstacles.iter().filter_map(|obstacle| Some((obstacle.1.first(spot.at, back)?, obstacle)));
            let first = hits.min_by(|a, b| a.0.total_cmp(&b.0));
            is_hidden &= first.is_some_and(|(s, (is_seen, obstacle))| {
                let piece = obstacle.piece();
                *is_seen && s <= 0.0 && piece.is_convex() && piece.distance(lines.ray(spot.at).origin) <= HIDDEN
            });
            met.push(first.map_or(0.0, |(s, _)| s));
        }
        met.push(met[0]);
        // A line between two that were tried may lie further off than both by what they differ at most.
        let step = met.windows(2).map(|pair| (pair[0] - pair[1]).abs()).fold(0.0, f64::max);
        let least = met.iter().copied().fold(f64::INFINITY, f64::min) - step;
        let obstacles = obstacles.into_iter().map(|(_, obstacle)| obstacle).collect();
        // Lines in line with it would run along those that pass by.
        let apart = (seen.line.origin - tip.origin).reject_from_normalized(tip.direction).length();
        let runs_on = seen.line.direction.distance(-tip.direction) >= IN_LINE || apart > profile.reach();
        (!is_hidden).then_some(Cope { lines, back, least, obstacles, runs_on })
    }

    /// The plane on which an end butts on an equal tube that goes on in its own line, square or mitred: all its lines meet that plane
    /// within the other; `None` where it meets another way.
    pub(crate) fn butt(&self, member: &Member, end: usize, target: Target) -> Option<HalfSpace> {
        let Target::Member(position) = target else { return None };
        let other = &self.members[position];
        let here = tip(member, end);
        let there_end = (0..2).find(|&there| tip(other, there).direction.distance(-here.direction) < IN_LINE)?;
        let (there, fit) = (tip(other, there_end), &other.ends[there_end]);
        let apart = (here.origin - there.origin).reject_from_normalized(there.direction).length();
        let is_free = fit.targets.is_empty();
        let index =
            |member: &Member, end: usize| if end == 0 { member.index } else { member.path.carried(member.index) };
        let is_equal = same_outside(
            self.section(member).profile,
            self.section(other).profile,
            index(member, end).dot(index(other, there_end)).abs(),
        );
        if apart > ONE_TUBE || !is_free || !is_equal {
            return None;
        }
        let plane = fit.plane?;
        Some(HalfSpace { point: plane.point - plane.normal * member.gap, normal: -plane.normal })
    }
}

/// True when two outsides in line have one outline, `turn` being the cosine between their index lines.
fn same_outside(one: Profile, other: Profile, turn: f64) -> bool {
    let near = |a: f64, b: f64| 2.0 * (a - b).abs() <= ONE_TUBE;
    match (one, other) {
        (Profile::Round { outer, .. }, Profile::Round { outer: other, .. }) => near(outer, other),
        (
            Profile::Rect { half_width: w, half_height: h, corner, .. },
            Profile::Rect { half_width, half_height, corner: other, .. },
        ) => {
            near(corner, other)
                && ((turn > 1.0 - 1e-6 && near(w, half_width) && near(h, half_height))
                    || (turn < 1e-3 && near(w, half_height) && near(h, half_width)))
        }
        _ => false,
    }
}

/// Least and greatest distance past the end's point at which lines of a tube cross a plane.
fn crossed(plane: &HalfSpace, tip: &Ray, reach: f64) -> [f64; 2] {
    let rate = plane.normal.dot(tip.direction);
    let across: DVec3 = plane.normal - tip.direction * rate;
    let (middle, spread) = (-plane.distance(tip.origin) / rate, reach * across.length() / rate.abs());
    [middle - spread, middle + spread]
}

/// A straight bar with what its ends lost.
fn cut(piece: &Piece, first: Lost, last: Lost) -> Piece {
    let (before, more) = (first.longer, first.longer + last.longer);
    let longer = match piece {
        Piece::Cylinder(bar) => Piece::Cylinder(Cylinder {
            point: bar.point - bar.axis * before,
            length: bar.length.map(|length| length + more),
            ..*bar
        }),
        Piece::Prism(bar) => Piece::Prism(RoundedPrism {
            point: bar.point - bar.axis * before,
            length: bar.length.map(|length| length + more),
            ..*bar
        }),
        other => other.clone(),
    };
    Piece::Cut(Box::new(CutBar {
        bar: Box::new(longer),
        planes: [first.plane, last.plane],
        copes: [first.cope, last.cope],
    }))
}
