//! Cautions for cutting, grinding and welding, in their order; sources are named where a figure has one.

crate::phrases! {
    /// Cautions for cutting, grinding and welding, in their order; sources are named where a figure has one.
    Cautions {
        codes_first();
        eyes();
        grinding();
        clamping();
        edges();
        fumes();
        fire();
        competence();
        roll_structure();
        tack_first();
        disagreement();
    }
}
