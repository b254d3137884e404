//! A whole frame as an assembly: one product a part number, one occurrence a member or plate.

use super::brep::Brep;
use super::exchange::{Exchange, Id, Placement, quoted};
use super::header::{self, Called, Contexts, Product, own_axes};
use super::{SolidError, SolidHeading, plate, solid};
use crate::geometry::{DVec3, Path, turned};
use crate::part::compare::{Match, same};
use crate::part::{Made, PartKind};
use crate::words::findings::solid::NotInThisFile;
use crate::{Evaluation, Stop};

/// Most by which a part that stands for another may lie off it, mm: well under what an assembly is measured to.
const LAID: f64 = 0.002;

/// A frame as one file.
#[derive(Debug, Clone, PartialEq)]
pub struct Assembly {
    /// The text of the exchange file.
    pub text: String,
    /// The parts that are not in it, and why; its header names them too.
    pub left_out: Vec<LeftOut>,
}

/// A part that cannot be written as a solid.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LeftOut {
    /// Id of the member or name of the plate.
    pub part: String,
    /// Why.
    pub why: SolidError,
}

/// A solid that one or several occurrences have.
struct Shared {
    number: String,
    /// The first part of it.
    first: String,
    brep: Brep,
    /// The axes in which it is written.
    own: Placement,
    /// Which parts have it, and where.
    places: Vec<(String, Placement)>,
}

impl Evaluation {
    /// Writes the whole frame as one exchange file, in mm and in the frame's own axes. A product carries the part number as its name
    /// and is written in axes of its own as [`Evaluation::solid_step`] writes a part; each member or plate is an occurrence of it that
    /// carries its id. Parts of one number share a solid where one laid on the other lies within 0.002 mm; else the product is
    /// there again, under the same name. The other hand of a part is a solid of its own, never a mirror image.
    ///
    /// # Errors
    /// [`SolidError`] when the document has errors, or it is no longer wanted.
    pub fn frame_step(&self, heading: &SolidHeading, stop: Stop) -> Result<Assembly, SolidError> {
        let (Some(made), Some(sheets)) = (self.made.as_deref(), self.sheets.as_ref()) else {
            return Err(SolidError::DesignHasErrors);
        };
        let (mut shared, mut left_out): (Vec<Shared>, Vec<LeftOut>) = (Vec::new(), Vec::new());
        for row in &sheets.parts {
            let begun = shared.len();
            for part in &row.members {
                stop.check()?;
                let known =
                    shared[begun..].iter_mut().find_map(|known| Some((laid(made, row.kind, known, part)?, known)));
                if let Some((place, known)) = known {
                    known.places.push((part.clone(), place));
                    continue;
                }
                match shape(made, row.kind, part, stop) {
                    Ok((brep, own)) => shared.push(Shared {
                        number: row.number.clone(),
                        first: part.clone(),
                        brep,
                        own,
                        places: vec![(part.clone(), own)],
                    }),
                    Err(SolidError::Stopped) => return Err(SolidError::Stopped),
                    Err(why) => left_out.push(LeftOut { part: part.clone(), why }),
                }
            }
        }
        Ok(Assembly { text: write(&shared, &left_out, heading), left_out })
    }
}

/// The solid of a part and the axes in which it is written.
fn shape(made: &Made, kind: PartKind, id: &str, stop: Stop) -> Result<(Brep, Placement), SolidError> {
    match kind {
        PartKind::Tube => {
            let at = made.member(id).ok_or(SolidError::UnknownMember)?;
            let (member, part) = (&made.frame.members[at], &made.parts[at]);
            let cuts = [&part.ends[0].cut, &part.ends[1].cut];
            let brep = solid(&member.path, member.index, cuts, &part.holes, stop)?;
            Ok((brep, Placement::of_tube(&member.path, member.index)))
        }
        PartKind::Plate => {
            let placed = &made.frame.plates[made.plate(id).ok_or(SolidError::UnknownPlate)?];
            Ok((plate::solid(placed)?, Placement::of_plate(&placed.plate)))
        }
    }
}

/// Where a known solid stands when it is laid on a part; `None` where it is not quite that part.
fn laid(made: &Made, kind: PartKind, known: &Shared, id: &str) -> Option<Placement> {
    match kind {
        PartKind::Tube => {
            let (first, second) = (made.member(&known.first)?, made.member(id)?);
            let found = same(&made.shape(first), &made.shape(second)).filter(|found| found.deviation < LAID)?;
            let place = placement(made, second, &found);
            let moved = |at: DVec3| {
                let (off, own) = (at - known.own.origin, &known.own);
                place.point([off.dot(own.x), off.dot(own.y), off.dot(own.z)])
            };
            // Laid along the tube: what a bend turns must come to lie on the other's bend as well.
            let (one, other) = (&made.frame.members[first].path, &made.frame.members[second].path);
            let wanted = corners(other, found.motion.swapped);
            let off = corners(one, false).into_iter().zip(wanted).map(|(at, wanted)| moved(at).distance(wanted));
            (off.fold(0.0, f64::max) < LAID).then_some(place)
        }
        PartKind::Plate => {
            let [first, second] = [&known.first, id].map(|id| made.plate(id).map(|at| &made.frame.plates[at]));
            let (first, second) = (first?, second?);
            let is_equal = first.plate.outline == second.plate.outline && first.holes == second.holes;
            is_equal.then(|| Placement::of_plate(&second.plate))
        }
    }
}

/// Where each bend ends, walked from the first end or backwards from the last.
fn corners(path: &Path, backwards: bool) -> Vec<DVec3> {
    let legs = path.legs.iter();
    if backwards {
        legs.rev().skip(1).map(|leg| leg.start + leg.direction * leg.length).collect()
    } else {
        legs.skip(1).map(|leg| leg.start).collect()
    }
}

/// The axes of a tube that is laid on a member.
fn placement(made: &Made, member: usize, found: &Match) -> Placement {
    let member = &made.frame.members[member];
    let (path, motion) = (&member.path, found.motion);
    let (origin, x, index) = if motion.swapped {
        let way = path.last().direction;
        (path.end() + way * (motion.slide - path.length()), -way, turned(path.carried(member.index), way, motion.turn))
    } else {
        let way = path.first().direction;
        (path.start() + way * motion.slide, way, turned(member.index, way, motion.turn))
    };
    Placement { origin, x, y: index.cross(x), z: index }
}

fn write(shared: &[Shared], left_out: &[LeftOut], heading: &SolidHeading) -> String {
    let mut exchange = Exchange::new(Placement::FRAME);
    let contexts = Contexts::write(&mut exchange);
    let mut products = Vec::with_capacity(shared.len());
    for (at, part) in shared.iter().enumerate() {
        exchange.stand(part.own);
        let solid = part.brep.write(&mut exchange, &quoted(&part.number));
        let again = shared[..at].iter().any(|before| before.number == part.number);
        let id = if again { format!("{} ({})", part.number, part.first) } else { part.number.clone() };
        let called = Called { id: &id, name: &part.number, description: &heading.description };
        products.push(contexts.part(&mut exchange, &called, solid));
    }
    exchange.stand(Placement::FRAME);
    let mut items = vec![own_axes(&mut exchange)];
    let mut occurrences: Vec<(&str, Product, Id)> = Vec::new();
    for (part, product) in shared.iter().zip(&products) {
        for (id, place) in &part.places {
            let axes = exchange.axes(place.origin, place.z, place.x);
            items.push(axes);
            occurrences.push((id, *product, axes));
        }
    }
    let called = Called { id: &heading.part, name: &heading.part, description: &heading.description };
    let frame = contexts.product(&mut exchange, &called, "SHAPE_REPRESENTATION", &items);
    for (id, part, axes) in occurrences {
        occurrence(&mut exchange, id, &frame, &part, axes);
    }
    contexts.close(&mut exchange, products.iter().map(|part| part.product).chain([frame.product]));
    let remarks: Vec<String> =
        left_out.iter().map(|left| NotInThisFile { part: &left.part, why: left.why }.to_string()).collect();
    header::file(exchange, heading, &remarks)
}

/// A part in its place in the frame.
fn occurrence(exchange: &mut Exchange, id: &str, frame: &Product, part: &Product, axes: Id) {
    let id = quoted(id);
    let used = exchange
        .add(&format!("NEXT_ASSEMBLY_USAGE_OCCURRENCE({id},{id},'',#{},#{},$)", frame.definition, part.definition));
    let placed = exchange.add(&format!("PRODUCT_DEFINITION_SHAPE('','',#{used})"));
    let moved = exchange.add(&format!("ITEM_DEFINED_TRANSFORMATION('','',#{},#{axes})", part.own));
    let related = exchange.add(&format!(
        "(REPRESENTATION_RELATIONSHIP('','',#{},#{})REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION(#{moved})\
         SHAPE_REPRESENTATION_RELATIONSHIP())",
        part.shape, frame.shape
    ));
    exchange.add(&format!("CONTEXT_DEPENDENT_SHAPE_REPRESENTATION(#{related},#{placed})"));
}
