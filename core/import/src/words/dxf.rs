//! What is said of DXF drawings.

use thiserror::Error;

/// What ends the reading of a drawing.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum DxfFault {
    #[error(
        "The file ends too early: it has no EOF at its end, so part of the frame may be missing. Save or send it anew."
    )]
    Truncated,
    #[error("A section was expected here. The file is damaged or no DXF. Save it anew.")]
    NoSection,
    #[error(
        "A group code was expected here, a whole number on a line of its own. The file is damaged or no DXF. Save it anew."
    )]
    NoGroupCode,
    #[error("A group code of this binary DXF is none of the format. The file is damaged. Save it anew, or as text.")]
    UnknownGroupCode,
    #[error(
        "`{text}` is no finite number, yet a coordinate is expected here (group code {code}). Correct the drawing."
    )]
    NotANumber { text: String, code: i32 },
    #[error("One entity has more values than are read. Draw it simpler.")]
    EntityTooLarge,
    #[error("The drawing has more than {most} lines and curves. Save only the frame.")]
    TooManyEntities { most: usize },
    #[error(
        "With all blocks written out the drawing has too many entities, more than {most}. Insert less, or save only the frame."
    )]
    TooManyWrittenOut { most: usize },
    #[error("The block `{block}` contains itself. Correct the drawing.")]
    BlockInItself { block: String },
    #[error("Blocks are inserted in blocks more than {deepest} deep. Write some of them out.")]
    BlocksTooDeep { deepest: usize },
}

/// What is wrong with what a drawing holds, or was done about it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum DxfFact<'a> {
    #[error("The drawing says that its unit is {sign}.")]
    UnitStated { sign: &'a str },
    #[error("This has no length and was left out.")]
    NoLength,
    #[error("This curve is neither straight nor an arc, so no tube was made of it. Draw it as lines and arcs.")]
    Freeform,
    #[error("This is an ellipse, which no bender makes; no tube was made of it. Draw it as lines and arcs.")]
    Ellipse,
    #[error(
        "A block is scaled unequally, so that its arcs became ellipses; no tube was made of it. Draw it as lines and arcs."
    )]
    ScaledUnequally,
    #[error("The block `{block}` is not in the file, so what it draws is missing here.")]
    BlockMissing { block: &'a str },
    #[error("The block `{block}` is in another file. Bind it into this one, or import that file too.")]
    BlockExternal { block: &'a str },
    #[error("{count} entities on this layer were left out, because it is off or frozen.")]
    LayerHidden { count: usize },
    #[error("{count} entities on paper sheets were left out.")]
    OnPaper { count: usize },
    #[error("{count} of kind {kind} were left out: such entities draw no tube.")]
    KindDrawsNoTube { count: usize, kind: &'a str },
    #[error("{count} of kind `{kind}` are not understood, and no tube was made of them. Draw tubes as lines and arcs.")]
    KindUnknown { count: usize, kind: &'a str },
}

/// What only hints at the unit of a drawing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum UnitHint {
    #[error("the drawing states unit {code} of the format, which no frame is drawn in")]
    Unusual { code: i64 },
    #[error("the drawing's patterns are those of inch drawings, which is only a hint")]
    InchPatterns,
    #[error("the drawing's patterns are those of metric drawings, which is only a hint")]
    MetricPatterns,
}

/// Kinds of entities that the format has no word for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum Kind {
    #[error("POLYLINE as a mesh")]
    Mesh,
    #[error("other kinds")]
    Others,
}

/// What places in a drawing are counted in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum Counted {
    #[error("line")]
    Line,
    #[error("byte")]
    Byte,
}

/// A place in a drawing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum Place<'a> {
    #[error("{file}, {counted} {at}")]
    Position { file: &'a str, counted: Counted, at: u64 },
    #[error("{file}, {counted} {at}, {kind} on layer {layer}")]
    Entity { file: &'a str, counted: Counted, at: u64, kind: &'a str, layer: &'a str },
    #[error("{file}, first at {counted} {at}")]
    FirstOfKind { file: &'a str, counted: Counted, at: u64 },
    #[error("{file}, layer {layer}")]
    Layer { file: &'a str, layer: &'a str },
    #[error("{file}, $INSUNITS")]
    Unit { file: &'a str },
}
