//! Products, their parts and where these are placed, ISO 10303-43 and -44.

use super::context::{Units, units};
use super::placement::{operator, placement};
use super::record::{Exchange, Value};
use super::round::Found;
use crate::read::{Context, Drawn, SourceFile};
use crate::report::{Code, Notes};
use crate::words::step::{NoTube, Place, StepFact};
use glam::DAffine3;
use matchmark_core::Stopped;
use std::cell::Cell;
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

/// Deepest nesting of parts in assemblies.
pub const DEEPEST: usize = 32;
/// Most parts with all assemblies written out.
pub const MOST_PLACED: usize = 20_000;
/// Most items, curves and segments of curves that are looked at.
pub const MOST_LOOKED_AT: usize = 2_000_000;

/// A part placed in an assembly.
struct Child {
    definition: u64,
    /// `None` where its placement is missing or not understood.
    by: Option<DAffine3>,
    usage: u64,
}

/// Where something is placed, and the name of the product.
#[derive(Clone)]
pub struct Placed {
    pub by: DAffine3,
    pub product: String,
}

/// Walks the products of a file.
pub struct Reader<'a> {
    pub exchange: &'a Exchange<'a>,
    pub file: &'a SourceFile,
    pub context: &'a Context<'a>,
    pub notes: &'a mut Notes,
    pub drawn: Drawn,
    /// Representations of each product definition.
    shapes: BTreeMap<u64, Vec<u64>>,
    /// Representations that belong to each other without a placement.
    linked: BTreeMap<u64, Vec<u64>>,
    children: BTreeMap<u64, Vec<Child>>,
    pub layers: BTreeMap<u64, String>,
    units: BTreeMap<Option<u64>, Units>,
    pub read: BTreeMap<u64, Result<Found, NoTube>>,
    pub open: Vec<u64>,
    pub placed: usize,
    pub left: &'a Cell<usize>,
    items: BTreeMap<u64, Rc<BTreeSet<u64>>>,
    pub done: BTreeSet<u64>,
}

impl<'a> Reader<'a> {
    /// `left` is how many more records this file may have looked at.
    pub fn new(
        exchange: &'a Exchange<'a>,
        left: &'a Cell<usize>,
        file: &'a SourceFile,
        context: &'a Context<'a>,
        notes: &'a mut Notes,
    ) -> Self {
        Self {
            exchange,
            file,
            context,
            notes,
            drawn: Drawn { mm: Some(1.0), ..Drawn::default() },
            shapes: BTreeMap::new(),
            linked: BTreeMap::new(),
            children: BTreeMap::new(),
            layers: BTreeMap::new(),
            units: BTreeMap::new(),
            read: BTreeMap::new(),
            open: Vec::new(),
            placed: 0,
            left,
            items: BTreeMap::new(),
            done: BTreeSet::new(),
        }
    }

    pub fn into_drawn(self) -> Drawn {
        self.drawn
    }

    /// Reads every product that is part of no other, with all that it is made of.
    pub fn read(&mut self) -> Result<(), Stopped> {
        self.find_shapes();
        self.find_layers();
        let used = self.find_children();
        let roots: Vec<u64> = self
            .shapes
            .keys()
            .chain(self.children.keys())
            .copied()
            .collect::<BTreeSet<u64>>()
            .difference(&used)
            .copied()
            .collect();
        let whole = Placed { by: DAffine3::IDENTITY, product: String::new() };
        for root in roots {
            self.definition(root, &whole)?;
        }
        // What belongs to no product is read in its own axes.
        let loose: Vec<u64> = self.representations().filter(|id| !self.done.contains(id)).collect();
        let mapped = self.mapped();
        for id in loose {
            if !mapped.contains(&id) && !self.done.contains(&id) {
                self.representation(id, &whole)?;
            }
        }
        Ok(())
    }

    fn representations(&self) -> impl Iterator<Item = u64> + use<'a> {
        let exchange = self.exchange;
        let is_shape = |name: &[u8]| name.ends_with(b"SHAPE_REPRESENTATION") && !name.starts_with(b"CONTEXT_DEPENDENT");
        exchange
            .names()
            .filter(move |(name, _)| is_shape(name))
            .flat_map(move |(name, _)| exchange.all(str::from_utf8(name).unwrap_or_default()).to_vec())
    }

    /// Representations that are only there to be placed in others.
    fn mapped(&self) -> BTreeSet<u64> {
        let maps = self.exchange.all("REPRESENTATION_MAP").iter();
        maps.filter_map(|id| self.exchange.record(*id)?.reference(1)).collect()
    }

    fn find_shapes(&mut self) {
        for id in self.exchange.all("SHAPE_DEFINITION_REPRESENTATION") {
            let Some(record) = self.exchange.record(*id) else { continue };
            let (Some(shape), Some(representation)) = (self.exchange.of(record.value(0)), record.reference(1)) else {
                continue;
            };
            // Name, description, and the product definition that it is the shape of.
            if let Some(definition) = shape.reference(2) {
                self.shapes.entry(definition).or_default().push(representation);
            }
        }
        for id in self.exchange.all("SHAPE_REPRESENTATION_RELATIONSHIP") {
            let Some(record) = self.exchange.record(*id) else { continue };
            if record.is("REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION") {
                continue;
            }
            let ends = if record.is("REPRESENTATION_RELATIONSHIP") {
                record.part("REPRESENTATION_RELATIONSHIP")
            } else {
                record.values()
            };
            if let (Some(one), Some(other)) =
                (ends.get(2).and_then(Value::reference), ends.get(3).and_then(Value::reference))
            {
                self.linked.entry(one).or_default().push(other);
                self.linked.entry(other).or_default().push(one);
            }
        }
    }

    fn find_layers(&mut self) {
        for id in self.exchange.all("PRESENTATION_LAYER_ASSIGNMENT") {
            let Some(record) = self.exchange.record(*id) else { continue };
            for item in record.value(2).references() {
                self.layers.insert(item, crate::read::name_of(record.value(0).text()));
            }
        }
    }

    /// Parts of assemblies with their placements. Returns the definitions that are parts of others.
    fn find_children(&mut self) -> BTreeSet<u64> {
        let mut placements: BTreeMap<u64, Vec<u64>> = BTreeMap::new();
        for id in self.exchange.all("CONTEXT_DEPENDENT_SHAPE_REPRESENTATION") {
            let Some(record) = self.exchange.record(*id) else { continue };
            let usage = self.exchange.of(record.value(1)).and_then(|shape| shape.reference(2));
            if let (Some(relationship), Some(usage)) = (record.reference(0), usage) {
                placements.entry(usage).or_default().push(relationship);
            }
        }
        let mut used = BTreeSet::new();
        for &usage in self.exchange.all("NEXT_ASSEMBLY_USAGE_OCCURRENCE") {
            let Some(record) = self.exchange.record(usage) else { continue };
            let (Some(parent), Some(definition)) = (record.reference(3), record.reference(4)) else { continue };
            used.insert(definition);
            let relationship = placements.get(&usage).and_then(|all| all.first());
            let by = relationship.and_then(|id| self.placement(*id, parent, definition));
            self.children.entry(parent).or_default().push(Child { definition, by, usage });
        }
        used
    }

    fn shapes_of(&self, definition: u64) -> BTreeSet<u64> {
        let own = self.shapes.get(&definition).into_iter().flatten();
        own.flat_map(|id| core::iter::once(*id).chain(self.linked.get(id).into_iter().flatten().copied())).collect()
    }

    /// From a part's axes to its assembly's.
    fn placement(&mut self, relationship: u64, parent: u64, part: u64) -> Option<DAffine3> {
        let record = self.exchange.record(relationship)?;
        let ends = record.part("REPRESENTATION_RELATIONSHIP");
        let (first, second) = (ends.get(2)?.reference()?, ends.get(3)?.reference()?);
        let transformation = record.part("REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION").first()?;
        let (of_part, of_parent) = (self.shapes_of(part), self.shapes_of(parent));
        // The part comes first after the standard; some write it second.
        let part_first = of_part.contains(&first) || !(of_part.contains(&second) && of_parent.contains(&first));
        let (own, outer) = if part_first { (first, second) } else { (second, first) };
        let by = self.exchange.of(transformation)?;
        if by.name() == "ITEM_DEFINED_TRANSFORMATION" {
            let (one, two) = (by.reference(2)?, by.reference(3)?);
            let (items_own, items_outer) = (self.items(own), self.items(outer));
            let lies = |part: u64, parent: u64| items_own.contains(&part) && items_outer.contains(&parent);
            // An item that both representations hold says nothing, so the other item decides.
            let by_order = if part_first { (one, two) } else { (two, one) };
            let swapped = (by_order.1, by_order.0);
            let (from, to) =
                if !lies(by_order.0, by_order.1) && lies(swapped.0, swapped.1) { swapped } else { by_order };
            let from = placement(self.exchange, &Value::Reference(from), self.mm(own)?)?;
            let to = placement(self.exchange, &Value::Reference(to), self.mm(outer)?)?;
            Some(to * from.inverse())
        } else if by.name().starts_with("CARTESIAN_TRANSFORMATION_OPERATOR") {
            let operator = operator(self.exchange, &by, self.mm(outer)?)?;
            Some(if part_first { operator } else { operator.inverse() })
        } else {
            None
        }
    }

    fn items(&mut self, representation: u64) -> Rc<BTreeSet<u64>> {
        let all = || self.exchange.record(representation).map(|record| record.value(1).references());
        let known = self.items.entry(representation);
        Rc::clone(known.or_insert_with(|| Rc::new(all().unwrap_or_default().into_iter().collect())))
    }

    pub fn units_of(&mut self, representation: u64) -> Units {
        let context = self.exchange.record(representation).and_then(|record| record.reference(2));
        *self.units.entry(context).or_insert_with(|| units(self.exchange, context))
    }

    /// mm in the unit of length of a representation: the told one, or its own.
    pub fn mm(&mut self, representation: u64) -> Option<f64> {
        let own = self.units_of(representation).mm;
        let mm = self.context.answers.unit.map(crate::unit::Unit::mm).or(own);
        self.drawn.source_mm = self.drawn.source_mm.or(mm);
        mm
    }

    pub fn place(&self, id: u64, kind: &str) -> String {
        Place::Record { file: &self.file.name, id, kind }.to_string()
    }

    /// A product with all that it is made of.
    fn definition(&mut self, definition: u64, placed: &Placed) -> Result<(), Stopped> {
        self.context.stop.check()?;
        self.placed += 1;
        if self.open.contains(&definition) || self.open.len() >= DEEPEST || self.placed > MOST_PLACED {
            if !self.notes.has_errors() {
                let place = self.place(definition, "PRODUCT_DEFINITION");
                let fact = StepFact::AssemblyNesting { deepest: DEEPEST, most: MOST_PLACED };
                self.notes.error(Code::PartNesting, place, fact);
            }
            return Ok(());
        }
        let placed = Placed { product: self.product(definition), by: placed.by };
        self.open.push(definition);
        for shape in self.shapes_of(definition) {
            self.representation(shape, &placed)?;
        }
        let children: Vec<(u64, Option<DAffine3>, u64)> = self
            .children
            .get(&definition)
            .into_iter()
            .flatten()
            .map(|child| (child.definition, child.by, child.usage))
            .collect();
        for (child, by, usage) in children {
            let by = by.unwrap_or_else(|| {
                let place = self.place(usage, "NEXT_ASSEMBLY_USAGE_OCCURRENCE");
                let product = self.product(child);
                self.notes.warning(Code::NoPlacement, place, StepFact::PartNotPlaced { product: &product });
                DAffine3::IDENTITY
            });
            self.definition(child, &Placed { by: placed.by * by, product: String::new() })?;
        }
        self.open.pop();
        Ok(())
    }

    /// Name of the product of a definition.
    fn product(&self, definition: u64) -> String {
        let name = || {
            let formation = self.exchange.of(self.exchange.record(definition)?.value(2))?;
            let product = self.exchange.of(formation.value(2))?;
            let name = [1, 0].into_iter().map(|index| crate::read::name_of(product.value(index).text().trim()));
            name.into_iter().find(|name| !name.is_empty())
        };
        name().unwrap_or_default()
    }
}
