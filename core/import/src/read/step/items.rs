//! The items of a representation: solids, curves and shapes placed in shapes.

use super::assembly::{DEEPEST, MOST_PLACED, Placed, Reader};
use super::end::Known;
use super::placement::{operator, placement};
use super::record::Record;
use super::round::Found;
use super::wire::{NoCurve, Wires};
use super::{rect, round, shell};
use crate::curve::{Curve, Piece, Tube};
use crate::read::MOST_CURVES;
use crate::report::Code;
use crate::words::step::{NoTube, Place, StepFact, TubeEnd};
use matchmark_core::Stopped;
use std::collections::BTreeSet;

impl Reader<'_> {
    /// Reads all items of a representation.
    pub fn representation(&mut self, id: u64, placed: &Placed) -> Result<(), Stopped> {
        self.done.insert(id);
        let Some(record) = self.exchange.record(id) else {
            let place = Place::Representation { file: &self.file.name, id }.to_string();
            self.notes.warning(Code::MissingReference, place, StepFact::ShapeMissing);
            return Ok(());
        };
        let units = self.units_of(id);
        let Some(mm) = self.mm(id) else {
            self.drawn.mm = None;
            return Ok(());
        };
        for item in record.value(1).references() {
            self.context.stop.check()?;
            let left = self.left.get().saturating_sub(1);
            self.left.set(left);
            if left == 0 || self.drawn.curves.len() + self.drawn.tubes.len() > MOST_CURVES {
                let place = self.place(id, record.name());
                if !self.notes.has_errors() {
                    self.notes.error(Code::TooLarge, place, StepFact::TooManyCurves { most: MOST_CURVES });
                }
                return Ok(());
            }
            self.item(item, Wires { exchange: self.exchange, units, mm, left: self.left }, placed)?;
        }
        Ok(())
    }

    fn item(&mut self, id: u64, wires: Wires<'_>, placed: &Placed) -> Result<(), Stopped> {
        let Some(record) = self.exchange.record(id) else {
            let place = Place::Item { file: &self.file.name, id }.to_string();
            self.notes.warning(Code::MissingReference, place, StepFact::ItemMissing);
            return Ok(());
        };
        match record.name() {
            "AXIS2_PLACEMENT_3D" | "CARTESIAN_POINT" | "VERTEX_POINT" | "DIRECTION" => {}
            "MANIFOLD_SOLID_BREP" | "BREP_WITH_VOIDS" | "FACETED_BREP" | "CLOSED_SHELL" | "OPEN_SHELL" => {
                self.solid(id, &record, &wires, placed);
            }
            "SHELL_BASED_SURFACE_MODEL" => {
                for shell in record.value(1).references() {
                    if let Some(record) = self.exchange.record(shell) {
                        self.solid(shell, &record, &wires, placed);
                    }
                }
            }
            "GEOMETRIC_CURVE_SET" | "GEOMETRIC_SET" => {
                for element in record.value(1).references() {
                    self.curve(element, &record, &wires, placed);
                }
            }
            "EDGE_BASED_WIREFRAME_MODEL" | "SHELL_BASED_WIREFRAME_MODEL" => self.edges(&record, &wires, placed),
            "MAPPED_ITEM" => self.mapped_item(id, &record, wires, placed)?,
            _ => self.curve(id, &Record::default(), &wires, placed),
        }
        Ok(())
    }

    fn mapped_item(&mut self, id: u64, record: &Record, wires: Wires<'_>, placed: &Placed) -> Result<(), Stopped> {
        let Some(map) = self.exchange.of(record.value(1)) else { return Ok(()) };
        let Some(source) = map.reference(1) else { return Ok(()) };
        self.placed += 1;
        if self.open.contains(&source) || self.open.len() >= DEEPEST || self.placed > MOST_PLACED {
            if !self.notes.has_errors() {
                let place = self.place(id, "MAPPED_ITEM");
                self.notes.error(Code::PartNesting, place, StepFact::ShapeNesting);
            }
            return Ok(());
        }
        let by = (|| {
            let from = placement(self.exchange, map.value(0), self.mm(source)?)?;
            let target = self.exchange.of(record.value(2))?;
            let to = if target.name().starts_with("CARTESIAN_TRANSFORMATION_OPERATOR") {
                operator(self.exchange, &target, wires.mm)?
            } else {
                placement(self.exchange, record.value(2), wires.mm)?
            };
            Some(to * from.inverse())
        })();
        let Some(by) = by else {
            let place = self.place(id, "MAPPED_ITEM");
            self.notes.warning(Code::NoPlacement, place, StepFact::ShapeNotPlaced);
            return Ok(());
        };
        self.open.push(source);
        self.representation(source, &Placed { by: placed.by * by, product: placed.product.clone() })?;
        self.open.pop();
        Ok(())
    }

    fn solid(&mut self, id: u64, record: &Record, wires: &Wires<'_>, placed: &Placed) {
        let found = self.read.entry(id).or_insert_with(|| {
            let shell =
                if record.name().ends_with("SHELL") { Some(record.clone()) } else { self.exchange.of(record.value(1)) };
            let shell = shell.ok_or(NoTube::ShellMissing)?;
            let faces = shell::faces(wires, &shell)?;
            if let Some(found) = rect::find(&faces) {
                return Ok(found);
            }
            round::find(&faces)
        });
        let name = [record.value(0).text(), &placed.product]
            .into_iter()
            .rfind(|name| !name.trim().is_empty())
            .map_or_else(String::new, crate::read::name_of);
        let place = Place::Solid { file: &self.file.name, id, kind: record.name(), name: &name }.to_string();
        match found.clone() {
            Err(why) => {
                let fact = StepFact::SolidNotATube { name: &name, why: &why };
                self.notes.warning(Code::SolidNotATube, place, fact);
            }
            Ok(found) => self.tube(id, found, name, place, placed),
        }
    }

    fn tube(&mut self, id: u64, found: Found, name: String, place: String, placed: &Placed) {
        for (end, known) in [TubeEnd::First, TubeEnd::Last].into_iter().zip(found.ends) {
            let fact = match known {
                Known::Flat => continue,
                Known::Coped => StepFact::EndCoped { end, name: &name },
                Known::Other => StepFact::EndOfOtherShape { end, name: &name },
            };
            self.notes.warning(Code::EndNotKnown, place.clone(), fact);
        }
        for &diameter in &found.holes {
            let fact = StepFact::HoleNotRead { name: &name, diameter };
            self.notes.warning(Code::HoleNotRead, place.clone(), fact);
        }
        let scale = placed.by.matrix3.x_axis.length();
        let size = if (scale - 1.0).abs() > 1e-9 { found.size.scaled(scale) } else { found.size };
        let tube = Tube {
            name,
            layer: self.layers.get(&id).cloned().unwrap_or_default(),
            size: Some(size),
            points: found.points,
            radii: found.radii,
            height: found.height,
            place,
            ..Tube::default()
        };
        self.drawn.tubes.push(tube.moved(&placed.by, scale));
    }

    fn curve(&mut self, id: u64, set: &Record, wires: &Wires<'_>, placed: &Placed) {
        let Some(record) = self.exchange.record(id) else {
            let place = Place::Curve { file: &self.file.name, id }.to_string();
            self.notes.warning(Code::MissingReference, place, StepFact::CurveMissing);
            return;
        };
        if matches!(record.name(), "CARTESIAN_POINT" | "AXIS2_PLACEMENT_3D") {
            return;
        }
        let place = self.place(id, record.name());
        let pieces = wires.pieces(&record);
        match pieces {
            Ok(pieces) => {
                let layer = self.layer(id, [record.value(0).text(), set.value(0).text()], placed);
                self.push(pieces, layer, place, placed);
            }
            Err(why) => self.no_curve(why, place, record.name()),
        }
    }

    /// The name that says which section a curve is: one that was answered, or else the first there is. Where everything was answered to
    /// be one section, names of products and curves say nothing, and pieces of one tube may have different ones.
    fn layer(&self, id: u64, names: [&str; 2], placed: &Placed) -> String {
        let layer = self.layers.get(&id).map_or("", String::as_str);
        let all = [names[0], layer, names[1], placed.product.as_str()];
        let answered = self.context.answers.sections.iter().flatten().find(|(name, _)| all.contains(&name.as_str()));
        let is_one = self.context.answers.sections.as_ref().is_some_and(|sections| sections.contains_key("*"));
        let names = if is_one { &all[1..2] } else { &all[..] };
        let any = names.iter().map(|name| name.trim()).find(|name| !name.is_empty() && *name != "NONE");
        answered.map_or_else(|| crate::read::name_of(any.unwrap_or_default()), |(name, _)| name.clone())
    }

    fn push(&mut self, pieces: Vec<Piece>, layer: String, place: String, placed: &Placed) {
        let closed = crate::read::dxf::closes(&pieces);
        let curve = Curve { pieces, closed, layer, place };
        match curve.moved(&placed.by) {
            Some(curve) if curve.pieces.is_empty() => {
                self.notes.information(Code::NoLength, curve.place, StepFact::NoLength);
            }
            Some(curve) => self.drawn.curves.push(curve),
            None => self.notes.warning(Code::NotUnderstood, curve.place, StepFact::ArcStretched),
        }
    }

    fn no_curve(&mut self, why: NoCurve, place: String, kind: &str) {
        match why {
            NoCurve::Freeform => self.notes.warning(Code::Freeform, place, StepFact::Freeform),
            NoCurve::Missing => self.notes.warning(Code::MissingReference, place, StepFact::CurveIncomplete),
            NoCurve::Unknown => self.notes.warning(Code::NotUnderstood, place, StepFact::UnknownKind { kind }),
        }
    }

    /// Edges of a wireframe model, each once.
    fn edges(&mut self, model: &Record, wires: &Wires<'_>, placed: &Placed) {
        let mut looked_at = BTreeSet::new();
        let mut todo: Vec<u64> = model.value(1).references();
        while let Some(id) = todo.pop() {
            if !looked_at.insert(id) || looked_at.len() > MOST_CURVES {
                continue;
            }
            let Some(record) = self.exchange.record(id) else { continue };
            match record.name() {
                "EDGE_CURVE" => {
                    let place = self.place(id, "EDGE_CURVE");
                    match wires.edge(&record) {
                        Ok(pieces) => {
                            let layer = self.layer(id, [record.value(0).text(), model.value(0).text()], placed);
                            self.push(pieces, layer, place, placed);
                        }
                        Err(why) => self.no_curve(why, place, "EDGE_CURVE"),
                    }
                }
                "ORIENTED_EDGE" => todo.extend(record.reference(3)),
                _ => todo.extend(
                    record.values().iter().flat_map(|value| value.references().into_iter().chain(value.reference())),
                ),
            }
        }
    }
}
