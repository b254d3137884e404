//! What is said of units and axes.

use thiserror::Error;

/// Why the unit of the coordinates is in doubt.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum UnitDoubt<'a> {
    #[error("The file does not say.")]
    NotTold,
    #[error("The file does not say; {hint}.")]
    OnlyHinted { hint: &'a str },
    #[error("As read, the frame is {metres:.1} m large, which is large for a frame.")]
    LargeFrame { metres: f64 },
    #[error("As read, the frame is {longest:.1} mm large, which is small for a frame.")]
    SmallFrame { longest: f64 },
    #[error("As read, a tube measures {across:.2} mm across, which is not usual.")]
    OddSize { across: f64 },
}

/// What is asked about the unit and the axes, or is wrong with them.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum PlaceFact<'a> {
    #[error("In which unit are the coordinates? {doubt}")]
    WhichUnit { doubt: UnitDoubt<'a> },
    #[error("{doubt} The unit was told, so it was read. Check it.")]
    ToldUnitDoubtful { doubt: UnitDoubt<'a> },
    #[error(
        "A bend has a radius of {radius:.1} mm on a tube of {across:.1} mm. Check the unit of the file and the sizes."
    )]
    OddRadius { radius: f64, across: f64 },
    #[error(
        "These axes swap left and right: the frame would be its own mirror image. Reverse one of them, or name them in another order."
    )]
    MirroringAxes,
    #[error(
        "`axes` must name x, y and z once each, with or without a minus sign, such as [\"y\", \"-x\", \"z\"]. Correct it."
    )]
    BadAxes,
    #[error(
        "Which axis of the source is forward, left and up? Others are [\"y\", \"-x\", \"z\"] for x right and y forward, and [\"-z\", \"-x\", \"y\"] for x right, y up and z backward."
    )]
    WhichAxes,
}

/// Where it stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum Place {
    #[error("answers, axes")]
    AnsweredAxes,
    #[error("size of the frame")]
    FrameSize,
}
