//! What is said of layers and the sizes of their tubes.

use crate::answers::Size;
use thiserror::Error;

/// The size of a tube.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum TubeSize {
    #[error("{od} x {wall} mm")]
    Round { od: f64, wall: f64 },
    #[error("{width} x {height} x {wall} mm")]
    Rect { width: f64, height: f64, wall: f64 },
}

impl From<Size> for TubeSize {
    fn from(size: Size) -> Self {
        match size {
            Size::Round { od, wall } => Self::Round { od, wall },
            Size::Rect { width, height, wall, .. } => Self::Rect { width, height, wall },
        }
    }
}

/// The unit of a size in a name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum NameUnit {
    #[error("the file's unit")]
    OfFile,
    #[error("mm")]
    Millimetre,
}

/// What was taken of a layer, or is asked about layers.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum SectionFact {
    #[error("The size {size} was taken from the name, in {unit}.")]
    SizeFromName { size: TubeSize, unit: NameUnit },
    #[error(
        "{count} lines and curves on this layer were taken for no tubes: no size is told for it. Answer it under `sections` if they are."
    )]
    LayerNotUsed { count: usize },
    #[error(
        "Which of these layers are tubes, and of which size? Answer each with its od and wall in mm; `*` is everything. Layers that are not answered are no tubes."
    )]
    WhichLayers,
    #[error(
        "None of the answered sections is in the files. Which of these layers are tubes, and of which size? Answer each with its od and wall in mm; `*` is everything. Layers that are not answered are no tubes."
    )]
    WhichLayersInstead,
}

/// Where it stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum Place<'a> {
    #[error("layer `{name}`")]
    Layer { name: &'a str },
}
