//! From entities and inserted blocks to curves of the model, with what was left out and why.

use super::Fault;
use super::drawing::{Block, Drawing};
use super::entity::{Entity, Insert, Shape};
use crate::curve::Curve;
use crate::report::{Code, Notes};
use crate::words::dxf::{Counted, DxfFact, DxfFault, Place};
use glam::{DAffine3, dvec3};
use matchmark_core::{Stop, Stopped};
use std::collections::BTreeMap;

/// Deepest nesting of blocks.
const DEEPEST: usize = 16;
/// Most entities with all blocks written out.
const MOST_EXPANDED: usize = 100_000;

/// Kinds that draw no tube: notes, dimensions, hatches, endless and auxiliary lines.
const FOR_PEOPLE: [&str; 20] = [
    "TEXT",
    "MTEXT",
    "DIMENSION",
    "ARC_DIMENSION",
    "LARGE_RADIAL_DIMENSION",
    "LEADER",
    "MLEADER",
    "MULTILEADER",
    "TOLERANCE",
    "ATTDEF",
    "ATTRIB",
    "SEQEND",
    "VIEWPORT",
    "IMAGE",
    "WIPEOUT",
    "HATCH",
    "MPOLYGON",
    "POINT",
    "XLINE",
    "RAY",
];

struct Expansion<'a> {
    drawing: &'a Drawing,
    file: &'a str,
    counted: Counted,
    stop: Stop<'a>,
    notes: &'a mut Notes,
    curves: Vec<Curve>,
    expanded: usize,
    hidden: BTreeMap<String, usize>,
    open: Vec<&'a str>,
}

/// Where something is inserted.
#[derive(Clone, Copy)]
struct Placed<'a> {
    by: DAffine3,
    /// Layer that layer 0 stands for.
    layer: &'a str,
}

/// All curves of the model.
pub fn expand(
    drawing: &Drawing,
    file: &str,
    counted: Counted,
    stop: Stop<'_>,
    notes: &mut Notes,
) -> Result<Result<Vec<Curve>, Fault>, Stopped> {
    let mut expansion = Expansion {
        drawing,
        file,
        counted,
        stop,
        notes,
        curves: Vec::new(),
        expanded: 0,
        hidden: BTreeMap::new(),
        open: Vec::new(),
    };
    let model = Placed { by: DAffine3::IDENTITY, layer: "0" };
    let done = expansion.all(&drawing.entities, model);
    stop.check()?;
    expansion.report_left_out();
    let curves = expansion.curves;
    Ok(done.map(|()| curves))
}

impl<'a> Expansion<'a> {
    fn all(&mut self, entities: &'a [Entity], placed: Placed<'_>) -> Result<(), Fault> {
        entities.iter().try_for_each(|entity| self.one(entity, placed))
    }

    fn one(&mut self, entity: &'a Entity, placed: Placed<'_>) -> Result<(), Fault> {
        self.expanded += 1;
        if self.expanded > MOST_EXPANDED {
            return Err(Fault {
                code: Code::BlockNesting,
                line: entity.line,
                fact: DxfFault::TooManyWrittenOut { most: MOST_EXPANDED },
            });
        }
        if self.expanded.is_multiple_of(4096) && self.stop.asked() {
            return Ok(());
        }
        let layer = if entity.layer == "0" { placed.layer } else { entity.layer.as_str() };
        let hidden = self.drawing.hidden.get(&layer.to_lowercase());
        // What is inserted on a layer that is off stays to be seen on its own layers; on a frozen one it does not.
        let is_insert = matches!(entity.shape, Shape::Insert(_));
        if hidden.is_some_and(|&frozen| frozen || !is_insert) {
            *self.hidden.entry(layer.to_owned()).or_default() += 1;
            return Ok(());
        }
        let (file, counted, at) = (self.file, self.counted, entity.line);
        let place = Place::Entity { file, counted, at, kind: entity.kind, layer }.to_string();
        match &entity.shape {
            Shape::Pieces(pieces, closed) => {
                let curve = Curve { pieces: pieces.clone(), closed: *closed, layer: layer.to_owned(), place };
                match curve.moved(&placed.by) {
                    Some(curve) if !curve.pieces.is_empty() => self.curves.push(curve),
                    Some(curve) => self.notes.information(Code::NoLength, curve.place, DxfFact::NoLength),
                    None => self.notes.warning(Code::NotUnderstood, curve.place, DxfFact::ScaledUnequally),
                }
            }
            Shape::Freeform => self.notes.warning(Code::Freeform, place, DxfFact::Freeform),
            Shape::Ellipse => self.notes.warning(Code::NotUnderstood, place, DxfFact::Ellipse),
            Shape::Insert(insert) => self.insert(entity, insert, Placed { layer, ..placed }, place)?,
            Shape::Other(_) => {}
        }
        Ok(())
    }

    fn insert(&mut self, entity: &Entity, insert: &'a Insert, placed: Placed<'_>, place: String) -> Result<(), Fault> {
        let Some(block) = self.drawing.blocks.get(&insert.block) else {
            self.notes.warning(Code::MissingReference, place, DxfFact::BlockMissing { block: &insert.block });
            return Ok(());
        };
        if block.external {
            self.notes.warning(Code::MissingReference, place, DxfFact::BlockExternal { block: &insert.block });
            return Ok(());
        }
        let fault = |fact: DxfFault| Fault { code: Code::BlockNesting, line: entity.line, fact };
        if self.open.contains(&insert.block.as_str()) {
            return Err(fault(DxfFault::BlockInItself { block: insert.block.clone() }));
        }
        if self.open.len() >= DEEPEST {
            return Err(fault(DxfFault::BlocksTooDeep { deepest: DEEPEST }));
        }
        self.open.push(&insert.block);
        let done = self.rows(insert, block, placed);
        self.open.pop();
        done
    }

    fn rows(&mut self, insert: &'a Insert, block: &'a Block, placed: Placed<'_>) -> Result<(), Fault> {
        let (columns, across, rows, up) = insert.array;
        // An empty block repeated without end does nothing, yet takes its time.
        if block.entities.is_empty() {
            return Ok(());
        }
        let from_base = DAffine3::from_translation(-block.base);
        for row in 0..rows {
            for column in 0..columns {
                let step = insert.steps.transform_vector3(dvec3(f64::from(column) * across, f64::from(row) * up, 0.0));
                let by = placed.by * DAffine3::from_translation(step) * insert.places * from_base;
                self.all(&block.entities, Placed { by, ..placed })?;
            }
        }
        Ok(())
    }

    fn report_left_out(&mut self) {
        for (layer, count) in core::mem::take(&mut self.hidden) {
            self.notes.information(
                Code::NotDrawn,
                Place::Layer { file: self.file, layer: &layer }.to_string(),
                DxfFact::LayerHidden { count },
            );
        }
        if self.drawing.on_paper > 0 {
            let fact = DxfFact::OnPaper { count: self.drawing.on_paper };
            self.notes.information(Code::NotDrawn, self.file, fact);
        }
        for (kind, &(count, at)) in &self.drawing.others {
            let place = Place::FirstOfKind { file: self.file, counted: self.counted, at }.to_string();
            if FOR_PEOPLE.contains(&kind.as_str()) || kind == "SOLID" || kind == "TRACE" {
                self.notes.information(Code::NotDrawn, place, DxfFact::KindDrawsNoTube { count, kind });
            } else {
                self.notes.warning(Code::NotUnderstood, place, DxfFact::KindUnknown { count, kind });
            }
        }
    }
}
