//! The bends of all bent members in both conventions: feed, rotate, bend; and points with a radius.

use super::Listed;
use crate::facts::Subject;
use crate::table::{Table, Value};
use crate::words::{EN, Words};
use matchmark_core::frame::Member;
use matchmark_core::geometry::DVec3;
use matchmark_core::part::Part;

const COLUMNS: [&str; 15] = [
    "member",
    "part_number",
    "size",
    "bend",
    "bends",
    "feed:mm",
    "rotate:deg",
    "bend:deg",
    "set:deg",
    "radius:mm",
    "arc:mm",
    "mark_start:mm",
    "mark_end:mm",
    "last_straight:mm",
    "blank:mm",
];

const POINTS: [&str; 8] = ["member", "part_number", "size", "point", "x:mm", "y:mm", "z:mm", "radius:mm"];

pub(super) const LISTED: Listed =
    Listed { name: "bends", about: Words::about_bends, is_there: |sheets| !sheets.bend_sheets.is_empty(), table };

pub(super) const POINTS_LISTED: Listed = Listed {
    name: "bend-points",
    about: Words::about_bend_points,
    is_there: |sheets| !sheets.bend_sheets.is_empty(),
    table: points,
};

/// One row a bend.
fn table(subject: &Subject) -> Table {
    let mut table = Table { conventions: EN.bends(), ..Table::new(&LISTED, &COLUMNS) };
    for sheet in subject.sheets.bend_sheets.iter().filter(|sheet| !subject.sheets.stands(&sheet.member)) {
        for (row, mark) in sheet.rows.iter().zip(&sheet.marks) {
            table.push([
                sheet.member.as_str().into(),
                subject.number(&sheet.member).into(),
                sheet.size.to_string().into(),
                mark.bend.into(),
                sheet.rows.len().into(),
                row.feed.into(),
                row.rotate_deg.into(),
                row.bend_deg.into(),
                row.set_deg.into(),
                row.radius.into(),
                row.arc.into(),
                mark.start.into(),
                mark.end.into(),
                sheet.last_straight.into(),
                sheet.blank.into(),
            ]);
        }
    }
    table
}

/// One row a point.
fn points(subject: &Subject) -> Table {
    let mut table = Table { conventions: EN.bend_points(), ..Table::new(&POINTS_LISTED, &POINTS) };
    for part in subject.made.parts.iter().filter(|part| !part.bends.rows.is_empty()) {
        let member = &subject.made.frame.members[part.member];
        if subject.sheets.stands(&member.id) {
            continue;
        }
        for (number, (at, radius)) in corners(member, part).into_iter().enumerate() {
            let [x, y, z] = at.to_array().map(Value::from);
            table.push([
                member.id.as_str().into(),
                subject.number(&member.id).into(),
                subject.made.frame.section(member).size().to_string().into(),
                number.into(),
                x,
                y,
                z,
                radius.into(),
            ]);
        }
    }
    table
}

/// The ends of the blank as sawn with the corners between them, and the radius at each corner, in the axes of the tube.
fn corners(member: &Member, part: &Part) -> Vec<(DVec3, Option<f64>)> {
    let (path, index) = (&member.path, member.index);
    let beyond = [0, 1].map(|end: usize| part.ends[end].longest.s + member.leave_long[end]);
    let (first, last) = (path.first(), path.last());
    let origin = path.start() - first.direction * beyond[0];
    let side = index.cross(first.direction);
    let own = |at: DVec3| {
        let off = at - origin;
        DVec3::new(off.dot(first.direction), off.dot(side), off.dot(index))
    };
    let mut corners = vec![(DVec3::ZERO, None)];
    for (leg, arc) in path.legs.iter().zip(&path.arcs) {
        let beyond = arc.radius * libm::tan(arc.angle / 2.0);
        corners.push((own(leg.start + leg.direction * (leg.length + beyond)), Some(arc.radius)));
    }
    corners.push((own(path.end() + last.direction * beyond[1]), None));
    corners
}

#[cfg(test)]
mod tests {
    use crate::table::{Table, Value};
    use crate::{Facts, Subject};
    use matchmark_core::evaluate;
    use matchmark_core::geometry::DVec3;

    const DEMO: &str = include_str!("../../../../server/demo/rev_b.json");

    /// Bends in several planes, with a length left long at either end.
    const TURNED: &str = r#"{
        "format": "matchmark-design/1", "name": "Turned",
        "materials": {"steel": {"name": "S235", "density": 7850}},
        "sections": {"tube": {"round": {"od": 45, "wall": 2.5}, "material": "steel"}},
        "points": {},
        "members": [{"id": "hoop", "section": "tube", "radius": 150,
            "path": [[0, 0, 0], [0, 60, 400], [0, 300, 600], [150, 600, 600], [150, 800, 0], [400, 900, -300]],
            "ends": {"from": {"mitre": {"normal": [0.3, 0.2, -1]}}, "to": "square"}}]
    }"#;

    fn figure(table: &Table, row: usize, column: &str) -> f64 {
        let at = table.columns.iter().position(|known| known.heading() == column).unwrap();
        match &table.rows[row][at] {
            Value::Number(figure) => *figure,
            Value::Count(count) => *count as f64,
            other => panic!("{column}: {other:?}"),
        }
    }

    /// Feed, rotate and bend of a run of points: straights between tangent points, the signed turn between the planes of neighbouring
    /// bends, right-handed about the way of the straight between them, and the change of direction (vector algebra).
    fn turned_into_bends(points: &[(DVec3, f64)]) -> (Vec<[f64; 3]>, f64) {
        let way = |at: usize| (points[at + 1].0 - points[at].0).normalize();
        let mut bends: Vec<[f64; 3]> = Vec::new();
        let (mut taken, mut plane): (f64, Option<DVec3>) = (0.0, None);
        for corner in 1..points.len() - 1 {
            let (before, after) = (way(corner - 1), way(corner));
            let normal = before.cross(after).normalize();
            let angle = before.angle_between(after);
            let tangent = points[corner].1 * (angle / 2.0).tan();
            let feed = points[corner].0.distance(points[corner - 1].0) - taken - tangent;
            let rotate = plane.map_or(0.0, |plane| plane.cross(normal).dot(before).atan2(plane.dot(normal)));
            bends.push([feed, rotate.to_degrees(), angle.to_degrees()]);
            (taken, plane) = (tangent, Some(normal));
        }
        let last = points.len() - 1;
        (bends, points[last].0.distance(points[last - 1].0) - taken)
    }

    #[test]
    fn either_convention_of_bends_turns_into_the_other() {
        assert!(compared(DEMO) >= 2);
        assert_eq!(compared(TURNED), 1);
    }

    /// How many bent members of a document have the same bends in both tables.
    fn compared(document: &str) -> usize {
        let mut evaluation = evaluate(document);
        assert!(evaluation.sheets.is_some(), "{:?}", evaluation.findings);
        evaluation.number(None);
        let facts = Facts::default();
        let subject = Subject::of(&evaluation, &facts).unwrap();
        let (bends, points) = (super::table(&subject), super::points(&subject));
        let mut at = 0;
        let mut seen = 0;
        while at < points.rows.len() {
            let member = points.rows[at][0].clone();
            let end = (at..points.rows.len()).find(|&row| points.rows[row][0] != member).unwrap_or(points.rows.len());
            let run: Vec<(DVec3, f64)> = (at..end)
                .map(|row| {
                    let [x, y, z] = ["x_mm", "y_mm", "z_mm"].map(|column| figure(&points, row, column));
                    let radius = if row == at || row == end - 1 { 0.0 } else { figure(&points, row, "radius_mm") };
                    (DVec3::new(x, y, z), radius)
                })
                .collect();
            let (turned, last) = turned_into_bends(&run);
            let rows: Vec<usize> = (0..bends.rows.len()).filter(|&row| bends.rows[row][0] == member).collect();
            assert_eq!(rows.len(), turned.len(), "{member:?}");
            for (&row, [feed, rotate, bend]) in rows.iter().zip(turned) {
                for (column, value) in [("feed_mm", feed), ("bend_deg", bend)] {
                    assert!((figure(&bends, row, column) - value).abs() < 1e-4, "{member:?} {column}");
                }
                let apart = (figure(&bends, row, "rotate_deg") - rotate).rem_euclid(360.0);
                assert!(apart.min(360.0 - apart) < 1e-4, "{member:?} rotate {rotate}");
            }
            assert!((figure(&bends, rows[0], "last_straight_mm") - last).abs() < 1e-4, "{member:?}");
            seen += 1;
            at = end;
        }
        assert_eq!(seen, subject.sheets.bend_sheets.len());
        seen
    }
}
