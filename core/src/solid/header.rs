//! What surrounds a solid in its file: header, product, units and shape.

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

/// The whole file about the entities written so far.
pub(super) fn file(mut exchange: Exchange, solid: Id, heading: &SolidHeading) -> String {
    product(&mut exchange, solid, heading);
    let (part, description) = (quoted(&heading.part), quoted(&heading.description));
    let organization = quoted(&heading.organization);
    let stamp = quoted(&format!("{}T00:00:00", heading.date));
    format!(
        "ISO-10303-21;\nHEADER;\n\
         FILE_DESCRIPTION(({description}),'2;1');\n\
         FILE_NAME({part},{stamp},(''),({organization}),'Matchmark','Matchmark','');\n\
         FILE_SCHEMA(('AUTOMOTIVE_DESIGN {{ 1 0 10303 214 3 1 1 }}'));\n\
         ENDSEC;\nDATA;\n{}ENDSEC;\nEND-ISO-10303-21;\n",
        exchange.into_data()
    )
}

fn product(exchange: &mut Exchange, solid: Id, heading: &SolidHeading) {
    let (part, description) = (quoted(&heading.part), quoted(&heading.description));
    let application = exchange.add("APPLICATION_CONTEXT('automotive design')");
    exchange.add(&format!(
        "APPLICATION_PROTOCOL_DEFINITION('international standard','automotive_design',2010,#{application})"
    ));
    let context = exchange.add(&format!("PRODUCT_CONTEXT('',#{application},'mechanical')"));
    let product = exchange.add(&format!("PRODUCT({part},{part},{description},(#{context}))"));
    exchange.add(&format!("PRODUCT_RELATED_PRODUCT_CATEGORY('part',$,(#{product}))"));
    let formation = exchange.add(&format!("PRODUCT_DEFINITION_FORMATION('','',#{product})"));
    let life = exchange.add(&format!("PRODUCT_DEFINITION_CONTEXT('part definition',#{application},'design')"));
    let definition = exchange.add(&format!("PRODUCT_DEFINITION('design','',#{formation},#{life})"));
    let shape = exchange.add(&format!("PRODUCT_DEFINITION_SHAPE('','',#{definition})"));

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
    let own = {
        let at = exchange.add("CARTESIAN_POINT('',(0.,0.,0.))");
        let up = exchange.add("DIRECTION('',(0.,0.,1.))");
        let along = exchange.add("DIRECTION('',(1.,0.,0.))");
        exchange.add(&format!("AXIS2_PLACEMENT_3D('',#{at},#{up},#{along})"))
    };
    let representation =
        exchange.add(&format!("ADVANCED_BREP_SHAPE_REPRESENTATION({part},(#{own},#{solid}),#{space})"));
    exchange.add(&format!("SHAPE_DEFINITION_REPRESENTATION(#{shape},#{representation})"));
}
