//! What is said of the design as it is written, and the names in it that no file tells.

use thiserror::Error;

/// What was written otherwise than the files tell it, or without them.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum WriteFact<'a> {
    #[error("The section `{layer}` is called `{name}` in the design.")]
    SectionRenamed { layer: &'a str, name: &'a str },
    #[error(
        "The grade of the material is not in the files. Carbon steel of {density} kg/m3 was taken. Write in the design what is to be ordered."
    )]
    GradeNotTold { density: f64 },
    #[error(
        "The density is not in the files. Carbon steel of {density} kg/m3 was taken. Write in the design what is to be ordered."
    )]
    DensityNotTold { density: f64 },
}

/// Names that are written where no file tells one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum DefaultName {
    #[error("Imported frame")]
    Design,
    #[error("Carbon steel, grade not told")]
    Material,
}

/// Where it stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum Place {
    #[error("materials")]
    Materials,
}
