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
use matchmark_core::Stopped;
use std::collections::BTreeSet;

impl Reader<'_> {
    /// Reads all items of a representation.
    pub fn representation(&mut self, id: u64, placed: &Placed) -> Result<(), Stopped> {
        self.done.insert(id);
        let Some(record) = self.exchange.record(id) else {
            let place = self.place(id, "representation");
            self.notes.warning(
                Code::MissingReference,
                place,
                "A shape is referred to that is not in the file. Export it anew.",
            );
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
                    let message = format!(
                        "The file has more than {MOST_CURVES} curves, or repeats them without end. Export only the frame."
                    );
                    self.notes.error(Code::TooLarge, place, message);
                }
                return Ok(());
            }
            self.item(item, Wires { exchange: self.exchange, units, mm, left: self.left }, placed)?;
        }
        Ok(())
    }

    fn item(&mut self, id: u64, wires: Wires<'_>, placed: &Placed) -> Result<(), Stopped> {
        let Some(record) = self.exchange.record(id) else {
            let place = self.place(id, "item");
            self.notes.warning(
                Code::MissingReference,
                place,
                "An item is referred to that is not in the file or cannot be read. Export it anew.",
            );
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
                self.notes.error(
                    Code::PartNesting,
                    place,
                    "A shape contains itself or too much. Export only the frame.",
                );
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
            self.notes.warning(
                Code::NoPlacement,
                place,
                "Where this shape is placed is not understood, so it was left out.",
            );
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
            let shell = shell.ok_or("its shell is missing")?;
            let faces = shell::faces(wires, &shell)?;
            if let Some(found) = rect::find(&faces) {
                return Ok(found);
            }
            round::find(&faces).map_err(str::to_owned)
        });
        let name = [record.value(0).text(), &placed.product]
            .into_iter()
            .rfind(|name| !name.trim().is_empty())
            .map_or_else(String::new, |name| crate::read::name_of(name));
        let place = format!("{}, #{id} {} `{name}`", self.file.name, record.name());
        match found.clone() {
            Err(why) => {
                let message = format!("`{name}` is not understood as a tube: {why}. It was left out.");
                self.notes.warning(Code::SolidNotATube, place, message);
            }
            Ok(found) => self.tube(id, found, name, place, placed),
        }
    }

    fn tube(&mut self, id: u64, found: Found, name: String, place: String, placed: &Placed) {
        for (end, known) in ["first", "last"].into_iter().zip(found.ends) {
            let what = match known {
                Known::Flat => continue,
                Known::Coped => {
                    "coped. Where its centreline ends is not in the file; it was taken to the axis of what it is coped to"
                }
                Known::Other => {
                    "of another shape than flat or coped to a straight tube. Its centreline was taken as far as its wall goes"
                }
            };
            self.notes.warning(
                Code::EndNotKnown,
                place.clone(),
                format!("The {end} end of `{name}` is {what}. Check its length."),
            );
        }
        for diameter in &found.holes {
            let message =
                format!("`{name}` has a hole of {diameter:.2} mm, which was not taken over. Add it to the design.");
            self.notes.warning(Code::HoleNotRead, place.clone(), message);
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
            let place = self.place(id, "curve");
            self.notes.warning(
                Code::MissingReference,
                place,
                "A curve is referred to that is not in the file or cannot be read. Export it anew.",
            );
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
                self.notes.information(Code::NoLength, curve.place, "This curve has no length and was left out.");
            }
            Some(curve) => self.drawn.curves.push(curve),
            None => self.notes.warning(
                Code::NotUnderstood,
                curve.place,
                "A placement stretches this arc to an ellipse; it was left out.",
            ),
        }
    }

    fn no_curve(&mut self, why: NoCurve, place: String, kind: &str) {
        match why {
            NoCurve::Freeform => self.notes.warning(
                Code::Freeform,
                place,
                "This curve is neither straight nor an arc, so no tube was made of it. Draw it as lines and arcs.",
            ),
            NoCurve::Missing => self.notes.warning(
                Code::MissingReference,
                place,
                "What this curve is made of is missing or cannot be read, so it was left out. Export it anew.",
            ),
            NoCurve::Unknown => self.notes.warning(
                Code::NotUnderstood,
                place,
                format!("A {kind} is not understood here and was left out. Export tubes as solids, or their centrelines as trimmed lines and arcs."),
            ),
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
