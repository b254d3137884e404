//! What surrounds solids in their file: header, products, units and shapes.

use super::exchange::{Exchange, Id, list, quoted};

/// Distance under which points of the file are one, mm.
const UNCERTAINTY: &str = "1.E-3";

/// What the header of a solid's file says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SolidHeading {
    /// Name of the part, such as the member's id.
    pub part: String,
    /// What it belongs to, such as design and revision.
    pub description: String,
    /// Supplier.
    pub organization: String,
    /// Date, as `2026-11-25`.
    pub date: String,
}

/// The whole file about the entities written so far. `remarks` stand in the header after what the file is.
pub(super) fn file(exchange: Exchange, heading: &SolidHeading, remarks: &[String]) -> String {
    let (part, organization) = (quoted(&heading.part), quoted(&heading.organization));
    let descriptions = core::iter::once(&heading.description).chain(remarks).map(|text| quoted(text));
    let descriptions = descriptions.collect::<Vec<_>>().join(",");
    let stamp = quoted(&format!("{}T00:00:00", heading.date));
    format!(
        "ISO-10303-21;\nHEADER;\n\
         FILE_DESCRIPTION(({descriptions}),'2;1');\n\
         FILE_NAME({part},{stamp},(''),({organization}),'Matchmark','Matchmark','');\n\
         FILE_SCHEMA(('AUTOMOTIVE_DESIGN {{ 1 0 10303 214 3 1 1 }}'));\n\
         ENDSEC;\nDATA;\n{}ENDSEC;\nEND-ISO-10303-21;\n",
        exchange.into_data()
    )
}

/// What all products of a file share.
pub(super) struct Contexts {
    mechanical: Id,
    design: Id,
    /// Units and uncertainty of all shapes.
    space: Id,
}

/// A product with its shape.
#[derive(Debug, Clone, Copy)]
pub(super) struct Product {
    pub(super) product: Id,
    pub(super) definition: Id,
    /// The representation of its shape.
    pub(super) shape: Id,
    /// The placement in its own axes by which an assembly takes it.
    pub(super) own: Id,
}

/// What a product is called. Its id is its alone in the file.
pub(super) struct Called<'a> {
    pub(super) id: &'a str,
    pub(super) name: &'a str,
    pub(super) description: &'a str,
}

impl Contexts {
    pub(super) fn write(exchange: &mut Exchange) -> Self {
        let application = exchange.add("APPLICATION_CONTEXT('automotive design')");
        exchange.add(&format!(
            "APPLICATION_PROTOCOL_DEFINITION('international standard','automotive_design',2010,#{application})"
        ));
        let mechanical = exchange.add(&format!("PRODUCT_CONTEXT('',#{application},'mechanical')"));
        let design = exchange.add(&format!("PRODUCT_DEFINITION_CONTEXT('part definition',#{application},'design')"));
        let length = exchange.add("(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.))");
        let angle = exchange.add("(NAMED_UNIT(*)PLANE_ANGLE_UNIT()SI_UNIT($,.RADIAN.))");
        let solid_angle = exchange.add("(NAMED_UNIT(*)SI_UNIT($,.STERADIAN.)SOLID_ANGLE_UNIT())");
        let uncertainty = exchange.add(&format!(
            "UNCERTAINTY_MEASURE_WITH_UNIT(LENGTH_MEASURE({UNCERTAINTY}),#{length},'distance_accuracy_value','')"
        ));
        let units = list([length, angle, solid_angle]);
        let space = exchange.add(&format!(
            "(GEOMETRIC_REPRESENTATION_CONTEXT(3)GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT((#{uncertainty}))\
             GLOBAL_UNIT_ASSIGNED_CONTEXT(({units}))REPRESENTATION_CONTEXT('',''))"
        ));
        Self { mechanical, design, space }
    }

    /// A part that is one solid.
    pub(super) fn part(&self, exchange: &mut Exchange, called: &Called, solid: Id) -> Product {
        let own = own_axes(exchange);
        self.product(exchange, called, "ADVANCED_BREP_SHAPE_REPRESENTATION", &[own, solid])
    }

    /// A product whose shape is of this kind and has these items, its own axes first.
    pub(super) fn product(&self, exchange: &mut Exchange, called: &Called, kind: &str, items: &[Id]) -> Product {
        let [id, name, description] = [called.id, called.name, called.description].map(quoted);
        let mechanical = self.mechanical;
        let product = exchange.add(&format!("PRODUCT({id},{name},{description},(#{mechanical}))"));
        let formation = exchange.add(&format!("PRODUCT_DEFINITION_FORMATION('','',#{product})"));
        let definition = exchange.add(&format!("PRODUCT_DEFINITION('design','',#{formation},#{})", self.design));
        let defined = exchange.add(&format!("PRODUCT_DEFINITION_SHAPE('','',#{definition})"));
        let shape = exchange.add(&format!("{kind}({name},({}),#{})", list(items.iter().copied()), self.space));
        exchange.add(&format!("SHAPE_DEFINITION_REPRESENTATION(#{defined},#{shape})"));
        Product { product, definition, shape, own: items[0] }
    }

    /// Says that products are parts.
    pub(super) fn close(&self, exchange: &mut Exchange, products: impl IntoIterator<Item = Id>) {
        exchange.add(&format!("PRODUCT_RELATED_PRODUCT_CATEGORY('part',$,({}))", list(products)));
    }
}

/// The axes in which everything is written.
pub(super) fn own_axes(exchange: &mut Exchange) -> Id {
    let at = exchange.add("CARTESIAN_POINT('',(0.,0.,0.))");
    let up = exchange.add("DIRECTION('',(0.,0.,1.))");
    let along = exchange.add("DIRECTION('',(1.,0.,0.))");
    exchange.add(&format!("AXIS2_PLACEMENT_3D('',#{at},#{up},#{along})"))
}
