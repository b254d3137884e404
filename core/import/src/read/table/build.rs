//! From tables to tubes: points and members, a row a tube, or a row a corner.

use super::columns::{Table, ask, is_coordinate, is_length};
use super::grid::{Grid, Row};
use super::meaning::Meaning;
use crate::answers::Size;
use crate::curve::Tube;
use crate::read::{Context, Drawn};
use crate::report::{Code, Notes};
use crate::unit::Unit;
use crate::words::table::{RowFact, TableFact};
use glam::{DVec3, dvec3};
use std::collections::{BTreeMap, BTreeSet};

/// Rows of one member as they are collected.
#[derive(Debug, Default)]
struct Rows {
    corners: Vec<(f64, DVec3, String, Option<f64>)>,
    section: String,
    material: String,
    size: Option<Size>,
    note: String,
    place: String,
}

struct Builder<'a> {
    /// mm of a length without a unit of its own; `None` where that is not known.
    unit: Option<f64>,
    points: BTreeMap<String, (DVec3, String)>,
    sizes: BTreeMap<String, Size>,
    tubes: Vec<Tube>,
    /// Place of each tube by name.
    by_name: BTreeMap<String, usize>,
    /// Names that two members have.
    twice: BTreeSet<String>,
    notes: &'a mut Notes,
}

/// Tubes of all tables together; `None` where there are no tables.
pub fn build(grids: &[Grid], context: &Context<'_>, notes: &mut Notes) -> Option<Drawn> {
    let mut tables = Vec::new();
    for grid in grids {
        match Table::find(grid, context.answers, notes) {
            Some(table) => tables.push(table),
            None => notes.information(Code::NoTable, grid.name.as_str(), TableFact::NoHeader),
        }
    }
    if tables.is_empty() {
        if !notes.has_errors() {
            ask(grids, notes);
        }
        return None;
    }
    let unit = settle_unit(&tables, context.answers.unit, notes);
    let own = |table: &Table<'_>| {
        table.columns.iter().find(|(meaning, _)| is_coordinate(**meaning)).map(|(_, column)| column.unit)
    };
    let lacks = tables
        .iter()
        .any(|table| table.columns.iter().any(|(meaning, column)| is_length(*meaning) && column.unit.is_none()));
    let source_mm = tables.iter().find_map(|table| own(table).map(|unit| unit.map(Unit::mm))).flatten().or(unit);
    let mut builder = Builder {
        unit,
        points: BTreeMap::new(),
        sizes: BTreeMap::new(),
        tubes: Vec::new(),
        by_name: BTreeMap::new(),
        twice: BTreeSet::new(),
        notes,
    };
    builder.all(&tables);
    let mm = if unit.is_none() && lacks { None } else { Some(1.0) };
    Some(Drawn { tubes: builder.tubes, mm, source_mm, ..Drawn::default() })
}

/// mm of lengths without a unit: the told one, that of the lines above, or the only one that columns state.
fn settle_unit(tables: &[Table<'_>], told: Option<Unit>, notes: &mut Notes) -> Option<f64> {
    if told.is_some() {
        return told.map(Unit::mm);
    }
    let above = tables.iter().find_map(|table| table.unit_above);
    let stated: Vec<Unit> = tables
        .iter()
        .flat_map(|table| {
            table.columns.iter().filter(|(meaning, _)| is_length(**meaning)).filter_map(|(_, column)| column.unit)
        })
        .collect();
    let only = stated.first().copied().filter(|first| stated.iter().all(|unit| unit == first));
    let unit = above.or(only)?;
    let sign = unit.sign();
    let fact = if above.is_some() {
        TableFact::UnitOfLinesAbove { unit: sign }
    } else {
        TableFact::UnitOfColumns { unit: sign }
    };
    notes.information(Code::UnitTaken, tables[0].grid.name.as_str(), fact);
    Some(unit.mm())
}

impl Builder<'_> {
    fn all(&mut self, tables: &[Table<'_>]) {
        use Meaning::{From, Member, Od, Path, Point, Section, To, Width, X, X1, X2, Y, Y1, Y2, Z, Z1, Z2};
        let is_in_space = |table: &Table<'_>| table.has(&[X, Y, Z]);
        let is_row_a_tube = |table: &Table<'_>| table.has(&[X1, Y1, Z1, X2, Y2, Z2]);
        let is_members = |table: &Table<'_>| table.has(&[From, To]) || table.has(&[Path]);
        for table in tables {
            let is_sizes = !is_members(table) && !is_row_a_tube(table) && !is_in_space(table) && !table.has(&[Point]);
            if is_in_space(table) && table.has(&[Point]) && !table.has(&[Member]) {
                table.rows.iter().for_each(|row| self.point(table, row));
            } else if is_sizes
                && table.has(&[Section])
                && (table.has(&[Od]) || table.has(&[Width]))
                && !table.has(&[Member])
            {
                table.rows.iter().for_each(|row| self.size_of_section(table, row));
            }
        }
        for table in tables {
            if is_row_a_tube(table) {
                table.rows.iter().for_each(|row| self.row_a_tube(table, row));
            } else if is_members(table) {
                table.rows.iter().for_each(|row| self.member(table, row));
            }
        }
        for table in tables {
            let has_corners = is_in_space(table) || table.has(&[Point]);
            if !is_row_a_tube(table) && !is_members(table) && table.has(&[Member]) && has_corners {
                self.corners(table);
            }
        }
        if self.tubes.is_empty() && !self.notes.has_errors() {
            let names: Vec<&str> = tables.iter().map(|table| table.grid.name.as_str()).collect();
            self.notes.error(Code::NoTable, names.join("; "), TableFact::NoTubes);
        }
    }

    /// A length of a row in mm.
    fn length(&mut self, table: &Table<'_>, row: &Row, meaning: Meaning) -> Option<f64> {
        let mm = table.columns.get(&meaning)?.unit.map(Unit::mm).or(self.unit).unwrap_or(1.0);
        table.number(row, meaning, self.notes).map(|number| number * mm)
    }

    fn place(&mut self, table: &Table<'_>, row: &Row, axes: [Meaning; 3]) -> Option<DVec3> {
        let mut read = |axis: Meaning| {
            let mm = table.columns.get(&axis)?.unit.map(Unit::mm).or(self.unit).unwrap_or(1.0);
            table.needed(row, axis, self.notes).map(|number| number * mm)
        };
        let [x, y, z] = axes.map(&mut read);
        Some(dvec3(x?, y?, z?))
    }

    fn point(&mut self, table: &Table<'_>, row: &Row) {
        let name = table.text(row, Meaning::Point);
        if name.is_empty() {
            self.bad(table, row, RowFact::PointWithoutName);
            return;
        }
        let Some(place) = self.place(table, row, [Meaning::X, Meaning::Y, Meaning::Z]) else { return };
        match self.points.get(&name) {
            Some((other, _)) if other.distance(place) > 1e-9 => {
                self.bad(table, row, RowFact::PointTwice { point: &name });
            }
            Some(_) => {}
            None => {
                self.points.insert(name, (place, table.place(row)));
            }
        }
    }

    fn bad(&mut self, table: &Table<'_>, row: &Row, fact: RowFact<'_>) {
        self.notes.error(Code::BadRow, table.place(row), fact);
    }

    fn size_of_section(&mut self, table: &Table<'_>, row: &Row) {
        let name = table.text(row, Meaning::Section);
        if let (false, Some(size)) = (name.is_empty(), self.size(table, row)) {
            self.sizes.insert(name.to_lowercase(), size);
        }
    }

    fn size(&mut self, table: &Table<'_>, row: &Row) -> Option<Size> {
        let wall = self.length(table, row, Meaning::Wall);
        let od = self.length(table, row, Meaning::Od);
        if let (Some(od), Some(wall)) = (od, wall) {
            return Some(Size::Round { od, wall });
        }
        let (width, height) = (self.length(table, row, Meaning::Width), self.length(table, row, Meaning::Height));
        let corner = self.length(table, row, Meaning::Corner);
        let (width, height, wall) = (width?, height?, wall?);
        let corner = corner.unwrap_or_else(|| {
            let taken = 2.0 * wall;
            self.notes.warning(Code::CornerTaken, table.place(row), RowFact::CornerTaken { taken });
            taken
        });
        Some(Size::Rect { width, height, wall, corner })
    }

    fn push(&mut self, table: &Table<'_>, row: &Row, points: Vec<(DVec3, String)>, radius: Option<f64>) {
        let name = table.text(row, Meaning::Member);
        if !name.is_empty() && self.by_name.contains_key(&name) {
            self.notes.warning(Code::NameTwice, table.place(row), RowFact::MemberTwice { member: &name });
            self.twice.insert(name.clone());
        }
        let section = table.text(row, Meaning::Section);
        let size = self.size(table, row).or_else(|| self.sizes.get(&section.to_lowercase()).copied());
        let (points, point_names): (Vec<_>, Vec<_>) = points.into_iter().unzip();
        let material = Some(table.text(row, Meaning::Material)).filter(|material| !material.is_empty());
        let radii = vec![radius; points.len().saturating_sub(2)];
        if !name.is_empty() {
            self.by_name.insert(name.clone(), self.tubes.len());
        }
        let (note, place) = (table.text(row, Meaning::Note), table.place(row));
        let height = None;
        self.tubes.push(Tube { name, layer: section, size, material, points, point_names, radii, height, note, place });
    }

    fn row_a_tube(&mut self, table: &Table<'_>, row: &Row) {
        let from = self.place(table, row, [Meaning::X1, Meaning::Y1, Meaning::Z1]);
        let to = self.place(table, row, [Meaning::X2, Meaning::Y2, Meaning::Z2]);
        if let (Some(from), Some(to)) = (from, to) {
            self.push(table, row, vec![(from, String::new()), (to, String::new())], None);
        }
    }

    fn member(&mut self, table: &Table<'_>, row: &Row) {
        let path = table.text(row, Meaning::Path);
        let names = if path.is_empty() {
            vec![table.text(row, Meaning::From), table.text(row, Meaning::To)]
        } else {
            self.names(&path)
        };
        let known: Option<Vec<(DVec3, String)>> =
            names.iter().map(|name| Some((self.points.get(name)?.0, name.clone()))).collect();
        match known {
            Some(points) if points.len() >= 2 => {
                let radius = self.length(table, row, Meaning::Radius);
                self.push(table, row, points, radius);
            }
            _ => {
                let unknown = names.iter().find(|name| !self.points.contains_key(*name));
                let fact = match unknown.map(String::as_str) {
                    Some("") => RowFact::PointOfMemberMissing,
                    Some(point) => RowFact::PointOfMemberNotKnown { point },
                    None => RowFact::TooFewPoints,
                };
                self.bad(table, row, fact);
            }
        }
    }

    /// Names of points in one cell, divided by blanks, commas, arrows, or by lines that are not part of names.
    fn names(&self, path: &str) -> Vec<String> {
        let divided = |signs: &[char]| -> Vec<String> {
            let parts = path.split(|letter: char| letter.is_whitespace() || signs.contains(&letter));
            parts
                .map(|part| part.trim().to_owned())
                .filter(|part| !part.is_empty() && !part.chars().all(|letter| "-–—>→".contains(letter)))
                .collect()
        };
        let plain = divided(&[',', ';', '>', '→', '|', '/']);
        if plain.iter().all(|name| self.points.contains_key(name)) {
            return plain;
        }
        let finer = divided(&[',', ';', '>', '→', '|', '/', '-', '–', '—']);
        if finer.iter().all(|name| self.points.contains_key(name)) { finer } else { plain }
    }

    /// A table with a row a corner: whole tubes, or the corners of members of another table.
    fn corners(&mut self, table: &Table<'_>) {
        let (mut all, mut order): (BTreeMap<String, Rows>, Vec<String>) = (BTreeMap::new(), Vec::new());
        let mut current = String::new();
        for &row in &table.rows {
            let name = table.text(row, Meaning::Member);
            if !name.is_empty() {
                current = name;
            }
            if current.is_empty() {
                self.bad(table, row, RowFact::BeforeMembers);
                continue;
            }
            let Some((place, point)) = self.corner(table, row) else { continue };
            if !all.contains_key(&current) {
                order.push(current.clone());
            }
            let size = self.size(table, row);
            let (radius, at) =
                (self.length(table, row, Meaning::Radius), table.number(row, Meaning::Order, self.notes));
            let rows = all.entry(current.clone()).or_default();
            #[expect(clippy::cast_precision_loss, reason = "rows of one member")]
            let at = at.unwrap_or(rows.corners.len() as f64);
            rows.corners.push((at, place, point, radius.filter(|radius| *radius > 0.0)));
            rows.size = rows.size.or(size);
            let texts = [
                (&mut rows.section, Meaning::Section),
                (&mut rows.material, Meaning::Material),
                (&mut rows.note, Meaning::Note),
            ];
            for (own, meaning) in texts {
                if own.is_empty() {
                    *own = table.text(row, meaning);
                }
            }
            if rows.place.is_empty() {
                rows.place = table.place(row);
            }
        }
        for name in order {
            if let Some(rows) = all.remove(&name) {
                self.tube_of_corners(name, rows);
            }
        }
    }

    fn corner(&mut self, table: &Table<'_>, row: &Row) -> Option<(DVec3, String)> {
        if table.has(&[Meaning::X, Meaning::Y, Meaning::Z]) {
            let place = self.place(table, row, [Meaning::X, Meaning::Y, Meaning::Z])?;
            return Some((place, table.text(row, Meaning::Point)));
        }
        let name = table.text(row, Meaning::Point);
        let place = self.points.get(&name).map(|(place, _)| *place);
        if place.is_none() {
            self.bad(table, row, RowFact::PointNotKnown { point: &name });
        }
        Some((place?, name))
    }

    fn tube_of_corners(&mut self, name: String, mut rows: Rows) {
        rows.corners.sort_by(|a, b| a.0.total_cmp(&b.0));
        if self.twice.contains(&name) {
            self.notes.error(Code::BadRow, rows.place, RowFact::BendsOfTwoMembers { member: &name });
            return;
        }
        if let Some(&index) = self.by_name.get(&name) {
            let tube = &mut self.tubes[index];
            let [from, .., to] = tube.points[..] else { return };
            // A list of corners may repeat the ends.
            rows.corners.retain(|corner| corner.1.distance(from) > 1e-6 && corner.1.distance(to) > 1e-6);
            let ends = [tube.point_names[0].clone(), tube.point_names[tube.point_names.len() - 1].clone()];
            let told = tube.radii.first().copied().flatten();
            if tube.note.is_empty() {
                tube.note = rows.note;
            }
            let corners = rows.corners;
            tube.radii = corners.iter().map(|corner| corner.3.or(told)).collect();
            let names = corners.iter().map(|corner| corner.2.clone());
            tube.point_names = core::iter::once(ends[0].clone()).chain(names).chain([ends[1].clone()]).collect();
            tube.points = core::iter::once(from).chain(corners.iter().map(|corner| corner.1)).chain([to]).collect();
            return;
        }
        if rows.corners.len() < 2 {
            self.notes.error(Code::BadRow, rows.place, RowFact::OnePoint { member: &name });
            return;
        }
        let inner = 1..rows.corners.len() - 1;
        let size = rows.size.or_else(|| self.sizes.get(&rows.section.to_lowercase()).copied());
        self.by_name.insert(name.clone(), self.tubes.len());
        self.tubes.push(Tube {
            name,
            layer: rows.section,
            size,
            material: Some(rows.material).filter(|material| !material.is_empty()),
            radii: rows.corners[inner].iter().map(|corner| corner.3).collect(),
            points: rows.corners.iter().map(|corner| corner.1).collect(),
            point_names: rows.corners.into_iter().map(|corner| corner.2).collect(),
            height: None,
            note: rows.note,
            place: rows.place,
        });
    }
}
